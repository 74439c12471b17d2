//! Where a piece may stand, who hears it there, and what it picks up there.

use crate::{Figure, Spot};

/// One way a piece may stand or be worn.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// In words: `out front`, `facing YRSA`, `turned so both hear`, `at the singer`.
    pub name: String,
    /// Seconds to put it so.
    pub seconds: Figure<f64>,
    /// Seconds to put it so out of the bag: unpack it, stand it up. `None`: the same.
    pub from_bag: Option<Figure<f64>>,
    /// Who hears its loudspeaker there, and how loud.
    pub hears: Vec<Hears>,
    /// Sources it makes there; `None`: all that it makes.
    pub sources: Option<Vec<String>>,
    /// Its own spot, when the placement moves the piece.
    pub at: Option<Spot>,
    /// Points of sound difference (definition, section 8).
    pub points: u32,
}

/// A listener and the level there.
#[derive(Clone, Debug, PartialEq)]
pub struct Hears {
    /// Who.
    pub who: Who,
    /// Sound pressure level there at usual loudness, dB.
    pub level: Figure<f64>,
}

/// Whom a placement reaches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Who {
    /// The audience.
    Audience,
    /// Every performer.
    Performers,
    /// One listener by name; stands before the two above.
    Named(String),
}

/// The name of the listener that stands for the audience.
pub const AUDIENCE: &str = "audience";

impl Placement {
    /// Level at listener `name`, dB; a line that names the listener goes before "performers".
    pub fn level_at(&self, name: &str) -> Option<&Figure<f64>> {
        let named = self.hears.iter().find(|h| match &h.who {
            Who::Named(n) => crate::same_name(n, name),
            Who::Audience => crate::same_name(AUDIENCE, name),
            Who::Performers => false,
        });
        let any =
            || self.hears.iter().find(|h| h.who == Who::Performers && !crate::same_name(AUDIENCE, name));
        named.or_else(any).map(|h| &h.level)
    }
}
