//! Good tool files, damaged as bytes say.

/// The files, each with all its tables right.
const FILES: &[&str] = &[
    include_str!("../../../demo-data/eyelet-toggle.toml"),
    include_str!("../../../demo-data/excluder-cutter.toml"),
    include_str!("../../../demo-data/pin-plunger.toml"),
    include_str!("../../../demo-data/wire-crimp-pliers.toml"),
    include_str!("../../../src/cli/starters/compound.toml"),
    include_str!("../../../src/cli/starters/toggle.toml"),
    include_str!("../../../src/cli/starters/plunger.toml"),
    include_str!("../../files/everything.toml"),
    include_str!("../../cli/setter.toml"),
    include_str!("../../../demo-data/ferrule-crimper.toml"),
    include_str!("../../../demo-data/seal-pliers.toml"),
    include_str!("../../../demo-data/sleeve-crimper.toml"),
    include_str!("../../../demo-data/snap-press.toml"),
    include_str!("../../files/three-nests.toml"),
];

/// Those with plates drawn by outlines, and with parts that only push on each other.
const SHAPED: [usize; 8] = [1, 2, 7, 9, 10, 11, 12, 13];

/// Values that have no business where they are put, and those at the edges of what is allowed.
const ODD: &[&str] = &[
    "0",
    "-0.0",
    "-1",
    "1e300",
    "-1e300",
    "1e-300",
    "1e-9",
    "5e-324",
    "nan",
    "-inf",
    "1e6",
    "1e5",
    "0.001",
    "90",
    "180",
    "-180",
    "360",
    "2",
    "3",
    "\"\"",
    "\"3 N\"",
    "\"1 in\"",
    "\"1e9 m\"",
    "[]",
    "{}",
    "[[]]",
    "[[0, 0]]",
    "true",
    "\"heel\"",
    "\"frame\"",
    "99999999999999999999",
    "0x10",
    "1979-05-27",
    "\"both\"",
    "\"push\"",
    "\"square\"",
    "\"across\"",
    "\"peak\"",
    "\"open\"",
];

/// Lines that may stand in some table.
const LINES: &[&str] = &[
    "keyed = true",
    "turn = 30",
    "friction = 0.9",
    "friction = 0",
    "width = 1",
    "clearance = 0.5",
    "smooth = true",
    "push = \"square\"",
    "push = 270",
    "closed = 2",
    "axis = 90",
    "steps = 2",
    "open = { handle = 20 }",
    "shut = { handle = -20 }",
    "shut = { span = 60 }",
    "force = 1e6",
    "limit = 1",
    "rate = 1000",
    "preload = 500",
    "acts = \"push\"",
    "[[springs]]",
    "[[demand]]",
    "[[jaw]]",
    "[[slots]]",
    "[work]",
    "[sketch]",
    "[tolerances]",
    "class = \"ISO 2768-v\"",
    "class = 5",
    "rigid = 0.5",
    "need = [[9, 0], [0, 1e5]]",
    "thickness = 500",
    "measure = \"safety\"",
    "want = \"most\"",
    "[stroke]",
    "[hand]",
    "[[outlines]]",
    "[[cams]]",
    "[[gears]]",
    "[[stops]]",
    "[[adjusters]]",
    "[life]",
    "radius = 0",
    "fillet = 40",
    "mirror = true",
    "backlash = 5",
    "teeth = [3, 90]",
    "angle = 45",
    "roller = { diameter = 80, pin = 4 }",
    "flat = 0",
    "thickness = 0.01",
    "diameter = 60",
    "hole = 0",
    "length = 0.01",
    "length = 1000",
];

/// A good file with a change for every five bytes; the first byte picks the file.
pub fn spoilt(bytes: &[u8]) -> String {
    damaged(bytes, |first| first % FILES.len())
}

/// The same, of files with outlines and contacts.
pub fn spoilt_shapes(bytes: &[u8]) -> String {
    damaged(bytes, |first| SHAPED[first % SHAPED.len()])
}

