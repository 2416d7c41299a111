//! Tools side by side: every tool, every variant of its dimensions, every grip, one row each.

use crate::analysis::{Analysis, Judge, Outcome, hand_case, hand_is_judged};
use crate::limits::Rating;
use crate::measure::named;
use crate::model::dimension::{DimensionSlot, find};
use crate::model::{At, Better, Direction, JawId, Measure, MeasureKind, Met, Tool};
use crate::statics::Absent;
use crate::units::Quantity;
use rayon::prelude::*;

/// A measure to be compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Name of the measure.
    pub measure: String,
    /// Where it is read, for measures of a position.
    pub at: Option<At>,
}

impl Column {
    /// What is to be known of its measure.
    #[must_use]
    pub fn kind(&self) -> Option<MeasureKind> {
        Measure::of_name(&self.measure).map(|measure| measure.kind())
    }

    /// Which way this measure is better.
    #[must_use]
    pub fn better(&self) -> Better {
        self.kind().map_or(Better::Neither, |kind| kind.better)
    }
}

/// One variant of one tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Variant {
    /// Index of the file.
    pub file: usize,
    /// Numbers set, with their values in internal units.
    pub set: Vec<(String, f64)>,
    /// The tool with them.
    pub tool: Tool,
}

impl Variant {
    /// What a number that is set measures; `None`: a plain number.
    #[must_use]
    pub fn quantity(&self, address: &str) -> Option<Quantity> {
        find(&self.tool, address).and_then(DimensionSlot::quantity)
    }
}

/// One row: a variant held at one grip.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Index of the variant.
    pub variant: usize,
    /// Grip along the hand line, mm.
    pub grip: f64,
    /// Value of each column, in internal units.
    pub values: Vec<Option<f64>>,
    /// Demands met at this grip, and how many there are.
    pub met: Option<(usize, usize)>,
    /// Why the variant could not be solved.
    pub problem: Option<String>,
    /// What the job asks of a hand at this grip.
    pub hand: Hand,
    /// The jaw whose dies meet before the stroke is shut, and the gap of the first jaw there,
    /// mm.
    pub meets: Option<(Met, f64)>,
}

/// What the jobs of all jaws ask of a hand at a grip.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Hand {
    /// Whether it can do them once; `None` where that is not known.
    pub can: Option<bool>,
    /// Whether one of them stops the tool at the hand's limit.
    pub stalls: bool,
    /// The worst that the methods for repeated use say of them; `None` where that is not known.
    pub again: Option<Rating>,
}

/// Rows of all variants, in order, however many threads there are. `done` is told after each.
#[must_use]
pub fn compare(variants: &[Variant], columns: &[Column], done: &(dyn Fn() + Sync)) -> Vec<Row> {
    let rows: Vec<Vec<Row>> = variants
        .par_iter()
        .enumerate()
        .map(|(k, variant)| {
            let rows = rows(k, &variant.tool, columns);
            done();
            rows
        })
        .collect();
    rows.into_iter().flatten().collect()
}

fn rows(variant: usize, tool: &Tool, columns: &[Column]) -> Vec<Row> {
    // What a tool cannot be asked for has no value.
    let measures = columns.iter().map(|c| (named(tool, &c.measure).ok(), c.at));
    let measures: Vec<(Option<(Measure, JawId)>, _)> = measures.collect();
    let analysis = Analysis::of(tool.clone());
    let asked = measures
        .iter()
        .any(|(measure, _)| matches!(measure, Some((Measure::Yield, _))));
    if asked || tool.has_yield() {
        // Tools that cannot be sampled have no yield.
        let _ = analysis.sample_yield();
    }
    let judged = analysis.judge(Direction::Closing, |judge| {
        let read = demands(judge, tool);
        let meets = meets(judge);
        let row = |&grip: &f64| Row {
            variant,
            grip,
            values: (measures.iter())
                .map(|(measure, at)| {
                    let (measure, jaw) = measure.as_ref()?;
                    value(judge, measure, *jaw, *at, grip)
                })
                .collect(),
            met: met(tool, &read, grip),
            hand: hand(judge, tool, grip).unwrap_or_default(),
            problem: None,
            meets,
        };
        tool.hand.grips.iter().map(row).collect()
    });
    judged.unwrap_or_else(|failure| {
        let problem = first_line(&failure.text(tool));
        let row = |&grip: &f64| Row {
            variant,
            grip,
            values: vec![None; columns.len()],
            met: None,
            hand: Hand::default(),
            problem: Some(problem.clone()),
            meets: None,
        };
        tool.hand.grips.iter().map(row).collect()
    })
}

