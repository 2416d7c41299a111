//! Sheets to cut plates from: borders at full size in one colour, crosses in the middles of holes in another,
//! and nothing else.

use crate::output::svg::writer::{Svg, Way};
use crate::output::{error::OutputError, finite::check_finite};
use crate::report::Blank;

/// Room round the plate, mm.
const MARGIN: f64 = 2.0;
/// Width of a line, mm: hair lines, as laser cutters take them (common practice, no source).
const HAIR: f64 = 0.1;
/// What is cut, and what is only marked.
const CUT: &str = "#000000";
const MARKED: &str = "#d0021b";
/// Half of a cross, mm.
const CROSS: f64 = 1.0;

/// The plate as an SVG document: one user unit is 1 mm, y up in the plate is up on the sheet.
///
/// # Errors
/// When a number is not finite.
pub fn cut_sheet(blank: &Blank) -> Result<String, OutputError> {
    check_finite(blank)?;
    let size = blank.size.map(|side| side + 2.0 * MARGIN);
    let mut svg = Svg::bare(size, "mm");
    let top = blank.corner[1] + blank.size[1];
    let place = |[x, y]: [f64; 2]| [x - blank.corner[0] + MARGIN, top - y + MARGIN];
    for border in &blank.borders {
        let mut way = Way::default();
        way.begin(place(border.start));
        for piece in &border.pieces {
            match piece.radius {
                None => way.line(place(piece.to)),
                // Seen with y down, what turns left turns right in the units of the sheet.
                Some(radius) => way.arc(radius.abs(), place(piece.to), radius < 0.0),
            }
        }
        way.close();
        line(&mut svg, &way, CUT);
    }
    for &middle in &blank.middles {
        let [x, y] = place(middle);
        let mut way = Way::default();
        way.piece([[x - CROSS, y], [x + CROSS, y]]);
        way.piece([[x, y - CROSS], [x, y + CROSS]]);
        line(&mut svg, &way, MARKED);
    }
    Ok(svg.finish())
}

fn line(svg: &mut Svg, way: &Way, colour: &str) {
    let path = svg.element("path").way(way).with("fill", "none");
    path.with("stroke", colour)
        .number("stroke-width", HAIR)
        .end();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::{CutLine, CutPiece};

    /// A plate of 30 × 20 with a corner of radius 5 at its upper right: measured in the SVG.
    #[test]
    fn a_plate_at_full_size() {
        let to = |x: f64, y: f64, radius: Option<f64>| CutPiece { to: [x, y], radius };
        let border = CutLine {
            start: [-10.0, -5.0],
            pieces: vec![
                to(20.0, -5.0, None),
                to(20.0, 10.0, None),
                to(15.0, 15.0, Some(5.0)),
                to(-10.0, 15.0, None),
                to(-10.0, -5.0, None),
            ],
        };
        let blank = Blank {
            part: "a".to_owned(),
            corner: [-10.0, -5.0],
            size: [30.0, 20.0],
            borders: vec![border],
            middles: vec![[0.0, 0.0]],
        };
        let svg = cut_sheet(&blank).unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("width"), Some("34mm"));
        assert_eq!(root.attribute("height"), Some("24mm"));
        assert_eq!(root.attribute("viewBox"), Some("0 0 34 24"));
        let paths: Vec<_> = root.children().filter(|n| n.is_element()).collect();
        assert_eq!(paths.len(), 2, "{svg}");
        assert!(paths.iter().all(|path| path.has_tag_name("path")));
        // The corner is at the upper right of the sheet, and bulges outwards.
        let way = "M2 22L32 22L32 7A5 5 0 0 0 27 2L2 2L2 22Z";
        assert_eq!(paths[0].attribute("d"), Some(way));
        assert_eq!(paths[1].attribute("d"), Some("M11 17L13 17M12 16L12 18"));
    }
}
