//! `job` of a `[work]`: its curve estimated from size and strength.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Fields, Reader, Value};
use super::size::Sign;
use crate::jobs::{Bend, Job};
use crate::model::{Estimate, Material};
use crate::units::Quantity;

/// Jobs with a formula.
pub(in crate::input) const JOBS: &[&str] = &["pierce", "shear strip", WIRE, "bend", "upset rivet"];
const WIRE: &str = "cut wire";
/// Jobs that are asked for and have none that could be relied on.
const MEASURED: &[&str] = &["crimp barrel", "flare", "eyelet"];
/// Keys that say what a job is like.
const SIZES: &[&str] = &[
    "hole",
    "thickness",
    "width",
    "diameter",
    "opening",
    "into",
    "from",
    "to",
    "shear",
    "tensile",
    "flow",
    "material",
    "penetration",
    "rise",
    "friction",
    "starts",
    "spread",
];
/// Shear strength over tensile strength where only the latter is known: of steels and half-hard brass and copper it
/// is 0.6 to 0.8 (from memory; soft copper 0.65 to 0.75, *Smithells Metals Reference Book*, 8th ed., table 22.7).
const SHEAR: f64 = 0.8;

const LENGTHS: [&str; 9] = [
    "hole",
    "thickness",
    "width",
    "diameter",
    "opening",
    "from",
    "to",
    "rise",
    "starts",
];
const STRENGTHS: [&str; 3] = ["shear", "tensile", "flow"];

/// What is said of a job; `None` within: what is said is wrong, and reported.
pub(super) struct Sizes {
    /// Lengths and strengths, by their keys.
    stated: Vec<(&'static str, Option<f64>)>,
    /// Of the material: tensile and yield strength.
    tensile: Option<f64>,
    yielding: Option<f64>,
    into: Bend,
    penetration: Option<f64>,
    friction: Option<f64>,
    spread: Option<f64>,
}

impl Sizes {
    /// A length as stated, or a strength: else what the material has for it, of flow the middle between yield and
    /// tensile strength (common practice, no source).
    fn find(&self, key: &str) -> Option<f64> {
        let stated = self.stated.iter().find(|(known, _)| *known == key);
        stated.and_then(|(_, value)| *value).or_else(|| match key {
            "shear" => Some(SHEAR * self.tensile?),
            "tensile" => self.tensile,
            "flow" => Some(0.5 * (self.yielding? + self.tensile?)),
            _ => None,
        })
    }

    /// The job of this name; `missing` takes the keys of what it needs and has not.
    fn job(&self, word: &str, share: f64, friction: f64, missing: &mut Vec<&'static str>) -> Job {
        let mut size = |key: &'static str| {
            let found = self.find(key);
            if found.is_none() {
                missing.push(key);
            }
            found.unwrap_or(1.0)
        };
        match word {
            "pierce" => Job::Pierce {
                hole: size("hole"),
                thickness: size("thickness"),
                shear: size("shear"),
                penetration: share,
            },
            "shear strip" => Job::Shear {
                width: size("width"),
                thickness: size("thickness"),
                shear: size("shear"),
                penetration: share,
                rise: self.find("rise").unwrap_or(0.0),
            },
            WIRE => Job::CutWire {
                diameter: size("diameter"),
                tensile: size("tensile"),
                penetration: share,
            },
            "bend" => Job::Bend {
                width: size("width"),
                thickness: size("thickness"),
                tensile: size("tensile"),
                opening: size("opening"),
                into: self.into,
            },
            _ => Job::Upset {
                diameter: size("diameter"),
                from: size("from"),
                to: size("to"),
                flow: size("flow"),
                friction,
            },
        }
    }
}

