//! What the fuzzers run, and what must hold whatever a file says: an answer or a refusal in words,
//! no panic, no number that is not finite, no answer that disagrees with itself.

mod jobs;
mod spoil;

pub use jobs::{every_job, shapes, stroke};
pub use spoil::{spoilt, spoilt_shapes};

use jawforce::input::{Diagnostic, read_tool, render_all};
use jawforce::model::Tool;

/// Reads a tool file; its problems must stand at places of the text and have words.
pub fn read(text: &str) -> Option<Tool> {
    let beside = |name: &str| match name {
        "none.csv" => Err("no such file or folder".to_owned()),
        "odd.csv" => Ok("gap,force\n3,0\n3,\"nan\n".to_owned()),
        _ => Ok("gap,force\n3,0\n0,900\n".to_owned()),
    };
    match read_tool(text, &beside) {
        Err(problems) => {
            assert!(!problems.is_empty());
            shown(&problems, text);
            None
        }
        Ok(read) => {
            shown(&read.advice, text);
            for span in read.spans.values() {
                assert!(span.start <= span.end && span.end <= text.len());
            }
            Some(read.tool)
        }
    }
}

fn shown(problems: &[Diagnostic], text: &str) {
    for problem in problems {
        let span = &problem.span;
        assert!(
            span.start <= span.end && span.end <= text.len(),
            "{problem:?}"
        );
        assert!(
            text.is_char_boundary(span.start) && text.is_char_boundary(span.end),
            "{problem:?}"
        );
        assert!(!problem.message.is_empty());
    }
    for styled in [false, true] {
        let words = render_all(problems, "tool.toml", text, styled);
        assert_eq!(words.is_empty(), problems.is_empty());
    }
}
