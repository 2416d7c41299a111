//! `stroke`: the columns of the CSV and the same numbers of the JSON.

use super::{INCH, POUND, cell, printed, table, tool};
use crate::drawing::{DEMOS, demo};
use jawforce::analysis::{AtGrip, Position, Solved};
use jawforce::model::{Direction, HandLimit, JawId, JointId, Tool};
use jawforce::statics::Answer;
use serde_json::Value;

/// Where a number of the stroke stands.
#[derive(Clone, Copy)]
struct Place {
    position: usize,
    grip: usize,
    jaw: usize,
}

struct Stroke {
    tool: Tool,
    solved: Solved,
    /// What a length and a force are divided by.
    length: f64,
    force: f64,
}

impl Stroke {
    fn at(&self, place: Place) -> (&Position, &AtGrip) {
        let position = &self.solved.positions[place.position];
        (position, &position.grips[place.grip])
    }

    fn force(&self, answer: Option<Answer>) -> Option<f64> {
        match answer? {
            Answer::Moves { force, .. } => Some(force / self.force),
            // The springs hold the hand.
            Answer::Slack => Some(0.0),
            Answer::Locked | Answer::LiftsOff | Answer::Ended => None,
        }
    }

    /// The limit of the hand at the span that it has here.
    fn limit(&self, span: Option<f64>) -> Option<f64> {
        let newtons = match self.tool.hand.limit.as_ref().unwrap() {
            HandLimit::Force(force) => *force,
            HandLimit::Table(rows) => {
                let span = span?;
                let (first, last) = (rows[0], rows[rows.len() - 1]);
                let span = span.clamp(first[0], last[0]);
                let after = rows.iter().position(|row| row[0] >= span).unwrap();
                let (from, to) = (rows[after.saturating_sub(1)], rows[after.max(1)]);
                from[1] + (span - from[0]) / (to[0] - from[0]) * (to[1] - from[1])
            }
            HandLimit::Named(name) => {
                panic!("{name}: none of the demo tools has a published limit")
            }
        };
        Some(newtons / self.force)
    }

    /// What a column must hold; `None`: it is none of numbers.
    fn wanted(&self, column: &str, place: Place) -> Option<Option<f64>> {
        let (position, grip) = self.at(place);
        let first = place.jaw == 0;
        let answer = grip.answer[place.jaw];
        let closing = self.solved.direction == Direction::Closing;
        let end = |name: &str, unit: &str| column == format!("{name}_{unit}");
        let lengths = if self.length == 1.0 { "mm" } else { "in" };
        let forces = if self.force == 1.0 { "N" } else { "lbf" };
        let known = |joint: usize| self.solved.indeterminate.get(joint) != Some(&true);
        Some(match column {
            "handle_deg" => Some(position.handle.to_degrees()),
            "travel_deg" => Some(position.travel.to_degrees()),
            "ratio" => grip.ratio[place.jaw],
            "efficiency" => match answer {
                Some(Answer::Moves { force, without }) if closing => Some(force / without),
                Some(Answer::Moves { force, without }) => Some(without / force),
                _ => None,
            },
            _ if end("gap", lengths) => Some(position.gap[place.jaw] / self.length),
            _ if end("grip", lengths) => Some(self.tool.hand.grips[place.grip] / self.length),
            _ if end("span", lengths) => grip.span.map(|s| s / self.length),
            _ if end("jaw_force", forces) => self.force(answer),
            _ if end("work_needs", forces) => {
                (first && !position.ended).then(|| self.solved.work[place.position] / self.force)
            }
            _ if end("hand_force", forces) => self.force(grip.needed.filter(|_| first)),
            _ if end("hand_limit", forces) => self.limit(grip.span),
            _ => {
                let name = column.strip_suffix(&format!("_{forces}"))?;
                let own = |force: Option<f64>| force.filter(|_| first).map(|f| f / self.force);
                if let Some(name) = name.strip_prefix("pin_") {
                    let named = |k: &usize| self.tool.joint_label(JointId::new(*k)) == name;
                    let at = (0..grip.pins.len()).find(named)?;
                    own(grip.pins[at].filter(|_| known(at)).map(|[x, y]| x.hypot(y)))
                } else if let Some(name) = name.strip_prefix("axial_") {
                    let parts: Vec<_> = self.solved.links.parts().collect();
                    let named = |k: &usize| self.tool.parts[parts[*k]].name == name;
                    let k = (0..parts.len()).find(named)?;
                    let mut joints = self.solved.links.joints_of(k);
                    own(grip.axial[k].filter(|_| joints.all(|j| known(j.index()))))
                } else {
                    let name = name.strip_prefix("contact_")?;
                    let count = self.tool.joints.len();
                    let of = |k: &usize| {
                        let joint = JointId::new(count + k);
                        self.tool.contact_label(joint) == name
                    };
                    own(grip.contacts[(0..grip.contacts.len()).find(of)?])
                }
            }
        })
    }
}

