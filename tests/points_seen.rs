//! Points read off a picture in a real browser, with mouse and keyboard, as far as a tool that is solved; and the
//! linkage drawn over the picture. Without a browser the first says SKIPPED.

use crate::cli::Bench;
use crate::motion_seen::Browser;
use serde_json::json;

/// A picture whose script must not run.
const PICTURE: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='640' height='800'>\
    <rect width='640' height='800' fill='#eee'/><circle cx='260' cy='240' r='12'/>\
    <script>parent.document.title = 'run'; document.title = 'run'</script></svg>";

/// The points of `new picture`, as its sketch has them.
const POINTS: [(&str, &str, &str, [f64; 2]); 10] = [
    ("heel", "pin", "frame, lever", [260.0, 240.0]),
    ("post", "pin", "frame, ram", [388.0, 48.0]),
    ("knee", "pin", "lever, strut", [236.0, 144.0]),
    ("wrist", "pin", "strut, ram", [272.0, 48.0]),
    ("anvil", "mark", "frame", [516.0, 64.0]),
    ("butt", "mark", "frame", [28.0, 320.0]),
    ("toe", "mark", "frame", [28.0, 740.0]),
    ("root", "mark", "lever", [272.0, 320.0]),
    ("tail", "mark", "lever", [252.0, 740.0]),
    ("nose", "mark", "ram", [516.0, 56.0]),
];

fn page(bench: &Bench, picture: &str) -> String {
    bench.put("tool.svg", picture.as_bytes().to_vec());
    let ended = bench.run(&["points", "tool.svg", "-o", "points.html"]);
    assert_eq!(ended.code, 0, "{}", ended.err);
    assert!(ended.err.contains("open it in a browser"), "{}", ended.err);
    String::from_utf8(ended.written["points.html"].clone()).unwrap()
}

/// A click on a pixel of the picture.
fn click(browser: &mut Browser, [x, y]: [f64; 2]) {
    let place = browser.eval(&format!(
        "(() => {{ const b = document.querySelector('.stage').getBoundingClientRect(); \
           return [b.left + {x} * b.width / 640, b.top + {y} * b.height / 800]; }})()"
    ));
    for kind in ["mousePressed", "mouseReleased"] {
        let event =
            json!({"type": kind, "x": place[0], "y": place[1], "button": "left", "clickCount": 1});
        browser.ask("Input.dispatchMouseEvent", event);
    }
}

/// Text typed into a field in place of what is in it.
fn typed(browser: &mut Browser, field: &str, text: &str) {
    browser.eval(&format!(
        "document.querySelector(`{field}`).focus(); document.querySelector(`{field}`).select()"
    ));
    browser.ask("Input.insertText", json!({ "text": text }));
}

fn text(browser: &mut Browser) -> String {
    let shown = browser.eval("document.querySelector('#text').textContent");
    shown.as_str().unwrap().to_owned()
}

