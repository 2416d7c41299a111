//! What is bought of a spring: wire, coils, ends.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::{Sign, short};
use crate::coils::{CoilEnds, Seats, Wire};
use crate::model::{Across, Form, Guide, Made, Spring, SpringSet, Wound};
use crate::units::{Quantity, UnitSystem};

/// Keys that go with `wire` only.
pub(super) const WITH_WIRE: [&str; 12] = [
    "coil", "outside", "turns", "made-of", "ends", "seats", "guide", "legs", "mandrel", "cycles",
    "modulus", "ultimate",
];
/// Those of a spring between two points, and of one about a pin.
const BETWEEN: [&str; 3] = ["ends", "seats", "guide"];
const ABOUT_PIN: [&str; 2] = ["legs", "mandrel"];
/// More often than this nothing happens in the life of a tool.
const MOST_TIMES: f64 = 1e12;
const LENGTH: Quantity = Quantity::Length;

impl Reader<'_> {
    /// A spring of wire.
    pub(super) fn wound(&mut self, fields: &Fields<'_>, about_pin: bool) -> Option<Wound> {
        if fields.entry("rate").is_some() {
            let span = fields.span_of("rate");
            let message =
                "`rate` and `wire`: the rate of a spring of wire follows from its wire and coils";
            self.report(
                Diagnostic::error(code::TOGETHER, span, message)
                    .help("take `rate` out, or `wire` and all that goes with it"),
            );
        }
        let strange: &[&str] = if about_pin { &BETWEEN } else { &ABOUT_PIN };
        for entry in fields.among(strange) {
            let (key, span) = (entry.key, entry.key_span.clone());
            let message = match about_pin {
                true => format!(
                    "`{key}` belongs to a spring between two points, and this one is about a pin"
                ),
                false => format!(
                    "`{key}` belongs to a spring about a pin, and this one is between two points"
                ),
            };
            let problem = Diagnostic::error(code::TOGETHER, span, message);
            self.report(problem.help(format!(
                "take `{key}` out, or see the two forms of [[springs]]"
            )));
        }
        let wire = self.length(fields, "wire");
        let across = self.across(fields);
        let turns = self.need(fields, "turns");
        let turns = turns.and_then(|v| self.above_zero(v, "`turns`", "9"));
        let of = self.need(fields, "made-of");
        let of = of.and_then(|v| self.word(v, "made-of", &Wire::ALL.map(Wire::name)));
        let of = of.and_then(|name| Wire::ALL.into_iter().find(|wire| wire.name() == name));
        let stress = |this: &mut Self, key| {
            let value = fields.get(key)?;
            this.quantity(value, Quantity::Stress, Sign::Positive)
        };
        let (modulus, ultimate) = (stress(self, "modulus"), stress(self, "ultimate"));
        let cycles = fields.get("cycles");
        let cycles = cycles.and_then(|v| self.times(v, "`cycles`"));
        let form = match about_pin {
            true => self.torsion_form(fields),
            false => self.helical_form(fields),
        };
        Some(Wound {
            wire: wire?,
            across: across?,
            turns: turns?,
            form: form?,
            of: of?,
            modulus,
            ultimate,
            cycles,
        })
    }

    /// How often something happens.
    pub(super) fn times(&mut self, value: &Value<'_>, what: &str) -> Option<f64> {
        let number = self.plain(value, what, "200000")?;
        if number > 0.0 && number <= MOST_TIMES {
            return Some(number);
        }
        let message = format!("{number} is not possible here");
        self.report(
            Diagnostic::error(code::SIZE, value.span(), message)
                .help("give a number above 0, at most a million million"),
        );
        None
    }

    /// A length that must be there.
    fn length(&mut self, fields: &Fields<'_>, key: &str) -> Option<f64> {
        let value = self.need(fields, key)?;
        self.quantity(value, LENGTH, Sign::Positive)
    }

    fn across(&mut self, fields: &Fields<'_>) -> Option<Across> {
        match (fields.entry("coil"), fields.entry("outside")) {
            (Some(coil), None) => {
                let coil = self.quantity(coil.value, LENGTH, Sign::Positive);
                coil.map(Across::Mean)
            }
            (None, Some(outside)) => {
                let outside = self.quantity(outside.value, LENGTH, Sign::Positive);
                outside.map(Across::Outside)
            }
            (None, None) if fields.meant("coil") || fields.meant("outside") => None,
            (coil, _) => {
                let (span, message) = match coil {
                    Some(_) => (
                        fields.span_of("outside"),
                        "`coil` and `outside` are two words for one size",
                    ),
                    None => (
                        fields.span_of("wire"),
                        "a spring of wire needs the size of its coils",
                    ),
                };
                self.report(
                    Diagnostic::error(code::TOGETHER, span, message)
                        .help("give `coil`, the mean diameter, or `outside`"),
                );
                None
            }
        }
    }

    fn helical_form(&mut self, fields: &Fields<'_>) -> Option<Form> {
        let ends = self.need(fields, "ends");
        let ends =
            ends.and_then(|v| self.word(v, "ends", &["plain", "squared", "ground", "hooks"]));
        let seats = fields.get("seats");
        let seats = seats.and_then(|v| self.word(v, "seats", &["flat", "one turns", "both turn"]));
        let seats = match seats {
            Some("one turns") => Seats::OneTurns,
            Some("both turn") => Seats::BothTurn,
            _ => Seats::Flat,
        };
        let guide = match fields.entry("guide") {
            Some(entry) => Some(self.guide(entry)?),
            None => None,
        };
        let ends = match ends? {
            "plain" => CoilEnds::Plain,
            "squared" => CoilEnds::Squared,
            "ground" => CoilEnds::Ground,
            _ => CoilEnds::Hooks,
        };
        Some(Form::Helical { ends, seats, guide })
    }

    fn guide(&mut self, entry: &Entry<'_>) -> Option<Guide> {
        let fields = self.known_table(entry, "`guide`", &keys::GUIDE)?;
        let mut read = |key| {
            let value = fields.get(key)?;
            Some(self.quantity(value, LENGTH, Sign::Positive))
        };
        match (read("bore"), read("pin")) {
            (Some(bore), None) => bore.map(Guide::Bore),
            (None, Some(pin)) => pin.map(Guide::Pin),
            (Some(None), _) | (_, Some(None)) => None,
            _ if fields.has_unknown() => None,
            _ => {
                let message = "`guide` has one of `bore` and `pin`";
                self.report(
                    Diagnostic::error(code::TOGETHER, fields.span.clone(), message).help(
                        "give what it runs in, { bore = 12 }, or what it runs on, { pin = 8 }",
                    ),
                );
                None
            }
        }
    }

    fn torsion_form(&mut self, fields: &Fields<'_>) -> Option<Form> {
        let one = (LENGTH, Sign::NotNegative);
        let legs = match fields.get("legs") {
            Some(value) => self.pair(value, [one, one], "`legs` are a pair of lengths"),
            None => Some([0.0; 2]),
        };
        let mandrel = match fields.get("mandrel") {
            Some(value) => Some(self.quantity(value, LENGTH, Sign::Positive)?),
            None => None,
        };
        Some(Form::Torsion {
            legs: legs?,
            mandrel,
        })
    }
}

