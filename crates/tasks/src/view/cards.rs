//! Where the cards were written.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Problem, Remark};

/// The answer of `cards`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cards {
    /// The rig file.
    pub file: String,
    /// The rig's name.
    pub rig: String,
    /// Where the cards are; `None` when none were written.
    pub written: Option<String>,
    /// How many cards.
    pub cards: usize,
    /// Bytes of the file.
    pub bytes: usize,
    /// What was not understood: no cards are made of half a rig.
    pub problems: Vec<Problem>,
    /// Hazards in the rig as it normally stands. With any, the page says stop and has no cards.
    pub hazards: Vec<Remark>,
}
