//! What a lead is called, which lead a step speaks of, and where it is now.
//!
//! A lead with a tape is called by its tape. One without is called by its type and length, and by the piece that its
//! other plug is in: "VOICE MIC’s XLR 6 m".

use check::compile::Compiled;
use check::ids::{LeadId, LinkId, SocketId};
use check::plan::End;
use engine::{Do, Take};

use super::book::Book;
use crate::line::{Run, printed, tape, text};

/// Has this lead type a name of its own, written on the one there is?
///
/// Leads of one type are counted, not named: `lead XLR 6 m: own 3` names none of the three, `lead VOICE = XLR 6 m: own 1`
/// names one.
pub fn is_taped(c: &Compiled, lead: LeadId) -> bool {
    let Some(lead) = c.rig.leads.get(lead.ix()) else { return false };
    let said = type_words(&lead.name);
    let its_type = |name: &String| type_words(name) == said;
    // A type is told with its length; "GUITAR LEAD" alone is a name even where it is another word for a type.
    let told = lead.kind.adapter || lead.name.contains(|c: char| c.is_ascii_digit());
    lead.owned.value <= 1 && !(told && (its_type(&lead.kind.name) || lead.kind.also.iter().any(its_type)))
}

/// The words of a lead's type: without its length and without "lead" or "cable".
fn type_words(name: &str) -> Vec<String> {
    let plain = |w: &&str| {
        let unit = w.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.' || c == ',');
        let number = unit.len() < w.len() && matches!(unit, "" | "m" | "ft" | "cm");
        !(number || matches!(*w, "m" | "ft" | "cm" | "lead" | "leads" | "cable" | "cables"))
    };
    name.to_lowercase().split_whitespace().filter(plain).map(str::to_owned).collect()
}

/// The one taped lead of a normal link by which a performer calls the whole link: `VOICE`.
pub fn tape_of(c: &Compiled, link: usize) -> Option<LeadId> {
    longest(c, c.problem.spec.patch.get(link)?.via.iter().copied().filter(|l| is_taped(c, *l)))
}

fn longest(c: &Compiled, leads: impl Iterator<Item = LeadId>) -> Option<LeadId> {
    let metres = |l: &LeadId| c.rig.leads.get(l.ix()).map_or(0.0, |l| l.length.value);
    leads.max_by(|a, b| metres(a).total_cmp(&metres(b)))
}

impl Book<'_> {
    /// The lead alone: `VOICE`, or `XLR 6 m` as a label.
    pub(super) fn lead(self, l: LeadId) -> Run {
        let name = self.c.rig.leads.get(l.ix()).map_or("?", |l| l.name.as_str());
        if is_taped(self.c, l) { tape(name) } else { printed(name) }
    }

    /// The lead in a sentence: `VOICE`, or "the `XLR 6 m`".
    pub(super) fn the_lead(self, l: LeadId) -> Vec<Run> {
        let run = self.lead(l);
        if matches!(run, Run::Tape(_)) { vec![run] } else { vec![text("the"), run] }
    }

    /// What a performer calls a chain: its tape, else its longest piece.
    pub(super) fn main_lead(self, via: &[LeadId]) -> Option<LeadId> {
        let all = || via.iter().copied();
        longest(self.c, all().filter(|l| is_taped(self.c, *l))).or_else(|| longest(self.c, all()))
    }

    /// A chain that is plugged at `other`: `VOICE`, or "`VOICE MIC`’s `XLR 6 m`".
    pub(super) fn chain_at(self, via: &[LeadId], other: SocketId) -> Vec<Run> {
        match self.main_lead(via) {
            None => self.cable_of(other),
            Some(l) if is_taped(self.c, l) => vec![self.lead(l)],
            Some(l) => {
                let mut runs = if self.is_supply(other) {
                    vec![self.name(self.gear_of(other))]
                } else {
                    self.lead_at(other)
                };
                runs.extend([text("’s"), self.lead(l)]);
                runs
            }
        }
    }

    /// The plug of a piece's own cable: "`STRIP A` plug", "`SPLIT` `LEFT` plug" where the piece has several.
    pub(super) fn cable_of(self, tail: SocketId) -> Vec<Run> {
        let g = self.gear_of(tail);
        let tails = self.gear(g).map_or(0, |g| g.body.sockets.iter().filter(|s| s.tail.is_some()).count());
        // Of several, the one to the mains is known by its look; the others by what is printed on them.
        let (mut runs, plug) = match (tails > 1, self.is_mains(tail)) {
            (true, true) => (vec![self.name(g)], "mains plug"),
            (true, false) => (self.place(tail), "plug"),
            (false, _) => (vec![self.name(g)], "plug"),
        };
        runs.push(text(plug));
        runs
    }

    /// What hangs on a normal link's `end` when its other plug is spoken of: the lead, or a piece's own cable.
    pub(super) fn link_by(self, link: LinkId, other: SocketId, from: SocketId) -> Vec<Run> {
        let via = self.c.problem.spec.patch.get(link.ix()).map(|l| l.via.as_slice()).unwrap_or_default();
        if via.is_empty() {
            return self.cable_of(if self.has_tail(other) { other } else { from });
        }
        self.chain_at(via, other)
    }
}

