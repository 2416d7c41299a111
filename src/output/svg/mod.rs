//! SVG for charts and drawings: elements, pens, and the room that text takes.

pub(super) mod backend;
pub(super) mod labels;
pub(super) mod pen;
pub(super) mod shapes;
pub(super) mod writer;
