//! How exact a tool comes out: the answer of `tolerance`.

use super::show::{Source, number};
use super::stroke::UnitNames;
use super::verdict::{VerdictReport, subject_name};
use crate::model::{Joint, Spring, SpringSet, Tool};
use crate::tolerance::{
    Clearance, Fate, Finding, Hold, PERCENTILES, Remark, Spread, Study, Subject, Unread,
};
use crate::units::UnitSystem;
use serde::Serialize;

/// A tolerance study.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ToleranceReport {
    /// Version of the format: 1.
    pub format: u32,
    /// Name of the tool.
    pub tool: String,
    /// The file as it was named.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub sha256: String,
    /// Units of every number below.
    pub units: UnitNames,
    /// Number of samples.
    pub samples: usize,
    /// Seed of the samples.
    pub seed: u64,
    /// `normal (tolerance = 3 sigma)` or `uniform`.
    pub spread: &'static str,
    /// What a reader wants to know first: demands met as drawn, and by the samples.
    pub verdict: VerdictReport,
    /// Dimensions that vary: address, nominal value, ± tolerance.
    pub varied: Vec<(String, f64, f64)>,
    /// The unit of each of them; empty for plain numbers.
    pub varied_units: Vec<&'static str>,
    /// One for each measure.
    pub measures: Vec<MeasureSpread>,
    /// Samples that meet every demand that is read off them; null without such demands.
    pub all_met: Option<usize>,
    /// What is not read off samples.
    pub left_out: Vec<LeftOut>,
    /// The percentiles whose values `at_percentiles` gives, in per cent.
    pub percentiles: [f64; 7],
    /// What is worth saying.
    pub notes: Vec<String>,
}

/// A measure that is not read off samples.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LeftOut {
    /// Name, position and grip.
    pub name: String,
    /// Its unit; empty for plain numbers.
    pub unit: String,
    /// Why.
    pub why: &'static str,
    /// On the tool as drawn; null where it has no value.
    pub nominal: Option<f64>,
    /// Least value that is good enough; null without such a demand.
    pub min: Option<f64>,
    /// Greatest value that is good enough; null likewise.
    pub max: Option<f64>,
    /// Whether the tool as drawn meets the demand; null without one.
    pub nominal_met: Option<bool>,
}

/// How one measure comes out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MeasureSpread {
    /// Name, position and grip.
    pub name: String,
    /// Its unit; empty for plain numbers.
    pub unit: String,
    /// On the tool as drawn.
    pub nominal: f64,
    /// Whether that meets the demand; null without one.
    pub nominal_met: Option<bool>,
    /// With the play of loaded joints taken up; null if there is none.
    pub loaded: Option<f64>,
    /// Least value that is good enough; null without such a demand.
    pub min: Option<f64>,
    /// Greatest value that is good enough; null likewise.
    pub max: Option<f64>,
    /// Share of each dimension (derivative × tolerance), greatest first.
    pub shares: Vec<(String, f64)>,
    /// Where the derivatives are exact, by virtual work: how far differences are off, over the
    /// greatest derivative; null where they are the differences.
    pub exact_within: Option<f64>,
    /// Dimensions that have no share: the measure has no value a little to either side.
    pub without_share: Vec<String>,
    /// Worst case, ±; null where a share is missing.
    pub worst_case: Option<f64>,
    /// Root-sum-square, ±; null where a share is missing.
    pub root_sum_square: Option<f64>,
    /// Mean of the samples; null where none has a value.
    pub mean: Option<f64>,
    /// Their standard deviation; null likewise.
    pub deviation: Option<f64>,
    /// Values at the report's percentiles.
    pub at_percentiles: Vec<f64>,
    /// Edges of the histogram.
    pub edges: Vec<f64>,
    /// How many samples lie between each two edges.
    pub bars: Vec<usize>,
    /// Samples that meet the demand; null without one.
    pub met: Option<usize>,
    /// Samples without a value: why, and how many.
    pub failed: Vec<(&'static str, usize)>,
    /// The same, one sentence each.
    #[serde(skip)]
    pub without_value: Vec<String>,
}

