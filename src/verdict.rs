//! What a tool is judged by: its demands and its strength, on the same grips for every caller.
//!
//! A measure that no grip is named for is read at the tool's own grips, and its strength factors
//! are the least over all of these; what names a grip is read there alone, `safety` too. The rig is
//! that of the tool and every grip that its demands and its aim name, so that all is read off one.

use crate::analysis::Failure;
use crate::loads::strength;
use crate::measure::{Measure, MeasureError, Reader, Reading};
use crate::model::{At, Direction, Tool};
use crate::statics::{LocateError, MountError, Mounted, Rig};
use crate::strength::Strength;
use std::sync::OnceLock;

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
        self.reading.value().filter(|value| value.is_finite())
    }

    /// Why there is no number, if there is none.
    #[must_use]
    pub fn why(&self) -> Option<&'static str> {
        match self.value() {
            Some(_) => None,
            None => Some(self.reading.why().unwrap_or(NO_NUMBER)),
        }
    }
}

/// Why a measure cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub enum Unread {
    /// Its name.
    Measure(MeasureError),
    /// Its position.
    Locate(LocateError),
    /// The strength that it asks for.
    Failure(Failure),
}

/// A demand that cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub struct Unreadable {
    /// Index of the demand in the tool.
    pub demand: usize,
    /// Why.
    pub why: Unread,
}

impl From<MeasureError> for Unread {
    fn from(error: MeasureError) -> Self {
        Self::Measure(error)
    }
}

impl From<LocateError> for Unread {
    fn from(error: LocateError) -> Self {
        Self::Locate(error)
    }
}

/// Motion and strength of one tool, each found once, when it is first asked for. A tool with other
/// dimensions, grips or forces needs another.
#[derive(Debug, Clone, Default)]
pub struct Found {
    mounted: OnceLock<Mounted>,
    /// Over the tool's own grips, closing and opening.
    strengths: [OnceLock<Strength>; 2],
}

impl Found {
    /// The motion of `tool`.
    ///
    /// # Errors
    /// [`MountError`].
    pub fn mounted(&self, tool: &Tool) -> Result<&Mounted, MountError> {
        if let Some(mounted) = self.mounted.get() {
            return Ok(mounted);
        }
        let mounted = Mounted::new(tool)?;
        Ok(self.mounted.get_or_init(|| mounted))
    }

    /// The strength factors of `tool` over the whole stroke, at its own grips.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn strength(&self, tool: &Tool, direction: Direction) -> Result<&Strength, Failure> {
        if let Some(strength) = self.cell(direction).get() {
            return Ok(strength);
        }
        self.judge(tool, direction, |judge| judge.strength())?
    }

    /// Sets `tool` up at all grips that it names and hands it to `ask`.
    ///
    /// # Errors
    /// [`Failure`]: it cannot be set up.
    pub fn judge<'f, T>(
        &'f self,
        tool: &Tool,
        direction: Direction,
        ask: impl for<'r> FnOnce(&mut Judge<'f, 'r>) -> T,
    ) -> Result<T, Failure> {
        let mounted = self.mounted(tool)?;
        let whole = with_grips(tool);
        let regripped;
        let mounted = if whole.hand.grips.len() == tool.hand.grips.len() {
            mounted
        } else {
            regripped = mounted.regripped(&whole)?;
            &regripped
        };
        Ok(ask(&mut Judge {
            own: &tool.hand.grips,
            rig: Rig::new(&whole, mounted, direction)?,
            strength: self.cell(direction),
            at_one: Vec::new(),
        }))
    }

    fn cell(&self, direction: Direction) -> &OnceLock<Strength> {
        let [closing, opening] = &self.strengths;
        match direction {
            Direction::Closing => closing,
            Direction::Opening => opening,
        }
    }
}

/// The tool with every grip that its demands and its aim name. Grips of its own keep their places.
#[must_use]
pub fn with_grips(tool: &Tool) -> Tool {
    let mut whole = tool.clone();
    let demands = tool.demands.iter().filter_map(|d| d.grip);
    for grip in demands.chain(tool.aim.iter().filter_map(|a| a.grip)) {
        if !whole.hand.grips.contains(&grip) {
            whole.hand.grips.push(grip);
        }
    }
    whole
}

/// The grips at which a measure is read one by one: that which is `named`, or each of a tool's `own`.
/// One `None` where no grip changes it, or all of them together give one number, as `safety` does.
#[must_use]
pub fn grips_of(
    tool: &Tool,
    measure: &Measure,
    at: Option<At>,
    named: Option<f64>,
    own: &[f64],
) -> Vec<Option<f64>> {
    let moves = match measure {
        Measure::Gap | Measure::Handle | Measure::Travel => matches!(at, Some(At::Span(_))),
        Measure::JawWork => tool.work.is_none(),
        _ => true,
    };
    match named {
        Some(grip) if moves => vec![Some(grip)],
        None if measure.per_grip() => own.iter().copied().map(Some).collect(),
        _ => vec![None],
    }
}

