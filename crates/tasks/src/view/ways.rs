//! What can stop working, and the ways round.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Problem, Remark};

/// The answer of `ways`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ways {
    /// The file.
    pub file: String,
    /// The rig's name.
    pub rig: String,
    /// What was not understood: it is left out of every answer.
    pub problems: Vec<Problem>,
    /// Hazards in the rig as it normally stands. With any, nothing else is answered until they are dealt with.
    pub hazards: Vec<Remark>,
    /// What was asked for.
    pub goal: GoalAsked,
    /// Without a named thing: everything whose loss is heard, worst first.
    pub faults: Vec<FaultLine>,
    /// How many single things silence nothing.
    pub silence_nothing: usize,
    /// With named things: what to do when they are dead together.
    pub round: Option<Round>,
}

/// What the way round is to be best at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum GoalAsked {
    /// The musts at once, and the rest if it takes little more.
    Now,
    /// Everything, at the next pause.
    Full,
    /// The best sound, within half the break.
    Break,
}

/// One thing that can stop working.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FaultLine {
    /// `MIXER: supply`: what `--dead` takes.
    pub dead: String,
    /// How bad it is.
    pub rank: Rank,
    /// Parts that go silent.
    pub silent: Vec<String>,
    /// The same as people say it, the most important first: `everything`; `voice, keys (YRSA: voice)`.
    pub silent_in_words: String,
    /// Parts that must be heard and that no way found brings back.
    pub gone: Vec<String>,
    /// The same as people say it; empty when there are none.
    pub gone_in_words: String,
    /// Is there anything to do?
    pub way: bool,
    /// Nothing needs doing at once: it waits for the next pause.
    pub later: bool,
    /// Sockets that it relies on to pass sound with the power off, which nobody has checked: `NEAR THRU`.
    pub unchecked: Vec<String>,
    /// Until the last step is done; `None` when there is nothing to do.
    pub seconds: Option<Range>,
    /// How far it is proved.
    pub proof: Proof,
    /// Weighted silence: 100, 10 or 1 a second for must, should and nice, times the part's own weight.
    pub weighted: i64,
}

/// How bad a loss is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Rank {
    /// A must stays silent over 45 s, or for good.
    StopsTheShow,
    /// A must stays silent over 20 s.
    Slow,
    /// The rest.
    WedCope,
}

/// From the silence, seconds: noticing and reading included. Estimates.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Range {
    /// The least.
    pub least: u32,
    /// The most.
    pub most: u32,
    /// As cards say it: `about 60–110 s`.
    pub said: String,
}

/// How far a way is proved to be the best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Proof {
    /// Not at all: the limit was hit first.
    No,
    /// Nothing brings as much back in fewer seconds.
    Seconds,
    /// Nothing is better in any place of the order.
    Order,
}

/// Several things dead at once, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Round {
    /// What is dead.
    pub dead: Vec<String>,
    /// How bad it is.
    pub rank: Rank,
    /// Parts that go silent.
    pub silent: Vec<String>,
    /// Parts that still sound with nothing touched.
    pub sounding: Vec<String>,
    /// Parts that must be heard and that no way found brings back.
    pub gone: Vec<String>,
    /// What to do, for the goal asked for. Without steps: leave it.
    pub way: Way,
    /// When the first way gives no sound.
    pub still_nothing: Option<Way>,
    /// The card as text, and the one for when there is still nothing; `None` when nothing that counts goes silent.
    pub card: Option<String>,
}

/// A way round.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// In order.
    pub steps: Vec<Step>,
    /// Counted parts that are heard in the end.
    pub heard: Vec<String>,
    /// When each silent part is back for good.
    pub back: Vec<Back>,
    /// Until the last step is done; `None` without steps.
    pub seconds: Option<Range>,
    /// How far it is proved.
    pub proof: Proof,
    /// What it is worth.
    pub values: Values,
    /// No way has fewer than these: minus the weight of the musts, pairs silenced, seconds.
    pub bound: [i32; 3],
    /// Ways looked at.
    pub looked_at: u64,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// From 1.
    pub number: usize,
    /// `quieten`, `pull`, `place`, `mend`, `knob`, `plug`, `start`, `bring-up`.
    pub act: String,
    /// The taped name of the piece the hands are at.
    pub at: String,
    /// The socket where a plug goes out or in, or the knob, placement or mend.
    pub what: String,
    /// The leads and adapters of a new link, from the out-socket.
    pub leads: Vec<String>,
    /// The socket at the other end of a new link.
    pub other_end: Option<String>,
    /// A knob or switch: is it on afterwards?
    pub on: Option<bool>,
    /// Seconds for it, walking included. An estimate.
    pub seconds: i32,
    /// Seconds from the first step to its end.
    pub until: i32,
    /// Parts that are back once it is done.
    pub back: Vec<Back>,
    /// Silent parts heard after it for the first time, though a later step turns them down again.
    pub first_heard: Vec<Back>,
}

/// A part that comes back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Back {
    /// `voice for audience`.
    pub part: String,
    /// From the silence; `None` for never.
    pub seconds: Option<Range>,
}

/// What a way is worth, in the definition's terms. Less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Values {
    /// Minus the weight of the musts carried.
    pub must: i32,
    /// Pairs of part and speaker that still sounded and no longer do.
    pub harm: i32,
    /// Minus the weight of the shoulds carried.
    pub should: i32,
    /// Minus the weight of the nices carried.
    pub nice: i32,
    /// Of the hands.
    pub seconds: i32,
    /// Points of sound difference.
    pub diff: i32,
    /// Moves.
    pub moves: i32,
}
