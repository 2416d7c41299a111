//! Straight cuts through a shape.
//!
//! A line that runs exactly through a point where two pieces meet is taken as lying a little to its own
//! right: a corner counts once, or twice, or not at all, but the same for both pieces.

use super::{Border, Piece, Shape};
use crate::geometry::Vec2;

/// Rectangles know their edges but for rounding, mm.
const ROUNDING: f64 = 1e-8;

/// Shorter chords only graze a corner or an arc, mm.
pub(super) const GRAZE: f64 = 1e-7;

/// Where a line crosses a border.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hit {
    /// Where.
    pub at: Vec2,
    /// How far along the line from its point, mm.
    pub along: f64,
    /// Index of the piece.
    pub piece: usize,
    /// Share (0..1) of the piece's length.
    pub share: f64,
}

/// A cut from one side of the outline to the other. It parts the plate in two; where it runs through
/// openings, it does so only together with what stands on their far side.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Where it enters and leaves the outline.
    pub ends: [Hit; 2],
    /// Where it enters and leaves each opening on its way, in order.
    pub openings: Vec<[Hit; 2]>,
}

impl Span {
    /// From one side of the outline to the other, mm.
    #[must_use]
    pub fn gross(&self) -> f64 {
        self.ends[1].along - self.ends[0].along
    }

    /// What openings take from it, mm.
    #[must_use]
    pub fn taken(&self) -> f64 {
        self.openings.iter().map(|[a, b]| b.along - a.along).sum()
    }

    /// The material on it, mm.
    #[must_use]
    pub fn net(&self) -> f64 {
        self.gross() - self.taken()
    }

    /// The stretches of material on it, in order.
    pub fn chords(&self) -> impl Iterator<Item = [Hit; 2]> + '_ {
        let starts = std::iter::once(self.ends[0]).chain(self.openings.iter().map(|o| o[1]));
        let stops = self.openings.iter().map(|o| o[0]);
        starts
            .zip(stops.chain([self.ends[1]]))
            .map(|(a, b)| [a, b])
            .filter(|[a, b]| b.along - a.along > GRAZE)
    }

    /// Unit vector from its first end to its last.
    #[must_use]
    pub fn direction(&self) -> Vec2 {
        let way = self.ends[1].at - self.ends[0].at;
        way / way.length()
    }
}

impl Shape {
    /// The cuts that a line through a point along a unit vector makes, in order along it.
    #[must_use]
    pub fn cut(&self, point: Vec2, along: Vec2) -> Vec<Span> {
        let mut hits = Vec::new();
        let left = Vec2::new(-along.y(), along.x());
        let (x, y) = (left.x().abs(), left.y().abs());
        self.tree().visit(
            &|bounds| {
                let reach = x * bounds.half.x() + y * bounds.half.y() + ROUNDING;
                left.dot(bounds.middle - point).abs() <= reach
            },
            &mut |k| {
                cross(&self.pieces()[k], point, along, &mut |at| {
                    hits.push(Hit {
                        at,
                        along: (at - point).dot(along),
                        piece: k,
                        share: self.pieces()[k].share(at),
                    });
                });
            },
        );
        hits.sort_by(|a, b| a.along.total_cmp(&b.along));
        let (outer, inner): (Vec<Hit>, Vec<Hit>) = hits
            .into_iter()
            .partition(|hit| self.owner(hit.piece) == Border::Outer);
        let mut inner = inner.chunks_exact(2).peekable();
        let mut spans = Vec::with_capacity(outer.len() / 2);
        for pair in outer.chunks_exact(2) {
            let mut openings = Vec::new();
            while let Some(opening) = inner.next_if(|o| o[0].along < pair[1].along) {
                openings.push([opening[0], opening[1]]);
            }
            let span = Span {
                ends: [pair[0], pair[1]],
                openings,
            };
            if span.gross() > GRAZE {
                spans.push(span);
            }
        }
        spans
    }

