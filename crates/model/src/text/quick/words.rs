//! Words as performers type them: slips, plurals, other words, and the house spelling of each.

use super::super::figure;
use super::super::scan::Piece;

/// One word of a quick line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Word {
    /// As it is looked up: lower case, singular, house spelling.
    pub(super) house: String,
    /// As typed.
    pub(super) typed: String,
    /// More than one, by its ending.
    pub(super) plural: bool,
    /// Put right: the letters were not those of the word.
    pub(super) slip: bool,
}

impl Word {
    pub(super) fn is(&self, word: &str) -> bool {
        self.house == word
    }

    /// A whole number.
    pub(super) fn number(&self) -> Option<u32> {
        self.house.parse().ok().filter(|n| *n <= 10_000)
    }

    /// How it stands in a name: unknown words as typed, known ones in the house spelling, plurals single.
    pub(super) fn in_name(&self) -> String {
        let known =
            |w: &str| CORE.contains(&w) || ["mic", "di", "amp", "wedge", "drum", "track"].contains(&w);
        // Somebody's box keeps its s; the plural of a word of the trade is one piece of it.
        let own = !self.slip && !known(&self.house) && format!("{}s", self.house) == self.typed;
        if own { self.typed.to_uppercase() } else { self.house.to_uppercase() }
    }
}