impl Reader<'_> {
    /// Reads all that may be said of a job, so that each is found wrong where it is.
    pub(super) fn sizes(&mut self, fields: &Fields<'_>, materials: &[Material]) -> Sizes {
        let lengths = LENGTHS.map(|key| (key, Quantity::Length));
        let strengths = STRENGTHS.map(|key| (key, Quantity::Stress));
        let all = lengths.into_iter().chain(strengths);
        let stated = all.map(|(key, quantity)| {
            let value = fields.get(key);
            (
                key,
                value.and_then(|v| self.quantity(v, quantity, Sign::Positive)),
            )
        });
        let stated = stated.collect();
        let material = fields.get("material");
        let material = material.and_then(|v| self.material(materials, v));
        let material = material.and_then(|k| materials.get(k));
        let into = fields.get("into");
        let into = into.and_then(|v| self.word(v, "into", &["V", "edge"]));
        let wire = fields
            .get("job")
            .is_some_and(|v| v.get_ref().as_str() == Some(WIRE));
        Sizes {
            stated,
            tensile: material.and_then(|material| material.ultimate),
            yielding: material.map(|material| material.yield_strength),
            into: match into {
                Some("edge") => Bend::Wiped,
                _ => Bend::Vee,
            },
            penetration: self.share(fields, "penetration", if wire { 0.5 } else { 0.35 }, 1.0),
            friction: match fields.get("friction") {
                Some(value) => self.friction(value),
                None => Some(0.15),
            },
            spread: self.share(fields, "spread", 0.2, 0.99),
        }
    }

    /// A share greater than zero; `usual` where it is left out.
    fn share(
        &mut self,
        fields: &Fields<'_>,
        key: &'static str,
        usual: f64,
        most: f64,
    ) -> Option<f64> {
        let Some(value) = fields.get(key) else {
            return Some(usual);
        };
        let number = self.above_zero(value, &format!("`{key}`"), "0.35")?;
        if number > most {
            let message = format!("`{key}` is a share, at most {most}");
            let problem = Diagnostic::error(code::SIZE, value.span(), message);
            self.report(problem.help("give it as a part of 1, e.g. 0.35"));
            return None;
        }
        Some(number)
    }

    /// Reports what goes with a `job` and has none.
    pub(super) fn no_job(&mut self, fields: &Fields<'_>) {
        for key in SIZES.iter().filter(|key| fields.get(key).is_some()) {
            let message = format!("`{key}` goes with `job`, from which the work is estimated");
            let problem = Diagnostic::error(code::TOGETHER, fields.span_of(key), message);
            self.report(problem.help("state the `job`, or take it out"));
        }
    }

    /// The curve of the job that `value` names.
    pub(super) fn estimate(
        &mut self,
        fields: &Fields<'_>,
        value: &Value<'_>,
        sizes: &Sizes,
    ) -> Option<(Vec<[f64; 2]>, Estimate)> {
        let asked = value.get_ref().as_str();
        let measured = MEASURED.iter().find(|known| asked == Some(**known));
        let word = match measured {
            Some(_) => None,
            None => Some(self.word(value, "job", JOBS)?),
        };
        if fields.get("need").is_some() {
            let message = "the work is measured (`need`) or estimated (`job`), not both";
            let problem = Diagnostic::error(code::TOGETHER, fields.span_of("job"), message);
            self.report(
                problem.help("measured rows are the better ones: take out `job` and its sizes"),
            );
            return None;
        }
        if let Some(text) = measured {
            let message = format!("there is no formula for `{text}` that could be relied on");
            let problem = Diagnostic::error(code::WORD, value.span(), message);
            self.report(problem.help(
                "measure it, on an arbor press with a load cell: `need = [[gap, force], ..]`",
            ));
        }
        let word = JOBS.iter().copied().find(|known| word == Some(known))?;
        let mut missing = Vec::new();
        let job = sizes.job(word, sizes.penetration?, sizes.friction?, &mut missing);
        let starts = sizes.find("starts").or_else(|| job.starts());
        if starts.is_none() {
            missing.push("starts");
        }
        for key in missing.iter().filter(|key| fields.get(key).is_none()) {
            let (message, help) = match STRENGTHS.contains(key) {
                false => (
                    format!("`{key}` is missing, which the job `{word}` is estimated from"),
                    format!("add `{key}`, a length"),
                ),
                true => (
                    format!("the job `{word}` is estimated from a strength, `{key}`"),
                    format!(
                        "add `{key}`, in MPa or psi, or `material`, one of [materials] with its `ultimate` strength"
                    ),
                ),
            };
            let problem = Diagnostic::error(code::MISSING, fields.span_of("job"), message);
            self.report(problem.help(help));
        }
        starts.filter(|_| missing.is_empty())?;
        if !job.fits() {
            let message = "a rivet is upset to less than stands out";
            let problem = Diagnostic::error(code::SIZE, fields.span_of("to"), message);
            self.report(
                problem.help("`from` is the length that stands out before, `to` what is left"),
            );
            return None;
        }
        let force = job.force();
        if !(force.is_finite() && force < 1e9) {
            let message = "these sizes ask for a force that no tool has";
            let problem = Diagnostic::error(code::SIZE, fields.span_of("job"), message);
            self.report(problem.help("look at sizes and strength, and their units"));
            return None;
        }
        let estimate = Estimate {
            job: word,
            of: job,
            starts: sizes.find("starts"),
            spread: sizes.spread?,
        };
        Some((estimate.curve(), estimate))
    }
}