/// Reads measures and demands off a tool that is set up, see [`Found::judge`].
#[derive(Debug)]
pub struct Judge<'f, 'r> {
    /// The tool's own grips.
    own: &'r [f64],
    rig: Rig<'r>,
    /// Over the tool's own grips.
    strength: &'f OnceLock<Strength>,
    /// At single grips (index): those that something named.
    at_one: Vec<(usize, Strength)>,
}

impl<'f, 'r> Judge<'f, 'r> {
    /// The tool, set up at every grip that it names.
    pub fn rig(&mut self) -> &mut Rig<'r> {
        &mut self.rig
    }

    /// The strength factors of the whole stroke at the tool's own grips.
    ///
    /// # Errors
    /// [`Failure`].
    pub fn strength(&mut self) -> Result<&'f Strength, Failure> {
        let cell = self.strength;
        if let Some(strength) = cell.get() {
            return Ok(strength);
        }
        let all: Vec<usize> = (0..self.own.len()).collect();
        let found = strength(&mut self.rig, &all)?;
        Ok(cell.get_or_init(|| found))
    }

    /// The least strength factor, of everything or of one part or pin: over the tool's own grips, or
    /// at the grip that is named.
    fn safety(&mut self, name: Option<&str>, grip: Option<f64>) -> Result<Reading, Failure> {
        let factor = match grip.and_then(|grip| self.index(grip)) {
            None => self.strength()?.safety(name),
            // One grip of one: the same.
            Some(0) if self.own.len() == 1 => self.strength()?.safety(name),
            Some(index) => match self.at_one.iter().find(|(known, _)| *known == index) {
                Some((_, known)) => known.safety(name),
                None => {
                    let found = strength(&mut self.rig, &[index])?;
                    let factor = found.safety(name);
                    self.at_one.push((index, found));
                    factor
                }
            },
        };
        Ok(factor.map_or(Reading::Missing(NO_FACTOR), Reading::Value))
    }

    fn index(&self, grip: f64) -> Option<usize> {
        let grips = &self.rig.tool().hand.grips;
        grips.iter().position(|&known| known == grip)
    }

    /// Reads a measure, at a position or over the stroke: at the `grip` that is named, else at the
    /// tool's first one (`safety`: over all of its own).
    ///
    /// # Errors
    /// [`Unread`].
    pub fn read(
        &mut self,
        measure: &Measure,
        at: Option<At>,
        grip: Option<f64>,
    ) -> Result<Reading, Unread> {
        let index = match grip.map(|grip| self.index(grip)) {
            None => 0,
            Some(Some(index)) => index,
            Some(None) => return Ok(Reading::Missing(NOT_SET_UP)),
        };
        if let Measure::Safety(name) = measure {
            return self.safety(name.as_deref(), grip).map_err(Unread::Failure);
        }
        let mut reader = Reader::new(&mut self.rig);
        match at {
            Some(at) => Ok(reader.at(measure, at, index)?),
            None => Ok(reader
                .over_stroke(measure, index)
                .map_err(LocateError::from)?),
        }
    }

    /// Reads one demand (index) at each of its grips.
    ///
    /// # Errors
    /// When its measure cannot be read, or its position is not in the stroke.
    pub fn demand(&mut self, demand: usize) -> Result<Vec<Outcome>, Unread> {
        let tool = self.rig.tool();
        let Some(asked) = tool.demands.get(demand) else {
            return Ok(Vec::new());
        };
        let measure = Measure::parse(tool, &asked.measure)?;
        let grips = grips_of(tool, &measure, asked.at, asked.grip, self.own);
        let mut found = Vec::with_capacity(grips.len());
        for grip in grips {
            let reading = self.read(&measure, asked.at, grip)?;
            found.push(Outcome {
                demand,
                grip,
                reading,
                met: reading.value().is_some_and(|v| asked.bound.holds(v)),
            });
        }
        Ok(found)
    }

    /// Reads every demand.
    ///
    /// # Errors
    /// The first that cannot be read.
    pub fn demands(&mut self) -> Result<Vec<Outcome>, Unreadable> {
        let mut found = Vec::new();
        for demand in 0..self.rig.tool().demands.len() {
            let read = self.demand(demand);
            found.extend(read.map_err(|why| Unreadable { demand, why })?);
        }
        Ok(found)
    }
}

const NO_FACTOR: &str = "no part or pin has the section, material and diameter that a factor needs";
const NO_NUMBER: &str = "it comes out as no number";
const NOT_SET_UP: &str = "the tool is not set up for that grip";
