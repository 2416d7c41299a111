//! How near two plates come to each other on their way, and where they touch first.
//!
//! Between two places both plates move, the one as seen from the other, by no more than a little over how far
//! apart its points stand at them. So a stretch whose plates are farther apart than that is clear, and is not
//! looked into; others are halved.

use crate::geometry::{Frame, Vec2};
use crate::outline::{Edges, Gap};

/// Two plates somewhere on their way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Near {
    /// Where on the way, in the measure of the caller.
    pub pace: f64,
    /// Distance, mm; zero where they touch.
    pub distance: f64,
    /// The nearest place of each, in the axes that the frames are seen from.
    pub points: [Vec2; 2],
}

/// What two plates do on the way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Approach {
    /// Where they are nearest.
    pub nearest: Near,
    /// Where they touch first.
    pub touch: Option<Near>,
}

/// Even stretches that the way is taken in.
const STRETCHES: usize = 48;
/// A stretch over which no point moves farther is not halved, mm: touching is found within it.
const FINE: f64 = 0.01;
/// The least distance is found within this, mm.
const CLOSE: f64 = 1e-3;
/// Points may go this much farther between two places than they stand apart at both.
const BEND: f64 = 1.5;
/// Most places looked at.
const MOST: usize = 4_000;

/// A place looked at: both frames, and the distance there.
#[derive(Debug, Clone, Copy)]
struct Look {
    near: Near,
    frames: [Frame; 2],
}

/// Two plates on their way.
pub(super) struct Way<'w, E> {
    pub(super) edges: [&'w Edges; 2],
    /// Where both stand.
    pub(super) frames: &'w mut dyn FnMut(f64) -> Result<[Frame; 2], E>,
    /// Farthest point of the second from its origin, mm.
    pub(super) reach: f64,
    pub(super) looks: usize,
}

impl<E> Way<'_, E> {
    /// From 0 to `whole`.
    pub(super) fn approach(&mut self, whole: f64) -> Result<Approach, E> {
        let mut looks = Vec::with_capacity(STRETCHES + 1);
        for k in 0..=STRETCHES {
            looks.push(self.look(whole * k as f64 / STRETCHES as f64)?);
        }
        let mut nearest = looks[0].near;
        for look in &looks {
            nearer(&mut nearest, look.near);
        }
        let mut touch = None;
        for pair in looks.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            if touch.is_none() {
                touch = self.first_touch(a, b)?;
            }
            self.close_in(a, b, &mut nearest)?;
        }
        if let Some(touch) = touch {
            nearest = touch;
        }
        Ok(Approach { nearest, touch })
    }

    /// Where they touch first on the way from 0, where they do not, to `whole`.
    pub(super) fn touch(&mut self, whole: f64) -> Result<Option<Near>, E> {
        let mut before = self.look(0.0)?;
        for k in 1..=STRETCHES {
            let next = self.look(whole * k as f64 / STRETCHES as f64)?;
            if let Some(touch) = self.first_touch(before, next)? {
                return Ok(Some(touch));
            }
            before = next;
        }
        Ok(None)
    }

    fn look(&mut self, pace: f64) -> Result<Look, E> {
        self.looks += 1;
        let frames = (self.frames)(pace)?;
        let [first, second] = self.edges;
        let gap = first.gap(&frames[0], second, &frames[1], f64::INFINITY);
        let gap = gap.unwrap_or(Gap {
            distance: f64::INFINITY,
            points: [Vec2::ZERO; 2],
            pieces: [0; 2],
        });
        Ok(Look {
            near: Near {
                pace,
                distance: gap.distance,
                points: gap.points,
            },
            frames,
        })
    }

    /// How far any point of the second goes between two places, as seen from the first.
    fn sweep(&self, a: &Look, b: &Look) -> f64 {
        let seen = |look: &Look| {
            let [own, there] = look.frames;
            (own.own_place(there.origin), own.own_direction(there.turn))
        };
        let ((at, turn), (to, turned)) = (seen(a), seen(b));
        // The chord of a turn is shorter than its arc.
        let turned = turned.turned_back(turn).angle().abs();
        BEND * ((to - at).length() + self.reach * turned)
    }

    /// The least distance that is possible between two places.
    fn bound(&self, a: &Look, b: &Look) -> f64 {
        0.5 * (a.near.distance + b.near.distance - self.sweep(a, b))
    }

    fn middle(&mut self, a: &Look, b: &Look) -> Result<Option<Look>, E> {
        if self.looks >= MOST || self.sweep(a, b) < FINE {
            return Ok(None);
        }
        self.look(0.5 * (a.near.pace + b.near.pace)).map(Some)
    }

    fn first_touch(&mut self, a: Look, b: Look) -> Result<Option<Near>, E> {
        if a.near.distance <= 0.0 {
            return Ok(Some(a.near));
        }
        if self.bound(&a, &b) > 0.0 {
            return Ok(None);
        }
        let Some(middle) = self.middle(&a, &b)? else {
            return Ok((b.near.distance <= 0.0).then_some(b.near));
        };
        if let Some(touch) = self.first_touch(a, middle)? {
            return Ok(Some(touch));
        }
        self.first_touch(middle, b)
    }

    fn close_in(&mut self, a: Look, b: Look, nearest: &mut Near) -> Result<(), E> {
        if nearest.distance <= 0.0 || self.bound(&a, &b) > nearest.distance - CLOSE {
            return Ok(());
        }
        let Some(middle) = self.middle(&a, &b)? else {
            return Ok(());
        };
        nearer(nearest, middle.near);
        let mut halves = [(a, middle), (middle, b)];
        if b.near.distance < a.near.distance {
            halves.reverse();
        }
        for (a, b) in halves {
            self.close_in(a, b, nearest)?;
        }
        Ok(())
    }
}

