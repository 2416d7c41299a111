//! Points read off a picture in a real browser, with mouse and keyboard, as far as a tool that is solved; and the
//! linkage drawn over the picture. Without a browser the first says SKIPPED.

use crate::cli::Bench;
use crate::motion_seen::Browser;
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use serde_json::{Value, json};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

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

/// The page for a picture of the bench.
fn page(bench: &Bench, name: &str) -> String {
    let ended = bench.run(&["points", name, "-o", "points.html"]).code(0);
    assert!(ended.err.contains("open it in a browser"), "{}", ended.err);
    String::from_utf8(ended.written["points.html"].clone()).unwrap()
}

/// A bench with [`PICTURE`].
fn with_picture() -> Bench {
    let bench = Bench::empty();
    bench.put("tool.svg", PICTURE);
    bench
}

/// A click on a pixel of the picture, which is brought into view.
fn click(browser: &mut Browser, [x, y]: [f64; 2]) {
    let place = browser.eval(&format!(
        "(() => {{ const w = document.querySelector('.window'), s = document.querySelector('.stage'); \
           const svg = s.querySelector('svg').viewBox.baseVal, zoom = s.clientWidth / svg.width; \
           w.scrollLeft = {x} * zoom - w.clientWidth / 2; w.scrollTop = {y} * zoom - w.clientHeight / 2; \
           w.scrollIntoView({{block: 'center'}}); \
           const b = s.getBoundingClientRect(); return [b.left + {x} * zoom, b.top + {y} * zoom]; }})()"
    ));
    for kind in ["mousePressed", "mouseReleased"] {
        let event =
            json!({"type": kind, "x": place[0], "y": place[1], "button": "left", "clickCount": 1});
        browser.ask("Input.dispatchMouseEvent", event);
    }
}

/// A key with others held: 2 is Ctrl, 8 is Shift.
fn held(browser: &mut Browser, key: &str, code: u32, with: u32) {
    for kind in ["rawKeyDown", "keyUp"] {
        let event =
            json!({"type": kind, "key": key, "windowsVirtualKeyCode": code, "modifiers": with});
        browser.ask("Input.dispatchKeyEvent", event);
    }
}

/// Text typed into a field in place of what is in it.
fn typed(browser: &mut Browser, field: &str, text: &str) {
    browser.eval(&format!(
        "document.querySelector(`{field}`).focus(); document.querySelector(`{field}`).select()"
    ));
    browser.ask("Input.insertText", json!({ "text": text }));
}

