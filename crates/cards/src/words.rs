//! The words a card may use, and how long a sentence may be.
//!
//! Performers read cards in the dark, some in their second language: sentences of at most 12 words, no word of the
//! program's own trade, nothing that blames, cheers or begs. Taped names and printed labels are exempt: they are
//! whatever is written on the gear.

use std::fmt;

use crate::card::{Card, Next, Proof, UNTRIED};
use crate::deck::{Deck, Rank};
use crate::line::{Line, Run, text};

/// The most words in a sentence.
pub const SENTENCE: usize = 12;
/// The most words in a look.
pub const LOOK_WORDS: usize = 5;
/// The most looks on a card.
pub const LOOKS: usize = 4;
/// The most seconds all looks of a card take together.
pub const LOOK_SECONDS: u32 = 10;

/// Words that never stand in a card's own words, with what to say instead.
///
/// Left-column words of the word list whose right column differs, and the words to avoid on performers' pages.
/// Some left-column words are also everyday words on a card in another sense ("this gear", "look first", "Ferry
/// deck room", "both hands", "stops the show") and so cannot stand here.
pub const AVOID: &[(&str, &str)] = &[
    ("kind", "type of gear"),
    ("socket", "what is printed beside it"),
    ("route", "nothing, or what is plugged into what"),
    ("setting", "what is printed on it"),
    ("link", "what is plugged into what"),
    ("patch", "how it is plugged"),
    ("re-patch", "move, pull or push"),
    ("source", "its name"),
    ("listener", "audience, or the name"),
    ("part", "its name"),
    ("fault", "what died"),
    ("cover", "way round"),
    ("gap", "no way round"),
    ("hand", "the name"),
    ("case", "spare bag"),
    ("trial", "tried"),
    ("optimal", "no quicker way"),
    ("optimum", "no quicker way"),
    ("valid", "nothing"),
    ("invalid", "nothing"),
    ("proved", "no quicker way"),
    ("proof", "no quicker way"),
    ("node", "its name"),
    ("path", "nothing"),
    ("class", "nothing"),
    ("mode", "what happened"),
    ("state", "what happened"),
    ("posterior", "about 1 show in 30"),
    ("probability", "about 1 show in 30"),
    ("connect", "move, pull or push one plug"),
    ("channel strip", "what is printed on it"),
    ("gain stage", "what is printed on it"),
    ("simply", "nothing"),
    ("just", "nothing"),
    ("please", "nothing"),
    ("sorry", "nothing"),
    ("thanks", "nothing"),
    ("oops", "nothing"),
    ("danger", "the caution itself"),
    ("warning", "the caution itself"),
    ("emergency", "the caution itself"),
    ("error", "what happened"),
];

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

/// The avoided words in `words`, singular or plural.
fn avoided(words: &str) -> Vec<Problem> {
    let lower = words.to_lowercase().replace('\u{a0}', " ");
    let tokens: Vec<&str> = lower
        .split(|c: char| c.is_whitespace())
        .map(|w| w.trim_matches(|c: char| !c.is_alphanumeric() && c != '|'))
        .filter(|w| !w.is_empty())
        .collect();
    let mut out = Vec::new();
    for (word, say) in AVOID {
        let found = tokens.iter().enumerate().any(|(at, token)| match word.split_once(' ') {
            Some((first, second)) => *token == first && tokens.get(at + 1) == Some(&second),
            None => same_word(token, word),
        });
        if found {
            out.push(Problem::Avoided { word: (*word).to_owned(), say });
        }
    }
    out
}

/// The word itself, its plural, or with a "'s".
fn same_word(token: &str, word: &str) -> bool {
    let Some(rest) = token.strip_prefix(word) else { return false };
    // "hands" is everyday ("hands off", "two hands"); every other plural is the same word.
    matches!(rest, "" | "'s" | "’s") || (matches!(rest, "s" | "es" | "ed") && word != "hand")
}

