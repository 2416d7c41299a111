//! A line of a chart: what it shows and the points it goes through.

use super::palette;
use crate::output::svg::pen::Pen;

/// What a line shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::output) enum Kind {
    /// A force at one grip, or of one variant.
    Curve,
    /// What the work needs.
    Work,
    /// The most that the hand may be asked for, or gives.
    Limit,
}

impl Kind {
    /// The class of its elements.
    pub(in crate::output) fn class(self) -> &'static str {
        match self {
            Self::Curve => "curve",
            Self::Work => "work",
            Self::Limit => "limit",
        }
    }

    /// Its name stands out among those of the curves.
    pub(in crate::output) fn bold(self) -> bool {
        self != Self::Curve
    }
}

/// Place on the axis across the stroke, and value.
pub(in crate::output) type Points = Vec<(f64, Option<f64>)>;

/// A line across the stroke.
pub(in crate::output) struct Line {
    /// What stands at its end.
    pub(in crate::output) label: String,
    pub(in crate::output) pen: Pen,
    pub(in crate::output) kind: Kind,
    pub(in crate::output) points: Points,
    /// Where the tool gets no further: what comes after it is never reached.
    pub(in crate::output) until: Option<f64>,
}

impl Line {
    pub(in crate::output) fn curve(label: String, index: usize, points: Points) -> Self {
        Self {
            label,
            pen: palette::curve(index),
            kind: Kind::Curve,
            points,
            until: None,
        }
    }

    pub(in crate::output) fn work(points: Points) -> Self {
        Self {
            label: "the work needs".to_owned(),
            pen: palette::WORK,
            kind: Kind::Work,
            points,
            until: None,
        }
    }

    pub(in crate::output) fn limit(label: String, points: Points) -> Self {
        Self {
            label,
            pen: palette::LIMIT,
            kind: Kind::Limit,
            points,
            until: None,
        }
    }

    /// Adds a point between those that the curve has, if it lies between two of them.
    pub(in crate::output) fn take_in(&mut self, place: Option<f64>, value: Option<f64>) {
        let (Some(x), Some(_)) = (place, value) else {
            return;
        };
        let after = self.points.partition_point(|(at, _)| *at < x);
        let beside = |k: usize| self.points.get(k).is_some_and(|(_, y)| y.is_some());
        let known = self.points.get(after).is_some_and(|(at, _)| *at == x);
        if after > 0 && !known && beside(after - 1) && beside(after) {
            self.points.insert(after, (x, value));
        }
    }

    /// The points that the tool reaches, and those that it does not.
    pub(in crate::output) fn reached(&self) -> [&[(f64, Option<f64>)]; 2] {
        let last = self
            .until
            .and_then(|end| self.points.iter().rposition(|(x, _)| *x <= end));
        match last {
            Some(last) => [
                self.points.get(..=last).unwrap_or(&[]),
                self.points.get(last..).unwrap_or(&[]),
            ],
            None => [&self.points, &[]],
        }
    }

    /// Whether it has one value all along.
    pub(in crate::output) fn is_level(&self) -> bool {
        let mut values = self.points.iter().filter_map(|(_, y)| *y);
        values
            .next()
            .is_some_and(|first| values.all(|value| value == first))
    }

    pub(in crate::output) fn greatest(&self) -> Option<f64> {
        self.points.iter().filter_map(|(_, y)| *y).reduce(f64::max)
    }
}

/// The value of a line between its points.
pub(in crate::output) fn value_at(points: &[(f64, Option<f64>)], x: f64) -> Option<f64> {
    points.windows(2).find_map(|pair| match *pair {
        [(from, Some(a)), (to, Some(b))] if (from..=to).contains(&x) && to > from => {
            Some(a + (x - from) / (to - from) * (b - a))
        }
        _ => None,
    })
}