/// A pair of numbers of a tool file.
fn pair(value: &toml::Value) -> [f64; 2] {
    [0, 1].map(|k| {
        let number = &value.as_array().unwrap()[k];
        let whole = number.as_integer().map(|v| v as f64);
        number.as_float().or(whole).unwrap()
    })
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
    let bench = with_picture();
    browser.go(&page(&bench, "tool.svg"), 1600);
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
    // A pixel is 0.25 mm here, and near a toggle the force hangs on it.
    let (made, starter) = (force("made.toml"), force("starter.toml"));
    assert!((made / starter - 1.0).abs() < 0.1, "{made} and {starter}");

    // Nothing was fetched, nothing ran that is in the picture, nothing was refused or failed.
    let fetched =
        "performance.getEntriesByType('resource').filter(e => !e.name.startsWith('data:')).length";
    assert_eq!(browser.eval(fetched), 0);
    assert_eq!(browser.eval("document.title"), "Points of tool.svg");
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

/// The place that the page tells of the last point.
fn place_shown(browser: &mut Browser) -> (String, [f64; 2]) {
    let said = browser.eval("document.querySelector('#where').textContent");
    let (name, at) = said.as_str().unwrap().split_once(": x ").unwrap();
    let (x, y) = at.split_once(", y ").unwrap();
    (name.to_owned(), [x.parse().unwrap(), y.parse().unwrap()])
}

#[test]
fn points_are_set_named_moved_undone_and_deleted_by_keyboard_alone() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.go(&page(&with_picture(), "tool.svg"), 1280);
    browser.eval("document.querySelector('.window').focus()");
    let rows = "document.querySelectorAll('#rows tr').length";
    let none = browser.eval("document.querySelector('#where').textContent");
    assert_eq!(none, "No point is set.");
    browser.key("Enter", 13);
    let (name, first) = place_shown(&mut browser);
    assert_eq!(name, "p1");
    // The middle of the window, where the whole picture is seen.
    assert!(
        (first[0] - 320.0).abs() <= 2.0 && (first[1] - 400.0).abs() <= 2.0,
        "{first:?}"
    );
    // Named by a key that goes to the name, and back by Enter.
    browser.key("n", 78);
    browser.ask("Input.insertText", json!({"text": "heel"}));
    browser.key("Enter", 13);
    let focus = "document.activeElement.className";
    assert_eq!(browser.eval(focus), "window");
    browser.key("ArrowRight", 39);
    browser.key("ArrowDown", 40);
    held(&mut browser, "ArrowDown", 40, 8);
    let moved = [first[0] + 1.0, first[1] + 11.0];
    assert_eq!(place_shown(&mut browser), ("heel".to_owned(), moved));
    // All moves in a row are one change; the name before them another.
    held(&mut browser, "z", 90, 2);
    assert_eq!(place_shown(&mut browser), ("heel".to_owned(), first));
    held(&mut browser, "z", 90, 2);
    assert_eq!(place_shown(&mut browser), ("p1".to_owned(), first));
    held(&mut browser, "z", 90, 2);
    assert_eq!(browser.eval(rows), 0);
    assert_eq!(
        browser.eval("document.querySelector('#undo').disabled"),
        true
    );
    // Deleted, and brought back with its name and place.
    browser.key("Enter", 13);
    held(&mut browser, "ArrowLeft", 37, 8);
    let kept = place_shown(&mut browser);
    browser.key("Delete", 46);
    assert_eq!(browser.eval(rows), 0);
    held(&mut browser, "z", 90, 2);
    assert_eq!(place_shown(&mut browser), kept);
    // Where the window is entered by keyboard its rim and its middle are marked.
    let rim = "getComputedStyle(document.querySelector('.window')).outlineStyle + \
               getComputedStyle(document.querySelector('.pane'), '::after').width";
    assert_eq!(browser.eval(rim), "solid26px");
    // A name that would break the file or the page is written as text.
    typed(&mut browser, "#rows input[aria-label^=name]", "a\"b <i>");
    let shown = text(&mut browser);
    assert!(shown.contains("\"a\\\"b <i>\" = ["), "{shown}");
    assert!(shown.parse::<toml::Table>().is_ok(), "{shown}");
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

#[test]
fn the_page_fits_narrow_windows_and_says_that_it_needs_its_script() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    let page = page(&with_picture(), "tool.svg");
    browser.go(&page, 360);
    browser.key("Tab", 9);
    for _ in 0..3 {
        browser.eval("document.querySelector('.window').focus()");
        browser.key("Enter", 13);
        (0..4).for_each(|_| held(&mut browser, "ArrowDown", 40, 8));
    }
    for width in [360, 768, 1280] {
        let size = json!({"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": true});
        browser.ask("Emulation.setDeviceMetricsOverride", size);
        let wide = browser.eval("document.documentElement.scrollWidth");
        assert!(wide.as_u64().unwrap() <= width, "{wide} of {width}");
    }
    assert_eq!(
        browser.eval("document.querySelectorAll('#rows tr').length"),
        3
    );
    // Without script: a new page, since this one would ask before it goes.
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.ask(
        "Emulation.setScriptExecutionDisabled",
        json!({"value": true}),
    );
    browser.go(&page, 360);
    let seen = browser.eval("document.body.innerText");
    let seen = seen.as_str().unwrap();
    assert!(seen.contains("This page needs its script"), "{seen}");
    assert!(!seen.contains("Known length"), "{seen}");
}

/// A page of the browser as a picture of this kind.
fn photographed(browser: &mut Browser, kind: &str) -> Vec<u8> {
    let taken = browser.ask("Page.captureScreenshot", json!({ "format": kind }));
    BASE64_STANDARD
        .decode(taken["data"].as_str().unwrap())
        .unwrap()
}

