//! Tool files that are wrong: each kind of problem is found, at its line, with what to do, and
//! without a tail of problems that only follow from it.

mod cams;
mod cases;
mod gears;
mod many;
mod never_panics;
mod outlines;

use std::collections::BTreeSet;

use jawforce::input::{
    Diagnostic, Severity, code, most_steps, one_line, read_tool, render, render_all,
};
use jawforce::model::{At, Bound, Demand, JawId, JointId, Measure, Work};

use cases::{CASES, GOOD, WHOLE};

fn load(path: &str) -> Result<String, String> {
    match path {
        "bench.csv" => Ok(crate::models::BENCH.to_owned()),
        "broken.csv" => Ok("gap,force\n3,0\n1,two\n".to_owned()),
        "short.csv" => Ok("gap,force\n3,0\n".to_owned()),
        _ => Err("no such file".to_owned()),
    }
}

fn spoil(line: usize, text: &str) -> String {
    if line == 0 {
        return format!("{GOOD}{text}\n");
    }
    let mut lines: Vec<&str> = GOOD.lines().collect();
    lines[line - 1] = text;
    lines.join("\n") + "\n"
}

fn problems(text: &str) -> Vec<Diagnostic> {
    match read_tool(text, &load) {
        Ok(read) => read.advice,
        Err(found) => found.to_vec(),
    }
}

fn errors(text: &str) -> Vec<Diagnostic> {
    let mut found = problems(text);
    found.retain(|problem| problem.severity == Severity::Error);
    found
}

/// One file: exactly this problem, here, with this help.
fn judge(text: &str, code: &str, line: usize, help: &str) -> Result<(), String> {
    let found = errors(text);
    let shown = render_all(&found, "tool.toml", text, false);
    let wrong = |what: String| Err(format!("{what}:\n{shown}\n"));
    match found.as_slice() {
        [one] if one.code != code => wrong(format!("not `{code}`")),
        [one] if one.position(text).0 != line => wrong(format!("not in line {line}")),
        [one] if !one.help.join("\n").contains(help) => wrong(format!("no help `{help}`")),
        [_] if !shown.contains(&format!("tool.toml:{line}:")) => wrong("line not shown".to_owned()),
        [_] => Ok(()),
        _ => wrong(format!("not just one `{code}`")),
    }
}

fn check(text: &str, code: &str, line: usize, help: &str) {
    if let Err(wrong) = judge(text, code, line, help) {
        panic!("{wrong}");
    }
}

#[test]
fn the_good_file_is_good() {
    assert_eq!(problems(GOOD), []);
}

