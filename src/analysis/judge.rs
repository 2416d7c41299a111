//! What a tool is judged by: its demands and its strength, on the same grips for every caller.
//!
//! A measure that no grip is named for is read at the tool's own grips, and its strength factors
//! are the least over all of these; what names a grip is read there alone, `safety` too. The rig is
//! that of the tool and every grip that its demands and its aim name, so that all is read off one; what is
//! asked of another jaw than the one in view is read off one more, of the tool that faces it.

use super::failure::Failure;
use super::grips::grips_of;
use super::strength::strength;
use super::{Analysis, of};
use crate::measure::{Measure, Reader, Reading};
use crate::model::{At, Direction, Fixed, FixedBy, GripId, JawId, ModelError, Tool};
use crate::statics::{Absent, LocateError, MountError, Mounted, Rig};
use crate::strength::Strength;
use std::cell::OnceCell;

/// A demand read at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Index of the demand in the tool.
    pub demand: usize,
    /// Grip, mm along the hand line; `None` for measures that no grip changes.
    pub grip: Option<f64>,
    /// What came out.
    pub reading: Reading,
    /// Within its limits.
    pub met: bool,
}

impl Outcome {
    /// What came out, if that is a number.
    #[must_use]
    pub fn value(&self) -> Option<f64> {
        self.reading.ok().filter(|value| value.is_finite())
    }

    /// Why there is no number, if there is none.
    #[must_use]
    pub fn why(&self) -> Option<Absent> {
        match self.value() {
            Some(_) => None,
            None => Some(self.reading.err().unwrap_or(Absent::NoNumber)),
        }
    }
}

/// Why a measure cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub enum ReadError {
    /// Its position.
    Locate(LocateError),
    /// The strength that it asks for.
    Failure(Failure),
}

/// A demand that cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub struct DemandError {
    /// Index of the demand in the tool.
    pub demand: usize,
    /// Why.
    pub why: ReadError,
}

impl From<LocateError> for ReadError {
    fn from(error: LocateError) -> Self {
        Self::Locate(error)
    }
}

/// A tool at all grips that it names, facing a jaw, once that is asked for.
pub(super) type Faced = OnceCell<(Tool, Mounted)>;

/// Reads measures and demands off a tool that is set up, see [`super::Analysis::judge`].
#[derive(Debug)]
pub struct Judge<'f, 'r> {
    analysis: &'f Analysis,
    /// Facing each jaw, that in view being the first.
    faced: &'r [Faced],
    /// The same, set up.
    rigs: Vec<Option<Rig<'r>>>,
    direction: Direction,
    /// At single grips (index): those that something named.
    at_one: Vec<(GripId, Strength)>,
}

impl<'f, 'r> Judge<'f, 'r> {
    /// `rig`: the tool at every grip that it names; `faced`: a place for it facing each of its jaws.
    pub(super) fn new(
        analysis: &'f Analysis,
        faced: &'r [Faced],
        rig: Rig<'r>,
        direction: Direction,
    ) -> Self {
        let mut rigs = vec![Some(rig)];
        rigs.resize(faced.len().max(1), None);
        Self {
            analysis,
            faced,
            rigs,
            direction,
            at_one: Vec::new(),
        }
    }

