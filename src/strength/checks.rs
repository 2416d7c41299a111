//! All checks in order.

use super::beams;
use super::cases::Case;
use super::contacts::{RollerContact, rollers};
use super::cuts;
use super::flats::{FlatContact, flats};
use super::handles::{Handle, Seated};
use super::holes::Plates;
use super::knots::{Knot, balanced, knots};
use super::ledger::Ledger;
use super::links;
use super::made::{MadePlates, Redrawn};
use super::note::Note;
use super::pins::{Pin, pins};
use super::result::{Factor, Place, Strained, Strength, Subject};
use super::teeth::{Teeth, teeth};
use super::throats::Sites;
use crate::model::{HandLine, JawId, PartId, Tool};
use crate::statics::Links;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Sections of a plate whose greatest stress on the drawn tool is below this share of the plate's greatest are not
/// looked at on made tools: no tolerance makes one of them twice as bad as the others.
const STRAINED: f64 = 0.5;

/// The checks of a tool: load cases are added one by one, so that no sheet need be kept.
#[derive(Debug, Clone)]
pub struct Checks<'a> {
    tool: &'a Tool,
    pins: Vec<Pin>,
    rollers: Vec<RollerContact>,
    teeth: Vec<Teeth>,
    flats: Vec<FlatContact>,
    parts: Vec<Checked<'a>>,
    notes: Vec<Note>,
    ledger: Ledger,
    cases: usize,
}

/// A part with a section, and what has been seen of it.
#[derive(Debug, Clone)]
struct Checked<'a> {
    plates: Plates<'a>,
    handle: Option<Arc<Handle>>,
    /// Where its forces have acted, in a plate with an outline.
    sites: Sites,
    is_link: bool,
    /// It has been loaded otherwise than by pure tension.
    needs_buckling: bool,
    /// It has been loaded by a pin that could tear its end out.
    needs_edge: bool,
    /// Its forces do not add up somewhere, and it has no bending line there.
    unbalanced: bool,
    /// Something acts on it beside its hand line, see [`beams::seat`].
    has_arms: bool,
}

/// The factors of a tool over these load cases.
#[must_use]
pub fn check<'s>(tool: &Tool, cases: impl IntoIterator<Item = Case<'s>>) -> Strength {
    let mut checks = Checks::new(tool);
    for case in cases {
        checks.add(&case);
    }
    checks.finish()
}

impl<'a> Checks<'a> {
    /// Prepares the checks of a tool.
    #[must_use]
    pub fn new(tool: &'a Tool) -> Self {
        let (pins, mut notes) = pins(tool);
        let (rollers, no_roller) = rollers(tool);
        notes.extend(no_roller);
        let (teeth, no_teeth) = teeth(tool);
        notes.extend(no_teeth);
        let (flats, no_flat) = flats(tool);
        notes.extend(no_flat);
        let links: Vec<PartId> = Links::of(tool).parts().collect();
        let parts = tool.sections.iter().filter_map(|section| {
            let plates = Plates::new(tool, section)?;
            let line = hand_line(tool, section.part).filter(|_| plates.throats.is_none());
            let handle = line.and_then(|line| Handle::new(tool, line, &plates));
            Some(Checked::new(
                plates,
                handle.map(Arc::new),
                links.contains(&section.part),
            ))
        });
        Self {
            tool,
            pins,
            rollers,
            teeth,
            flats,
            parts: parts.collect(),
            notes,
            ledger: Ledger::default(),
            cases: 0,
        }
    }

