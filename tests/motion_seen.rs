//! The tool in motion in a real browser, driven by its debugging protocol: keys, buttons, silence, print, no script.
//!
//! `JAWFORCE_BROWSER` names a Chromium; else `chromium` of the path is taken. Where there is none, a test says so.

use crate::motion::{drawn, review, stroke};
use crate::skipped::browser;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

/// A browser with one page, spoken to through two pipes.
pub(crate) struct Browser {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
    next: u64,
    /// The open page, as the browser calls it.
    page: String,
    /// Messages of the console, exceptions, and what the policy refused.
    pub(crate) said: Vec<Value>,
    _profile: tempfile::TempDir,
}

impl Browser {
    pub(crate) fn open() -> Option<Self> {
        let command = browser()?;
        let profile = tempfile::tempdir().unwrap();
        // The protocol runs over the files 3 and 4, which are its input and output here.
        let mut child = Command::new("sh")
            .args([
                "-c",
                "exec \"$0\" \"$@\" 3<&0 4>&1 </dev/null >/dev/null 2>/dev/null",
                &command,
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
                "--disable-background-networking",
                "--remote-debugging-pipe",
            ])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let (to, from) = (child.stdin.take().unwrap(), child.stdout.take().unwrap());
        let mut browser = Self {
            child,
            to,
            from: BufReader::new(from),
            next: 0,
            page: String::new(),
            said: Vec::new(),
            _profile: profile,
        };
        let target = browser.ask("Target.createTarget", json!({"url": "about:blank"}));
        let attach = json!({"targetId": target["targetId"], "flatten": true});
        let attached = browser.ask("Target.attachToTarget", attach);
        attached["sessionId"]
            .as_str()
            .unwrap()
            .clone_into(&mut browser.page);
        for domain in ["Page.enable", "Runtime.enable", "Log.enable"] {
            browser.ask(domain, json!({}));
        }
        Some(browser)
    }

    /// Sends a command and reads until its answer is there.
    pub(crate) fn ask(&mut self, method: &str, params: Value) -> Value {
        self.next += 1;
        let mut message = json!({"id": self.next, "method": method, "params": params});
        if !self.page.is_empty() {
            message["sessionId"] = json!(self.page);
        }
        self.to
            .write_all(format!("{message}\0").as_bytes())
            .unwrap();
        loop {
            let mut answer = self.read();
            if answer["id"] == self.next {
                assert!(answer.get("error").is_none(), "{method}: {answer}");
                return answer["result"].take();
            }
        }
    }

    fn read(&mut self) -> Value {
        let mut bytes = Vec::new();
        self.from.read_until(0, &mut bytes).unwrap();
        assert_eq!(bytes.pop(), Some(0), "the browser has gone");
        let message: Value = serde_json::from_slice(&bytes).unwrap();
        let method = message["method"].as_str().unwrap_or_default();
        if [
            "Runtime.consoleAPICalled",
            "Runtime.exceptionThrown",
            "Log.entryAdded",
        ]
        .contains(&method)
        {
            self.said.push(message.clone());
        }
        message
    }

    /// Opens a page and waits until it is loaded.
    pub(crate) fn go(&mut self, page: &str, width: u32) {
        let folder = self._profile.path().join("page.html");
        std::fs::write(&folder, page).unwrap();
        let size = json!({"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": false});
        self.ask("Emulation.setDeviceMetricsOverride", size);
        self.ask(
            "Page.navigate",
            json!({"url": format!("file://{}", folder.display())}),
        );
        while self.eval("document.readyState + location.pathname.endsWith('page.html')")
            != "completetrue"
        {}
    }

    pub(crate) fn eval(&mut self, script: &str) -> Value {
        let asked = json!({"expression": script, "returnByValue": true});
        let mut answer = self.ask("Runtime.evaluate", asked);
        assert!(
            answer.get("exceptionDetails").is_none(),
            "{script}: {answer}"
        );
        answer["result"]["value"].take()
    }

