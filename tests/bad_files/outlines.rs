//! Outlines that are none, and the keys of plates: each problem at its line, with what to do.

use super::cases::GOOD;
use super::{check, problems};
use jawforce::input::{Severity, code};

/// The good file with a rectangle about the pins of the ram, from line 32 on; one of its lines replaced (0: the
/// table's header), lines added behind it.
fn plate(line: usize, text: &str, more: &str) -> String {
    let mut lines = [
        "[outlines.ram]",
        "start = [-10, -10]",
        "path = [",
        "  { to = [50, -10] },",
        "  { to = [50, 45] },",
        "  { to = [-10, 45] },",
        "]",
    ];
    lines[line] = text;
    format!("{GOOD}{}\n{more}\n", lines.join("\n"))
}

#[test]
fn a_good_outline_is_good() {
    assert_eq!(problems(&plate(0, "[outlines.ram]", "")), []);
}

#[test]
fn borders_that_are_none() {
    for (line, text, code, at, help) in [
        (
            5,
            "  { to = [20, -20] },",
            code::OUTLINE,
            37,
            "never meets itself",
        ),
        (
            4,
            "  { to = [50, 45] }, { to = [50, 10] },",
            code::OUTLINE,
            36,
            "never meets itself",
        ),
        (4, "  { to = [50, -10] },", code::OUTLINE, 36, "given twice"),
        (
            4,
            "  { arc = 20, to = [50, 45] },",
            code::OUTLINE,
            36,
            "reaches is 27.5 mm",
        ),
        (
            4,
            "  { to = [50, 45], round = 30 }, { to = [-9, 45] },",
            code::OUTLINE,
            36,
            "fits is 55 mm",
        ),
        (
            4,
            "  { to = [50, 45], round = 60 },",
            code::OUTLINE,
            36,
            "fits is 55 mm",
        ),
        (
            4,
            "  { arc = 40, to = [50, 45], round = 3 },",
            code::OUTLINE,
            36,
            "a piece of its own",
        ),
        (4, "  { to = [50, 1e7] },", code::SIZE, 36, "at most"),
        (4, "  { to = [50, nan] },", code::NOT_FINITE, 36, "finite"),
        (4, "  { to = [50, inf] },", code::NOT_FINITE, 36, "finite"),
        (
            4,
            "  { arc = 0, to = [50, 45] },",
            code::SIZE,
            36,
            "positive turns left",
        ),
        (
            4,
            "  { arc = 40, through = [60, 10], to = [50, 45] },",
            code::TOGETHER,
            36,
            "straight piece",
        ),
        (
            4,
            "  { to = [50, 45], tangent = true },",
            code::TOGETHER,
            36,
            "smooth = ",
        ),
        (4, "  { too = [50, 45] },", code::UNKNOWN_KEY, 36, "`to`"),
        (4, "  { to = \"nos\" },", code::UNKNOWN_POINT, 36, "nose"),
        (
            4,
            "  { to = [50, 45], round = \"3 N\" },",
            code::UNIT_KIND,
            36,
            "a length",
        ),
        (2, "path = [", code::OUTLINE, 32, "the plate holds the pin"),
        (
            1,
            "throat = 3\nstart = [-10, -10]",
            code::TOGETHER,
            33,
            "`path`",
        ),
        (
            1,
            "mirror = { of = \"lever\", about = [[0, 0], [1, 0]] }\nstart = [-10, -10]",
            code::TOGETHER,
            35,
            "give one of",
        ),
    ] {
        let mut file = plate(line, text, "");
        if line == 2 {
            file = file.replace("wrist = [0, 34]", "wrist = [-12, 34]");
        }
        if text.contains("round = 30") {
            // It fits beside the other corner: good.
            assert_eq!(problems(&file), []);
            continue;
        }
        check(&file, code, at, help);
    }
    let turned = plate(3, "  { to = [-10, 45] },", "")
        .replace("  { to = [-10, 45] },\n]", "  { to = [50, -10] },\n]");
    check(&turned, code::OUTLINE, 34, "counter-clockwise");
    let file = format!("{GOOD}[outlines.ram]\nthroat = 3\n");
    check(&file, code::TOGETHER, 32, "give one of");
}