fn nearer(nearest: &mut Near, other: Near) {
    if other.distance < nearest.distance {
        *nearest = other;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::outline::{Step, Way as Leg, path};
    use std::convert::Infallible;

    /// A sequence of shares from 0 to 1 that repeats the same.
    struct Shares(u64);

    impl Shares {
        fn next(&mut self) -> f64 {
            // A linear congruence: D. E. Knuth, The Art of Computer Programming, vol. 2, sec. 3.3.4.
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / (1_u64 << 53) as f64
        }

        fn from(&mut self, low: f64, high: f64) -> f64 {
            low + (high - low) * self.next()
        }
    }

    /// A star of lines with rounded corners.
    fn star(shares: &mut Shares) -> Edges {
        let count = 5 + (4.0 * shares.next()) as usize;
        let corner = |k: usize, radius: f64| {
            Vec2::unit(std::f64::consts::TAU * k as f64 / count as f64) * radius
        };
        let start = corner(0, 12.0);
        let step = |k: usize, shares: &mut Shares| Step {
            to: corner(k, shares.from(6.0, 20.0)),
            way: Leg::Straight,
            round: 0.5,
        };
        let steps: Vec<Step> = (1..count).map(|k| step(k, shares)).collect();
        Edges::of(path(start, &steps).unwrap()).unwrap()
    }

    /// On 100 random pairs that turn and move past each other: against 10,000 even places.
    #[test]
    fn as_near_as_many_places_tell() {
        let mut shares = Shares(7);
        let (mut touching, mut clear, mut looked) = (0, 0, 0);
        for _ in 0..100 {
            let edges = [star(&mut shares), star(&mut shares)];
            let far = shares.from(15.0, 42.0);
            let (turn, other) = (shares.from(-2.0, 2.0), shares.from(-2.0, 2.0));
            let (from, to) = (shares.from(-50.0, 0.0), shares.from(0.0, 50.0));
            let mut frames = |pace: f64| {
                let second = [from + (to - from) * pace, far, other * pace];
                Ok::<_, Infallible>([Frame::at([0.0, 0.0, turn * pace * pace]), Frame::at(second)])
            };
            let reach = edges[1].farthest(Vec2::ZERO);
            let mut way = Way {
                edges: [&edges[0], &edges[1]],
                frames: &mut frames,
                reach,
                looks: 0,
            };
            let found = way.approach(1.0).unwrap();
            looked += way.looks;
            let (mut least, mut first) = (f64::INFINITY, None);
            for k in 0..=10_000 {
                let pace = f64::from(k) / 1e4;
                let [a, b] = frames(pace).unwrap();
                let gap = edges[0].gap(&a, &edges[1], &b, 1e3).unwrap().distance;
                if gap <= 0.0 && first.is_none() {
                    first = Some(pace);
                }
                least = f64::min(least, gap);
            }
            match first {
                None => {
                    clear += 1;
                    // A touch between two of the places is shorter than what moves between them.
                    assert!(found.touch.is_none() || least < 0.02, "{found:?} {least}");
                    assert!(
                        (found.nearest.distance - least).abs() < 0.02,
                        "{found:?} {least}"
                    );
                }
                Some(pace) => {
                    touching += 1;
                    let touch = found.touch.expect("a touch");
                    // It is found within a sweep of 0.01 mm, at most some 1e-4 of this way.
                    assert!((touch.pace - pace).abs() < 2e-4, "{touch:?} {pace}");
                }
            }
        }
        assert!(touching > 20 && clear > 20, "{touching} {clear}");
        assert!(looked < 100 * 400, "{looked}");
    }

    /// By hand: a bar of half width 3 that swings by a pin, and a post of radius 2 at (20, -10): it touches
    /// where the lower edge of the bar is 2 off the post's middle: 20 sin a + 10 cos a = 5 (a < 0).
    #[test]
    fn a_swinging_bar_meets_a_post() {
        let at = |x, y| Vec2::new(x, y);
        let corner = |x, y| Step {
            to: at(x, y),
            way: Leg::Straight,
            round: 0.0,
        };
        let bar = path(
            at(-5.0, -3.0),
            &[corner(40.0, -3.0), corner(40.0, 3.0), corner(-5.0, 3.0)],
        );
        let half = |x: f64| Step {
            to: at(x, -10.0),
            way: Leg::Arc(2.0),
            round: 0.0,
        };
        let post = path(at(22.0, -10.0), &[half(18.0), half(22.0)]);
        let edges = [
            Edges::of(bar.unwrap()).unwrap(),
            Edges::of(post.unwrap()).unwrap(),
        ];
        let mut frames =
            |pace: f64| Ok::<_, Infallible>([Frame::at([0.0, 0.0, -pace]), Frame::UNMOVED]);
        let mut way = Way {
            edges: [&edges[0], &edges[1]],
            frames: &mut frames,
            reach: edges[1].farthest(Vec2::ZERO),
            looks: 0,
        };
        let touch = way.approach(1.0).unwrap().touch.expect("a touch");
        // 10 cos a - 20 sin a = 5 with a the turn downwards: sqrt(500) cos(a + atan 2) = 5.
        let turn = (5.0 / 500f64.sqrt()).acos() - 2f64.atan();
        assert!((touch.pace - turn).abs() < 5e-4, "{touch:?} {turn}");
    }
}
