//! What was once said wrongly of a tool, and the tests that hold it right. The last column names them as
//! `file::test`; that each is there is a test too.

use crate::cli::{Bench, edited};
use crate::margins::KNEE;

/// What was tried, what must be said of it, and where that is held.
const TABLE: [(&str, &str, &[&str]); 11] = [
    (
        "pliers drawn with their jaws touching, open by span, shut by gap",
        "the stroke beside the drawn pose, not one around it",
        &[
            "cli/strokes.rs::pliers_drawn_with_their_jaws_touching",
            "cli/strokes.rs::pliers_drawn_just_beyond_shut",
            "cli/strokes.rs::two_strokes_as_near_as_one_another_are_said",
        ],
    ),
    (
        "a press tuned until all demands are met",
        "how many tools made within the file's own tolerances never shut",
        &[
            "verdict_table.rs::made_tools_that_never_shut_are_counted_by_every_command",
            "yields.rs::tuning_ends_with_the_yield_that_is_demanded",
            "can_do.rs::as_made_is_what_the_study_says",
        ],
    ),
    (
        "a report with a grip that stalls",
        "that grip cannot do the job, before all demands that are met",
        &[
            "can_do.rs::a_hand_that_can_do_it_at_one_grip_of_two",
            "can_do.rs::a_tool_that_stalls_at_every_grip_ends_with_1",
        ],
    ),
    (
        "`safety` on one file",
        "one number from every command",
        &[
            "one_verdict/mod.rs::no_file_is_left_out",
            "one_verdict/mod.rs::strength_is_that_at_the_grips_of_the_tool",
            "every_way.rs::every_measure_agrees_in_every_way_to_read_it",
        ],
    ),
    (
        "the most that the work asks for, and whether it stalls",
        "the true peak, between the printed rows too",
        &[
            "hand_peaks.rs::a_spike_between_two_positions_is_the_peak",
            "hand_peaks.rs::a_spike_over_the_limit_between_two_positions_stalls",
            "hand_peaks.rs::a_smooth_peak_is_found_between_the_positions",
            "hand_peaks.rs::the_steps_of_the_stroke_change_nothing",
        ],
    ),
    (
        "three nests along a jaw",
        "demands, measures, work and forces of each",
        &[
            "nests.rs::each_nest_has_the_ratio_and_the_work_of_its_radius",
            "nests.rs::the_first_lines_are_of_every_nest",
            "nests.rs::safety_is_the_least_over_all_nests",
            "all_jaws.rs::every_jaw_in_a_line",
        ],
    ),
    (
        "dies that meet before the stroke is shut",
        "the stroke ends there for the forces",
        &[
            "dies.rs::the_stroke_ends_for_the_forces_where_the_dies_meet",
            "dies.rs::measures_look_up_to_there_and_have_no_value_beyond",
            "cli/dies.rs::all_commands_end_the_stroke_where_the_dies_meet",
        ],
    ),
    (
        "handles that cross within the stroke",
        "where they touch",
        &[
            "dies.rs::hand_lines_that_cross_are_found_whatever_the_thickness",
            "cli/dies.rs::handles_that_touch_are_named_with_their_place",
        ],
    ),
    (
        "targets swapped, or a handle that opens the tool when it is squeezed",
        "an error with its cure",
        &[
            "dies.rs::a_hand_that_opens_the_jaw_all_the_way_is_refused",
            "cli/dies.rs::a_hand_that_opens_the_tool_is_refused_by_every_command_with_the_lines_to_write",
            "cli/dies.rs::a_jaw_that_opens_from_open_to_shut_is_shown_the_same_lines",
        ],
    ),
    (
        "a fixed part with a section, push square",
        "a bending factor from forces that balance",
        &[
            "palm.rs::the_grip_in_the_palm_bears_the_palm_alone",
            "palm.rs::every_sheet_of_every_demo_adds_up",
        ],
    ),
    (
        "tolerances of work over the stroke, and of a force where the work jumps",
        "exact integrals; the value on the defined side of the jump",
        &[
            "jumps.rs::work_moves_with_the_dimensions_as_the_area_under_its_rows_does",
            "jumps.rs::shares_of_work_are_those_of_tools_with_other_dimensions",
            "jumps.rs::sampled_tools_stand_at_the_greater_force_too",
        ],
    ),
];

#[test]
fn every_row_names_tests_that_are_there() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    for (tried, said, tests) in TABLE {
        assert!(!tests.is_empty(), "{tried}: {said}");
        for test in tests {
            let (file, name) = test.split_once("::").unwrap();
            let text = std::fs::read_to_string(folder.join(file)).unwrap();
            let at = text
                .find(&format!("fn {name}("))
                .unwrap_or_else(|| panic!("no {test}"));
            // Under `#[test]`, or within `proptest!`, with no other function between.
            let before = &text[..at];
            let marked = before
                .rfind("#[test]")
                .unwrap_or_else(|| panic!("{test} is no test"));
            assert!(!before[marked..].contains("\nfn "), "{test} is no test");
        }
    }
}

/// The knee of `margins.rs` with its anvil so high that straight it comes `left` beyond the gap of zero. A tool
/// whose anvil is lower by more than that never shuts: with sigma 0.1 mm, of normal deviations those below
/// -left / 0.1 (M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions* (1964), table 26.1). All that
/// do shut meet the one demand.
#[test]
fn made_tools_that_never_shut_are_counted_by_every_command() {
    for (left, never) in [(0.1, 0.1587), (0.01, 0.4602)] {
        let anvil = format!("anvil = [3, {}]", left - 58.0);
        let more = "[[demand]]\nmeasure = \"travel\"\nat = \"shut\"\nmin = 1\n\
                    [tolerances]\n\"frame.anvil.y\" = 0.3\n";
        let text = edited(KNEE, &[("anvil = [3, -57]", &anvil)]);
        let bench = Bench::with(&format!("{text}{more}"));
        let stroke = bench.run(&["stroke", "tool.toml", "--json"]).code(0).json();
        let made = &stroke["verdict"]["made"];
        let count = |key: &str| made[key].as_u64().unwrap();
        let (samples, met) = (count("samples"), count("met"));
        // Within four standard deviations of so many draws.
        let (share, room) = (
            1.0 - met as f64 / samples as f64,
            (never * (1.0 - never) / samples as f64).sqrt(),
        );
        assert!(
            (share - never).abs() < 4.0 * room,
            "{share}, expected {never}"
        );
        assert_eq!(count("cause_tools"), samples - met);
        assert_eq!(made["cause_why"], "never reaches that position");
        // In inches, and from every other command.
        let inches = bench
            .run(&["stroke", "tool.toml", "--units", "in-lbf", "--json"])
            .json();
        assert_eq!(inches["verdict"]["made"]["met"], met);
        let number = samples.to_string();
        let study = ["tolerance", "tool.toml", "--samples", &number, "--json"];
        let study = bench.run(&study).json();
        assert_eq!(study["all_met"], met);
        let shut = study["measures"]
            .as_array()
            .unwrap()
            .iter()
            .find(|m| !m["met"].is_null());
        assert_eq!(shut.unwrap()["failed"][0][1], samples - met);
        let said = format!("({met} of {samples})");
        for args in [
            &["stroke", "tool.toml"][..],
            &["check", "--demands", "tool.toml"],
        ] {
            bench.run(args).prints("As drawn").prints(&said);
        }
        bench
            .run(&["report", "tool.toml", "-o", "page.html"])
            .code(0);
        let page = std::fs::read_to_string(bench.path("page.html")).unwrap();
        assert!(page.contains(&said), "{said}");
    }
}
