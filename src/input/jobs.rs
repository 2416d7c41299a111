//! `job` of a `[work]`: its curve estimated from size and strength.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Fields, Reader};
use super::size::Sign;
use crate::jobs::{Bend, Job};
use crate::model::{Estimate, Material};
use crate::units::Quantity;

/// Jobs with a formula.
pub(in crate::input) const JOBS: &[&str] =
    &["pierce", "shear strip", "cut wire", "bend", "upset rivet"];
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

/// What may be said of a job.
struct Sizes {
    length: Vec<(&'static str, Option<f64>)>,
    stress: Vec<(&'static str, Option<f64>)>,
    tensile: Option<f64>,
    yielding: Option<f64>,
}

impl Reader<'_> {
    /// The curve that `job` asks for; `None` without that key, `Some(None)` where it cannot be told.
    #[expect(clippy::option_option, reason = "asked for or not, and told or not")]
    pub(super) fn estimate(
        &mut self,
        fields: &Fields<'_>,
        materials: &[Material],
    ) -> Option<Option<(Vec<[f64; 2]>, Estimate)>> {
        let plain = |reader: &mut Self, key: &'static str, usual: f64, most: f64| {
            let Some(value) = fields.get(key) else {
                return Some(usual);
            };
            let number = reader.above_zero(value, &format!("`{key}`"), "0.35")?;
            if number > most {
                let message = format!("`{key}` is a share, at most {most}");
                let problem = Diagnostic::error(code::SIZE, value.span(), message);
                reader.report(problem.help("give it as a part of 1, e.g. 0.35"));
                return None;
            }
            Some(number)
        };
        // All are read, so that each is found wrong where it is.
        let length = [
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
        let length = length.map(|key| {
            let value = fields.get(key);
            (
                key,
                value.and_then(|v| self.quantity(v, Quantity::Length, Sign::Positive)),
            )
        });
        let stress = ["shear", "tensile", "flow"].map(|key| {
            let value = fields.get(key);
            (
                key,
                value.and_then(|v| self.quantity(v, Quantity::Stress, Sign::Positive)),
            )
        });
        let material = fields.get("material");
        let material = material.and_then(|v| self.material(materials, v));
        let material = material.and_then(|k| materials.get(k));
        let into = fields.get("into");
        let into = into.and_then(|v| self.word(v, "into", &["V", "edge"]));
        let penetration = fields.get("penetration").is_some();
        let share = plain(self, "penetration", 0.35, 1.0);
        let spread = plain(self, "spread", 0.2, 0.99);
        let friction = match fields.get("friction") {
            Some(value) => self.friction(value),
            None => Some(0.15),
        };
        let sizes = Sizes {
            length: length.to_vec(),
            stress: stress.to_vec(),
            tensile: material.and_then(|material| material.ultimate),
            yielding: material.map(|material| material.yield_strength),
        };
        let Some(value) = fields.get("job") else {
            for key in SIZES.iter().filter(|key| fields.get(key).is_some()) {
                let message = format!("`{key}` goes with `job`, from which the work is estimated");
                let problem = Diagnostic::error(code::TOGETHER, fields.span_of(key), message);
                self.report(problem.help("state the `job`, or take it out"));
            }
            return None;
        };
        let asked = self.asked_to_measure(value);
        let word = match asked {
            Some(_) => None,
            None => self.word(value, "job", JOBS),
        };
        if asked.is_none() && word.is_none() {
            return Some(None);
        }
        if fields.get("need").is_some() {
            let message = "the work is measured (`need`) or estimated (`job`), not both";
            let problem = Diagnostic::error(code::TOGETHER, fields.span_of("job"), message);
            self.report(
                problem.help("measured rows are the better ones: take out `job` and its sizes"),
            );
            return Some(None);
        }
        if let Some(text) = asked {
            let message = format!("there is no formula for `{text}` that could be relied on");
            let problem = Diagnostic::error(code::WORD, value.span(), message);
            self.report(problem.help(
                "measure it, on an arbor press with a load cell: `need = [[gap, force], ..]`",
            ));
            return Some(None);
        }
        let Some(word) = word else {
            return Some(None);
        };
        let (Some(share), Some(spread), Some(friction)) = (share, spread, friction) else {
            return Some(None);
        };
        let mut missing = Vec::new();
        let mut size = |key: &'static str| {
            let found = sizes.length(key);
            if found.is_none() {
                missing.push(key);
            }
            found.unwrap_or(1.0)
        };
        let mut lacking = Vec::new();
        let mut strength = |key: &'static str| {
            let found = sizes.strength(key);
            if found.is_none() {
                lacking.push(key);
            }
            found.unwrap_or(1.0)
        };
        let wire = if penetration { share } else { 0.5 };
        let rise = sizes.length("rise").unwrap_or(0.0);
        let (word, job) = match word {
            "pierce" => (
                JOBS[0],
                Job::Pierce {
                    hole: size("hole"),
                    thickness: size("thickness"),
                    shear: strength("shear"),
                    penetration: share,
                },
            ),
            "shear strip" => (
                JOBS[1],
                Job::Shear {
                    width: size("width"),
                    thickness: size("thickness"),
                    shear: strength("shear"),
                    penetration: share,
                    rise,
                },
            ),
            "cut wire" => (
                JOBS[2],
                Job::CutWire {
                    diameter: size("diameter"),
                    tensile: strength("tensile"),
                    penetration: wire,
                },
            ),
            "bend" => (
                JOBS[3],
                Job::Bend {
                    width: size("width"),
                    thickness: size("thickness"),
                    tensile: strength("tensile"),
                    opening: size("opening"),
                    into: if into == Some("edge") {
                        Bend::Wiped
                    } else {
                        Bend::Vee
                    },
                },
            ),
            _ => (
                JOBS[4],
                Job::Upset {
                    diameter: size("diameter"),
                    from: size("from"),
                    to: size("to"),
                    flow: strength("flow"),
                    friction,
                },
            ),
        };
        let starts = sizes.length("starts").or_else(|| job.starts());
        if starts.is_none() {
            missing.push("starts");
        }
        for key in &missing {
            let known = fields.get(key).is_some();
            if !known {
                let message =
                    format!("`{key}` is missing, which the job `{word}` is estimated from");
                let problem = Diagnostic::error(code::MISSING, fields.span_of("job"), message);
                self.report(problem.help(format!("add `{key}`, a length")));
            }
        }
        for key in &lacking {
            if fields.get(key).is_none() {
                let message = format!("the job `{word}` is estimated from a strength, `{key}`");
                let problem = Diagnostic::error(code::MISSING, fields.span_of("job"), message);
                self.report(problem.help(format!(
                    "add `{key}`, in MPa or psi, or `material`, one of [materials] with its `ultimate` strength"
                )));
            }
        }
        let Some(starts) = starts.filter(|_| missing.is_empty() && lacking.is_empty()) else {
            return Some(None);
        };
        if let Job::Upset { from, to, .. } = job
            && !(from > to)
        {
            let message = "a rivet is upset to less than stands out";
            let problem = Diagnostic::error(code::SIZE, fields.span_of("to"), message);
            self.report(
                problem.help("`from` is the length that stands out before, `to` what is left"),
            );
            return Some(None);
        }
        let force = job.force();
        if !(force.is_finite() && force < 1e9) {
            let message = "these sizes ask for a force that no tool has";
            let problem = Diagnostic::error(code::SIZE, fields.span_of("job"), message);
            self.report(problem.help("look at sizes and strength, and their units"));
            return Some(None);
        }
        let estimate = Estimate {
            job: word,
            formula: job.source(),
            force,
            spread,
        };
        Some(Some((job.curve(starts), estimate)))
    }

    /// The name of a job that has to be measured.
    fn asked_to_measure(&self, value: &super::fields::Value<'_>) -> Option<&'static str> {
        let toml::de::DeValue::String(text) = value.get_ref() else {
            return None;
        };
        MEASURED
            .iter()
            .copied()
            .find(|known| *known == text.as_ref())
    }
}

impl Sizes {
    fn length(&self, key: &str) -> Option<f64> {
        let found = self.length.iter().find(|(known, _)| *known == key);
        found.and_then(|(_, value)| *value)
    }

    /// A strength as stated, or what the material has for it: of flow the middle between yield and tensile strength
    /// (common practice, no source).
    fn strength(&self, key: &str) -> Option<f64> {
        let stated = self.stress.iter().find(|(known, _)| *known == key);
        stated.and_then(|(_, value)| *value).or_else(|| match key {
            "shear" => Some(SHEAR * self.tensile?),
            "flow" => Some(0.5 * (self.yielding? + self.tensile?)),
            _ => self.tensile,
        })
    }
}
