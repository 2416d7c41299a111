//! Which dimensions and other numbers vary, and by how much.

use super::iso::{general_tolerance, smallest_step};
use crate::analysis::Redrawn;
use crate::model::dimension::DimensionSlot;
use crate::model::{Border, Depth, JawId, Joint, JointId, PartId, Stated};
use crate::model::{
    Shape, ToleranceClass, ToleranceRule, Tool,
    dimension::{Dimension, dimensions, others},
};

/// Where a tolerance comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// A rule for this dimension.
    Own,
    /// The class, by the size.
    Class,
    /// The class's smallest step: a coordinate at or near zero has no size.
    SmallestStep,
}

/// A dimension that varies.
#[derive(Debug, Clone, PartialEq)]
pub struct Varied {
    /// Address, as in the tool file.
    pub address: String,
    /// The same, for use in a loop.
    pub slot: DimensionSlot,
    /// Nominal value, internal unit.
    pub nominal: f64,
    /// ± tolerance, internal unit; above zero.
    pub tolerance: f64,
    /// Where it comes from.
    pub origin: Origin,
}

/// A dimension left without a tolerance, or given one in an unusual way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Remark {
    /// Addresses of coordinates at or near zero, held to the smallest step.
    SmallestStep(Vec<String>),
    /// Points at their part's datum: all other dimensions are counted from them.
    Datum(Vec<String>),
    /// Addresses for whose size the standard has no tolerance.
    NoTolerance(Vec<String>),
    /// Addresses of lengths that follow others.
    Tied(Vec<String>),
    /// Parts whose sections come from their outlines: on made tools they are as drawn.
    AsDrawn(Vec<String>),
}

/// What varies.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Dimensions of parts, then other numbers, in file order.
    pub varied: Vec<Varied>,
    /// Joints with clearance: pins, with the radius of the circle of play (half the clearance), then gears, with
    /// half the backlash, mm.
    pub clearances: Vec<(JointId, f64)>,
    /// What is worth saying.
    pub remarks: Vec<Remark>,
}

/// Parts whose outline has one of these numbers, or mirrors one that has.
fn redrawn_parts(tool: &Tool, numbers: impl Iterator<Item = Stated>) -> Vec<PartId> {
    let own = numbers.filter_map(|stated| match stated {
        Stated::Outline(outline, _) => Some(tool.outlines.get(outline)?.part),
        _ => None,
    });
    let mut parts: Vec<PartId> = own.collect();
    // A mirror image may be mirrored again.
    for _ in &tool.outlines {
        for outline in &tool.outlines {
            let mirrors =
                matches!(outline.border, Border::Mirror { of, .. } if parts.contains(&of));
            if mirrors && !parts.contains(&outline.part) {
                parts.push(outline.part);
            }
        }
    }
    parts.sort_unstable();
    parts.dedup();
    parts
}

/// Gears with play between their teeth, and half of it: as drawn a tooth stands in the middle of its gap.
fn backlash(tool: &Tool) -> impl Iterator<Item = (JointId, f64)> {
    tool.all_joints().enumerate().filter_map(|(k, joint)| {
        let Joint::Gears(_, gears) = joint else {
            return None;
        };
        let play = gears.backlash.filter(|play| *play > 0.0)?;
        Some((JointId::new(k), 0.5 * play))
    })
}

