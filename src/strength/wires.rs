//! Springs that can be wound of stock wire for the rate, the way and the room of a spring of a tool.

use super::springs::{SpringFault, SpringFound, SpringTravel, judge_spring};
use crate::coils::{CoilEnds, Helical, Seats, Torsion, Wire};
use crate::model::{Across, Acts, Form, Made, Spring, SpringEnds, Wound};

/// Mean diameter over wire: what makers wind without extra cost.
///
/// Source: Shigley, sec. 10-4.
const INDEX: [f64; 2] = [4.0, 12.0];
/// Where no size is asked for, the narrowest of these that does it is taken.
const INDICES: [f64; 9] = [4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0];
/// Active coils of a helical spring (Shigley, sec. 10-4, takes 3 to 15; long return springs have more: common practice,
/// no source), and of the body of a torsion spring.
const TURNS: [[f64; 2]; 2] = [[3.0, 30.0], [2.0, 15.0]];
/// A spring of which every factor is as great is as thick as anyone wants: thicker ones are left out (common practice, no
/// source).
const AMPLE: f64 = 3.0;
/// What stays open between the coils at the shortest length, over the travel from free.
///
/// Source: Shigley, sec. 10-4; Jindal, example 8-7.
const CLASH: f64 = 0.15;

/// What is asked of the springs proposed, beyond what the tool asks.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WireWish {
    /// Of which wire; left out, that of the spring, or music wire.
    pub of: Option<Wire>,
    /// Outside diameter, mm; left out, that of the spring, or whatever does it.
    pub outside: Option<f64>,
    /// How often it is loaded; left out, as often as the spring.
    pub cycles: Option<f64>,
    /// What a spring about a pin sits on, diameter, mm; left out, that of the spring.
    pub mandrel: Option<f64>,
}

/// A spring that does it.
#[derive(Debug, Clone, PartialEq)]
pub struct WireChoice {
    /// What to buy.
    pub wound: Wound,
    /// What comes of it.
    pub found: SpringFound,
}

/// What was tried for a spring.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct WireChoices {
    /// Those that meet everything, thin wire first, one for each diameter.
    pub good: Vec<WireChoice>,
    /// How many others could be wound for the rate, and failed: by stress, by room between the coils, by buckling, in
    /// guide or on mandrel.
    pub failed: [usize; 4],
}

/// The springs of stock `wires` (diameters, mm) for the place of one spring; `None` for one that both pushes and pulls.
#[must_use]
pub fn choose_wire(
    spring: &Spring,
    travel: &SpringTravel,
    wires: &[f64],
    wish: &WireWish,
) -> Option<WireChoices> {
    let pattern = pattern(spring, travel, wish)?;
    let mut choices = WireChoices::default();
    for &wire in wires {
        let last = choices.good.last().and_then(|choice| choice.found.factor());
        if last.is_some_and(|factor| factor >= AMPLE) {
            break;
        }
        let sizes: Vec<f64> = match pattern.outside {
            Some(outside) => vec![outside - wire],
            None => INDICES.iter().map(|index| index * wire).collect(),
        };
        for coil in sizes {
            let Some(wound) = pattern.wound(wire, coil) else {
                continue;
            };
            let made = Spring {
                made: Made::Wound(wound),
                ..spring.clone()
            };
            let Some(found) = judge_spring(&made, travel) else {
                continue;
            };
            match failing(&wound, &found) {
                None => {
                    choices.good.push(WireChoice { wound, found });
                    break;
                }
                Some(why) => {
                    if let Some(count) = choices.failed.get_mut(why) {
                        *count += 1;
                    }
                }
            }
        }
    }
    Some(choices)
}

