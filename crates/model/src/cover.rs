//! A cover and its steps as plain data: `engine` makes them, `check` replays them, `cards` prints them.

use crate::{End, GearId, LeadId, PartId, RouteRef, SocketRef};

/// A way round a fault, step by step in a safe order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cover {
    /// The fault, by name.
    pub fault: String,
    /// Which of the three questions it answers.
    pub goal: Goal,
    /// What the hands do, in order.
    pub steps: Vec<Step>,
    /// Seconds for the whole plan, the longest boot included.
    pub seconds: u32,
    /// Parts that are carried at the end.
    pub carried: Vec<PartId>,
    /// Parts that stay silent.
    pub silent: Vec<PartId>,
    /// How far it is proved.
    pub proved: Proved,
    /// Unknown facts it relies on, in words.
    pub conditions: Vec<String>,
}

/// Which question a cover answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goal {
    /// The quickest way that robs nothing.
    Now,
    /// At the next pause: as much as can be.
    Full,
    /// In the break: best sound.
    Break,
}

/// How far an answer is proved to be the first in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Proved {
    /// The whole order.
    Order,
    /// Up to the seconds.
    Seconds,
    /// A stated limit of steps was hit.
    No,
}

/// One act of the hands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub act: StepAct,
    /// The piece it is done at.
    pub gear: GearId,
    /// Seconds for it, walking there included.
    pub seconds: u32,
    /// Seconds from the first step to its end.
    pub until: u32,
    /// Parts that are back after it (a boot may add seconds: see [`Back`]).
    pub back: Vec<Back>,
}

/// A part that is back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Back {
    /// Which.
    pub part: PartId,
    /// Seconds from the first step.
    pub at: u32,
}

/// What is done in one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StepAct {
    /// Turn a loud piece down before its plugs are touched.
    Quieten {
        /// The piece.
        gear: GearId,
    },
    /// Take one plug out.
    Pull {
        /// Link of the normal patch.
        link: usize,
        /// Which end.
        end: End,
        /// Where it is now.
        from: SocketRef,
        /// Leads of that link, from the out-socket.
        leads: Vec<LeadId>,
    },
    /// Put a piece in another placement, or take it from the spare bag.
    Place {
        /// The piece.
        gear: GearId,
        /// Placement, its place in the piece's list.
        placement: usize,
        /// It comes out of the spare bag.
        from_case: bool,
    },
    /// Take a lead that is not in use.
    Fetch {
        /// Which type.
        lead: LeadId,
        /// From where.
        place: crate::SparePlace,
    },
    /// Join two pieces of a chain.
    Join {
        /// The first, from the out-socket.
        first: LeadId,
        /// The second.
        second: LeadId,
    },
    /// Push one plug in.
    Plug {
        /// Out-socket of the new link.
        from: SocketRef,
        /// In-socket of the new link.
        to: SocketRef,
        /// Chain from the out-socket; empty: the piece's own cable.
        leads: Vec<LeadId>,
        /// Which end goes in now.
        end: End,
        /// The end that stayed in, when an old link is kept there.
        kept: Option<End>,
    },
    /// Turn a route on or off.
    Knob {
        /// Which.
        route: RouteRef,
        /// On?
        on: bool,
    },
    /// Switch phantom or another bank.
    Bank {
        /// The piece.
        gear: GearId,
        /// Its bank, by place.
        bank: usize,
        /// On?
        on: bool,
    },
    /// Switch a piece on.
    Start {
        /// The piece.
        gear: GearId,
        /// Seconds it takes to start, while the hands go on.
        boot: u32,
    },
    /// Mend one lost function.
    Mend {
        /// The piece.
        gear: GearId,
        /// Its mend, by place.
        mend: usize,
    },
    /// Set a level at an input after plugging.
    SetLevel {
        /// The input.
        socket: SocketRef,
    },
    /// Bring a quietened piece back, slowly.
    BringUp {
        /// The piece.
        gear: GearId,
    },
    /// See or hear that it worked.
    Check {
        /// The piece to look at or listen to.
        gear: GearId,
        /// The part to listen for, when there is one.
        part: Option<PartId>,
    },
}
