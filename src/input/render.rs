//! Problems as text: the source line, a caret, what to do.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};

use super::diagnostic::{Diagnostic, Severity, floor, position};

/// One problem, with its source line, over several lines. `styled` adds terminal colours.
#[must_use]
pub fn render(problem: &Diagnostic, file: &str, source: &str, styled: bool) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Advice => Level::WARNING.with_name(Severity::Advice.word()),
    };
    let primary = AnnotationKind::Primary.span(inside(source, &problem.span));
    let mut snippet = Snippet::source(source)
        .path(file)
        .annotation(match problem.label.as_str() {
            "" => primary,
            label => primary.label(label),
        });
    for label in &problem.further {
        let span = inside(source, &label.span);
        snippet = snippet.annotation(AnnotationKind::Context.span(span).label(&label.text));
    }
    let notes = problem
        .notes
        .iter()
        .map(|note| Element::from(Level::NOTE.message(note)));
    let helps = problem
        .help
        .iter()
        .map(|help| Element::from(Level::HELP.message(help)));
    let title = level.primary_title(&problem.message).id(problem.code);
    let group = Group::with_title(title)
        .element(snippet)
        .elements(notes)
        .elements(helps);
    let renderer = if styled {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    renderer.render(&[group])
}

/// All problems, an empty line between them. Of more than a screenful the first are shown with their
/// lines, some more of each kind in one line each, and the rest are counted.
#[must_use]
pub fn render_all(problems: &[Diagnostic], file: &str, source: &str, styled: bool) -> String {
    let full = |problem: &Diagnostic| render(problem, file, source, styled);
    if problems.len() <= MOST_IN_FULL {
        return problems.iter().map(full).collect::<Vec<_>>().join("\n\n");
    }
    let kinds = Kinds::of(problems);
    let mut shown = kinds.shown(problems).into_iter().peekable();
    let (mut blocks, mut lines) = (Vec::new(), 0);
    while let Some(&problem) = shown.peek() {
        let block = full(problem);
        lines += block.lines().count() + 1;
        if lines > LINES_IN_FULL {
            break;
        }
        blocks.push(block);
        shown.next();
    }
    let rest: Vec<String> = shown.map(|p| one_line(p, file, source)).collect();
    let counts = kinds.counts();
    blocks.extend([rest, counts].iter().map(|lines| lines.join("\n")));
    blocks.retain(|block| !block.is_empty());
    blocks.join("\n\n")
}

/// So many problems are all shown with their lines; of more, so many of a kind at most are shown.
const MOST_IN_FULL: usize = 20;
/// Where there are more: lines for those that are shown with their lines, the most that are shown at
/// all, and the most kinds whose rest is counted apart. Together they stay below a hundred lines.
const LINES_IN_FULL: usize = 30;
const MOST_SHOWN: usize = 45;
const MOST_COUNTED: usize = 20;

/// A kind of problem, and how many there are.
struct Kind {
    severity: Severity,
    code: &'static str,
    count: usize,
}

/// The kinds of many problems, by their first places.
struct Kinds {
    all: Vec<Kind>,
    /// How many of each are shown.
    each: usize,
}

impl Kinds {
    fn of(problems: &[Diagnostic]) -> Self {
        let mut all: Vec<Kind> = Vec::new();
        for &Diagnostic { severity, code, .. } in problems {
            match all.iter_mut().find(|kind| kind.is(severity, code)) {
                Some(kind) => kind.count += 1,
                None => all.push(Kind {
                    severity,
                    code,
                    count: 1,
                }),
            }
        }
        let shown = |each: usize| all.iter().map(|kind| kind.count.min(each)).sum::<usize>();
        let each = (2..=MOST_IN_FULL)
            .rev()
            .find(|&each| shown(each) <= MOST_SHOWN);
        let each = each.unwrap_or(1);
        Self { all, each }
    }

    /// The first of each kind, in the order of the problems.
    fn shown<'p>(&self, problems: &'p [Diagnostic]) -> Vec<&'p Diagnostic> {
        let mut left = vec![self.each; self.all.len()];
        let first = |problem: &&Diagnostic| {
            let kind = |kind: &Kind| kind.is(problem.severity, problem.code);
            let left = self.all.iter().position(kind).and_then(|k| left.get_mut(k));
            left.is_some_and(|left| {
                let some = *left > 0;
                *left = left.saturating_sub(1);
                some
            })
        };
        let mut shown: Vec<&Diagnostic> = problems.iter().filter(first).collect();
        shown.truncate(MOST_SHOWN);
        shown
    }

    /// One line for each kind that is not shown to the last.
    fn counts(&self) -> Vec<String> {
        // Of more kinds than are shown, the last have none shown.
        let shown = |k: usize| if k < MOST_SHOWN { self.each } else { 0 };
        let more = |(k, kind): (usize, &Kind)| kind.count.saturating_sub(shown(k));
        let mut cut: Vec<(usize, &Kind)> = (self.all.iter().enumerate())
            .map(|(k, kind)| (more((k, kind)), kind))
            .filter(|(more, _)| *more > 0)
            .collect();
        let others = cut.split_off(cut.len().min(MOST_COUNTED));
        let line = |(more, kind): (usize, &Kind)| {
            let (severity, code) = (kind.severity.word(), kind.code);
            format!("... and {more} more of this kind: {severity}[{code}]")
        };
        let mut lines: Vec<String> = cut.into_iter().map(line).collect();
        if !others.is_empty() {
            let more: usize = others.iter().map(|(more, _)| more).sum();
            lines.push(format!(
                "... and {more} more of {} other kinds",
                others.len()
            ));
        }
        lines
    }
}

impl Kind {
    fn is(&self, severity: Severity, code: &str) -> bool {
        self.severity == severity && self.code == code
    }
}

/// `file:line:column: error[code]: message`, for editors.
#[must_use]
pub fn one_line(problem: &Diagnostic, file: &str, source: &str) -> String {
    let (line, column) = position(source, problem.span.start);
    let severity = problem.severity.word();
    format!(
        "{file}:{line}:{column}: {severity}[{}]: {}",
        problem.code, problem.message
    )
}

/// A span that the renderer can bear: inside the source, not reversed, between characters.
fn inside(source: &str, span: &Range<usize>) -> Range<usize> {
    let start = floor(source, span.start);
    let end = floor(source, span.end).max(start);
    start..end
}
