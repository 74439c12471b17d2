//! Words that a performer must not meet on a card.

use super::Problem;

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

/// The avoided words in `words`, singular or plural.
pub(super) fn avoided(words: &str) -> Vec<Problem> {
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
