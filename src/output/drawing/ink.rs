//! What a drawing is made of, in millimetres of paper, x right and y down: shapes that know their
//! bounds and can be moved before they are written as SVG.

use super::crowd::Crowd;

/// A point or a direction on the paper.
pub(super) type V = [f64; 2];

/// a + b.
pub(super) fn plus(a: V, b: V) -> V {
    [a[0] + b[0], a[1] + b[1]]
}

/// a − b.
pub(super) fn minus(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1]]
}

/// k a.
pub(super) fn times(k: f64, a: V) -> V {
    [k * a[0], k * a[1]]
}

/// a · b.
pub(super) fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

/// |a|.
pub(super) fn length(a: V) -> f64 {
    // Paper is neither very large nor very small.
    dot(a, a).sqrt()
}

/// The direction of `a`, or that of the x axis for no length.
pub(super) fn unit(a: V) -> V {
    let l = length(a);
    if l > 0.0 {
        times(1.0 / l, a)
    } else {
        [1.0, 0.0]
    }
}

/// `a` turned by a quarter.
pub(super) fn across(a: V) -> V {
    [-a[1], a[0]]
}

/// A line: ISO 128 knows two widths, here 0.5 and 0.25 mm, and thinner for what is faint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    pub colour: &'static str,
    /// mm.
    pub width: f64,
    /// `stroke-dasharray` in mm, empty for a solid line.
    pub dash: &'static str,
}

/// A step of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Step {
    /// Straight to a point.
    To(V),
    /// Round to a point on an arc of this radius, half a turn at most; `right`: clockwise as seen.
    Round { radius: f64, to: V, right: bool },
}

/// What an outline is filled with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Fill {
    None,
    Colour(&'static str),
    /// The hatching of the fixed part.
    Hatch,
}

/// Text with its middle on a point of its base line, or starting or ending there.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Words {
    pub at: V,
    pub text: String,
    /// Font size, mm.
    pub size: f64,
    pub bold: bool,
    pub italic: bool,
    pub colour: &'static str,
    /// `start`, `middle` or `end`.
    pub anchor: &'static str,
    /// A white rim keeps it legible where it crosses a line.
    pub rim: bool,
}

/// A thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Shape {
    Path {
        from: V,
        steps: Vec<Step>,
        closed: bool,
        fill: Fill,
        line: Option<Line>,
    },
    /// A region between borders, each where it starts with its steps: what an odd number of them goes round is
    /// filled.
    Region {
        borders: Vec<(V, Vec<Step>)>,
        fill: Fill,
        line: Option<Line>,
    },
    /// A line with round ends and corners, filled with the hatching.
    Hatched {
        points: Vec<V>,
        width: f64,
    },
    /// A circle; a pin's bears its name.
    Circle {
        at: V,
        radius: f64,
        fill: &'static str,
        line: Line,
        pin: Option<String>,
    },
    Text(Words),
}

/// A collection of shapes, their bounds, and where labels had better not stand.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ink {
    pub shapes: Vec<Shape>,
    /// Upper left and lower right corner of all that is drawn.
    pub bounds: [V; 2],
    /// Points of lines that are in the way of labels, and how much.
    pub crowd: Crowd,
}

