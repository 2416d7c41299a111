//! The parts list and the borders to cut from: the answer of `parts`.
//!
//! Borders are in mm, whatever the units of the numbers, because sheets are cut at full size.

use super::parts_notes::notes;
use super::show::Source;
use super::stroke::UnitNames;
use crate::model::{Section, Tool};
use crate::outline::{Border, Piece, Shape};
use crate::plates::shape;
use crate::units::{Quantity, UnitSystem, figures};
use serde::Serialize;

/// What `parts` answers.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartsReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of lengths and forces.
    pub units: UnitNames,
    /// Unit of areas.
    pub area_unit: &'static str,
    /// Unit of masses.
    pub mass_unit: &'static str,
    /// One row for each part with an outline, in the file's order.
    pub parts: Vec<PartRow>,
    /// Parts without an outline.
    pub without: Vec<String>,
    /// Kept between blanks.
    pub margin: f64,
    /// For each thickness, the upright rectangles round all plates of it.
    pub sheets: Vec<SheetRow>,
    /// Mass of all plates that have one; null where one has none.
    pub mass: Option<f64>,
    /// Price of their material, by its mass without offcuts; null where a plate has none.
    pub price: Option<f64>,
    /// What a shop would ask about before it cuts them.
    pub notes: Vec<String>,
    /// What to cut, one for each row of `parts`.
    pub blanks: Vec<Blank>,
}

/// The plates of one part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PartRow {
    /// The part.
    pub part: String,
    /// How many plates; 1 without a table in `[sections]`.
    pub plates: u32,
    /// Their material; null without a table in `[sections]`.
    pub material: Option<String>,
    /// Thickness of one; null without a table in `[sections]`.
    pub thickness: Option<f64>,
    /// Sheets of the stack; empty where the file states none.
    pub layers: Vec<u32>,
    /// Area of one, holes taken off.
    pub area: f64,
    /// Its smallest upright rectangle, width and height.
    pub rectangle: [f64; 2],
    /// Mass of all of them; null without thickness and density.
    pub mass: Option<f64>,
    /// Price of that, in the money of the file; null without mass and price of the material.
    pub price: Option<f64>,
    /// Round holes: diameter and how many of it, in each plate.
    pub holes: Vec<(f64, u32)>,
    /// Openings that are not round, in each plate.
    pub slots: u32,
}

/// The plates of one thickness.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetRow {
    /// Thickness.
    pub thickness: f64,
    /// How many plates.
    pub plates: u32,
    /// Area of their upright rectangles together, each with half of what is kept between blanks all round.
    pub area: f64,
    /// Sheets of it are at hand, as far as the file says.
    pub in_stock: bool,
}

/// A plate to cut, mm: its borders in its own axes, the outer one first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Blank {
    /// The part.
    pub part: String,
    /// Lower left corner of its upright rectangle.
    pub corner: [f64; 2],
    /// Width and height of the rectangle.
    pub size: [f64; 2],
    /// The borders.
    pub borders: Vec<CutLine>,
    /// Middles of round holes.
    pub middles: Vec<[f64; 2]>,
}

/// A closed border.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutLine {
    /// Where it starts and ends.
    pub start: [f64; 2],
    /// Its pieces.
    pub pieces: Vec<CutPiece>,
}

/// A piece of a border: straight, or an arc of half a circle at most.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CutPiece {
    /// Where it ends.
    pub to: [f64; 2],
    /// Radius, positive where it turns left; null where it is straight.
    pub radius: Option<f64>,
}

/// The parts list of a tool, from its outlines; those that are none are left out (reading the file says why).
#[must_use]
pub fn parts_report(tool: &Tool, source: &Source, units: UnitSystem) -> PartsReport {
    let mut report = PartsReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        area_unit: units.symbol(Quantity::Area),
        mass_unit: units.symbol(Quantity::Mass),
        parts: Vec::new(),
        without: Vec::new(),
        margin: units.show(tool.stock.margin.unwrap_or(0.0), Quantity::Length),
        sheets: Vec::new(),
        mass: None,
        price: None,
        notes: Vec::new(),
        blanks: Vec::new(),
    };
    let (mut mass, mut price) = (Some(0.0), Some(0.0));
    for part in crate::model::PartId::ids(tool.parts.len()) {
        let name = tool.part(part).map_or("", |part| part.name.as_str());
        let Some(Ok(shape)) = shape(tool, part) else {
            report.without.push(name.to_owned());
            continue;
        };
        let section = tool.sections.iter().find(|section| section.part == part);
        let row = row(tool, name, &shape, section, units);
        mass = mass.zip(row.mass).map(|(sum, own)| sum + own);
        price = price.zip(row.price).map(|(sum, own)| sum + own);
        if let Some((thickness, section)) = row.thickness.zip(section) {
            add_sheet(&mut report.sheets, (thickness, section), &row, tool, units);
            (report.notes).extend(notes(name, &shape, section.thickness, units));
        }
        report.parts.push(row);
        report.blanks.push(blank(name, &shape));
    }
    report
        .sheets
        .sort_by(|a, b| a.thickness.total_cmp(&b.thickness));
    let some = !report.parts.is_empty();
    report.mass = mass.filter(|_| some);
    report.price = price.filter(|_| some);
    for sheet in report.sheets.iter().filter(|sheet| !sheet.in_stock) {
        let (thick, unit) = (figures(sheet.thickness), units.symbol(Quantity::Length));
        let text = format!("sheets of {thick} {unit} are not among those at hand ([stock])");
        report.notes.push(text);
    }
    report
}