/// The report of a study.
#[must_use]
pub fn tolerance_report(
    tool: &Tool,
    study: &Study,
    source: &Source,
    units: UnitSystem,
) -> ToleranceReport {
    let build = Build { tool, units };
    let mut verdict = VerdictReport::default();
    verdict.add_estimates(tool, units);
    let drawn = study
        .findings
        .iter()
        .filter_map(|finding| finding.nominal_met);
    let drawn = drawn.chain(study.unread.iter().filter_map(Unread::nominal_met));
    for met in drawn {
        verdict.demands += 1;
        verdict.met += usize::from(met);
    }
    if let Some(made) = study.made() {
        verdict.add_made(tool, &made, units);
    }
    ToleranceReport {
        verdict,
        format: 1,
        tool: tool.name.clone(),
        file: source.file.clone(),
        sha256: source.sha256.clone(),
        units: UnitNames::of(units),
        samples: study.sampling.samples,
        seed: study.sampling.seed,
        spread: match study.sampling.spread {
            Spread::Normal => "normal (tolerance = 3 sigma)",
            Spread::Uniform => "uniform within the tolerance",
        },
        varied: study
            .plan
            .varied
            .iter()
            .map(|v| {
                let show = |value| units.shown(value, v.slot.quantity());
                (v.address.clone(), show(v.nominal), show(v.tolerance))
            })
            .collect(),
        varied_units: (study.plan.varied.iter())
            .map(|v| units.unit(v.slot.quantity()))
            .collect(),
        measures: study
            .findings
            .iter()
            .map(|f| build.measure(f, study))
            .collect(),
        all_met: study.all_met,
        left_out: study.unread.iter().map(|u| build.left_out(u)).collect(),
        percentiles: PERCENTILES,
        notes: build.notes(study),
    }
}

struct Build<'a> {
    tool: &'a Tool,
    units: UnitSystem,
}