impl Ink {
    pub(super) fn new() -> Self {
        Self {
            shapes: Vec::new(),
            bounds: [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]],
            crowd: Crowd::default(),
        }
    }

    /// Makes room for a point with `margin` around it.
    pub(super) fn reach(&mut self, at: V, margin: f64) {
        let [low, high] = &mut self.bounds;
        for k in 0..2 {
            low[k] = low[k].min(at[k] - margin);
            high[k] = high[k].max(at[k] + margin);
        }
    }

    /// Width and height; zero when nothing is drawn.
    pub(super) fn size(&self) -> V {
        minus(self.bounds[1], self.bounds[0]).map(|d| d.max(0.0))
    }

    /// A line that labels should keep off (`weight` 0: they need not).
    pub(super) fn line(&mut self, points: &[V], line: Line, weight: f64) {
        self.poly(points, false, Fill::None, Some(line));
        self.crowd_along(points, weight);
    }

    /// Remembers a line as in the way of labels.
    pub(super) fn crowd_along(&mut self, points: &[V], weight: f64) {
        if weight <= 0.0 {
            return;
        }
        for pair in points.windows(2) {
            let d = minus(pair[1], pair[0]);
            let pieces = (length(d) / 0.8).ceil().clamp(1.0, 2000.0);
            for k in 0..=pieces as usize {
                let at = plus(pair[0], times(k as f64 / pieces, d));
                self.crowd.add(at, weight);
            }
        }
    }

    /// Straight pieces.
    pub(super) fn poly(&mut self, points: &[V], closed: bool, fill: Fill, line: Option<Line>) {
        let Some((&from, rest)) = points.split_first() else {
            return;
        };
        let steps = rest.iter().map(|&p| Step::To(p)).collect();
        self.path(from, steps, closed, fill, line);
    }

    /// An outline; arcs reach no further than their radius from their ends.
    pub(super) fn path(
        &mut self,
        from: V,
        steps: Vec<Step>,
        closed: bool,
        fill: Fill,
        line: Option<Line>,
    ) {
        let margin = line.map_or(0.0, |l| 0.5 * l.width);
        self.reach(from, margin);
        for step in &steps {
            match *step {
                Step::To(p) => self.reach(p, margin),
                Step::Round { to, .. } => self.reach(to, margin),
            }
        }
        self.shapes.push(Shape::Path {
            from,
            steps,
            closed,
            fill,
            line,
        });
    }

    /// A plate: an outline and its openings. Its arcs are short, so that their ends and middles bound them.
    pub(super) fn region(&mut self, borders: &[(V, Vec<Step>)], fill: Fill, line: Option<Line>) {
        let margin = line.map_or(0.0, |l| 0.5 * l.width);
        for (from, steps) in borders {
            let mut last = *from;
            for step in steps {
                let (to, bulge) = match *step {
                    Step::To(to) => (to, 0.0),
                    Step::Round { radius, to, .. } => {
                        let half = 0.5 * length(minus(to, last));
                        (to, radius - (radius * radius - half * half).max(0.0).sqrt())
                    }
                };
                self.reach(to, margin + bulge);
                last = to;
            }
        }
        self.shapes.push(Shape::Region {
            borders: borders.to_vec(),
            fill,
            line,
        });
    }

    /// A circle.
    pub(super) fn circle(
        &mut self,
        at: V,
        radius: f64,
        fill: &'static str,
        line: Line,
        pin: Option<String>,
    ) {
        self.reach(at, radius + 0.5 * line.width);
        self.shapes.push(Shape::Circle {
            at,
            radius,
            fill,
            line,
            pin,
        });
    }

    /// Takes in another collection, moved.
    pub(super) fn take(&mut self, other: Self, by: V) {
        for corner in other.bounds {
            if corner.iter().all(|v| v.is_finite()) {
                self.reach(plus(corner, by), 0.0);
            }
        }
        self.shapes
            .extend(other.shapes.into_iter().map(|s| s.moved(by)));
    }
}

impl Shape {
    fn moved(self, by: V) -> Self {
        let moved = |p: V| plus(p, by);
        let on = |steps: Vec<Step>| -> Vec<Step> {
            let step = |step| match step {
                Step::To(p) => Step::To(moved(p)),
                Step::Round { radius, to, right } => Step::Round {
                    radius,
                    to: moved(to),
                    right,
                },
            };
            steps.into_iter().map(step).collect()
        };
        match self {
            Self::Region {
                borders,
                fill,
                line,
            } => Self::Region {
                borders: (borders.into_iter())
                    .map(|(from, steps)| (moved(from), on(steps)))
                    .collect(),
                fill,
                line,
            },
            Self::Path {
                from,
                steps,
                closed,
                fill,
                line,
            } => Self::Path {
                from: moved(from),
                steps: on(steps),
                closed,
                fill,
                line,
            },
            Self::Hatched { points, width } => Self::Hatched {
                points: points.into_iter().map(moved).collect(),
                width,
            },
            Self::Circle {
                at,
                radius,
                fill,
                line,
                pin,
            } => Self::Circle {
                at: moved(at),
                radius,
                fill,
                line,
                pin,
            },
            Self::Text(words) => Self::Text(Words {
                at: moved(words.at),
                ..words
            }),
        }
    }
}