/// The same number of the JSON.
fn in_json(json: &Value, column: &str, jaw: &str, place: Place) -> Option<Value> {
    let position = &json["positions"][place.position];
    let grip = &position["grips"][place.grip];
    let own = &grip["jaws"][jaw];
    let plain = column.rsplit_once('_').map_or(column, |(name, _)| name);
    Some(match plain {
        "handle" | "travel" => position[plain].clone(),
        "gap" => position["jaws"][jaw]["gap"].clone(),
        "grip" => grip["at"].clone(),
        "span" => grip["span"].clone(),
        "jaw_force" | "hand_force" => own[plain].clone(),
        "ratio" | "efficiency" => own[column].clone(),
        "hand_limit" => json["limit"]["hand_force"][place.position][place.grip].clone(),
        "work_needs" if place.jaw == 0 && position["beyond"] == false => {
            json["work"]["needed"][place.position].clone()
        }
        _ if place.jaw > 0 => return None,
        _ => {
            let families = [
                ("pin_", "pin_loads"),
                ("axial_", "axial"),
                ("contact_", "contacts"),
            ];
            let of =
                |(start, list): (&str, &str)| Some(grip[list][plain.strip_prefix(start)?].clone());
            return families.into_iter().find_map(of);
        }
    })
}

/// Every cell of every row, for every demo tool, both ways, in both systems of units.
#[test]
fn every_cell_of_the_stroke_is_that_of_the_analysis() {
    let words = ["toggle", "jaw", "locked", "beyond"];
    let mut numbers = 0;
    let mut columns = std::collections::BTreeSet::new();
    for (k, name) in DEMOS.iter().enumerate() {
        for (way, direction) in [
            (&[][..], Direction::Closing),
            (&["--opening"], Direction::Opening),
        ] {
            let other = (k + way.len()) % 2 == 1;
            let (units, length, force) = match other {
                true => ("in-lbf", INCH, POUND),
                false => ("mm-N", 1.0, 1.0),
            };
            let file = demo(name);
            let call = ["stroke", &file, "--steps", "12", "--units", units];
            let call: Vec<&str> = call.iter().chain(way).copied().collect();
            let (headers, rows) = table(&printed(&[&call[..], &["--csv", "-"]].concat()));
            let json: Value =
                serde_json::from_str(&printed(&[&call[..], &["--json"]].concat())).unwrap();
            let mut tool = jawforce::analysis::with_grips(&tool(name));
            tool.stroke.steps = 12;
            let solved = jawforce::analysis::solve(&tool, direction).unwrap();
            let stroke = Stroke {
                tool,
                solved,
                length,
                force,
            };
            let (grips, jaws) = (stroke.tool.hand.grips.len(), stroke.tool.jaws.len());
            assert_eq!(
                rows.len(),
                stroke.solved.positions.len() * grips * jaws,
                "{name}"
            );
            for (k, row) in rows.iter().enumerate() {
                let place = Place {
                    position: k / (grips * jaws),
                    grip: k / jaws % grips,
                    jaw: k % jaws,
                };
                for (column, found) in headers.iter().zip(row) {
                    if words.contains(&column.as_str()) {
                        continue;
                    }
                    let what = format!("{name} {way:?}, row {k}, {column}");
                    let wanted = stroke
                        .wanted(column, place)
                        .unwrap_or_else(|| panic!("{what}: a column that this test does not know"));
                    cell(found, wanted, 6, &what);
                    let jaw = &stroke.tool.jaws[JawId::new(place.jaw)].name;
                    if let Some(data) = in_json(&json, column, jaw, place) {
                        let data = data.as_f64();
                        assert_eq!(
                            data.is_some(),
                            wanted.is_some(),
                            "{what}: {data:?} {wanted:?}"
                        );
                        let (data, wanted) = (data.unwrap_or(0.0), wanted.unwrap_or(0.0));
                        let off = (data - wanted).abs();
                        assert!(
                            off <= 1e-9 * wanted.abs().max(1e-3),
                            "{what}: {data} {wanted}"
                        );
                        numbers += 1;
                    }
                    columns.insert(column.split('_').next().unwrap().to_owned());
                }
            }
        }
    }
    // All kinds of columns were there.
    let kinds = [
        "axial",
        "contact",
        "efficiency",
        "gap",
        "grip",
        "hand",
        "handle",
        "jaw",
        "pin",
        "ratio",
        "span",
        "travel",
        "work",
    ];
    assert_eq!(columns.into_iter().collect::<Vec<_>>(), kinds);
    assert!(numbers > 10_000, "{numbers}");
}