    /// Prepares only the checks of the pins and parts that these factors are of: handles near the places of
    /// these, plates at the sections that are strained the most and have no factor above `most`.
    #[must_use]
    pub(crate) fn only(
        tool: &'a Tool,
        factors: &[Factor],
        strained: &[Strained],
        most: f64,
    ) -> Self {
        let mut checks = Self::new(tool);
        let kept = |subject: Subject| factors.iter().any(|factor| factor.subject == subject);
        checks.pins.retain(|pin| kept(Subject::Pin(pin.joint)));
        let of = |roller: &RollerContact| kept(Subject::Contact(roller.joint));
        checks.rollers.retain(of);
        (checks.flats).retain(|flat| kept(Subject::Contact(flat.joint)));
        (checks.teeth).retain(|teeth| kept(Subject::Part(teeth.part)));
        (checks.parts).retain(|part| kept(Subject::Part(part.plates.part)));
        for part in &mut checks.parts {
            let own = Subject::Part(part.plates.part);
            let places = factors.iter().filter_map(|factor| match factor.place {
                Some(Place::Along(along)) if factor.subject == own => Some(along),
                _ => None,
            });
            let places: Vec<f64> = places.collect();
            let handle = part.handle.take().map(Arc::unwrap_or_clone);
            part.handle = handle.map(|handle| Arc::new(handle.near(places)));
            let seen = strained.iter().find(|own| own.part == part.plates.part);
            if let (Some(throats), Some(seen)) = (&mut part.plates.throats, seen) {
                let greatest = seen.stresses.iter().copied().fold(0.0, f64::max);
                let weak = part.plates.material.yield_strength / most;
                let kept = throats.strained(&seen.stresses, (STRAINED * greatest).max(weak));
                part.sites = Sites::drawn(&kept, &seen.places);
                *throats = Arc::new(kept);
            }
        }
        checks
    }

