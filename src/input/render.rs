//! Problems as text: the source line, a caret, what to do.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};

use super::diagnostic::{Diagnostic, Severity, floor, position};

/// One problem, with its source line, over several lines. `styled` adds terminal colours.
#[must_use]
pub fn render(problem: &Diagnostic, file: &str, source: &str, styled: bool) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Advice => Level::WARNING.with_name("advice"),
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

/// All problems, an empty line between them.
#[must_use]
pub fn render_all(problems: &[Diagnostic], file: &str, source: &str, styled: bool) -> String {
    let all: Vec<String> = problems
        .iter()
        .map(|problem| render(problem, file, source, styled))
        .collect();
    all.join("\n\n")
}

/// `file:line:column: error[code]: message`, for editors.
#[must_use]
pub fn one_line(problem: &Diagnostic, file: &str, source: &str) -> String {
    let (line, column) = position(source, problem.span.start);
    let severity = match problem.severity {
        Severity::Error => "error",
        Severity::Advice => "advice",
    };
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
