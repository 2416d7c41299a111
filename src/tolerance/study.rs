//! What a study says: plain data, in internal units (mm, N, rad).

use super::fate::Fate;
use super::plan::Plan;
use super::sample::Sampling;
use super::subject::{Hold, Subject};
use super::summary::Summary;
use super::unread::Unread;

impl Study {
    /// Whether the tool as drawn meets every demand.
    #[must_use]
    pub fn nominal_met(&self) -> bool {
        let unread = self.unread.iter().map(Unread::nominal_met);
        let mut all = self.findings.iter().map(|f| f.nominal_met).chain(unread);
        all.all(|met| met != Some(false))
    }
}

/// How a tool's measures move with its dimensions.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// The run of samples.
    pub sampling: Sampling,
    /// What varies.
    pub plan: Plan,
    /// One for each measure.
    pub findings: Vec<Finding>,
    /// What is not read off samples.
    pub unread: Vec<Unread>,
    /// Samples that meet every demand that was read; `None` without demands.
    pub all_met: Option<usize>,
    /// The tool has more bars than it needs: its samples would be strained, and are closed over as
    /// many equations as are independent.
    pub redundant: bool,
}

/// What was found of one measure, in internal units (mm, N, rad).
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Which measure.
    pub subject: Subject,
    /// What is held.
    pub hold: Hold,
    /// Its value on the tool as it is drawn, without play.
    pub nominal: f64,
    /// Whether that meets the demand.
    pub nominal_met: Option<bool>,
    /// The value with the play of loaded joints taken up.
    pub loaded: Result<f64, Fate>,
    /// One for each dimension of the plan, in its order.
    pub shares: Vec<Share>,
    /// Where their derivatives are exact, by virtual work: how far the differences are off, over the
    /// greatest derivative (as it is where all are zero). `None`: they are the differences.
    pub exact: Option<f64>,
    /// One for each clearance of the plan.
    pub clearances: Vec<Clearance>,
    /// Worst case to first order, ± about `loaded`.
    pub worst: f64,
    /// Root-sum-square, ± about `loaded`.
    pub root_sum_square: f64,
    /// The tool itself with every dimension at the end that lowers, that raises the measure.
    pub corners: [Result<f64, Fate>; 2],
    /// The samples that have a value; `None` where none has.
    pub summary: Option<Summary>,
    /// How many have none, for each of [`Fate::ALL`].
    pub failed: [usize; Fate::ALL.len()],
    /// How many meet the demand; those without a value do not.
    pub met: Option<usize>,
}

/// What one dimension does to one measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// Change of the measure per mm.
    pub derivative: f64,
    /// Derivative times tolerance, with the derivative's sign.
    pub share: f64,
}

/// What the clearance of one joint does to one measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Clearance {
    /// Taken up by load: shifts the measure by this; `None` where the measure then has no value.
    Shift(Option<f64>),
    /// Nothing loads the joint: anywhere within ± this.
    Random(f64),
}