#[test]
fn a_crossing_names_both_pieces_and_the_place() {
    let file = plate(5, "  { to = [20, -20] },", "");
    let found = problems(&file);
    // From (50, 45) to (20, -20): at y = -10 it is 10/65 of its way short of the end.
    assert!(
        found[0]
            .message
            .contains("piece 1 and piece 3 cross or touch at (24.615, -10)"),
        "{found:?}"
    );
    assert_eq!(found[0].further.len(), 1, "the other piece");
}

#[test]
fn discs_and_belts_that_do_not_go_together() {
    for (line, at, code, help) in [
        (
            "belts = [[\"post\", \"wrist\"], [\"nose\"]]",
            34,
            code::OUTLINE,
            "of one piece",
        ),
        (
            "belts = [[\"post\", \"wrist\"]]",
            33,
            code::TOGETHER,
            "name it in a belt",
        ),
        (
            "belts = [[\"post\", \"wrist\"], [\"wrist\", \"nos\"]]",
            34,
            code::UNKNOWN_POINT,
            "nose",
        ),
        (
            "belts = [[\"post\", \"wrist\", \"nose\"], []]",
            34,
            code::OUTLINE,
            "one disc or more",
        ),
        ("throat = -1", 34, code::SIZE, "zero or a positive"),
    ] {
        let file =
            format!("{GOOD}[outlines.ram]\nround = {{ post = 5, wrist = 5, nose = 5 }}\n{line}\n");
        check(&file, code, at, help);
    }
    let file = format!("{GOOD}[outlines.ram]\nround = {{ post = 5, wrist = 0 }}\n");
    check(&file, code::SIZE, 33, "positive");
    let file = format!("{GOOD}[outlines.ram]\nround = {{}}\n");
    check(&file, code::MISSING, 33, "radius about each");
}

#[test]
fn holes_that_cannot_be() {
    for (row, code, help) in [
        (
            "{ at = [49, 20], diameter = 4 }",
            code::OUTLINE,
            "a wall between hole and edge",
        ),
        (
            "{ at = [70, 20], diameter = 4 }",
            code::OUTLINE,
            "take the border round it",
        ),
        (
            "{ at = [20, 20], diameter = 4 }, { at = [22, 20], diameter = 4 }",
            code::OUTLINE,
            "move one of them",
        ),
        (
            "{ slot = [[20, 20], [48, 20]], width = 6 }",
            code::OUTLINE,
            "a wall",
        ),
        ("{ slot = [[20, 20]], width = 6 }", code::TYPE, "slot = [["),
        ("{ at = [20, 20] }", code::MISSING, "diameter"),
        ("{ at = [20, 20], diameter = 0 }", code::SIZE, "positive"),
        (
            "{ at = [20, 20], diameter = 4, width = 4 }",
            code::TOGETHER,
            "at: diameter",
        ),
        ("{ diameter = 4 }", code::TOGETHER, "such as"),
        (
            "{ pin = \"post\", clearance = 0.1 }",
            code::TOGETHER,
            "[joints]",
        ),
        ("{ pin = \"post\" }", code::TOGETHER, "diameter = 0"),
        (
            "{ pin = \"nose\", diameter = 4 }",
            code::UNKNOWN_PIN,
            "{ at = \"nose\", diameter = 4 }",
        ),
        (
            "{ pin = \"knee\", diameter = 4 }",
            code::UNKNOWN_POINT,
            "its points",
        ),
    ] {
        let file = plate(0, "[outlines.ram]", &format!("holes = [{row}]"));
        check(&file, code, 39, help);
    }
    let joints = "[joints]\ndiameter = 21";
    check(
        &plate(0, "[outlines.ram]", joints),
        code::OUTLINE,
        32,
        "a wall",
    );
}

