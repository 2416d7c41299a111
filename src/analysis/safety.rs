//! The least strength factor where a tool stands, the load at the jaw that it faces: for the many made
//! tools of one drawing.

use super::failure::Failure;
use super::strength::strength;
use crate::geometry::Vec2;
use crate::measure::Reading;
use crate::model::{GripId, JawId, Tool};
use crate::statics::{Absent, Rig, Stand};
use crate::strength::{Case, Checks, Factor, MadePlates, Redrawn, Strained, Strength, heaviest};

/// Pins, parts and places whose factor is more than so many times the least of the drawn tool are not looked
/// at on made tools: no tolerance brings them down to it.
pub(crate) const FAR: f64 = 4.0;

/// What the strength factors of made tools are read by.
#[derive(Debug, Clone)]
pub(crate) struct Safeties<'a> {
    /// As drawn.
    tool: &'a Tool,
    /// What of made tools is not where it is drawn.
    redrawn: Redrawn,
    /// Every factor of the drawn tool over the stroke, at each grip that was asked for.
    found: Vec<(GripId, Strength)>,
    weakest: Vec<Weakest<'a>>,
}

/// The checks that may give the least factor of a made tool.
#[derive(Debug, Clone)]
struct Weakest<'a> {
    /// Of this part or pin; `None`: of everything.
    name: Option<String>,
    /// What is weak on the drawn tool.
    factors: Vec<Factor>,
    /// The greatest stresses in its plates.
    strained: Vec<Strained>,
    checks: Checks<'a>,
}

/// The least factor of the drawn tool over the stroke, and at each grip where its weak checks have their
/// worst: pace and gap, mm.
pub(crate) type Drawn = (f64, Vec<Vec<(f64, f64)>>);

impl<'a> Safeties<'a> {
    /// Of a tool as drawn; nothing is asked for yet.
    pub(crate) fn new(tool: &'a Tool, redrawn: Redrawn) -> Self {
        Self {
            tool,
            redrawn,
            found: Vec::new(),
            weakest: Vec::new(),
        }
    }

    /// How many parts are cut anew for each made tool.
    pub(crate) fn cut_anew(&self) -> usize {
        self.redrawn.outlines.len()
    }

    /// Asks for the least factor of a part or pin, or of everything, at these grips: that of the drawn tool,
    /// which the rig is; `None` where nothing has one.
    ///
    /// # Errors
    /// [`Failure`].
    pub(crate) fn ask(
        &mut self,
        rig: &mut Rig,
        name: Option<&str>,
        grips: &[GripId],
    ) -> Result<Option<Drawn>, Failure> {
        let (mut factors, mut strained, mut places) = (Vec::new(), Vec::new(), Vec::new());
        for &grip in grips {
            let found = self.at_grip(rig, grip)?;
            let own = || found.of(name);
            let most = own().next().map_or(0.0, |least| FAR * least.factor);
            let weak = || own().filter(|own| own.factor <= most);
            let worst = weak().filter_map(|factor| found.position(factor));
            places.push(worst.map(|at| (at.pace, at.gap)).collect());
            factors.extend(weak().cloned());
            greatest(&mut strained, &found.strained);
        }
        let least = factors.iter().map(|factor| factor.factor);
        let Some(least) = least.reduce(f64::min) else {
            return Ok(None);
        };
        let known = self.weakest.iter().position(|own| own.is_of(name));
        if let Some(known) = known {
            let mut known = self.weakest.swap_remove(known);
            factors.append(&mut known.factors);
            greatest(&mut strained, &known.strained);
        }
        let all = factors.iter().map(|factor| factor.factor);
        let weakest = all.reduce(f64::min).unwrap_or(least);
        self.weakest.push(Weakest {
            name: name.map(str::to_owned),
            checks: Checks::only(self.tool, &factors, &strained, FAR * weakest),
            factors,
            strained,
        });
        Ok(Some((least, places)))
    }

    /// The factors of the drawn tool at a grip.
    fn at_grip(&mut self, rig: &mut Rig, grip: GripId) -> Result<&Strength, Failure> {
        let known = self.found.iter().position(|(known, _)| *known == grip);
        let place = known.unwrap_or(self.found.len());
        if known.is_none() {
            let found = strength(&mut [(JawId::FIRST, rig)], &[grip])?;
            self.found.push((grip, found));
        }
        Ok(&self.found[place].1)
    }

    /// The least factor where a tool of these parts stands, of what was asked for, the hand at a grip
    /// (index); `made`: its plates, as far as they were cut anew.
    ///
    /// # Errors
    /// [`Absent`]: there are no forces, or nothing is loaded.
    pub(crate) fn at(
        &self,
        stand: &mut Stand,
        name: Option<&str>,
        grip: GripId,
        made: &mut MadePlates,
    ) -> Reading {
        let own = self.weakest.iter().find(|own| own.is_of(name));
        let own = own.ok_or(Absent::NoFactor)?;
        let (load, hand_force) = heaviest(stand, grip).ok_or(Absent::NoForce)?;
        let (sheet, _) = stand.sheet(grip, hand_force).ok_or(Absent::NoForce)?;
        let checks = own.checks.remade(stand.tool(), &self.redrawn, made);
        let mut checks = checks.ok_or(Absent::NoFactor)?;
        checks.add(&Case {
            position: 0,
            jaw: JawId::FIRST,
            grip,
            hand_force,
            load,
            sheet: &sheet,
        });
        checks.least().ok_or(Absent::NoFactor)
    }
}

/// Adds what was found at another grip: the greater stress at each section, and the places.
fn greatest(known: &mut Vec<Strained>, found: &[Strained]) {
    for seen in found {
        let Some(own) = known.iter_mut().find(|own| own.part == seen.part) else {
            known.push(seen.clone());
            continue;
        };
        for (own, stress) in own.stresses.iter_mut().zip(&seen.stresses) {
            *own = if stress > own || stress.is_nan() {
                *stress
            } else {
                *own
            };
        }
        let new = seen.places.iter().filter(|at| !own.places.contains(at));
        let new: Vec<Vec2> = new.copied().collect();
        own.places.extend(new);
    }
}

impl Weakest<'_> {
    fn is_of(&self, name: Option<&str>) -> bool {
        self.name.as_deref() == name
    }
}
