//! The jaw in view.
//!
//! Whatever is read off a tool without the name of a jaw is read of its first one, in whose work alone
//! its forces are found. A tool that faces another jaw is the same tool with that one as its first: its
//! stroke, and which jaw a demand is about, stay what they are.

use super::{Adjusts, JawId, Target, Tool, Work};

impl Tool {
    /// What the job needs at the jaw in view.
    #[must_use]
    pub fn work(&self) -> Option<&Work> {
        self.jaws.first()?.work.as_ref()
    }

    /// The jaw of that name.
    #[must_use]
    pub fn jaw_named(&self, name: &str) -> Option<JawId> {
        let known = self.jaws.iter().position(|jaw| jaw.name == name);
        known.map(JawId::new)
    }

    /// The same tool with `jaw` in view; the others keep their order. Without such a jaw, the tool as it is.
    #[must_use]
    pub fn facing(&self, jaw: JawId) -> Self {
        let mut tool = self.clone();
        tool.face(jaw);
        tool
    }

    /// See [`Tool::facing`].
    pub fn face(&mut self, jaw: JawId) {
        let Some(part) = self.jaws.get_mut(..=jaw.index()) else {
            return;
        };
        part.rotate_right(1);
        let seen = |known: &mut JawId| *known = known.seen_from(jaw);
        seen(&mut self.stroke.lead);
        for target in [&mut self.stroke.open, &mut self.stroke.shut] {
            if let Target::Gap(_, of) = target {
                seen(of);
            }
        }
        let demands = self.demands.iter_mut().map(|demand| &mut demand.jaw);
        for tie in &mut self.ties {
            tie.slot = tie.slot.seen_from(jaw);
            tie.terms
                .iter_mut()
                .for_each(|(slot, _)| *slot = slot.seen_from(jaw));
        }
        if let Some(ratchet) = &mut self.ratchet {
            ratchet.face(jaw);
        }
        for adjuster in &mut self.adjusters {
            if let Adjusts::Number { slot, .. } = &mut adjuster.moves {
                *slot = slot.seen_from(jaw);
            }
        }
        demands
            .chain(self.aim.iter_mut().map(|aim| &mut aim.jaw))
            .for_each(seen);
    }

    /// The jaws whose work sets loads, one at a time: all that have work; where none has, the one that
    /// closes on the stroke.
    #[must_use]
    pub fn working_jaws(&self) -> Vec<JawId> {
        let all = JawId::each(&self.jaws);
        let working: Vec<JawId> = all.filter(|j| j.1.work.is_some()).map(|j| j.0).collect();
        if working.is_empty() {
            vec![self.stroke.lead]
        } else {
            working
        }
    }
}

impl JawId {
    /// The id of this jaw in a tool that faces `first` instead.
    #[must_use]
    pub fn seen_from(self, first: Self) -> Self {
        if self == first {
            Self::FIRST
        } else if self < first {
            Self::new(self.index() + 1)
        } else {
            self
        }
    }
}