/// The plan of a tool: rules by address over the class, and its pin clearances.
#[must_use]
pub fn plan(tool: &Tool) -> Plan {
    let mut plan = Plan::default();
    let (mut small, mut datum, mut without) = (Vec::new(), Vec::new(), Vec::new());
    let mut tied = Vec::new();
    for dimension in dimensions(tool) {
        let Dimension {
            address,
            slot,
            value,
        } = dimension;
        if let Some(tie) = tool.tie(slot) {
            tied.push(tie.address.clone());
            continue;
        }
        let rule = (tool.tolerances.rules.iter()).find(|rule| rule.dimension == address);
        let found = match (rule, tool.tolerances.class) {
            (Some(rule), _) => Some((rule.value, Origin::Own)),
            (None, None) => None,
            (None, Some(class)) => match by_class(tool, slot, value, class) {
                ByClass::Datum => {
                    let point = address.rsplit_once('.').map_or("", |(point, _)| point);
                    if !datum.iter().any(|known| known == point) {
                        datum.push(point.to_owned());
                    }
                    None
                }
                ByClass::None => {
                    without.push(address.clone());
                    None
                }
                ByClass::Value(value, origin) => {
                    if origin == Origin::SmallestStep {
                        small.push(address.clone());
                    }
                    Some((value, origin))
                }
            },
        };
        if let Some((tolerance, origin)) = found.filter(|(t, _)| *t > 0.0) {
            plan.varied.push(Varied {
                address,
                slot,
                nominal: value,
                tolerance,
                origin,
            });
        }
    }
    plan.varied.extend(stated(tool));
    let clearances = JointId::each(&tool.joint_data).filter(|(_, data)| data.clearance > 0.0);
    plan.clearances = clearances
        .map(|(joint, data)| (joint, 0.5 * data.clearance))
        .chain(backlash(tool))
        .collect();
    let outlined = tool.sections.iter();
    let redrawn = plan.redrawn(tool).outlines;
    let outlined = outlined
        .filter(|section| section.width == Depth::Outlined && !redrawn.contains(&section.part));
    let outlined = outlined.filter_map(|section| Some(tool.part(section.part)?.name.clone()));
    for (list, remark) in [
        (small, Remark::SmallestStep as fn(Vec<String>) -> Remark),
        (datum, Remark::Datum),
        (without, Remark::NoTolerance),
        (tied, Remark::Tied),
        (outlined.collect(), Remark::AsDrawn),
    ] {
        if !list.is_empty() {
            plan.remarks.push(remark(list));
        }
    }
    plan
}

impl Plan {
    /// What is not the same on all made tools: the hand lines, or where the hand is along them; outlines, and those
    /// that mirror them.
    pub(super) fn redrawn(&self, tool: &Tool) -> Redrawn {
        let stated = || {
            self.varied.iter().filter_map(|varied| match varied.slot {
                DimensionSlot::Stated(stated) => Some(stated),
                _ => None,
            })
        };
        let line = |stated| matches!(stated, Stated::Line { .. } | Stated::Grip(_));
        Redrawn {
            hand_lines: stated().any(line),
            outlines: redrawn_parts(tool, stated()),
        }
    }

    /// The same plan for the tool that faces `jaw` instead of its first.
    pub(super) fn seen_from(&self, jaw: JawId) -> Self {
        let mut plan = self.clone();
        for varied in &mut plan.varied {
            varied.slot = varied.slot.seen_from(jaw);
        }
        plan
    }
}

/// Numbers that are no dimensions of parts have tolerances of their own only.
fn stated(tool: &Tool) -> Vec<Varied> {
    let named = |rule: &&ToleranceRule| rule.value > 0.0;
    let rules: Vec<&ToleranceRule> = tool.tolerances.rules.iter().filter(named).collect();
    let all = if rules.is_empty() {
        Vec::new()
    } else {
        others(tool)
    };
    let varied = all.into_iter().filter_map(|dimension| {
        let rule = rules
            .iter()
            .find(|rule| rule.dimension == dimension.address)?;
        Some(Varied {
            address: dimension.address,
            slot: dimension.slot,
            nominal: dimension.value,
            tolerance: rule.value,
            origin: Origin::Own,
        })
    });
    varied.collect()
}

impl Varied {
    /// The value with a deviation; where a spread takes it beyond what can be, the nearest that can.
    #[must_use]
    pub fn made(&self, deviation: f64) -> f64 {
        let value = self.nominal + deviation;
        match self.slot {
            DimensionSlot::Stated(number) => number.values().nearest(value),
            _ => value,
        }
    }

    /// A small deviation, for differences: `step` (mm) of a dimension of a part, of other numbers a
    /// hundredth of the tolerance, whatever their unit.
    #[must_use]
    pub fn step(&self, step: f64) -> f64 {
        match self.slot {
            DimensionSlot::Stated(_) => 0.01 * self.tolerance,
            _ => step,
        }
    }
}

enum ByClass {
    Value(f64, Origin),
    /// The point is its part's datum.
    Datum,
    None,
}

fn by_class(tool: &Tool, slot: DimensionSlot, value: f64, class: ToleranceClass) -> ByClass {
    if let DimensionSlot::X(at) | DimensionSlot::Y(at) = slot {
        let part = tool.part(at.part);
        let point = part.and_then(|part| part.points.get(at.point));
        let at_datum = point.is_some_and(|point| point.at == [0.0, 0.0]);
        if at_datum && part.is_some_and(|part| part.shape != Shape::Length) {
            return ByClass::Datum;
        }
        if value.abs() < super::SMALLEST {
            return ByClass::Value(smallest_step(class), Origin::SmallestStep);
        }
    }
    general_tolerance(class, value).map_or(ByClass::None, |t| ByClass::Value(t, Origin::Class))
}
