//! Every force on every part, listed from a load case that has been solved.

use super::balance::Balance;
use super::friction::Contact;
use super::loaded::{Burden, Hold, Loaded};
use super::sheet::{ForceKind, PointForce, Sheet};
use crate::geometry::Vec2;
use crate::mechanism::{Kind, Pose, PushFrame, Take};
use crate::model::{JawId, JointId, PartId, Tool};
use crate::motion::Solver;

/// A load case whose forces are to be listed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheeted<'a> {
    pub burden: &'a Burden,
    pub hold: Hold,
    /// Jaw force of the first jaw, N.
    pub jaw_force: f64,
    /// What rubs, or presses apart: how hard (N or N mm), see [`Contact::drag`].
    pub rubs: &'a [(Contact, f64)],
}

impl Loaded {
    /// Lists every force on every part: joints with their friction, springs, hand, jaw. `balance`
    /// has just solved the case.
    pub(super) fn sheet(
        &self,
        tool: &Tool,
        solver: &Solver,
        balance: &Balance,
        case: Sheeted,
        axis: Vec2,
    ) -> Sheet {
        let (linkage, pose) = (&*solver.linkage, &solver.pose);
        let mut sheet = Sheet::new(linkage.bodies.len());
        for (turn, frame) in sheet.turn.iter_mut().zip(&pose.frames) {
            *turn = frame.turn;
        }
        let mut put = |part: PartId, what: ForceKind, at: Vec2, force: Vec2, moment: f64| {
            let local = pose.frames[part].own_place(at) + linkage.bodies[part].entry;
            sheet.part_forces[part].push(PointForce {
                what,
                at,
                local,
                force,
                moment,
            });
        };
        let opposite = |f: Vec2| -f;
        for (j, joint) in JointId::each(&linkage.joints) {
            let mut on = OnBodies {
                pose,
                bodies: Vec::new(),
            };
            joint.act(pose, balance.load[j.index()], &mut on);
            for (contact, friction) in case.rubs {
                if contact.joint == j {
                    contact.drag(linkage, pose, *friction, &mut on);
                }
            }
            for (body, place) in joint.bodies().into_iter().zip(joint.touches(pose)) {
                on.at_place(body, place);
            }
            for on in on.bodies {
                put(on.body, ForceKind::Joint(j), on.at, on.force, on.moment);
            }
        }
        for (k, pull) in case.burden.springs.pulls(linkage, pose).enumerate() {
            for end in pull {
                put(
                    end.body,
                    ForceKind::Spring(k),
                    end.at,
                    end.force,
                    end.moment,
                );
            }
        }
        for end in (case.burden.pawl.iter()).flat_map(|pawl| pawl.ends(linkage, pose)) {
            if end.moment != 0.0 {
                put(end.body, ForceKind::Pawl, end.at, end.force, end.moment);
            }
        }
        if let Some((jaw, _)) = case.burden.held {
            for held in self.pair.iter().flatten() {
                put(held.body, ForceKind::Jaw(jaw), held.at, held.force, 0.0);
            }
        }
        let frame = &linkage.hand.grips[case.hold.grip];
        let u = linkage.push_direction(pose, frame, case.hold.side);
        let hand = u * case.hold.force;
        put(
            frame.at.body,
            ForceKind::Hand,
            pose.place(frame.at),
            hand,
            0.0,
        );
        if let Some(on) = linkage.reaction(pose, frame, hand) {
            let what = match linkage.hand.push {
                PushFrame::Across => ForceKind::Opposite,
                _ => ForceKind::Palm,
            };
            put(on.body, what, on.at, opposite(hand), on.couple);
        }
        if let (Some(jaw), Some(_)) = (linkage.jaws.first(), tool.jaws.first()) {
            let f = axis * case.jaw_force;
            let on = pose.place(jaw.on);
            put(jaw.on.body, ForceKind::Jaw(JawId::FIRST), on, f, 0.0);
            put(
                jaw.against.body,
                ForceKind::Jaw(JawId::FIRST),
                on,
                opposite(f),
                0.0,
            );
        }
        if let (None, Some(bench)) = (tool.palm(), tool.bench)
            && let Some(at) = tool.part(tool.fixed).and_then(|part| part.place(bench.at))
        {
            let place = pose.place(linkage.spot(tool.fixed, at.into()));
            let (sum, moment) = sheet.sum(tool.fixed, place);
            if let Some(on) = sheet.part_forces.get_mut(tool.fixed.index()) {
                on.push(PointForce {
                    what: ForceKind::Bench,
                    at: place,
                    local: at.into(),
                    force: opposite(sum),
                    moment: -moment,
                });
            }
        }
        sheet
    }
}

/// What a joint does to one body.
struct OnBody {
    body: PartId,
    at: Vec2,
    force: Vec2,
    moment: f64,
}

/// What a joint does to each of its bodies, a body once.
struct OnBodies<'a> {
    pose: &'a Pose,
    bodies: Vec<OnBody>,
}

impl OnBodies<'_> {
    /// Takes what acts on a body to the place where it does.
    fn at_place(&mut self, body: PartId, place: Option<Vec2>) {
        let on = self.bodies.iter_mut().find(|on| on.body == body);
        if let (Some(on), Some(place)) = (on, place) {
            on.moment += (on.at - place).cross(on.force);
            on.at = place;
        }
    }

    fn add(&mut self, body: PartId, at: Vec2, force: Vec2, moment: f64) {
        match self.bodies.iter_mut().find(|on| on.body == body) {
            Some(on) => {
                on.force += force;
                on.moment += moment;
            }
            None => self.bodies.push(OnBody {
                body,
                at,
                force,
                moment,
            }),
        }
    }
}

impl Take for OnBodies<'_> {
    fn force(&mut self, body: PartId, _arm: Vec2, place: Vec2, force: Vec2) {
        self.add(body, place, force, 0.0);
    }

    fn couple(&mut self, body: PartId, moment: f64) {
        self.add(body, self.pose.frames[body].origin, Vec2::ZERO, moment);
    }
}
