//! How much of an answer a tool asks for: what would take minutes or all memory is refused.

use super::code;
use super::diagnostic::Diagnostic;
use super::fields::Reader;
use crate::model::{Tool, amount};
use crate::numeric::scan::border;
use std::convert::Infallible;

/// Most numbers of an answer, over all positions. Each takes some 200 bytes on its way to JSON, so
/// that this is 400 MB.
const MOST_NUMBERS: usize = 2_000_000;

/// Most time of an answer, ns, as [`amount`] reckons it: some five seconds for long chains that friction
/// locks, one to two for tools of a usual size.
const MOST_TIME: f64 = 6e9;

/// Most demands: each is looked for anew along the stroke.
const MOST_DEMANDS: usize = 100;

/// The most steps of the stroke that are solved for a tool with so many grips, jaws, joints and
/// demands; 0 where it has too many of those.
#[must_use]
pub fn most_steps(tool: &Tool) -> usize {
    let (grips, jaws) = (tool.hand.grips.len(), tool.jaws.len());
    let joints = tool.all_joints().count();
    let numbers = grips * (4 * jaws + 2 * joints + 4) + 2 * joints;
    let most = (MOST_NUMBERS / numbers.max(1)).saturating_sub(1);
    let fits = |steps: f64| Ok::<_, Infallible>(amount::stroke(tool, steps) <= MOST_TIME);
    let Ok([steps, _]) = border(fits, 0.0, most as f64 + 1.0);
    steps as usize
}

/// Why so many steps are not solved, if they are not, and what to do.
#[must_use]
pub fn too_much(tool: &Tool) -> Option<[String; 2]> {
    let (steps, most) = (tool.stroke.steps, most_steps(tool));
    if steps <= most {
        return None;
    }
    let count = |n: usize, what: &str| format!("{n} {what}{}", if n == 1 { "" } else { "s" });
    let demands = match tool.demands.len() {
        0 => String::new(),
        n => format!(", {}", count(n, "demand")),
    };
    let size = format!(
        "{}, {}{demands} and {}",
        count(tool.hand.grips.len(), "grip"),
        count(tool.jaws.len(), "jaw"),
        count(tool.all_joints().count(), "joint")
    );
    let message = format!("{steps} steps are more than are solved with {size}");
    let fewer = if demands.is_empty() {
        "fewer grips and jaws at a time"
    } else {
        "fewer grips, jaws and demands at a time"
    };
    let help = if most < 2 {
        format!("ask for {fewer}")
    } else {
        format!("ask for at most {most} steps, or for {fewer}")
    };
    Some([message, help])
}

impl Reader<'_> {
    pub(super) fn check_amount(&mut self, tool: &Tool) {
        if tool.demands.len() > MOST_DEMANDS {
            let count = tool.demands.len();
            let first_over = format!("demand.{MOST_DEMANDS}");
            let place = self.spans.get(&first_over).cloned().unwrap_or(0..0);
            let message =
                format!("{count} demands are more than the {MOST_DEMANDS} that are taken");
            let problem = Diagnostic::error(code::TOO_MANY, place, message);
            self.report(problem.help("keep those that decide between designs"));
        }
        // Too many joints are told as such.
        let known_already = |known: &Diagnostic| known.code == code::TOO_MANY;
        if self.found.iter().any(known_already) {
            return;
        }
        let Some([message, help]) = too_much(tool) else {
            return;
        };
        let place = ["stroke.steps", "hand.grips"]
            .iter()
            .find_map(|key| self.spans.get(*key).cloned());
        let place = place.unwrap_or(0..0);
        self.report(Diagnostic::error(code::TOO_MANY, place, message).help(help));
    }
}
