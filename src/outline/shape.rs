//! A plate's outline with its holes, checked, with all that is asked of it.

use super::borders::{Border, Borders};
use super::gap::{Gap, gap};
use super::tree::Tree;
use super::{Bounds, Fault, Hole, Moments, Piece, crossing, winding};
use crate::geometry::{Frame, Vec2};
use std::ops::Range;

/// One outer border, counter-clockwise, and the borders of its openings, clockwise: material is on the left
/// of every piece. None of them meets itself or another.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    borders: Borders,
}

/// The place of a border that is nearest to a point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// Distance from the border, mm.
    pub distance: f64,
    /// Where.
    pub at: Vec2,
    /// Index of the piece.
    pub piece: usize,
    /// Share (0..1) of the piece's length.
    pub share: f64,
}

impl Shape {
    /// Of an outer border, openings within it (both as [`path`](super::path) and [`belts`](super::belts) give
    /// them) and holes.
    ///
    /// # Errors
    /// A border that crosses itself, a clockwise outline, a hole that does not lie wholly inside.
    pub fn new(outer: Vec<Piece>, windows: Vec<Vec<Piece>>, holes: &[Hole]) -> Result<Self, Fault> {
        if outer.len() < 2 {
            return Err(Fault::TooFew);
        }
        let good = |p: &&Piece| {
            let arc = p.arc.map_or([0.0; 2], |arc| [arc.radius, arc.sweep]);
            let centre = p.arc.map_or(p.from, |arc| arc.centre);
            p.from.is_finite()
                && p.to.is_finite()
                && centre.is_finite()
                && arc.iter().all(|v| v.is_finite())
        };
        let mut all = outer.iter().chain(windows.iter().flatten());
        if let Some(bad) = all.find(|p| !good(p)) {
            return Err(Fault::OutOfRange { entry: bad.entry });
        }
        let mut pieces = outer;
        let mut starts = Vec::with_capacity(windows.len() + holes.len());
        let count = windows.len();
        for window in windows {
            starts.push(pieces.len());
            pieces.extend(window);
        }
        for (k, hole) in holes.iter().enumerate() {
            starts.push(pieces.len());
            let border = hole.border().ok_or(Fault::HoleSize { hole: k })?;
            pieces.extend(border.into_iter().map(|piece| piece.of_entry(k)));
        }
        let borders = Borders::new(pieces, starts, count);
        crossing::check(&borders)?;
        Ok(Self { borders })
    }

    /// Mirrored about the line through two points.
    ///
    /// # Errors
    /// When the two points are the same or not finite.
    pub fn mirrored(&self, [first, second]: [Vec2; 2]) -> Result<Self, Fault> {
        let way = second - first;
        let length = way.length();
        if !(length > 0.0 && length.is_finite() && first.is_finite()) {
            return Err(Fault::MirrorWithoutLine);
        }
        let image = |piece: &Piece| piece.mirrored(first, way / length).reversed();
        let mut pieces = Vec::with_capacity(self.borders.pieces.len());
        for border in self.borders() {
            pieces.extend(self.borders.pieces[border].iter().rev().map(image));
        }
        let far = |p: &Piece| !(p.from.xy().iter().all(|v| v.abs() <= 3.0 * super::FARTHEST));
        if pieces.iter().any(far) {
            return Err(Fault::MirrorWithoutLine);
        }
        let (starts, windows) = (self.borders.starts.clone(), self.borders.windows);
        Ok(Self {
            borders: Borders::new(pieces, starts, windows),
        })
    }

    /// All pieces: the outer border from its start, then the openings one by one.
    #[must_use]
    pub fn pieces(&self) -> &[Piece] {
        &self.borders.pieces
    }

    /// Which pieces make up each border, the outer one first.
    pub fn borders(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        self.borders.borders()
    }

    /// Which pieces make up one border: 0 is the outer one.
    #[must_use]
    pub fn border(&self, k: usize) -> Range<usize> {
        self.borders.border(k)
    }

    /// The border that a piece is of, as an index of [`Shape::border`].
    #[must_use]
    pub fn border_of(&self, piece: usize) -> usize {
        self.borders.border_of(piece)
    }

    /// What the border that a piece is of belongs to.
    #[must_use]
    pub fn owner(&self, piece: usize) -> Border {
        self.borders.owner(piece)
    }

    /// Area, centroid and second moments, openings taken off; summed up on every call.
    #[must_use]
    pub fn moments(&self) -> Moments {
        Moments::of(&self.borders.pieces)
    }

    /// Its smallest upright rectangle.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        self.borders.tree.bounds()
    }

    /// Whether a point lies in the material; on the border it may be either.
    #[must_use]
    pub fn holds(&self, point: Vec2) -> bool {
        winding::about(&self.borders.pieces, &self.borders.tree, point, 0..0) > 0
    }

    /// The place of the border that is nearest to a point.
    #[must_use]
    pub fn nearest(&self, point: Vec2) -> Nearest {
        let (piece, at) = self.borders.tree.nearest(&self.borders.pieces, point);
        Nearest {
            distance: (at - point).length(),
            at,
            piece,
            share: self.borders.pieces[piece].share(at),
        }
    }

    /// The largest distance of any of its points from a point, mm: how far it sweeps when it turns about it.
    #[must_use]
    pub fn farthest(&self, point: Vec2) -> f64 {
        self.borders.pieces[self.border(0)]
            .iter()
            .fold(0.0, |most, piece| piece.farthest(point).max(most))
    }

    /// Distance of a point from the outer border, mm.
    #[must_use]
    pub fn to_outer(&self, point: Vec2) -> f64 {
        let outer = self.borders.pieces[self.border(0)].iter();
        outer.fold(f64::INFINITY, |least, piece| {
            (piece.nearest(point) - point).length().min(least)
        })
    }

    /// The nearest points of the borders of two shapes that stand at these places; `None` where they are not
    /// nearer than `within`, mm, or a place is not finite. Borders only: where they do not touch, one shape
    /// may lie inside the other, see [`Shape::overlaps`].
    #[must_use]
    pub fn gap(&self, own: &Frame, other: &Self, there: &Frame, within: f64) -> Option<Gap> {
        gap(
            (&self.borders.tree, &self.borders.pieces),
            own,
            (&other.borders.tree, &other.borders.pieces),
            there,
            within,
        )
    }

    /// Whether the material of two shapes whose borders do not touch overlaps: one lies inside the other.
    #[must_use]
    pub fn overlaps(&self, own: &Frame, other: &Self, there: &Frame) -> bool {
        let inside = |shape: &Self, frame: &Frame, of: &Self, at: &Frame| {
            shape.holds(frame.own_place(at.place(of.pieces()[0].from)))
        };
        inside(self, own, other, there) || inside(other, there, self, own)
    }

    pub(super) fn tree(&self) -> &Tree {
        &self.borders.tree
    }
}
