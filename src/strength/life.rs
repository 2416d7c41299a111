//! How many strokes the places of a tool last whose stresses come and go.
//!
//! Between two strokes the load vanishes: every stress goes from zero, or from what it is where the load acts the other
//! way on the closed cycle, to its greatest and back.

use super::formulas::fatigue::{
    Cycle, Finish, Loading, RELIABILITY, ULTIMATE_SHEAR, endurance, equivalent, factor, finite,
    notched, sensitivity, still, strokes,
};
use super::formulas::{SHEAR_SHARE, beam, cut, notch, pin, plate};
use super::result::{Factor, Subject};
use crate::limits::quantile;
use crate::model::{Against, Life, Material, Surface, Tool};

/// How a place lasts.
#[derive(Debug, Clone, PartialEq)]
pub struct Lasting {
    /// The check of the place, at its greatest stress.
    pub factor: Factor,
    /// Stress where the load acts the other way, MPa, zero or less.
    pub least: f64,
    /// What is stood once, and a million times to and fro, MPa.
    pub steady: f64,
    /// Stress to and fro that is stood a million times, MPa.
    pub endurance: f64,
    /// Stress concentration factor of a notch, and what of it counts; `None` without a notch that is known.
    pub notch: Option<[f64; 2]>,
    /// By how much the stresses may grow for the strokes that are asked for.
    pub margin: f64,
    /// Strokes until it breaks; `None`: it does not.
    pub strokes: Option<f64>,
    /// The surface is cut by laser, of which no figure is known.
    pub laser: bool,
}

/// Why a place is not checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotLasting {
    /// Its material has no ultimate strength.
    NoUltimate(String),
    /// Its material has no surface.
    NoSurface(String),
}

/// How the section of a check is stressed; `None` for what does not break by coming and going: pressure, tearing out,
/// buckling; and for teeth, whose roots are not known.
#[must_use]
pub fn loading(of: &Factor) -> Option<Loading> {
    let input = |symbol: &str| {
        of.inputs
            .iter()
            .find(|i| i.symbol == symbol)
            .map(|i| i.value)
    };
    if [pin::SINGLE_SHEAR, pin::DOUBLE_SHEAR].contains(&of.formula) {
        return Some(Loading::Shear(input("d")?));
    }
    if [pin::FORK_BENDING, pin::LAP_BENDING].contains(&of.formula) {
        return Some(Loading::Bending(still(input("d")?)));
    }
    if [plate::GROSS_SECTION, plate::NET_SECTION].contains(&of.formula) {
        return Some(Loading::Axial);
    }
    if of.formula == beam::BENDING {
        return Some(Loading::Bending(equivalent(input("w")?, input("t")?)));
    }
    if [cut::CUT, cut::CURVED_CUT].contains(&of.formula) {
        return Some(Loading::Bending(equivalent(input("h")?, input("t")?)));
    }
    None
}

/// Stress concentration of a check, what of it counts for the stress that is told (MPa), and the radius of the notch (mm)
/// where it is known. A hollow edge has its own in the stress already. A hole in a plate concentrates what goes through
/// its middle: where bending of the edges is more, that counts alone.
fn concentration(of: &Factor, ultimate: f64) -> Option<[f64; 2]> {
    let input = |symbol: &str| {
        of.inputs
            .iter()
            .find(|i| i.symbol == symbol)
            .map(|i| i.value)
    };
    if of.formula == plate::NET_SECTION {
        let hole = input("d")?;
        let kt = notch::eye(hole / input("w")?)?;
        return Some([kt, notched(kt, sensitivity(ultimate, 0.5 * hole))]);
    }
    if of.formula != cut::CUT {
        return None;
    }
    let kt = input("stress concentration Kt")?;
    let (pull, shear) = (input("N")?, 1.5 * input("V")?);
    let middle = pull.hypot(3.0_f64.sqrt() * shear) / input("A")?;
    let counts = kt * middle / of.value;
    (counts > 1.0).then_some([kt, counts])
}