/// Why a spring does not do, as a place in [`WireChoices::failed`].
fn failing(wound: &Wound, found: &SpringFound) -> Option<usize> {
    let fault = found.faults.first().map(|fault| match fault {
        SpringFault::Overstressed(_) => 0,
        SpringFault::Solid(_) => 1,
        SpringFault::Buckles(_) => 2,
        SpringFault::Jams(_) | SpringFault::Grips(_) => 3,
    });
    let tight = match (found.solid, found.shortest, wound.helical()) {
        (Some(solid), Some(shortest), Some(coil)) if coil.ends != CoilEnds::Hooks => {
            let travel = found.worst.state.free - shortest;
            shortest < solid + CLASH * travel
        }
        _ => false,
    };
    fault.or(tight.then_some(1))
}

/// What all springs for a place have in common.
struct Pattern {
    rate: f64,
    outside: Option<f64>,
    form: Form,
    of: Wire,
    modulus: Option<f64>,
    cycles: Option<f64>,
}

fn pattern(spring: &Spring, travel: &SpringTravel, wish: &WireWish) -> Option<Pattern> {
    let bought = spring.wound();
    let form = match (bought, spring.ends) {
        (Some(wound), _) => wound.form,
        (None, SpringEnds::Pin { .. }) => Form::Torsion {
            legs: [0.0; 2],
            mandrel: wish.mandrel,
        },
        (None, SpringEnds::Points(..)) => {
            let pulls = match spring.acts {
                Acts::Push => false,
                Acts::Pull => true,
                Acts::Both => match [travel.low, travel.high].map(|at| at.state.pull) {
                    [low, high] if low >= 0.0 && high >= 0.0 => true,
                    [low, high] if low <= 0.0 && high <= 0.0 => false,
                    _ => return None,
                },
            };
            Form::Helical {
                ends: if pulls {
                    CoilEnds::Hooks
                } else {
                    CoilEnds::Ground
                },
                seats: Seats::Flat,
                guide: None,
            }
        }
    };
    // Another wire has moduli of its own.
    let of = wish
        .of
        .or(bought.map(|wound| wound.of))
        .unwrap_or(Wire::Music);
    let modulus = bought
        .filter(|wound| wound.of == of)
        .and_then(|wound| wound.modulus);
    Some(Pattern {
        rate: spring.rate(),
        outside: wish
            .outside
            .or(bought.map(|wound| wound.coil() + wound.wire)),
        form,
        of,
        modulus,
        cycles: wish.cycles.or(bought.and_then(|wound| wound.cycles)),
    })
}

impl Pattern {
    /// A spring of this wire and mean diameter (mm) with the turns that give the rate, if one can be wound.
    fn wound(&self, wire: f64, coil: f64) -> Option<Wound> {
        let index = coil / wire;
        if !(INDEX[0]..=INDEX[1]).contains(&index) {
            return None;
        }
        let mut wound = Wound {
            wire,
            across: Across::Mean(coil),
            turns: 1.0,
            form: self.form,
            of: self.of,
            modulus: self.modulus,
            ultimate: None,
            cycles: self.cycles,
        };
        let [e, g] = wound.moduli();
        // Turns stand in the denominator of both rates.
        let (turns, [least, most]) = match self.form {
            Form::Helical { ends, .. } => {
                let one = Helical {
                    wire,
                    coil,
                    turns: 1.0,
                    ends,
                };
                (one.rate(g) / self.rate, TURNS[0])
            }
            Form::Torsion { legs, .. } => {
                let one = Torsion {
                    wire,
                    coil,
                    turns: 1.0,
                    legs: [0.0; 2],
                };
                let of_legs = Torsion { legs, ..one }.leg_turns();
                (one.rate(e) / self.rate - of_legs, TURNS[1])
            }
        };
        wound.turns = turns;
        (turns >= least && turns <= most).then_some(wound)
    }
}

#[cfg(test)]
mod tests {
    use super::super::springs::SpringAt;
    use super::*;
    use crate::coils::METRIC_WIRES;
    use crate::model::{PartId, PointRef, SpringSet};
    use crate::statics::SpringState;

    fn spring(rate: f64, acts: Acts) -> Spring {
        let point = |part| PointRef {
            part: PartId::new(part),
            point: 0,
        };
        Spring {
            name: None,
            ends: SpringEnds::Points(point(0), point(1)),
            made: Made::Rate(rate),
            set: SpringSet::Free(60.0),
            acts,
        }
    }

