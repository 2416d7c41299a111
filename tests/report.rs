//! `report`: one page that needs nothing else, says what the other commands say, and is safe to open.

use std::collections::BTreeSet;
use std::path::Path;
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_jawforce"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("SOURCE_DATE_EPOCH", "1000000000")
        .args(args)
        .output()
        .unwrap()
}

fn text(output: &[u8]) -> String {
    String::from_utf8(output.to_vec()).unwrap()
}

const A: &str = "demo-data/eyelet-toggle.toml";
const B: &str = "demo-data/eyelet-toggle-b.toml";
const PLUNGER: &str = "demo-data/pin-plunger.toml";

/// The page of these files, and the exit code.
fn page(files: &[&str], more: &[&str]) -> (String, Option<i32>) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("review.html");
    let mut args = vec!["report"];
    args.extend(files);
    args.extend(["-o", path.to_str().unwrap()]);
    args.extend(more);
    let done = run(&args);
    let page =
        std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{e}: {}", text(&done.stderr)));
    (page, done.status.code())
}

/// The text of a page without its tags.
fn words(page: &str) -> String {
    let mut out = String::new();
    let mut inside = false;
    for c in page.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => out.push(c),
            _ => {}
        }
    }
    let out = out.replace("&#39;", "'").replace("&#34;", "\"");
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A demand of concept A as the terminal has it, in the words of the page; by hand.
fn plain(what: &str) -> &str {
    match what {
        "hand_force at peak, grip 90 mm" => "hand force, peak, grip 90 mm",
        "jaw_force at gap=1, grip 90 mm" => "jaw force at gap 1 mm, grip 90 mm",
        "pin_load.knee at peak, grip 90 mm" => "load of pin knee, peak, grip 90 mm",
        "safety" => "strength factor",
        other => other,
    }
}

#[test]
fn the_page_says_what_the_other_commands_say() {
    let (page, code) = page(&[A], &[]);
    assert_eq!(code, Some(0));
    let words = words(&page);
    let stroke = text(&run(&["stroke", A]).stdout);
    let joined = stroke.split_whitespace().collect::<Vec<_>>().join(" ");
    // The sentences beneath the table, word for word.
    for sentence in joined
        .split(". ")
        .filter(|s| s.contains("Grip ") || s.contains("As drawn"))
    {
        let sentence = sentence.split(" met").next().unwrap().trim();
        assert!(words.contains(sentence), "{sentence}\n{words}");
    }
    for line in stroke.lines().filter(|l| l.starts_with("  met ")) {
        let (what, rest) = line
            .trim_start_matches("  met ")
            .trim()
            .split_once(": ")
            .unwrap();
        let (value, required) = rest.split_once(", ").unwrap();
        let what = plain(what);
        assert!(
            page.contains(&format!("{what}</td><td>{value}</td><td>{required}</td>")),
            "{line}"
        );
    }
    let least = text(&run(&["measure", A, "safety"]).stdout);
    let least: f64 = least.trim().parse().unwrap();
    assert!(page.contains(&format!(
        "<td data-is=\"factor\" class=\"\">{least:.2}</td>"
    )));
    let file = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(A)).unwrap();
    use sha2::Digest;
    let sum: String = sha2::Sha256::digest(&file)
        .iter()
        .map(|b| format!("{b:02x}"))
        .collect();
    for phrase in [
        sum.as_str(),
        "2001-09-09",
        concat!("jawforce ", env!("CARGO_PKG_VERSION")),
        "Hand limit: 200 N",
        "Cautions",
        "load cell, behind a guard",
        "Quasi-static",
        "length = 24",
        "5 % to 95 % of the samples",
    ] {
        assert!(words.contains(phrase), "{phrase}");
    }
}

