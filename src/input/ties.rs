//! `[ties]`: numbers that follow others, as sums of multiples.

use std::ops::Range;

use toml::de::DeValue;

use super::code;
use super::diagnostic::Diagnostic;
use super::expression::{Fault, Operand, Term, terms};
use super::fields::{Entry, Fields, Reader};
use super::rewrite;
use super::size::{short, value_problem};
use super::tolerances::{Addresses, MOST_NAMES};
use crate::model::dimension::DimensionSlot;
use crate::model::{Tie, Tool};
use crate::units::{Quantity, UnitSystem, article};

/// A tie as it is written.
struct Raw<'d> {
    address: String,
    key: Range<usize>,
    slot: DimensionSlot,
    text: &'d str,
    place: Range<usize>,
    offset: f64,
    terms: Vec<(DimensionSlot, f64)>,
}

/// How far a number in the file may be from its tie, to be the same but for rounding: lengths as calipers
/// read them, other numbers to this of themselves.
const ROUNDED: f64 = 1e-3;

fn near(a: f64, b: f64, quantity: Option<Quantity>, units: UnitSystem) -> bool {
    let within = match quantity {
        Some(Quantity::Length) => units.caliper_step(),
        _ => ROUNDED * a.abs().max(b.abs()),
    };
    (a - b).abs() <= within * (1.0 + 1e-9)
}

