//! Which lead a step speaks of, and where it is now.

use check::ids::{LeadId, SocketId};
use check::plan::End;
use engine::{Do, Take};

use super::book::Book;
use crate::line::{Run, text};

/// The plug that goes in: the words for it.
pub(super) struct Plugged<'a> {
    pub(super) from: SocketId,
    pub(super) to: SocketId,
    pub(super) via: &'a [LeadId],
    pub(super) end: End,
    pub(super) kept: bool,
    pub(super) takes: &'a [(LeadId, Take)],
}

impl<'a> Plugged<'a> {
    pub(super) fn of(does: &'a Do) -> Option<Self> {
        match does {
            Do::Plug { from, to, via, end, kept, takes, .. } => {
                Some(Plugged { from: *from, to: *to, via, end: *end, kept: kept.is_some(), takes })
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

    /// The longest piece: what a performer calls the lead.
    pub(super) fn main_lead(&self, book: Book<'_>) -> Option<LeadId> {
        let metres = |l: &LeadId| book.c.rig.leads.get(l.ix()).map_or(0.0, |l| l.length.value);
        self.via.iter().copied().max_by(|a, b| metres(a).total_cmp(&metres(b)))
    }

    /// A lead whose other plug stays where it is, or a piece's own cable: "VOCAL MIC lead", "STRIP B plug".
    pub(super) fn hanging(&self, book: Book<'_>) -> Option<Vec<Run>> {
        let tail = [self.other(), self.at()].into_iter().find(|s| book.has_tail(*s));
        if self.via.is_empty() || (tail.is_some() && !self.kept) {
            let mut runs = vec![book.name(book.gear_of(tail.unwrap_or(self.other())))];
            runs.push(text("plug"));
            return Some(runs);
        }
        self.kept.then(|| {
            let mut runs = book.lead_at(self.other());
            runs.push(text("lead"));
            runs
        })
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
