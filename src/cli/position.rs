//! Positions as they are typed: `open`, `shut`, `peak`, `gap=0.4`, `handle=12`, `span=70`, `stop=lug`.

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
                "write open, shut, peak, least, gap=…, handle=…, span=… or stop=…, e.g. gap=0.4"
                    .to_owned(),
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
        "stop" => {
            let names: Vec<&str> = tool.stops.iter().map(|stop| stop.name.as_str()).collect();
            tool.stop_named(value.trim())
                .map(At::Stop)
                .ok_or_else(|| match names.as_slice() {
                    [] => wrong("the tool has no stop: add a table [[stops]]".to_owned()),
                    names => wrong(format!(
                        "there is no stop of that name; stops: {}",
                        names.join(", ")
                    )),
                })
        }
        other => Err(wrong(format!(
            "a position is named by gap, handle, span or stop, not by `{other}`"
        ))),
    }
}

/// The positions of a drawing, with commas between.
pub(super) fn positions(tool: &Tool, text: &str) -> Result<Vec<At>, Stop> {
    let mut positions = Vec::new();
    for one in text.split(',').map(str::trim) {
        let at = parse_position(tool, "--at", one)?;
        if matches!(at, At::Peak | At::Least) {
            return Err(Stop::input(format!(
                "error: --at {one}: a drawing needs a place on the stroke: open, shut, gap=…, handle=… or span=…"
            )));
        }
        positions.push(at);
    }
    if positions.len() > MOST {
        return Err(Stop::input(format!(
            "error: --at names {} positions; {MOST} at most fit on a page",
            positions.len()
        )));
    }
    Ok(positions)
}

/// Most positions of one drawing.
const MOST: usize = 12;