/// The first thing on a page of one tool is the answer, each line with a sign that needs no colour, and the force chart
/// beside it: the hand, the demands, the lowest factor and the margin as the other commands give them.
#[test]
fn the_page_begins_with_the_answer() {
    for name in crate::drawing::DEMOS {
        let file = format!("demo-data/{name}.toml");
        let (page, _) = page(&[&file], &["--samples", "100"]);
        let (_, rest) = page.split_once("<div class=\"first\">").unwrap();
        let (first, _) = rest
            .split_once("<h3>The job and the question</h3>")
            .unwrap();
        let (answer, chart) = first.split_once("</ul>").unwrap();
        assert!(
            chart.contains("<svg") && chart.contains("Sign-off"),
            "{name}"
        );
        let (picture, _) = chart.split_once("</svg>").unwrap();
        assert!(!picture.contains('\u{2026}'), "{name}: a name is cut off");
        let lines: Vec<String> = answer.split("<li ").skip(1).map(words).collect();
        let signed = |line: &String| {
            ["\u{2713}", "\u{2717}", "!", "\u{b7}", "\u{b1}"]
                .iter()
                .any(|sign| line.contains(sign))
        };
        assert!(lines.iter().all(signed), "{name}: {lines:?}");
        let of = |what: &str| {
            let line = lines.iter().find(|line| line.contains(what));
            line.unwrap_or_else(|| panic!("{name}: no {what}: {lines:?}"))
        };
        of("Can a hand do it?");
        of("As drawn:");
        let loads = text(&run(&["loads", &file, "--json"]).stdout);
        let loads: serde_json::Value = serde_json::from_str(&loads).unwrap();
        let lowest = loads["factors"][0]["factor"].as_f64().unwrap();
        let said = of("Strength: lowest factor");
        assert!(
            said.contains(&format!("{lowest:.2}")),
            "{name}: {said}, {lowest}"
        );
        let margin = run(&["measure", &file, "toggle_margin"]);
        let said = of("Margin:");
        match text(&margin.stdout).trim().parse::<f64>() {
            Ok(margin) => assert!(
                said.contains(&format!("{margin:.2} deg")),
                "{name}: {said}, {margin}"
            ),
            Err(_) => assert!(said.contains("neither"), "{name}: {said}"),
        }
    }
}

#[test]
fn the_page_needs_nothing_else_and_every_id_is_there_once() {
    let (page, code) = page(&[A, B, PLUNGER], &[]);
    assert_eq!(code, Some(1), "concept B misses a demand");
    assert!(page.len() < 1_000_000, "{} bytes", page.len());
    assert!(page.contains("default-src 'none'"));
    let outside = page.replace("http://www.w3.org/2000/svg", "");
    for fetch in [
        "http:", "https:", "src=", "@import", "url(//", "<link", "<img", "<iframe",
    ] {
        assert!(!outside.contains(fetch), "{fetch}");
    }
    let ids: Vec<&str> = page
        .split(" id=\"")
        .skip(1)
        .map(|s| s.split('"').next().unwrap())
        .collect();
    let once: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(ids.len(), once.len(), "{ids:?}");
    // What is referred to is there.
    for reference in page
        .split("href=\"#")
        .skip(1)
        .chain(page.split("url(#").skip(1))
    {
        let id = reference.split(['"', ')']).next().unwrap();
        assert!(once.contains(id), "{id}");
    }
    // Each drawing and chart is XML of its own.
    let mut pictures = 0;
    for start in page.match_indices("<svg ").map(|m| m.0) {
        let end = page[start..].find("</svg>").unwrap() + start + 6;
        roxmltree::Document::parse(&page[start..end]).unwrap();
        pictures += 1;
    }
    assert!(pictures >= 3 * 3, "{pictures}");
    assert!(page.contains("Side by side") && page.contains("NOT met"));
    assert!(
        page.contains("pin-plunger-work.csv"),
        "the file that the tool file names"
    );
}

#[test]
fn the_same_files_give_the_same_bytes() {
    assert_eq!(page(&[A, B], &[]), page(&[A, B], &[]));
    let (inches, _) = page(&[A], &["--units", "in-lbf", "--grip", "75"]);
    assert!(words(&inches).contains("lbf hand force") && inches.contains("grip 2.953 in"));
}

/// The pictures side by side of tools in newtons and in pounds have the unit of the first, as the
/// table above them; each tool's own pictures keep its own.
#[test]
fn pictures_side_by_side_have_one_unit() {
    let beside = |page: &str| -> Vec<String> {
        let pictures = page.split("<svg ").skip(1);
        let pictures = pictures.filter_map(|p| p.split("</svg>").next());
        let pictures = pictures.filter(|p| p.contains("id=\"beside"));
        pictures.map(str::to_owned).collect()
    };
    let files = [A, "demo-data/excluder-cutter.toml"];
    let (own, _) = page(&files, &[]);
    let (typed, _) = page(&files, &["--units", "mm-N"]);
    let pictures = beside(&own);
    assert_eq!(pictures.len(), 2);
    assert!(pictures[0] == beside(&typed)[0] && pictures[1] == beside(&typed)[1]);
    assert!(own.contains("lbf hand force") && !typed.contains("lbf hand force"));
}

