//! The whole picture, looked at as a reader of the file would: well-formed, complete, tidy.

use roxmltree::{Document, Node};

use super::curves::{Form, Shared};
use super::variants::variant_curves;
use crate::output::samples::Sample;
use crate::output::svg::labels::text_width;
use crate::output::{ChartOptions, OutputError, VariantStroke, force_curves};
use crate::report::{StrokeReport, Turning};

const ODD: &str = "<b>&amp; \"odd\" 'name' \u{202e}שלום עולם\u{1b}[31m \u{7} 🔧👷🏽‍♀️ ]]> and so on and on, \
                   longer than any page is wide, longer than anybody would read it, and longer";

fn tools() -> Vec<(String, StrokeReport)> {
    let mut out = Vec::new();
    for count in [1, 3, 8, 12] {
        let grips: Vec<f64> = (0..count).map(|i| 40.0 + 10.0 * f64::from(i)).collect();
        let knee = Sample::knee()
            .grips(&grips)
            .named(ODD)
            .jaw("j<&>\"\u{202e}x");
        let samples = [
            ("short of toggle", knee.clone()),
            ("to toggle", knee.clone().shut_at_toggle()),
            ("through toggle", knee.clone().through_toggle()),
            ("limit by span", knee.clone().limit_by_span()),
            ("inches", knee.clone().inches().through_toggle()),
            ("no work", knee.clone().work(None)),
            ("no limit", knee.limit(None)),
            ("flat", Sample::pliers().grips(&grips).limit(Some(220.0))),
        ];
        for (name, sample) in samples {
            out.push((format!("{name}, {count} grips"), sample.build()));
        }
    }
    out
}

fn draw(report: &StrokeReport) -> String {
    force_curves(report, &ChartOptions::default()).unwrap()
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn page(document: &Document<'_>) -> (f64, f64) {
    let root = document.root_element();
    let numbers: Vec<f64> = (root.attribute("viewBox").unwrap().split(' '))
        .map(|n| n.parse().unwrap())
        .collect();
    (numbers[2], numbers[3])
}

/// Left, top, right, bottom and the text of every label, on the safe side.
fn boxes(document: &Document<'_>) -> Vec<(f64, f64, f64, f64, String)> {
    (document.descendants().filter(|n| n.has_tag_name("text")))
        .map(|node| {
            let text = node.text().unwrap_or_default().to_owned();
            let size = number(node, "font-size");
            let width = text_width(&text, size, node.has_attribute("font-weight"));
            let (x, y) = (number(node, "x"), number(node, "y"));
            let left = match node.attribute("text-anchor") {
                Some("middle") => x - width / 2.0,
                Some("end") => x - width,
                _ => x,
            };
            (left, y - 0.8 * size, left + width, y + 0.25 * size, text)
        })
        .collect()
}

/// That no text of the picture lies on another or leaves the page.
fn labels_are_apart(svg: &str, name: &str) {
    let document = Document::parse(svg).unwrap();
    let (page_width, page_height) = page(&document);
    let boxes = boxes(&document);
    assert!(boxes.len() > 10, "{name}");
    for (index, a) in boxes.iter().enumerate() {
        assert!(a.0 >= 0.0 && a.1 >= 0.0, "{name}: {a:?}");
        assert!(a.2 <= page_width && a.3 <= page_height, "{name}: {a:?}");
        for b in &boxes[..index] {
            let apart = a.2 <= b.0 || b.2 <= a.0 || a.3 <= b.1 || b.3 <= a.1;
            assert!(apart, "{name}: {a:?} on {b:?}");
        }
    }
}

#[test]
fn twelve_variants_are_distinct() {
    let strokes: Vec<VariantStroke> = (0..12)
        .map(|k| VariantStroke {
            label: format!("24.{k:02}"),
            report: Sample::knee().steps(20 + k).build(),
        })
        .collect();
    let svg = variant_curves(&strokes, "strut.length, mm", 200, 1, "v")
        .unwrap()
        .svg;
    labels_are_apart(&svg, "variants");
    let document = Document::parse(&svg).unwrap();
    let curves = |class: &str| {
        let all = document.descendants();
        all.filter(|n| n.attribute("class") == Some(class)).count()
    };
    // Twelve in each of two panels.
    assert_eq!((curves("curve"), curves("work")), (24, 1));
    assert!(svg.contains("12 of 200 variants") && svg.contains("gap, mm"));
    assert!(variant_curves(&[], "", 0, 0, "v").is_err());
}

#[test]
fn charts_side_by_side_reach_equally_far() {
    let report = Sample::knee().build();
    let beside = |others: &[&StrokeReport]| {
        let options = ChartOptions {
            shared: Shared::of(others.iter().copied().chain([&report])),
            ..ChartOptions::default()
        };
        force_curves(&report, &options).unwrap()
    };
    let alone = draw(&report);
    assert_eq!(alone, beside(&[]));
    let mut strong = report.clone();
    for position in &mut strong.positions {
        for grip in &mut position.grips {
            let force = &mut grip.jaws["nose"].jaw_force;
            *force = force.map(|f| 2.0 * f);
        }
    }
    let taller = beside(&[&strong]);
    assert!(taller != alone);
    labels_are_apart(&taller, "taller");
}

/// The numbers beside the axes, from the lowest panel up, each as it stands.
fn axis_numbers(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).unwrap();
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    let beside = texts.filter(|n| n.attribute("text-anchor") == Some("end"));
    let numbers = beside.filter_map(|n| n.text().map(str::to_owned));
    numbers.filter(|t| !t.contains(',')).collect()
}

