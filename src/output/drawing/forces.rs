//! Forces as arrows: of the hand and the work on the tool, or all on one part, with moment arms.

use super::ink::{V, across, dot, length, minus, plus, times, unit};
use super::labels::Label;
use super::outline::arc_points;
use super::tool::{CENTRE, LABEL, Plate, all_points, centre, name, pen};
use crate::output::sentences::loads::{force_label, force_name};
use crate::output::svg::pen::{GREY, INK};
use crate::output::text::figures;
use crate::report::{DrawingReport, DrawnForce, DrawnKind, DrawnPosition};

/// Length of the longest arrow, mm of paper.
pub(super) const LONGEST: f64 = 25.0;
/// No arrow is drawn shorter than this, mm of paper.
pub(super) const SHORTEST: f64 = 10.0;
const HEAD: f64 = 4.0;

/// The greatest force of a drawing, in the report's units.
pub(in crate::output) fn greatest(report: &DrawingReport) -> f64 {
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
}

impl Plate {
    /// The forces of hand and work on the tool, `most` being the greatest of the drawing.
    pub(super) fn outside_forces(&mut self, position: &DrawnPosition, most: f64, unit_name: &str) {
        for force in &position.forces {
            let Some(way) = way(force) else { continue };
            let long = arrow_length(force, most);
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
            self.arrow(force, &arrow, unit_name);
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
            match way(force) {
                Some(way) => {
                    let long = arrow_length(force, most);
                    let (a, b) = (leaving(at, way, long), arriving(at, way, long));
                    let far = |arrow: &Arrow| length(minus(arrow.free, middle));
                    let arrow = if far(&a) >= far(&b) { a } else { b };
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
            self.couple(force, radius, report.moment_unit, middle);
        }
        self.arms(position);
    }

    fn arrow(&mut self, force: &DrawnForce, arrow: &Arrow, unit_name: &str) {
        let (colour, dash) = look(force.kind);
        let way = unit(minus(arrow.to, arrow.from));
        let neck = minus(arrow.to, times(0.8 * HEAD, way));
        self.ink
            .line(&[arrow.from, neck], pen(colour, 0.7, dash), 2.0);
        self.head(arrow.to, way, HEAD, 1.25, colour);
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
            colour,
            towards: Some(minus(arrow.free, held)),
            spots: Vec::new(),
        });
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

    /// A moment that comes with a force: a round arrow, the way it turns.
    fn couple(&mut self, force: &DrawnForce, radius: f64, unit_name: &str, middle: V) {
        let Some(couple) = force.couple.filter(|_| turns(force)) else {
            return;
        };
        let at = self.at(force.at);
        // Counter-clockwise is falling angle where y is down.
        let (from, to) = if couple > 0.0 {
            (2.2, -2.2)
        } else {
            (0.9, 5.3)
        };
        let points = arc_points(at, radius, from, to);
        let (colour, _) = look(force.kind);
        self.ink.line(&points, pen(colour, 0.35, ""), 1.0);
        self.ink.reach(at, radius + 1.5);
        if let [.., before, tip] = points.as_slice() {
            let (tip, way) = (*tip, unit(minus(*tip, *before)));
            self.head(tip, way, 2.6, 0.8, colour);
        }
        self.labels.push(Label {
            text: format!("{} {} {unit_name}", couple_name(force), figures(couple)),
            at,
            clear: radius + 1.0,
            size: LABEL,
            bold: false,
            italic: false,
            first: false,
            colour,
            towards: Some(minus(at, middle)),
            spots: Vec::new(),
        });
    }

    /// The arm of every force about the sheet's place: the shortest way to its line of action.
    fn arms(&mut self, position: &DrawnPosition) {
        let (Some(sheet), Some(about)) = (&position.sheet, position.about) else {
            return;
        };
        let about = self.at(about);
        for (force, line) in position.forces.iter().zip(&sheet.forces) {
            let (Some(way), Some(size), Some(moment), Some(couple)) =
                (way(force), force.size, line.moment, line.couple)
            else {
                continue;
            };
            let at = self.at(force.at);
            let normal = across(way);
            let foot = plus(about, times(dot(minus(at, about), normal), normal));
            if length(minus(foot, about)) < 2.0 || !(size > 0.0) {
                continue;
            }
            // The line of action as far as the foot.
            let past = times(2.0, unit(minus(foot, at)));
            self.ink
                .line(&[at, plus(foot, past)], pen(GREY, 0.18, CENTRE.dash), 0.4);
            self.dimension(about, foot);
            let arm = ((moment - couple) / size).abs();
            let text = format!("arm {}", figures(arm));
            let middle = times(0.5, plus(about, foot));
            self.label(text, middle, 1.0, Some(way));
        }
    }
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
fn way(force: &DrawnForce) -> Option<V> {
    let [x, y] = force.force?;
    (x.hypot(y) > 1e-9).then(|| unit([x, -y]))
}

fn arrow_length(force: &DrawnForce, most: f64) -> f64 {
    let share = if most > 0.0 {
        force.size.unwrap_or(0.0) / most
    } else {
        0.0
    };
    (LONGEST * share).max(SHORTEST)
}

fn leaving(at: V, way: V, long: f64) -> Arrow {
    let to = plus(at, times(long, way));
    Arrow {
        from: at,
        to,
        free: to,
    }
}

fn arriving(at: V, way: V, long: f64) -> Arrow {
    let from = minus(at, times(long, way));
    Arrow {
        from,
        to: at,
        free: from,
    }
}