/// Many demands at many grips: `tolerance` says that it would take minutes, and the page says that it
/// goes without.
#[test]
fn a_study_that_takes_minutes_is_left_out_and_said() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("many.toml");
    let mut tool = std::fs::read_to_string(A).unwrap();
    for k in 0..55 {
        let gap = 0.1 * f64::from(k);
        tool +=
            &format!("\n[[demand]]\nmeasure = \"jaw_force\"\nat = {{ gap = {gap} }}\nmin = 0\n");
    }
    std::fs::write(&file, tool).unwrap();
    let file = file.to_str().unwrap();
    let grips: Vec<String> = (0..20).map(|k| format!("{}", 70 + k)).collect();
    let grips = grips.join(",");
    let refused = run(&["tolerance", file, "--grip", &grips]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("fewer demands, grips or joints"));
    let (page, _) = page(&[file], &["--grip", &grips]);
    assert!(!page.contains("<h3>Tolerances</h3>"));
    assert!(
        words(&page).contains("Tolerances are left out: 11"),
        "{page}"
    );
}

#[test]
fn names_from_outside_stay_text() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("odd.toml");
    let original = Path::new(env!("CARGO_MANIFEST_DIR")).join(A);
    let odd =
        "</title></pre><script>alert(1)</script><img src=x onerror=alert(2)>&amp;'\\u202eשלום 🔧";
    let source = std::fs::read_to_string(original).unwrap();
    let mut out = String::new();
    for line in source.lines() {
        if line.starts_with("name  = ") && !out.contains("</title>") {
            out.push_str(&format!("name = \"{odd}\"\n"));
        } else if line.starts_with("note  = ") {
            out.push_str(&format!(
                "note = \"{odd}\" # --></pre><script>alert(3)</script>\n"
            ));
        } else {
            out.push_str(line);
            out.push('\n');
        }
    }
    assert!(
        out.contains("alert(3)") && out.contains("name = \"</title>"),
        "{out}"
    );
    std::fs::write(&file, out).unwrap();
    let (page, code) = page(&[file.to_str().unwrap()], &[]);
    assert_eq!(code, Some(0));
    assert_eq!(page.matches("<script>").count(), 1, "its own");
    let data = page.matches("<script type=\"application/json\">").count();
    assert_eq!(page.matches("<script").count(), 1 + data, "and data");
    assert_eq!(page.matches("</pre>").count(), 1);
    assert!(!page.contains("<img") && !page.contains('\u{202e}'));
    assert!(words(&page).contains("שלום 🔧"));
}

#[test]
fn what_cannot_be_written_is_said_before_any_work() {
    let folder = tempfile::tempdir().unwrap();
    let nowhere = folder.path().join("no/such/folder.html");
    for (args, phrase) in [
        (vec!["report", A], "--output"),
        (vec!["report", A, "-o", A], "which is read"),
        (vec!["report", A, "-o", nowhere.to_str().unwrap()], "folder"),
    ] {
        let done = run(&args);
        assert_eq!(done.status.code(), Some(2), "{args:?}");
        assert!(
            text(&done.stderr).contains(phrase),
            "{args:?}: {}",
            text(&done.stderr)
        );
    }
}

/// Drawings of the page, each with its sides as they stand in it, mm.
fn sheets(page: &str) -> Vec<(&str, [f64; 2])> {
    let pieces = page.split("<svg ").skip(1);
    let drawings = pieces.filter(|piece| piece.contains(" of the tool:"));
    let sides = drawings.map(|piece| {
        let side = |name: &str| -> f64 {
            let text = piece.split(&format!("{name}=\"")).nth(1).unwrap();
            text.split("mm\"").next().unwrap().parse().unwrap()
        };
        let view = piece.split("viewBox=\"0 0 ").nth(1).unwrap();
        let sides = [side("width"), side("height")];
        // A length in the drawing is a millimetre of paper.
        assert_eq!(
            view.split('"').next().unwrap(),
            format!("{} {}", sides[0], sides[1])
        );
        (piece.split("</svg>").next().unwrap(), sides)
    });
    sides.collect()
}

