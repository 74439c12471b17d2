//! A help page.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The answer of `explain`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Explain {
    /// Its name.
    pub name: String,
    /// What sort of thing it is.
    pub what: What,
    /// The page, as text.
    pub page: String,
}

/// What a help page is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// A check of the rig.
    Check,
    /// A word of the program.
    Word,
    /// A kind of gear.
    Kind,
    /// A kind of lead or adapter.
    Lead,
}
