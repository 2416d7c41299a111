//! The table of spoiled files.

use jawforce::input::code;

/// A good file; the cases spoil one line of it, or add lines behind its 31.
pub(super) const GOOD: &str = r#"[tool]
units = "mm-N"
[parts.frame]
fixed = true
pins = { heel = [0, 0], post = [4, -50] }
marks = { anvil = [52, -72], tail = [-40, -30] }
[parts.lever]
pins = { heel = [0, 0], knee = [15, 0] }
marks = { tail = [-30, 6] }
[parts.strut]
pins = ["knee", "wrist"]
length = 27
[parts.ram]
pins = { post = [0, 0], wrist = [0, 34] }
marks = { nose = [40, 18] }
[sketch]
knee = [14, -6]
wrist = [30, -28]
[hand]
part = "lever"
line = [[-14, 4], [-90, 14], [-185, 10]]
against = { part = "frame", line = [[-14, -60], [-90, -70], [-185, -64]] }
grips = [70, 100, 130]
[[jaw]]
name = "nose"
on = "ram.nose"
against = "frame.anvil"
axis = 90
[stroke]
open = { gap = 9 }
shut = { gap = 0 }
"#;

/// One spoiled file.
pub(super) struct Case {
    /// Line to replace (any number of lines may take its place); 0: lines to add at the end.
    pub(super) line: usize,
    pub(super) text: &'static str,
    pub(super) code: &'static str,
    /// Where the problem is to be shown.
    pub(super) at: usize,
    /// Part of the help.
    pub(super) help: &'static str,
}

const fn case(
    line: usize,
    text: &'static str,
    code: &'static str,
    at: usize,
    help: &'static str,
) -> Case {
    Case {
        line,
        text,
        code,
        at,
        help,
    }
}