/// How a place lasts whose stress reaches `reversed` (MPa, zero or more) the other way; `None` where [`loading`] has none.
#[must_use]
pub fn lasting(
    tool: &Tool,
    life: &Life,
    of: &Factor,
    reversed: f64,
) -> Option<Result<Lasting, NotLasting>> {
    let loading = loading(of)?;
    let material = material(tool, of.subject)?;
    let Some(ultimate) = material.ultimate else {
        return Some(Err(NotLasting::NoUltimate(material.name.clone())));
    };
    let Some(surface) = material.surface else {
        return Some(Err(NotLasting::NoSurface(material.name.clone())));
    };
    let finish = match surface {
        Surface::Ground => Finish::Ground,
        Surface::Machined | Surface::ColdDrawn => Finish::Machined,
        Surface::HotRolled | Surface::Laser => Finish::HotRolled,
        Surface::Forged => Finish::Forged,
    };
    let limit = endurance(ultimate, finish, loading, reliability(life.reliability));
    let (once, flow) = match loading {
        Loading::Shear(_) => (
            ULTIMATE_SHEAR * ultimate,
            SHEAR_SHARE * material.yield_strength,
        ),
        _ => (ultimate, material.yield_strength),
    };
    let steady = match life.against {
        Against::Goodman => once,
        Against::Soderberg => flow,
    };
    let notch = concentration(of, ultimate);
    let kf = notch.map_or(1.0, |[_, kf]| kf);
    let cycle = Cycle {
        amplitude: kf * 0.5 * (of.value + reversed),
        mean: 0.5 * (of.value - reversed),
    };
    let margin = factor(cycle, finite(once, limit, life.strokes), steady)?;
    Some(Ok(Lasting {
        factor: of.clone(),
        least: -reversed,
        steady,
        endurance: limit,
        notch,
        margin,
        strokes: strokes(cycle, once, limit, steady),
        laser: surface == Surface::Laser,
    }))
}

fn material(tool: &Tool, subject: Subject) -> Option<&Material> {
    let index = match subject {
        Subject::Pin(joint) => tool.joint_data.get(joint.index())?.material?,
        Subject::Part(part) => {
            tool.sections
                .iter()
                .find(|section| section.part == part)?
                .material
        }
        Subject::Contact(_) => return None,
    };
    tool.materials.get(index)
}

