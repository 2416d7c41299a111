//! Every unit of the tool-file contract, and what is refused.

use super::*;
use crate::units::examples;

fn ok(text: &str, want: Quantity) -> f64 {
    parse(text, want, None).unwrap_or_else(|e| panic!("{text}: {e}"))
}

fn kind(text: &str, want: Quantity) -> ParseErrorKind {
    parse(text, want, None).expect_err(text).kind
}

#[test]
fn units_of_the_contract() {
    use Quantity as Q;
    let deg = std::f64::consts::PI / 180.0;
    let lbf = 0.453_592_37 * 9.806_65;
    let psi = lbf / (25.4 * 25.4);
    // Factors: international yard and pound agreement (1959), standard gravity (CGPM 1901).
    let table = [
        ("2.4 in", Q::Length, 60.96),
        ("18.5 mm", Q::Length, 18.5),
        ("1.2cm", Q::Length, 12.0),
        ("0.05 m", Q::Length, 50.0),
        ("2.4\"", Q::Length, 60.96),
        ("25 µm", Q::Length, 0.025),
        ("150 N", Q::Force, 150.0),
        ("33 lbf", Q::Force, 33.0 * lbf),
        ("4.5 kN", Q::Force, 4500.0),
        ("10 kgf", Q::Force, 98.0665),
        ("30 deg", Q::Angle, 30.0 * deg),
        ("30°", Q::Angle, 30.0 * deg),
        ("0.5 rad", Q::Angle, 0.5),
        ("12 N m", Q::Torque, 12_000.0),
        ("12 Nm", Q::Torque, 12_000.0),
        ("12 N·mm", Q::Torque, 12.0),
        ("12 N*mm", Q::Torque, 12.0),
        ("12 lbf in", Q::Torque, 12.0 * lbf * 25.4),
        ("12 in lbf", Q::Torque, 12.0 * lbf * 25.4),
        ("12 in-lbf", Q::Torque, 12.0 * lbf * 25.4),
        ("12 lbf ft", Q::Torque, 144.0 * lbf * 25.4),
        ("2.1 N/mm", Q::Rate, 2.1),
        ("2100 N/m", Q::Rate, 2.1),
        ("12 lbf/in", Q::Rate, 12.0 * lbf / 25.4),
        ("20 N mm/deg", Q::TurnRate, 20.0 / deg),
        ("20 N mm/rad", Q::TurnRate, 20.0),
        ("2 N m/rad", Q::TurnRate, 2000.0),
        ("3 lbf in/deg", Q::TurnRate, 3.0 * lbf * 25.4 / deg),
        ("355 MPa", Q::Stress, 355.0),
        ("205 GPa", Q::Stress, 205_000.0),
        ("355 N/mm2", Q::Stress, 355.0),
        ("355 N/mm^2", Q::Stress, 355.0),
        ("355 N/mm²", Q::Stress, 355.0),
        ("52 ksi", Q::Stress, 52_000.0 * psi),
        ("30000 lbf/in^2", Q::Stress, 30_000.0 * psi),
        ("2.5 J", Q::Energy, 2500.0),
        ("  -1.5e1 mm ", Q::Length, -15.0),
        ("2e in", Q::Length, f64::NAN),
    ];
    for (text, want, value) in table {
        if value.is_nan() {
            assert!(parse(text, want, None).is_err(), "{text}");
        } else {
            let got = ok(text, want);
            assert!(
                (got - value).abs() <= 1e-12 * value.abs(),
                "{text}: {got} != {value}"
            );
        }
    }
}

#[test]
fn bare_numbers_take_the_systems_unit() {
    let inch = Some(UnitSystem::InLbf);
    assert_eq!(parse("2", Quantity::Length, inch), Ok(50.8));
    assert_eq!(parse("2 mm", Quantity::Length, inch), Ok(2.0));
    assert!(matches!(
        kind("2", Quantity::Length),
        ParseErrorKind::NoUnit { .. }
    ));
    assert_eq!(parse_plain(" 0.1 "), Ok(0.1));
    assert!(parse_plain("0.1 mm").is_err());
}

