//! Why a list of acts cannot be done by hands.

use thiserror::Error;

use crate::ids::{GearId, LeadId, SocketId};
use crate::problem::Problem;

/// The act at which the hands had to stop.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("step {step}: {why}")]
pub struct Stopped {
    /// Counted from 1; one more than there are when something is left undone at the end.
    pub step: usize,
    /// What is in the way.
    pub why: Why,
}

/// What is in the way of an act.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Why {
    /// A plug is to be pulled that is not there.
    #[error("no plug of that link is in {at}; it is out already, or it cannot come out there")]
    NoPlug {
        /// The socket.
        at: String,
    },
    /// A plug is to go where one is.
    #[error("{at} has a plug in it; pull that first")]
    Full {
        /// The socket.
        at: String,
    },
    /// Two sockets, with this chain, are not to be joined.
    #[error("{from} may not be joined to {to} like this; the link check refuses it")]
    NotALink {
        /// Out-socket.
        from: String,
        /// In-socket.
        to: String,
    },
    /// A lead is not where it is to be taken from.
    #[error("there is no {lead} {place}; free one first, or take another")]
    NoLead {
        /// The type.
        lead: String,
        /// Where it was looked for.
        place: &'static str,
    },
    /// The leads taken are not those that the link lacks.
    #[error("the leads taken for {from} are not those that the link lacks")]
    WrongLeads {
        /// Out-socket of the link.
        from: String,
    },
    /// A link is to be kept whose plug is out, or whose other plug is still in.
    #[error(
        "the plug at {at} cannot stay in for a new link; its other end has to be out, and some lead left at it"
    )]
    NothingKept {
        /// The socket.
        at: String,
    },
    /// Something lost is plugged, placed or switched.
    #[error("{what} is dead; do without it")]
    Dead {
        /// The piece or socket.
        what: String,
    },
    /// Something packed is plugged or switched.
    #[error("{gear} is still packed; place it first")]
    Packed {
        /// The piece.
        gear: String,
    },
    /// A piece is switched on without power.
    #[error("{gear} has no power to be switched on; plug its supply first")]
    NoPower {
        /// The piece.
        gear: String,
    },
    /// A loud piece is touched while it is up.
    #[error("{gear} is loud and still up; turn it down first")]
    StillUp {
        /// The piece.
        gear: String,
    },
    /// A piece is turned down twice, or up while it is up.
    #[error("{gear} is turned {way} already")]
    Already {
        /// The piece.
        gear: String,
        /// "down" or "up".
        way: &'static str,
    },
    /// A loud piece is still down when all is done.
    #[error("{gear} is still turned down at the end; bring it up")]
    LeftDown {
        /// The piece.
        gear: String,
    },
    /// A new link has only one of its plugs in when all is done.
    #[error("the link from {from} to {to} is only half plugged at the end")]
    HalfPlugged {
        /// Out-socket.
        from: String,
        /// In-socket.
        to: String,
    },
    /// A placement, knob or mend that there is not, or what a mend uses up has run out.
    #[error("{what}: there is no such thing, or none is left")]
    NotThere {
        /// What was asked for.
        what: String,
    },
}

impl Why {
    pub(super) fn no_lead(p: &Problem, t: LeadId, place: &'static str) -> Why {
        Why::NoLead { lead: p.spec.leads[t.ix()].name.clone(), place }
    }
}

/// The name of a piece.
pub(super) fn gear(p: &Problem, g: GearId) -> String {
    p.spec.gear.get(g.ix()).map_or_else(|| format!("piece {}", g.ix()), |gear| gear.name.clone())
}

/// The name of a socket with its piece.
pub(super) fn socket(p: &Problem, s: SocketId) -> String {
    match p.spec.sockets.get(s.ix()) {
        Some(socket) => format!("{} {}", gear(p, socket.gear), socket.name),
        None => format!("socket {}", s.ix()),
    }
}