/// Everything wrong with a card's words, numbers and looks.
pub fn check_card(card: &Card) -> Vec<Found> {
    let mut c = Checker { card: card.number, found: Vec::new() };
    c.must("title", &card.title);
    c.line("mouth line", &Line::text(card.mouth.word.words()));
    c.must("mouth line", &card.mouth.heard);
    for look in &card.looks {
        c.must("look", &look.words);
        let words = count(&look.words);
        if words > LOOK_WORDS {
            c.push("look", &look.words.plain(), Problem::LongLook(words));
        }
    }
    if card.looks.len() > LOOKS {
        c.push("looks", "", Problem::ManyLooks(card.looks.len()));
    }
    let seconds = card.looks.iter().fold(0_u32, |sum, look| sum.saturating_add(look.seconds));
    if seconds > LOOK_SECONDS {
        c.push("looks", "", Problem::SlowLooks(seconds));
    }
    for carry_on in &card.carry_on {
        c.line("carry on", &Line::text(carry_on.kind.words()));
        c.line("carry on", &carry_on.words);
    }
    for line in &card.before {
        c.must("before the steps", line);
    }
    for (place, step) in (1_u32..).zip(&card.steps) {
        let at = format!("step {place}");
        if step.number != place {
            c.push(&at, "", Problem::StepNumber(step.number));
        }
        let who = step.who.as_ref().map(|who| Run::Tape(who.clone()));
        let words: Vec<Run> = who.into_iter().chain(step.words.0.iter().cloned()).collect();
        c.must(&at, &words.into());
        c.must(&at, &step.sign.line());
        if let Some(caution) = &step.caution {
            c.must(&at, &caution.after_words("Take care:"));
        }
        for mark in &step.marks {
            c.line(&at, &Line::text(mark.said()));
        }
    }
    if let Some(picture) = &card.picture {
        for fact in picture.facts() {
            c.line("picture", &fact);
        }
    }
    let after = crate::text::after_picture(card);
    for (label, lines) in after {
        for line in lines {
            c.must(label, &line.after_words(label));
        }
    }
    for guess in &card.guessed {
        c.must("guessed", &guess.after_words("Guessed:"));
    }
    c.next("still nothing", &card.still_nothing);
    for without in &card.havent_got {
        c.must("haven’t got", &without.thing.after_words("Haven’t got"));
        c.next("haven’t got", &without.then);
    }
    for line in &card.would_do {
        c.must("nearest thing", line);
    }
    if card.proof != Some(Proof::NoWay) && !card.would_do.is_empty() {
        c.push("nearest thing", "", Problem::ProofDisagrees);
    }
    if let Some(proof) = card.proof {
        c.line("how sure", &Line::text(proof.words()));
    }
    c.line("tried", &Line::text(UNTRIED));
    c.found
}

/// Everything wrong with a deck's words: each card's, the list's, and cards named that do not exist.
pub fn check_deck(deck: &Deck) -> Vec<Found> {
    let mut c = Checker { card: 0, found: Vec::new() };
    for hazard in &deck.hazards {
        c.must("hazard", &hazard.what);
        c.must("hazard, what to do", &hazard.cure);
    }
    c.line("hazard", &Line::text(deck.withheld().unwrap_or_default()));
    for line in &deck.tingle {
        c.must("stop box", line);
    }
    for row in &deck.silent {
        let at = format!("list, {}", row.name);
        c.line(&at, &row.note);
        c.line(&at, &Line::text(row.mouth.words()));
        for look in &row.looks {
            c.must(&at, look);
        }
        for number in &row.cards {
            if deck.card(*number).is_none() {
                c.push(&at, "", Problem::NoCard(*number));
            }
        }
    }
    if !deck.hazards.is_empty() && !deck.cards.is_empty() {
        c.push("hazard", "", Problem::Offered);
    }
    for rank in Rank::ALL {
        c.line("list", &Line::text(rank.words()));
    }
    c.must("list, last line", &deck.last_resort);
    let mut found = c.found;
    for card in &deck.cards {
        found.extend(check_card(card));
        let mut c = Checker { card: card.number, found: Vec::new() };
        let nexts = std::iter::once(&card.still_nothing).chain(card.havent_got.iter().map(|h| &h.then));
        let nexts = nexts.filter_map(|next| if let Next::Card(number) = next { Some(*number) } else { None });
        for number in nexts.chain(card.next_of) {
            if deck.card(number).is_none() {
                c.push("next card", "", Problem::NoCard(number));
            }
        }
        found.extend(c.found);
    }
    found
}

struct Checker {
    card: u32,
    found: Vec<Found>,
}

impl Checker {
    fn push(&mut self, at: &str, words: &str, problem: Problem) {
        let at = if self.card == 0 { at.to_owned() } else { format!("card {}, {at}", self.card) };
        self.found.push(Found { at, words: words.to_owned(), problem });
    }

    fn line(&mut self, at: &str, line: &Line) {
        for problem in check(line) {
            self.push(at, &line.plain(), problem);
        }
    }

    fn must(&mut self, at: &str, line: &Line) {
        if line.is_empty() {
            self.push(at, "", Problem::Empty);
        }
        self.line(at, line);
    }

    fn next(&mut self, at: &str, next: &Next) {
        if let Next::Words(line) = next {
            self.must(at, line);
        }
    }
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