    pub(crate) fn key(&mut self, key: &str, code: u32) {
        for kind in ["rawKeyDown", "keyUp"] {
            let event =
                json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code});
            self.ask("Input.dispatchKeyEvent", event);
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

const FILE: &str = "demo-data/eyelet-toggle.toml";
const SLIDER: &str = "document.querySelector('.motion input')";

#[test]
fn keys_move_the_tool_the_cursor_and_the_numbers() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    for page in [drawn(FILE, &[]), review(FILE)] {
        browser.go(&page, 1280);
        browser.eval(&format!("{SLIDER}.focus()"));
        let spoken = format!("{SLIDER}.getAttribute('aria-valuetext')");
        assert_eq!(browser.eval(&spoken), "gap 9.00 mm, travel 0.0 degrees");
        let lever = "document.querySelector('.motion [data-part]').getAttribute('transform')";
        let cursor = "document.querySelector('.motion .cursor').getAttribute('x1')";
        let (still, left) = (browser.eval(lever), browser.eval(cursor));
        browser.key("ArrowRight", 39);
        assert_eq!(browser.eval(&format!("{SLIDER}.value")), "1");
        assert_ne!(browser.eval(lever), still);
        assert_ne!(browser.eval(cursor), left);
        browser.key("End", 35);
        assert_eq!(browser.eval(&spoken), "gap 0.00 mm, travel 22.0 degrees");
        browser.key("ArrowLeft", 37);
        browser.key("Home", 36);
        assert_eq!(browser.eval(lever), still);
        // The button of the stall, by keyboard: its row is over the limit, in words.
        browser.eval("[...document.querySelectorAll('.jumps button')].find(b => b.textContent.startsWith('stall')).focus()");
        browser.ask("Input.dispatchKeyEvent", json!({"type": "keyDown", "key": "Enter", "code": "Enter", "windowsVirtualKeyCode": 13, "text": "\r"}));
        let rows = "[...document.querySelectorAll('.readout tbody tr')].map(r => r.textContent)";
        let rows = browser.eval(rows);
        assert!(
            rows[0].as_str().unwrap().ends_with("over the limit"),
            "{rows}"
        );
        assert!(
            !rows[1].as_str().unwrap().ends_with("over the limit"),
            "{rows}"
        );
        assert!(rows[0].as_str().unwrap().starts_with("60 mm"), "{rows}");
        let note = browser.eval("document.querySelector('.motion .note').textContent");
        assert!(note.as_str().unwrap().contains("0.57 mm"), "{note}");
        // Nothing moves by itself.
        let before = browser
            .eval("document.body.outerHTML.length + document.querySelector('.where').textContent");
        std::thread::sleep(std::time::Duration::from_millis(300));
        assert_eq!(
            browser.eval(
                "document.body.outerHTML.length + document.querySelector('.where').textContent"
            ),
            before
        );
    }
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

/// Where the page moves them, the ends of a spring lie on its parts, and dots on their curves.
#[test]
fn springs_stretch_and_dots_ride() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.go(&drawn(FILE, &[]), 1280);
    let length = "(() => { const path = document.querySelector('[data-coil]'); const all = path.getTotalLength(); \
        const [a, b] = [path.getPointAtLength(0), path.getPointAtLength(all)]; return Math.hypot(a.x - b.x, a.y - b.y); })()";
    let open = browser.eval(length).as_f64().unwrap();
    browser.eval(&format!(
        "{SLIDER}.value = {SLIDER}.max; {SLIDER}.dispatchEvent(new Event('input'))"
    ));
    let shut = browser.eval(length).as_f64().unwrap();
    assert!((open - shut).abs() > 0.5, "{open} and {shut}");
    // Every dot that is seen is nearer to its curve than the curve is wide.
    let off = "(() => { const svg = document.querySelector('.forces svg'); let most = 0, count = 0; \
        for (const dot of svg.querySelectorAll('circle[visibility=visible]')) { \
          const [x, y] = [Number(dot.getAttribute('cx')), Number(dot.getAttribute('cy'))]; let near = 1e9; \
          for (const line of svg.querySelectorAll('polyline, path')) { \
            if (line.getAttribute('stroke')?.toLowerCase() !== dot.getAttribute('fill').toLowerCase()) continue; \
            const all = line.getTotalLength(); \
            for (let k = 0; k <= 600; k++) { const p = line.getPointAtLength(all * k / 600); near = Math.min(near, Math.hypot(p.x - x, p.y - y)); } } \
          most = Math.max(most, near); count++; } return [most, count]; })()";
    for share in [0.0, 0.3, 0.7, 0.9, 1.0] {
        browser.eval(&format!("{SLIDER}.value = Math.round({SLIDER}.max * {share}); {SLIDER}.dispatchEvent(new Event('input'))"));
        let off = browser.eval(off);
        assert!(
            off[0].as_f64().unwrap() < 1.0 && off[1].as_u64().unwrap() >= 6,
            "{share}: {off}"
        );
    }
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

/// On the screen, the pins of the linkage are as far from each other as those of the stroke, at both ends.
#[test]
fn pins_on_the_screen_are_those_of_the_stroke() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    let pins = "[...document.querySelectorAll('.motion [data-pin]')].map(c => { \
        const m = c.getScreenCTM(), [x, y] = [Number(c.getAttribute('cx')), Number(c.getAttribute('cy'))]; \
        return [c.dataset.pin, m.a * x + m.c * y + m.e, m.b * x + m.d * y + m.f]; })";
    for file in [
        FILE,
        "demo-data/pin-plunger.toml",
        "demo-data/excluder-cutter.toml",
    ] {
        browser.go(&drawn(file, &[]), 1280);
        let stroke = stroke(file, &[]);
        let positions = stroke["positions"].as_array().unwrap();
        let mut scales: Vec<f64> = Vec::new();
        for (value, position) in [("min", positions.first()), ("max", positions.last())] {
            browser.eval(&format!(
                "{SLIDER}.value = {SLIDER}.{value}; {SLIDER}.dispatchEvent(new Event('input'))"
            ));
            let seen = browser.eval(pins);
            let seen = seen.as_array().unwrap();
            let at = |pin: &Value| [1, 2].map(|k| pin[k].as_f64().unwrap());
            let real = |pin: &Value| {
                let place = &position.unwrap()["pins"][pin[0].as_str().unwrap()];
                ["x", "y"].map(|k| place[k].as_f64().unwrap())
            };
            let far = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
            for (k, a) in seen.iter().enumerate() {
                for b in seen
                    .iter()
                    .skip(k + 1)
                    .filter(|b| far(real(a), real(b)) > 1e-6)
                {
                    scales.push(far(at(a), at(b)) / far(real(a), real(b)));
                }
            }
        }
        let most = scales
            .iter()
            .fold(0.0_f64, |m, s| m.max((s / scales[0] - 1.0).abs()));
        // Places on the picture are rounded to 0.01 mm.
        assert!(scales.len() >= 2 && most < 0.01, "{file}: {scales:?}");
    }
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}

