//! How often the tool is used, and by whom.

/// A job: the same stroke again and again.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Strokes per second.
    pub strokes: f64,
    /// How long the hand squeezes in each, s.
    pub held: f64,
    /// Hours a day.
    pub hours: f64,
    /// Angle of the wrist, rad: flexion is positive, extension negative.
    pub wrist: f64,
    /// How fast the hand moves.
    pub speed: Speed,
    /// Whose hands: the name of a published group; `None`: the hand's limit says how strong they are.
    pub population: Option<String>,
    /// Share of that group who must be able to do it, above 0 and below 1.
    pub share: f64,
}

impl Job {
    /// Hours a day where the file does not say.
    pub const HOURS: f64 = 8.0;
    /// Share of the group where the file does not say: 75 % of the women is a usual aim in the design of manual
    /// tasks (common practice, no source).
    pub const SHARE: f64 = 0.75;

    /// Share of the time in which the hand squeezes; above 1 no hand can do it.
    #[must_use]
    pub fn duty(&self) -> f64 {
        self.strokes * self.held
    }
}

/// People of one group who use the tool.
#[derive(Debug, Clone, PartialEq)]
pub struct Operators {
    /// The name of a published group.
    pub group: String,
    /// How many of them, or any other weight.
    pub count: f64,
}

/// Speed of work in the words of the Strain Index of 1995.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Speed {
    /// Very slow.
    VerySlow,
    /// Slow.
    Slow,
    /// Fair: the usual speed of the motion.
    #[default]
    Fair,
    /// Fast.
    Fast,
    /// Very fast.
    VeryFast,
}

impl Speed {
    /// All of them with their words in the tool file.
    pub const ALL: [(&'static str, Self); 5] = [
        ("very slow", Self::VerySlow),
        ("slow", Self::Slow),
        ("fair", Self::Fair),
        ("fast", Self::Fast),
        ("very fast", Self::VeryFast),
    ];

    /// Its word in the tool file.
    #[must_use]
    pub fn word(self) -> &'static str {
        let own = Self::ALL.iter().find(|(_, speed)| *speed == self);
        own.map_or("", |(word, _)| word)
    }
}
