//! What teeth carry, worked out by hand: the force along the pitch circle is the moment that a wheel passes on, over
//! its radius; in a ring only the wheel inside has a form factor.

use crate::gears::train;
use crate::published::{Drawing, close};
use jawforce::analysis::{Analysis, Direction};
use jawforce::model::Tool;
use jawforce::strength::{Factor, Note};

const STEEL: &str = "[materials.steel]\nyield = 800\nultimate = 1000\nmodulus = \"205 GPa\"";

/// The checks of teeth, by the name of their part; and the parts that are said to have no form factor.
fn teeth(tool: Tool) -> (Vec<Factor>, usize) {
    let analysis = Analysis::of(tool);
    let strength = analysis.strength(Direction::Closing).expect("forces");
    let no_form = strength.notes.iter().map(|note| match note {
        Note::NoForm(parts) => parts.len(),
        _ => 0,
    });
    let no_form = no_form.sum();
    let all = strength.factors.iter();
    let of_teeth = all.filter(|factor| factor.formula.check.starts_with("tooth bending"));
    let mut found: Vec<Factor> = of_teeth.cloned().collect();
    found.sort_by(|a, b| a.name.cmp(&b.name));
    (found, no_form)
}

fn of(factor: &Factor, symbol: &str) -> f64 {
    let mut inputs = factor.inputs.iter();
    inputs.find(|input| input.symbol == symbol).unwrap().value
}

/// 100 N at 200 mm turn a wheel of 12 mm: 20 000 / 12 N along the pitch circle, on either wheel, whatever the
/// pressure angle. Module 2, face 8. Y of 12 teeth 0.245; of 55, a share (1/50 - 1/55) / (1/50 - 1/60) = 6/11 of
/// the way from 0.408 of 50 teeth to 0.421 of 60.
#[test]
fn a_train_of_two_wheels() {
    let extra = format!("face = 8\nmaterial = \"steel\"\n{STEEL}");
    let tool = train(12, 55, &extra)
        .add("[stroke]\nopen = { handle = 170 }\nshut = { handle = 190 }\nsteps = 4")
        .tool();
    let (found, no_form) = teeth(tool);
    assert_eq!((found.len(), no_form), (2, 0));
    let form = 0.408 + 6.0 / 11.0 * 0.013;
    for (factor, (name, form)) in found.iter().zip([("lever", 0.245), ("wheel", form)]) {
        assert_eq!(factor.name, name);
        let load = 20_000.0 / 12.0;
        close("Ft", of(factor, "Ft"), load, 1e-9);
        close("Y", of(factor, "Y"), form, 1e-12);
        close("stress", factor.value, load / (8.0 * 2.0 * form), 1e-9);
    }
}

/// A wheel of 20 teeth in a ring of 40 drives a point of its pitch circle along a diameter, x = 40 cos phi: 100 N at
/// 90 mm give the jaw 9000 / (40 sin phi) N, which turns the wheel about its pin by that times 20 sin phi; over its
/// radius of 20 mm these are 225 N.
#[test]
fn a_wheel_in_a_ring() {
    for order in [["base", "wheel"], ["wheel", "base"]] {
        let (counts, about) = match order[0] {
            "base" => ([40, 20], ["p", "q"]),
            _ => ([20, 40], ["q", "p"]),
        };
        let turn = 60_f64.to_radians();
        let at = |radius: f64| [radius * turn.cos(), radius * turn.sin()];
        let (q, witness, trace) = (at(20.0), at(40.0), [at(40.0)[0], 0.0]);
        let (one, other) = (order[0], order[1]);
        let tool = Drawing::new("mm-N")
            .fixed("base", &[("p", [0.0; 2])], &[("anvil", [-60.0, 0.0]), ("w", witness)])
            .part("arm", &[("p", [0.0; 2]), ("q", q)], &[])
            .part("wheel", &[("q", q)], &[("w", witness), ("trace", trace)])
            .hand("arm", [0.0; 2], at(90.0), "\"square\"", 100.0)
            .add("palm = false")
            .jaw("nose", "wheel.trace", "base.anvil", 0.0)
            .add(&format!(
                "[[gears]]\nparts = [\"{one}\", \"{other}\"]\nabout = [\"{}\", \"{}\"]\n\
                 meet = [\"{one}.w\", \"{other}.w\"]\nteeth = [{}, {}]\nangle = 20\nface = 5\nmaterial = \"steel\"\n{STEEL}",
                about[0], about[1], counts[0], counts[1]
            ))
            .add("[stroke]\nopen = { handle = 50 }\nshut = { handle = 110 }\nsteps = 4")
            .tool();
        let (found, no_form) = teeth(tool);
        assert_eq!((found.len(), no_form), (1, 1), "{order:?}");
        assert_eq!(found[0].name, "wheel");
        close("Ft", of(&found[0], "Ft"), 225.0, 1e-9);
        close("Y", of(&found[0], "Y"), 0.320, 1e-12);
    }
}