    /// The same checks, fresh, of a tool of slightly other dimensions; `None` where it has no such parts.
    /// `redrawn`: what of it is not where it was; `made`: its plates, as far as they were cut anew.
    #[must_use]
    pub(crate) fn remade<'b>(
        &self,
        tool: &'b Tool,
        redrawn: &Redrawn,
        made: &mut MadePlates,
    ) -> Option<Checks<'b>> {
        let own = |pin: &Pin| self.pins.iter().any(|known| known.joint == pin.joint);
        let mut remade = |part: &Checked<'_>| part.remade(tool, redrawn, made);
        Some(Checks {
            tool,
            pins: match self.pins.is_empty() {
                true => Vec::new(),
                false => pins(tool).0.into_iter().filter(own).collect(),
            },
            rollers: match self.rollers.is_empty() {
                true => Vec::new(),
                false => {
                    let known = |roller: &RollerContact| {
                        (self.rollers.iter()).any(|known| known.joint == roller.joint)
                    };
                    rollers(tool).0.into_iter().filter(known).collect()
                }
            },
            flats: match self.flats.is_empty() {
                true => Vec::new(),
                false => {
                    let known = |own: &FlatContact| {
                        (self.flats.iter()).any(|known| known.joint == own.joint)
                    };
                    flats(tool).0.into_iter().filter(known).collect()
                }
            },
            teeth: match self.teeth.is_empty() {
                true => Vec::new(),
                false => {
                    let known = |own: &Teeth| self.teeth.iter().any(|known| known.is_same(own));
                    teeth(tool).0.into_iter().filter(known).collect()
                }
            },
            parts: (self.parts.iter())
                .map(&mut remade)
                .collect::<Option<_>>()?,
            notes: Vec::new(),
            ledger: Ledger::of_the_least(),
            cases: 0,
        })
    }

    /// The least factor so far.
    #[must_use]
    pub fn least(&self) -> Option<f64> {
        self.ledger.least()
    }

    /// Checks everything in one load case.
    pub fn add(&mut self, case: &Case<'_>) {
        self.cases += 1;
        for pin in &self.pins {
            pin.check(case, &mut self.ledger);
        }
        for roller in &self.rollers {
            roller.check(case, &mut self.ledger);
        }
        for teeth in &self.teeth {
            teeth.check(case, &mut self.ledger);
        }
        for flat in &self.flats {
            flat.check(case, &mut self.ledger);
        }
        for part in &mut self.parts {
            part.add(case, &mut self.ledger);
        }
    }

    /// Where the checks have their worst so far with the load at this jaw: indices of positions.
    #[must_use]
    pub fn worst_positions(&self, jaw: JawId) -> BTreeSet<usize> {
        self.ledger.positions(jaw).collect()
    }

    /// The worst of every check, and what could not be checked.
    #[must_use]
    pub fn finish(mut self) -> Strength {
        self.conclude();
        let tool = self.tool;
        let name = |subject| match subject {
            Subject::Pin(joint) => tool.joint_label(joint),
            Subject::Contact(joint) => tool.contact_label(joint),
            Subject::Part(part) => tool
                .parts
                .get(part.index())
                .map_or(String::new(), |p| p.name.clone()),
        };
        let strained = self.parts.iter().map(|part| Strained {
            part: part.plates.part,
            stresses: part.sites.stresses.clone(),
            places: part.sites.places(),
        });
        Strength {
            strained: strained.filter(|own| !own.stresses.is_empty()).collect(),
            positions: Vec::new(),
            factors: self.ledger.finish(name),
            notes: self.notes,
        }
    }

    /// Notes that depend on what was seen.
    fn conclude(&mut self) {
        if self.cases == 0 {
            self.notes.push(Note::NoCase);
        }
        let notes = &mut self.notes;
        let tool = self.tool;
        let parts = &self.parts;
        let of = |which: &dyn Fn(&Checked<'_>) -> bool| -> Vec<PartId> {
            parts
                .iter()
                .filter(|p| which(p))
                .map(|p| p.plates.part)
                .collect()
        };
        let materials = |which: &dyn Fn(&Checked<'_>) -> bool| -> Vec<usize> {
            parts
                .iter()
                .filter(|p| which(p))
                .map(|p| p.plates.section.material)
                .collect()
        };
        let bare =
            PartId::ids(tool.parts.len()).filter(|&p| tool.sections.iter().all(|s| s.part != p));
        note(notes, Note::NoSection, bare.collect());
        note(
            notes,
            Note::NoUltimate,
            materials(&|p| {
                p.needs_edge
                    && p.plates.holes.iter().any(|hole| hole.edge.is_some())
                    && p.plates.material.ultimate.is_none()
            }),
        );
        note(
            notes,
            Note::NoModulus,
            materials(&|p| p.is_link && p.needs_buckling && p.plates.material.modulus.is_none()),
        );
        note(
            notes,
            Note::NoEdge,
            of(&|p| p.needs_edge && p.plates.holes.iter().all(|hole| hole.edge.is_none())),
        );
        note(
            notes,
            Note::HoleAtEnd,
            of(&|p| p.needs_edge && p.plates.hole_at_end()),
        );
        note(notes, Note::NoMaterialLeft, of(&|p| p.nothing_left()));
        note(
            notes,
            Note::NoBuckling,
            of(&|p| !p.is_link && p.needs_buckling),
        );
        note(
            notes,
            Note::Beams,
            of(&|p| {
                let outlined = p.plates.throats.is_some();
                !p.is_link && p.needs_buckling && !p.unbalanced && !outlined
            }),
        );
        note(notes, Note::Windows, of(&|p| p.has_windows()));
        note(notes, Note::Arms, of(&|p| p.has_arms));
        note(notes, Note::Unbalanced, of(&|p| p.unbalanced));
        let (mut bad_pins, mut bad_parts) = (Vec::new(), Vec::new());
        for subject in &self.ledger.bad {
            match *subject {
                Subject::Pin(joint) | Subject::Contact(joint) => bad_pins.push(joint),
                Subject::Part(part) => bad_parts.push(part),
            }
        }
        if !self.ledger.bad.is_empty() {
            self.notes.push(Note::NotANumber(bad_pins, bad_parts));
        }
    }
}

/// Adds a note on those that it is about, each named once; none where there are none.
fn note<Id: Ord>(notes: &mut Vec<Note>, note: fn(Vec<Id>) -> Note, mut about: Vec<Id>) {
    about.sort_unstable();
    about.dedup();
    if !about.is_empty() {
        notes.push(note(about));
    }
}

/// The forces of a bending line; `None` where they do not add up, which is noted.
fn beam(
    plates: &Plates<'_>,
    case: &Case<'_>,
    unbalanced: &mut bool,
    ledger: &mut Ledger,
) -> Option<Vec<Knot>> {
    let knots = knots(plates.part, case.sheet);
    if balanced(&knots) {
        return Some(knots);
    }
    let finite = |k: &Knot| k.force.is_finite() && k.moment.is_finite();
    if knots.iter().all(finite) {
        *unbalanced = true;
    } else {
        ledger.not_a_number(Subject::Part(plates.part));
    }
    None
}

