//! A lever on one pin, level where it is shut: for what is calculated by hand.

/// A lever on the pin `heel` of `base`, the nose at this distance from it over the anvil, the hand on the
/// other side of the pin at these grips, square to the lever. The gap is that of the nose over the
/// level, 5 mm at open and 0 at shut. `seats`: more marks of the base; `hand`: more lines of that table;
/// `more`: more tables.
pub fn level(nose: f64, seats: &str, grips: &str, hand: &str, more: &str) -> String {
    format!(
        r#"
[tool]
name = "Lever"
units = "mm-N"
[parts.base]
fixed = true
pins = {{ heel = [0, 0] }}
marks = {{ anvil = [40, 0]{seats} }}
[parts.lever]
pins = {{ heel = [0, 0] }}
marks = {{ nose = [{nose}, 0] }}
[sketch]
"lever.nose" = [40, 3]
[hand]
part = "lever"
line = [[0, 0], [-200, 0]]
push = "square"
grips = {grips}
{hand}
[[jaw]]
on = "lever.nose"
against = "base.anvil"
axis = 90
[stroke]
open = {{ gap = 5 }}
shut = {{ gap = 0 }}
{more}
"#
    )
}
