//! Charts as a renderer sees them: nothing off the page, no label on another.

use crate::cli::Bench;
use crate::drawing::{DEMOS, STARTERS, check_page, demo, out};

/// Eight grips on the hand line of each demo tool, in the file's units.
const GRIPS: [(&str, &str); 5] = [
    ("eyelet-toggle", "45,55,65,75,85,95,105,113"),
    ("eyelet-toggle-b", "45,55,65,75,85,95,105,113"),
    ("excluder-cutter", "1.5,1.8,2.1,2.4,2.7,3,3.3,3.6"),
    ("pin-plunger", "35,40,45,50,55,60,65,70"),
    ("wire-crimp-pliers", "40,50,60,70,80,90,95,105"),
];

fn files(bench: &Bench) -> Vec<String> {
    let mut files: Vec<String> = DEMOS.iter().map(|d| demo(d)).collect();
    for starter in STARTERS {
        let file = format!("{starter}.toml");
        out(bench, &["new", starter, "-o", &file]);
        files.push(file);
    }
    files
}

#[test]
fn force_curves_keep_to_their_page() {
    let bench = Bench::empty();
    for file in &files(&bench) {
        for more in [&[][..], &["--opening"], &["--units", "in-lbf"]] {
            let svg = out(
                &bench,
                &[&["stroke", file, "--svg", "-"][..], more].concat(),
            );
            check_page(&svg, &format!("{file} {more:?}"));
        }
    }
}

#[test]
fn eight_grips_keep_to_their_page() {
    let bench = Bench::empty();
    for (name, grips) in GRIPS {
        let file = demo(name);
        for more in [&[][..], &["--units", "in-lbf"]] {
            let call = ["stroke", &file, "--svg", "-", "--grip", grips];
            let svg = out(&bench, &[&call[..], more].concat());
            check_page(&svg, &format!("{name} {more:?}"));
        }
        // All but at one place: curves and labels on top of each other.
        let first: f64 = grips.split(',').next().unwrap().parse().unwrap();
        let near: Vec<String> = (0..8)
            .map(|k| format!("{:.2}", first + 0.01 * f64::from(k)))
            .collect();
        let svg = out(
            &bench,
            &["stroke", &file, "--svg", "-", "--grip", &near.join(",")],
        );
        check_page(&svg, &format!("{name} eight grips at one place"));
    }
}

#[test]
fn long_and_odd_names_keep_to_their_page() {
    let text = std::fs::read_to_string(demo("excluder-cutter")).unwrap();
    for long in ["m".repeat(64), "edge-".repeat(12) + "w"] {
        let text = text
            .replace("name    = \"edge\"", &format!("name = \"{long}\""))
            .replace("gap.edge", &format!("gap.{long}"))
            .replace("Excluder cutter", &"Wide words of a long name ".repeat(20));
        assert!(text.contains(&long));
        let bench = Bench::empty();
        let file = format!("{}.toml", "w".repeat(120));
        bench.put(&file, text);
        for call in [
            &["stroke", &file, "--svg", "-"][..],
            &["compare", &file, "--svg", "-"],
            &["tolerance", &file, "--samples", "100", "--svg", "-"],
        ] {
            check_page(&out(&bench, call), &format!("long names {call:?}"));
        }
    }
}

#[test]
fn pictures_side_by_side_keep_to_their_page() {
    let bench = Bench::empty();
    let [a, b] = [demo("eyelet-toggle"), demo("eyelet-toggle-b")];
    for call in [
        &["compare", &a, &b][..],
        &["compare", &a, &b, "--units", "in-lbf"],
        &["compare", &a, "--vary", "strut.length=23.9:25:0.1"],
        &[
            "compare",
            &b,
            "--vary",
            "strut.length=24:24.5:0.25",
            "--vary",
            "lever.knee.x=-9.5:-9:0.25",
        ],
        &["compare", &demo("pin-plunger"), &demo("wire-crimp-pliers")],
        &[
            "compare",
            &demo("pin-plunger"),
            "--vary",
            "link.length=20:20.2:0.1",
        ],
    ] {
        let svg = out(&bench, &[call, &["--svg", "-"]].concat());
        check_page(&svg, &format!("{call:?}"));
    }
}

/// Rounding leaves a sign on a zero, as on the x of a force straight up; no output shows it.
#[test]
fn no_zero_has_a_sign() {
    let bench = Bench::empty();
    for name in DEMOS {
        for call in [
            &["loads", &demo(name), "--json"][..],
            &["stroke", &demo(name), "--json"],
            &["draw", &demo(name), "--svg", "-"],
            &["tolerance", &demo(name), "--samples", "100", "--csv", "-"],
        ] {
            let text = out(&bench, call);
            for piece in text.split("-0").skip(1) {
                let digits: String = (piece.chars())
                    .take_while(|c| c.is_ascii_digit() || *c == '.')
                    .collect();
                let zero = digits.chars().all(|c| c == '0' || c == '.');
                let word = piece[digits.len()..].starts_with(|c: char| c.is_alphanumeric());
                assert!(!zero || word, "{call:?}: -0{digits}");
            }
        }
    }
}

