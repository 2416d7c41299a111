//! The whole file: its tables in the order in which they depend on each other.

use std::collections::BTreeMap;
use std::ops::Range;

use toml::de::DeTable;

use super::around::{Around, Contacts, Jaws, Stops};
use super::code;
use super::diagnostic::{Diagnostic, Severity};
use super::document;
use super::draft::Draft;
use super::fields::{Entry, Fields, Reader};
use super::finish::heights;
use super::keys;
use super::mend::mend;
use super::problems::Problems;
use super::sketch::has_scale;
use super::tolerances::Addresses;
use crate::geometry::Pixels;
use crate::model::{Joint, Tolerances, Tool, contact_names, dimension};
use crate::units::UnitSystem;

/// Problems of single values, which are true whatever else is broken around them.
const OF_VALUES: &[&str] = &[code::NUMBER, code::NOT_FINITE, code::UNIT];
/// Problems of single keys, which are true as long as the key is in its table.
const OF_KEYS: &[&str] = &[
    code::UNKNOWN_KEY,
    code::TYPE,
    code::UNIT_KIND,
    code::SIZE,
    code::WORD,
];

/// A tool file that can be used.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadTool {
    /// What it describes.
    pub tool: Tool,
    /// What is worth a look, though nothing is wrong.
    pub advice: Vec<Diagnostic>,
    /// Places in the file, in bytes, of what later stages may want to point at: `parts.strut`,
    /// `parts.strut.knee`, `strut.length`, `jaw.nose`, `stroke.open`, `hand.force`, `demand.0`,
    /// `tune.strut.length`, and of each table under its name.
    pub spans: BTreeMap<String, Range<usize>>,
    /// Where the picture of a sketch in pixels lies.
    pub pixels: Option<Pixels>,
}

/// Reads a tool file. `load` fetches a side file that the text names, or says why it cannot.
///
/// # Errors
/// [`Problems`]: all of them, in the order of their places; advice among them.
///
/// # Examples
/// ```
/// use jawforce::input::{read_tool, render_all};
///
/// let text = "[tool]\nunits = \"mm-N\"\n[parts.base]\nfixd = true\n";
/// let problems = read_tool(text, &|_| Err("none here".to_owned())).expect_err("mistyped");
/// let shown = render_all(&problems, "tool.toml", text, false);
/// assert!(shown.contains("tool.toml:4:1") && shown.contains("fixed"));
/// ```
pub fn read_tool(
    text: &str,
    load: &dyn Fn(&str) -> Result<String, String>,
) -> Result<ReadTool, Problems> {
    read(text, load).map_err(|all| Problems::new(all, text))
}

/// A tool file that names no side file.
///
/// # Errors
/// Whatever is asked for.
pub fn no_side_files(name: &str) -> Result<String, String> {
    Err(format!("{name}: no side file is read here"))
}

fn read(
    text: &str,
    load: &dyn Fn(&str) -> Result<String, String>,
) -> Result<ReadTool, Vec<Diagnostic>> {
    let mut reader = Reader::new(text);
    if text.contains('\r') && !text.contains('\n') {
        let message = "the lines end in carriage returns alone, which TOML does not know";
        let problem = Diagnostic::error(code::SYNTAX, 0..0, message);
        return Err(vec![problem.help(
            "save the file with line feeds (LF or CRLF) at the ends of lines",
        )]);
    }
    let blank = |line: &str| {
        let line = line.trim_start_matches('\u{feff}').trim();
        line.is_empty() || line.starts_with('#')
    };
    if text.lines().all(blank) {
        return Err(vec![
            Diagnostic::error(code::EMPTY, 0..0, "there is nothing in this file")
                .help("begin with [tool] and its units, then [parts.NAME]; or take a starter file"),
        ]);
    }
    let mended = mend(text);
    let document = document::parse(&mended.text);
    let tool = reader.tool(document.tree.get_ref(), load);
    let mut found = std::mem::take(&mut reader.found);
    // Where statements are lost, what is said about the others counts only as far as it does not
    // depend on those.
    if mended.lost_header || document.mixed {
        found.retain(|problem| OF_VALUES.contains(&problem.code));
    } else if !mended.problems.is_empty() {
        found
            .retain(|problem| OF_VALUES.contains(&problem.code) || OF_KEYS.contains(&problem.code));
    }
    found.extend(mended.problems);
    found.extend(document.problems);
    found.sort_by_key(|problem| (problem.span.start, problem.span.end));
    found.dedup();
    let wrong = found
        .iter()
        .any(|problem| problem.severity == Severity::Error);
    if wrong {
        // With a pin or a name gone, of course something has to be guessed.
        found.retain(|problem| problem.code != code::GUESSED);
    }
    match tool.filter(|_| !wrong) {
        Some(tool) => Ok(ReadTool {
            tool,
            advice: found,
            spans: reader.spans,
            pixels: reader.pixels,
        }),
        None => Err(found),
    }
}

