//! The borders of a plate, one after the other in one list.

use super::Piece;
use super::tree::Tree;
use std::ops::Range;

/// What a border belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Border {
    /// The outline.
    Outer,
    /// An opening that belts leave between them, counted from zero.
    Window(usize),
    /// A hole, by its place in the list given.
    Hole(usize),
}

/// The outer border and those of windows and holes.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Borders {
    pub(super) pieces: Vec<Piece>,
    /// First piece of each border after the outer one.
    pub(super) starts: Vec<usize>,
    /// How many of these are windows; holes follow.
    pub(super) windows: usize,
    pub(super) tree: Tree,
}

impl Borders {
    pub(super) fn new(pieces: Vec<Piece>, starts: Vec<usize>, windows: usize) -> Self {
        Self {
            tree: Tree::of(&pieces),
            pieces,
            starts,
            windows,
        }
    }

    pub(super) fn borders(&self) -> impl Iterator<Item = Range<usize>> + '_ {
        (0..=self.starts.len()).map(|k| self.border(k))
    }

    pub(super) fn border(&self, k: usize) -> Range<usize> {
        let start = if k == 0 {
            0
        } else {
            self.starts.get(k - 1).copied().unwrap_or(self.pieces.len())
        };
        start..self.starts.get(k).copied().unwrap_or(self.pieces.len())
    }

    pub(super) fn border_of(&self, piece: usize) -> usize {
        self.starts.partition_point(|&start| start <= piece)
    }

    pub(super) fn owner(&self, piece: usize) -> Border {
        match self.border_of(piece) {
            0 => Border::Outer,
            k if k <= self.windows => Border::Window(k - 1),
            k => Border::Hole(k - 1 - self.windows),
        }
    }
}
