//! What can stop working: functions, how gear fails, and what a failure takes away.

use crate::{Figure, GearId, LeadId, RouteRef, SocketRef};

/// A function that a kind or a piece may lose, by the names within that piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lost {
    /// All of it.
    All,
    /// Its loudspeaker.
    Sounding,
    /// What it makes.
    Making,
    /// Its supply: it runs on its battery only.
    Supply,
    /// One route by name.
    Route(String),
    /// One socket by name.
    Socket(String),
}

/// One way gear fails.
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    /// Short name, unique within the piece: `supply`, `amplifier`, `channel 1`.
    pub name: String,
    /// What it takes away.
    pub lost: Vec<Lost>,
    /// Share of this piece's faults, percent. An assumption until the owner's log says better.
    pub share: Figure<f64>,
    /// How it shows, in a performer's words.
    pub shows: String,
    /// What usually still works.
    pub still_works: String,
    /// A quick test in a few words, and its seconds.
    pub test: Option<(String, Figure<f64>)>,
}

/// One lost function of this rig.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LostFunction {
    /// All of a piece.
    Gear(GearId),
    /// A piece's loudspeaker.
    Sounding(GearId),
    /// What a piece makes.
    Making(GearId),
    /// A piece's supply.
    Supply(GearId),
    /// One route.
    Route(RouteRef),
    /// One socket.
    Socket(SocketRef),
    /// Piece `piece` of link `link`, both counted from 0.
    LeadPiece {
        /// Link, in the order of the file.
        link: usize,
        /// Piece of its chain, from the out-socket.
        piece: usize,
    },
    /// Some spare leads are not there.
    SpareMissing {
        /// Which type.
        lead: LeadId,
        /// How many.
        count: u32,
        /// From where.
        place: SparePlace,
    },
}

/// Where spare leads lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SparePlace {
    /// On stage.
    Stage,
    /// In the spare bag.
    Case,
}

/// Everything that has failed at once, with a name for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// `MIXER: supply`.
    pub name: String,
    /// In order, no doubles.
    pub lost: Vec<LostFunction>,
}
