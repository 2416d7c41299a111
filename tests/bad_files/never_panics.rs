//! Whatever the text, the answer is a tool or problems that can be shown.

use super::*;
use proptest::prelude::*;

/// Whatever the text: problems that can be shown, or a tool that keeps its promises.
fn survive(text: &str) {
    if let Ok(read) = read_tool(text, &load) {
        assert_eq!(read.tool.validate(), Ok(()));
    }
    for problem in problems(text) {
        let shown = render(&problem, "tool.toml", text, false);
        assert!(shown.contains(problem.code), "{shown}");
    }
}

proptest! {
    #[test]
    fn on_any_text(text in ".*") {
        survive(&text);
    }

    /// A line of the good file cut short, doubled or replaced by another.
    #[test]
    fn on_broken_files(a in 0..31_usize, b in 0..31_usize, cut in 0..40_usize) {
        let mut lines: Vec<String> = GOOD.lines().map(str::to_owned).collect();
        lines[a] = lines[b].chars().take(cut).collect();
        survive(&lines.join("\n"));
    }

    /// Any value where a number is expected.
    #[test]
    fn on_odd_numbers(value: f64, line in prop::sample::select(vec![12_usize, 28])) {
        let key = if line == 12 { "length" } else { "axis" };
        survive(&spoil(line, &format!("{key} = {value:e}")));
    }

    #[test]
    fn on_any_span(start in 0..2000_usize, end in 0..2000_usize, text in ".{0,200}") {
        let problem = Diagnostic::error(code::SYNTAX, start..end, "odd").also(end..start, "x");
        let shown = render(&problem, "tool.toml", &text, false);
        prop_assert!(shown.contains("odd"));
        prop_assert!(one_line(&problem, "tool.toml", &text).ends_with(": odd"));
    }
}
