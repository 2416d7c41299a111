//! `[[stops]]`: two faces that meet and end the stroke.

use super::around::Stops;
use super::code;
use super::diagnostic::Diagnostic;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader, Value};
use super::keys;
use super::size::Sign;
use super::spelling;
use crate::model::{Stop, StopEnd, StopId};
use crate::units::Quantity;

impl Reader<'_> {
    pub(super) fn stops(&mut self, entry: &Entry<'_>, draft: &Draft) -> Vec<Stop> {
        let mut stops: Vec<Stop> = Vec::new();
        for fields in &self.tables(entry, "[[stops]]", &keys::STOP) {
            let Some(stop) = self.stop(fields, draft) else {
                continue;
            };
            if stops.iter().any(|known| known.name == stop.name) {
                let name = fields.span_of("name");
                let message = format!("a stop is called `{}` already", stop.name);
                let problem = Diagnostic::error(code::NAME_TWICE, name, message);
                self.report(problem.help("give each stop a name of its own"));
            }
            if let Some(known) = stops.iter().find(|known| known.ends == stop.ends) {
                let end = word(stop.ends);
                let message = format!("stop `{}` ends the stroke at {end} already", known.name);
                let problem = Diagnostic::error(code::STOPS, fields.span_of("ends"), message);
                self.report(problem.help(
                    "one stop for each end: leave out the one that is met later, or let it end the other end",
                ));
            }
            self.spans
                .insert(format!("stops.{}", stop.name), fields.span.clone());
            stops.push(stop);
        }
        stops
    }

    fn stop(&mut self, fields: &Fields<'_>, draft: &Draft) -> Option<Stop> {
        let name = self.need(fields, "name");
        let name = name.and_then(|v| Some((self.text(v, "`name`")?, v.span())));
        let name = name.filter(|(name, span)| self.good_name(name, span.clone()));
        let on = self.need(fields, "on");
        let on = on.and_then(|v| self.point(draft, v, "on"));
        let against = self.need(fields, "against");
        let against = against.and_then(|v| self.point(draft, v, "against"));
        if let (Some(a), Some(b)) = (on, against)
            && a.part == b.part
        {
            let problem = Diagnostic::error(
                code::STOPS,
                fields.span_of("against"),
                "both faces of the stop are on the same part, so they never meet",
            );
            self.report(problem.help("`against` names a point of another part"));
        }
        let axis = fields.get("axis");
        let stated = axis.is_some();
        let axis = axis.and_then(|v| self.quantity(v, Quantity::Angle, Sign::Any));
        let closed = match fields.get("closed") {
            None => Some(0.0),
            Some(value) => self.quantity(value, Quantity::Length, Sign::Any),
        };
        if !stated && closed.is_some_and(|closed| closed <= 0.0) {
            let problem = Diagnostic::error(
                code::TOGETHER,
                fields.span.clone(),
                "the faces are measured along the line between two points, and that is never less than nothing",
            );
            self.report(problem.help(
                "state `axis`, the direction in which the faces part; or, for a round lug, `closed` with the \
                 distance of its centre from the other point as they meet",
            ));
        }
        let rate = fields.get("rate");
        let rate = rate.and_then(|v| self.quantity(v, Quantity::Rate, Sign::Positive));
        let ends = self.need(fields, "ends");
        let ends = ends.and_then(|v| self.word(v, "ends", &["shut", "open"]));
        Some(Stop {
            name: name?.0.to_owned(),
            on: on?,
            against: against?,
            axis,
            closed: closed?,
            rate,
            ends: match ends? {
                "open" => StopEnd::Open,
                _ => StopEnd::Shut,
            },
        })
    }

    /// The stop of the name that stands there, if there is such a one.
    pub(super) fn named_stop(&mut self, value: &Value<'_>, stops: Stops<'_>) -> Option<StopId> {
        let name = self.text(value, "`stop`")?;
        let known = stops.list.iter().position(|stop| stop.name == name);
        if known.is_none() && stops.complete {
            let names: Vec<&str> = stops.list.iter().map(|stop| stop.name.as_str()).collect();
            let help = match names.as_slice() {
                [] => "add a table [[stops]] with that `name`".to_owned(),
                names => spelling::hint(name, "stops", names),
            };
            let message = format!("no stop is called `{name}`");
            let problem = Diagnostic::error(code::UNKNOWN_STOP, value.span(), message);
            self.report(problem.help(help));
        }
        known.map(StopId::new)
    }

    /// A stop that is to be one end of the stroke is the one for that end.
    pub(super) fn stop_ends(
        &mut self,
        value: &Value<'_>,
        (stops, stop): (Stops<'_>, StopId),
        end: &str,
    ) {
        let Some(stop) = stops.list.get(stop.index()) else {
            return;
        };
        if word(stop.ends) != end {
            let message = format!(
                "stop `{}` ends the stroke at {}, not at {end}",
                stop.name,
                word(stop.ends)
            );
            let problem = Diagnostic::error(code::STOPS, value.span(), message);
            self.report(problem.help(format!(
                "name another stop, or write `ends = \"{end}\"` in its table"
            )));
        }
    }
}

fn word(end: StopEnd) -> &'static str {
    match end {
        StopEnd::Open => "open",
        StopEnd::Shut => "shut",
    }
}
