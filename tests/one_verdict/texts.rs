//! The same in the texts of the terminal and on the page of `report`.

use super::said::{Said, short};
use crate::cli::Bench;

/// The cells of the rows of a table of the page, tags taken out, where a row has so many.
fn cells(page: &str, count: usize) -> Vec<Vec<String>> {
    let rows = page.split("<tr>").skip(1);
    rows.filter_map(|row| {
        let row = row.split("</tr>").next()?;
        let cells: Vec<String> = row
            .split("<td")
            .skip(1)
            .filter_map(|cell| Some(cell.split_once('>')?.1.split("</td>").next()?.to_owned()))
            .collect();
        (cells.len() == count).then_some(cells)
    })
    .collect()
}

/// The plain words of the page as a file has them: `pin_load.knee at peak` for "load of pin knee, peak".
fn as_in_files(words: &str) -> String {
    let (words, grip) = match words.split_once(", grip ") {
        Some((words, grip)) => (words, format!(", grip {grip}")),
        None => (words, String::new()),
    };
    let extreme = ["peak", "least"]
        .into_iter()
        .find_map(|e| Some((words.strip_suffix(&format!(", {e}"))?, e.to_owned())));
    let at = || {
        let (measure, at) = words.split_once(" at ")?;
        let at = match at.split(' ').collect::<Vec<_>>()[..] {
            [what, value, _unit] => format!("{what}={value}"),
            _ => at.to_owned(),
        };
        Some((measure, at))
    };
    let (measure, at) = match extreme.or_else(at) {
        Some((measure, at)) => (measure, format!(" at {at}")),
        None => (words, String::new()),
    };
    let measure = match measure {
        "strength factor" => "safety".to_owned(),
        "share of the hand&#39;s limit" => "hand_share".to_owned(),
        "work of the hand" => "hand_work".to_owned(),
        "work at the jaw" => "jaw_work".to_owned(),
        other => match (
            other.strip_prefix("load of pin "),
            other.strip_prefix("strength factor of "),
        ) {
            (Some(pin), _) => format!("pin_load.{pin}"),
            (_, Some(part)) => format!("safety.{part}"),
            _ => other.replace(' ', "_"),
        },
    };
    measure + &at + &grip
}

/// Demands printed as `what: value, at least …`, behind their verdict.
fn of_lines(said: &mut Said, who: &str, text: &str) -> usize {
    let mut count = 0;
    for line in text.lines() {
        let (met, rest) = match (
            line.strip_prefix("  met      "),
            line.strip_prefix("  NOT MET  "),
        ) {
            (Some(rest), _) => (true, rest),
            (_, Some(rest)) => (false, rest),
            _ => continue,
        };
        let (what, value) = rest.split_once(": ").unwrap();
        let value = value.split(", ").next().unwrap();
        of_printed(said, who, what, value, met);
        count += 1;
    }
    count
}

fn of_printed(said: &mut Said, who: &str, what: &str, value: &str, met: bool) {
    let what = what.trim_end_matches(" mm").trim_end_matches(" in");
    said.printed(who, what, value);
    said.verdict(who, what, met);
}

pub fn of_texts(said: &mut Said, bench: &Bench, jaw: &str, code: i32) {
    let count = said.met.len();
    for args in [
        &["stroke", "tool.toml"][..],
        &["check", "--demands", "tool.toml"],
    ] {
        // Wide enough that no line is broken.
        let mut command = bench.command(args);
        let output = command.env("COLUMNS", "400").output().unwrap();
        assert_eq!(output.status.code(), Some(code), "{args:?}");
        let text = String::from_utf8(output.stdout).unwrap();
        assert_eq!(of_lines(said, args[0], &text), count, "{text}");
    }
    let verdict = match said.met.values().filter(|(met, _)| !met).count() {
        _ if count == 0 => "no demands in the file".to_owned(),
        0 => format!("As drawn: {count} of {count} demands met."),
        missed => format!(
            "As drawn: {} of {count} demands met, {missed} NOT met.",
            count - missed
        ),
    };
    bench.put("copy.toml", std::fs::read(bench.path("tool.toml")).unwrap());
    for files in [&["tool.toml"][..], &["tool.toml", "copy.toml"]] {
        let mut args = vec!["report"];
        args.extend(files);
        args.extend(["-o", "page.html", "--samples", "50"]);
        assert_eq!(bench.run(&args).code, code, "report");
        let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
        let page = page
            .replace("<span class=\"good\">", "")
            .replace("<span class=\"bad\">", "");
        let page = page
            .replace("<strong class=\"good\">", "")
            .replace("<strong class=\"bad\">", "");
        let page = page.replace("</span>", "").replace("</strong>", "");
        let who = format!("report of {}", files.len());
        if count > 0 || files.len() > 1 {
            assert!(page.contains(&verdict), "{who}: {verdict}");
        }
        let demands = cells(&page, 5);
        let demands = demands
            .iter()
            .filter(|d| d[0] == "met" || d[0] == "NOT MET");
        let mut seen = 0;
        for demand in demands {
            let what = as_in_files(&demand[1]);
            of_printed(said, &who, &what, &demand[2], demand[0] == "met");
            seen += 1;
        }
        assert_eq!(seen, count * files.len(), "{who}");
        let factors = page.split("Strength factors over the stroke").nth(1);
        if let Some(least) = factors.and_then(|f| cells(f, 5).into_iter().next()) {
            said.printed(&who, "safety", &least[0]);
        }
        if files.len() > 1 {
            side_by_side(said, &page, &who);
        }
    }
    assert!(!jaw.is_empty());
}

/// The table of the page with several tools: its heads name the columns.
fn side_by_side(said: &mut Said, page: &str, who: &str) {
    let table = page.split("<h2>Side by side</h2>").nth(1).unwrap();
    let table = table.split("</table>").next().unwrap();
    let head: Vec<String> = table
        .split("<th")
        .skip(1)
        .filter_map(|cell| Some(cell.split_once('>')?.1.split("<small>").next()?.to_owned()))
        .filter(|cell| !cell.is_empty() && !cell.starts_with("<tr>"))
        .collect();
    for row in cells(table, head.len()) {
        let grip = head.iter().position(|h| h == "grip").unwrap();
        let grip: f64 = row[grip].trim().parse().unwrap();
        for (head, cell) in head.iter().zip(&row) {
            if head.contains(" at ") {
                let what = format!("{head}, grip {}", short(grip));
                said.printed(who, &what, cell.trim().trim_end_matches('*').trim());
            }
        }
    }
}
