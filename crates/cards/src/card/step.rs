//! A step, how one sees that it worked, and what is back after it.

use crate::line::Line;
use crate::seconds::Seconds;

/// One thing one hand does: one plug, one switch or one knob.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// From 1, as drawn in the picture's discs.
    pub number: u32,
    /// Verb, thing, end, from, to, the switch that goes with it. At most 12 words a sentence.
    pub words: Line,
    /// The thing to see or hear when it worked.
    pub sign: Sign,
    /// Seconds the hands need, an estimate.
    pub seconds: u32,
    /// Who does it, when two people share the steps.
    pub who: Option<String>,
    /// A caution for this step. Distinct ones are said once above the steps too.
    pub caution: Option<Line>,
    /// Whether the step makes a new lead (its number stands in a black disc in the picture).
    pub new_lead: bool,
    /// What is back once this step is done.
    pub marks: Vec<Mark>,
}

/// The thing to see or hear at a step's end, without the word "see" or "hear".
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Sign {
    /// See: "lamp `B` lit".
    See(Line),
    /// Hear: "your own voice, soft".
    Hear(Line),
    /// Feel or touch: "the plug clicks".
    Feel(Line),
}

impl Sign {
    /// The whole sentence: "See lamp B lit."
    pub fn line(&self) -> Line {
        let (word, line) = match self {
            Self::See(line) => ("See", line),
            Self::Hear(line) => ("Hear", line),
            Self::Feel(line) => ("Feel", line),
        };
        line.after_words(word).stopped()
    }
}

/// A line after a step: one may stop here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// These parts are back.
    Back {
        /// Their names, at least one: "voice".
        parts: Vec<String>,
        /// From the silence.
        seconds: Seconds,
    },
    /// These parts are heard, though a later step turns them down again.
    Heard {
        /// Their names, at least one: "voice".
        parts: Vec<String>,
        /// From the silence.
        seconds: Seconds,
    },
    /// These parts are back, but thin, or on one side only.
    Thin {
        /// Their names, at least one.
        parts: Vec<String>,
        /// In what way: "right side only".
        how: String,
        /// From the silence.
        seconds: Seconds,
    },
    /// These parts stay silent.
    NotTonight {
        /// Their names, at least one.
        parts: Vec<String>,
    },
    /// Everything is back.
    AllBack {
        /// From the silence.
        seconds: Seconds,
    },
}

impl Mark {
    /// "Voice is back, about 30–60 s"; no full stop.
    pub fn said(&self) -> String {
        match self {
            Self::Back { parts, seconds } => format!("{} back, {}", subject(parts), seconds.said()),
            Self::Heard { parts, seconds } => {
                format!("{} heard, {}. You may stop here", subject(parts), seconds.said())
            }
            Self::Thin { parts, how, seconds } => {
                format!("{} back, {how}, {}", subject(parts), seconds.said())
            }
            Self::NotTonight { parts } => format!("{} not back tonight", subject(parts)),
            Self::AllBack { seconds } => format!("All is back, {}", seconds.said()),
        }
    }
}

/// "Voice is", "Keys are", "Voice and keys are".
fn subject(parts: &[String]) -> String {
    let names = list(parts);
    let mut chars = names.chars();
    let capital: String = chars.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    // A plain rule for names that owners make up: "keys", "tracks", "drums" are many; "bass", "voice" are one.
    let many = parts.len() > 1 || names.contains(" and ") || (names.ends_with('s') && !names.ends_with("ss"));
    format!("{capital}{} {}", chars.as_str(), if many { "are" } else { "is" })
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(names: &[&str]) -> Vec<String> {
        names.iter().map(|s| (*s).to_owned()).collect()
    }

    #[test]
    fn marks_read_as_sentences() {
        let seconds = Seconds { least: 30, most: 60 };
        let back = |parts: &[&str]| Mark::Back { parts: names(parts), seconds }.said();
        assert_eq!(back(&["voice"]), "Voice is back, about 30–60 s");
        assert_eq!(back(&["keys"]), "Keys are back, about 30–60 s");
        assert_eq!(back(&["bass"]), "Bass is back, about 30–60 s");
        assert_eq!(back(&["voice", "violin"]), "Voice and violin are back, about 30–60 s");
        let heard = Mark::Heard { parts: names(&["voice"]), seconds }.said();
        assert_eq!(heard, "Voice is heard, about 30–60 s. You may stop here");
        assert_eq!(Mark::NotTonight { parts: names(&["keys"]) }.said(), "Keys are not back tonight");
    }

    #[test]
    fn no_names_at_all_is_no_crash() {
        assert_eq!(Mark::NotTonight { parts: vec![] }.said(), " is not back tonight");
    }
}
