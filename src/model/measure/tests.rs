//! Names of measures.

use super::*;
use crate::model::{JawId, Named};

#[test]
fn every_word_is_that_of_one_measure() {
    let joints = ["knee".to_owned()];
    let jaws = ["first", "second"].map(str::to_owned);
    let stops = ["lug".to_owned()];
    let contacts = [];
    let names = Named {
        joints: &joints,
        jaws: &jaws,
        stops: &stops,
        contacts: &contacts,
    };
    for measure in MEASURES {
        let kind = measure.kind();
        // Those of slots and cams are named in their own tests.
        if matches!(kind.suffix, Suffix::Contact | Suffix::Cam) {
            continue;
        }
        let name = match kind.suffix {
            Suffix::Joint => format!("{}.knee", kind.word),
            Suffix::Part => format!("{}.knee", kind.word),
            Suffix::Stop => format!("{}.lug", kind.word),
            Suffix::Contact | Suffix::Cam => format!("{}.press", kind.word),
            Suffix::None | Suffix::PartOrPin | Suffix::Jaw | Suffix::TwoParts => {
                kind.word.to_owned()
            }
        };
        let measure = match measure {
            Measure::Stress(_) => Measure::Stress("knee".to_owned()),
            other => other,
        };
        let found = Measure::named(&name, names);
        assert_eq!(found, Some((measure.clone(), None)));
        let of_second = Measure::named(&format!("{}.second", kind.word), names);
        let jaw = (kind.suffix == Suffix::Jaw).then_some(JawId::new(1));
        assert_eq!(of_second.and_then(|found| found.1), jaw, "{name}");
    }
    assert_eq!(
        Measure::of_name("toggle_margin.gap"),
        Some(Measure::ToggleMarginGap)
    );
    assert_eq!(Measure::of_name("safety.ram"), Some(Measure::Safety(None)));
    for wrong in [
        "",
        "toggle_margin.knee",
        "gaps",
        "gap.knee",
        "span.second",
        "pin_load",
        "pin_load.toe",
        "stop_load",
        "stop_load.knee",
        "contact",
        "contact.lug",
    ] {
        assert_eq!(Measure::named(wrong, names), None, "{wrong}");
    }
}
