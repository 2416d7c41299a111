//! Drawings true to scale: measured in the SVG and in what a renderer makes of it.

mod calls;
mod free_bodies;
mod names;
mod page;
mod pictures;
mod sheets;
mod signs;
mod to_scale;

use crate::cli::Bench;
use serde_json::Value;
use std::path::Path;
use std::sync::{Arc, LazyLock};
use usvg::fontdb;

pub const DEMOS: [&str; 9] = [
    "eyelet-toggle",
    "eyelet-toggle-b",
    "excluder-cutter",
    "pin-plunger",
    "wire-crimp-pliers",
    "sleeve-crimper",
    "ferrule-crimper",
    "seal-pliers",
    "snap-press",
];
pub const STARTERS: [&str; 7] = [
    "pliers", "toggle", "plunger", "compound", "nests", "geared", "cam",
];
/// Pixels of the renderer in a millimetre (CSS: 96 in an inch).
const PX: f64 = 96.0 / 25.4;

pub fn demo(name: &str) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("demo-data").join(format!("{name}.toml"));
    path.to_str().unwrap().to_owned()
}

/// What the program prints for this call, which must succeed.
pub fn out(bench: &Bench, args: &[&str]) -> String {
    let ended = bench.run(args);
    assert!(
        ended.code == 0 || ended.code == 1,
        "{args:?}: {}",
        ended.err
    );
    ended.out
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    serde_json::from_str(&out(bench, args)).unwrap()
}

static FONTS: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(epaint_default_fonts::UBUNTU_LIGHT.to_vec());
    fonts.load_font_data(epaint_default_fonts::NOTO_EMOJI_REGULAR.to_vec());
    let family = fonts
        .faces()
        .find(|f| f.families.iter().any(|(name, _)| name.contains("Ubuntu")))
        .map(|f| f.families[0].0.clone())
        .unwrap();
    fonts.set_sans_serif_family(family);
    Arc::new(fonts)
});

fn rendered(svg: &str) -> usvg::Tree {
    let options = usvg::Options {
        fontdb: FONTS.clone(),
        ..usvg::Options::default()
    };
    usvg::Tree::from_str(svg, &options).unwrap()
}

fn nodes<'t>(group: &'t usvg::Group, found: &mut Vec<&'t usvg::Node>) {
    for node in group.children() {
        found.push(node);
        if let usvg::Node::Group(inner) = node {
            nodes(inner, found);
        }
    }
}

/// Where the plates of a drawing are, each time they are drawn: left, top, right and bottom in mm.
pub fn bounds_of_regions(svg: &str) -> Vec<[f64; 4]> {
    let tree = rendered(svg);
    let mut found = Vec::new();
    nodes(tree.root(), &mut found);
    let plates = found.into_iter().filter_map(|node| match node {
        usvg::Node::Path(path) => Some(path),
        _ => None,
    });
    let odd = plates.filter(|path| {
        let fill = path.fill().map(usvg::Fill::rule);
        fill == Some(usvg::FillRule::EvenOdd)
    });
    odd.map(|path| corners(path.abs_bounding_box())).collect()
}

/// Left, top, right and bottom in mm.
fn corners(b: usvg::Rect) -> [f64; 4] {
    [b.left(), b.top(), b.right(), b.bottom()].map(|v| f64::from(v) / PX)
}

/// Text on the page: its corners (mm), widened to what wider fonts would take, and its letters.
///
/// The font at hand is a narrow light one. DejaVu Sans, which drawings and charts name, takes up to
/// 1.13 times its width, and 1.3 times in bold (widths of both fonts, averaged over labels).
fn texts(tree: &usvg::Tree) -> Vec<([f64; 4], String)> {
    let mut found = Vec::new();
    nodes(tree.root(), &mut found);
    let mut texts = Vec::new();
    for node in found {
        let usvg::Node::Text(text) = node else {
            continue;
        };
        let mut b = corners(text.flattened().abs_bounding_box());
        let chunk = &text.chunks()[0];
        // The rim below a label is no text of its own.
        if chunk.spans().iter().all(|span| span.fill().is_none()) {
            continue;
        }
        let bold = chunk.spans()[0].font().weight() > 400;
        let more = (b[2] - b[0]) * if bold { 0.3 } else { 0.13 };
        match chunk.anchor() {
            usvg::TextAnchor::Start => b[2] += more,
            usvg::TextAnchor::Middle => {
                b[0] -= 0.5 * more;
                b[2] += 0.5 * more;
            }
            usvg::TextAnchor::End => b[0] -= more,
        }
        texts.push((b, chunk.text().to_owned()));
    }
    texts
}

/// What is wrong with a page: ink or letters off it, letters on letters, numbers that are none.
fn problems(svg: &str) -> Vec<String> {
    let mut problems = Vec::new();
    let document = roxmltree::Document::parse(svg).unwrap();
    for attribute in document.descendants().flat_map(|n| n.attributes()) {
        if ["NaN", "inf"].iter().any(|w| attribute.value().contains(w)) {
            problems.push(format!("{attribute:?}"));
        }
    }
    let tree = rendered(svg);
    let (wide, tall) = (
        f64::from(tree.size().width()) / PX,
        f64::from(tree.size().height()) / PX,
    );
    let inside =
        |b: [f64; 4]| b[0] > -0.01 && b[1] > -0.01 && b[2] < wide + 0.01 && b[3] < tall + 0.01;
    let mut found = Vec::new();
    nodes(tree.root(), &mut found);
    for node in found {
        let b = corners(node.abs_stroke_bounding_box());
        if !inside(b) {
            problems.push(format!("ink off the page: {b:?}"));
        }
    }
    let texts = texts(&tree);
    for (k, (a, left)) in texts.iter().enumerate() {
        if !inside(*a) {
            problems.push(format!("`{left}` off the page: {a:?}"));
        }
        for (b, right) in &texts[..k] {
            let over = |i: usize| a[i + 2].min(b[i + 2]) - a[i].max(b[i]);
            if over(0) > 0.05 && over(1) > 0.05 {
                problems.push(format!("`{left}` lies on `{right}`: {a:?} {b:?}"));
            }
        }
    }
    problems
}

/// That a page, a drawing's or a chart's, is in order as a renderer sees it.
pub fn check_page(svg: &str, what: &str) {
    let problems = problems(svg);
    assert!(problems.is_empty(), "{what}: {}", problems.join("\n"));
    assert!(texts(&rendered(svg)).len() > 8, "{what}: letters are seen");
}