    /// The cut that starts at a place of the border and goes into the material along a unit vector. From the
    /// border of an opening it is the whole cut that this place lies on. `None` where there is no material
    /// that way.
    #[must_use]
    pub fn cut_from(&self, piece: usize, share: f64, along: Vec2) -> Option<Span> {
        let at = self.pieces().get(piece)?.point(share);
        let inner = self.owner(piece) != Border::Outer;
        let off = |span: &Span| {
            let openings = span.openings.iter().flatten().filter(|_| inner);
            let starts = [span.ends[0]];
            let starts = starts.iter().filter(|_| !inner);
            openings
                .chain(starts)
                .fold(f64::INFINITY, |least, hit| hit.along.abs().min(least))
        };
        let spans = self.cut(at, along).into_iter();
        let best = spans.min_by(|a, b| off(a).total_cmp(&off(b)))?;
        // The place itself is a hit but for rounding, which slanting cuts make larger.
        (off(&best) <= 1e-6).then_some(best)
    }
}

/// Calls `hit` with every point in which a line crosses a piece.
fn cross(piece: &Piece, point: Vec2, along: Vec2, hit: &mut impl FnMut(Vec2)) {
    let left = Vec2::new(-along.y(), along.x());
    let height = |p: Vec2| left.dot(p - point);
    let (a, b) = (height(piece.from), height(piece.to));
    let (up, down) = (a >= 0.0, b >= 0.0);
    let Some(arc) = piece.arc else {
        if up != down {
            hit(piece.from + (piece.to - piece.from) * (a / (a - b)));
        }
        return;
    };
    let centre = height(arc.centre);
    let cos = (-centre / arc.radius).clamp(-1.0, 1.0);
    let sin = ((1.0 - cos) * (1.0 + cos)).sqrt();
    let mut at = |sin: f64| hit(arc.centre + (left * cos + along * sin) * arc.radius);
    if up != down {
        // Counter-clockwise, a circle comes down over the line behind its centre.
        at(if up == (arc.sweep > 0.0) { -sin } else { sin });
        return;
    }
    let beyond = if up {
        centre < arc.radius && piece.faces(-left)
    } else {
        centre >= -arc.radius && piece.faces(left)
    };
    if beyond {
        at(sin);
        at(-sin);
    }
}

#[cfg(test)]
mod tests {
    use super::Span;
    use crate::geometry::Vec2;
    use crate::outline::tests::{arc, grid, hole, noise, plate, polygon, random, shape, v};
    use crate::outline::{Border, Moments, Side};
    use approx::assert_relative_eq as near;

    fn ends(span: &Span) -> [[f64; 2]; 2] {
        span.ends.map(|hit| hit.at.xy())
    }

    /// By hand: a plate of 40 by 20 with a hole of 6 in its middle.
    #[test]
    fn a_cut_through_a_hole() {
        let plate = plate(40.0, 20.0, &[hole(20.0, 10.0, 6.0)]).unwrap();
        let spans = plate.cut(v(20.0, 0.0), Vec2::Y);
        assert_eq!(spans.len(), 1);
        let span = &spans[0];
        assert_eq!(ends(span), [[20.0, 0.0], [20.0, 20.0]]);
        near!(span.gross(), 20.0);
        near!(span.taken(), 6.0, max_relative = 1e-14);
        near!(span.net(), 14.0, max_relative = 1e-14);
        let chords: Vec<f64> = span.chords().map(|[a, b]| b.along - a.along).collect();
        assert_eq!(chords.len(), 2);
        near!(chords[0], 7.0, max_relative = 1e-14);
        assert_eq!(plate.owner(span.openings[0][0].piece), Border::Hole(0));
        // Beside the hole's middle: 6 becomes 2 √(9 − 4).
        near!(
            plate.cut(v(22.0, 0.0), Vec2::Y)[0].taken(),
            2.0 * 5.0_f64.sqrt(),
            max_relative = 1e-13
        );
        assert!(plate.cut(v(50.0, 0.0), Vec2::Y).is_empty());
        // Grazing the hole takes nothing.
        near!(
            plate.cut(v(23.0, 0.0), Vec2::Y)[0].taken(),
            0.0,
            epsilon = 1e-6
        );
        // Backwards from the other side.
        let back = &plate.cut(v(20.0, 0.0), -Vec2::Y)[0];
        assert_eq!(ends(back), [[20.0, 20.0], [20.0, 0.0]]);
    }

