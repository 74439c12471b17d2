//! What is still open in a rig: guesses that were made, and questions worth asking.

use std::fmt;

/// Why a guess or a question matters. Ordered as they are listed: what matters most comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Matters {
    /// It could hurt somebody or something, or be heard by mistake.
    Hurt,
    /// It changes what becomes of a part that must be heard.
    Must,
    /// A lead nearly doesn't reach.
    Reach,
    /// All else: it can wait.
    Later,
}

/// Something that was assumed while reading, with its reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guess {
    /// Line of the file that it was made for, from 1; 0: no single line.
    pub line: usize,
    /// What was assumed, in words: `VOCAL MIC is a dynamic vocal microphone`.
    pub text: String,
    /// Why, in a few words: `from "vocal mic"`.
    pub why: String,
    /// How much it matters.
    pub matters: Matters,
}

impl fmt::Display for Guess {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} (guessed: {})", self.text, self.why)
    }
}

/// One thing only the owner can say. Each answer changes something, or it would not be asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The piece it is about, by name.
    pub about: String,
    /// Which question about it: `click`, `through`, `battery`.
    pub asks: String,
    /// The question, at most twelve words.
    pub text: String,
    /// What may be answered, and what each answer changes. "don't know" is always among them.
    pub choices: Vec<Choice>,
    /// How much it matters.
    pub matters: Matters,
}

impl Question {
    /// The line that answers it, with `says` in it.
    pub fn answered(&self, says: &str) -> String {
        format!("answer {} {}: {says}", self.about, self.asks)
    }
}

/// One answer to a question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// As it is written in the answer's line.
    pub says: String,
    /// What it changes.
    pub changes: String,
}

/// An answer that stands in the file, or a question kept open there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The piece it is about, by name.
    pub about: String,
    /// Which question about it.
    pub asks: String,
    /// What was said; `?`: asked, and open.
    pub says: String,
}

impl Answer {
    /// Is the question still open?
    pub fn is_open(&self) -> bool {
        self.says == "?"
    }
}