#[test]
fn images_of_what_is_not_there() {
    let image = |of: &str, about: &str| {
        format!("[outlines.lever]\nmirror = {{ of = \"{of}\", about = {about} }}")
    };
    let axis = "[[0, 0], [0, 1]]";
    for (of, about, code, help) in [
        ("lever", axis, code::OUTLINE, "by `round` or `path`"),
        ("strut", axis, code::OUTLINE, "ram"),
        ("ramm", axis, code::UNKNOWN_PART, "ram"),
        (
            "ram",
            "[[0, 0], [0, 0]]",
            code::OUTLINE,
            "two places on the line",
        ),
        ("ram", "[[0, 0]]", code::TYPE, "about = [["),
    ] {
        let file = plate(0, "[outlines.ram]", &image(of, about));
        check(&file, code, 40, help);
    }
}

#[test]
fn what_is_wrong_with_the_original_is_said_once() {
    let image = "[outlines.lever]\nmirror = { of = \"ram\", about = [[0, 0], [0, 1]] }";
    let file = plate(4, "  { arc = 20, to = [50, 45] },", image);
    check(&file, code::OUTLINE, 36, "reaches");
    let file = plate(5, "  { to = [20, -20] },", image);
    check(&file, code::OUTLINE, 37, "never meets itself");
}

#[test]
fn layers_plates_and_density() {
    let section = |lines: &str| {
        let material = "[materials.plate]\nyield = 355\n";
        format!(
            "{GOOD}{material}[sections.ram]\nwidth = 12\nthickness = 3\nmaterial = \"plate\"\n{lines}\n"
        )
    };
    for (lines, code, at, help) in [
        ("layers = [0]", code::SIZE, 38, "from the near side"),
        ("layers = [10000]", code::SIZE, 38, "1 to 99"),
        ("layers = [2, 2]", code::SIZE, 38, "each once"),
        ("layers = []", code::SIZE, 38, "leave `layers` out"),
        ("layers = 2", code::TYPE, 38, "brackets"),
        ("layers = [1.5]", code::TYPE, 38, "digits only"),
        (
            "layers = [1, 3]\nplates = 3",
            code::TOGETHER,
            39,
            "one layer for each plate",
        ),
    ] {
        check(&section(lines), code, at, help);
    }
    assert_eq!(problems(&section("layers = [1, 3]\nplates = 2")), []);
    for (value, code) in [
        ("7.85", code::SIZE),
        ("\"7.85 kg/m3\"", code::SIZE),
        ("-7850", code::SIZE),
        ("\"7850 kg\"", code::UNIT_KIND),
        ("\"7850 MPa\"", code::UNIT_KIND),
        ("nan", code::NOT_FINITE),
    ] {
        let file = section("").replace(
            "yield = 355\n",
            &format!("yield = 355\ndensity = {value}\n"),
        );
        check(&file, code, 34, "");
    }
    let bare = section("").replace("width = 12\n", "");
    check(&bare, code::MISSING, 34, "width");
}

/// A mark off its plate is worth a look and no error.
#[test]
fn a_mark_outside_is_a_note() {
    let file = plate(0, "[outlines.ram]", "").replace("nose = [40, 18]", "nose = [50.5, 18]");
    let found = problems(&file);
    let [one] = found.as_slice() else {
        panic!("{found:?}");
    };
    assert_eq!(
        (one.code, one.severity),
        (code::MARK_OUTSIDE, Severity::Advice)
    );
    assert_eq!(one.position(&file).0, 15);
}

/// A megabyte of pieces is refused at once.
#[test]
fn thousands_of_pieces_are_refused_in_time() {
    let started = std::time::Instant::now();
    let pieces: String = (0..40_000)
        .map(|k| format!("{{ to = [{k}, {}] }},", k % 7))
        .collect();
    let file = format!("{GOOD}[outlines.ram]\nstart = [0, 0]\npath = [{pieces}]\n");
    check(&file, code::TOO_MANY, 32, "arcs");
    assert!(started.elapsed().as_secs() < 20, "{:?}", started.elapsed());
}