#[test]
fn each_problem_is_found_at_its_place() {
    let damaged = CASES
        .iter()
        .map(|c| judge(&spoil(c.line, c.text), c.code, c.at, c.help));
    let whole = WHOLE
        .iter()
        .map(|(text, code, line, help)| judge(text, code, *line, help));
    let wrong: Vec<String> = damaged.chain(whole).filter_map(Result::err).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn without_a_second_handle() {
    let without = |line: usize, text: &str| {
        let mut text = spoil(line, text);
        text = text.replace("against = { part = \"frame\"", "#");
        text
    };
    check(
        &without(31, "shut = { span = 60 }"),
        code::NO_SPAN,
        31,
        "`gap` or `handle`",
    );
    check(
        &without(23, "grips = [70]\nlimit = [[40, 180], [60, 240]]"),
        code::NO_SPAN,
        24,
        "`against`",
    );
    check(
        &without(23, "grips = [70]\nlimit = \"norm-grip-w-60-64-p5-span\""),
        code::NO_SPAN,
        24,
        "`against`",
    );
    let fixed = without(20, "part = \"frame\"");
    check(&fixed, code::HAND_PART, 20, "fingers close");
    let demand = "[[demand]]\nmeasure = \"span\"\nat = \"open\"\nmax = 90";
    check(&without(0, demand), code::NO_SPAN, 33, "`against`");
}

#[test]
fn a_gap_between_two_points_is_not_negative() {
    let text = GOOD
        .replace("axis = 90\n", "")
        .replace("gap = 0", "gap = -1");
    check(&text, code::GAP, 30, "state the jaw's `axis`");
}

#[test]
fn a_sketched_place_that_cannot_be_read_is_not_missing_too() {
    let text = spoil(18, "wrist = [30, \"9 N\"]").replace("length = 27\n", "");
    check(&text, code::UNIT_KIND, 17, "a length is wanted");
}

#[test]
fn missing_tables_are_all_named() {
    for (table, lines) in [
        ("tool", 0..2),
        ("hand", 18..23),
        ("jaw", 23..28),
        ("stroke", 28..31),
    ] {
        let lines = |i: usize| !lines.contains(&i);
        let kept = GOOD
            .lines()
            .enumerate()
            .filter(|(i, _)| lines(*i))
            .map(|(_, line)| line);
        let text: String = kept.map(|line| format!("{line}\n")).collect();
        check(&text, code::MISSING, 1, &format!("[{table}]"));
    }
    let without: String = GOOD
        .lines()
        .enumerate()
        .filter(|(i, _)| !(23..28).contains(i))
        .map(|(_, line)| format!("{line}\n"))
        .collect();
    check(&format!("jaw = []\n{without}"), code::MISSING, 1, "[[jaw]]");
    let found = errors("[parts.frame]\nfixed = true\n");
    assert_eq!(found.len(), 4);
    assert!(found.iter().all(|problem| problem.code == code::MISSING));
}

#[test]
fn too_much_is_refused() {
    let parts: String = (0..470)
        .map(|i| format!("[parts.p{i}]\npins = [\"a\", \"b\"]\n"))
        .collect();
    check(
        &format!("{GOOD}{parts}"),
        code::TOO_MANY,
        144,
        "split the tool",
    );
    let joints: String = (0..55)
        .map(|i| {
            let pins: String = (0..4).map(|k| format!("q{i}x{k} = [{i}, {k}], ")).collect();
            let pair =
                |name: &str| format!("[parts.{name}{i}]\npins = {{ heel = [0, 0.5], {pins}}}\n");
            if i < 25 {
                pair("u") + &pair("v")
            } else {
                String::new()
            }
        })
        .collect();
    let slots: String = (0..60)
        .map(|_| {
            "[[slots]]\npart = \"ram\"\npoint = \"nose\"\non = \"frame\"\nthrough = [0, 0]\nangle = 0\n"
        })
        .collect();
    check(
        &format!("{GOOD}{joints}{slots}"),
        code::TOO_MANY,
        3,
        "split the tool",
    );
    // What takes too long or too much memory together, though each by itself would do.
    let steps = GOOD.replace("shut = { gap = 0 }", "shut = { gap = 0 }\nsteps = 90000");
    check(&steps, code::TOO_MANY, 32, "at most");
    // What takes a second is taken: some 90 us a step, all told, on one core.
    assert_eq!(errors(&steps.replace("90000", "10000")), []);
    let grips: Vec<String> = (0..300)
        .map(|k| format!("{}", 0.5 * f64::from(k)))
        .collect();
    let grips = steps.replace("[70, 100, 130]", &format!("[{}]", grips.join(", ")));
    check(&grips, code::TOO_MANY, 32, "at most");
    let demand = "[[demand]]\nmeasure = \"gap\"\nat = \"open\"\nmin = 0\n";
    // So many demands at so many grips, though either alone would do.
    let held = grips.replace("steps = 90000", "steps = 60");
    assert_eq!(errors(&held), []);
    let worked = "[[demand]]\nmeasure = \"hand_work\"\nmin = 0\n";
    let both = format!("{held}\n{}", worked.repeat(100));
    check(&both, code::TOO_MANY, 32, "fewer grips, jaws and demands");
    let demands = format!("{GOOD}\n{}", demand.repeat(101));
    // At the first that is too many.
    check(&demands, code::TOO_MANY, 433, "decide between designs");
}

/// The least load of a pin is looked for at every row of the work: one demand for it is taken with a
/// hundred thousand rows, a hundred are not.
#[test]
fn least_pin_loads_over_very_many_rows_are_bounded() {
    let mut tool = read_tool(GOOD, &|_| Err(String::new())).unwrap().tool;
    let need = (0..100_000).map(|k| [8.0 - 8e-5 * f64::from(k), 50.0 + f64::from(k % 7)]);
    tool.jaws[0].work = Some(Work {
        need: need.collect(),
        note: None,
        rigid: None,
        scale: 1.0,
        estimate: None,
        finish: None,
    });
    let demand = Demand {
        measure: Measure::PinLoad(JointId::FIRST),
        jaw: JawId::FIRST,
        at: Some(At::Least),
        grip: None,
        bound: Bound {
            min: None,
            max: Some(1e4),
        },
    };
    tool.demands = vec![demand.clone()];
    assert!(most_steps(&tool) > tool.stroke.steps);
    tool.demands = vec![demand; 100];
    assert_eq!(most_steps(&tool), 0);
}

#[test]
fn advice_is_not_an_error() {
    let fine = problems(&spoil(12, "length = 27.0012"));
    assert_eq!(
        (fine.len(), fine[0].code, fine[0].severity),
        (1, code::FINE, Severity::Advice)
    );
    assert_eq!(fine[0].position(GOOD).0, 12);
    assert!(fine[0].message.contains("strut.length"));
    // A thousandth of an inch is readable, in either unit.
    assert_eq!(problems(&spoil(12, "length = \"1.063 in\"")), []);
    let guessed = problems(&spoil(17, ""));
    assert_eq!((guessed.len(), guessed[0].code), (1, code::GUESSED));
    assert!(
        guessed[0].message.contains("lever"),
        "{}",
        guessed[0].message
    );
    assert!(guessed[0].help[0].contains("[sketch]"));
    // The sketch in pixels, and the hand line too, which is in mm whatever the sketch is in.
    let scale = "scale = { from = [0, 0], to = [100, 0], length = 10 }\norigin = \"heel\"";
    let sketched = format!("{scale}\nheel = [400, 200]\nknee = [540, 260]");
    let pixels = spoil(17, &sketched).replace("[30, -28]", "[700, 480]");
    assert_eq!(problems(&pixels), []);
    let line = pixels.replace("[-90, 14], [-185, 10]", "[-500, 60], [-1450, 100]");
    let found = problems(&line);
    assert_eq!(
        (found.len(), found[0].code, found[0].severity),
        (1, code::PIXELS, Severity::Advice)
    );
    assert_eq!(found[0].position(&line).0, 24);
    assert!(found[0].help[0].contains("marks"));
}

#[test]
fn all_problems_come_in_one_run() {
    let text = GOOD
        .replace("length = 27", "lenght = \"3 N\"")
        .replace("part = \"lever\"", "part = \"levr\"")
        .replace("axis = 90", "axis = \"9 turns\"")
        .replace("shut = { gap = 0 }", "shut = { gap = nan }\nsteps = 1");
    let found: Vec<&str> = errors(&text).iter().map(|problem| problem.code).collect();
    let wanted = [
        code::UNKNOWN_KEY,
        code::UNKNOWN_PART,
        code::UNIT,
        code::NOT_FINITE,
        code::STEPS,
    ];
    assert_eq!(found, wanted);
    // Several breaches of syntax, and a wrong unit beside them.
    let text = GOOD
        .replace("length = 27", "length = 2.4 in")
        .replace("axis = 90", "axis = ")
        .replace("gap = 9", "gap = \"9 furlongs\"");
    let found: Vec<&str> = errors(&text).iter().map(|problem| problem.code).collect();
    assert_eq!(found, [code::SYNTAX, code::SYNTAX, code::UNIT]);
}

#[test]
fn both_places_of_a_double_key_are_shown() {
    for (line, text, first) in [
        (12, "length = 27\nlength = 28", 12),
        (13, "[parts.strut]", 10),
    ] {
        let text = spoil(line, text);
        let found = errors(&text);
        let label = found[0].further.first().expect("the first place");
        let before = text[..label.span.start].lines().count().max(1);
        let starts_line = text[..label.span.start].ends_with('\n');
        assert_eq!(before + usize::from(starts_line), first, "{label:?}");
    }
}

#[test]
fn a_broken_row_names_the_line_of_the_side_file() {
    let text = spoil(0, "[work]\nneed = \"broken.csv\"");
    assert!(
        errors(&text)[0]
            .message
            .contains("broken.csv, line 3: `two`")
    );
}

#[test]
fn renders_the_line_and_a_caret() {
    let text = spoil(12, "length = \"3 N\"");
    let found = errors(&text);
    let shown = render(&found[0], "tool.toml", &text, false);
    let wanted = "\
error[wrong-unit]: this is a force, not a length
  --> tool.toml:12:13
   |
12 | length = \"3 N\"
   |             ^
   |
   = help: a length is wanted here, such as \"18.5 mm\" or \"2.4 in\"";
    assert_eq!(shown, wanted);
    assert_eq!(
        one_line(&found[0], "tool.toml", &text),
        "tool.toml:12:13: error[wrong-unit]: this is a force, not a length"
    );
    assert!(render(&found[0], "tool.toml", &text, true).contains("\u{1b}["));
}

#[test]
fn windows_lines_tabs_and_other_letters_keep_their_place() {
    let text = format!("\u{feff}{GOOD}").replace('\n', "\r\n");
    assert_eq!(problems(&text), []);
    let text = text.replace("length = 27", "\tlength =\t\"27 µµ\" # Länge");
    let found = errors(&text);
    assert_eq!(found[0].code, code::UNIT);
    assert_eq!(found[0].position(&text), (12, 15));
}

#[test]
fn every_code_has_a_case() {
    let mut covered: BTreeSet<&str> = CASES.iter().map(|case| case.code).collect();
    covered.extend(WHOLE.iter().map(|whole| whole.1));
    // Those of the tests above.
    covered.extend([
        code::NO_SPAN,
        code::GAP,
        code::TOO_MANY,
        code::FINE,
        code::GUESSED,
        code::PIXELS,
        code::OUTLINE,
        code::MARK_OUTSIDE,
        code::GEARS,
    ]);
    let all: BTreeSet<&str> = code::ALL.iter().copied().collect();
    assert_eq!(all.len(), code::ALL.len(), "a code is used for two things");
    assert_eq!(covered, all);
}
