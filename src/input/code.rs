//! The stable names of all problems that a tool file can have.

macro_rules! codes {
    ($($(#[doc = $doc:literal])+ $name:ident = $text:literal;)+) => {
        $($(#[doc = $doc])+ pub const $name: &str = $text;)+
        /// Every code.
        pub const ALL: &[&str] = &[$($text),+];
    };
}

codes! {
    /// Nothing in the file.
    EMPTY = "empty-file";
    /// Not TOML.
    SYNTAX = "toml-syntax";
    /// The same key or table twice.
    TWICE = "given-twice";
    /// A key or table of an unknown name.
    UNKNOWN_KEY = "unknown-key";
    /// A table or key of what the model does not have.
    NOT_MODELLED = "not-modelled";
    /// A table or key that must be there is not.
    MISSING = "missing";
    /// A value of the wrong TOML type.
    TYPE = "wrong-type";
    /// A text that is not one of the words allowed.
    WORD = "unknown-word";
    /// A number or quantity that cannot be read.
    NUMBER = "bad-number";
    /// NaN, infinity, overflow, underflow.
    NOT_FINITE = "not-finite";
    /// A unit that is not known, or none where one is needed.
    UNIT = "unknown-unit";
    /// A unit of the wrong kind.
    UNIT_KIND = "wrong-unit";
    /// Zero or negative where it must not be, or an absurd size.
    SIZE = "bad-size";
    /// A name with characters that names may not have, or none.
    NAME = "bad-name";
    /// A name used twice where it must be unique.
    NAME_TWICE = "name-twice";
    /// A part that does not exist.
    UNKNOWN_PART = "unknown-part";
    /// A pin or mark that does not exist.
    UNKNOWN_POINT = "unknown-point";
    /// A pin that does not exist.
    UNKNOWN_PIN = "unknown-pin";
    /// A jaw that does not exist.
    UNKNOWN_JAW = "unknown-jaw";
    /// A stop that does not exist.
    UNKNOWN_STOP = "unknown-stop";
    /// A group of people that is not known.
    UNKNOWN_GROUP = "unknown-group";
    /// A material that does not exist.
    UNKNOWN_MATERIAL = "unknown-material";
    /// A measure that does not exist.
    UNKNOWN_MEASURE = "unknown-measure";
    /// A dimension address that does not exist.
    UNKNOWN_DIMENSION = "unknown-dimension";
    /// A tie that is no sum of multiples.
    TIE = "bad-tie";
    /// A tie that follows itself.
    TIE_CIRCLE = "tie-circle";
    /// A tie that gives another value than the file states.
    TIE_STATED = "tie-stated";
    /// A value, range or tolerance for a number that follows others.
    TIED = "tied";
    /// A tolerance on what no tool is made to, or one that reaches values that cannot be.
    NO_TOLERANCE = "no-tolerance";
    /// A hand limit set that does not exist.
    UNKNOWN_LIMIT = "unknown-limit-set";
    /// No fixed part, or two.
    FIXED = "fixed-part";
    /// A pin on one part only.
    PIN_ALONE = "pin-alone";
    /// Two pins of one part at the same place.
    PINS_COINCIDE = "pins-coincide";
    /// `length` on a part that is not a two-pin link.
    LINK = "link-length";
    /// A part that nothing joins to the fixed part.
    PART_LOOSE = "part-loose";
    /// More parts, joints or the like than are taken.
    TOO_MANY = "too-many";
    /// A part that takes its shape from the sketch, and the sketch lacks a point.
    SKETCH_LACKS = "sketch-lacks";
    /// A sketch name that stands for points of several parts.
    SKETCH_AMBIGUOUS = "sketch-ambiguous";
    /// Scale or origin of a sketch in pixels.
    SKETCH_SCALE = "sketch-scale";
    /// An outline or a hole that cannot be.
    OUTLINE = "bad-outline";
    /// Advice: a mark stands off its plate.
    MARK_OUTSIDE = "mark-outside";
    /// The slot joins a part to itself.
    SLOT_SAME_PART = "slot-same-part";
    /// A cam that pushes its own part, or whose side of a flat is not told.
    CAM = "bad-cam";
    /// A roller that its pin or its slot leaves no room for.
    ROLLER = "bad-roller";
    /// A key that needs another one, or excludes it.
    TOGETHER = "keys-together";
    /// A hand line with no length, or two equal neighbours.
    LINE = "hand-line";
    /// A grip that is not on the line.
    GRIP_OFF = "grip-off-line";
    /// The hand holds one part with both handles, or the fixed part only.
    HAND_PART = "hand-part";
    /// A span is asked for, and there is no second handle.
    NO_SPAN = "no-span";
    /// Jaw on one and the same part.
    JAW_SAME_PART = "jaw-same-part";
    /// A stop on one part only, two at one end, or one at the wrong end.
    STOPS = "stop";
    /// An adjuster that cannot be made, or moves what no screw moves.
    ADJUSTER = "adjuster";
    /// A ratchet whose teeth or pawl cannot be so.
    RATCHET = "ratchet";
    /// Tooth sectors that cannot be in mesh.
    GEARS = "gears";
    /// A gap that the jaw cannot have.
    GAP = "gap-negative";
    /// Open and shut are the same.
    STROKE_SAME = "stroke-same-ends";
    /// Open is more shut than shut.
    STROKE_SWAPPED = "stroke-swapped";
    /// Number of steps.
    STEPS = "bad-steps";
    /// A table of numbers that is too short, or not increasing.
    TABLE = "bad-table";
    /// A CSV file that cannot be had or read.
    SIDE_FILE = "side-file";
    /// Friction out of range.
    FRICTION = "bad-friction";
    /// Clearance as large as the pin.
    CLEARANCE = "clearance";
    /// Spring ends on the same part.
    SPRING_SAME_PART = "spring-same-part";
    /// A pin spring on a pin that does not join two parts.
    SPRING_PIN = "spring-pin";
    /// A spring of wire that cannot be made.
    SPRING_WOUND = "spring-wound";
    /// Ultimate strength below yield.
    STRENGTH = "ultimate-below-yield";
    /// A demand that demands nothing, or the impossible.
    BOUND = "demand-bound";
    /// A position where none is read, or none where one is needed.
    AT = "measure-at";
    /// A range that is empty.
    RANGE = "tune-range";
    /// An aim without anything to tune.
    AIM = "aim-alone";
    /// Advice: finer than calipers read.
    FINE = "finer-than-calipers";
    /// Advice: pixels where lengths are read.
    PIXELS = "pixels-as-lengths";
    /// Advice: a pin's place is guessed.
    GUESSED = "place-guessed";
}