    /// The tool, set up at every grip that it names, facing a jaw.
    ///
    /// # Errors
    /// [`MountError`]: there is no such jaw.
    pub fn rig(&mut self, jaw: JawId) -> Result<&mut Rig<'r>, MountError> {
        let unknown = || ModelError::NoSuchJaw;
        let slot = self.rigs.get_mut(jaw.index()).ok_or_else(unknown)?;
        match slot {
            Some(rig) => Ok(rig),
            None => {
                let cell = self.faced.get(jaw.index()).ok_or_else(unknown)?;
                let (tool, mounted) = match cell.get() {
                    Some(known) => known,
                    None => {
                        let found = self.analysis.facing(jaw).gripped()?;
                        cell.get_or_init(|| found)
                    }
                };
                Ok(slot.insert(Rig::new(tool, mounted, self.direction)?))
            }
        }
    }

    /// How many Newton steps of contact forces have been taken.
    #[must_use]
    pub fn newton_steps(&self) -> u64 {
        let rigs = self.rigs.iter().flatten();
        rigs.map(|rig| rig.forces().newton_steps()).sum()
    }

    fn tool(&self) -> &'f Tool {
        self.analysis.tool()
    }

    /// The tool's own grips.
    fn own(&self) -> &'f [f64] {
        &self.tool().hand.grips
    }

    /// The factors with the load at each jaw that may carry it.
    fn worst(&mut self, grips: &[GripId]) -> Result<Strength, Failure> {
        let jaws = self.tool().working_jaws();
        for &jaw in &jaws {
            self.rig(jaw)?;
        }
        let rigs = self.rigs.iter_mut().enumerate();
        let rigs = rigs.filter_map(|(k, rig)| Some((JawId::new(k), rig.as_mut()?)));
        let mut loaded: Vec<_> = rigs.filter(|(jaw, _)| jaws.contains(jaw)).collect();
        strength(&mut loaded, grips)
    }

    /// The strength factors of the whole stroke at the tool's own grips.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn strength(&mut self) -> Result<&'f Strength, Failure> {
        let cell = of(&self.analysis.strengths, self.direction);
        if let Some(strength) = cell.get() {
            return Ok(strength);
        }
        let all: Vec<GripId> = GripId::ids(self.own().len()).collect();
        let found = self.worst(&all)?;
        Ok(cell.get_or_init(|| found))
    }

    /// The least strength factor, of everything or of one part or pin: over the tool's own grips, or
    /// at the grip that is named.
    fn safety(&mut self, name: Option<&str>, grip: Option<f64>) -> Result<Reading, Failure> {
        let factor = match grip.and_then(|grip| self.index(grip)) {
            None => self.strength()?.safety(name),
            // One grip of one: the same.
            Some(GripId::FIRST) if self.own().len() == 1 => self.strength()?.safety(name),
            Some(index) => match self.at_one.iter().find(|(known, _)| *known == index) {
                Some((_, known)) => known.safety(name),
                None => {
                    let found = self.worst(&[index])?;
                    let factor = found.safety(name);
                    self.at_one.push((index, found));
                    factor
                }
            },
        };
        Ok(factor.ok_or(Absent::NoFactor))
    }

    fn index(&self, grip: f64) -> Option<GripId> {
        let rig = self.rigs.first()?.as_ref()?;
        rig.tool().grip_at(grip)
    }

    /// Reads a measure of a jaw, at a position or over the stroke: at the `grip` that is named, else at the
    /// tool's first one (`safety`: over all of its own).
    ///
    /// # Errors
    /// [`ReadError`].
    pub fn read(
        &mut self,
        measure: &Measure,
        jaw: JawId,
        at: Option<At>,
        grip: Option<f64>,
    ) -> Result<Reading, ReadError> {
        let index = match grip.map(|grip| self.index(grip)) {
            None => GripId::FIRST,
            Some(Some(index)) => index,
            Some(None) => return Ok(Err(Absent::NoGrip)),
        };
        if let Measure::Safety(name) = measure {
            return self
                .safety(name.as_deref(), grip)
                .map_err(ReadError::Failure);
        }
        if measure.is_of_plates() {
            let strength = match measure {
                Measure::Stress(_) => Some(self.strength().map_err(ReadError::Failure)?),
                _ => None,
            };
            let analysis = self.analysis;
            let room = || analysis.room().cloned();
            return super::room::read(self.tool(), measure, room, strength)
                .map_err(ReadError::Failure);
        }
        if let Measure::SpringSafety | Measure::SpringStress = measure {
            let found = self.analysis.wound_springs();
            let found = found.map_err(ReadError::Failure)?;
            let value = match measure {
                Measure::SpringStress => found.iter().map(|(_, one)| one.stress).reduce(f64::max),
                _ => found
                    .iter()
                    .filter_map(|(_, one)| one.factor())
                    .reduce(f64::min),
            };
            return Ok(value.ok_or(Absent::NoSpring));
        }
        if *measure == Measure::Yield {
            return Ok(self.analysis.made().ok_or(Absent::NotSampled));
        }
        let rig = self.rig(jaw).map_err(Failure::from);
        let mut reader = Reader::new(rig.map_err(ReadError::Failure)?);
        let read = match at {
            Some(at) => reader.at(measure, at, index),
            None => reader.over_stroke(measure, index).map_err(Into::into),
        };
        read.map_err(|error| ReadError::Locate(seen(error, jaw)))
    }

    /// Reads one demand (index) at each of its grips.
    ///
    /// # Errors
    /// When its measure cannot be read, or its position is not in the stroke.
    pub fn demand(&mut self, demand: usize) -> Result<Vec<Outcome>, ReadError> {
        let tool = self.tool();
        let Some(asked) = tool.demands.get(demand) else {
            return Ok(Vec::new());
        };
        let measure = &asked.measure;
        let grips = grips_of(tool, measure, asked.at, asked.grip, self.own());
        let mut found = Vec::with_capacity(grips.len());
        for grip in grips {
            let reading = self.read(measure, asked.jaw, asked.at, grip)?;
            found.push(Outcome {
                demand,
                grip,
                reading,
                met: reading.is_ok_and(|v| asked.bound.holds(v)),
            });
        }
        Ok(found)
    }

    /// Reads every demand.
    ///
    /// # Errors
    /// The first that cannot be read.
    pub fn demands(&mut self) -> Result<Vec<Outcome>, DemandError> {
        let mut found = Vec::new();
        for demand in 0..self.tool().demands.len() {
            let read = self.demand(demand);
            found.extend(read.map_err(|why| DemandError { demand, why })?);
        }
        Ok(found)
    }
}

/// An error off the tool that faces `jaw`, which is its first, as the tool itself has it.
fn seen(error: LocateError, jaw: JawId) -> LocateError {
    match error {
        LocateError::OutOfRange {
            fixed:
                Fixed {
                    by: FixedBy::Gap(JawId::FIRST),
                    value,
                },
            reach,
        } => LocateError::OutOfRange {
            fixed: Fixed {
                by: FixedBy::Gap(jaw),
                value,
            },
            reach,
        },
        error => error,
    }
}