impl Reader<'_> {
    fn tool(
        &mut self,
        root: &DeTable<'_>,
        load: &dyn Fn(&str) -> Result<String, String>,
    ) -> Option<Tool> {
        let mut root = Fields::of(root, "the file", 0..0);
        self.refuse_unknown(&mut root, &keys::ROOT);
        for entry in &root.entries {
            self.spans
                .insert(entry.key.to_owned(), entry.key_span.clone());
        }
        let head = self.table_needed(&root, "tool", "[tool] with units = \"mm-N\"");
        let (name, note) = head.map_or((None, None), |entry| self.head(entry));
        let parts = self.table_needed(&root, "parts", "[parts.frame] with fixed = true");
        let mut draft = parts.map_or_else(Draft::default, |entry| self.parts(entry));
        if draft.parts.is_empty() {
            // Everything else points into the parts: it would all be unknown.
            if parts.is_some() && self.found.is_empty() {
                let problem = Diagnostic::error(code::MISSING, root.span_of("parts"), "no parts");
                self.report(problem.help("add a table [parts.NAME] for each part"));
            }
            self.tables_missing(&root);
            return None;
        }
        let materials = root
            .entry("materials")
            .map_or(Vec::new(), |e| self.materials(e));
        let slots = root
            .entry("slots")
            .map_or(Vec::new(), |entry| self.slots(entry, &draft, &materials));
        let cams = root.entry("cams");
        let mut cams = cams.map_or(Vec::new(), |entry| self.cams(entry, &draft, &materials));
        let sketch = root.entry("sketch");
        draft.pixels = sketch.is_some_and(has_scale);
        let sketch = sketch.map(|entry| self.sketch(entry, &draft));
        self.put_in_place(&mut draft, &sketch.unwrap_or_default(), &slots);
        self.cam_sides(&draft, &mut cams);
        let gears = (root.entry("gears")).map_or(Vec::new(), |entry| {
            self.gears(entry, &draft, &slots, &materials)
        });
        let others: Vec<Joint> = (slots.iter().enumerate())
            .map(|(k, slot)| Joint::Slot(k, slot))
            .chain(cams.iter().enumerate().map(|(k, cam)| Joint::Cam(k, cam)))
            .chain(gears.iter().enumerate().map(|(k, g)| Joint::Gears(k, g)))
            .collect();
        self.check_joints(&draft, &others);
        self.check_fineness(&draft);

        self.tables_missing(&root);
        let hand = root
            .entry("hand")
            .and_then(|entry| self.hand(entry, &draft));
        let jaw = root.entry("jaw");
        let mut jaws = jaw.map_or(Vec::new(), |entry| self.jaws(entry, &draft));
        let tables = jaw.and_then(|entry| entry.value.get_ref().as_array());
        let complete = tables.is_some_and(|tables| tables.len() == jaws.len());
        let work = root.entry("work").map_or(Vec::new(), |entry| {
            self.works(entry, &mut jaws, complete, (load, &materials))
        });
        let stops = root.entry("stops");
        let tables = stops.and_then(|entry| entry.value.get_ref().as_array());
        let stops = stops.map_or(Vec::new(), |entry| self.stops(entry, &draft));
        let all_stops = tables.is_none_or(|tables| tables.len() == stops.len());
        let list = jaws.as_slice();
        let contacts = contact_names(draft.joints.len(), &slots, &cams, &gears);
        let tables = |key: &str| {
            let entry = root.entry(key);
            let list =
                entry.and_then(|entry| entry.value.get_ref().as_array().map(|list| list.len()));
            list.unwrap_or(0)
        };
        let around = Around {
            contacts: Contacts {
                list: &contacts,
                complete: tables("slots") == slots.len() && tables("cams") == cams.len(),
            },
            draft: &draft,
            hand: hand.as_ref(),
            jaws: Jaws { list, complete },
            stops: Stops {
                list: &stops,
                complete: all_stops,
            },
            work: &work,
            job: root.entry("job").is_some(),
            tolerances: root.entry("tolerances").is_some(),
        };
        let stroke = root.entry("stroke");
        let stroke = stroke.and_then(|entry| self.stroke(entry, around));
        let job = root.entry("job");
        let job = job.and_then(|e| self.job(e, hand.as_ref()));
        let operators = root.entry("operators");
        let operators = operators.map_or(Vec::new(), |e| self.operators(e));
        let springs = root
            .entry("springs")
            .map_or(Vec::new(), |e| self.springs(e, &draft));
        let life = root.entry("life").and_then(|e| self.life(e));
        let trial = root.entry("trial").and_then(|e| self.trial(e, load));
        let sections = root.entry("sections");
        let sections = sections.map_or(Vec::new(), |e| {
            let outlined = root.entry("outlines");
            self.sections(e, &draft, hand.as_ref(), &materials, outlined)
        });
        let outlines = root
            .entry("outlines")
            .map_or(Vec::new(), |e| self.outlines(e, &draft));
        self.images_exist(&outlines, &draft);
        let room = root.entry("room").map(|e| self.room(e));
        let stock = root.entry("stock").map(|e| self.stock(e));
        let bench = root.entry("bench");
        let bench = bench.and_then(|e| self.bench(e, &draft, hand.as_ref()));
        let joint_data = self.joint_data(root.entry("joints"), &draft, &materials);
        let ratchet = root.entry("ratchet");
        let ratchet = ratchet.and_then(|e| self.ratchet(e, around, &materials));
        let mut demands = root
            .entry("demand")
            .map_or(Vec::new(), |e| self.demands(e, around));
        demands.extend(heights(&jaws, &demands));

        let parts = dimension::addressed(&draft.parts);
        let mut tool = draft
            .fixed
            .zip(hand.as_ref())
            .zip(stroke)
            .map(|((fixed, hand), stroke)| Tool {
                name: name.unwrap_or_else(|| "tool".to_owned()),
                note,
                units: self.units,
                fixed,
                parts: draft.parts.clone(),
                joints: draft.joints.clone(),
                slots,
                cams,
                gears,
                hand: hand.clone(),
                jaws: jaws.clone(),
                stroke,
                stops: stops.clone(),
                joint_data,
                springs,
                life,
                trial,
                materials,
                sections,
                outlines,
                room: room.unwrap_or_default(),
                stock: stock.unwrap_or_default(),
                bench,
                demands,
                ties: Vec::new(),
                tolerances: Tolerances::default(),
                tunes: Vec::new(),
                adjusters: Vec::new(),
                ratchet,
                aim: None,
                job: job.clone(),
                operators,
            });
        let addresses = Addresses {
            known: tool.as_ref().map_or(parts, dimension::all_addresses),
            ties: Vec::new(),
            all: tool.is_some() && self.found.iter().all(|p| p.severity != Severity::Error),
        };
        if let Some((entry, tool)) = root.entry("ties").zip(tool.as_mut()) {
            self.ties(entry, tool, &addresses);
        }
        let addresses = Addresses {
            ties: (tool.as_ref()).map_or_else(Vec::new, |tool| tool.ties.clone()),
            ..addresses
        };
        if let Some((entry, tool)) = root.entry("adjusters").zip(tool.as_mut()) {
            tool.adjusters = self.adjusters(entry, tool, &addresses);
        }
        let addresses = Addresses {
            known: (tool.as_ref()).map_or(addresses.known, dimension::all_addresses),
            ..addresses
        };
        let tolerances = root
            .entry("tolerances")
            .map(|e| self.tolerances(e, &addresses));
        let adjusters = tool.as_ref().map_or(&[][..], |tool| &tool.adjusters);
        let tunes = (root.entry("tune")).map(|e| self.tunes(e, &addresses, adjusters));
        let aim = root.entry("aim");
        let some_tune = root.entry("tune").is_some();
        let aim = aim.and_then(|entry| self.aim(entry, around, some_tune));
        let mut tool = Tool {
            tolerances: tolerances.unwrap_or_default(),
            tunes: tunes.unwrap_or_default(),
            aim,
            ..tool?
        };
        self.spread_work(&mut tool);
        self.tolerances_fit(&tool);
        self.outlines_close(&tool);
        self.check_amount(&tool);
        Some(tool)
    }

    fn table_needed<'f, 'd>(
        &mut self,
        root: &'f Fields<'d>,
        key: &str,
        example: &str,
    ) -> Option<&'f Entry<'d>> {
        let found = root.entry(key);
        if found.is_none() {
            self.report(
                Diagnostic::error(code::MISSING, 0..0, format!("the file has no [{key}]"))
                    .help(format!("add {example}")),
            );
        }
        found
    }

    fn tables_missing(&mut self, root: &Fields<'_>) {
        self.table_needed(root, "hand", "[hand] with `part`, `line` and `grips`");
        self.table_needed(root, "jaw", "[[jaw]] with `on` and `against`");
        self.table_needed(root, "stroke", "[stroke] with `open` and `shut`");
    }

    /// `[tool]`: name and note; sets the units.
    fn head(&mut self, entry: &Entry<'_>) -> (Option<String>, Option<String>) {
        let Some(fields) = self.known_table(entry, "[tool]", &keys::TOOL) else {
            return (None, None);
        };
        if let Some(value) = self.need(&fields, "units") {
            let word = self.word(value, "units", &["mm-N", "in-lbf"]);
            if let Some(system) = word.and_then(UnitSystem::from_name) {
                self.units = system;
            }
        }
        let name = fields.get("name").and_then(|v| self.text(v, "`name`"));
        let note = fields.get("note").and_then(|v| self.text(v, "`note`"));
        let visible = name.filter(|name| !name.trim().is_empty());
        (visible.map(str::to_owned), note.map(str::to_owned))
    }
}
