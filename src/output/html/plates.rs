//! Plates on the page: what they are like, how near they come.

use crate::output::sentences::room::room;
use crate::output::text::{clean, figures, length};
use crate::report::ToolReview;

/// The chapter on plates.
pub(super) struct PlatesView {
    /// Name, count and thickness, layers, area, mass.
    pub(super) rows: Vec<[String; 5]>,
    pub(super) units: [&'static str; 2],
    pub(super) sentences: Vec<String>,
}

/// What is said of the plates; `None` where no part has an outline.
pub(super) fn plates(tool: &ToolReview) -> Option<PlatesView> {
    let plates = tool.plates.as_ref()?;
    let units = &tool.stroke.units;
    let rows = plates.parts.iter().map(|plate| {
        let count = match (plate.plates, plate.thickness) {
            (Some(count), Some(thickness)) => {
                format!("{count} × {} {}", length(thickness, units), units.length)
            }
            _ => "-".to_owned(),
        };
        let layers: Vec<String> = plate.layers.iter().map(u32::to_string).collect();
        [
            clean(&plate.part),
            count,
            layers.join(", "),
            figures(plate.area),
            plate.mass.map_or("-".to_owned(), figures),
        ]
    });
    let mut sentences = Vec::new();
    if let Some(all) = &plates.together {
        let missing = match all.left_out.is_empty() {
            true => String::new(),
            false => format!("; not weighed: {}", clean(&all.left_out.join(", "))),
        };
        sentences.push(format!(
            "Plates and pins together: {} {}{missing}",
            figures(all.mass),
            plates.mass_unit
        ));
    }
    sentences.extend(tool.room.iter().flat_map(|seen| room(seen, units)));
    Some(PlatesView {
        rows: rows.collect(),
        units: [plates.area_unit, plates.mass_unit],
        sentences,
    })
}
