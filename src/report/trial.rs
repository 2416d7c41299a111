//! A trial on the bench laid on the prediction: the answer of `trial`.

use super::show::{Source, direction_word};
use super::stroke::UnitNames;
use crate::model::{JointId, Tool, TrialPoint};
use crate::trial::{Bench, Fit, Fitted, Held, Line, PerJoint};
use crate::units::{Quantity, UnitSystem};
use serde::Serialize;

/// A trial.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrialReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// The file of the readings.
    pub data: String,
    /// Units of lengths, forces and angles.
    pub units: UnitNames,
    /// The readings, in their order.
    pub readings: Vec<Reading>,
    /// How many lie within the band; null without tolerances.
    pub inside: Option<usize>,
    /// Coefficient of friction of the pins that fits best.
    pub friction: FittedReport,
    /// That of the file, where all pins that rub have one.
    pub file_friction: Option<f64>,
    /// What the tool gives, length per force.
    pub compliance: FittedReport,
    /// What the tool gives by calculation; null where it is not known.
    pub file_compliance: Option<f64>,
    /// What the measure of the gap shows at a gap of nothing.
    pub zero: FittedReport,
    /// Why compliance and zero were held at what is calculated: `"one way"`, readings of one direction, or
    /// `"flat"`, a force that hardly changes over the gap; null where they were fitted.
    pub held: Option<&'static str>,
    /// Standard deviation of the readings about the fit, per cent of themselves.
    pub scatter: f64,
    /// Sum of squares of the deviations over the error that readings were said to have.
    pub chi_square: f64,
    /// Readings less unknowns.
    pub free: usize,
    /// The error that readings were said to have, per cent.
    pub reading_error: f64,
    /// Readings beyond an end of the stroke, taken at that end.
    pub beyond: usize,
    /// A coefficient for each pin; null where only one rubs, or the readings do not settle them.
    pub pins: Option<Vec<PinFriction>>,
    /// The readings tell the pins apart; null as above.
    pub pins_differ: Option<bool>,
    /// Predicted curves, for the chart: one for each grip, direction and hand force.
    pub curves: Vec<TrialCurve>,
}

/// One reading.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reading {
    /// Gap as it was measured.
    pub gap: f64,
    /// Distance along the hand line.
    pub grip: f64,
    /// `"closing"` or `"opening"`.
    pub direction: &'static str,
    /// Force of the hand.
    pub hand_force: f64,
    /// Force that was measured.
    pub measured: f64,
    /// Force that the file predicts at that gap, with its own friction and the calculated give; null where none.
    pub predicted: Option<f64>,
    /// Least and greatest force that tools within the tolerances have there; null without tolerances.
    pub band: Option<[f64; 2]>,
    /// The reading lies within it, its own error allowed for.
    pub inside: Option<bool>,
    /// Force of the fit.
    pub fitted: f64,
    /// Measured over fitted, less one, per cent.
    pub off: f64,
}

/// A value with its standard error.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FittedReport {
    /// The value.
    pub value: f64,
    /// Its standard error; null for what was held.
    pub error: Option<f64>,
}

/// Friction of a pin.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PinFriction {
    /// Its label.
    pub pin: String,
    /// Its coefficient.
    pub friction: FittedReport,
}

/// A predicted curve.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrialCurve {
    /// Distance along the hand line.
    pub grip: f64,
    /// `"closing"` or `"opening"`.
    pub direction: &'static str,
    /// Force of the hand.
    pub hand_force: f64,
    /// Gap and jaw force as the file predicts them.
    pub predicted: Vec<[f64; 2]>,
    /// As they fit best.
    pub fitted: Vec<[f64; 2]>,
    /// The readings that belong to it, gap and force.
    pub readings: Vec<[f64; 2]>,
    /// Gaps of the readings, rising, with the least and greatest force that tools within the tolerances have there;
    /// empty without tolerances.
    pub band: Vec<[f64; 3]>,
}

/// Curves of a grip, a direction and a hand force: gap in mm and jaw force in N.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidCurve {
    /// As the file predicts them.
    pub predicted: Vec<[f64; 2]>,
    /// As they fit best.
    pub fitted: Vec<[f64; 2]>,
    /// The readings that belong to them, by their places.
    pub readings: Vec<usize>,
}

/// What goes into the report besides the fit.
#[derive(Debug, Clone)]
pub struct Laid {
    /// Force that the file predicts at every reading, N.
    pub predicted: Vec<Option<f64>>,
    /// Worst case within the tolerances at every reading, over the force; `None` without tolerances.
    pub band: Option<Vec<f64>>,
    /// A coefficient for each pin, where the readings settle them.
    pub pins: Option<PerJoint>,
    /// The give that is calculated, mm/N.
    pub compliance: Option<f64>,
    /// Error of a reading, over itself.
    pub error: f64,
    /// Curves of each grip, direction and hand force.
    pub curves: Vec<LaidCurve>,
    /// How many readings stand beyond an end of the stroke.
    pub beyond: usize,
}