/// Newtons, per cent of a limit and pounds have no axis in common, whichever panel they stand in.
#[test]
fn axes_are_shared_by_one_quantity_in_one_unit_only() {
    let newtons = Sample::knee().build();
    let shares = Sample::knee().limit_by_span().build();
    let inches = Sample::knee().inches().build();
    for (own, other) in [
        (&shares, &newtons),
        (&newtons, &inches),
        (&inches, &newtons),
    ] {
        let options = ChartOptions {
            shared: Shared::of([own, other]),
            ..ChartOptions::default()
        };
        let beside = force_curves(own, &options).unwrap();
        assert_eq!(axis_numbers(&beside), axis_numbers(&draw(own)));
    }
}

#[test]
fn no_label_lies_on_another_or_leaves_the_page() {
    for (name, report) in tools() {
        for (width, form) in [
            (600.0, Form::Large),
            (960.0, Form::Large),
            (640.0, Form::Low),
            (360.0, Form::Narrow),
            (432.0, Form::Beside),
        ] {
            let options = ChartOptions {
                width,
                form,
                ..ChartOptions::default()
            };
            let svg = force_curves(&report, &options).unwrap();
            labels_are_apart(&svg, &format!("{name} {width} {form:?}"));
        }
    }
}

#[test]
fn every_point_is_a_number_on_the_page() {
    for (name, report) in tools() {
        let svg = draw(&report);
        assert!(
            !svg.contains("NaN") && !svg.contains("inf\"") && !svg.contains("Inf"),
            "{name}"
        );
        let document = Document::parse(&svg).unwrap();
        let (width, height) = page(&document);
        for node in document.descendants().filter(|n| n.has_tag_name("path")) {
            let data = node.attribute("d").unwrap().replace(['M', 'L', 'Z'], " ");
            let numbers: Vec<f64> = data
                .split_whitespace()
                .map(|n| n.parse().unwrap())
                .collect();
            assert_eq!(numbers.len() % 2, 0);
            for point in numbers.chunks(2) {
                assert!((0.0..=width).contains(&point[0]), "{name} {point:?}");
                assert!((0.0..=height).contains(&point[1]), "{name} {point:?}");
            }
        }
    }
}

#[test]
fn one_title_one_description_and_a_role() {
    for (name, report) in tools() {
        let svg = draw(&report);
        let document = Document::parse(&svg).unwrap();
        let root = document.root_element();
        assert_eq!(root.attribute("role"), Some("img"));
        for tag in ["title", "desc"] {
            let found: Vec<_> = document
                .descendants()
                .filter(|n| n.has_tag_name(tag))
                .collect();
            assert_eq!(found.len(), 1, "{name}");
            assert!(found[0].text().unwrap().len() > 20);
            let id = found[0].attribute("id").unwrap();
            assert!(root.attribute("aria-labelledby").unwrap().contains(id));
        }
    }
}

fn count(document: &Document<'_>, class: &str) -> usize {
    (document.descendants())
        .filter(|n| n.attribute("class") == Some(class))
        .count()
}

#[test]
fn one_curve_for_each_grip_and_panel() {
    for grips in [1, 3, 8, 12_usize] {
        let list: Vec<f64> = (0..grips).map(|i| 60.0 + 8.0 * i as f64).collect();
        let with_work = draw(&Sample::knee().grips(&list).build());
        let document = Document::parse(&with_work).unwrap();
        assert_eq!(count(&document, "curve"), 2 * grips);
        assert_eq!(
            (count(&document, "work"), count(&document, "limit")),
            (1, 1)
        );
        let without = draw(&Sample::pliers().grips(&list).build());
        let document = Document::parse(&without).unwrap();
        assert_eq!(count(&document, "curve"), grips);
        assert_eq!(
            (count(&document, "work"), count(&document, "limit")),
            (0, 0)
        );
    }
}