impl Reader<'_> {
    /// Reads the ties into the tool, and brings its numbers to them.
    pub(super) fn ties(&mut self, entry: &Entry<'_>, tool: &mut Tool, known: &Addresses) {
        let Some(fields) = self.table(entry, "[ties]") else {
            return;
        };
        let mut raw: Vec<Raw<'_>> = Vec::new();
        for entry in &fields.entries {
            self.tie(entry, entry.key.to_owned(), known, &mut raw);
        }
        let Some(order) = self.order(&raw) else {
            return;
        };
        for k in order {
            if let Some(tie) = raw.get(k) {
                self.flatten(tie, tool);
            }
        }
        let named: Vec<(Tie, &Raw<'_>)> = (tool.ties.iter().cloned())
            .filter_map(|tie| Some((tie.clone(), raw.iter().find(|raw| raw.slot == tie.slot)?)))
            .collect();
        for (tie, raw) in named {
            self.overrides(&tie, raw, tool);
        }
        tool.follow_ties();
    }

    fn tie<'d>(
        &mut self,
        entry: &Entry<'d>,
        address: String,
        known: &Addresses,
        to: &mut Vec<Raw<'d>>,
    ) {
        if let DeValue::Table(table) = entry.value.get_ref()
            && address.split('.').count() < MOST_NAMES
        {
            // `right.pin.x = "..."` without quotes is a table in TOML; it means the same.
            for inner in Fields::of(table, &address, entry.value.span()).entries {
                self.tie(&inner, format!("{address}.{}", inner.key), known, to);
            }
            return;
        }
        let Some(slot) = self.dimension(&address, entry.key_span.clone(), known, false) else {
            return;
        };
        let DeValue::String(text) = entry.value.get_ref() else {
            let help = "write what it follows in quotes: \"-left.pin.x\", \"frame.post.y - 3\", \"0.5 * strut.length + 2 mm\"";
            self.wrong_type(entry.value, "a tie is a text", help);
            return;
        };
        if let Some(first) = to.iter().find(|tie| tie.slot == slot) {
            let message = format!("`{address}` is tied already");
            let problem = Diagnostic::error(code::NAME_TWICE, entry.key_span.clone(), message);
            self.report(
                problem
                    .also(first.key.clone(), "here")
                    .help("give one tie for each number"),
            );
            return;
        }
        let place = entry.value.span();
        match terms(text) {
            Ok(parts) => {
                let sum = self.sum(&parts, text, &place, (&address, slot), known);
                if let Some((offset, terms)) = sum {
                    let key = entry.key_span.clone();
                    to.push(Raw {
                        address,
                        key,
                        slot,
                        text,
                        place,
                        offset,
                        terms,
                    });
                }
            }
            Err(Fault { at, message, help }) => {
                let span = self.inside(place, text, at);
                self.report(Diagnostic::error(code::TIE, span, message).help(help));
            }
        }
    }

    /// What is added and what is followed, of the quantity of the number that is tied.
    fn sum(
        &mut self,
        parts: &[Term<'_>],
        text: &str,
        place: &Range<usize>,
        (address, slot): (&str, DimensionSlot),
        known: &Addresses,
    ) -> Option<(f64, Vec<(DimensionSlot, f64)>)> {
        let want = slot.quantity();
        let (mut offset, mut followed, mut good) = (0.0, Vec::new(), true);
        for part in parts {
            let span = self.inside(place.clone(), text, part.at.clone());
            match part.what {
                Operand::None => offset += part.factor * want.map_or(1.0, |q| self.units.factor(q)),
                Operand::Address(name) => {
                    let Some(other) = self.dimension(name, span.clone(), known, false) else {
                        good = false;
                        continue;
                    };
                    if other.quantity() != want {
                        good = false;
                        let message = format!(
                            "`{name}` is {}, and `{address}` is {}",
                            kind(other.quantity()),
                            kind(want)
                        );
                        let problem = Diagnostic::error(code::UNIT_KIND, span, message);
                        self.report(problem.help("a number follows numbers of its own kind"));
                    }
                    followed.push((other, part.factor));
                }
                Operand::Quantity(number) => {
                    let value = match want {
                        Some(quantity) => crate::units::parse(number, quantity, None)
                            .map_err(|error| (error.to_string(), error.help())),
                        None => Err((
                            format!("`{number}` has a unit, and `{address}` is a plain number"),
                            "write digits alone".to_owned(),
                        )),
                    };
                    match value {
                        Ok(value) => offset += part.factor * value,
                        Err((message, help)) => {
                            good = false;
                            self.report(
                                Diagnostic::error(code::UNIT_KIND, span, message).help(help),
                            );
                        }
                    }
                }
            }
        }
        good.then_some((offset, followed))
    }

    /// The ties in an order in which each follows only what comes before it; reports one that follows
    /// itself.
    fn order(&mut self, raw: &[Raw<'_>]) -> Option<Vec<usize>> {
        let mut order: Vec<usize> = Vec::new();
        let ready = |order: &[usize], tie: &Raw<'_>| {
            tie.terms.iter().all(|(slot, _)| {
                let tied = raw.iter().position(|other| other.slot == *slot);
                tied.is_none_or(|k| order.contains(&k))
            })
        };
        loop {
            let next =
                (raw.iter().enumerate()).find(|(k, tie)| !order.contains(k) && ready(&order, tie));
            match next {
                Some((k, _)) => order.push(k),
                None => break,
            }
        }
        let left = raw.iter().enumerate().find(|(k, _)| !order.contains(k));
        let Some((start, _)) = left else {
            return Some(order);
        };
        // Every one that is left follows one that is left: going on leads round.
        let mut way = vec![start];
        loop {
            let here = raw.get(*way.last()?)?;
            let next = here.terms.iter().find_map(|(slot, _)| {
                let k = raw.iter().position(|other| other.slot == *slot)?;
                (!order.contains(&k)).then_some(k)
            })?;
            if let Some(from) = way.iter().position(|&k| k == next) {
                way.drain(..from);
                break;
            }
            way.push(next);
        }
        let round: Vec<&Raw<'_>> = way.iter().filter_map(|&k| raw.get(k)).collect();
        let first = *round.first()?;
        let names: Vec<String> = (round.iter().skip(1).chain([&first]))
            .map(|tie| format!("`{}`", tie.address))
            .collect();
        let message = format!(
            "`{}` follows itself: it is tied to {}",
            first.address,
            names.join(", that to ")
        );
        let mut problem = Diagnostic::error(code::TIE_CIRCLE, first.place.clone(), message);
        for other in round.iter().skip(1) {
            problem = problem.also(other.place.clone(), "on the way round");
        }
        self.report(problem.help("take one of these ties out"));
        None
    }

    /// Adds a tie to the tool, in terms of numbers that are free: those it follows are there already.
    fn flatten(&mut self, raw: &Raw<'_>, tool: &mut Tool) {
        let (mut offset, mut terms) = (raw.offset, Vec::<(DimensionSlot, f64)>::new());
        let mut add = |slot: DimensionSlot, factor: f64| match terms
            .iter_mut()
            .find(|(known, _)| *known == slot)
        {
            Some((_, sum)) => *sum += factor,
            None => terms.push((slot, factor)),
        };
        for &(slot, factor) in &raw.terms {
            match tool.tie(slot) {
                Some(tie) => {
                    offset += factor * tie.offset;
                    tie.terms
                        .iter()
                        .for_each(|&(slot, inner)| add(slot, factor * inner));
                }
                None => add(slot, factor),
            }
        }
        tool.ties.push(Tie {
            address: raw.address.clone(),
            text: raw.text.to_owned(),
            slot: raw.slot,
            offset,
            terms,
        });
    }

    /// Reports a tie that gives another value than the file states, or one that cannot be.
    fn overrides(&mut self, tie: &Tie, raw: &Raw<'_>, tool: &Tool) {
        let (Some(value), quantity) = (tie.value(tool), tie.slot.quantity()) else {
            return;
        };
        let units = self.units;
        let show = |v: f64| {
            format!(
                "{} {}",
                short(units.shown(v, quantity)),
                units.unit(quantity)
            )
            .trim_end()
            .to_owned()
        };
        if let Some((what, help)) = value_problem(value, tie.slot, units) {
            self.report(Diagnostic::error(code::SIZE, raw.place.clone(), what).help(help));
            return;
        }
        let stated = rewrite::place(self.text, &tie.address);
        let (Some(stated), Some(own)) = (stated, tie.slot.get(tool)) else {
            return;
        };
        if near(own, value, quantity, units) {
            return;
        }
        let message = format!(
            "`{}` is {} by this tie, and the file states {}",
            tie.address,
            show(value),
            show(own)
        );
        let problem = Diagnostic::error(code::TIE_STATED, raw.place.clone(), message);
        self.report(problem.also(stated, "stated here").help(format!(
            "write {} there (a number that is tied is shown rounded), or take the tie out",
            show(value)
        )));
    }
}

fn kind(quantity: Option<Quantity>) -> &'static str {
    quantity.map_or("a plain number", article)
}
