//! Tool files that are wrong end in a message that names the place, status 2, and no output.

use super::{Bench, SETTER, edited, place};

/// A stroke with every kind of output: none of it may appear.
const ALL_OUTPUTS: &[&str] = &[
    "stroke",
    "tool.toml",
    "--svg",
    "out.svg",
    "--csv",
    "out.csv",
];

/// What is changed in the good file, a piece of the line to be pointed at, a phrase of the message.
struct Case {
    edits: &'static [(&'static str, &'static str)],
    at: &'static str,
    says: &'static str,
}

const CASES: &[Case] = &[
    Case {
        edits: &[("units = \"mm-N\"\n", "")],
        at: "[tool]",
        says: "units",
    },
    Case {
        edits: &[("length = 24", "lenght = 24")],
        at: "lenght",
        says: "did you mean `length`?",
    },
    Case {
        edits: &[("[sketch]", "[skecth]")],
        at: "[skecth]",
        says: "did you mean `sketch`?",
    },
    Case {
        edits: &[("steps = 24", "steps = 24\nspeed = 3")],
        at: "speed",
        says: "speed",
    },
    Case {
        edits: &[("length = 24", "length = nan")],
        at: "nan",
        says: "finite",
    },
    Case {
        edits: &[("length = 24", "length = inf")],
        at: "= inf",
        says: "finite",
    },
    Case {
        edits: &[("length = 24", "length = \"NaN mm\"")],
        at: "NaN",
        says: "help:",
    },
    Case {
        edits: &[("length = 24", "length = 0")],
        at: "length = 0",
        says: "greater than zero",
    },
    Case {
        edits: &[("length = 24", "length = -24")],
        at: "-24\n",
        says: "greater than zero",
    },
    Case {
        edits: &[("length = 24", "length = 1e300")],
        at: "1e300",
        says: "too large",
    },
    Case {
        edits: &[("length = 24", "length = 1e-300")],
        at: "1e-300",
        says: "too small",
    },
    Case {
        edits: &[("length = 24", "length = \"3 N\"")],
        at: "3 N",
        says: "this is a force, not a length",
    },
    Case {
        edits: &[("force = 150", "force = \"12 mm\"")],
        at: "12 mm",
        says: "a force is wanted",
    },
    Case {
        edits: &[("length = 24", "length = \"24 furlong\"")],
        at: "furlong",
        says: "unit",
    },
    Case {
        edits: &[("length = 24", "length = [24]")],
        at: "[24]",
        says: "list",
    },
    Case {
        edits: &[("[parts.ram]", "[parts.strut]")],
        at: "[parts.strut]\npins = {",
        says: "strut",
    },
    Case {
        edits: &[(
            "pins = { heel = [0, 0], knee",
            "pins = { heel = [0, 0], heel = [1, 1], knee",
        )],
        at: "heel = [1, 1]",
        says: "heel",
    },
    Case {
        edits: &[(
            "pins = { post = [0, 0], wrist",
            "pins = { pots = [0, 0], wrist",
        )],
        at: "pots",
        says: "pin `pots` is on one part only",
    },
    Case {
        edits: &[("[parts.lever]", "[parts.lever]\nfixed = true")],
        at: "fixed = true\npins = { heel = [0, 0], knee",
        says: "`lever` is a second fixed part",
    },
    Case {
        edits: &[("fixed = true\n", "")],
        at: "[parts.frame]",
        says: "fixed",
    },
    Case {
        edits: &[("grips = [60, 90]", "grips = [60, 900]")],
        at: "900",
        says: "off the end of the hand line, which is 113.111 mm long",
    },
    Case {
        edits: &[(
            "line = [[-12, 2], [-125, -3]]",
            "line = [[-12, 2], [-12, 2]]",
        )],
        at: "[-12, 2]]",
        says: "hand line",
    },
    Case {
        edits: &[("grips = [60, 90]", "grips = []")],
        at: "grips = []",
        says: "no grip",
    },
    Case {
        edits: &[("against = \"frame.anvil\"", "against = \"ram.wrist\"")],
        at: "ram.wrist",
        says: "same part",
    },
    Case {
        edits: &[("against = \"frame.anvil\"", "against = \"frame.anvli\"")],
        at: "anvli",
        says: "did you mean `anvil`?",
    },
    Case {
        edits: &[(
            "[sketch]",
            "[parts.lost]\npins = { a = [0, 0], b = [9, 0] }\n[parts.stray]\npins = [\"a\", \"b\"]\nlength = 9\n[sketch]\na = [90, 90]\nb = [99, 90]",
        )],
        at: "[parts.lost]",
        says: "nothing joins part `lost` to the fixed part",
    },
    Case {
        edits: &[("steps = 24", "steps = 0")],
        at: "steps = 0",
        says: "steps",
    },
    Case {
        edits: &[("steps = 24", "steps = 1")],
        at: "steps = 1",
        says: "steps",
    },
    Case {
        edits: &[("steps = 24", "steps = 1000000000")],
        at: "1000000000",
        says: "steps",
    },
    Case {
        edits: &[("steps = 24", "steps = -3")],
        at: "steps = -3",
        says: "steps",
    },
    Case {
        edits: &[("steps = 24", "steps = 2.5")],
        at: "2.5",
        says: "steps",
    },
    Case {
        edits: &[("shut = { gap = 0.2 }", "shut = { gap = 9 }")],
        at: "shut =",
        says: "same",
    },
    Case {
        edits: &[("shut = { gap = 0.2 }", "shut = { gop = 9 }")],
        at: "gop",
        says: "did you mean `gap`?",
    },
    Case {
        edits: &[("length = 24", "length = 24 24")],
        at: "24 24",
        says: "error",
    },
    Case {
        edits: &[("name = \"Test setter\"", "name = \"Test setter")],
        at: "Test setter",
        says: "error",
    },
];