/// On every window slider and linkage are seen together wherever the block is scrolled to, nothing makes the page
/// scroll sideways, and print and readers without script get the still pictures.
#[test]
fn windows_print_and_no_script() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    let page = review(FILE);
    let seen = "(() => { const h = innerHeight, box = of => document.querySelector(of).getBoundingClientRect(); \
        const [tool, bar] = [box('.motion .linkage svg'), box('.motion .bar')]; \
        return [tool.top >= -1 && tool.bottom <= h + 1, bar.top >= -1 && bar.bottom <= h + 1, \
            document.documentElement.scrollWidth <= document.documentElement.clientWidth]; })()";
    for width in [360, 768, 1280] {
        browser.go(&page, width);
        for down in [0, 120] {
            browser.eval(&format!("document.querySelector('.motion .stage').scrollIntoView(); scrollBy(0, {down} * ({width} < 1000))"));
            assert_eq!(
                browser.eval(seen),
                json!([true, true, true]),
                "{width}, {down}"
            );
        }
    }
    let cells = "[...document.querySelectorAll('th, td')].filter(c => getComputedStyle(c).display !== 'table-cell').length";
    assert_eq!(browser.eval(cells), 0, "cells of tables stay cells");
    let shown = "[...document.querySelectorAll('.motion, .sheet svg, .first figure svg')].map(e => e.checkVisibility())";
    let screen = browser.eval(shown);
    browser.ask("Emulation.setEmulatedMedia", json!({"media": "print"}));
    let print = browser.eval(shown);
    let printed = |all: &Value| {
        let all: Vec<bool> = all
            .as_array()
            .unwrap()
            .iter()
            .map(|v| v.as_bool().unwrap())
            .collect();
        all.iter().filter(|v| **v).count()
    };
    assert_eq!(printed(&screen), 3, "{screen}");
    assert_eq!(printed(&print), 2, "{print}");
    assert_eq!(
        browser.eval("document.querySelector('.motion').checkVisibility()"),
        false
    );
    browser.ask("Emulation.setEmulatedMedia", json!({"media": ""}));
    browser.ask(
        "Emulation.setScriptExecutionDisabled",
        json!({"value": true}),
    );
    browser.go(&page, 1280);
    let plain = browser.eval(shown);
    assert_eq!(printed(&plain), 2, "{plain}");
    assert_eq!(
        browser.eval("document.querySelector('.motion').checkVisibility()"),
        false
    );
    assert!(browser.said.is_empty(), "{:?}", browser.said);
}