/// Length of the scale bar in the units of the drawing: its pieces are 1.6 high.
fn bar(drawing: &str) -> f64 {
    let mut ends = [f64::INFINITY, f64::NEG_INFINITY];
    for path in drawing.split("<path d=\"M").skip(1) {
        let path = path.split("Z\"").next().unwrap();
        let corners: Option<Vec<[f64; 2]>> = path
            .split('L')
            .map(|corner| {
                let (x, y) = corner.split_once(' ')?;
                Some([x.parse().ok()?, y.parse().ok()?])
            })
            .collect();
        if let Some([a, b, c, _]) = corners.as_deref()
            && a[1] == b[1]
            && (c[1] - b[1] - 1.6).abs() < 1e-6
        {
            ends = [ends[0].min(a[0]), ends[1].max(b[0])];
        }
    }
    ends[1] - ends[0]
}

/// What the bar says: its length on paper, mm, and the length of the tool that it stands for.
fn said_of_bar(drawing: &str) -> [f64; 2] {
    // Its words are in several lines, each a text of its own.
    let texts = drawing.split("<text ").filter_map(|t| t.split_once('>'));
    let words: Vec<&str> = texts.filter_map(|t| t.1.split('<').next()).collect();
    let words = words.join(" ");
    let (tool, paper) = words
        .split_once(" of the tool: this bar must measure ")
        .unwrap();
    let mm = |words: &[&str]| {
        let [number, unit] = words else {
            panic!("{words:?}")
        };
        let unit = if *unit == "in" { 25.4 } else { 1.0 };
        number.parse::<f64>().unwrap() * unit
    };
    let tool: Vec<&str> = tool.split(' ').collect();
    let paper: Vec<&str> = paper.split(' ').take(2).collect();
    [mm(&paper), mm(&tool[tool.len() - 2..])]
}

/// What a reviewer lays a rule on: a standard scale, a bar as long as it says, and nothing that
/// shrinks the sheet between the margins of a printed page.
#[test]
fn printed_drawings_keep_their_scale() {
    // Between the margins of 12 mm A4 is 186, Letter 191.9 mm wide; as high that it stands below the answer.
    let (wide, low) = (186.0, 110.0);
    let standard = [2.0, 1.0, 1.0 / 1.5, 0.5, 0.4, 0.25, 0.2, 0.125, 0.1];
    for name in crate::drawing::DEMOS {
        let file = format!("demo-data/{name}.toml");
        // Three jaws with their names: smaller than here they cannot be told apart side by side.
        let tall = if name == "sleeve-crimper" { 160.0 } else { low };
        for units in ["mm-N", "in-lbf"] {
            let (page, _) = page(&[&file], &["--units", units, "--samples", "100"]);
            let sheets = sheets(&page);
            assert_eq!(sheets.len(), 1, "{name}: open and shut side by side");
            for (drawing, [width, height]) in sheets {
                assert!(
                    width <= wide && height <= tall,
                    "{name}: {width} x {height}"
                );
                let [paper, tool] = said_of_bar(drawing);
                // Said to 0.01 mm or 0.001 in.
                assert!((bar(drawing) - paper).abs() < 0.014, "{name}: {paper}");
                let scale = bar(drawing) / tool;
                let near = |s: &f64| (scale / s - 1.0).abs() < 1e-4;
                assert!(standard.iter().any(near), "{name}: {scale}");
            }
        }
    }
    let style = include_str!("../src/output/html/style.css");
    let (_, print) = style.split_once("@media print").unwrap();
    for rule in print.split('}').filter(|r| r.contains("max-height")) {
        assert!(rule.contains("figure:not(.sheet) svg"), "{rule}");
    }
    assert!(print.contains(".sheet svg { max-width: none; }"));
}

/// The lines of the first screen, each with its sign in front.
fn first_lines(page: &str) -> Vec<String> {
    let (_, rest) = page.split_once("<ul class=\"answer\">").unwrap();
    let (answer, _) = rest.split_once("</ul>").unwrap();
    answer.split("<li ").skip(1).map(words).collect()
}

/// A sentence of the chapter on plates: the two parts in the order of their names, and the widths open and shut.
fn caught_between(sentence: &str) -> ([String; 2], [f64; 2]) {
    let (one, rest) = sentence.split_once(", ").unwrap();
    let rest = rest.split_once("the way to ").unwrap().1;
    let (other, widths) = rest.split_once(" goes from ").unwrap();
    let (open, shut) = widths.split_once(" to ").unwrap();
    let shut = shut.split(' ').next().unwrap();
    let mut parts = [one, other].map(str::to_owned);
    parts.sort();
    (parts, [open, shut].map(|text| text.parse().unwrap()))
}