    /// Through two corners there are two hits, along an edge there is none or the edge.
    #[test]
    fn a_line_through_corners() {
        let plate = plate(40.0, 20.0, &[]).unwrap();
        let spans = plate.cut(v(0.0, 0.0), v(40.0, 20.0) / 2000.0_f64.sqrt());
        assert_eq!(spans.len(), 1);
        near!(spans[0].gross(), 2000.0_f64.sqrt(), max_relative = 1e-14);
        let up = plate.cut(v(0.0, 0.0), Vec2::Y);
        let down = plate.cut(v(0.0, 0.0), -Vec2::Y);
        assert_eq!(up.len() + down.len(), 1, "{up:?} {down:?}");
        // The corner of a diamond alone.
        let diamond = shape(
            [10.0, 0.0],
            &polygon(&[[10.0, 0.0], [0.0, 10.0], [-10.0, 0.0], [0.0, -10.0]]),
            &[],
        )
        .unwrap();
        assert!(diamond.cut(v(0.0, 10.0), Vec2::X).is_empty());
        assert_eq!(diamond.cut(v(0.0, 0.0), Vec2::X).len(), 1);
        // Through the ends of both half circles of a disc.
        let disc = shape([-5.0, 0.0], &[arc(5.0, 5.0, 0.0), arc(5.0, -5.0, 0.0)], &[]).unwrap();
        for along in [Vec2::X, -Vec2::X, Vec2::unit(1e-9)] {
            let spans = disc.cut(v(0.0, 0.0), along);
            assert_eq!(spans.len(), 1, "{spans:?}");
            near!(spans[0].gross(), 10.0, max_relative = 1e-12);
        }
    }

    /// Any cut of any outline has its chords inside, with borders at both ends.
    #[test]
    fn random_cuts_lie_inside() {
        for seed in 0..60 {
            let shape = random(8, seed);
            let mut next = noise(seed + 9);
            for _ in 0..20 {
                let point = v(20.0 * next() - 10.0, 20.0 * next() - 10.0);
                let along = Vec2::unit(6.3 * next());
                let spans = shape.cut(point, along);
                for span in &spans {
                    for k in 1..20 {
                        let s = span.ends[0].along + span.gross() * f64::from(k) / 20.0;
                        assert!(shape.holds(point + along * s), "{span:?}");
                    }
                    for hit in span.ends {
                        assert!(shape.nearest(hit.at).distance < 1e-9);
                        let piece = shape.pieces()[hit.piece];
                        assert!((piece.point(hit.share) - hit.at).length() < 1e-6, "{hit:?}");
                    }
                }
                for pair in spans.windows(2) {
                    let middle = 0.5 * (pair[0].ends[1].along + pair[1].ends[0].along);
                    assert!(!shape.holds(point + along * middle));
                }
                // Halves make up the whole.
                if let Some(span) = spans.first() {
                    let area = |side| Moments::of(&shape.half(span, side)).area;
                    let (left, right) = (area(Side::Left), area(Side::Right));
                    assert!(left > 0.0 && right > 0.0);
                    near!(left + right, shape.moments().area, max_relative = 1e-9);
                }
            }
        }
    }

    /// Lines through the points of a small grid, where they run through corners, along sides and touch arcs.
    #[test]
    fn cuts_on_a_grid() {
        let mut looked = 0;
        for seed in 0..6000 {
            let (start, steps) = grid(seed);
            let Ok(shape) = shape(start.xy(), &steps, &[]) else {
                continue;
            };
            let clear = |at: Vec2| shape.nearest(at).distance > 1e-6;
            for k in 0..49 {
                let point = v(f64::from(k % 7), f64::from(k / 7));
                for turn in 0..8 {
                    let along = Vec2::unit(f64::from(turn) * std::f64::consts::FRAC_PI_4);
                    let spans = shape.cut(point, along);
                    for span in &spans {
                        let at = point + along * (span.ends[0].along + 0.37 * span.gross());
                        assert!(!clear(at) || shape.holds(at), "{seed} {point:?} {turn}");
                        looked += 1;
                    }
                    let starts = spans.iter().map(|s| s.ends[0].along).chain([1e3]);
                    let stops = [-1e3]
                        .into_iter()
                        .chain(spans.iter().map(|s| s.ends[1].along));
                    for (stop, start) in stops.zip(starts) {
                        assert!(stop <= start + 1e-9, "{seed} {point:?} {turn}");
                        for share in [0.01, 0.3, 0.49, 0.5, 0.73, 0.99] {
                            let at = point + along * (stop + share * (start - stop));
                            assert!(!clear(at) || !shape.holds(at), "{seed} {point:?} {turn}");
                        }
                    }
                }
            }
        }
        assert!(looked > 10_000, "{looked}");
    }
}
