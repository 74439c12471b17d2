//! The words a card may use, and how long a sentence may be.
//!
//! Performers read cards in the dark, some in their second language: sentences of at most 12 words, no word of the
//! program's own trade, nothing that blames, cheers or begs. Taped names and printed labels are exempt: they are
//! whatever is written on the gear.

mod avoid;
mod whole;

use std::fmt;

use crate::line::{Line, Run, text};
use avoid::avoided;

pub use avoid::AVOID;
pub use whole::{check_card, check_deck};

/// The most words in a sentence.
pub const SENTENCE: usize = 12;
/// The most words in a look.
pub const LOOK_WORDS: usize = 5;
/// The most looks on a card.
pub const LOOKS: usize = 4;
/// The most seconds all looks of a card take together.
pub const LOOK_SECONDS: u32 = 10;

/// What is wrong with a line of words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Problem {
    /// A sentence has more than [`SENTENCE`] words.
    TooLong {
        /// How many it has; a taped name or a printed label counts as one.
        words: usize,
    },
    /// A word stands there that a performer must not meet.
    Avoided {
        /// The word as it stands.
        word: String,
        /// What to say instead.
        say: &'static str,
    },
    /// A letter or sign the font cannot draw, or an exclamation mark.
    Sign(char),
    /// A look has more than [`LOOK_WORDS`] words.
    LongLook(usize),
    /// More than [`LOOKS`] looks.
    ManyLooks(usize),
    /// The looks take more than [`LOOK_SECONDS`] together.
    SlowLooks(u32),
    /// Nothing is said where something must be.
    Empty,
    /// The step's number is not its place.
    StepNumber(u32),
    /// A card that does not exist.
    NoCard(u32),
    /// No way round is claimed while steps bring a part back, or the nearest thing is named without that claim.
    ProofDisagrees,
    /// A card stands beside a hazard.
    Offered,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong { words } => write!(f, "{words} words in a sentence; at most {SENTENCE}"),
            Self::Avoided { word, say } => write!(f, "the word “{word}”; say {say}"),
            Self::Sign(c) => write!(f, "the sign “{c}”; write a word"),
            Self::LongLook(words) => write!(f, "{words} words in a look; at most {LOOK_WORDS}"),
            Self::ManyLooks(n) => write!(f, "{n} looks; at most {LOOKS}"),
            Self::SlowLooks(s) => write!(f, "looks of {s} s together; at most {LOOK_SECONDS} s"),
            Self::Empty => write!(f, "nothing is said here"),
            Self::StepNumber(n) => write!(f, "step number {n} is not its place"),
            Self::NoCard(n) => write!(f, "there is no card {n}"),
            Self::Offered => write!(f, "a card is offered while a hazard stands"),
            Self::ProofDisagrees => write!(f, "“no way round” and the steps disagree"),
        }
    }
}

/// A problem and where it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// "card 3, step 2".
    pub at: String,
    /// The line's words.
    pub words: String,
    /// What is wrong.
    pub problem: Problem,
}

impl fmt::Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}: “{}”", self.at, self.problem, self.words)
    }
}

/// What is wrong with one line of words; empty when nothing is.
///
/// A sentence ends at `. ! ? :` followed by a space or the end, or at a line's end. A taped name or a printed label
/// counts as one word, since it is read as one sign and the owner chose its letters.
pub fn check(line: &Line) -> Vec<Problem> {
    let mut out = Vec::new();
    let mut words = 0;
    let mut own = String::new();
    for run in &line.0 {
        match run {
            Run::Tape(_) | Run::Printed(_) => {
                words += 1;
                // Apart from its neighbours, so that no two words meet across a name.
                own.push_str(" | ");
            }
            Run::Verb(s) | Run::Text(s) => {
                own.push(' ');
                own.push_str(s);
                let mut chars = s.chars().peekable();
                let mut in_word = false;
                while let Some(c) = chars.next() {
                    if c.is_alphanumeric() && !in_word {
                        words += 1;
                        in_word = true;
                    } else if c.is_whitespace() || c == '\u{a0}' {
                        in_word = false;
                    }
                    let ends =
                        matches!(c, '.' | '!' | '?' | ':') && chars.peek().is_none_or(|n| n.is_whitespace());
                    if ends || c == '\n' {
                        too_long(&mut out, words);
                        words = 0;
                    }
                    if c == '!' || !(c.is_whitespace() || crate::font::has(c)) {
                        out.push(Problem::Sign(c));
                    }
                }
            }
        }
    }
    too_long(&mut out, words);
    out.extend(avoided(&own));
    out
}

fn too_long(out: &mut Vec<Problem>, words: usize) {
    if words > SENTENCE {
        out.push(Problem::TooLong { words });
    }
}

/// How many words a line has; a taped name or a printed label is one.
pub fn count(line: &Line) -> usize {
    line.0
        .iter()
        .map(|run| match run {
            Run::Tape(_) | Run::Printed(_) => 1,
            Run::Verb(s) | Run::Text(s) => {
                s.split_whitespace().filter(|w| w.contains(char::is_alphanumeric)).count()
            }
        })
        .sum()
}

/// What is wrong with plain words that came from somewhere else, such as a rendered page.
pub fn check_text(words: &str) -> Vec<Problem> {
    words.lines().flat_map(|line| check(&Line::from([text(line)]))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::line::{printed, tape, verb};

    #[test]
    fn twelve_words_pass_and_thirteen_do_not() {
        assert_eq!(check(&"a b c d e f g h i j k l.".into()), []);
        assert_eq!(check(&"a b c d e f g h i j k l m.".into()), [Problem::TooLong { words: 13 }]);
        assert_eq!(check(&"a b c d e f: g h i j k l m".into()), []);
        assert_eq!(check(&"a b c d e f\ng h i j k l m".into()), []);
    }

    #[test]
    fn a_decimal_point_or_a_clock_ends_no_sentence() {
        assert_eq!(check(&"It must say 1.5 A or more, b c d e f.".into()), []);
        assert_eq!(
            check(&"It must say 1.5 A or more, b c d e f g h.".into()),
            [Problem::TooLong { words: 14 }]
        );
    }

    #[test]
    fn a_taped_name_counts_as_one_word_and_may_be_any_word() {
        let runs =
            [verb("move"), tape("PATCH COVER MODE"), text("lead into"), tape("GAP"), printed("CLASS D LINK")];
        assert_eq!(check(&runs.clone().into()), []);
        assert_eq!(count(&runs.into()), 6);
    }

    #[test]
    fn words_of_the_trade_are_found_in_any_case_and_number() {
        for words in [
            "A fault.",
            "Two Faults?",
            "the patch's end",
            "GAPS",
            "Just pull it.",
            "the channel strip",
            "moved, re-patched: re-patch",
        ] {
            assert!(check(&words.into()).iter().any(|p| matches!(p, Problem::Avoided { .. })), "{words}");
        }
        for words in
            ["Hands off.", "It starts apart.", "Justly", "the recovered class-free", "Lift with two hands."]
        {
            assert_eq!(check(&words.into()), [], "{words}");
        }
    }

    #[test]
    fn two_words_do_not_meet_across_a_name() {
        let line = Line::from([text("channel"), printed("3"), text("strip")]);
        assert_eq!(check(&line), []);
    }

    #[test]
    fn signs_the_font_lacks_and_exclamations_are_found() {
        assert_eq!(check(&"Pull it!".into()), [Problem::Sign('!')]);
        assert_eq!(check(&"A → B".into()), [Problem::Sign('→')]);
        assert_eq!(check(&"“Café”, 3 × 30–60 s ·".into()), []);
    }
}