#[test]
fn wrong_kind_says_both() {
    let error = parse("3 N", Quantity::Length, None).expect_err("a force");
    assert_eq!(error.at, 2..3);
    assert_eq!(error.to_string(), "this is a force, not a length");
    assert!(error.help().contains("18.5 mm"));
    assert!(matches!(
        kind("3 N m/rad", Quantity::Torque),
        ParseErrorKind::WrongKind { .. }
    ));
}

#[test]
fn unknown_units_are_located_and_hinted() {
    let error = parse("33 lb", Quantity::Force, None).expect_err("a mass");
    assert_eq!(error.at, 3..5);
    assert!(error.help().contains("lbf"));
    let error = parse("3 N mn", Quantity::Torque, None).expect_err("mn");
    assert_eq!(error.at, 4..6);
    for text in [
        "3 N/", "3 /N", "3 N//mm", "3 %", "3 N^4", "3 mm)", "3 Mpa", "3 µ",
    ] {
        let found = parse(text, Quantity::Force, None);
        assert!(found.is_err(), "{text}: {found:?}");
    }
}

#[test]
fn numbers_that_are_none() {
    for text in [
        "nan mm",
        "inf mm",
        "-inf mm",
        "1e400 mm",
        "1e-400 mm",
        "1e308 m",
    ] {
        assert_eq!(
            kind(text, Quantity::Length),
            ParseErrorKind::NotFinite,
            "{text}"
        );
    }
    for text in [
        "", "mm", "2,4 in", "1/x in", "1/0 in", "-", ". mm", "1.2.3 mm", "--1 mm",
    ] {
        let want = Some(Quantity::Length);
        assert_eq!(
            kind(text, Quantity::Length),
            ParseErrorKind::Number { want },
            "{text}"
        );
    }
}

#[test]
fn fractions_are_read_as_on_a_rule() {
    for (text, inches) in [
        ("1/2 in", 0.5),
        ("9/10 in", 0.9),
        ("-3/4 in", -0.75),
        ("1 1/2 in", 1.5),
        ("-1 1/2 in", -1.5),
        ("1-1/2\"", 1.5),
        ("5/16", 0.3125),
        (" 2 3/64 in ", 2.046875),
        ("12 thou", 0.012),
    ] {
        let found = parse(text, Quantity::Length, Some(UnitSystem::InLbf)).expect(text);
        assert!((found - 25.4 * inches).abs() < 1e-12, "{text}: {found}");
    }
    assert_eq!(parse_plain("1/4"), Ok(0.25));
    for text in [
        "1/0 in",
        "1/2/3 in",
        "1/2.5 in",
        "1234567/2 in",
        "1 /2 in",
        "1/ 2 in",
        "1 2 in",
    ] {
        assert!(parse(text, Quantity::Length, None).is_err(), "{text}");
    }
    // A fraction does not stand in for its unit.
    let want = Quantity::Length;
    assert_eq!(kind("1/2", want), ParseErrorKind::NoUnit { want });
    // A quotient of units is none.
    assert!(parse("12 N/mm", Quantity::Rate, None).is_ok());
}

/// What is shown as an example can be typed, and is of the kind that is wanted.
#[test]
fn each_kind_has_examples_of_its_own() {
    use Quantity as Q;
    for want in [
        Q::Length,
        Q::Force,
        Q::Angle,
        Q::Torque,
        Q::Stress,
        Q::Rate,
        Q::TurnRate,
        Q::Energy,
    ] {
        let error = parse("many", want, None).expect_err("no number");
        assert!(error.help().ends_with(examples(want)), "{}", error.help());
        let quoted: Vec<&str> = examples(want).split('"').skip(1).step_by(2).collect();
        assert_eq!(quoted.len(), 2, "{want:?}");
        for example in quoted {
            ok(example, want);
        }
    }
    let plain = parse_plain("many").expect_err("no number");
    assert_eq!(plain.to_string(), "this is not a plain number");
    assert_eq!(plain.help(), "write digits with a decimal point");
}

proptest::proptest! {
    #[test]
    fn never_panics_and_stays_inside(text in ".*") {
        if let Err(error) = parse(&text, Quantity::Length, None) {
            proptest::prop_assert!(error.at.start <= error.at.end && error.at.end <= text.len());
            proptest::prop_assert!(text.get(error.at).is_some());
        }
    }
}