/// The factor of a reliability: as the table is made, by standard deviations, between its rows.
fn reliability(percent: f64) -> f64 {
    let deviations = |percent: f64| quantile(percent / 100.0).unwrap_or(f64::NAN);
    let rows = RELIABILITY.windows(2);
    let between = rows.filter_map(|pair| match pair {
        [low, high] if percent >= low[0] && percent <= high[0] => {
            let [from, here, to] = [low[0], percent, high[0]].map(deviations);
            let along = (here - from) / (to - from);
            Some(low[1] + (high[1] - low[1]) * along)
        }
        _ => None,
    });
    let ends = [RELIABILITY.first(), RELIABILITY.last()].map(|row| row.map_or(1.0, |row| row[1]));
    let outside = if percent < 50.0 { ends[0] } else { ends[1] };
    between.into_iter().next().unwrap_or(outside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::{GripId, JawId, JointId};
    use crate::strength::{Formula, Input, LoadCase};
    use crate::units::Quantity;

    fn factor_of(formula: Formula, inputs: &[(&'static str, f64)], value: f64) -> Factor {
        Factor {
            subject: Subject::Pin(JointId::FIRST),
            name: "knee".to_owned(),
            formula,
            inputs: (inputs.iter())
                .map(|&(symbol, value)| Input {
                    symbol,
                    value,
                    quantity: Some(Quantity::Length),
                })
                .collect(),
            value,
            allowable: 300.0,
            quantity: Quantity::Stress,
            against: "yield",
            factor: 300.0 / value,
            place: None,
            position: 0,
            jaw: JawId::FIRST,
            grip: GripId::FIRST,
            load: LoadCase::Work,
            hand_force: 100.0,
        }
    }

    fn tool(surface: Option<Surface>, ultimate: Option<f64>) -> Tool {
        let mut tool = Tool::lever();
        tool.materials = vec![Material {
            name: "steel".to_owned(),
            yield_strength: 355.0,
            ultimate,
            modulus: None,
            density: None,
            price: None,
            surface,
        }];
        for data in &mut tool.joint_data {
            data.material = Some(0);
        }
        tool
    }

    fn life(strokes: f64, against: Against) -> Life {
        Life {
            strokes,
            against,
            reliability: 50.0,
        }
    }

    /// By hand, S355 of 510 MPa, machined, a pin of 10 mm in a fork from zero to 300 MPa: k_a 4.51 · 510^-0.265 = .8643, k_b of
    /// 3.7 mm 1.24 · 3.7^-0.107 > 1, so 1; Se 220.4 MPa; 1 / (150 / 220.4 + 150 / 510) = 1.0260.
    #[test]
    fn a_pin_that_is_bent() {
        let tool = tool(Some(Surface::Machined), Some(510.0));
        let pin = factor_of(pin::FORK_BENDING, &[("d", 10.0)], 300.0);
        let at = |reversed, against| {
            lasting(&tool, &life(1e7, against), &pin, reversed)
                .unwrap()
                .unwrap()
        };
        let found = at(0.0, Against::Goodman);
        let kb = f64::min(1.24 * 3.7f64.powf(-0.107), 1.0);
        let limit = 4.51 * 510f64.powf(-0.265) * kb * 255.0;
        assert!((found.endurance - limit).abs() < 1e-9);
        assert!((found.margin - 1.0 / (150.0 / limit + 150.0 / 510.0)).abs() < 1e-12);
        assert_eq!((found.strokes, found.least), (None, 0.0));
        // Bent both ways it breaks, and against yield sooner.
        let both = at(300.0, Against::Goodman);
        assert!((both.margin - limit / 300.0).abs() < 1e-12 && both.strokes.is_some());
        assert!(at(0.0, Against::Soderberg).margin < found.margin);
    }

    /// A hole of 10 in an eye of 40, its pin pulling: by hand K_t 12.882 - 13.1785 + 5.610125 - 0.807297 = 4.506328, and the
    /// share of it that counts at a radius of 5.
    #[test]
    fn a_link_with_a_hole() {
        let tool = tool(Some(Surface::Laser), Some(510.0));
        let link = factor_of(plate::NET_SECTION, &[("w", 40.0), ("d", 10.0)], 200.0);
        let found = lasting(&tool, &life(1e5, Against::Goodman), &link, 0.0)
            .unwrap()
            .unwrap();
        let [kt, kf] = found.notch.unwrap();
        assert!((kt - 4.506_328).abs() < 1e-6);
        let q = sensitivity(510.0, 5.0);
        assert!((kf - (1.0 + q * 3.506_328)).abs() < 1e-6 && found.laser);
        let limit = 57.7 * 510f64.powf(-0.718) * 0.85 * 255.0;
        let at = finite(510.0, limit, 1e5);
        assert!((found.margin - 1.0 / (kf * 100.0 / at + 100.0 / 510.0)).abs() < 1e-9);
        assert!(
            found
                .strokes
                .is_some_and(|strokes| (1e3..1e6).contains(&strokes))
        );
    }

    /// A cut with a hole in its middle, K_t 2.2, under a pull of 100 MPa on the net section: all of it counts. Where the
    /// edges carry 150 MPa by bending, 220 / 150; where they carry more than 220, they count alone.
    #[test]
    fn a_hole_concentrates_what_goes_through_the_middle() {
        let cut = |value: f64| {
            let inputs = [
                ("N", 3000.0),
                ("V", 0.0),
                ("A", 30.0),
                ("stress concentration Kt", 2.2),
            ];
            concentration(&factor_of(cut::CUT, &inputs, value), 510.0)
        };
        let near = |found: Option<[f64; 2]>, counts: f64| {
            let [kt, kf] = found.unwrap();
            assert!(
                (kt - 2.2).abs() < 1e-12 && (kf - counts).abs() < 1e-12,
                "{kf}"
            );
        };
        near(cut(100.0), 2.2);
        near(cut(150.0), 220.0 / 150.0);
        assert_eq!(cut(230.0), None);
    }

    /// The table's own rule, 1 - 0.08 z: at 75 % z is 0.6745, at 60 % 0.2533.
    #[test]
    fn reliability_between_the_rows() {
        for (percent, z) in [(60.0, 0.2533), (75.0, 0.6745), (97.0, 1.8808)] {
            let found = reliability(percent);
            assert!(
                (found - (1.0 - 0.08 * z)).abs() < 1e-3,
                "{percent}: {found}"
            );
        }
        for [percent, factor] in RELIABILITY {
            assert!((reliability(percent) - factor).abs() < 1e-9, "{percent}");
        }
    }

    #[test]
    fn what_is_missing_is_named() {
        let pin = factor_of(pin::DOUBLE_SHEAR, &[("d", 10.0)], 100.0);
        let of = |tool: &Tool| lasting(tool, &life(1e5, Against::Goodman), &pin, 0.0).unwrap();
        let steel = || "steel".to_owned();
        assert_eq!(
            of(&tool(None, Some(510.0))),
            Err(NotLasting::NoSurface(steel()))
        );
        assert_eq!(
            of(&tool(Some(Surface::Ground), None)),
            Err(NotLasting::NoUltimate(steel()))
        );
        let bearing = factor_of(pin::BEARING, &[("d", 10.0)], 100.0);
        let whole = tool(Some(Surface::Ground), Some(510.0));
        assert_eq!(
            lasting(&whole, &life(1e5, Against::Goodman), &bearing, 0.0),
            None
        );
    }

    #[test]
    fn reliabilities_between_the_rows() {
        for [percent, factor] in RELIABILITY {
            assert!((reliability(percent) - factor).abs() < 1e-12);
        }
        assert!(reliability(97.0) < 0.868 && reliability(97.0) > 0.814);
        assert_eq!((reliability(10.0), reliability(99.999)), (1.0, 0.702));
    }
}
