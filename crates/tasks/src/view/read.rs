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
    /// What was assumed while reading, the weightiest first.
    pub guesses: Vec<Guess>,
    /// What only the owner can say, the weightiest first.
    pub questions: Vec<Question>,
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

/// Something that was assumed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Guess {
    /// The line it was made for, from 1; 0: no single line.
    pub line: usize,
    /// What was assumed.
    pub text: String,
    /// Why.
    pub why: String,
    /// How much it matters.
    pub matters: Weight,
}

/// A question whose answer changes something.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Question {
    /// The piece it is about.
    pub about: String,
    /// The question, at most twelve words.
    pub text: String,
    /// How much it matters.
    pub matters: Weight,
    /// What may be answered.
    pub choices: Vec<Choice>,
}

/// One answer to a question.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// The answer.
    pub says: String,
    /// What it changes.
    pub changes: String,
    /// The line that says it in the file.
    pub write: String,
}

/// Why a guess or question matters, what matters most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// It could hurt, or be heard by mistake.
    Hurt,
    /// It changes what becomes of a part that must be heard.
    Must,
    /// A lead nearly doesn't reach.
    Reach,
    /// It can wait.
    Later,
}