fn damaged(bytes: &[u8], file: impl Fn(usize) -> usize) -> String {
    let Some((&first, rest)) = bytes.split_first() else {
        return String::new();
    };
    let text = FILES[file(first as usize)].to_owned();
    rest.chunks_exact(5).take(8).fold(text, |text, chunk| {
        let [op, a, b, c, d] = chunk else { return text };
        let share = |high: u8, low: u8| f64::from(u16::from_be_bytes([high, low])) / 65536.0;
        change(&text, *op, share(*a, *b), share(*c, *d))
    })
}

fn change(text: &str, op: u8, at: f64, by: f64) -> String {
    match op % 12 {
        // Numbers, most of all: they get through the reader.
        0..=4 => with_number(text, at, |value| match op / 12 % 4 {
            0 => format!("{:.4}", value * (0.8 + 0.4 * by)),
            1 => format!("{:.4}", value * (6.0 * by - 3.0)),
            2 => format!("{:.4}", value + 200.0 * (by - 0.5)),
            _ => format!("{value:e}"),
        }),
        5 => with_number(text, at, |_| ODD[pick(by, ODD.len())].to_owned()),
        6 => swapped(text, at, by),
        7 => with_lines(text, |lines| {
            lines.remove(pick(at, lines.len()));
        }),
        8 => with_lines(text, |lines| {
            let line = lines[pick(at, lines.len())].clone();
            lines.insert(pick(by, lines.len()), line);
        }),
        9 => with_lines(text, |lines| {
            let line = LINES[pick(by, LINES.len())].to_owned();
            lines.insert(pick(at, lines.len()), line);
        }),
        // A line of another file, in the place of one or besides.
        10 => with_lines(text, |lines| {
            let other: Vec<&str> = FILES[pick(by, FILES.len())].lines().collect();
            let line = other[pick((by * 4096.0).fract(), other.len())].to_owned();
            let place = pick(at, lines.len());
            lines[place] = line;
        }),
        _ => with_lines(text, |lines| {
            let (a, b) = (pick(at, lines.len()), pick(by, lines.len()));
            lines.swap(a, b);
        }),
    }
}

fn pick(at: f64, count: usize) -> usize {
    ((at * count as f64) as usize).min(count.saturating_sub(1))
}

fn with_lines(text: &str, change: impl FnOnce(&mut Vec<String>)) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    if lines.is_empty() {
        lines.push(String::new());
    }
    change(&mut lines);
    lines.join("\n")
}

/// The text cut into words, numbers, blanks and single signs; comments are one piece each.
fn pieces(text: &str) -> Vec<String> {
    let kind = |c: char| match c {
        c if c.is_alphanumeric() || "_.-".contains(c) => 0,
        ' ' => 1,
        _ => 2,
    };
    let mut found: Vec<String> = Vec::new();
    let (mut before, mut comment) = (2, false);
    for c in text.chars() {
        comment = (comment || c == '#') && c != '\n';
        match found.last_mut() {
            Some(last) if comment && c != '#' => last.push(c),
            Some(last) if kind(c) == before && before < 2 => last.push(c),
            _ => found.push(c.to_string()),
        }
        before = if comment { 2 } else { kind(c) };
    }
    found
}

fn with_number(text: &str, at: f64, change: impl FnOnce(f64) -> String) -> String {
    let mut words = pieces(text);
    let number = |word: &String| {
        word.starts_with(|c: char| c.is_ascii_digit() || c == '-') && word.parse::<f64>().is_ok()
    };
    let numbers: Vec<usize> = (0..words.len()).filter(|&i| number(&words[i])).collect();
    if let Some(&place) = numbers.get(pick(at, numbers.len())) {
        words[place] = change(words[place].parse().unwrap_or(1.0));
    }
    words.concat()
}

fn swapped(text: &str, a: f64, b: f64) -> String {
    let mut words = pieces(text);
    let named = |word: &String| word.starts_with(char::is_alphanumeric);
    let names: Vec<usize> = (0..words.len()).filter(|&i| named(&words[i])).collect();
    if !names.is_empty() {
        words.swap(names[pick(a, names.len())], names[pick(b, names.len())]);
    }
    words.concat()
}
