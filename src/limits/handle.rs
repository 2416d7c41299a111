//! Handles against hands: how wide palms are, how long and how thick handles should be.

use super::group::Group;

/// Breadth of the hand across the palm of British men of 19 to 65, mm, at the 5th, 50th and 95th percentile.
pub(super) const MEN: [f64; 3] = [80.0, 85.0, 95.0];
/// The same of women.
pub(super) const WOMEN: [f64; 3] = [70.0, 75.0, 85.0];

/// Where the breadths are from.
pub const BREADTH_SOURCE: &str = "hand breadth of British adults of 19 to 65 at the 95th percentile (anthropometric estimates as printed in \
     ergonomics course notes, City University of Hong Kong, ch. 2)";

/// Least length of a handle, mm.
pub const LEAST_LENGTH: f64 = 100.0;

/// Breadth over depth of a section that turns least in the hand: an ellipse of 1 to 1.25.
pub const SECTION_RATIO: f64 = 1.25;

/// Where the length and the section are from.
pub const HANDLE_SOURCE: &str =
    "Wang and Cai, MATEC Web of Conferences 119 (2017) 01044: 100 mm or more, ellipse of 1 to 1.25";

/// Which spans suit, and where that is from.
pub const SPANS_SOURCE: &str = "Lee et al., Ergonomics 52 (2009) no. 5: of spans from 45 to 65 mm, 55 and 50 mm gave most force (433.6 and \
     430.8 N), 65 mm least";

/// The breadth (mm) of hands at the 95th percentile that is the greatest among groups, that of men where there are
/// none; and whose it is.
pub fn widest<'g>(groups: impl Iterator<Item = &'g Group>) -> (&'static str, f64) {
    let all: Vec<[f64; 3]> = groups.map(|group| group.breadth).collect();
    let men = all.is_empty() || all.contains(&MEN);
    let [.., most] = if men { MEN } else { WOMEN };
    (if men { "men" } else { "women" }, most)
}

/// What a hand of a breadth (mm) takes of a handle in a glove whose material is so thick (mm): the breadth, and the
/// glove on both sides of it.
#[must_use]
pub fn taken(breadth: f64, glove: f64) -> f64 {
    breadth + 2.0 * glove
}

/// Where four fingers lie along a handle: from and to, mm along its line, for a grip in their middle.
#[must_use]
pub fn fingers(grip: f64, taken: f64) -> [f64; 2] {
    [grip - 0.5 * taken, grip + 0.5 * taken]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a palm of 95 mm in a glove of 5 mm takes 105 mm, from 47.5 to 152.5 about a grip of 100.
    #[test]
    fn a_gloved_hand_takes_more() {
        assert_eq!(taken(95.0, 5.0), 105.0);
        assert_eq!(fingers(100.0, 105.0), [47.5, 152.5]);
    }
}
