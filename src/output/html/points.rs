//! A page with a picture in which pins and marks are set, and the tables of a tool file that come of it.

use super::motion::script_source;
use super::page::STYLE;
use crate::output::error::OutputError;
use crate::output::picture::Picture;
use crate::output::text::{clean, trimmed};
use crate::units::fixed;
use askama::Template;

const SCRIPT: &str = include_str!("points.js");

#[derive(Template)]
#[template(path = "points.html", config = "src/output/html/askama.toml")]
struct Page {
    name: String,
    size: String,
    width: String,
    height: String,
    href: String,
    version: &'static str,
    style: &'static str,
    own_style: &'static str,
    script: &'static str,
    source: String,
}

/// The page for a picture; `name` is that of its file.
///
/// # Errors
/// When the page cannot be written.
pub fn points_page(
    picture: &Picture,
    name: &str,
    version: &'static str,
) -> Result<String, OutputError> {
    let [width, height] = picture.size.map(trimmed);
    let page = Page {
        name: clean(name),
        size: picture.size.map(|side| fixed(side, 0)).join(" x "),
        width,
        height,
        href: picture.address(),
        version,
        style: STYLE,
        own_style: include_str!("points.css"),
        script: SCRIPT,
        source: script_source(SCRIPT),
    };
    page.render()
        .map_err(|e| OutputError::Writer(e.to_string()))
}