/// Why a spring of wire cannot be made: the key that is at fault, what is wrong, what to do.
pub(super) fn spring_flaw(
    spring: &Spring,
    units: UnitSystem,
) -> Option<(&'static str, String, String)> {
    let Made::Wound(wound) = &spring.made else {
        return None;
    };
    let show = |mm: f64| format!("{} {}", short(units.show(mm, LENGTH)), units.symbol(LENGTH));
    let (key, mean) = match wound.across {
        Across::Mean(mean) => ("coil", mean),
        Across::Outside(outside) => ("outside", outside - wound.wire),
    };
    if mean < Wound::LEAST_INDEX * wound.wire {
        let message = format!(
            "wire of {} cannot be wound to coils of mean diameter {}",
            show(wound.wire),
            show(mean.max(0.0))
        );
        let help = "the mean diameter is the outside less one wire, and usually 4 to 12 wires: wider coils, or thinner wire";
        return Some((key, message, help.to_owned()));
    }
    if wound.strength().is_none() {
        let [thin, thick] = wound.of.range();
        let message = format!(
            "no strength is known for {} of {} ({})",
            wound.of.name(),
            show(wound.wire),
            wound.of.standard()
        );
        let help = format!(
            "known from {} to {}; give `ultimate`, the tensile strength from the maker's data sheet",
            show(thin),
            show(thick)
        );
        return Some(("wire", message, help));
    }
    let (SpringSet::Free(free), Some(helical)) = (spring.set, wound.helical()) else {
        return None;
    };
    if free > helical.solid() {
        return None;
    }
    let message = format!(
        "the free length {} is no longer than its coils, which touch each other at {}",
        show(free),
        show(helical.solid())
    );
    let help = "a longer spring, fewer turns or thinner wire";
    Some(("free", message, help.to_owned()))
}