/// A finger that is caught is told on the first screen, once for every two parts that the chapter on plates has a PINCH
/// between, at the narrowest; and what the file does not ask is no yes.
#[test]
fn pinches_and_what_was_not_asked_are_on_the_first_screen() {
    let (mut caught, mut silent, mut twice) = (0, 0, 0);
    for name in crate::drawing::DEMOS {
        let file = format!("demo-data/{name}.toml");
        let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(&file));
        let text = text.unwrap();
        let (page, _) = page(&[&file], &["--samples", "100"]);
        let lines = first_lines(&page);
        let plates = page.matches("<li>PINCH: ").count();
        let said: Vec<&String> = lines.iter().filter(|l| l.contains("PINCH")).collect();
        assert_eq!(said.len(), usize::from(plates > 0), "{name}: {lines:?}");
        if let Some(line) = said.first() {
            caught += 1;
            assert!(
                line.contains("!mind: Fingers: PINCH through the "),
                "{line}"
            );
            let mut pairs: Vec<([String; 2], [f64; 2])> = Vec::new();
            for sentence in page.split("<li>PINCH: beside ").skip(1) {
                let (parts, widths) = caught_between(sentence);
                match pairs.iter_mut().find(|(known, _)| *known == parts) {
                    Some((_, known)) if widths[1] < known[1] => *known = widths,
                    Some(_) => {}
                    None => pairs.push((parts, widths)),
                }
            }
            for ([one, other], [open, shut]) in pairs.iter().take(2) {
                let there = |a: &str, b: &str| line.matches(&format!("{a} and {b}, ")).count();
                assert_eq!(there(one, other) + there(other, one), 1, "{line}");
                let decimals = if name == "excluder-cutter" { 3 } else { 2 };
                let widths = format!(", {open:.decimals$} to {shut:.decimals$} ");
                assert!(line.contains(&widths), "{line}: {widths}");
            }
            twice += usize::from(pairs.len() < plates);
            let more = pairs.len().saturating_sub(2);
            let counted = line.contains(&format!("and {more} more"));
            assert_eq!(counted, more > 0, "{line}");
        }
        let asked = |table: &str| text.lines().any(|l| l.starts_with(table));
        let line = lines.iter().find(|l| l.contains("Not asked by the file: "));
        let has = |what: &str| line.is_some_and(|l| l.contains(what));
        assert_eq!(
            has("use again and again"),
            !asked("[job]"),
            "{name}: {line:?}"
        );
        assert_eq!(
            has("how long it lasts"),
            !asked("[life]"),
            "{name}: {line:?}"
        );
        silent += usize::from(line.is_some());
    }
    assert!(
        caught >= 2 && silent >= 2 && twice >= 2,
        "{caught}, {silent}, {twice}"
    );
}

/// A line that says yes at one grip and no at another has neither's sign.
#[test]
fn yes_here_and_no_there_has_a_sign_of_its_own() {
    let sign = |grips: &str| {
        let (page, _) = page(&[A], &["--samples", "100", "--grip", grips]);
        let lines = first_lines(&page);
        let hand = lines.into_iter().find(|l| l.contains("Can a hand do it?"));
        let hand = hand.unwrap();
        let before = hand.split("Can").next().unwrap();
        before.rsplit('"').next().unwrap().to_owned()
    };
    // At 60 mm the tool stalls at the hand's limit, at 90 mm it does not.
    assert_eq!(sign("60,90"), "\u{b1}in part: ");
    assert_eq!(sign("60"), "\u{2717}against it: ");
    assert_eq!(sign("90"), "\u{2713}good: ");
}

/// The samples have their clearance taken up, and so may all lie to one side of the value as drawn: the table holds that
/// value too, as the terminal does.
#[test]
fn the_table_of_tolerances_has_the_value_with_clearance_taken_up() {
    let (page, _) = page(&[A], &["--samples", "100"]);
    let study = text(&run(&["tolerance", A, "--samples", "100"]).stdout);
    let (_, table) = page.split_once("<h3>Tolerances</h3>").unwrap();
    let (table, _) = table.split_once("</table>").unwrap();
    assert!(
        table.contains(
            "<th scope=\"col\">nominal</th><th scope=\"col\">with clearance taken up</th>"
        )
    );
    let pairs = study.lines().filter_map(|line| {
        let (nominal, taken) = line.split_once(" nominal; ")?;
        let taken = taken.split_once(" with clearance")?.0;
        let nominal = nominal.rsplit_once(": ")?.1;
        let number = |text: &str| text.split(' ').next().unwrap().to_owned();
        Some((number(nominal), number(taken)))
    });
    let pairs: Vec<(String, String)> = pairs.collect();
    assert!(pairs.len() > 2, "{study}");
    for (nominal, taken) in pairs {
        let cells = format!("<td>{nominal}</td><td>{taken}</td>");
        assert!(table.contains(&cells), "{cells} in {table}");
    }
}