/// Where the pins of a drawing stand, in multiples of `unit`.
fn pins(svg: &str, unit: f64) -> Vec<(String, [f64; 2])> {
    let document = roxmltree::Document::parse(svg).unwrap();
    let pins = document.descendants().filter_map(|n| {
        let name = n.attribute("data-pin")?;
        let at = ["cx", "cy"].map(|k| n.attribute(k).unwrap().parse::<f64>().unwrap() / unit);
        Some((name.to_owned(), at))
    });
    pins.collect()
}

#[test]
fn points_off_a_drawing_put_the_pins_back_on_it() {
    let (Some(mut browser), Some(mut camera)) = (Browser::open(), Browser::open()) else {
        return;
    };
    let bench = Bench::empty();
    let tool = std::fs::read_to_string("demo-data/eyelet-toggle.toml").unwrap();
    bench.put("tool.toml", &tool);
    let call = [
        "draw",
        "tool.toml",
        "--at",
        "open",
        "--no-forces",
        "--svg",
        "drawing.svg",
    ];
    let drawn = bench.run(&call).code(0).written["drawing.svg"].clone();
    let drawn = String::from_utf8(drawn).unwrap();
    let holes = pins(&drawn, 25.4 / 96.0);
    assert_eq!(holes.len(), 4);
    // A4 across is 1122.5 x 793.7 pixels.
    camera.go(
        &format!("<!doctype html><body style='margin: 0'>{drawn}"),
        1123,
    );
    for kind in ["png", "jpeg"] {
        bench.put(&format!("photo.{kind}"), photographed(&mut camera, kind));
    }
    let jpeg = page(&bench, "photo.jpeg");
    assert!(
        jpeg.contains("<p class=\"soft\">1123 x 800 pixels"),
        "a JPEG's size"
    );

    browser.go(&page(&bench, "photo.png"), 1280);
    let shown = "[document.querySelector('.stage img').naturalWidth, document.querySelector('.stage img').naturalHeight]";
    assert_eq!(browser.eval(shown), json!([1123, 800]));
    while browser.eval("parseFloat(document.querySelector('.zoom').textContent) < 200") == true {
        browser.eval("document.querySelector('[data-zoom=in]').click()");
    }
    let place = |name: &str| holes.iter().find(|p| p.0 == name).unwrap().1;
    let joins = [
        ("heel", "frame, lever"),
        ("post", "frame, ram"),
        ("knee", "lever, strut"),
        ("wrist", "strut, ram"),
    ];
    for (k, (name, parts)) in joins.into_iter().enumerate() {
        click(&mut browser, place(name));
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
    }
    browser.eval("document.querySelector('input[value=from]').click()");
    click(&mut browser, place("heel"));
    click(&mut browser, place("post"));
    // As the file has it: post = [-20, -50].
    typed(&mut browser, "#length", &20_f64.hypot(50.0).to_string());
    let problems = browser.eval("document.querySelector('#problems').textContent");
    assert_eq!(problems, Value::from(""));
    let shown = text(&mut browser);
    let (_, sketch) = shown.split_once("[sketch]").unwrap();
    let (head, rest) = tool.split_once("[sketch]").unwrap();
    let (_, rest) = rest.split_once("[hand]").unwrap();
    bench.put("read.toml", format!("{head}[sketch]{sketch}\n[hand]{rest}"));

    // As sketched, and as the linkage closes at the position of the drawing.
    for more in [&[][..], &["--at", "open"]] {
        let call = [
            "draw",
            "read.toml",
            "--over",
            "photo.png",
            "--svg",
            "over.svg",
        ];
        let ended = bench.run(&[&call, more].concat()).code(0);
        let over = String::from_utf8(ended.written["over.svg"].clone()).unwrap();
        let unit = 270.0 / 1123.0;
        let found = pins(&over, unit);
        assert_eq!(found.len(), 4);
        for (name, at) in found {
            let hole = place(&name);
            let off = (at[0] - hole[0]).hypot(at[1] - hole[1]);
            assert!(off <= 1.0, "{name}: {at:?}, its hole is at {hole:?}");
        }
    }
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

#[test]
fn pins_lie_over_the_pixels_of_the_sketch() {
    let bench = with_picture();
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
    let bench = with_picture();
    bench.put("note.png", "no picture");
    let png = std::fs::read("tests/files/plate.png").unwrap();
    bench.put("cut.png", &png[..png.len() - 20]);
    std::fs::create_dir(bench.path("folder")).unwrap();
    bench.run(&["new", "toggle", "-o", "t.toml"]);
    bench.run(&["new", "picture", "-o", "p.toml"]);
    for (call, says) in [
        (
            &["points", "note.png"][..],
            "note.png: no picture that is known here: save it as PNG, JPEG or SVG",
        ),
        (&["points", "gone.png"], "gone.png: no such file"),
        (
            &["points", "folder"],
            "folder: this is a folder; name a picture in it",
        ),
        (
            &["points", "cut.png"],
            "cut.png: a picture that is cut off or damaged: save it anew",
        ),
        (
            &["points", "tool.svg", "-o", "tool.svg"],
            "tool.svg: this is `tool.svg`, which is read",
        ),
        (
            &["points", "tool.svg", "-o", "none/points.html"],
            "there is no folder `none`",
        ),
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

/// Opening a pipe would wait for somebody to write into it.
#[cfg(unix)]
#[test]
fn a_pipe_is_no_picture() {
    let bench = Bench::empty();
    let made = std::process::Command::new("mkfifo")
        .arg(bench.path("pipe.png"))
        .status();
    assert!(made.unwrap().success());
    let mut command = bench.command(&["points", "pipe.png"]);
    let ended = command.output().unwrap();
    assert_eq!(ended.status.code(), Some(2));
    let said = String::from_utf8_lossy(&ended.stderr);
    assert!(
        said.contains("pipe.png: this is no plain file; save the picture"),
        "{said}"
    );
}

/// A server that hangs up, and how often it was called.
fn server() -> (String, Arc<AtomicUsize>) {
    let server = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = format!("http://{}", server.local_addr().unwrap());
    let calls = Arc::new(AtomicUsize::new(0));
    let count = Arc::clone(&calls);
    std::thread::spawn(move || {
        for call in server.incoming() {
            count.fetch_add(1, Ordering::SeqCst);
            drop(call);
        }
    });
    (address, calls)
}

/// A picture may come from anywhere: neither the page nor the drawing over it lets it run or fetch anything.
#[test]
fn a_picture_runs_nothing_and_fetches_nothing() {
    let (Some(mut browser), Some(mut other)) = (Browser::open(), Browser::open()) else {
        return;
    };
    let picture = |address: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='640' height='800'>\
             <style>@import url({address}/a.css);</style><image href='{address}/b.png' width='9' height='9'/>\
             <script>fetch('{address}/c')</script></svg>"
        )
    };
    // By itself it does fetch, so that the server is known to hear.
    let (address, calls) = server();
    browser.go(&format!("<!doctype html>{}", picture(&address)), 640);
    let heard = (0..200).any(|_| {
        std::thread::sleep(std::time::Duration::from_millis(20));
        calls.load(Ordering::SeqCst) > 0
    });
    assert!(heard, "the picture by itself fetches nothing");

    let (address, calls) = server();
    let bench = Bench::empty();
    bench.put("tool.svg", picture(&address));
    bench.run(&["new", "picture", "-o", "t.toml"]).code(0);
    let points = page(&bench, "tool.svg");
    let over = ["draw", "t.toml", "--over", "tool.svg", "--svg", "over.svg"];
    let over = bench.run(&over).code(0).written["over.svg"].clone();
    let over = String::from_utf8(over).unwrap();
    for shown in [points, format!("<!doctype html>{over}")] {
        other.go(&shown, 1280);
        std::thread::sleep(std::time::Duration::from_millis(500));
        assert_eq!(calls.load(Ordering::SeqCst), 0, "something was fetched");
        assert!(other.said.is_empty(), "{:?}", other.said);
    }
}
