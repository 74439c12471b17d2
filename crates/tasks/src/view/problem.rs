//! What is wrong with a file or a question.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// One thing wrong with a rig file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// Stable between versions: `unknown-gear`.
    pub code: String,
    /// The file.
    pub file: String,
    /// From 1.
    pub line: usize,
    /// Bytes of the file, first and one past the last.
    pub span: [usize; 2],
    /// The line as it was typed.
    pub typed: String,
    /// What was found and what was expected.
    pub message: String,
    /// What to try.
    pub help: Option<String>,
}

/// Why nothing was answered.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bad {
    /// Stable between versions: `no-file`.
    pub code: String,
    /// The file, or the word of the command line.
    pub place: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to try.
    pub fix: String,
}

/// How much a part matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Matters {
    /// The show stops without it.
    Must,
    /// We'd miss it.
    Should,
    /// Nice.
    Nice,
    /// Must not be heard.
    Never,
}