#[test]
fn toggles_and_stalls_are_marked_and_a_cut_axis_is_said() {
    let report = Sample::knee().through_toggle().build();
    let svg = draw(&report);
    let document = Document::parse(&svg).unwrap();
    assert_eq!(count(&document, "turning"), 2, "one in each panel");
    let stalls = report
        .work
        .as_ref()
        .unwrap()
        .stalls
        .iter()
        .flatten()
        .count();
    assert!(stalls > 0);
    assert_eq!(count(&document, "stall"), stalls);
    let texts: Vec<String> = boxes(&document).into_iter().map(|b| b.4).collect();
    let said = |part: &str| texts.iter().any(|t| t.contains(part));
    assert!(said("toggle, gap \u{2212}0.30 mm"), "{texts:?}");
    assert!(said("Axis of jaw force cut at"), "{texts:?}");
    assert!(said("stalls at"), "{texts:?}");
    assert!(!draw(&Sample::pliers().build()).contains("cut at"));
}

#[test]
fn without_work_the_limit_is_a_line_of_jaw_force() {
    let svg = draw(&Sample::pliers().limit(Some(220.0)).build());
    let document = Document::parse(&svg).unwrap();
    assert_eq!(count(&document, "limit"), 1);
    assert!(svg.contains("grip 110 mm at the limit"));
    // A spring adds force that does not grow with the hand's: no line is better than a wrong one.
    let mut report = Sample::pliers().limit(Some(220.0)).build();
    for position in &mut report.positions {
        for grip in &mut position.grips {
            let force = &mut grip.jaws["nose"].jaw_force;
            *force = force.map(|f| f - 40.0);
        }
    }
    assert_eq!(count(&Document::parse(&draw(&report)).unwrap(), "limit"), 0);
}

#[test]
fn many_turnings_keep_their_lines_apart_from_each_other() {
    let mut report = Sample::knee().through_toggle().build();
    report
        .jaws
        .push("rear nest with a rather long name".to_owned());
    for position in &mut report.positions {
        let jaw = position.jaws["nose"];
        position.jaws.insert(report.jaws[1].clone(), jaw);
    }
    for index in 0..6 {
        report.toggles.push(Turning {
            handle: f64::from(index),
            gap: 0.0,
            jaw: report.jaws[1].clone(),
        });
    }
    let svg = draw(&report);
    let document = Document::parse(&svg).unwrap();
    assert_eq!(count(&document, "turning"), 2 * 7);
    let boxes = boxes(&document);
    for (index, a) in boxes.iter().enumerate() {
        for b in &boxes[..index] {
            let apart = a.2 <= b.0 || b.2 <= a.0 || a.3 <= b.1 || b.3 <= a.1;
            assert!(apart, "{a:?} on {b:?}");
        }
    }
}

#[test]
fn reports_with_little_in_them_draw_or_say_why_not() {
    let mut one = Sample::knee().build();
    one.positions.truncate(1);
    one.work = None;
    assert!(Document::parse(&draw(&one)).is_ok());

    let mut still = Sample::knee().build();
    still.positions.iter_mut().for_each(|p| p.travel = 0.0);
    assert!(draw(&still).contains("stroke, %"));

    let mut none = Sample::knee().build();
    none.grips.clear();
    none.positions.iter_mut().for_each(|p| p.grips.clear());
    assert!(Document::parse(&draw(&none)).is_ok());

    let mut empty = Sample::knee().build();
    empty.positions.clear();
    assert_eq!(
        force_curves(&empty, &ChartOptions::default()),
        Err(OutputError::NothingToDraw)
    );

    let mut broken = Sample::knee().build();
    broken.positions[3].travel = f64::NAN;
    assert!(matches!(
        force_curves(&broken, &ChartOptions::default()),
        Err(OutputError::NotFinite(_))
    ));
}

#[test]
fn any_size_of_force_gives_a_picture() {
    for force in [1e308, -1e308, 1e-300, 0.0, 3e9] {
        let mut report = Sample::knee().build();
        for position in &mut report.positions {
            for grip in &mut position.grips {
                grip.jaws["nose"].jaw_force = Some(force);
                grip.jaws["nose"].hand_force = Some(-force);
            }
        }
        let svg = draw(&report);
        let document = Document::parse(&svg).unwrap();
        assert!(boxes(&document).iter().all(|b| b.0 >= 0.0), "{force}");
    }
}