    fn travel(rate: f64, low: f64, high: f64) -> SpringTravel {
        let at = |at: f64| SpringAt {
            state: SpringState {
                at,
                pull: rate * (at - 60.0),
                free: 60.0,
            },
            gap: 0.0,
        };
        SpringTravel {
            open: at(high),
            low: at(low),
            high: at(high),
        }
    }

    /// Every proposal has the rate, by the formula itself, and meets all that is asked.
    #[test]
    fn proposals_meet_rate_room_and_stress() {
        let (rate, one) = (1.5, spring(1.5, Acts::Push));
        let way = travel(rate, 30.0, 50.0);
        let choices = choose_wire(&one, &way, METRIC_WIRES, &WireWish::default()).unwrap();
        assert!(choices.good.len() > 2, "{choices:?}");
        for choice in &choices.good {
            let (d, big_d) = (choice.wound.wire, choice.wound.coil());
            let k = 79.3e3 * d.powi(4) / (8.0 * big_d.powi(3) * choice.wound.turns);
            assert!((k - rate).abs() < 1e-9);
            let solid = (choice.wound.turns + 2.0) * d;
            assert!(30.0 >= solid + 0.15 * 30.0);
            assert!(choice.found.factor().unwrap() >= 1.0);
            assert!(choice.found.faults.is_empty());
        }
        let wires: Vec<f64> = choices
            .good
            .iter()
            .map(|choice| choice.wound.wire)
            .collect();
        assert!(wires.is_sorted());
    }

    #[test]
    fn wishes_are_kept_and_the_impossible_is_counted() {
        let one = spring(1.5, Acts::Push);
        let way = travel(1.5, 30.0, 50.0);
        let wish = WireWish {
            of: Some(Wire::Stainless302),
            outside: Some(12.0),
            cycles: Some(1e5),
            mandrel: None,
        };
        let choices = choose_wire(&one, &way, METRIC_WIRES, &wish).unwrap();
        for choice in &choices.good {
            assert!((choice.wound.coil() + choice.wound.wire - 12.0).abs() < 1e-9);
            assert_eq!(
                (choice.wound.of, choice.wound.cycles),
                (Wire::Stainless302, Some(1e5))
            );
        }
        // A force that no wire of 6 mm outside stands.
        let hard = spring(150.0, Acts::Push);
        let wish = WireWish {
            outside: Some(6.0),
            ..WireWish::default()
        };
        let choices = choose_wire(&hard, &travel(150.0, 30.0, 50.0), METRIC_WIRES, &wish).unwrap();
        assert!(choices.good.is_empty(), "{choices:?}");
        // One that pulls at one end of the stroke and pushes at the other is no spring to buy.
        let both = spring(1.5, Acts::Both);
        assert_eq!(
            choose_wire(
                &both,
                &travel(1.5, 30.0, 70.0),
                METRIC_WIRES,
                &WireWish::default()
            ),
            None
        );
    }

    #[test]
    fn torsion_springs_have_the_rate_with_their_legs() {
        let mut one = spring(500.0, Acts::Both);
        one.ends = SpringEnds::Pin {
            first: PartId::FIRST,
            second: PartId::new(1),
        };
        let at = |turned: f64| SpringAt {
            state: SpringState {
                at: turned,
                pull: 500.0 * turned,
                free: 0.0,
            },
            gap: 0.0,
        };
        let way = SpringTravel {
            open: at(0.2),
            low: at(0.2),
            high: at(0.5),
        };
        let choices = choose_wire(&one, &way, METRIC_WIRES, &WireWish::default()).unwrap();
        assert!(!choices.good.is_empty());
        for choice in &choices.good {
            let (d, coil) = (choice.wound.wire, choice.wound.coil());
            let k = 207e3 * d.powi(4) / (10.8 * coil * choice.wound.turns) / std::f64::consts::TAU;
            assert!((k - 500.0).abs() < 1e-6, "{k}");
        }
    }
}
