//! What must be heard, by whom, and how much it matters.

use crate::{Figure, ListenerId, SourceId, Spot};

/// What makes music, or is picked up.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// `voice`, `keys`, `tracks`.
    pub name: String,
    /// Heard without any gear, so far in a quiet room, metres; `None`: silent without gear.
    pub unplugged_to: Option<Figure<f64>>,
    /// Who makes it, by listener name; for "only Corin, unplugged".
    pub played_by: Option<String>,
}

/// The audience, or a performer.
#[derive(Clone, Debug, PartialEq)]
pub struct Listener {
    /// `audience`, or the performer's name.
    pub name: String,
    /// Least sound pressure level there that counts as heard, dB.
    pub need: Figure<f64>,
    /// Where a performer stands, metres.
    pub at: Option<Spot>,
}

/// A source that a listener must hear, or must not.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What.
    pub source: SourceId,
    /// By whom.
    pub listener: ListenerId,
    /// How much it matters.
    pub rank: Rank,
    /// Among parts of one rank; 1 unless the owner says more.
    pub weight: u32,
    /// Songs or sets it matters in; empty: always.
    pub only_in: Vec<String>,
}

/// How much a part matters. Ordered from most to least; `Never` stands apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// The show stops without it.
    Must,
    /// We'd miss it.
    Should,
    /// Nice.
    Nice,
    /// Must not be heard.
    Never,
}
