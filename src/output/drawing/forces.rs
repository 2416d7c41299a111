//! Forces as arrows: of the hand and the work on the tool, or all on one part, with their couples.

use super::ink::{V, across, dot, length, minus, plus, times, unit};
use super::labels::Label;
use super::outline::arc_points;
use super::tool::{LABEL, Plate, WHITE, all_points, centre, name, pen};
use crate::output::sentences::loads::{force_label, force_name};
use crate::output::svg::pen::{GREY, INK};
use crate::output::text::{figures, true_minus};
use crate::report::{DrawingReport, DrawnForce, DrawnKind, DrawnPosition, UnitNames};
use crate::units::MM_PER_IN;
use std::f64::consts::TAU;

const HEAD: f64 = 4.0;
/// The arrow of a couple begins and ends at this angle from its force, rad.
const OPEN: f64 = 0.9;

/// Lengths on paper of the longest arrow and of the shortest one drawn, mm: round figures on the reader's own rule.
pub(super) fn lengths(units: &UnitNames) -> [f64; 2] {
    match units.length {
        "in" => [1.0, 0.4].map(|v| v * MM_PER_IN),
        _ => [25.0, 10.0],
    }
}

/// Whether a force's arrow would be too short to be seen, and so is drawn longer than its size asks for.
pub(super) fn out_of_scale(force: &DrawnForce, most: f64, units: &UnitNames) -> bool {
    way(force).is_some() && arrow_length(force, most, units).1
}

/// The greatest force of a drawing, in the report's units.
pub(super) fn greatest(report: &DrawingReport) -> f64 {
    let forces = report.positions.iter().flat_map(|p| &p.forces);
    forces.filter_map(|f| f.size).fold(0.0, f64::max)
}

/// Colour and dash of each kind: told apart without colour too.
pub(super) fn look(kind: DrawnKind) -> (&'static str, &'static str) {
    match kind {
        DrawnKind::Hand => ("#0072b2", ""),
        DrawnKind::Work => ("#c44f00", "3 1.2"),
        DrawnKind::Pin => ("#007a59", "1.2 1.1"),
        DrawnKind::Slot => ("#a8487c", "5 1.2 1 1.2"),
        DrawnKind::Spring => (INK, "2 1"),
        DrawnKind::Bench => (GREY, "4 1.5"),
    }
}

/// An arrow on paper.
struct Arrow {
    from: V,
    to: V,
    /// The end that is not at the point where the force acts.
    free: V,
    /// Longer than its force is to scale.
    broken: bool,
}

impl Plate {
    /// The forces of hand and work on the tool, `most` being the greatest of the drawing.
    pub(super) fn outside_forces(
        &mut self,
        position: &DrawnPosition,
        most: f64,
        units: &UnitNames,
    ) {
        for force in &position.forces {
            let Some(way) = way(force) else { continue };
            let long = self.arrow_length(force, most, units);
            let mut at = self.at(force.at);
            let arrow = if force.kind == DrawnKind::Work {
                // The reaction of the work acts on the same line; it is drawn from its own jaw point.
                let near = |p: V| length(minus(p, force.at));
                let jaw = (position.jaws.iter()).min_by(|a, b| near(a.on).total_cmp(&near(b.on)));
                if let Some(jaw) = jaw {
                    let off = dot(minus(self.at(jaw.against), at), way);
                    at = plus(at, times(off.max(0.0), way));
                }
                leaving(at, way, long)
            } else {
                arriving(at, way, long)
            };
            self.arrow(force, &arrow, units.force);
        }
    }

    /// All forces on a part, and the arms of their moments.
    pub(super) fn free_body(
        &mut self,
        position: &DrawnPosition,
        part: &str,
        most: f64,
        report: &DrawingReport,
    ) {
        let points: Vec<V> = (position.parts.iter())
            .filter(|p| p.name == part)
            .flat_map(all_points)
            .collect();
        let middle = self.at(centre(&points));
        for (k, force) in position.forces.iter().enumerate() {
            let at = self.at(force.at);
            let mut out = None;
            match way(force) {
                Some(way) => {
                    let long = self.arrow_length(force, most, &report.units);
                    let (a, b) = (leaving(at, way, long), arriving(at, way, long));
                    let far = |arrow: &Arrow| length(minus(arrow.free, middle));
                    let arrow = if far(&a) >= far(&b) { a } else { b };
                    out = Some(minus(arrow.free, at));
                    self.components(&arrow);
                    self.arrow(force, &arrow, report.units.force);
                }
                None if force.force.is_none() => {
                    let text = format!(
                        "{}: statics alone cannot tell",
                        name(&force_name(&force.what))
                    );
                    self.label(text, at, 3.0, Some(minus(at, middle)));
                }
                None => {}
            }
            let here = |f: &&DrawnForce| length(minus(self.at(f.at), at)) < 0.1 && turns(f);
            let before = position.forces.iter().take(k).filter(here).count();
            let pin = position
                .pins
                .iter()
                .find(|p| length(minus(p.at, force.at)) < 1e-6);
            let rim = 0.5 * self.scale * pin.and_then(|p| p.diameter).unwrap_or(0.0);
            let radius = (1.6 * rim).max(5.0) + 2.5 * before as f64;
            self.couple(force, (radius, out), report.moment_unit, middle);
        }
        self.arms(position);
    }