/// The plug that goes in: the words for it.
pub(super) struct Plugged<'a> {
    pub(super) from: SocketId,
    pub(super) to: SocketId,
    pub(super) via: &'a [LeadId],
    pub(super) end: End,
    pub(super) kept: Option<LinkId>,
    pub(super) takes: &'a [(LeadId, Take)],
}

impl<'a> Plugged<'a> {
    pub(super) fn of(does: &'a Do) -> Option<Self> {
        match does {
            Do::Plug { from, to, via, end, kept, takes, .. } => {
                Some(Plugged { from: *from, to: *to, via, end: *end, kept: kept.map(|(l, _)| l), takes })
            }
            _ => None,
        }
    }

    /// The socket the plug goes into.
    pub(super) fn at(&self) -> SocketId {
        match self.end {
            End::From => self.from,
            End::To => self.to,
        }
    }

    fn other(&self) -> SocketId {
        match self.end {
            End::From => self.to,
            End::To => self.from,
        }
    }

    /// A lead whose other plug stays where it is, or a piece's own cable: "`VOICE`", "`STRIP B` plug".
    pub(super) fn hanging(&self, book: Book<'_>) -> Option<Vec<Run>> {
        let tail = [self.other(), self.at()].into_iter().find(|s| book.has_tail(*s));
        if self.via.is_empty() || (tail.is_some() && self.kept.is_none()) {
            return Some(book.cable_of(tail.unwrap_or(self.other())));
        }
        self.kept.map(|_| book.chain_at(self.via, self.other()))
    }

    /// Adapters that hung on the kept lead and are not used: they come off first.
    pub(super) fn comes_off(&self, book: Book<'_>) -> Vec<LeadId> {
        let Some(link) = self.kept.and_then(|l| book.c.problem.spec.patch.get(l.ix())) else {
            return Vec::new();
        };
        let mut left: Vec<LeadId> = self.via.to_vec();
        let mut off = Vec::new();
        for piece in &link.via {
            match left.iter().position(|l| l == piece) {
                Some(at) => {
                    left.remove(at);
                }
                None => off.push(*piece),
            }
        }
        off
    }
}

/// "from the spare bag".
pub(super) fn whence(take: Take) -> &'static str {
    match take {
        Take::Freed => "you pulled",
        Take::Stage => "from the stage",
        Take::Bag => "from the spare bag",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_and_the_word_lead_are_no_name() {
        assert_eq!(type_words("XLR 6 m"), ["xlr"]);
        assert_eq!(type_words("6m XLR cable"), ["xlr"]);
        assert_eq!(type_words("VOICE"), ["voice"]);
        assert_eq!(type_words("9V"), ["9v"]);
        assert_eq!(type_words("summing lead 3 m"), type_words("summing lead"));
    }
}