/// -0.9 and three steps of 0.3 are -1.1e-16 to a computer, and 0 to a reader.
#[test]
fn a_variant_at_zero_has_no_sign() {
    let bench = Bench::empty();
    let vary = "press-half.crest.y=-0.9:0:0.3";
    let call = [
        "compare",
        &demo("wire-crimp-pliers"),
        "--vary",
        vary,
        "--svg",
        "-",
    ];
    let svg = out(&bench, &call);
    assert!(svg.contains(">0.0</text>") && svg.contains(">\u{2212}0.3</text>"));
    assert!(!svg.contains(">-0"));
}

/// Tools in newtons and in pounds: one unit for all pictures, that of the first file, as in the table.
#[test]
fn pictures_side_by_side_have_one_unit() {
    let bench = Bench::empty();
    let [newtons, pounds] = [demo("eyelet-toggle"), demo("excluder-cutter")];
    for (first, second, units, other) in [
        (&newtons, &pounds, "mm-N", "lbf"),
        (&pounds, &newtons, "in-lbf", " N"),
    ] {
        let call = ["compare", first, second, "--svg", "-"];
        let svg = out(&bench, &call);
        let typed = out(&bench, &[&call[..], &["--units", units]].concat());
        assert_eq!(svg, typed, "{units}");
        assert!(!svg.contains(&format!("{other} hand force")), "{units}");
    }
}

/// Curves of several tools are compared by eye: the plots are equally wide.
#[test]
fn plots_side_by_side_are_equally_wide() {
    let bench = Bench::empty();
    let files = ["eyelet-toggle", "pin-plunger", "wire-crimp-pliers"].map(demo);
    let call = [&["compare"][..], &files.each_ref().map(|f| f.as_str())];
    let svg = out(&bench, &[&call.concat()[..], &["--svg", "-"]].concat());
    let document = roxmltree::Document::parse(&svg).unwrap();
    let pictures = document.root_element().children();
    let widest = |picture: roxmltree::Node| {
        let rules = picture.descendants();
        let rules = rules.filter(|n| n.attribute("class") == Some("rule"));
        // `M108 405.9 L492.2 405.9`
        let x = |point: &str| point.get(1..)?.parse::<f64>().ok();
        let long = rules.filter_map(|n| {
            let mut ends = n.attribute("d")?.split(' ').step_by(2);
            Some(-x(ends.next()?)? + x(ends.next()?)?)
        });
        long.fold(0.0, f64::max)
    };
    let widths: Vec<f64> = pictures
        .filter(|n| n.has_tag_name("svg"))
        .map(widest)
        .collect();
    assert_eq!(widths.len(), 3);
    assert!(widths[0] > 300.0, "{widths:?}");
    assert!(widths.iter().all(|w| *w == widths[0]), "{widths:?}");
}

#[test]
fn tolerances_keep_to_their_page() {
    let bench = Bench::empty();
    for name in DEMOS {
        for units in ["mm-N", "in-lbf"] {
            let file = demo(name);
            let call = [
                "tolerance",
                &file,
                "--samples",
                "200",
                "--units",
                units,
                "--svg",
                "-",
            ];
            check_page(&out(&bench, &call), &format!("{name} {units}"));
        }
    }
}

/// What finds no room is not left out in silence.
#[test]
fn what_a_picture_leaves_out_is_said() {
    let bench = Bench::empty();
    let [a, plunger] = [demo("eyelet-toggle"), demo("pin-plunger")];
    let call = [
        "compare",
        &a,
        "--vary",
        "strut.length=24:24.2:0.1",
        "--svg",
        "-",
    ];
    let svg = out(
        &bench,
        &[&call[..], &["--grip", "45,60,75,90,105"]].concat(),
    );
    check_page(&svg, "five grips");
    assert!(svg.contains("Grips after the first 4 of a tool have no picture here."));
    assert!(!out(&bench, &call).contains("no picture here"));
    let many = [&["compare"][..], &[a.as_str(); 13], &["--svg", "-"]].concat();
    let svg = out(&bench, &many);
    check_page(&svg, "thirteen tools");
    assert!(svg.contains("The first 12 of 16 pictures."));
    let vary = ["--vary", "link.length=20:20.2:0.1", "--svg", "-"];
    let svg = out(&bench, &[&["compare", &plunger][..], &vary].concat());
    assert!(svg.contains("limit differs along the stroke and is not drawn"));
}

#[test]
fn without_a_stroke_there_is_no_picture() {
    let bench = Bench::empty();
    let file = demo("eyelet-toggle");
    let vary = ["--vary", "strut.length=14:15:1", "--svg", "chart.svg"];
    let ended = bench.run(&[&["compare", &file][..], &vary].concat());
    assert_eq!(ended.code, 3, "{}", ended.err);
    assert!(ended.err.contains("has a stroke to draw"), "{}", ended.err);
    assert!(ended.written.is_empty());
}