impl Build<'_> {
    fn name(&self, subject: &Subject) -> String {
        subject_name(self.tool, subject, self.units)
    }

    fn measure(&self, finding: &Finding, study: &Study) -> MeasureSpread {
        let quantity = finding.subject.measure.kind().quantity;
        let show = |v: f64| quantity.map_or(v, |q| self.units.show(v, q));
        let known = |v: f64| v.is_finite().then(|| show(v));
        let mut shares: Vec<(String, f64)> = study
            .plan
            .varied
            .iter()
            .zip(&finding.shares)
            .map(|(v, s)| (v.address.clone(), show(s.share)))
            .collect();
        for ((joint, _), clearance) in study.plan.clearances.iter().zip(&finding.clearances) {
            if let Clearance::Random(within) = clearance {
                let of = match self.tool.joint(*joint) {
                    Some(Joint::Gears(k, gears)) => format!("backlash of {}", gears.label(k)),
                    _ => format!("play of {}", self.tool.joint_label(*joint)),
                };
                shares.push((of, show(*within)));
            }
        }
        let (mut shares, without): (Vec<_>, Vec<_>) =
            shares.into_iter().partition(|(_, share)| share.is_finite());
        shares.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
        let summary = finding.summary.as_ref();
        let failed = Fate::ALL.into_iter().zip(finding.failed);
        let failed: Vec<(Fate, usize)> = failed.filter(|(_, n)| *n > 0).collect();
        MeasureSpread {
            name: self.name(&finding.subject),
            unit: quantity.map_or("", |q| self.units.symbol(q)).to_owned(),
            nominal: show(finding.nominal),
            nominal_met: finding.nominal_met,
            loaded: finding.loaded.ok().map(show),
            min: finding.subject.bound.and_then(|b| b.min).map(show),
            max: finding.subject.bound.and_then(|b| b.max).map(show),
            shares,
            exact_within: finding.exact.filter(|off| off.is_finite()),
            without_share: without.into_iter().map(|(name, _)| name).collect(),
            worst_case: known(finding.worst),
            root_sum_square: known(finding.root_sum_square),
            mean: summary.map(|s| show(s.mean)),
            deviation: summary.map(|s| show(s.deviation)),
            at_percentiles: summary.map_or_else(Vec::new, |s| {
                s.percentiles.iter().map(|&v| show(v)).collect()
            }),
            edges: summary.map_or_else(Vec::new, |s| s.edges.iter().map(|&v| show(v)).collect()),
            bars: summary.map_or_else(Vec::new, |s| s.bars.clone()),
            met: finding.met,
            failed: failed.iter().map(|(f, n)| (f.text(), *n)).collect(),
            without_value: failed.iter().map(|(f, n)| f.samples(*n)).collect(),
        }
    }

    fn left_out(&self, unread: &Unread) -> LeftOut {
        let Subject { measure, bound, .. } = &unread.subject;
        let quantity = measure.kind().quantity;
        let show = |v: f64| quantity.map_or(v, |q| self.units.show(v, q));
        LeftOut {
            name: self.name(&unread.subject),
            unit: quantity.map_or("", |q| self.units.symbol(q)).to_owned(),
            why: unread.why.text(),
            nominal: unread.nominal.map(show),
            min: bound.and_then(|b| b.min).map(show),
            max: bound.and_then(|b| b.max).map(show),
            nominal_met: unread.nominal_met(),
        }
    }

    fn notes(&self, study: &Study) -> Vec<String> {
        let mut notes = Vec::new();
        for remark in &study.plan.remarks {
            notes.push(match remark {
                Remark::SmallestStep(list) => format!(
                    "coordinates at or near zero have no size of their own and are held to the class's smallest \
                     step: {}",
                    list.join(", ")
                ),
                Remark::Datum(list) => {
                    format!("points at their part's datum, from which all else is counted, do not vary: {}", list.join(", "))
                }
                Remark::Tied(list) => {
                    format!("what is tied moves with what it follows, and has no tolerance of its own: {}", list.join(", "))
                }
                Remark::AsDrawn(list) => format!(
                    "strength factors of made tools take the outlines of these parts, with their holes, as drawn: {}",
                    list.join(", ")
                ),
                Remark::NoTolerance(list) => {
                    format!("the standard has no tolerance for the size of {}", list.join(", "))
                }
            });
        }
        if study.findings.iter().any(|f| f.hold == Hold::NominalHandle) {
            notes.push(
                "a measure that defines its own position (the gap at a shut that is a gap) is read at the handle \
                 angle that the position has on the nominal tool"
                    .to_owned(),
            );
        }
        if !study.plan.clearances.is_empty() {
            notes.push(
                "pin clearance and backlash are taken up in the direction of the load where the joint is loaded (a \
                 shift, the same for every tool; half the backlash, the teeth being drawn in the middle of it), and are \
                 random where the work needs nothing yet"
                    .to_owned(),
            );
        }
        let preloaded = |spring: &Spring| matches!(spring.set, SpringSet::Preload(_));
        if self.tool.springs.iter().any(preloaded) {
            notes.push(
                "a spring with a preload is one and the same in every tool that is made: it keeps the free length \
                 (or angle) that gives the preload in the nominal tool; `--set` sets it anew in the changed tool"
                    .to_owned(),
            );
        }
        for unread in &study.unread {
            let out = self.left_out(unread);
            let met = match out.nominal_met {
                Some(true) => ", met",
                Some(false) => ", NOT met",
                None => "",
            };
            let value = match out.nominal {
                Some(value) => format!("{} {}", number(value), out.unit),
                None => "no value".to_owned(),
            };
            notes.push(format!(
                "left out: `{}`: {}; nominal: {}{met}",
                out.name,
                out.why,
                value.trim_end()
            ));
        }
        let bent = study.findings.iter().filter(|f| is_bent(f, study));
        let bent: Vec<String> = bent
            .map(|f| format!("`{}`", self.name(&f.subject)))
            .collect();
        if !bent.is_empty() {
            notes.push(format!(
                "far from linear within the tolerances, as near a toggle: {}; go by the samples there, not by shares, \
                 worst case and root-sum-square",
                bent.join(", ")
            ));
        }
        if study.redundant {
            notes.push(
                "the linkage has redundant bars: a tool off its dimensions would be strained"
                    .to_owned(),
            );
        }
        notes
    }
}

/// How many times the spread to first order may be off that of the samples before it is told.
const BENT: f64 = 2.0;

/// Whether the spread of a measure to first order says little about that of its samples.
fn is_bent(finding: &Finding, study: &Study) -> bool {
    let per_sigma = match study.sampling.spread {
        Spread::Normal => 3.0,
        // The standard deviation of an even spread within ± t is t / √3.
        Spread::Uniform => 3.0_f64.sqrt(),
    };
    let Some(summary) = finding.summary.as_ref().filter(|s| s.count > 1) else {
        return false;
    };
    let off = finding.root_sum_square / (per_sigma * summary.deviation);
    off.is_finite() && !(1.0 / BENT..=BENT).contains(&off)
}