#[rustfmt::skip]
pub(super) const CASES: &[Case] = &[
    // Syntax.
    case(12, "length = 2.4 in", code::SYNTAX, 12, "\"2.4 in\""),
    case(12, "length = 2,4", code::SYNTAX, 12, "decimal point"),
    case(20, "part = lever", code::SYNTAX, 20, "in quotes"),
    case(12, "length = ", code::SYNTAX, 12, "write a value"),
    case(21, "line = [[-14, 4], [-90, 14], [-185, 10]", code::SYNTAX, 21, "missing `]`"),
    case(22, "against = { part = \"frame\", line = [[-14, -60], [-90, -70]]", code::SYNTAX, 22, "missing `}`"),
    case(19, "[hand", code::SYNTAX, 19, "missing `]`"),
    case(12, "length = 24 mm  # across the pins", code::SYNTAX, 12, "\"24 mm\""),
    case(12, "length = 2,4 in", code::SYNTAX, 12, "\"2.4 in\""),
    case(4, "fixed = yes", code::SYNTAX, 4, "write true or false"),
    case(4, "fixed = True", code::SYNTAX, 4, "small letters"),
    case(20, "part = ram", code::SYNTAX, 20, "\"ram\""),
    case(2, "units = \"mm-N", code::SYNTAX, 2, "texts in quotes"),
    case(12, "length = 27\nlength = 28", code::TWICE, 13, "keep one"),
    case(13, "[parts.strut]", code::TWICE, 13, "rename one"),
    // Keys and tables.
    case(12, "lenght = 27", code::UNKNOWN_KEY, 12, "did you mean `length`?"),
    case(0, "[demands]\nx = 1", code::UNKNOWN_KEY, 32, "did you mean `demand`?"),
    case(30, "open = { gab = 9, gap = 9 }", code::UNKNOWN_KEY, 30, "did you mean `gap`?"),
    case(2, "name = \"a\"", code::MISSING, 1, "units = \"mm-N\" or \"in-lbf\""),
    case(23, "", code::MISSING, 19, "grips = [70, 100, 130]"),
    case(23, "grips = []", code::MISSING, 23, "[70, 100]"),
    case(31, "", code::MISSING, 29, "shut = { gap = 0 }"),
    case(27, "", code::MISSING, 24, "frame.anvil"),
    case(0, "[materials.plate]\nultimate = 510", code::MISSING, 32, "yield = 355"),
    case(24, "[jaw]", code::TYPE, 24, "[[jaw]]"),
    case(4, "fixed = 1", code::TYPE, 4, "fixed = true"),
    case(12, "length = [27]", code::TYPE, 12, "18.5 mm"),
    case(17, "knee = [14, -6, 2]", code::TYPE, 17, "[12, -50]"),
    case(20, "part = 3", code::TYPE, 20, "in quotes"),
    case(0, "steps = 4.5", code::TYPE, 32, "digits only"),
    case(2, "units = \"mm\"", code::WORD, 2, "mm-N, in-lbf"),
    case(23, "grips = [70]\npush = \"acros\"", code::WORD, 24, "did you mean `across`?"),
    case(0, "[joints]\nshear = \"triple\"", code::WORD, 33, "single, double"),
    case(0, "[tolerances]\nclass = \"ISO 2768-k\"", code::WORD, 33, "ISO 2768-m"),
    // Jaws by name.
    case(30, "open = { gap = 9, jaw = \"nosse\" }", code::UNKNOWN_JAW, 30, "did you mean `nose`?"),
    case(30, "open = { span = 90, jaw = \"nose\" }", code::TOGETHER, 30, "are of no jaw"),
    case(0, "[work]\njaw = \"nosse\"\nneed = [[3, 0], [0, 9]]", code::UNKNOWN_JAW, 33, "did you mean `nose`?"),
    case(0, "[[work]]\nneed = [[3, 0], [0, 9]]\n[[work]]\njaw = \"nose\"\nneed = [[3, 0], [0, 9]]",
        code::TWICE, 35, "one [[work]] for each jaw"),
    case(0, "[[work]]\nneed = [[3, 0], [0, 9]]\n[[work]]\nneed = [[3, 0], [0, 9]]",
        code::TWICE, 34, "say which with `jaw`"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\njaw = \"nosse\"\nat = \"shut\"\nmin = 2",
        code::UNKNOWN_JAW, 34, "did you mean `nose`?"),
    case(0, "[[demand]]\nmeasure = \"ratio.nosse\"\nat = \"shut\"\nmin = 2",
        code::UNKNOWN_MEASURE, 33, "did you mean `nose`?"),
    case(0, "[[demand]]\nmeasure = \"safety\"\njaw = \"nose\"\nmin = 2", code::TOGETHER, 34, "take `jaw` out"),
    case(0, "[[demand]]\nmeasure = \"span\"\njaw = \"nose\"\nat = \"shut\"\nmin = 2",
        code::TOGETHER, 34, "whose gap"),
    case(28, "axis = 90\n[[jaw]]\nname = \"toe\"\non = \"ram.nose\"\nagainst = \"lever.tail\"\naxis = 0\n\
        [[demand]]\nmeasure = \"ratio.nose\"\njaw = \"toe\"\nat = \"shut\"\nmin = 2", code::TOGETHER, 36, "one of them"),
    case(28, "axis = 90\n[[jaw]]\nname = \"toe\"\non = \"ram.nose\"\nagainst = \"lever.tail\"\naxis = 0\n\
        [work]\nneed = [[3, 0], [0, 9]]\n\
        [[demand]]\nmeasure = \"hand_force.toe\"\nat = \"shut\"\nmax = 2", code::TOGETHER, 37, "add [work]"),
    // Numbers and units.
    case(12, "length = \"2,4 in\"", code::NUMBER, 12, "decimal point"),
    // A number that is none: an example of the kind that is wanted there.
    case(12, "length = \"long\"", code::NUMBER, 12, "\"18.5 mm\" or \"2.4 in\""),
    case(23, "grips = [70]\nforce = \"strong\"", code::NUMBER, 24, "\"150 N\" or \"33 lbf\""),
    case(28, "axis = \"up\"", code::NUMBER, 28, "\"30 deg\" or \"0.5 rad\""),
    case(0, "[materials.plate]\nyield = \"mild\"", code::NUMBER, 33, "\"355 MPa\" or \"52 ksi\""),
    case(0, "[[springs]]\nfrom = \"lever.tail\"\nto = \"frame.tail\"\nrate = \"soft\"\nfree = 9",
        code::NUMBER, 35, "\"2.1 N/mm\" or \"12 lbf/in\""),
    case(0, "[[springs]]\npin = \"heel\"\nrate = \"soft\"\nfree = 0",
        code::NUMBER, 34, "\"20 N mm/deg\" or \"3 lbf in/deg\""),
    case(0, "[[springs]]\npin = \"heel\"\nrate = 1\npreload = \"some\"",
        code::NUMBER, 35, "\"12 N m\" or \"106 lbf in\""),
    case(0, "[[demand]]\nmeasure = \"hand_work\"\nmax = \"little\"",
        code::NUMBER, 34, "\"2.5 J\" or \"22 lbf in\""),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\nmin = \"many\"",
        code::TYPE, 35, "without quotes: 2.5"),
    case(0, "[joints]\ndiameter = 6\nfriction = \"0.1\"", code::TYPE, 34, "without quotes: 0.12"),
    case(18, "wrist = [30, \"-28\"]\norigin = \"knee\"\nscale = { from = [0, 0], to = [9, 9], length = 5 }",
        code::TYPE, 18, "without quotes: 540"),
    case(12, "length = \"nan mm\"", code::NOT_FINITE, 12, "finite"),
    case(12, "length = nan", code::NOT_FINITE, 12, "finite"),
    case(12, "length = -inf", code::NOT_FINITE, 12, "finite"),
    case(12, "length = 1e400", code::NOT_FINITE, 12, "finite"),
    case(12, "length = 1e-400", code::NOT_FINITE, 12, "finite"),
    case(17, "knee = [inf, -6]", code::NOT_FINITE, 17, "finite"),
    case(0, "[joints]\nfriction = nan", code::NOT_FINITE, 33, "finite"),
    case(12, "length = \"27\"", code::UNIT, 12, "without quotes"),
    case(28, "axis = \"90 degrees\"", code::UNIT, 28, "`deg`"),
    case(12, "length = \"27 mn\"", code::UNIT, 12, "did you mean `mm`?"),
    case(23, "grips = [70]\nforce = \"33 lb\"", code::UNIT_KIND, 24, "`lbf` for a force"),
    case(12, "length = \"3 N\"", code::UNIT_KIND, 12, "18.5 mm"),
    case(23, "grips = [70, \"100 N\"]", code::UNIT_KIND, 23, "a length is wanted"),
    case(28, "axis = \"90 mm\"", code::UNIT_KIND, 28, "30 deg"),
    case(12, "length = 0", code::SIZE, 12, "positive"),
    case(12, "length = -27", code::SIZE, 12, "positive"),
    case(12, "length = 1e300", code::SIZE, 12, "at most 1000000 mm"),
    case(12, "length = 1e-300", code::SIZE, 12, "at least 0.001 mm"),
    case(9, "marks = { tail = [1e300, 6] }", code::SIZE, 9, "is the unit right?"),
    case(9, "marks = { tail = [1e-300, 6] }", code::SIZE, 9, "write 0"),
    case(23, "grips = [-5]", code::SIZE, 23, "zero or a positive"),
    case(23, "grips = [70]\nforce = 1e10", code::SIZE, 24, "at most"),
    // Names.
    case(15, "marks = { nose = [40, 18], \"no se\" = [0, 1] }", code::NAME, 15, "letters, digits"),
    case(25, "name = \"no.se\"", code::NAME, 25, "letters, digits"),
    case(9, "marks = { knee = [-30, 6] }", code::NAME_TWICE, 9, "another name"),
    case(0, "[[jaw]]\nname = \"nose\"\non = \"ram.nose\"\nagainst = \"frame.anvil\"",
        code::NAME_TWICE, 33, "a name of its own"),
    case(23, "grips = [70, 70.0]", code::NAME_TWICE, 23, "take one"),
    case(20, "part = \"levr\"", code::UNKNOWN_PART, 20, "did you mean `lever`?"),
    case(0, "[sections.struts]\nwidth = 1\nthickness = 1\nmaterial = \"m\"\n[materials.m]\nyield = 9",
        code::UNKNOWN_PART, 32, "did you mean `strut`?"),
    case(26, "on = \"ram.nos\"", code::UNKNOWN_POINT, 26, "did you mean `nose`?"),
    case(26, "on = \"nose\"", code::UNKNOWN_POINT, 26, "ram.nose"),
    case(18, "wrist = [30, -28]\nrist = [1, 2]", code::UNKNOWN_POINT, 19, "did you mean `wrist`?"),
    case(21, "line = [[-14, 4], \"tial\"]", code::UNKNOWN_POINT, 21, "did you mean `tail`?"),
    case(0, "[joints.kne]\ndiameter = 5", code::UNKNOWN_PIN, 32, "did you mean `knee`?"),
    case(0, "[[springs]]\npin = \"hell\"\nrate = 1\nfree = 0", code::UNKNOWN_PIN, 33, "did you mean `heel`?"),
    case(0, "[joints]\nmaterial = \"stel\"\n[materials.steel]\nyield = 300",
        code::UNKNOWN_MATERIAL, 33, "did you mean `steel`?"),
    case(0, "[sections.strut]\nwidth = 9\nthickness = 3\nmaterial = \"plate\"",
        code::UNKNOWN_MATERIAL, 35, "[materials.plate]"),
    case(0, "[[demand]]\nmeasure = \"jaw_forc\"\nat = \"shut\"\nmin = 1",
        code::UNKNOWN_MEASURE, 33, "did you mean `jaw_force`?"),
    case(0, "[[demand]]\nmeasure = \"pin_load\"\nat = \"shut\"\nmax = 1",
        code::UNKNOWN_MEASURE, 33, "name a pin: \"pin_load.NAME\""),
    case(0, "[[demand]]\nmeasure = \"pin_load.kneee\"\nat = \"shut\"\nmax = 1",
        code::UNKNOWN_MEASURE, 33, "did you mean `knee`?"),
    case(0, "[[demand]]\nmeasure = \"span.nose\"\nat = \"shut\"\nmax = 1",
        code::UNKNOWN_MEASURE, 33, "write `span`: nothing follows it"),
    case(0, "[tolerances]\n\"strut.lenght\" = 0.1", code::UNKNOWN_DIMENSION, 33, "did you mean `strut.length`?"),
    case(0, "[tolerances]\nstrut.knee.x = 0.1", code::UNKNOWN_DIMENSION, 33, "strut.length"),
    case(0, "[[tune]]\ndimension = \"lever.kne.x\"\nfrom = 1\nto = 2",
        code::UNKNOWN_DIMENSION, 33, "did you mean `lever.knee.x`?"),
    // Parts and pins.
    case(4, "", code::FIXED, 3, "fixed = true"),
    case(8, "fixed = true\npins = { heel = [0, 0], knee = [15, 0] }", code::FIXED, 8, "exactly one"),
    case(8, "pins = { heel = [0, 0], knee = [15, 0], spare = [1, 2] }", code::PIN_ALONE, 8, "under `marks`"),
    case(5, "pins = { heel = [0, 0], post = [4, -50], nkee = [9, 9] }", code::PIN_ALONE, 5, "did you mean `knee`?"),
    case(8, "pins = { heel = [0, 0], knee = [0, 0] }", code::PINS_COINCIDE, 8, "correct one"),
    case(11, "pins = { knee = [0, 0], wrist = [27, 0] }", code::LINK, 12, "without it"),
    case(11, "pins = [\"knee\", \"wrist\", \"post\"]", code::LINK, 12, "[\"a\", \"b\"]"),
    case(0, "[parts.loose]\nmarks = { a = [0, 0] }", code::PART_LOOSE, 32, "ride in a slot"),
    // Sketch.
    case(9, "marks = [\"tail\"]", code::SKETCH_LACKS, 9, "add it to [sketch]"),
    case(18, "wrist = [30, -28]\ntail = [1, 2]", code::SKETCH_AMBIGUOUS, 19, "\"frame.tail\" or \"lever.tail\""),
    case(18, "wrist = [30, -28]\norigin = \"knee\"", code::SKETCH_SCALE, 19, "scale = "),
    case(18, "wrist = [30, -28]\nscale = { from = [0, 0], to = [9, 9], length = 5 }",
        code::SKETCH_SCALE, 19, "datum"),
    case(18, "wrist = [30, -28]\norigin = \"heel\"\nscale = { from = [0, 0], to = [9, 9], length = 5 }",
        code::SKETCH_SCALE, 19, "sketched points: knee, wrist"),
    case(18, "wrist = [30, -28]\norigin = \"knee\"\nscale = { from = [0, 0], to = [0, 0], length = 5 }",
        code::SKETCH_SCALE, 20, "far apart"),
    // Slots.
    case(0, "[[slots]]\npart = \"ram\"\npoint = \"nose\"\non = \"ram\"\nthrough = [0, 0]\nangle = 0",
        code::SLOT_SAME_PART, 35, "the other part"),
    case(0, "[[slots]]\npart = \"ram\"\npoint = \"nose\"\non = \"frame\"\nthrough = [0, 0]\nangle = 0\nturn = 9",
        code::TOGETHER, 38, "keyed = true"),
    case(0, "[[slots]]\npart = \"ram\"\npoint = \"nose\"\non = \"frame\"\nthrough = [0, 0]\nangle = 0\nfriction = 2",
        code::FRICTION, 38, "from 0 to below 2"),
    case(0, "[joints]\ndiameter = 6\nfriction = -0.1", code::FRICTION, 34, "about 0.1"),
    // Hand.
    case(22, "push = \"across\"", code::TOGETHER, 22, "`against`"),
    case(21, "line = [-14, 4, -185, 10]", code::TYPE, 21, "brackets of its own"),
    case(21, "line = [[-14, 4]]", code::LINE, 21, "pivot end"),
    case(21, "line = [[-14, 4], [-14, 4], [-185, 10]]", code::LINE, 21, "repeated"),
    case(21, "line = [[-14, 4], [-185, 10], [-14, 4]]", code::LINE, 21, "free end"),
    case(23, "grips = [70, 180]", code::GRIP_OFF, 23, "nearer to the first point"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\ngrip = 999\nmin = 1",
        code::GRIP_OFF, 35, "nearer to the first point"),
    case(22, "against = { part = \"lever\", line = [[0, -60], [-185, -64]] }", code::HAND_PART, 22, "other handle"),
    case(23, "grips = [70]\npush = \"square\"\npalm = \"fraim\"", code::UNKNOWN_PART, 25, "`frame`"),
    case(23, "grips = [70]\npush = \"square\"\npalm = \"lever\"", code::HAND_PART, 25, "palm = false"),
    case(23, "grips = [70]\npush = \"square\"\npalm = true", code::TYPE, 25, "palm = false"),
    case(23, "grips = [70]\npush = 90\npalm = 4", code::TYPE, 25, "name the part"),
    case(23, "grips = [70]\npalm = false", code::TOGETHER, 24, "leave `palm` out"),
    case(23, "grips = [70]\npalm = \"ram\"", code::TOGETHER, 24, "push = \"square\""),
    case(23, "grips = [70]\nlimit = [[60, 200], [50, 220]]", code::TABLE, 24, "sort the rows"),
    case(23, "grips = [70]\nlimit = [[60, 200]]", code::TABLE, 24, "first and the last"),
    case(23, "grips = [70]\nlimit = \"norm-grip-left\"", code::UNKNOWN_LIMIT, 24, "sets: norm-grip-left-m-20-24-mean"),
    case(23, "grips = [70]\nlimit = \"norm-grip-w-60-46-p5\"", code::UNKNOWN_LIMIT, 24,
        "did you mean `norm-grip-w-60-64-p5`?"),
    // Jaw and stroke.
    case(30, "open = { span = 60, grip = 180 }", code::GRIP_OFF, 30, "nearer to the first point"),
    case(27, "against = \"ram.wrist\"", code::JAW_SAME_PART, 27, "another part"),
    case(30, "open = { gap = 9, handle = 3 }", code::TOGETHER, 30, "gap = 9"),
    case(30, "open = 9", code::TYPE, 30, "open = { gap = 9 }"),
    case(31, "shut = { gap = 12 }", code::STROKE_SWAPPED, 31, "may be swapped"),
    case(30, "open = {}", code::TOGETHER, 30, "gap = 9"),
    case(30, "open = { gap = 9, grip = 70 }", code::TOGETHER, 30, "same at every grip"),
    case(30, "open = { gap = 0 }", code::STROKE_SAME, 31, "two different"),
    case(0, "steps = 0", code::STEPS, 32, "from 2 to 100000"),
    case(0, "steps = 1", code::STEPS, 32, "from 2 to 100000"),
    case(0, "steps = 100001", code::STEPS, 32, "from 2 to 100000"),
    // Work, joints, springs.
    case(0, "[work]\nneed = [[3, 0]]", code::TABLE, 33, "at least"),
    case(0, "[work]\nneed = [3, 0]", code::TYPE, 33, "brackets of its own"),
    case(0, "[work]\nneed = [[3, 0], [1]]", code::TYPE, 33, "[12, 50]"),
    case(0, "[work]\nneed = [[3, 0], [1, 5], [3, 7]]", code::TABLE, 33, "each gap once"),
    case(0, "[work]\nneed = [[3, 0], [1, 5], [1, 5]]", code::TABLE, 33, "different forces"),
    case(0, "[work]\nneed = [[3, 0], [1, 5], [1, 6], [1, 7]]", code::TABLE, 33, "two rows"),
    case(0, "[work]\nneed = [[3, 0], [1, -5]]", code::SIZE, 33, "zero or a positive"),
    case(0, "[work]\nneed = \"none.csv\"", code::SIDE_FILE, 33, "CSV file"),
    case(0, "[work]\nneed = \"broken.csv\"", code::SIDE_FILE, 33, "gap, force"),
    case(0, "[work]\nneed = \"short.csv\"", code::TABLE, 33, "where the work begins"),
    case(0, "[joints]\nfriction = 0.1", code::TOGETHER, 33, "`diameter`"),
    case(0, "[joints]\ndiametre = 6\nfriction = 0.1", code::UNKNOWN_KEY, 33, "did you mean `diameter`?"),
    case(0, "[joints]\ndiameter = 6\nclearance = 6", code::CLEARANCE, 34, "hole minus pin"),
    case(0, "[[springs]]\nfrom = \"lever.tail\"\nto = \"frame.tail\"\nrate = 1", code::TOGETHER, 32, "free length"),
    case(0, "[[springs]]\nfrom = \"lever.tail\"\nto = \"frame.tail\"\nrate = 1\nfree = 9\npreload = 3",
        code::TOGETHER, 37, "free length"),
    case(0, "[[springs]]\nfrom = \"lever.tail\"\nto = \"lever.knee\"\nrate = 1\nfree = 9",
        code::SPRING_SAME_PART, 34, "another part"),
    case(0, "[[springs]]\nfrom = \"lever.tail\"\nto = \"frame.tail\"\nrate = 0\nfree = 9", code::SIZE, 35, "positive"),
    case(0, "[[springs]]\npin = \"heel\"\nto = \"frame.tail\"\nrate = 1\nfree = 9", code::TOGETHER, 34, "take `to` out"),
    case(0, "[[springs]]\npin = \"heel\"\nacts = \"push\"\nrate = 1\nfree = 9", code::TOGETHER, 34, "take `acts` out"),
    case(0, "[parts.slide]\npins = { peg = [0, 0] }\n[[slots]]\npart = \"slide\"\npoint = \"peg\"\non = \"frame\"\n\
        through = [0, 9]\nangle = 0\n[[springs]]\npin = \"peg\"\nrate = 1\nfree = 0", code::SPRING_PIN, 41, "between two parts"),
    case(0, "[materials.plate]\nyield = 510\nultimate = 355", code::STRENGTH, 34, "swapped"),
    case(0, "[sections.strut]\nwidth = 9\nmaterial = \"m\"\n[materials.m]\nyield = 9", code::MISSING, 32, "thickness = 3"),
    case(0, "[sections.strut]\nwidth = [[0, 9], [9, 8]]\nthickness = 3\nmaterial = \"m\"\n[materials.m]\nyield = 9",
        code::TOGETHER, 33, "one width"),
    case(0, "[sections.lever]\nwidth = [[9, 9], [0, 8]]\nthickness = 3\nmaterial = \"m\"\n[materials.m]\nyield = 9",
        code::TABLE, 33, "sort the rows"),
    case(0, "[sections.lever]\nwidth = 9\nplates = 0\nthickness = 3\nmaterial = \"m\"\n[materials.m]\nyield = 9",
        code::SIZE, 34, "1 to 100"),
    // Demands, tolerances, tuning.
    case(0, "[[demand]]\nmeasure = \"hand_force\"\nat = \"peak\"\nmax = 150", code::TOGETHER, 33, "add [work]"),
    case(0, "[[demand]]\nmeasure = \"hand_share\"\nat = \"peak\"\nmax = 1", code::TOGETHER, 33, "`limit`"),
    case(0, "[work]\nneed = [[3, 0], [0, 9]]\n[[demand]]\nmeasure = \"hand_share\"\nat = \"peak\"\nmax = 1",
        code::TOGETHER, 35, "`limit`"),
    case(0, "[tolerances]\ndefault = 0.1", code::UNKNOWN_DIMENSION, 33, "class = \"0.1 mm\""),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"", code::BOUND, 32, "`min`, `max` or both"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = \"shut\"\nmin = 3\nmax = 2", code::BOUND, 36, "swapped"),
    case(0, "[[demand]]\nmeasure = \"gap\"\nmin = 3", code::AT, 32, "\"open\""),
    case(0, "[[demand]]\nmeasure = \"safety\"\nat = \"shut\"\nmin = 3", code::AT, 34, "take `at` out"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = { gap = 1, span = 60 }\nmin = 3", code::TOGETHER, 34, "one of"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = 0.4\nmin = 3", code::TYPE, 34, "{ gap = .. }"),
    case(0, "[[demand]]\nmeasure = \"ratio\"\nat = \"middle\"\nmin = 3", code::WORD, 34, "open, shut"),
    case(0, "[tolerances]\n\"strut.length\" = -0.1", code::SIZE, 33, "zero or a positive"),
    case(0, "[[tune]]\ndimension = \"strut.length\"\nfrom = 29\nto = 29", code::RANGE, 35, "least to its greatest"),
    case(0, "[aim]\nmeasure = \"ratio\"\nat = \"shut\"\nwant = \"most\"", code::AIM, 32, "[[tune]]"),
    // Ties.
    case(0, "[ties]\n\"ram.nose.y\" = \"frame.post.y\"", code::TIE_STATED, 33, "take the tie out"),
    case(0, "[ties]\n\"ram.nose.y\" = \"sin(frame.post.y)\"", code::TIE, 33, "sum of multiples"),
    case(0, "[ties]\n\"ram.nose.y\" = \"frame.post.y * frame.heel.x\"", code::TIE, 33, "sum of multiples"),
    case(0, "[ties]\nram.nose.y = \"frame.pots.y + 68\"", code::UNKNOWN_DIMENSION, 33, "did you mean `frame.post.y`?"),
    case(0, "[ties]\nram.nos.y = \"frame.post.y + 68\"", code::UNKNOWN_DIMENSION, 33, "did you mean `ram.nose.y`?"),
    case(0, "[ties]\n\"ram.nose.y\" = 18", code::TYPE, 33, "in quotes"),
    case(0, "[ties]\n\"ram.nose.y\" = \"frame.post.y + 68 N\"", code::UNIT_KIND, 33, "a length is wanted"),
    case(0, "[ties]\n\"jaw.nose.axis\" = \"frame.post.y\"", code::UNIT_KIND, 33, "of its own kind"),
    case(0, "[ties]\n\"ram.nose.x\" = \"ram.nose.y + 22\"\n\"ram.nose.y\" = \"ram.nose.x - 22\"",
        code::TIE_CIRCLE, 33, "take one of these ties out"),
    case(0, "[ties]\n\"ram.nose.x\" = \"ram.nose.x\"", code::TIE_CIRCLE, 33, "take one of these ties out"),
    case(0, "[ties]\n\"strut.length\" = \"ram.nose.y - 18\"", code::SIZE, 33, "positive"),
    case(0, "[ties]\n\"ram.nose.y\" = \"frame.post.y + 68\"\n[tolerances]\n\"ram.nose.y\" = 0.1", code::TIED, 35,
        "change what it follows"),
    case(0, "[ties]\n\"ram.nose.y\" = \"frame.post.y + 68\"\n[[tune]]\ndimension = \"ram.nose.y\"\nfrom = 17\nto = 19",
        code::TIED, 35, "change what it follows"),
    // Numbers that are no dimensions of parts.
    case(0, "[tolerances]\n\"stroke.open.gap\" = 0.1", code::NO_TOLERANCE, 33, "compare --vary"),
    case(0, "[joints]\ndiameter = 6\nfriction = 0.1\n[tolerances]\njoints.friction = 0.2", code::NO_TOLERANCE, 36, "a smaller one"),
    case(0, "[joints]\ndiameter = 6\nfriction = 2.5", code::FRICTION, 34, "dry rubber on steel about 1"),
    case(0, "[tolerances]\nhand.thickness = \"0.2 deg\"", code::UNIT_KIND, 33, "a length is wanted"),
    case(0, "[tolerances]\nhand.thicknes = 1", code::UNKNOWN_DIMENSION, 33, "did you mean `hand.thickness`?"),
    case(0, "[joints]\ndiameter = 6\n[[tune]]\ndimension = \"joints.friction\"\nfrom = 0.1\nto = 3", code::SIZE, 37, "below 2"),
    case(0, "[work]\nneed = [[3, 0], [0, 9]]\nscale = 0", code::SIZE, 34, "above 0"),
    case(0, "[[springs]]\nname = \"a\"\npin = \"heel\"\nrate = 1\nfree = 0\n[[springs]]\nname = \"a\"\npin = \"heel\"\nrate = 1\nfree = 0",
        code::NAME_TWICE, 38, "a name of its own"),
    case(0, "[[springs]]\nname = \"2\"\npin = \"heel\"\nrate = 1\nfree = 0", code::NAME, 33, "letters"),
    case(0, "[[springs]]\nname = \"a\"\npin = \"heel\"\nrate = 1\nfree = 0\n[tolerances]\n\"springs.1.rate\" = 0.1\n\"springs.a.rate\" = 0.1",
        code::NAME_TWICE, 39, "take one of the two out"),
    case(0, "[outlines.strut]\nround = { knee = 6, wrist = 6 }\n[tolerances]\n\"outlines.strut.round.knee\" = 0.1", code::NO_TOLERANCE, 35, "compare --vary"),
    // Stops.
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"\n[[stops]]\nname = \"pad\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"", code::STOPS, 43, "one stop for each end"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"\n[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"open\"", code::NAME_TWICE, 39, "a name of its own"),
    case(0, "[[stops]]\nname = \"the lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"", code::NAME, 33, "letters"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"lever.knee\"\naxis = 90\nends = \"shut\"", code::STOPS, 35, "another part"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\nclosed = 0\nends = \"shut\"", code::TOGETHER, 32, "state `axis`"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shutt\"", code::WORD, 37, "did you mean `shut`?"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = nan\nends = \"shut\"", code::NOT_FINITE, 36, "finite"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\nclosed = 1e300\nends = \"shut\"", code::SIZE, 36, ""),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"\nrate = 9", code::UNKNOWN_KEY, 38, "closed"),
    case(0, "[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"shut\"\n[[demand]]\nmeasure = \"stop_load.lugg\"\nmax = 9", code::UNKNOWN_MEASURE, 39, "did you mean `lug`?"),
    case(0, "[[demand]]\nmeasure = \"stop_load\"\nmax = 9", code::UNKNOWN_MEASURE, 33, "[[stops]]"),
    case(31, "shut = { stop = \"lug\" }", code::UNKNOWN_STOP, 31, "[[stops]]"),
    case(31, "shut = { stop = \"lug\" }\n[[stops]]\nname = \"lug\"\non = \"lever.tail\"\nagainst = \"frame.tail\"\naxis = 90\nends = \"open\"", code::STOPS, 31, "ends = \"shut\""),
    // Adjusters.
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"tail\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80", code::UNKNOWN_PIN, 34, "a mark is moved by `dimension`"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"pots\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80", code::UNKNOWN_PIN, 34, "did you mean `post`?"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frama\"\nthrow = 0.4\nfrom = -80\nto = 80", code::UNKNOWN_PART, 35, "did you mean `frame`?"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"knee\"\non = \"strut\"\nthrow = 0.4\nfrom = -80\nto = 80", code::ADJUSTER, 34, "as coordinates"),
    case(0, "[joints]\ndiameter = 0.8\n[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80", code::ADJUSTER, 38, "a smaller throw"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0\nfrom = -80\nto = 80", code::SIZE, 36, "a positive number"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = -80", code::RANGE, 38, "least to its greatest"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = 10\nto = 80", code::RANGE, 32, "its range is 10 to 80 deg"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\nnotches = 1", code::RANGE, 39, "from 2 to 200"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\nnow = nan", code::NOT_FINITE, 39, "finite"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\nnotches = 2", code::RANGE, 32, "the nearest notch is"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\nnotches = 3\n[[tune]]\ndimension = \"adjusters.set.now\"\nfrom = 0\nto = 80\n[aim]\nmeasure = \"ratio\"\nat = \"shut\"\nwant = \"most\"", code::ADJUSTER, 41, "`setup` shows"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\n[[tune]]\ndimension = \"adjusters.set.now\"\nfrom = 0\nto = 90\n[aim]\nmeasure = \"ratio\"\nat = \"shut\"\nwant = \"most\"", code::RANGE, 42, "its range is"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\n[tolerances]\n\"adjusters.set.now\" = 1", code::NO_TOLERANCE, 40, "take it out"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\npitch = 1", code::TOGETHER, 39, "take it out"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\ndimension = \"frame.anvil.y\"", code::TOGETHER, 32, "or `dimension`"),
    case(0, "[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80\n[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80", code::NAME_TWICE, 40, "a name of its own"),
    case(0, "[[adjusters]]\nname = \"set\"\ndimension = \"frame.anvil.z\"\npitch = 0.5\nfrom = -1\nto = 1", code::UNKNOWN_DIMENSION, 34, "frame.anvil.y"),
    case(0, "[[adjusters]]\nname = \"set\"\ndimension = \"jaw.nose.axis\"\npitch = 0.5\nfrom = -1\nto = 1", code::ADJUSTER, 34, "name one"),
    case(0, "[[adjusters]]\nname = \"set\"\ndimension = \"frame.anvil.y\"\npitch = 1e300\nfrom = -1\nto = 1", code::SIZE, 35, ""),
    case(0, "[[adjusters]]\nname = \"set\"\ndimension = \"strut.length\"\npitch = 0.5\nfrom = -30\nto = 1", code::SIZE, 36, ""),
    case(0, "[ties]\n\"frame.post.x\" = \"lever.knee.x - 11\"\n[[adjusters]]\nname = \"set\"\npin = \"post\"\non = \"frame\"\nthrow = 0.4\nfrom = -80\nto = 80", code::TIED, 36, "take its tie out"),
    // What is not modelled.
    case(0, "[[gears]]\nteeth = 12", code::NOT_MODELLED, 32, "line of action of the teeth"),
    case(0, "[[cams]]\nx = 1", code::NOT_MODELLED, 32, "centres of curvature"),
    case(12, "length = 27\nweight = 3", code::NOT_MODELLED, 13, "soft spring"),
    case(12, "length = 27\noutline = [[0, 0]]", code::NOT_MODELLED, 13, "[outlines.PART]"),
    case(0, "[joints]\nshear = 2", code::TYPE, 33, "\"single\" or \"double\""),
];

/// Files that are not one line away from the good one.
#[rustfmt::skip]
pub(super) const WHOLE: &[(&str, &str, usize, &str)] = &[
    ("", code::EMPTY, 1, "starter file"),
    ("# nothing\n\n", code::EMPTY, 1, "starter file"),
];
