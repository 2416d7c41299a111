//! All groups of people, by name.

use std::sync::LazyLock;

use super::group::Group;
use super::norms;

static GROUPS: LazyLock<Vec<Group>> = LazyLock::new(norms::groups);

/// The group of that name.
#[must_use]
pub fn group(name: &str) -> Option<&'static Group> {
    GROUPS.iter().find(|group| group.name == name)
}

/// All of them.
pub fn groups() -> impl Iterator<Item = &'static Group> {
    GROUPS.iter()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq as near;

    /// Mathiowetz 1985 (means and deviations): shares able at 120, 160, 200 N of women 20 to 24 and 60 to 64,
    /// computed from the published figures; and the 5th percentiles of women 20-24 and men 30-34.
    #[test]
    fn shares_of_groups() {
        for (name, shares) in [
            ("w-20-24", [99.9, 99.1, 96.0]),
            ("w-60-64", [99.7, 97.1, 84.2]),
        ] {
            let group = group(name).expect("a group");
            for (force, share) in [120.0, 160.0, 200.0].into_iter().zip(shares) {
                near!(100.0 * group.able(force, None), share, epsilon = 0.05);
            }
        }
        for (name, force) in [("w-20-24", 207.1), ("m-30-34", 377.9)] {
            let fifth = group(name).and_then(|group| group.strength(0.95, None));
            near!(fifth.expect("a force"), force, epsilon = 0.1);
        }
    }

    #[test]
    fn the_span_takes_its_share() {
        let group = group("w-20-24").expect("a group");
        let wide = group.strength(0.75, Some(80.0)).expect("a force");
        near!(
            wide,
            0.8 * group.strength(0.75, None).expect("a force"),
            epsilon = 1e-9
        );
        near!(group.able(wide, Some(80.0)), 0.75, epsilon = 1e-9);
        assert_eq!(group.able(1.0, Some(500.0)), 0.0);
        assert_eq!(group.able(0.0, Some(500.0)), 1.0);
    }

    #[test]
    fn every_group_has_a_name_of_its_own() {
        let names: std::collections::HashSet<&str> = groups().map(|g| g.name.as_str()).collect();
        assert_eq!(names.len(), groups().count());
        assert!(groups().all(|g| g.mean > g.deviation && g.deviation > 0.0));
    }
}
