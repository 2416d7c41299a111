//! What many samples of a measure say: mean, spread, percentiles, histogram.

/// Percentiles that are given. The first and the last are those of ±3 standard deviations.
pub const PERCENTILES: [f64; 7] = [0.135, 5.0, 25.0, 50.0, 75.0, 95.0, 99.865];
/// Bars of a histogram.
const BARS: usize = 40;

/// Samples of a measure in short.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// How many.
    pub count: usize,
    /// Mean.
    pub mean: f64,
    /// Standard deviation.
    pub deviation: f64,
    /// Least and greatest.
    pub range: [f64; 2],
    /// Values at [`PERCENTILES`].
    pub percentiles: [f64; 7],
    /// Edges of the histogram's bars, one more than bars; the outermost 0.1 % on either side are
    /// counted into the end bars.
    pub edges: Vec<f64>,
    /// Samples in each bar.
    pub bars: Vec<usize>,
}

/// The summary of `values`, `None` of none. They are left sorted.
#[must_use]
pub fn summary(values: &mut [f64]) -> Option<Summary> {
    values.sort_by(f64::total_cmp);
    let (&low, &high) = (values.first()?, values.last()?);
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let square: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
    let [first, last] = [0.1, 99.9].map(|p| percentile(values, p));
    let width = (last - first) / BARS as f64;
    let (edges, bars) = if width > 0.0 {
        let edges: Vec<f64> = (0..=BARS).map(|k| first + width * k as f64).collect();
        let mut bars = vec![0; BARS];
        for value in values.iter() {
            let place = ((value - first) / width)
                .floor()
                .clamp(0.0, BARS as f64 - 1.0);
            if let Some(bar) = bars.get_mut(place as usize) {
                *bar += 1;
            }
        }
        (edges, bars)
    } else {
        (Vec::new(), Vec::new())
    };
    Some(Summary {
        count: values.len(),
        mean,
        deviation: (square / (count - 1.0).max(1.0)).sqrt(),
        range: [low, high],
        percentiles: PERCENTILES.map(|p| percentile(values, p)),
        edges,
        bars,
    })
}

/// A percentile of sorted values, straight between neighbours (R. J. Hyndman and Y. Fan, "Sample
/// quantiles in statistical packages", *Am. Statist.* 50, 1996, definition 7).
fn percentile(sorted: &[f64], percent: f64) -> f64 {
    let place = percent / 100.0 * sorted.len().saturating_sub(1) as f64;
    let below = place.floor() as usize;
    let value = |k: usize| sorted.get(k).or(sorted.last()).copied().unwrap_or(f64::NAN);
    value(below) + (place - place.floor()) * (value(below + 1) - value(below))
}
