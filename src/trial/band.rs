//! How far tools within their tolerances are from the predicted force.

use super::curve::Bench;
use crate::analysis::Analysis;
use crate::measure::Measure;
use crate::model::{At, Bound, Demand, JawId, between};
use crate::tolerance::{Sampling, StudyError};

/// Gaps at which the band is found; between them it goes straight.
const GAPS: usize = 12;
/// Samples for the worst case, which needs none: as few as are drawn.
const SAMPLES: usize = 100;

/// Worst case of the jaw force at every reading within the tolerances, over the force: closing, at the first grip of
/// the readings, which stands for the others.
///
/// # Errors
/// [`StudyError`].
pub fn band(bench: &Bench) -> Result<Vec<f64>, StudyError> {
    let mut tool = bench.tool().clone();
    let mut gaps: Vec<f64> = bench.points().iter().map(|point| point.gap).collect();
    gaps.sort_by(f64::total_cmp);
    gaps.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let [wide, narrow] = bench.ends();
    gaps.retain(|gap| (narrow..=wide).contains(gap));
    let every = gaps.len().div_ceil(GAPS).max(1);
    let last = gaps.last().copied();
    let mut chosen: Vec<f64> = gaps.into_iter().step_by(every).collect();
    if chosen.last().copied() != last {
        chosen.extend(last);
    }
    tool.hand.grips.truncate(1);
    tool.aim = None;
    tool.tunes.clear();
    tool.demands = (chosen.iter())
        .map(|gap| Demand {
            measure: Measure::JawForce,
            jaw: JawId::FIRST,
            at: Some(At::Gap(*gap)),
            grip: None,
            bound: Bound {
                min: Some(0.0),
                max: None,
            },
        })
        .collect();
    let study = Analysis::of(tool).tolerance(&Sampling {
        samples: SAMPLES,
        fewer: true,
        ..Sampling::default()
    })?;
    let at = |gap: f64| {
        let mut found = study
            .findings
            .iter()
            .filter(|f| f.subject.measure == Measure::JawForce);
        let found = found.find(|f| matches!(f.subject.at, Some(At::Gap(at)) if at == gap))?;
        // Play that is taken up moves the force one way: it belongs to the band.
        let shift = found
            .loaded
            .map_or(0.0, |loaded| (loaded - found.nominal).abs());
        Some((found.worst + shift) / found.nominal)
    };
    let known: Vec<[f64; 2]> = chosen
        .iter()
        .filter_map(|gap| Some([*gap, at(*gap)?]))
        .collect();
    Ok(bench
        .points()
        .iter()
        .map(|point| between(&known, point.gap).unwrap_or(0.0))
        .collect())
}
