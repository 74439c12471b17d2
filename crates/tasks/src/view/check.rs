//! The rig as it normally stands.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Matters, Problem};

/// The answer of `check`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Check {
    /// The file.
    pub file: String,
    /// The rig's name.
    pub rig: String,
    /// What was not understood, in the order of the lines.
    pub problems: Vec<Problem>,
    /// About how it is plugged, worst first.
    pub remarks: Vec<Remark>,
    /// What is heard by whom, and through what.
    pub heard: Vec<Heard>,
    /// Parts that should be heard and are not, with nothing broken.
    pub not_carried: Vec<Heard>,
    /// How many pieces there are.
    pub gear: usize,
    /// How many leads and adapters are plugged.
    pub leads: usize,
    /// How many single things can stop working.
    pub faults: usize,
}

/// Something to say about how it is plugged.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Remark {
    /// How bad.
    pub verdict: Verdict,
    /// Which check says so: see `explain`.
    pub check: String,
    /// What is so.
    pub message: String,
    /// What to try.
    pub help: Option<String>,
    /// Points of sound difference.
    pub points: i32,
    /// The figures it rests on.
    pub figures: Vec<Rests>,
}

/// A figure that a remark rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rests {
    /// What it is: `load`.
    pub what: String,
    /// With its unit.
    pub value: String,
    /// Where it is from.
    pub origin: String,
}

/// How bad a remark is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// As meant.
    Works,
    /// Sounds different.
    SoundsDifferent,
    /// Carries nothing useful.
    WillNotWork,
    /// Could hurt somebody or gear, or be heard by mistake.
    Hazard,
}

/// A part, and what sounds it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Heard {
    /// `voice for audience`.
    pub part: String,
    /// How much it matters.
    pub matters: Matters,
    /// Taped names of the pieces that sound it.
    pub from: Vec<String>,
}