fn row(
    tool: &Tool,
    name: &str,
    shape: &Shape,
    section: Option<&Section>,
    units: UnitSystem,
) -> PartRow {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let area = shape.moments().area;
    let material = section.and_then(|section| tool.materials.get(section.material));
    let density = material.and_then(|material| material.density);
    let mass = section
        .zip(density)
        .map(|(section, density)| section.all_plates() * area * density);
    let half = shape.bounds().half;
    let mut row = PartRow {
        part: name.to_owned(),
        plates: section.map_or(1, |section| section.plates),
        material: material.map(|material| material.name.clone()),
        thickness: section.map(|section| length(section.thickness)),
        layers: section.map_or_else(Vec::new, |section| section.layers.clone()),
        area: units.show(area, Quantity::Area),
        rectangle: (half * 2.0).xy().map(length),
        mass: mass.map(|mass| units.show(mass, Quantity::Mass)),
        // The price is per unit of mass of the file, whatever units are shown.
        price: (mass.zip(material.and_then(|material| material.price)))
            .map(|(mass, price)| tool.units.show(mass, Quantity::Mass) * price),
        holes: Vec::new(),
        slots: 0,
    };
    for k in 1..shape.borders().count() {
        let border = &shape.pieces()[shape.border(k)];
        match round(border) {
            None => row.slots += 1,
            Some((_, radius)) => {
                let diameter = length(2.0 * radius);
                let same = |hole: &&mut (f64, u32)| (hole.0 - diameter).abs() < 1e-9;
                match row.holes.iter_mut().find(same) {
                    Some((_, count)) => *count += 1,
                    None => row.holes.push((diameter, 1)),
                }
            }
        }
    }
    row.holes.sort_by(|a, b| a.0.total_cmp(&b.0));
    row
}

fn add_sheet(
    sheets: &mut Vec<SheetRow>,
    (thickness, section): (f64, &Section),
    row: &PartRow,
    tool: &Tool,
    units: UnitSystem,
) {
    let margin = units.show(tool.stock.margin.unwrap_or(0.0), Quantity::Length);
    let [width, height] = row.rectangle.map(|side| side + margin);
    let area = f64::from(row.plates) * width * height;
    let known = &tool.stock.thicknesses;
    let same = |at_hand: &f64| (at_hand - section.thickness).abs() <= 1e-6 * section.thickness;
    match sheets.iter_mut().find(|sheet| sheet.thickness == thickness) {
        Some(sheet) => {
            sheet.plates += row.plates;
            sheet.area += area;
        }
        None => sheets.push(SheetRow {
            thickness,
            plates: row.plates,
            area,
            in_stock: known.is_empty() || known.iter().any(same),
        }),
    }
}

/// Middle and radius of a border that is a circle.
fn round(border: &[Piece]) -> Option<([f64; 2], f64)> {
    let first = border.first()?.arc?;
    let same = |piece: &Piece| {
        piece.arc.is_some_and(|arc| {
            let near = 1e-6 * first.radius;
            (arc.centre - first.centre).length() <= near
                && (arc.radius - first.radius).abs() <= near
        })
    };
    border
        .iter()
        .all(same)
        .then(|| (first.centre.xy(), first.radius))
}

fn blank(name: &str, shape: &Shape) -> Blank {
    let bounds = shape.bounds();
    let borders = || {
        shape
            .borders()
            .map(|range| (range.start, &shape.pieces()[range]))
    };
    let holes = borders().filter(|(first, _)| !matches!(shape.owner(*first), Border::Outer));
    Blank {
        part: name.to_owned(),
        corner: (bounds.middle - bounds.half).xy(),
        size: (bounds.half * 2.0).xy(),
        borders: borders().map(|(_, border)| cut_line(border)).collect(),
        middles: holes
            .filter_map(|(_, border)| Some(round(border)?.0))
            .collect(),
    }
}

fn cut_line(border: &[Piece]) -> CutLine {
    /// An arc longer than this is cut in two: writers know only the shorter one, rad.
    const LONG: f64 = 3.0;
    let mut pieces = Vec::with_capacity(border.len());
    for piece in border {
        let arc = piece.arc;
        let radius = arc.map(|arc| arc.radius.copysign(arc.sweep));
        if arc.is_some_and(|arc| arc.sweep.abs() > LONG) {
            let to = piece.point(0.5).xy();
            pieces.push(CutPiece { to, radius });
        }
        pieces.push(CutPiece {
            to: piece.to.xy(),
            radius,
        });
    }
    CutLine {
        start: border.first().map_or([0.0; 2], |piece| piece.from.xy()),
        pieces,
    }
}