/// Every demand; a variant may not come to the position of one: then it does not meet it.
fn demands(judge: &mut Judge, tool: &Tool) -> Vec<Outcome> {
    let mut read = Vec::new();
    for demand in 0..tool.demands.len() {
        let unread = |_| {
            vec![Outcome {
                demand,
                grip: None,
                reading: Err(Absent::OffTheStroke),
                met: false,
            }]
        };
        read.extend(judge.demand(demand).unwrap_or_else(unread));
    }
    read
}

/// The jaw whose dies meet before the end of the stroke, and the gap of the first jaw there.
fn meets(judge: &mut Judge) -> Option<(Met, f64)> {
    let rig = judge.rig(JawId::FIRST).ok()?;
    rig.go_to(rig.pace()).ok()?;
    rig.meets().zip(rig.forces().gap.first().copied())
}

/// What the jobs of all jaws ask of a hand at a grip; `None` where the tool does not say what they need or what a hand
/// may give, or a position cannot be solved.
fn hand(judge: &mut Judge, tool: &Tool, grip: f64) -> Option<Hand> {
    hand_is_judged(tool).ok()?;
    let grip = tool.grip_at(grip)?;
    let mut all = Hand {
        can: Some(true),
        stalls: false,
        again: tool.job.as_ref().map(|_| Rating::Within),
    };
    for jaw in tool.working_jaws() {
        let case = hand_case(judge.rig(jaw).ok()?, jaw, grip).ok()??;
        all.can = match (all.can, case.can()) {
            (Some(false), _) | (_, Some(false)) => Some(false),
            (known, own) => known.and(own),
        };
        all.stalls |= case.stall.is_some();
        let own = tool.job.as_ref().and_then(|job| case.rating(job));
        all.again = match (all.again, own) {
            (Some(Rating::Beyond), _) | (_, Some(Rating::Beyond)) => Some(Rating::Beyond),
            (known, own) => known.zip(own).map(|(known, own)| known.max(own)),
        };
    }
    Some(all)
}

/// Demands met, and how many there are: of this grip, and those that no grip or one of their own is
/// named for.
fn met(tool: &Tool, read: &[Outcome], grip: f64) -> Option<(usize, usize)> {
    let names_grip = |d: &Outcome| tool.demands.get(d.demand).is_some_and(|d| d.grip.is_some());
    let counts = |d: &&Outcome| d.grip.is_none_or(|g| g == grip) || names_grip(d);
    let all = read.iter().filter(counts).count();
    let met = read.iter().filter(counts).filter(|d| d.met).count();
    (all > 0).then_some((met, all))
}

/// A measure at one grip; strength factors are those over all of the tool's grips.
fn value(
    judge: &mut Judge,
    measure: &Measure,
    jaw: JawId,
    at: Option<At>,
    grip: f64,
) -> Option<f64> {
    let grip = (!matches!(measure, Measure::Safety(_))).then_some(grip);
    judge.read(measure, jaw, at, grip).ok()?.ok()
}

fn first_line(text: &str) -> String {
    text.lines()
        .next()
        .unwrap_or("")
        .trim_end_matches('.')
        .to_owned()
}

/// Columns for tools that are compared without being asked for any: hand force at its peak where
/// every tool has work, jaw force, ratio and span at shut.
#[must_use]
pub fn usual_columns(tools: &[&Tool]) -> Vec<Column> {
    let column = |measure: &str, at| Column {
        measure: measure.to_owned(),
        at: Some(at),
    };
    let mut columns = Vec::new();
    if tools.iter().all(|t| t.work().is_some()) {
        columns.push(column("hand_force", At::Peak));
    }
    columns.push(column("jaw_force", At::Shut));
    columns.push(column("ratio", At::Shut));
    if tools.iter().all(|t| t.hand.against.is_some()) {
        columns.push(column("span", At::Open));
        columns.push(column("span", At::Shut));
    }
    columns
}

impl Row {
    /// Whether a tool like this can be recommended: it can be solved, meets what is demanded of it, and a
    /// hand can do the job, once and as often as is asked, as far as that is known.
    #[must_use]
    pub fn fits(&self) -> bool {
        let met = self.met.is_none_or(|(met, all)| met == all);
        let again = self.hand.again != Some(Rating::Beyond);
        self.problem.is_none() && met && self.hand.can != Some(false) && again
    }
}

/// For each column, the row with the best value among those that fit, see [`Row::fits`].
#[must_use]
pub fn best(rows: &[Row], columns: &[Column]) -> Vec<Option<usize>> {
    let one = |(c, column): (usize, &Column)| {
        let sign = match column.better() {
            Better::Less => -1.0,
            Better::More => 1.0,
            Better::Neither => return None,
        };
        let values = rows
            .iter()
            .enumerate()
            .filter(|(_, row)| row.fits())
            .filter_map(|(r, row)| Some((r, sign * (*row.values.get(c)?)?)));
        values
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))
            .map(|(r, _)| r)
    };
    columns.iter().enumerate().map(one).collect()
}
