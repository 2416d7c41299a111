//! Give of parts and pins, derivatives of the gap, rigid workpieces.

mod beams;
mod linkages;
mod press;
mod rates;
mod stiffness;

use jawforce::input::{read_tool, render_all};
use jawforce::model::{Depth, Material, PartId, Section, Tool};

/// A tool from its text. Side files are looked for in the demo data.
fn tool(text: &str) -> Tool {
    let demo = |path: &str| {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/");
        std::fs::read_to_string(format!("{folder}{path}")).map_err(|e| e.to_string())
    };
    match read_tool(text, &demo) {
        Ok(read) => read.tool,
        Err(found) => panic!("{}", render_all(&found, "tool.toml", text, false)),
    }
}

/// Young's modulus of all test parts, MPa.
const E: f64 = 205_000.0;

/// Gives every moving part of a tool built in code a section: width and thickness, one plate.
fn add_sections(tool: &mut Tool, sections: &[[f64; 2]]) {
    tool.materials = vec![Material {
        name: "plate".to_owned(),
        yield_strength: 355.0,
        ultimate: None,
        modulus: Some(E),
        density: None,
        price: None,
        surface: None,
    }];
    tool.sections = sections
        .iter()
        .enumerate()
        .map(|(k, &[width, thickness])| Section {
            part: PartId::new(k + 1),
            width: Depth::Uniform(width),
            thickness,
            plates: 1,
            layers: Vec::new(),
            edge: None,
            material: 0,
        })
        .collect();
}

#[track_caller]
fn near(found: f64, expected: f64, relative: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= relative * expected.abs(),
        "{found} is not {expected}"
    );
}
