//! Names that would break or script an SVG, long names, several drawings in one page.

use super::{PX, check_page, demo, out, rendered};
use crate::cli::Bench;
use jawforce::model::GripId;

const HOSTILE: &str = r#"</title><script>alert(1)</script> & "quoted" 'so' ]]> --> \u05e2\u05d1\u05e8\u05d9\u05ea \u202e\U0001F527 onload=x"#;

#[test]
fn names_cannot_break_or_script_the_drawing() {
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let name = format!("name = \"{}\"\n", HOSTILE.replace('"', "\\\""));
    let text: String = text
        .lines()
        .map(|line| {
            if line.starts_with("name  = ") {
                name.clone()
            } else {
                format!("{line}\n")
            }
        })
        .collect();
    let bench = Bench::empty();
    let file = "we<i>rd & \"it's\" \u{5d0}\u{1f527}.toml";
    bench.put(file, text);
    for part in [&[][..], &["--part", "press-half"]] {
        let svg = out(&bench, &[&["draw", file][..], part].concat());
        let document = roxmltree::Document::parse(&svg).unwrap();
        let known = [
            "svg", "title", "desc", "defs", "pattern", "path", "rect", "circle", "text",
        ];
        for node in document.descendants().filter(roxmltree::Node::is_element) {
            assert!(
                known.contains(&node.tag_name().name()),
                "{:?}",
                node.tag_name()
            );
            for attribute in node.attributes() {
                let name = attribute.name();
                assert!(
                    !name.starts_with("on") && name != "href" && name != "style",
                    "{name}"
                );
            }
        }
        let title = document
            .descendants()
            .find(|n| n.has_tag_name("title"))
            .unwrap();
        let title = title.text().unwrap();
        assert!(
            title.starts_with("</title><script>alert(1)</script> & \"quoted\" 'so' ]]>"),
            "{title}"
        );
        assert!(
            !title.contains('\u{202e}') && title.contains('\u{1f527}'),
            "{title}"
        );
        check_page(&svg, "hostile names");
    }
}

#[test]
fn long_names_are_cut_and_their_numbers_are_not() {
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let long = "rivet-".repeat(10);
    let text = text
        .replace("rivet", &long)
        .replace("crest", &"m".repeat(64));
    let bench = Bench::with(&text);
    for part in [&[][..], &["--part", "press-half"]] {
        let svg = out(&bench, &[&["draw", "tool.toml"][..], part].concat());
        check_page(&svg, "long names");
        let tree = rendered(&svg);
        assert!(f64::from(tree.size().width()) / PX < 700.0);
        assert!(svg.contains("\u{2026}") && svg.contains(" 371 N<"));
    }
}

#[test]
fn several_drawings_can_stand_in_one_page() {
    use jawforce::output::{DrawingOptions, drawing_svg};
    let text = std::fs::read_to_string(demo("wire-crimp-pliers")).unwrap();
    let tool = jawforce::input::read_tool(&text, &|_| Err(String::new()))
        .unwrap()
        .tool;
    let direction = jawforce::analysis::Direction::Closing;
    let mounted = jawforce::statics::Mounted::new(&tool).unwrap();
    let mut rig = jawforce::statics::Rig::new(&tool, &mounted, direction).unwrap();
    let scenes =
        jawforce::scene::scenes(&mut rig, &[jawforce::model::At::Open], GripId::FIRST).unwrap();
    let source = jawforce::report::Source {
        file: "x".to_owned(),
        sha256: String::new(),
    };
    let report =
        jawforce::report::drawing_report(&tool, &scenes, None, direction, &source, tool.units);
    let ids = |prefix: &str| -> Vec<String> {
        let options = DrawingOptions {
            scale: None,
            width: 180.0,
            height: 240.0,
            prefix: prefix.to_owned(),
            ..DrawingOptions::default()
        };
        let svg = drawing_svg(&report, &options).unwrap();
        let document = roxmltree::Document::parse(&svg).unwrap();
        let width = document.root_element().attribute("width").unwrap();
        assert!(width.trim_end_matches("mm").parse::<f64>().unwrap() <= 180.0);
        let ids = document.descendants().filter_map(|n| n.attribute("id"));
        ids.map(str::to_owned).collect()
    };
    assert_eq!(ids("a-"), ["a-title", "a-desc", "a-hatch"]);
    assert_eq!(
        ids("b\"><script>"),
        ["bscripttitle", "bscriptdesc", "bscripthatch"]
    );
}
