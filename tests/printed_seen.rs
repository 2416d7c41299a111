//! Reports in a real browser as they are printed and as a phone shows them. Without a browser the tests say SKIPPED.

use crate::cli::Bench;
use crate::drawing::{DEMOS, demo};
use crate::motion_seen::Browser;
use serde_json::json;

/// Between the margins of 12 mm: A4 and Letter, in pixels of 1/96 in.
const PRINTED: [u32; 2] = [702, 725];

/// The report of a call.
fn report(files: &[String], more: &[&str]) -> String {
    let mut call = vec!["report", "--samples", "60", "-o", "page.html"];
    call.extend(files.iter().map(String::as_str));
    call.extend(more);
    let ended = Bench::empty().run(&call);
    let page = ended.written.get("page.html");
    let page = page.unwrap_or_else(|| panic!("{call:?}: {}", ended.err));
    String::from_utf8(page.clone()).unwrap()
}

/// A browser prints smaller what is wider than the paper, all of it, and every scale bar is then too short: nothing may
/// be wider, of any tool, with few grips or many.
#[test]
fn nothing_is_wider_than_a_printed_page() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.ask("Emulation.setEmulatedMedia", json!({"media": "print"}));
    let mut calls: Vec<(Vec<String>, &[&str])> = Vec::new();
    calls.extend(DEMOS.map(|name| (vec![demo(name)], &[][..])));
    calls.push((vec![demo("eyelet-toggle"), demo("eyelet-toggle-b")], &[]));
    let many = ["--grip", "70,75,80,85,90,95,100,105"];
    calls.push((vec![demo("sleeve-crimper")], &many));
    let metric = ["--grip", "2,2.5,3,3.5", "--units", "mm-N"];
    calls.push((vec![demo("excluder-cutter")], &metric));
    for (files, more) in calls {
        let page = report(&files, more);
        for width in PRINTED {
            browser.go(&page, width);
            let over = browser.eval(
                "(() => { const room = document.documentElement.clientWidth; \
                 const all = [document.documentElement, ...document.querySelectorAll('body *')]; \
                 const wide = e => Math.max(e.getBoundingClientRect().right, e.tagName == 'HTML' ? e.scrollWidth : 0); \
                 return all.filter(e => wide(e) > room + 0.5).map(e => `${e.tagName} ${wide(e)} in ${room}`); })()",
            );
            assert_eq!(over, json!([]), "{files:?} {more:?}");
        }
    }
}

/// Letters of the first chart are 10 px at least, which can be read at arm's length; whichever chart is shown, no other
/// is.
#[test]
fn the_first_chart_can_be_read_on_any_screen() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    for name in ["eyelet-toggle", "pin-plunger", "ferrule-crimper"] {
        let page = report(&[demo(name)], &[]);
        for width in [360, 390, 560, 600, 800, 1280] {
            browser.go(&page, width);
            let letters = browser.eval(
                "(() => { const all = [...document.querySelectorAll('.first figure svg')]; \
                 const seen = all.filter(svg => svg.getBoundingClientRect().width > 0); \
                 const size = svg => [...svg.querySelectorAll('text')].map( \
                     t => t.getAttribute('font-size') * svg.getScreenCTM().a); \
                 return [seen.length, Math.min(...seen.flatMap(size))]; })()",
            );
            assert_eq!(letters[0], 1, "{name} at {width}");
            let least = letters[1].as_f64().unwrap();
            assert!(least >= 10.0, "{name} at {width}: {least} px");
        }
    }
}

/// Printed, letters of the first chart are 7 pt at least, on either paper; a page of 96 px to the inch has 9.33 px then.
#[test]
fn the_first_chart_can_be_read_on_paper() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    browser.ask("Emulation.setEmulatedMedia", json!({"media": "print"}));
    for name in DEMOS {
        let page = report(&[demo(name)], &[]);
        for width in PRINTED {
            browser.go(&page, width);
            let letters = browser.eval(
                "(() => { const all = [...document.querySelectorAll('.first figure svg')]; \
                 const seen = all.filter(svg => svg.getBoundingClientRect().width > 0); \
                 const size = svg => [...svg.querySelectorAll('text')].map( \
                     t => t.getAttribute('font-size') * svg.getScreenCTM().a); \
                 return [seen.length, Math.min(...seen.flatMap(size))]; })()",
            );
            assert_eq!(letters[0], 1, "{name} at {width}");
            let least = letters[1].as_f64().unwrap();
            assert!(least >= 28.0 / 3.0, "{name} at {width}: {least} px");
        }
    }
}

/// On a phone the pictures of setting up need no scrolling sideways, and their letters are 10 px at least; those of
/// tolerances scroll in their own boxes, which say so.
#[test]
fn pictures_of_the_chapters_fit_a_phone() {
    let Some(mut browser) = Browser::open() else {
        return;
    };
    let page = report(&[demo("ferrule-crimper")], &[]);
    for width in [360, 390] {
        browser.go(&page, width);
        let seen = browser.eval(
            "[...document.querySelectorAll('.beside .paper')].map(p => [p.closest('.small') !== null, \
             getComputedStyle(p.closest('figure'), '::before').content, \
             p.scrollWidth - p.clientWidth, Math.min(...[...p.querySelectorAll('text')].map( \
             t => t.getAttribute('font-size') * p.querySelector('svg').getScreenCTM().a))])",
        );
        let seen = seen.as_array().unwrap();
        let (small, wide): (Vec<_>, Vec<_>) = seen.iter().partition(|picture| picture[0] == true);
        // One for each of the adjuster's four curves, and of the measures that some samples miss.
        assert!(small.len() == 4 && !wide.is_empty(), "{seen:?}");
        for picture in small {
            assert_eq!(picture[2], 0, "{width}: {seen:?}");
            assert!(picture[3].as_f64().unwrap() >= 10.0, "{width}: {seen:?}");
        }
        for picture in wide {
            assert!(picture[1].as_str().unwrap().contains("scrolls sideways"));
        }
    }
}