/// Other words and abbreviations, with the house's word. Several words on the right mean several words.
const SAME: [(&str, &str); 99] = [
    ("microphone", "mic"),
    ("mike", "mic"),
    ("mik", "mic"),
    ("vox", "vocal"),
    ("vocals", "vocal"),
    ("singing", "vocal"),
    ("desk", "mixer"),
    ("board", "mixer"),
    ("console", "mixer"),
    ("soundboard", "mixer"),
    ("pa", "speaker"),
    ("loudspeaker", "speaker"),
    ("spk", "speaker"),
    ("spkr", "speaker"),
    ("spkrs", "speaker"),
    ("cable", "lead"),
    ("cord", "lead"),
    ("xl", "xlr"),
    ("jak", "jack"),
    ("jck", "jack"),
    ("trs", "balanced jack"),
    ("ts", "jack"),
    ("aux-send", "aux"),
    ("send", "aux"),
    ("auxiliary", "aux"),
    ("gtr", "guitar"),
    ("gtar", "guitar"),
    ("vln", "violin"),
    ("fiddle", "violin"),
    ("keyb", "keyboard"),
    ("kbd", "keyboard"),
    ("epiano", "piano"),
    ("e-piano", "piano"),
    ("ch", "channel"),
    ("chan", "channel"),
    ("chn", "channel"),
    ("input", "in"),
    ("inp", "in"),
    ("inputs", "in"),
    ("ins", "in"),
    ("output", "out"),
    ("outputs", "out"),
    ("outs", "out"),
    ("through", "thru"),
    ("l", "left"),
    ("lh", "left"),
    ("r", "right"),
    ("rh", "right"),
    ("stompbox", "pedal"),
    ("d.i", "di"),
    ("d.i.", "di"),
    ("direct-box", "di"),
    ("cans", "headphone"),
    ("headphones", "headphone"),
    ("phones", "phones"),
    ("computer", "laptop"),
    ("notebook", "laptop"),
    ("wireless", "radio"),
    ("rx", "receiver"),
    ("psu", "supply"),
    ("wallwart", "supply"),
    ("charger", "supply"),
    ("multiway", "strip"),
    ("powerstrip", "strip"),
    ("powerboard", "strip"),
    ("plugboard", "strip"),
    ("multi-way", "strip"),
    ("wall-socket", "outlet"),
    ("foldback", "monitor"),
    ("batteries", "battery"),
    ("splitter", "split"),
    ("y", "split"),
    ("minijack", "mini"),
    ("mini-jack", "mini"),
    ("adaptor", "adapter"),
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("mtr", "m"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("six", "6"),
    ("pair", "2"),
    ("double-a", "aa"),
    ("9v", "9 v"),
    ("12v", "12 v"),
    ("48v", "48v"),
    ("preamplifier", "preamp"),
    ("pre-amp", "preamp"),
    ("amplifier", "amp"),
    ("ears", "ear-pieces"),
    ("stereo", "left right"),
    ("handheld", "hand-held"),
];

/// Words that slips of the pen are put right to: those of the trade that nothing else resembles.
const CORE: [&str; 33] = [
    "xlr",
    "cable",
    "lead",
    "mixer",
    "jack",
    "speaker",
    "microphone",
    "vocal",
    "violin",
    "guitar",
    "piano",
    "pedal",
    "laptop",
    "monitor",
    "wedge",
    "headphone",
    "keyboard",
    "channel",
    "battery",
    "supply",
    "strip",
    "spare",
    "adapter",
    "receiver",
    "pickup",
    "preamp",
    "looper",
    "outlet",
    "amplifier",
    "should",
    "phone",
    "left",
    "right",
];

/// Words that are not slips of one of those, although they look it.
const NO_SLIP: [&str; 24] = [
    "load", "lean", "bead", "head", "read", "leaf", "back", "pack", "black", "rack", "lack", "table",
    "sparse", "share", "space", "trip", "stripe", "medal", "vocals", "edge", "light", "night", "lift",
    "bright",
];

/// Articles: they say nothing.
const ARTICLES: [&str; 5] = ["the", "a", "an", "my", "our"];

/// The words of `text` in the house spelling; `names` are words of names that the file uses.
pub(super) fn words(text: &str, names: &[String]) -> Vec<Word> {
    let mut found: Vec<Word> = Vec::new();
    for raw in spaced(text).split_whitespace() {
        let trimmed = raw.trim_matches(|c: char| matches!(c, ',' | '.' | '!' | '?' | '(' | ')' | '\''));
        if trimmed.is_empty() {
            continue;
        }
        let lower = trimmed.to_lowercase();
        // A piece may be called A.
        if ARTICLES.contains(&lower.as_str()) && trimmed != "A" {
            continue;
        }
        for piece in cut(&lower) {
            one(&piece, &lower, names, &mut found);
        }
    }
    joined(found)
}

/// `1/4"`, `quarter inch`, `3.5 mm` and their like as one word; arrows and commas apart.
fn spaced(text: &str) -> String {
    let mut text = text.replace(['“', '”', '″'], "\"");
    for (typed, house) in [
        ("quarter inch", "jack"),
        ("quarter-inch", "jack"),
        ("1/4\"", "jack"),
        ("1/4 inch", "jack"),
        ("1/4in", "jack"),
        ("6.35 mm", "jack"),
        ("6.35mm", "jack"),
        ("6.3 mm", "jack"),
        ("6.3mm", "jack"),
        ("eighth inch", "mini"),
        ("1/8\"", "mini"),
        ("1/8 inch", "mini"),
        ("3.5 mm", "mini"),
        ("3.5mm", "mini"),
    ] {
        while let Some(at) = find_any_case(&text, typed) {
            text.replace_range(at..at + typed.len(), &format!(" {house} "));
        }
    }
    text.replace('"', " ").replace(['&', '+'], " and ").replace(", ", " and ")
}

fn find_any_case(text: &str, wanted: &str) -> Option<usize> {
    let starts_word = |at: usize| {
        text.get(..at).is_some_and(|t| {
            t.chars().next_back().is_none_or(|c| !c.is_alphanumeric() && c != '/' && c != '.')
        })
    };
    text.char_indices().map(|(at, _)| at).find(|at| {
        text.get(*at..at + wanted.len()).is_some_and(|t| t.eq_ignore_ascii_case(wanted)) && starts_word(*at)
    })
}

/// `6m` is two words, so are `ch1` and `5/6`; `x2` is a count.
fn cut(word: &str) -> Vec<String> {
    if word == "l/r" || word == "l/mono" || word == "l/m" {
        return if word == "l/r" { vec!["left".into(), "right".into()] } else { vec!["l/mono".into()] };
    }
    let parts: Vec<&str> = word.split(['/', '-']).collect();
    if parts.len() > 1 && parts.iter().all(|p| !p.is_empty() && p.chars().all(|c| c.is_ascii_digit())) {
        return parts.into_iter().map(str::to_owned).collect();
    }
    if let Some((a, b)) = word.split_once('/') {
        let known = |w: &str| SAME.iter().any(|(t, _)| *t == w) || CORE.contains(&w);
        if known(a) && known(b) {
            return vec![a.to_owned(), b.to_owned()];
        }
    }
    let piece = Piece::new(word, 0);
    if word.starts_with(|c: char| c.is_ascii_digit())
        && let Some((_, rest)) = figure::number(piece)
        && !rest.is_empty()
        && ["m", "ft", "x", "v", "metre", "metres", "meter", "meters", "feet", "cm", "ch"]
            .contains(&rest.text)
    {
        let number = word.get(..rest.start).unwrap_or(word).to_owned();
        return if rest.is("x") { vec![format!("x{number}")] } else { vec![number, rest.text.to_owned()] };
    }
    let letters = word.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = word.get(letters.len()..).unwrap_or("");
    if !digits.is_empty()
        && ["ch", "chan", "channel", "in", "input", "out", "aux", "mixer", "desk", "speaker"]
            .contains(&letters)
    {
        return vec![letters.to_owned(), digits.to_owned()];
    }
    vec![word.to_owned()]
}

/// One typed word as one or more house words.
fn one(word: &str, typed: &str, names: &[String], out: &mut Vec<Word>) {
    let known =
        |w: &str| SAME.iter().any(|(t, _)| *t == w) || CORE.contains(&w) || names.iter().any(|n| n == w);
    let (single, plural) = if known(word) { (word.to_owned(), false) } else { singular(word) };
    let (right, slip) = match slip(&single, names) {
        Some(right) if !known(&single) => (right, true),
        _ => (single, false),
    };
    let house = SAME.iter().find(|(t, _)| *t == right).map_or(right.as_str(), |(_, h)| h);
    let plural = plural || ["pa", "ears", "headphones"].contains(&word) && word == "pa";
    for part in house.split(' ') {
        out.push(Word { house: part.to_owned(), typed: typed.to_owned(), plural, slip });
    }
}

/// `jacks` is more than one jack.
fn singular(word: &str) -> (String, bool) {
    let keep = [
        "bass",
        "keys",
        "tracks",
        "phones",
        "drums",
        "ears",
        "headphones",
        "trs",
        "ts",
        "less",
        "across",
        "main",
        "mains",
        "congas",
        "bus",
    ];
    match word.strip_suffix('s') {
        Some(stem) if !keep.contains(&word) && stem.len() > 2 && !stem.ends_with('s') => {
            (stem.to_owned(), true)
        }
        _ => (word.to_owned(), false),
    }
}

/// The word that was meant, when exactly one is a slip away.
fn slip(word: &str, names: &[String]) -> Option<String> {
    let letters = word.chars().count();
    if letters < 3 || word.chars().any(|c| !c.is_alphabetic()) || NO_SLIP.contains(&word) {
        return None;
    }
    let own = names.iter().map(String::as_str).filter(|n| n.len() >= 5 && n.chars().all(char::is_alphabetic));
    let mut meant: Vec<&str> = CORE.into_iter().chain(own).filter(|w| is_slip(word, w, letters)).collect();
    meant.sort_unstable();
    meant.dedup();
    match meant.as_slice() {
        [one] => Some((*one).to_owned()),
        _ => None,
    }
}

/// One letter wrong, left out, added, or swapped with its neighbour. Of three letters: only swapped.
fn is_slip(typed: &str, word: &str, letters: usize) -> bool {
    let (a, b): (Vec<char>, Vec<char>) = (typed.chars().collect(), word.chars().collect());
    if a.len() == b.len() {
        let differ: Vec<usize> = (0..a.len()).filter(|i| a.get(*i) != b.get(*i)).collect();
        return match differ.as_slice() {
            [i, j] => *j == i + 1 && a.get(*i) == b.get(*j) && a.get(*j) == b.get(*i),
            // A wrong letter in a short word may be another word.
            [_] => letters >= 5,
            _ => false,
        };
    }
    let (short, long) = if a.len() < b.len() { (&a, &b) } else { (&b, &a) };
    letters >= 4
        && long.len() == short.len() + 1
        && (0..long.len()).any(|gap| {
            let rest = long.iter().enumerate().filter(|(i, _)| *i != gap).map(|(_, c)| c);
            rest.eq(short.iter())
        })
}

/// Doubled words made by the above become one: `1/4" jack`, `mini jack`, `quarter inch jack`.
fn joined(words: Vec<Word>) -> Vec<Word> {
    let mut out: Vec<Word> = Vec::new();
    let units = ["m", "ft", "cm", "v", "h"];
    for (i, word) in words.iter().enumerate() {
        let mut word = word.clone();
        let unit = words.get(i + 1).is_some_and(|w| units.contains(&w.house.as_str()));
        if word.is("3.5") && !unit {
            word.house = "mini".to_owned();
        } else if (word.is("6.35") || word.is("6.3")) && !unit {
            word.house = "jack".to_owned();
        }
        let last = out.last().map(|w| w.house.clone()).unwrap_or_default();
        let doubled = (last == "jack" && word.is("jack")) || (last == "mini" && word.is("jack"));
        match out.last_mut() {
            Some(before) if doubled => {
                before.plural |= word.plural;
                before.typed = format!("{} {}", before.typed, word.typed);
            }
            _ => out.push(word),
        }
    }
    out
}

/// The house words with a space between.
pub(super) fn phrase(words: &[Word]) -> String {
    words.iter().map(|w| w.house.as_str()).collect::<Vec<_>>().join(" ")
}

/// As typed, with a space between.
pub(super) fn typed(words: &[Word]) -> String {
    let mut out: Vec<&str> = Vec::new();
    for w in words {
        if out.last() != Some(&w.typed.as_str()) {
            out.push(&w.typed);
        }
    }
    out.join(" ")
}

/// A length in metres among the words, and the words without it.
pub(super) fn take_length(words: &mut Vec<Word>) -> Option<f64> {
    for i in 0..words.len() {
        let Some(value) = words.get(i).and_then(|w| w.house.parse::<f64>().ok()) else { continue };
        let factor = match words.get(i + 1).map(|w| w.house.as_str()) {
            Some("m") => 1.0,
            Some("ft") => 0.3048,
            Some("cm") => 0.01,
            _ => continue,
        };
        if !(0.0..=500.0).contains(&(value * factor)) {
            continue;
        }
        words.drain(i..i + 2);
        return Some(value * factor);
    }
    None
}

/// How many, said first (`2 jacks`) or as `x2`.
pub(super) fn take_count(words: &mut Vec<Word>) -> Option<u32> {
    if let Some(i) = words.iter().position(|w| {
        w.house
            .strip_prefix(['x', '×'])
            .is_some_and(|n| !n.is_empty() && n.parse::<u32>().is_ok_and(|n| n <= 100))
    }) {
        let word = words.remove(i);
        return word.house.strip_prefix(['x', '×']).and_then(|n| n.parse().ok());
    }
    let first = words.first().and_then(Word::number).filter(|n| *n <= 100);
    if let (Some(n), Some(next)) = (first, words.get(1))
        && next.number().is_none()
        && !["m", "ft", "cm", "v", "way", "left", "right", "and", "channel"].contains(&next.house.as_str())
    {
        words.remove(0);
        if words.first().is_some_and(|w| w.is("of")) {
            words.remove(0);
        }
        return Some(n);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn house(text: &str) -> String {
        phrase(&words(text, &[]))
    }

    #[test]
    fn what_people_type_is_shown_in_the_house_spelling() {
        for (typed, wanted) in [
            ("xrl", "xlr"),
            ("cabel", "lead"),
            ("mixr", "mixer"),
            ("jak", "jack"),
            ("quarter inch", "jack"),
            ("1/4\" jack", "jack"),
            ("3.5 mm", "mini"),
            ("6m XLR cable", "6 m xlr lead"),
            ("PA", "speaker"),
            ("the desk", "mixer"),
            ("board ch 1", "mixer channel 1"),
            ("mixer ch1", "mixer channel 1"),
            ("2 jacks", "2 jack"),
            ("AA x8", "aa x8"),
            ("piano L/R", "piano left right"),
            ("5/6", "5 6"),
            ("old red vocal", "old red vocal"),
            ("black box", "black box"),
            ("20 feet", "20 ft"),
        ] {
            assert_eq!(house(typed), wanted, "{typed}");
        }
    }

    #[test]
    fn words_of_the_files_own_names_are_put_right_too() {
        let names = ["trolley".to_owned()];
        assert_eq!(phrase(&words("trolly", &names)), "trolley");
        assert_eq!(phrase(&words("trolly", &[])), "trolly");
    }

    #[test]
    fn counts_and_lengths_are_taken_out() {
        let mut w = words("2 XLR 6m", &[]);
        assert_eq!((take_count(&mut w), take_length(&mut w), phrase(&w)), (Some(2), Some(6.0), "xlr".into()));
        let mut w = words("6 m XLR", &[]);
        assert_eq!((take_count(&mut w), take_length(&mut w)), (None, Some(6.0)));
        let mut w = words("AA x8", &[]);
        assert_eq!((take_count(&mut w), phrase(&w)), (Some(8), "aa".into()));
    }
}
