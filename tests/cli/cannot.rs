//! Tools that cannot do what is asked end in a message, status 3, and no output.

use super::{Bench, Ended, SETTER, edited, place};

fn stroke(text: &str) -> Ended {
    Bench::with(text)
        .run(&[
            "stroke",
            "tool.toml",
            "--svg",
            "out.svg",
            "--csv",
            "out.csv",
        ])
        .code(3)
        .leaves_nothing()
}

/// A four-bar drawn in place: crank a–b, link b–c, rocker c–d.
fn four_bar(link: &str, more: &str, open: &str, shut: &str) -> String {
    format!(
        "[tool]\nunits = \"mm-N\"\n\
         [parts.frame]\nfixed = true\npins = {{ a = [0, 0], d = [40, 0] }}\nmarks = {{ anvil = [60, 0] }}\n\
         [parts.crank]\npins = {{ a = [0, 0], b = [0, 20] }}\n\
         {link}\n\
         [parts.rocker]\npins = {{ c = [40, 20], d = [40, 0] }}\nmarks = {{ tip = [60, 20] }}\n\
         {more}\n\
         [hand]\npart = \"crank\"\nline = [[0, 0], [-100, 30]]\ngrips = [90]\n\
         [[jaw]]\non = \"rocker.tip\"\nagainst = \"frame.anvil\"\naxis = 90\n\
         [stroke]\nopen = {open}\nshut = {shut}\n"
    )
}

const LINK: &str = "[parts.link]\npins = { b = [0, 20], c = [40, 20] }";

/// A stroke of a billionth of a millimetre is none; it is not past anything.
#[test]
fn a_stroke_of_next_to_nothing_is_no_stroke() {
    let text = edited(
        SETTER,
        &[("shut = { gap = 0.2 }", "shut = { gap = 8.999999999 }")],
    );
    let ended = stroke(&text).says("open and shut are the same position");
    assert!(!ended.err.contains("toggle"), "{}", ended.err);
}

#[test]
fn two_degrees_of_freedom_name_the_loose_parts() {
    let chain = "[parts.link]\npins = { b = [0, 20], e = [20, 35] }\n[parts.more]\npins = { e = [20, 35], c = [40, 20] }";
    let text = four_bar(chain, "", "{ gap = 18 }", "{ gap = 10 }");
    stroke(&text)
        .says("the linkage has 2 degrees of freedom, a tool needs one")
        .says("with the handle held still, `rocker`, `link` and `more` still move")
        .says(&place(&text, "[parts.rocker]"))
        .says("add a pin, a slot or a link");
}

#[test]
fn a_rigid_truss_is_called_one() {
    let text = four_bar(
        LINK,
        "[parts.brace]\npins = { a = [0, 0], c = [40, 20] }",
        "{ gap = 18 }",
        "{ gap = 10 }",
    );
    stroke(&text)
        .says("it is a rigid truss")
        .says("tool.toml:3:");
}

#[test]
fn a_loop_that_cannot_close_names_its_pins_and_the_gap() {
    // Crank 20, rocker 20, pivots 40 apart: a link of 90 is 10 too long even when all lie in line.
    let text = four_bar(
        "[parts.link]\npins = [\"b\", \"c\"]\nlength = 90",
        "",
        "{ gap = 18 }",
        "{ gap = 10 }",
    );
    let ended = stroke(&text)
        .says("the linkage cannot be put together")
        .says("stay 10 mm apart");
    assert!(
        ended.err.contains("[parts.link]") || ended.err.contains("[parts.rocker]"),
        "{}",
        ended.err
    );
}

#[test]
fn a_change_point_in_the_stroke_is_refused() {
    // Crank and rocker are of one length, link and frame too: all lie in line when the crank has
    // turned by −90 deg, which is handle 163.30 − 90 = 73.30 deg; the tip is then 20 below c.
    let text = four_bar(LINK, "", "{ handle = 160 }", "{ handle = 60 }");
    stroke(&text)
        .says("change point is at handle 73.3 deg, gap -20 mm")
        .says(&place(&text, "shut ="))
        .says("link length");
}

#[test]
fn a_stroke_past_a_toggle_is_refused() {
    // The gap of this tool falls to −0.17 mm at the toggle, at handle 187.3 deg.
    let text = edited(
        SETTER,
        &[
            ("open = { gap = 9 }", "open = { handle = 161 }"),
            ("shut = { gap = 0.2 }", "shut = { handle = 190 }"),
        ],
    );
    stroke(&text)
        .says("the stroke goes past a toggle of jaw `nose`")
        .says("gap -0.166 mm")
        .says(&place(&text, "shut ="))
        .says("end the stroke before the toggle");
}

#[test]
fn a_target_out_of_reach_comes_with_what_would_reach_it() {
    let text = edited(SETTER, &[("shut = { gap = 0.2 }", "shut = { gap = -0.5 }")]);
    let ended = stroke(&text)
        .says("the shut position is out of reach: the gap runs from -0.166 mm to")
        .says(&place(&text, "shut ="))
        .says("each alone would reach it");
    // The proposal is true: with it the stroke is there.
    let proposal = ended
        .err
        .split("strut.length longer by about ")
        .nth(1)
        .expect("a proposal");
    let by: f64 = proposal
        .split(' ')
        .next()
        .and_then(|t| t.parse().ok())
        .expect("a number");
    let with = |by: f64| format!("strut.length={}", 24.0 + by);
    let bench = Bench::with(&text);
    bench
        .run(&["stroke", "tool.toml", "-q", "--set", &with(by)])
        .code(0);
    // And not much more than is needed.
    bench
        .run(&["stroke", "tool.toml", "-q", "--set", &with(0.8 * by)])
        .code(3)
        .says("with --set strut.length=");
}

#[test]
fn a_span_out_of_reach_is_reported_in_the_units_asked_for() {
    let text = edited(SETTER, &[("open = { gap = 9 }", "open = { span = 500 }")]);
    Bench::with(&text)
        .run(&["stroke", "tool.toml", "--units", "in-lbf"])
        .code(3)
        .says("the open position is out of reach: the grip span runs from 0.59")
        .says("19.685 in is not in that")
        .says(&place(&text, "open ="));
}

#[test]
fn points_that_pass_each_other_want_an_axis() {
    let text = edited(
        SETTER,
        &[
            ("axis = 90\n", ""),
            ("shut = { gap = 0.2 }", "shut = { gap = 0 }"),
            ("anvil = [20, -55]", "anvil = [19, -53]"),
        ],
    );
    stroke(&text)
        .says("pass each other")
        .says("state the jaw's `axis`");
}

#[test]
fn a_jaw_that_does_not_move_is_named() {
    let text = edited(SETTER, &[("on = \"ram.nose\"", "on = \"ram.post\"")]);
    stroke(&text)
        .says("jaw `nose` does not move")
        .says("tool.toml:")
        .says("[[jaw]]");
}

#[test]
fn a_demand_beside_the_stroke_is_shown_at_its_line() {
    let good = "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\nmin = 1\n";
    let bad = "[[demand]]\nmeasure = \"ratio\"\nat = { gap = 500 }\nmin = 1\n";
    let text = format!("{SETTER}\n{good}{bad}");
    let line = text[..text.find(bad).unwrap()].lines().count() + 1;
    let ended = stroke(&text)
        .says("demand on `ratio`: gap = 500 mm is not on the stroke")
        .says(&format!("tool.toml:{line}:"))
        .says("[stroke]");
    assert!(ended.err.contains("^"), "{}", ended.err);
}
