//! A thing to see or touch that may end the matter in seconds.

use crate::{Figure, Lost};

/// A setting that can be wrong without anything being broken, and how to see it.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// What to look at, at most five words: `MUTE lit?`.
    pub ask: String,
    /// Seconds to look.
    pub seconds: Figure<f64>,
    /// What is wrong if so: `channel muted`.
    pub state: String,
    /// How that state shows: `one silent, meter moves`.
    pub shows: String,
    /// What such a wrong state takes away.
    pub takes: Vec<Lost>,
    /// Failure modes that the same look tells, by name.
    pub tells: Vec<String>,
    /// Seconds to put it right.
    pub right_in: Figure<f64>,
    /// How often, of 100 silences of this piece, it is this.
    pub share: Figure<f64>,
}
