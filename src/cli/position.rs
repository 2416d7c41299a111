//! Positions as they are typed: `open`, `shut`, `peak`, `gap=0.4`, `handle=12`, `span=70`.

use super::Stop;
use crate::input::typed;
use crate::model::{At, Tool};
use crate::units::Quantity;

/// The position that `text` names, for the option of that name.
pub(super) fn parse_position(tool: &Tool, option: &str, text: &str) -> Result<At, Stop> {
    let wrong = |what: String| Stop::input(format!("error: {option} {text}: {what}"));
    let Some((word, value)) = text.split_once('=') else {
        return match text.trim() {
            "open" => Ok(At::Open),
            "shut" => Ok(At::Shut),
            "peak" => Ok(At::Peak),
            "least" => Ok(At::Least),
            _ => Err(wrong(
                "write open, shut, peak, least, gap=…, handle=… or span=…, e.g. gap=0.4".to_owned(),
            )),
        };
    };
    let read = |quantity: Quantity| {
        typed(value, quantity, tool.units).map_err(|(what, help)| wrong(format!("{what}; {help}")))
    };
    match word.trim() {
        "gap" => read(Quantity::Length).map(At::Gap),
        "handle" => read(Quantity::Angle).map(At::Handle),
        "span" => read(Quantity::Length).map(At::Span),
        other => Err(wrong(format!(
            "a position is named by gap, handle or span, not by `{other}`"
        ))),
    }
}
