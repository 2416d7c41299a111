//! What a tool has and the model does not: said so, with the nearest way to write it.

/// Words of what is not modelled, in any number, and what to write in its place.
const WAYS: &[(&[&str], &str)] = &[
    (
        &["gear", "pinion", "rack", "racks", "sector", "teeth"],
        "teeth in mesh stand in a list of tables of their own: [[gears]]",
    ),
    (
        &["follower", "lobe"],
        "a cam that pushes a roller or a flat stands in [[cams]]: an eccentric disc, or a smooth curve through points; \
         a straight ramp is a slot in [[slots]]",
    ),
    (
        &["weight", "weights", "mass", "masses", "gravity"],
        "weights are left out, being small beside the forces of a hand: where one matters, a soft spring to a mark \
         far below pulls as it does: [[springs]] with a low `rate`, the weight as `preload`, acts = \"pull\"",
    ),
    (
        &["outline", "contour", "profile", "shape"],
        "the border of a part's plates stands in a table of its own: [outlines.PART]",
    ),
    (
        &["ratchets", "pawl", "pawls"],
        "teeth and the pawl that holds them are one table: [ratchet]",
    ),
    (
        &["cable", "cables", "rope", "chain", "belt"],
        "what stays taut between two points is a link: a part with two pins and a `length`",
    ),
    (
        &["screw", "screws", "shim", "shims", "eccentric"],
        "write it as a table [[adjusters]]: an eccentric `pin`, or a `dimension` with its `pitch`",
    ),
    (
        &["damper", "dampers", "speed", "velocity", "inertia", "time"],
        "the motion is slow: forces are those at rest in each position",
    ),
];

/// The nearest way to write what a key means, if that is not modelled.
pub(super) fn not_modelled(key: &str) -> Option<&'static str> {
    let key = key.to_lowercase();
    let found = WAYS.iter().find(|(words, _)| words.contains(&key.as_str()));
    found.map(|(_, way)| *way)
}