#[test]
fn a_tool_is_read_off_a_picture_and_solved() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    let bench = Bench::empty();
    browser.go(&page(&bench, PICTURE), 1600);
    let size = json!({"width": 1600, "height": 1300, "deviceScaleFactor": 1, "mobile": false});
    browser.ask("Emulation.setDeviceMetricsOverride", size);
    browser.eval("document.querySelector('[data-zoom=fit]').click()");
    let said = browser.eval("document.querySelector('#problems').textContent");
    assert!(
        said.as_str().unwrap().contains("Choose the datum"),
        "{said}"
    );
    for (k, (name, kind, parts, at)) in POINTS.into_iter().enumerate() {
        click(&mut browser, at);
        let row = format!("#rows tr:nth-child({})", k + 1);
        typed(
            &mut browser,
            &format!("{row} input[aria-label^=name]"),
            name,
        );
        typed(
            &mut browser,
            &format!("{row} input[aria-label^=parts]"),
            parts,
        );
        browser.eval(&format!(
            "(() => {{ const s = document.querySelector('{row} select'); s.value = '{kind}'; \
               s.dispatchEvent(new Event('change')); }})()"
        ));
    }
    browser.eval("document.querySelector('input[value=from]').click()");
    click(&mut browser, [28.0, 320.0]);
    click(&mut browser, [28.0, 740.0]);
    typed(&mut browser, "#length", "105");
    // The last end, to the pixel: five to the right and back, by keyboard.
    browser.eval("document.querySelector('.window').focus()");
    let before = text(&mut browser);
    (0..5).for_each(|_| browser.key("ArrowRight", 39));
    assert_ne!(text(&mut browser), before);
    (0..5).for_each(|_| browser.key("ArrowLeft", 37));
    assert_eq!(text(&mut browser), before);
    assert_eq!(
        browser.eval("document.querySelector('#problems').textContent"),
        ""
    );

    let shown = text(&mut browser);
    let read: toml::Table = shown.parse().unwrap();
    let sketch = read["sketch"].as_table().unwrap();
    let pair = |value: &toml::Value| -> [f64; 2] {
        [0, 1].map(|k| {
            let number = &value.as_array().unwrap()[k];
            number
                .as_float()
                .or(number.as_integer().map(|v| v as f64))
                .unwrap()
        })
    };
    for (name, kind, parts, at) in POINTS {
        let key = if kind == "pin" {
            name.to_owned()
        } else {
            format!("{parts}.{name}")
        };
        let found = pair(&sketch[&key]);
        assert!(
            (0..2).all(|k| (found[k] - at[k]).abs() <= 1.0),
            "{key}: {found:?}, clicked at {at:?}"
        );
    }
    assert_eq!(sketch["origin"].as_str(), Some("heel"));
    assert_eq!(read["parts"]["frame"]["fixed"].as_bool(), Some(true));

    // With the rest of the file, it is a tool, and near to that of the starter.
    let ended = bench.run(&["new", "picture"]);
    let (head, rest) = ended.out.split_once("[hand]").unwrap();
    assert!(head.contains("[sketch]"));
    bench.put("made.toml", format!("{shown}\n[hand]{rest}").into_bytes());
    bench.put("starter.toml", ended.out.clone().into_bytes());
    let force = |file: &str| -> f64 {
        let ended = bench.run(&["measure", file, "jaw_force", "--at", "gap=4"]);
        assert_eq!(ended.code, 0, "{shown}\n{}", ended.err);
        ended.out.trim().parse().unwrap()
    };
    let (made, starter) = (force("made.toml"), force("starter.toml"));
    assert!((made / starter - 1.0).abs() < 0.1, "{made} and {starter}");

    // Nothing was fetched, nothing ran that is in the picture, nothing was refused or failed.
    let fetched =
        "performance.getEntriesByType('resource').filter(e => !e.name.startsWith('data:')).length";
    assert_eq!(browser.eval(fetched), 0);
    assert_eq!(browser.eval("document.title"), "Points of tool.svg");
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

#[test]
fn points_are_set_moved_and_taken_away_by_keyboard_alone() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.go(&page(&Bench::empty(), PICTURE), 1280);
    browser.eval("document.querySelector('.window').focus()");
    let where_ = "document.querySelector('#where').textContent";
    let rows = "document.querySelectorAll('#rows tr').length";
    assert_eq!(browser.eval(where_), "No point is set.");
    browser.key("Enter", 13);
    assert_eq!(browser.eval(rows), 1);
    let place = |said: serde_json::Value| -> [f64; 2] {
        let said = said.as_str().unwrap().to_owned();
        let (_, at) = said.split_once(": x ").unwrap();
        let (x, y) = at.split_once(", y ").unwrap();
        [x.parse().unwrap(), y.parse().unwrap()]
    };
    let first = place(browser.eval(where_));
    browser.key("ArrowRight", 39);
    browser.key("ArrowDown", 40);
    browser.key("ArrowDown", 40);
    assert_eq!(
        place(browser.eval(where_)),
        [first[0] + 1.0, first[1] + 2.0]
    );
    browser.key("Delete", 46);
    assert_eq!(browser.eval(rows), 0);
    // A name that would break the file or the page is written as text.
    browser.key("Enter", 13);
    typed(&mut browser, "#rows input[aria-label^=name]", "a\"b <i>");
    let shown = text(&mut browser);
    assert!(shown.contains("\"a\\\"b <i>\" = ["), "{shown}");
    assert!(shown.parse::<toml::Table>().is_ok(), "{shown}");
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

