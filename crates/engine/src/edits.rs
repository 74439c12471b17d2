//! The acts a search decides on, numbered.
//!
//! A link is decided without its leads: what it carries depends on its two sockets alone, so the pieces are chosen last
//! (see [`crate::leads`]). That keeps apart "which way" from "with which of three leads that would all do".

use check::Problem;
use check::ids::{GearId, KnobId, LinkId};
use check::plan::End;

/// One thing a plan does or does not do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Edit {
    /// A link between the sockets of a pair, fresh or kept at one end.
    New { pair: usize, kept: Option<End> },
    /// A plug taken out.
    Pull(LinkId, End),
    /// A piece placed.
    Place(GearId, usize),
    /// A knob turned over.
    Knob(KnobId),
    /// A piece switched on.
    Start(GearId),
    /// A mend.
    Mend(usize),
    /// The spare bag opened. What it costs is a cost of everything taken from it.
    Open,
}

/// The numbering: every edit a plan for this problem could hold.
#[derive(Clone, Debug)]
pub(crate) struct Edits {
    pulls: usize,
    places: Vec<usize>,
    knobs: usize,
    starts: usize,
    mends: usize,
    /// How many there are.
    pub(crate) count: usize,
}

impl Edits {
    pub(crate) fn new(p: &Problem, mends: usize) -> Self {
        let pulls = 3 * p.pairs.pairs.len();
        let mut next = pulls + 2 * p.spec.patch.len();
        let mut places = Vec::with_capacity(p.spec.gear.len());
        for g in &p.spec.gear {
            places.push(next);
            next += g.placements.len();
        }
        let knobs = next;
        let starts = knobs + p.spec.knobs.len();
        let mended = starts + p.spec.gear.len();
        Edits { pulls, places, knobs, starts, mends: mended, count: mended + mends + 1 }
    }

    pub(crate) fn id(&self, edit: Edit) -> usize {
        match edit {
            Edit::New { pair, kept } => 3 * pair + kept.map_or(0, |e| 1 + e.ix()),
            Edit::Pull(l, end) => self.pulls + 2 * l.ix() + end.ix(),
            Edit::Place(g, n) => self.places[g.ix()] + n,
            Edit::Knob(k) => self.knobs + k.ix(),
            Edit::Start(g) => self.starts + g.ix(),
            Edit::Mend(m) => self.mends + m,
            Edit::Open => self.count - 1,
        }
    }
}

/// How a link can be made at a pair: fresh, or kept at either end.
pub(crate) const KEPT: [Option<End>; 3] = [None, Some(End::From), Some(End::To)];
