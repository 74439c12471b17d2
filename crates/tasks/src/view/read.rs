//! How a file was read.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Problem;

/// The answer of `read`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Read {
    /// The file.
    pub file: String,
    /// The rig's name.
    pub rig: String,
    /// Lines that were not understood, as typed, with what is wrong.
    pub not_understood: Vec<Line>,
    /// The whole rig in the house spelling; reads back as the same rig.
    pub house: Vec<String>,
}

/// A line of the file with its problems.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// From 1.
    pub number: usize,
    /// As typed.
    pub typed: String,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
}
