//! Monte Carlo: many draws of what varies, the same numbers on any number of threads.
//!
//! The draws are one stream of a permuted congruential generator (M. E. O'Neill, "PCG: A family of
//! simple fast space-efficient statistically good algorithms for random number generation",
//! HMC-CS-2014-0905, 2014), cut into chunks of fixed size: each chunk jumps to its own place in the
//! stream and starts from a fresh worker, so no number depends on which thread worked on it.

use rand_pcg::Pcg64;
use rand_pcg::rand_core::{Rng, SeedableRng};
use rayon::prelude::*;
use std::f64::consts::TAU;

/// How a dimension is spread over its tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Spread {
    /// Normal, the tolerance being three standard deviations.
    #[default]
    Normal,
    /// Anywhere within the tolerance alike.
    Uniform,
}

/// A run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Number of samples.
    pub samples: usize,
    /// Whether a study may draw fewer, where so many would take more than some seconds.
    pub fewer: bool,
    /// Where the stream of draws begins.
    pub seed: u64,
    /// Spread of the dimensions.
    pub spread: Spread,
    /// Threads; `None`: as many as the machine offers. The numbers do not depend on it.
    pub threads: Option<usize>,
}

impl Default for Sampling {
    fn default() -> Self {
        Self {
            samples: 20_000,
            fewer: true,
            seed: 1,
            spread: Spread::Normal,
            threads: None,
        }
    }
}

/// What varies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Variable {
    /// A deviation within ± this.
    Within(f64),
    /// A point anywhere in a circle of this radius alike: two deviations, x and y.
    Circle(f64),
}

/// Samples in a chunk.
pub const CHUNK: usize = 256;
/// Draws of the stream set aside for each chunk, far more than one ever uses.
const SET_ASIDE: u128 = 1 << 40;

/// Draws deviations of `variables` and gives them to `evaluate`, which writes one result for each
/// of `outputs`; `start` makes the worker of a chunk. Results come sample by sample.
///
/// # Errors
/// When the threads cannot be had.
pub fn sample<W, T: Clone + Send + Sync>(
    sampling: &Sampling,
    variables: &[Variable],
    outputs: &[T],
    start: impl Fn() -> W + Sync,
    evaluate: impl Fn(&mut W, &[f64], &mut [T]) + Sync,
) -> Result<Vec<T>, String> {
    let chunk = |k: usize| {
        let mut draws = Draws::new(sampling, k);
        let mut worker = start();
        let mut deviations = Vec::new();
        let count = CHUNK.min(sampling.samples - k * CHUNK);
        let mut results = Vec::with_capacity(count * outputs.len());
        for _ in 0..count {
            draws.fill(variables, &mut deviations);
            let from = results.len();
            results.extend_from_slice(outputs);
            if let Some(out) = results.get_mut(from..) {
                evaluate(&mut worker, &deviations, out);
            }
        }
        results
    };
    let chunks = sampling.samples.div_ceil(CHUNK);
    let all = || -> Vec<Vec<T>> { (0..chunks).into_par_iter().map(chunk).collect() };
    let parts = match sampling.threads {
        None => all(),
        Some(threads) => rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .map_err(|e| format!("{threads} threads cannot be had: {e}"))?
            .install(all),
    };
    Ok(parts.into_iter().flatten().collect())
}

/// The draws of one chunk.
struct Draws {
    stream: Pcg64,
    spread: Spread,
    /// The second of a pair of normal draws, kept for the next.
    spare: Option<f64>,
}

impl Draws {
    fn new(sampling: &Sampling, chunk: usize) -> Self {
        let mut stream = Pcg64::seed_from_u64(sampling.seed);
        stream.advance(SET_ASIDE * chunk as u128);
        Self {
            stream,
            spread: sampling.spread,
            spare: None,
        }
    }

    /// In 0..1, never 1: the upper 53 bits.
    #[inline]
    fn unit(&mut self) -> f64 {
        (self.stream.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Standard normal (G. E. P. Box and M. E. Muller, "A note on the generation of random normal
    /// deviates", *Ann. Math. Statist.* 29, 1958).
    #[inline]
    fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        let (sin, cos) = (TAU * self.unit()).sin_cos();
        self.spare = Some(radius * sin);
        radius * cos
    }

    fn fill(&mut self, variables: &[Variable], deviations: &mut Vec<f64>) {
        deviations.clear();
        for variable in variables {
            match *variable {
                Variable::Within(tolerance) => deviations.push(match self.spread {
                    Spread::Normal => tolerance / 3.0 * self.normal(),
                    Spread::Uniform => tolerance * (2.0 * self.unit() - 1.0),
                }),
                Variable::Circle(radius) => {
                    // Equal areas have equal chances: the radius goes with the square root.
                    let out = radius * self.unit().sqrt();
                    let (sin, cos) = (TAU * self.unit()).sin_cos();
                    deviations.extend([out * cos, out * sin]);
                }
            }
        }
    }
}
