//! A chart read back as a person with a ruler would: values by the numbers beside its axes.

use roxmltree::{Document, Node};

/// One pair of axes with its lines, in values.
pub struct Panel {
    pub title: String,
    /// Ends of the axis: the least and the greatest number beside it, and pixels for one unit.
    low: f64,
    high: f64,
    scale: f64,
    /// Pixel of the value zero.
    zero: f64,
    /// The points of each line in pixels: its class, and its pieces one after the other.
    pub lines: Vec<(String, Vec<[f64; 2]>)>,
    /// Of the lines that the tool does not follow to their end, the rest, in the same way.
    pub beyond: Vec<Vec<[f64; 2]>>,
    /// Readings of the bench: pixels.
    pub readings: Vec<[f64; 2]>,
    /// Bounds that are demanded: their class, and the lower left corner of a lid, the upper left of a floor.
    pub demands: Vec<(String, [f64; 2])>,
}

/// A chart.
pub struct Picture {
    pub panels: Vec<Panel>,
    /// Pixel of the left end, and of the right one.
    ends: [f64; 2],
    /// The numbers along the axis across, with their pixels.
    across: Vec<(String, f64)>,
    /// The numbers right below the last plot, with their pixels.
    pub gaps: Vec<(String, f64)>,
}

/// Half a tenth of a pixel on either side, in each of two numbers that are read.
const READ: f64 = 0.21;

fn number(node: Node<'_, '_>, name: &str) -> Option<f64> {
    node.attribute(name)?.parse().ok()
}

/// A text without the signs that make numbers easier to read.
fn plain(node: Node<'_, '_>) -> Option<String> {
    Some(
        node.text()?
            .replace('\u{2212}', "-")
            .replace([' ', '\u{2009}', '\u{202f}'], ""),
    )
}

fn value(node: Node<'_, '_>) -> Option<f64> {
    plain(node)?.parse().ok()
}

fn points(node: Node<'_, '_>) -> Vec<[f64; 2]> {
    let way = node
        .attribute("d")
        .unwrap_or_default()
        .replace(['M', 'L', 'Z'], " ");
    let numbers: Vec<f64> = way.split_whitespace().map(|n| n.parse().unwrap()).collect();
    numbers.chunks(2).map(|pair| [pair[0], pair[1]]).collect()
}

impl Panel {
    /// The pixel of a value; `None` where the axis does not reach it.
    pub fn pixel(&self, value: f64) -> Option<f64> {
        let slack = 1e-9 * (self.high - self.low);
        let seen = (self.low - slack..=self.high + slack).contains(&value);
        seen.then_some(self.zero + self.scale * value)
    }
}

impl Picture {
    /// All charts of a file.
    pub fn all(svg: &str) -> Vec<Self> {
        let document = Document::parse(svg).unwrap();
        let root = document.root_element();
        let nested: Vec<_> = root.children().filter(|n| n.has_tag_name("svg")).collect();
        match nested.is_empty() {
            true => vec![Self::of(root)],
            false => nested.into_iter().map(Self::of).collect(),
        }
    }

    fn of(svg: Node<'_, '_>) -> Self {
        let elements: Vec<_> = svg.children().filter(Node::is_element).collect();
        let texts = || elements.iter().copied().filter(|n| n.has_tag_name("text"));
        let size = |n: Node<'_, '_>| n.attribute("font-size").map(str::to_owned);
        let heads: Vec<usize> = (0..elements.len())
            .filter(|k| size(elements[*k]).as_deref() == Some("13"))
            .collect();
        let mut panels = Vec::new();
        for (k, &head) in heads.iter().enumerate() {
            let until = heads.get(k + 1).copied().unwrap_or(elements.len());
            let own = &elements[head..until];
            let anchor = |n: &Node<'_, '_>| n.attribute("text-anchor").map(str::to_owned);
            // A number stands four pixels below the height that it is of.
            let ticks: Vec<(f64, f64)> = (own.iter())
                .filter(|n| anchor(n).as_deref() == Some("end") && number(**n, "x") == Some(100.0))
                .filter_map(|n| Some((value(*n)?, number(*n, "y")? - 4.0)))
                .collect();
            let (first, last) = (ticks[0], ticks[ticks.len() - 1]);
            let scale = (last.1 - first.1) / (last.0 - first.0);
            let class = |n: &Node<'_, '_>| n.attribute("class").unwrap_or_default().to_owned();
            let mut lines: Vec<(String, Vec<[f64; 2]>)> = Vec::new();
            let mut beyond = Vec::new();
            for node in own {
                match class(node).as_str() {
                    line @ ("curve" | "work" | "limit") => {
                        lines.push((line.to_owned(), points(*node)));
                    }
                    // It goes on where its line ends.
                    "beyond" => {
                        let rest = points(*node);
                        let line = &mut lines.last_mut().unwrap().1;
                        assert_eq!(line.last(), rest.first());
                        line.extend(rest.iter().skip(1));
                        beyond.push(rest);
                    }
                    _ => {}
                }
            }
            let demands = own.iter().filter(|n| class(n).starts_with("demand "));
            let readings = own.iter().filter(|n| class(n) == "reading");
            panels.push(Panel {
                title: own[0].text().unwrap().to_owned(),
                low: first.0.min(last.0),
                high: first.0.max(last.0),
                scale,
                zero: first.1 - scale * first.0,
                lines,
                beyond,
                demands: demands
                    .map(|n| (class(n), points(n.first_element_child().unwrap())[0]))
                    .collect(),
                readings: readings.map(|n| crossing(*n)).collect(),
            });
        }
        let flat = |n: &Node<'_, '_>| {
            let axis = points(*n);
            let rule = n.attribute("class") == Some("rule");
            let flat = rule && axis.len() == 2 && axis[0][1] == axis[1][1] && axis[0][0] == 108.0;
            flat.then(|| (axis[0][1], [axis[0][0], axis[1][0]]))
        };
        let axes: Vec<(f64, [f64; 2])> = elements.iter().filter_map(flat).collect();
        let row = |axis: f64| {
            texts()
                .filter(|n| n.attribute("text-anchor") == Some("middle"))
                .filter(|n| number(*n, "y").is_some_and(|y| (y - axis - 19.0).abs() < 1.0))
                .filter_map(|n| Some((value(n).and(plain(n))?, number(n, "x")?)))
                .collect()
        };
        // The lowest axis goes by travel, or there is but one; that of the gaps is a little higher.
        let bottom = axes[axes.len() - 1];
        Self {
            panels,
            ends: bottom.1,
            across: row(bottom.0),
            gaps: row(bottom.0 - 28.0),
        }
    }

