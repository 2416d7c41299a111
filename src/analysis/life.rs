//! How long a tool lasts: every place that its load strains, over the closed cycle of closing and opening.

use super::Analysis;
use super::failure::Failure;
use crate::geometry::Vec2;
use crate::model::{Direction, GripId, JawId, Tool};
use crate::statics::{ForceKind, Sheet};
use crate::strength::{
    Case, Checks, Factor, Lasting, LoadCase, NotLasting, Subject, heaviest, lasting, loading,
};

/// Positions of either stroke at which a load is looked for that acts the other way.
const POSITIONS: usize = 120;
/// Jaw force over the tool's hand force that stands for an empty jaw: at none at all it is for rounding to say whether the
/// hand holds the springs or they hold the hand.
const ALMOST_NOTHING: f64 = 1e-6;

/// How the places of a tool last.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LifeSeen {
    /// Every place, the one that breaks first at the head.
    pub places: Vec<Lasting>,
    /// Why others are not checked, each once.
    pub missing: Vec<NotLasting>,
}

impl Analysis {
    /// How long the tool lasts; `None` where the file does not ask.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn life(&self) -> Result<Option<LifeSeen>, Failure> {
        let Some(life) = self.tool().life else {
            return Ok(None);
        };
        let factors = &self.strength(Direction::Closing)?.factors;
        let strained: Vec<&Factor> = factors.iter().filter(|f| loading(f).is_some()).collect();
        let mut cases: Vec<(JawId, GripId)> = Vec::new();
        for factor in &strained {
            if !cases.contains(&(factor.jaw, factor.grip)) {
                cases.push((factor.jaw, factor.grip));
            }
        }
        let mut seen = LifeSeen::default();
        for (jaw, grip) in cases {
            let own = strained.iter().filter(|f| (f.jaw, f.grip) == (jaw, grip));
            let own: Vec<&Factor> = own.copied().collect();
            let reversed = self.reversed(jaw, grip, &own)?;
            for (factor, reversed) in own.into_iter().zip(reversed) {
                match lasting(self.tool(), &life, factor, reversed) {
                    Some(Ok(place)) => seen.places.push(place),
                    Some(Err(why)) if !seen.missing.contains(&why) => seen.missing.push(why),
                    _ => {}
                }
            }
        }
        seen.places.sort_by(|a, b| a.margin.total_cmp(&b.margin));
        Ok(Some(seen))
    }

    /// For each factor, its greatest value (MPa) where the load on its pin or part acts against that at its worst.
    fn reversed(&self, jaw: JawId, grip: GripId, factors: &[&Factor]) -> Result<Vec<f64>, Failure> {
        let strength = self.strength(Direction::Closing)?;
        let faced = self.facing(jaw);
        let mut closing = faced.rig(Direction::Closing)?;
        let mut worst = Vec::new();
        for factor in factors {
            let sheet = match strength.position(factor) {
                Some(position) => {
                    closing.go_to(position.pace)?;
                    closing
                        .sheet(grip, factor.hand_force)
                        .map(|(sheet, _)| sheet)
                }
                None => None,
            };
            worst.push(
                sheet.map_or_else(Vec::new, |sheet| loads(self.tool(), &sheet, factor.subject)),
            );
        }
        let mut found = Found {
            tool: self.tool(),
            fresh: Checks::new(self.tool()),
            factors,
            worst,
            reversed: vec![0.0; factors.len()],
            jaw,
            grip,
        };
        let nearly_none = ALMOST_NOTHING * self.tool().hand.force;
        for rig in [&mut closing, &mut faced.rig(Direction::Opening)?] {
            let whole = rig.pace();
            for k in 0..=POSITIONS {
                rig.go_to(whole * k as f64 / POSITIONS as f64)?;
                if rig.forces().toggle.first() == Some(&true) {
                    continue;
                }
                let mut here = rig.here();
                if here.direction() == Direction::Closing
                    && let Some((_, hand)) = heaviest(&mut here, grip)
                    && let Some((sheet, _)) = here.sheet(grip, hand)
                {
                    found.look(&sheet, hand);
                }
                // The work pushes, or it is not there, and the hand moves or holds the springs alone.
                let work = here.work().filter(|work| *work > 0.0);
                for force in work.into_iter().chain([nearly_none]) {
                    if let Some((sheet, hand)) = here.sheet_under(grip, force) {
                        found.look(&sheet, hand);
                    }
                }
            }
        }
        Ok(found.reversed)
    }
}

struct Found<'a> {
    tool: &'a Tool,
    fresh: Checks<'a>,
    factors: &'a [&'a Factor],
    /// What acts at the worst of each.
    worst: Vec<Vec<(ForceKind, Vec2)>>,
    reversed: Vec<f64>,
    jaw: JawId,
    grip: GripId,
}

impl Found<'_> {
    /// Looks at what the parts carry under a hand force (N).
    fn look(&mut self, sheet: &Sheet, hand_force: f64) {
        let against: Vec<usize> = (0..self.factors.len())
            .filter(|&k| self.acts_against(k, sheet))
            .collect();
        if against.is_empty() {
            return;
        }
        let mut checks = self.fresh.clone();
        checks.add(&Case {
            position: 0,
            jaw: self.jaw,
            grip: self.grip,
            hand_force,
            load: LoadCase::HandForce,
            sheet,
        });
        let all = checks.finish().factors;
        for k in against {
            let (Some(own), Some(reversed)) = (self.factors.get(k), self.reversed.get_mut(k))
            else {
                continue;
            };
            let same = all
                .iter()
                .filter(|f| f.subject == own.subject && f.formula == own.formula);
            let value = same.map(|f| f.value).fold(0.0, f64::max);
            *reversed = reversed.max(value.min(own.value));
        }
    }

    fn acts_against(&self, k: usize, sheet: &Sheet) -> bool {
        let (Some(own), Some(worst)) = (self.factors.get(k), self.worst.get(k)) else {
            return false;
        };
        let here = loads(self.tool, sheet, own.subject);
        let products = worst.iter().map(|(kind, force)| {
            let same = here.iter().find(|(other, _)| other == kind);
            same.map_or(0.0, |(_, other)| force.dot(*other))
        });
        products.sum::<f64>() < 0.0
    }
}

/// The forces on a pin, or on a part, in the part's axes, N.
fn loads(tool: &Tool, sheet: &Sheet, subject: Subject) -> Vec<(ForceKind, Vec2)> {
    let part = match subject {
        Subject::Part(part) => Some(part),
        Subject::Pin(joint) => tool.pin(joint).map(|pin| pin.part),
        Subject::Contact(_) => None,
    };
    let Some(part) = part else { return Vec::new() };
    let turn = sheet.turn.get(part.index()).copied().unwrap_or(Vec2::X);
    let of = |what: ForceKind| match subject {
        Subject::Pin(joint) => what == ForceKind::Joint(joint),
        _ => true,
    };
    let own = sheet.on(part).iter().filter(|force| of(force.what));
    own.map(|force| (force.what, force.force.turned_back(turn)))
        .collect()
}