    fn arrow(&mut self, force: &DrawnForce, arrow: &Arrow, unit_name: &str) {
        let (colour, dash) = look(force.kind);
        let way = unit(minus(arrow.to, arrow.from));
        // As long as ever on a short arrow it would leave no shaft.
        let head = HEAD * self.close.sqrt();
        let neck = minus(arrow.to, times(0.8 * head, way));
        self.ink
            .line(&[arrow.from, neck], pen(colour, 0.7, dash), 2.0);
        self.head(arrow.to, way, head, 0.3125 * head, colour);
        if arrow.broken {
            self.break_mark(times(0.5, plus(arrow.from, neck)), way, colour);
        }
        let size = force.size.map_or_else(String::new, figures);
        let held = if arrow.free == arrow.to {
            arrow.from
        } else {
            arrow.to
        };
        self.labels.push(Label {
            text: force_label(&name(&force.what), &format!("{size} {unit_name}")),
            at: arrow.free,
            clear: 1.0,
            size: LABEL,
            bold: true,
            italic: false,
            first: false,
            balloon: false,
            colour,
            towards: Some(minus(arrow.free, held)),
            spots: Vec::new(),
            rivals: Vec::new(),
        });
    }

    /// How long an arrow is on this paper, and whether that is more than to scale.
    fn arrow_length(&self, force: &DrawnForce, most: f64, units: &UnitNames) -> (f64, bool) {
        let (long, broken) = arrow_length(force, most, units);
        (self.close * long, broken)
    }

    /// Two short strokes across a shaft: its length is not to scale.
    pub(super) fn break_mark(&mut self, at: V, way: V, colour: &'static str) {
        let half = times(0.5, way);
        let gap = pen(WHITE, 1.0, "");
        self.ink.line(&[minus(at, half), plus(at, half)], gap, 0.0);
        let slant = times(1.5, unit(plus(across(way), half)));
        for middle in [minus(at, half), plus(at, half)] {
            let stroke = [minus(middle, slant), plus(middle, slant)];
            self.ink.line(&stroke, pen(colour, 0.35, ""), 1.0);
        }
    }

    /// Components of a force: to the side, then up or down.
    fn components(&mut self, arrow: &Arrow) {
        let corner = [arrow.to[0], arrow.from[1]];
        let legs = [minus(corner, arrow.from), minus(arrow.to, corner)];
        if legs.iter().all(|&d| length(d) > 1.0) {
            let leg = pen(GREY, 0.18, "1.2 0.8");
            self.ink.line(&[arrow.from, corner, arrow.to], leg, 0.5);
        }
    }

    /// A moment that comes with a force: a round arrow of a radius, the way it turns, that keeps off the force's own,
    /// which stands `out` of the point.
    fn couple(
        &mut self,
        force: &DrawnForce,
        (radius, out): (f64, Option<V>),
        unit_name: &str,
        middle: V,
    ) {
        let Some(couple) = force.couple.filter(|_| turns(force)) else {
            return;
        };
        let at = self.at(force.at);
        let [x, y] = out.unwrap_or([-1.0, 0.0]);
        let start = y.atan2(x);
        // Counter-clockwise is falling angle where y is down.
        let (from, to) = if couple > 0.0 {
            (start + TAU - OPEN, start + OPEN)
        } else {
            (start + OPEN, start + TAU - OPEN)
        };
        let points = arc_points(at, radius, from, to);
        let (colour, _) = look(force.kind);
        self.ink.line(&points, pen(colour, 0.35, ""), 1.0);
        self.ink.reach(at, radius + 1.5);
        if let [.., before, tip] = points.as_slice() {
            let (tip, way) = (*tip, unit(minus(*tip, *before)));
            self.head(tip, way, 2.6, 0.8, colour);
        }
        let size = true_minus(&figures(couple));
        self.labels.push(Label {
            text: format!("{} {size} {}", couple_name(force), product(unit_name)),
            at,
            clear: radius + 1.0,
            size: LABEL,
            bold: false,
            italic: false,
            first: false,
            balloon: false,
            colour,
            towards: Some(minus(at, middle)),
            spots: Vec::new(),
            rivals: Vec::new(),
        });
    }
}

/// A unit of moments with a dot between its two: N·mm.
pub(super) fn product(unit_name: &str) -> String {
    unit_name.replace(' ', "\u{b7}")
}

/// The moment that comes with a force, told from the force by its name.
fn couple_name(force: &DrawnForce) -> String {
    match (force.kind, force.what.strip_prefix("pin ")) {
        (DrawnKind::Pin, Some(pin)) => format!("friction at {}:", name(pin)),
        _ => format!("moment of {}:", name(&force_name(&force.what))),
    }
}

/// Whether a moment comes with a force.
fn turns(force: &DrawnForce) -> bool {
    force.couple.is_some_and(|c| c.abs() > 1e-9)
}

/// Direction of a force on paper; `None` for one that is zero or cannot be told.
pub(super) fn way(force: &DrawnForce) -> Option<V> {
    let [x, y] = force.force?;
    (x.hypot(y) > 1e-9).then(|| unit([x, -y]))
}

/// How long an arrow is on paper, and whether that is more than to scale.
fn arrow_length(force: &DrawnForce, most: f64, units: &UnitNames) -> (f64, bool) {
    let [longest, shortest] = lengths(units);
    let share = if most > 0.0 {
        force.size.unwrap_or(0.0) / most
    } else {
        0.0
    };
    let long = longest * share;
    (long.max(shortest), long < shortest)
}

fn leaving(at: V, way: V, (long, broken): (f64, bool)) -> Arrow {
    let to = plus(at, times(long, way));
    Arrow {
        from: at,
        to,
        free: to,
        broken,
    }
}

fn arriving(at: V, way: V, (long, broken): (f64, bool)) -> Arrow {
    let from = minus(at, times(long, way));
    Arrow {
        from,
        to: at,
        free: from,
        broken,
    }
}