/// Side by side, tools of different files speak in the units of the first.
#[test]
fn side_by_side_everything_is_in_one_set_of_units() {
    const INCHES: &str = "demo-data/excluder-cutter.toml";
    for (files, own, other) in [
        ([A, INCHES], [" mm", " N"], [" in", " lbf"]),
        ([INCHES, A], [" in", " lbf"], [" mm", " N"]),
    ] {
        let (page, _) = page(&files, &["--samples", "100"]);
        let (_, beside) = page.split_once("<h2>Side by side</h2>").unwrap();
        let (beside, _) = beside.split_once("</section>").unwrap();
        let said = words(&beside.replace("</p>", " </p>").replace("</th>", " </th>"));
        let unit = |unit: &str| {
            let all = said.match_indices(unit);
            let whole = all.filter(|(at, _)| {
                let before = said[..*at]
                    .chars()
                    .next_back()
                    .is_some_and(|c| c.is_ascii_digit());
                let after = said[at + unit.len()..].chars().next();
                before && after.is_none_or(|c| !c.is_alphanumeric())
            });
            whole.count()
        };
        assert!(own.iter().all(|name| unit(name) > 4), "{files:?}: {said}");
        for name in other {
            assert_eq!(unit(name), 0, "{files:?}, {name}: {said}");
        }
    }
}

/// Loads of different cases stand side by side: each is marked, and the letters are told.
#[test]
fn load_cases_have_letters() {
    let (page, _) = page(&[A], &["--samples", "100"]);
    let said = words(&page);
    assert!(said.contains(
        "Load cases: W, under the work; H, at the stated hand force of 150 N; L, at the hand's limit."
    ));
    let rows = page
        .split("<tr>")
        .filter(|row| row.contains("<td class=\"text good\""));
    let case = |row: &str| -> (String, String) {
        let cells: Vec<&str> = row.split("</td>").collect();
        let cell = |k: usize| words(cells[k]);
        (cell(1), cell(4))
    };
    let rows: Vec<(String, String)> = rows.map(case).collect();
    let of = |what: &str| &rows.iter().find(|r| r.0.starts_with(what)).unwrap().1;
    assert_eq!(of("hand force"), "W");
    assert_eq!(of("jaw force"), "H");
    // `measure` gives it without regard to the hand force.
    assert_eq!(of("load of pin knee"), "W");
    assert_eq!(of("span"), "");
    assert!(said.contains("jaw @150 (H)") && said.contains("needed (W)"));
    assert!(said.contains("hand force (H), first jaw") && said.contains("limit (L), 200 N"));
}