/// The report of a trial. `tool` is that of the file; `data`: name of the file of readings.
#[must_use]
pub fn trial_report(
    tool: &Tool,
    (bench, fit, laid): (&Bench, &Fit, &Laid),
    (source, data): (&Source, &str),
    units: UnitSystem,
) -> TrialReport {
    let length = |mm: f64| units.show(mm, Quantity::Length);
    let force = |newtons: f64| units.show(newtons, Quantity::Force);
    let give = |v: f64| v * units.show(1.0, Quantity::Length) / units.show(1.0, Quantity::Force);
    let shown = |of: Fitted, show: &dyn Fn(f64) -> f64| FittedReport {
        value: show(of.value),
        error: of.error.map(show),
    };
    let usual = tool.hand.grips.first().copied().unwrap_or(0.0);
    let reading = |(k, point): (usize, &TrialPoint)| {
        let predicted = laid.predicted.get(k).copied().flatten();
        let relative = laid.band.as_ref().and_then(|band| band.get(k)).copied();
        let band = predicted
            .zip(relative)
            .map(|(force, by)| [force * (1.0 - by), force * (1.0 + by)]);
        let fitted = fit.forces.get(k).copied().unwrap_or(f64::NAN);
        Reading {
            gap: length(point.gap),
            grip: length(point.grip.unwrap_or(usual)),
            direction: direction_word(point.direction),
            hand_force: force(point.hand_force),
            measured: force(point.jaw_force),
            predicted: predicted.map(force),
            inside: band.map(|[low, high]| {
                let own = laid.error * point.jaw_force;
                (low - own..=high + own).contains(&point.jaw_force)
            }),
            band: band.map(|both| both.map(force)),
            fitted: force(fitted),
            off: 100.0 * (point.jaw_force / fitted - 1.0),
        }
    };
    let readings: Vec<Reading> = bench.points().iter().enumerate().map(reading).collect();
    let judged: Option<Vec<bool>> = readings.iter().map(|r| r.inside).collect();
    let mut own = bench
        .joints
        .iter()
        .filter_map(|joint| tool.joint_data.get(joint.index()));
    let first = own.next().map(|data| data.friction);
    let same = own.all(|data| Some(data.friction) == first);
    let pairs = |curve: &[[f64; 2]]| curve.iter().map(|[g, f]| [length(*g), force(*f)]).collect();
    TrialReport {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        data: data.to_owned(),
        units: UnitNames::of(units),
        inside: judged.map(|all| all.iter().filter(|inside| **inside).count()),
        friction: shown(fit.friction, &|v| v),
        file_friction: first.filter(|_| same),
        compliance: shown(fit.compliance, &give),
        file_compliance: laid.compliance.map(give),
        zero: shown(fit.zero, &length),
        held: fit.held.map(|why| match why {
            Held::OneWay => "one way",
            Held::Flat => "flat",
        }),
        scatter: 100.0 * fit.scatter,
        chi_square: fit.squares / (laid.error * laid.error),
        free: fit.free,
        reading_error: 100.0 * laid.error,
        beyond: laid.beyond,
        pins: laid.pins.as_ref().map(|all| {
            let pin = |(joint, friction): &(JointId, Fitted)| PinFriction {
                pin: tool.joint_label(*joint),
                friction: shown(*friction, &|v| v),
            };
            all.joints.iter().map(pin).collect()
        }),
        pins_differ: laid.pins.as_ref().map(PerJoint::differ),
        curves: (laid.curves.iter())
            .filter_map(|curve| {
                let first = readings.get(*curve.readings.first()?)?;
                let own = || curve.readings.iter().filter_map(|k| readings.get(*k));
                let edges = own().filter_map(|r| r.band.map(|[low, high]| [r.gap, low, high]));
                let mut band: Vec<[f64; 3]> = edges.collect();
                band.sort_by(|a, b| a[0].total_cmp(&b[0]));
                Some(TrialCurve {
                    grip: first.grip,
                    direction: first.direction,
                    hand_force: first.hand_force,
                    predicted: pairs(&curve.predicted),
                    fitted: pairs(&curve.fitted),
                    readings: own().map(|r| [r.gap, r.measured]).collect(),
                    band,
                })
            })
            .collect(),
        readings,
    }
}

/// What to measure: the answer of `trial --sheet`.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrialSheet {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// Units of lengths, forces and angles.
    pub units: UnitNames,
    /// What to measure, line by line.
    pub rows: Vec<TrialRow>,
}

/// A line of the sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrialRow {
    /// Which run, from 1.
    pub run: usize,
    /// Gap under load.
    pub gap: f64,
    /// Force of the hand.
    pub hand_force: f64,
    /// `"closing"` or `"opening"`.
    pub direction: &'static str,
    /// Distance along the hand line.
    pub grip: f64,
    /// Jaw force that the file predicts; null where none.
    pub predicted: Option<f64>,
}

/// The sheet of a trial, in the file's own units, which its numbers will be read in.
#[must_use]
pub fn trial_sheet(tool: &Tool, lines: &[Line], source: &Source) -> TrialSheet {
    let units = tool.units;
    let row = |line: &Line| TrialRow {
        run: line.run,
        gap: units.show(line.point.gap, Quantity::Length),
        hand_force: units.show(line.point.hand_force, Quantity::Force),
        direction: direction_word(line.point.direction),
        grip: units.show(line.point.grip.unwrap_or(0.0), Quantity::Length),
        predicted: Some(line.point.jaw_force)
            .filter(|force| *force > 0.0)
            .map(|force| units.show(force, Quantity::Force)),
    };
    TrialSheet {
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        units: UnitNames::of(units),
        rows: lines.iter().map(row).collect(),
    }
}
