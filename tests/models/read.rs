//! A measure of a tool, read by the library.

use jawforce::analysis::Direction;
use jawforce::measure::{Measure, Reader, Reading};
use jawforce::model::{At, GripId, Tool};
use jawforce::statics::{Mounted, Rig};

/// At a position, or over the stroke.
pub fn read(tool: &Tool, measure: &Measure, at: Option<At>) -> Reading {
    let mounted = Mounted::new(tool).expect("a stroke");
    let mut rig = Rig::new(tool, &mounted, Direction::Closing).expect("its open end");
    let mut reader = Reader::new(&mut rig);
    match at {
        Some(at) => reader
            .at(measure, at, GripId::FIRST)
            .expect("on the stroke"),
        None => reader
            .over_stroke(measure, GripId::FIRST)
            .expect("a reading"),
    }
}
