//! Four-bars in a row: the rocker of each carries the crank of the next.

use super::build;
use super::four_bar::FourBar;
use jawforce::model::{Target, Tool};

/// One of them. Crank and rocker are of one length and stand evenly about the middle where the stroke
/// is, so that both turn by as much and the motion neither dies away nor grows along the chain.
pub const LINK: FourBar = FourBar {
    a: 40.0,
    b: 50.0,
    c: 40.0,
    d: 60.0,
    e: 55.0,
    grip: 100.0,
    axis: 3.2,
    side: -1.0,
};

/// Crank angle at the open end and at the shut end, rad; the even pose between them has
/// cos = (60 − 50) / (2 · 40).
pub const STROKE: [f64; 2] = [1.475, 1.415];

/// A chain of `count`, with its jaw on the last rocker.
pub fn chain(count: usize) -> Tool {
    let mut crank = 0.5 * (STROKE[0] + STROKE[1]);
    let at = LINK.solve(crank, 1.0);
    // Every rocker carries the next crank, which stands as the first does.
    let turn = crank - at.rocker;
    let arm = [LINK.a * turn.cos(), LINK.a * turn.sin()];
    let ground = |k: usize| [k as f64 * LINK.d, 0.0];
    let name = |kind: &str, k: usize| format!("{kind}{k}");
    let pins: Vec<(String, [f64; 2])> = (0..=count).map(|k| (name("P", k), ground(k))).collect();
    let pins: Vec<(&str, [f64; 2])> = pins.iter().map(|(n, at)| (n.as_str(), *at)).collect();
    let tip = ground(count);
    let mut parts = vec![build::part(
        "frame",
        &pins,
        &[("anvil", [tip[0], -40.0])],
        [0.0; 3],
    )];
    parts.push(build::part(
        "crank",
        &[("P0", [0.0; 2]), ("B0", [LINK.a, 0.0])],
        &[],
        [0.0, 0.0, crank],
    ));
    for k in 0..count {
        let from = ground(k);
        let b = [
            from[0] + LINK.a * crank.cos(),
            from[1] + LINK.a * crank.sin(),
        ];
        parts.push(build::part(
            &name("coupler", k),
            &[(&name("B", k), [0.0; 2]), (&name("C", k), [LINK.b, 0.0])],
            &[],
            [b[0], b[1], at.coupler],
        ));
        let [x, y] = ground(k + 1);
        let next = (name("B", k + 1), arm);
        let mut rocker = vec![(name("P", k + 1), [0.0; 2]), (name("C", k), [LINK.c, 0.0])];
        if k + 1 < count {
            rocker.push(next);
        }
        let rocker: Vec<(&str, [f64; 2])> =
            rocker.iter().map(|(n, at)| (n.as_str(), *at)).collect();
        parts.push(build::part(
            &name("rocker", k),
            &rocker,
            &[("tip", [LINK.e, 0.0])],
            [x, y, at.rocker],
        ));
        crank = at.rocker + turn;
    }
    let on = format!("rocker{}.tip", count - 1);
    let mut tool = build::tool(
        parts,
        ("crank", vec![[0.0; 2], [150.0, 0.0]]),
        vec![100.0],
        (&on, "frame.anvil", Some(LINK.axis)),
    );
    tool.stroke.open = Target::Handle(STROKE[0]);
    tool.stroke.shut = Target::Handle(STROKE[1]);
    build::no_dies(&mut tool);
    tool
}