    /// The pixel of a share of the axis across.
    pub fn between(&self, share: f64) -> f64 {
        self.ends[0] + share * (self.ends[1] - self.ends[0])
    }

    /// That the numbers along an axis from `first` to `last` stand where they say, as exactly as they are written.
    #[track_caller]
    pub fn numbers_stand(&self, first: f64, last: f64) {
        assert!(self.across.len() > 1, "{:?}", self.across);
        for (text, x) in &self.across {
            let value: f64 = text.parse().unwrap();
            let decimals = text.split_once('.').map_or(0, |(_, after)| after.len()) as i32;
            let written = 0.5 * 10_f64.powi(-decimals) / (last - first).abs();
            let wanted = self.between((value - first) / (last - first));
            let within = READ + written * (self.ends[1] - self.ends[0]);
            assert!(
                (x - wanted).abs() <= within,
                "{text} stands at {x}, not at {wanted}"
            );
        }
    }

    /// That a line of a panel goes through all of `wanted` (pixel across, value) that the axis shows, and has hardly
    /// any other points (where it leaves the axis, a peak, a stall); how many points that were.
    #[track_caller]
    pub fn holds(
        &self,
        panel: &Panel,
        line: usize,
        wanted: &[(f64, Option<f64>)],
        what: &str,
    ) -> usize {
        self.holds_with(panel, line, (wanted, 0), what)
    }

    /// As `holds`, for a line with so many corners between the places of `wanted`.
    #[track_caller]
    pub fn holds_with(
        &self,
        panel: &Panel,
        line: usize,
        (wanted, corners): (&[(f64, Option<f64>)], usize),
        what: &str,
    ) -> usize {
        let drawn = &panel.lines[line].1;
        let mut seen = 0;
        for &(x, value) in wanted {
            let Some(y) = value.and_then(|value| panel.pixel(value)) else {
                continue;
            };
            let near = |p: &&[f64; 2]| (p[0] - x).abs() <= READ && (p[1] - y).abs() <= READ;
            assert!(
                drawn.iter().any(|p| near(&p)),
                "{what}: no point at {x:.2}, {y:.2} ({value:?}): {drawn:?}"
            );
            seen += 1;
        }
        assert!(
            drawn.len() <= seen + 6 + corners,
            "{what}: {} points for {seen} values",
            drawn.len()
        );
        seen
    }

    /// That every reading has its mark; how many there are.
    #[track_caller]
    pub fn readings(&self, panel: &Panel, wanted: &[(f64, Option<f64>)]) -> usize {
        for &(x, value) in wanted {
            let y = panel.pixel(value.unwrap()).unwrap();
            let near =
                |p: &&[f64; 2]| (p[0] - x).abs() <= 2.0 * READ && (p[1] - y).abs() <= 2.0 * READ;
            assert!(
                panel.readings.iter().any(|p| near(&p)),
                "{x:.2} {y:.2}: {:?}",
                panel.readings
            );
        }
        wanted.len()
    }
}

/// Where the strokes of a cross meet: the middle of the first of them.
fn crossing(node: Node<'_, '_>) -> [f64; 2] {
    let ends = points(node);
    assert_eq!(ends.len(), 4);
    [0, 1].map(|k| 0.5 * (ends[0][k] + ends[1][k]))
}