#[test]
fn pins_lie_over_the_pixels_of_the_sketch() {
    let bench = Bench::empty();
    bench.put("tool.svg", PICTURE.as_bytes().to_vec());
    bench.run(&["new", "picture", "-o", "t.toml"]);
    let ended = bench.run(&["draw", "t.toml", "--over", "tool.svg"]);
    assert_eq!(ended.code, 0, "{}", ended.err);
    let document = roxmltree::Document::parse(&ended.out).unwrap();
    let image = document
        .descendants()
        .find(|n| n.has_tag_name("image"))
        .unwrap();
    assert!(
        image
            .attribute("href")
            .unwrap()
            .starts_with("data:image/svg+xml;base64,")
    );
    let number =
        |n: &roxmltree::Node, name: &str| -> f64 { n.attribute(name).unwrap().parse().unwrap() };
    let pixel = number(&image, "width") / 640.0;
    assert!((number(&image, "height") / 800.0 - pixel).abs() < 1e-4);
    for (name, _, _, at) in POINTS.iter().filter(|p| p.1 == "pin") {
        let circle = document
            .descendants()
            .find(|n| n.attribute("data-pin") == Some(name))
            .unwrap();
        let found = [number(&circle, "cx") / pixel, number(&circle, "cy") / pixel];
        let off = (found[0] - at[0]).hypot(found[1] - at[1]);
        assert!(off < 0.1, "{name}: {found:?}, sketched at {at:?}");
    }
    // At a place of the stroke the moving pins leave their pixels, those of the frame stay.
    let moved = bench
        .run(&["draw", "t.toml", "--over", "tool.svg", "--at", "open"])
        .out;
    let document = roxmltree::Document::parse(&moved).unwrap();
    for (name, stays) in [("heel", true), ("post", true), ("knee", false)] {
        let circle = document
            .descendants()
            .find(|n| n.attribute("data-pin") == Some(name))
            .unwrap();
        let at = POINTS.iter().find(|p| p.0 == name).unwrap().3;
        let off =
            (number(&circle, "cx") / pixel - at[0]).hypot(number(&circle, "cy") / pixel - at[1]);
        assert_eq!(off < 0.1, stays, "{name}: {off}");
    }
}

#[test]
fn what_is_no_picture_or_no_sketch_says_what_to_do() {
    let bench = Bench::empty();
    bench.put("tool.svg", PICTURE.as_bytes().to_vec());
    bench.put("note.png", b"no picture".to_vec());
    bench.run(&["new", "toggle", "-o", "t.toml"]);
    bench.run(&["new", "picture", "-o", "p.toml"]);
    for (call, says) in [
        (
            &["points", "note.png"][..],
            "note.png: no picture that is known here: save it as PNG, JPEG or SVG",
        ),
        (&["points", "gone.png"], "gone.png"),
        (&["points", "tool.svg", "-o", "tool.svg"], "tool.svg"),
        (
            &["draw", "t.toml", "--over", "tool.svg"],
            "jawforce points tool.svg",
        ),
        (
            &["draw", "p.toml", "--over", "note.png"],
            "note.png: no picture",
        ),
        (
            &["draw", "p.toml", "--over", "tool.svg", "--at", "open,gap=2"],
            "one position",
        ),
        (
            &["draw", "p.toml", "--over", "tool.svg", "--part", "ram"],
            "--part",
        ),
        (
            &["draw", "p.toml", "--over", "tool.svg", "--svg", "tool.svg"],
            "tool.svg",
        ),
    ] {
        let ended = bench.run(call);
        assert_eq!(ended.code, 2, "{call:?}: {}", ended.err);
        assert!(ended.err.contains(says), "{call:?}: {}", ended.err);
        assert!(ended.out.is_empty() && ended.written.is_empty(), "{call:?}");
    }
}