#[test]
fn each_problem_is_named_at_its_line() {
    for case in CASES {
        let text = edited(SETTER, case.edits);
        // A piece over two lines names the line that its first part ends.
        let line = text
            .find(case.at)
            .map(|at| text[..at].matches('\n').count() + 1);
        let wanted = format!("tool.toml:{}:", line.expect("a place"));
        Bench::with(&text)
            .run(ALL_OUTPUTS)
            .code(2)
            .says(&wanted)
            .says(case.says)
            .leaves_nothing();
    }
}

#[test]
fn each_table_that_must_be_there_is_asked_for() {
    for table in ["tool", "parts", "hand", "jaw", "stroke"] {
        let mut text = String::new();
        let mut skip = false;
        for line in SETTER.lines() {
            if line.starts_with('[') {
                let name = line.trim_matches(['[', ']']);
                skip = name == table || name.starts_with(&format!("{table}."));
            }
            if !skip {
                text.push_str(line);
                text.push('\n');
            }
        }
        Bench::with(&text)
            .run(ALL_OUTPUTS)
            .code(2)
            .says(&format!("the file has no [{table}]"))
            .leaves_nothing();
    }
}

#[test]
fn all_problems_come_in_one_run() {
    let text = edited(
        SETTER,
        &[
            ("length = 24", "length = -24"),
            ("grips = [60, 90]", "grips = [900]"),
            ("steps = 24", "step = 24"),
        ],
    );
    let ended = Bench::with(&text).run(&["check", "tool.toml"]).code(2);
    for piece in ["length = -24", "grips = [900]", "step = 24"] {
        assert!(ended.err.contains(&place(&text, piece)), "{}", ended.err);
    }
}

#[test]
fn files_that_are_no_tool_files() {
    let bench = Bench::empty();
    bench.put("tool.toml", "");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("there is nothing in this file")
        .leaves_nothing();
    bench.put("tool.toml", "\n# only a comment\n");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("there is nothing in this file")
        .leaves_nothing();
    bench.put("tool.toml", b"[tool]\nname = \"\xff\xfe\"\n");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("tool.toml:2: the text is not UTF-8")
        .leaves_nothing();
    bench.put("tool.toml", [0u8; 4096]);
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("tool.toml:1:")
        .leaves_nothing();
    bench.put("tool.toml", "x".repeat(2 << 20));
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("larger than 1 MB")
        .leaves_nothing();
    bench.put("tool.toml", "<html><body>not a tool</body></html>\n");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("tool.toml:1:")
        .leaves_nothing();
    bench.put("tool.toml", "[".repeat(100_000));
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("tool.toml:1:")
        .leaves_nothing();
    bench.put(
        "tool.toml",
        format!("a = {}1{}\n", "[".repeat(50_000), "]".repeat(50_000)),
    );
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says("tool.toml:1:")
        .leaves_nothing();
    bench
        .run(&["stroke", "."])
        .code(2)
        .says("this is a folder")
        .leaves_nothing();
    bench
        .run(&["stroke", "nowhere.toml"])
        .code(2)
        .says("no such file")
        .leaves_nothing();
    bench
        .run(&["stroke", "tool.toml/x"])
        .code(2)
        .says("is a file, not a folder")
        .leaves_nothing();
    bench.run(&["stroke", ""]).code(2).leaves_nothing();
}

#[test]
fn five_hundred_parts_are_refused_at_once() {
    let mut text = SETTER.to_owned();
    for k in 0..500 {
        text.push_str(&format!(
            "[parts.p{k}]\npins = {{ heel = [0, 0], knee = [-2, -24] }}\n"
        ));
    }
    let start = std::time::Instant::now();
    Bench::with(&text)
        .run(ALL_OUTPUTS)
        .code(2)
        .says("parts are more than")
        .leaves_nothing();
    assert!(start.elapsed().as_secs() < 10, "{:?}", start.elapsed());
}

#[test]
fn a_side_file_that_is_wrong_is_named_with_its_line() {
    let text = format!("{SETTER}\n[work]\nneed = \"need.csv\"\n");
    let bench = Bench::with(&text);
    let wanted = place(&text, "need.csv");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says(&wanted)
        .says("no such file")
        .leaves_nothing();
    bench.put("need.csv", "gap,force\n3,0\nx,600\n");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says(&wanted)
        .says("line 3")
        .leaves_nothing();
    bench.put("need.csv", b"gap,force\n3,0\n\xff,600\n");
    bench
        .run(ALL_OUTPUTS)
        .code(2)
        .says(&wanted)
        .says("UTF-8")
        .leaves_nothing();
}

#[test]
fn line_ends_byte_order_mark_and_letters_do_not_shift_places() {
    let bad = edited(SETTER, &[("length = 24", "length = -24")]);
    let line = place(&bad, "length = -24");
    for text in [
        bad.replace('\n', "\r\n"),
        format!("\u{feff}{bad}"),
        bad.replace("name = \"Test setter\"", "name = \"Ösenpresse 鳩目\""),
    ] {
        let ended = Bench::with(&text).run(ALL_OUTPUTS).code(2).leaves_nothing();
        assert!(ended.err.contains(&format!("{line}10")), "{}", ended.err);
    }
    for text in [SETTER.replace('\n', "\r\n"), format!("\u{feff}{SETTER}")] {
        Bench::with(&text)
            .run(&["stroke", "tool.toml", "-q"])
            .code(0)
            .leaves_nothing();
    }
}
