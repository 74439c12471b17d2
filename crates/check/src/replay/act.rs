//! One act of the hands, and how to undo a list of them.

use crate::ids::{GearId, KnobId, LeadId, LinkId, SocketId};
use crate::plan::End;
use crate::spec::{Place, Spec};

/// Where a lead is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Take {
    /// Free on the floor after something was pulled.
    Freed,
    /// It lies on stage.
    Stage,
    /// Out of the spare bag.
    Bag,
}

/// One act, as hands do it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Act {
    /// A loud piece is turned down.
    Quieten(GearId),
    /// A loud piece is turned up again.
    BringUp(GearId),
    /// One plug of a normal link comes out.
    Pull {
        /// The link.
        link: LinkId,
        /// Which end.
        end: End,
    },
    /// One plug of a new link goes in. The first plug of a link also takes its leads and joins them.
    Plug {
        /// Out-socket of the link.
        from: SocketId,
        /// In-socket of the link.
        to: SocketId,
        /// Its whole chain, from the out-socket.
        via: Vec<LeadId>,
        /// The end at which the plug of a normal link stays in.
        kept: Option<End>,
        /// The end that goes in now.
        end: End,
        /// Leads taken for it, and where from.
        takes: Vec<(LeadId, Take)>,
    },
    /// A piece is placed, or packed away.
    Place {
        /// The piece.
        gear: GearId,
        /// Where to.
        to: Place,
    },
    /// A knob is turned.
    Knob {
        /// Which.
        knob: KnobId,
        /// Is it on afterwards?
        on: bool,
    },
    /// A piece is switched on.
    Start(GearId),
    /// A mend of the fault, by its number.
    Mend(usize),
    /// One plug of a new link comes out again.
    Unplug {
        /// Out-socket of the link.
        from: SocketId,
        /// In-socket of the link.
        to: SocketId,
        /// Which end.
        end: End,
    },
    /// One plug of a normal link goes back where it was. Its pieces have to be in it, or free on the floor.
    Return {
        /// The link.
        link: LinkId,
        /// Which end.
        end: End,
    },
}

/// The way back: the last act undone first. What was mended or switched on stays so.
pub fn undo(spec: &Spec, acts: &[Act]) -> Vec<Act> {
    let back = |act: &Act| {
        Some(match act {
            Act::Quieten(g) => Act::BringUp(*g),
            Act::BringUp(g) => Act::Quieten(*g),
            Act::Pull { link, end } => Act::Return { link: *link, end: *end },
            Act::Return { link, end } => Act::Pull { link: *link, end: *end },
            Act::Plug { from, to, end, .. } => Act::Unplug { from: *from, to: *to, end: *end },
            Act::Place { gear, .. } => Act::Place { gear: *gear, to: spec.gear.get(gear.ix())?.place },
            Act::Knob { knob, on } => Act::Knob { knob: *knob, on: !on },
            Act::Start(_) | Act::Mend(_) | Act::Unplug { .. } => return None,
        })
    };
    acts.iter().rev().filter_map(back).collect()
}