/// Relative luminance and contrast of WCAG 2.2 (W3C, 2023), definitions in its glossary.
fn contrast(a: &str, b: &str) -> f64 {
    let luminance = |colour: &str| -> f64 {
        let digits: Vec<u8> = colour.trim_start_matches('#').bytes().collect();
        let long: String = match digits.len() {
            3 => digits.iter().flat_map(|d| [*d as char; 2]).collect(),
            _ => digits.iter().map(|d| *d as char).collect(),
        };
        let part = |k: usize| {
            let v = f64::from(u8::from_str_radix(&long[2 * k..2 * k + 2], 16).unwrap()) / 255.0;
            if v <= 0.04045 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * part(0) + 0.7152 * part(1) + 0.0722 * part(2)
    };
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// Every colour of text on every ground of a page, light, dark and in print: at least 4.5 to 1.
#[test]
fn text_stands_out_from_its_ground() {
    assert!((contrast("#000", "#fff") - 21.0).abs() < 1e-9);
    let style = include_str!("../src/output/html/style.css");
    let themes: Vec<&str> = style
        .split(":root {")
        .skip(1)
        .filter_map(|t| t.split('}').next())
        .collect();
    assert_eq!(themes.len(), 3);
    for theme in themes {
        let of = |name: &str| -> &str {
            let rest = theme
                .split(&format!("--{name}: "))
                .nth(1)
                .unwrap_or_else(|| panic!("{name}: {theme}"));
            rest.split(';').next().unwrap()
        };
        for ground in ["page", "band"] {
            for text in ["ink", "soft", "good", "bad", "link"] {
                let seen = contrast(of(text), of(ground));
                assert!(seen >= 4.5, "{text} on {ground}: {seen:.2} in {theme}");
            }
        }
    }
    assert!(style.contains("a { color: var(--link); }"));
}

/// The page in a browser, where there is one.
mod browser {
    use super::*;
    use crate::skipped::browser;

    /// Added to a copy of the page: how wide it is laid out, and how wide it wanted to be.
    const PROBE: &str = "<script>addEventListener('load', () => { const root = document.documentElement; \
        parent.postMessage([root.scrollWidth, root.clientWidth, document.querySelector('.motion .where').textContent].join('|'), '*'); });</script>";

    /// A copy of a page that lets a script of the test run beside its own.
    fn with(page: &str, probe: &str) -> String {
        let (before, rest) = page.split_once("script-src ").unwrap();
        let (_, after) = rest.split_once('"').unwrap();
        let open = format!("{before}script-src 'unsafe-inline'\"{after}");
        open.replace("</body>", &format!("{probe}</body>"))
    }

    fn open(browser: &str, more: &[&str], page: &Path) -> (String, String) {
        let profile = tempfile::tempdir().unwrap();
        let done = Command::new(browser)
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--enable-logging=stderr",
                "--virtual-time-budget=4000",
                "--no-pdf-header-footer",
            ])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .args(more)
            .arg(format!("file://{}", page.display()))
            .output()
            .unwrap();
        (
            text(&done.stdout),
            String::from_utf8_lossy(&done.stderr).into_owned(),
        )
    }

    /// A page in a folder, and how wide its frame is.
    type Framed = (&'static str, &'static str);

    /// What the script in each of these pages says, all in one start of the browser; and what the browser logged.
    fn framed(browser: &str, folder: &Path, frames: &[Framed]) -> (Vec<String>, String) {
        let each = frames.iter().map(|(page, width)| {
            format!("<iframe src=\"{page}\" style=\"border: 0; width: {width}; height: 900px\"></iframe>\n")
        });
        let outer = format!(
            "<!doctype html><body>{}<script>const frames_ = [...document.querySelectorAll('iframe')]; \
             onmessage = e => {{ frames_.find(f => f.contentWindow === e.source).dataset.seen = e.data; }};</script>",
            each.collect::<String>()
        );
        let file = folder.join("outer.html");
        std::fs::write(&file, outer).unwrap();
        let (dom, log) = open(browser, &["--dump-dom"], &file);
        let said = dom.split("data-seen=\"").skip(1);
        let said: Vec<String> = said
            .filter_map(|s| s.split('"').next().map(str::to_owned))
            .collect();
        assert_eq!(said.len(), frames.len(), "{log}");
        (said, log)
    }

    #[test]
    fn no_console_message_and_no_sideways_scrolling_from_phone_to_desktop() {
        let Some(browser) = browser() else {
            return;
        };
        let folder = tempfile::tempdir().unwrap();
        let (page, _) = page(&[A, B, PLUNGER], &["--samples", "100"]);
        std::fs::write(folder.path().join("page.html"), with(&page, PROBE)).unwrap();
        // A frame can be narrower than a window.
        let widths = ["360px", "768px", "1280px"];
        let frames: Vec<Framed> = widths.map(|width| ("page.html", width)).into();
        let (answers, log) = framed(&browser, folder.path(), &frames);
        for (seen, width) in answers.iter().zip(widths) {
            let seen: Vec<&str> = seen.split('|').collect();
            let (wanted, had): (f64, f64) = (seen[0].parse().unwrap(), seen[1].parse().unwrap());
            assert!(wanted <= had, "{width}: {wanted} in {had}");
            assert_eq!(seen[2], "gap 9.00 mm, travel 0.0 degrees");
        }
        assert!(!log.contains("CONSOLE"), "{log}");
    }

    /// The rules for print, on frames as wide as A4 and Letter between their margins: the browser
    /// lays the scale bar out as long as it says.
    #[test]
    fn the_scale_bar_measures_what_it_says() {
        let Some(browser) = browser() else {
            return;
        };
        // Ends of the pieces of each bar, which are 1.6 mm high, from left to right, px.
        const MEASURE: &str = "<script>addEventListener('load', () => { \
            const mm = 96 / 25.4; \
            const bars = [...document.querySelectorAll('.paper > svg')].map(svg => { \
                const all = [...svg.querySelectorAll(':scope > path')].filter(p => p.getAttribute('d').endsWith('Z')); \
                const scale = svg.getScreenCTM().a / mm; \
                const pieces = all.filter(p => Math.abs(p.getBBox().height - 1.6) < 1e-3).map(p => p.getBBox()); \
                const left = Math.min(...pieces.map(b => b.x)), right = Math.max(...pieces.map(b => b.x + b.width)); \
                return pieces.length ? (right - left) * scale : 0; }); \
            parent.postMessage(bars.filter(b => b > 0).join('|'), '*'); });</script>";
        let folder = tempfile::tempdir().unwrap();
        let tools = [
            (A, "a.html"),
            (PLUNGER, "b.html"),
            ("demo-data/excluder-cutter.toml", "c.html"),
        ];
        let (mut bars, mut frames) = (Vec::new(), Vec::new());
        for (file, name) in tools {
            let (page, _) = page(&[file], &["--samples", "100"]);
            let said: Vec<f64> = (sheets(&page).iter())
                .map(|sheet| said_of_bar(sheet.0)[0])
                .collect();
            let printed = page.replace("@media print", "@media all");
            std::fs::write(folder.path().join(name), with(&printed, MEASURE)).unwrap();
            for width in ["186mm", "191.9mm"] {
                bars.push((file, said.clone()));
                frames.push((name, width));
            }
        }
        let (answers, _) = framed(&browser, folder.path(), &frames);
        for (seen, (file, said)) in answers.iter().zip(&bars) {
            let seen: Vec<f64> = seen.split('|').map(|n| n.parse().unwrap()).collect();
            assert_eq!(seen.len(), said.len(), "{file}: {seen:?}");
            for (seen, said) in seen.iter().zip(said) {
                assert!((seen - said).abs() < 0.05, "{file}: {seen} for {said} mm");
            }
        }
    }

    #[test]
    fn it_prints_on_whole_pages() {
        let Some(browser) = browser() else {
            return;
        };
        let folder = tempfile::tempdir().unwrap();
        let (page, _) = page(&[A], &[]);
        let file = folder.path().join("page.html");
        std::fs::write(&file, page).unwrap();
        let pdf = folder.path().join("page.pdf");
        let option = format!("--print-to-pdf={}", pdf.display());
        let (_, log) = open(&browser, &[option.as_str()], &file);
        let bytes = std::fs::read(&pdf).unwrap_or_else(|e| panic!("{e}: {log}"));
        let pdf = String::from_utf8_lossy(&bytes);
        let pages = pdf.matches("/Type /Page\n").count();
        assert!((4..=7).contains(&pages), "{pages} pages");
        assert!(!log.contains("CONSOLE"), "{log}");
    }

    /// One tool without the listing of its file is four pages, on either paper: on Letter, which is the lower one, all of
    /// them, on A4 those that fill the most.
    #[test]
    fn a_tool_prints_on_four_pages() {
        let Some(browser) = browser() else {
            return;
        };
        let folder = tempfile::tempdir().unwrap();
        for name in crate::drawing::DEMOS {
            let tool = format!("demo-data/{name}.toml");
            let (page, _) = page(&[&tool], &["--samples", "1000"]);
            let (before, rest) = page.split_once("<h3>Inputs in full</h3>").unwrap();
            let (_, after) = rest.split_once("</section>").unwrap();
            let most = |paper: &str| match name {
                // Ratchet, springs, repeated use and setting up are chapters that no other demo has.
                "ferrule-crimper" => 5,
                // Three jaws: a high drawing and a table for each.
                "sleeve-crimper" if paper.ends_with("in") => 5,
                _ => 4,
            };
            let fills = ["ferrule-crimper", "sleeve-crimper", "snap-press"].contains(&name);
            let papers = ["8.5in 11in", "210mm 297mm"];
            for paper in &papers[..if fills { 2 } else { 1 }] {
                let sized = format!("{before}</section>{after}")
                    .replace("@page { margin", &format!("@page {{ size: {paper}; margin"));
                let file = folder.path().join("page.html");
                std::fs::write(&file, sized).unwrap();
                let pdf = folder.path().join("page.pdf");
                let option = format!("--print-to-pdf={}", pdf.display());
                let (_, log) = open(&browser, &[option.as_str()], &file);
                let bytes = std::fs::read(&pdf).unwrap_or_else(|e| panic!("{e}: {log}"));
                let pages = String::from_utf8_lossy(&bytes)
                    .matches("/Type /Page\n")
                    .count();
                assert!(
                    (2..=most(paper)).contains(&pages),
                    "{tool}: {pages} pages on {paper}"
                );
            }
        }
    }
}