/// The hand line that runs along a part.
fn hand_line(tool: &Tool, part: PartId) -> Option<&HandLine> {
    let mut lines = std::iter::once(&tool.hand.handle).chain(&tool.hand.against);
    lines.find(|line| line.part == part)
}

impl<'a> Checked<'a> {
    fn new(plates: Plates<'a>, handle: Option<Arc<Handle>>, is_link: bool) -> Self {
        Self {
            plates,
            handle,
            sites: Sites::default(),
            is_link,
            needs_buckling: false,
            needs_edge: false,
            unbalanced: false,
            has_arms: false,
        }
    }

    /// The same part of another tool, see [`Checks::remade`].
    fn remade<'b>(
        &self,
        tool: &'b Tool,
        redrawn: &Redrawn,
        made: &mut MadePlates,
    ) -> Option<Checked<'b>> {
        let part = self.plates.part;
        let section = tool.sections.iter().find(|s| s.part == part)?;
        let plates = match redrawn.outlines.contains(&part) {
            true => made.cut(tool, section)?,
            false => self.plates.remade(tool, section)?,
        };
        let handle = match &self.handle {
            Some(_) if redrawn.hand_lines => {
                let line = hand_line(tool, part)?;
                Some(Arc::new(Handle::new(tool, line, &plates)?))
            }
            known => known.clone(),
        };
        let sites = match redrawn.outlines.contains(&part) {
            true => Sites::default(),
            false => self.sites.made(),
        };
        Some(Checked {
            sites,
            ..Checked::new(plates, handle, self.is_link)
        })
    }
}

impl Checked<'_> {
    fn add(&mut self, case: &Case<'_>, ledger: &mut Ledger) {
        let plates = &self.plates;
        plates.bearing(case, ledger);
        let forces = case.sheet.on(plates.part);
        if self.is_link {
            if let Some(axial) = links::check(plates, case, ledger) {
                self.needs_edge |= axial > 0.0;
                self.needs_buckling |= axial < 0.0;
            }
            // Friction at its pins bends a link.
            if forces.iter().any(|f| f.moment != 0.0)
                && let Some(knots) = beam(plates, case, &mut self.unbalanced, ledger)
            {
                match &plates.throats {
                    Some(throats) => {
                        cuts::check(plates, throats, case, &knots, &mut self.sites, ledger)
                    }
                    None => beams::check(plates, case, knots, ledger, |_| plates.depth(0.0)),
                }
            }
            return;
        }
        for hole in &plates.holes {
            let [x, y] = plates.pin_force(case.sheet, hole).xy();
            plates.tear_out(case, ledger, hole, x.hypot(y));
        }
        self.needs_edge |= !plates.holes.is_empty();
        self.needs_buckling |= !forces.is_empty();
        let Some(knots) = beam(plates, case, &mut self.unbalanced, ledger) else {
            return;
        };
        if let Some(throats) = &plates.throats {
            cuts::check(plates, throats, case, &knots, &mut self.sites, ledger);
            return;
        }
        let Some(handle) = &self.handle else {
            beams::check(plates, case, knots, ledger, |_| plates.depth(0.0));
            return;
        };
        let seated = handle.seated(plates, &knots);
        handle.check(plates, case, &seated, ledger);
        self.has_arms |= seated.iter().any(Seated::has_arm);
        // Each knot is looked at where it is.
        let depth = |at| {
            let own = seated.iter().find(|seated| seated.knot.at == at);
            plates.depth(own.map_or(0.0, |own| own.seat))
        };
        beams::check(plates, case, knots, ledger, depth);
    }

    /// Whether a cut runs through an opening that belts leave.
    fn has_windows(&self) -> bool {
        let throats = self.plates.throats.as_ref();
        throats.is_some_and(|throats| throats.windows)
    }

    /// Whether a hole is as large as the part is deep there.
    fn nothing_left(&self) -> bool {
        self.plates.holes.iter().any(|h| {
            if self.plates.throats.is_some() {
                return h.hole.is_some_and(|d| d >= h.width);
            }
            let along = self
                .handle
                .as_ref()
                .map_or(0.0, |line| line.seat(&self.plates, h.local));
            h.hole.is_some_and(|d| d >= self.plates.depth(along))
        })
    }
}
