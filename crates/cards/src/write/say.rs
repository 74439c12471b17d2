//! Words that somebody else chose, made fit for a card.

use crate::line::{Line, Run, printed, text};
use crate::words;

/// The owner's words as plain words where the word rules allow and there are at most `most`; else as a label.
pub(super) fn owner(said: &str, most: usize) -> Run {
    let said = said.trim();
    if fits(said, most) {
        text(said)
    } else if said.is_empty() {
        printed("?")
    } else {
        printed(said)
    }
}

/// May these words stand on a card as its own, and are there at most `most`?
pub(super) fn fits(said: &str, most: usize) -> bool {
    let line = Line::text(said);
    let count = words::count(&line);
    (1..=most).contains(&count) && words::check(&line).is_empty() && !said.ends_with([':', ',', '('])
}

/// Whole sentences of the owner's: those too long are cut at their commas, those in words a performer must not meet
/// stand as a label.
pub(super) fn sentences(said: &str) -> Vec<Run> {
    let mut out = Vec::new();
    for sentence in split(said) {
        if fits(&sentence, words::SENTENCE) {
            out.push(text(format!("{sentence}.")));
            continue;
        }
        let pieces: Vec<String> = sentence.split([',', ':']).map(|p| capital(p.trim())).collect();
        if pieces.len() > 1 && pieces.iter().all(|p| fits(p, words::SENTENCE)) {
            out.extend(pieces.iter().map(|p| text(format!("{p}."))));
        } else {
            out.push(printed(&sentence));
            out.push(text("."));
        }
    }
    out
}

/// Sentences without their full stops.
fn split(said: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut now = String::new();
    let mut chars = said.chars().peekable();
    while let Some(c) = chars.next() {
        let ends = matches!(c, '.' | '!' | '\n') && chars.peek().is_none_or(|n| n.is_whitespace());
        if ends {
            out.push(std::mem::take(&mut now));
        } else {
            now.push(c);
        }
    }
    out.push(now);
    out.iter().map(|s| s.trim().to_owned()).filter(|s| !s.is_empty()).collect()
}

/// With a capital first letter.
pub(super) fn capital(said: &str) -> String {
    let mut chars = said.chars();
    chars.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default() + chars.as_str()
}

/// With a small first letter.
pub(super) fn small(said: &str) -> String {
    let mut chars = said.chars();
    chars.next().map(|c| c.to_lowercase().collect::<String>()).unwrap_or_default() + chars.as_str()
}

/// Names in groups whose list ("a and b") has at most `most` words.
pub(super) fn chunks(names: &[String], most: usize) -> Vec<Vec<String>> {
    let mut out: Vec<Vec<String>> = Vec::new();
    for name in names {
        if let Some(last) = out.last_mut() {
            let mut longer = last.clone();
            longer.push(name.clone());
            if words::count(&Line::text(list(&longer))) <= most {
                *last = longer;
                continue;
            }
        }
        out.push(vec![name.clone()]);
    }
    out
}

/// "a", "a and b", "a, b and c".
pub(super) fn list(names: &[String]) -> String {
    crate::card::list(names)
}

/// Do these names take "are"?
pub(super) fn many(names: &[String]) -> bool {
    names.len() > 1 || names.iter().any(|n| n.ends_with('s') && !n.ends_with("ss"))
}

/// "is" or "are".
pub(super) fn is(names: &[String]) -> &'static str {
    if many(names) { "are" } else { "is" }
}

/// Seconds as a card holds them.
pub(super) fn whole(seconds: i32) -> u32 {
    u32::try_from(seconds).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_that_may_not_stand_are_labels() {
        assert_eq!(owner("voice", 3), text("voice"));
        assert_eq!(owner("the patch", 3), printed("the patch"));
        assert_eq!(owner("one two three four", 3), printed("one two three four"));
        assert_eq!(owner("fire!", 3), printed("fire!"));
        assert_eq!(owner(" ", 3), printed("?"));
    }

    #[test]
    fn long_cautions_are_cut_at_their_commas() {
        let said =
            "Dry hands. Breaker gone: find out why first, put it back once only, the room's staff do it.";
        let line = Line(sentences(said));
        assert_eq!(
            line.plain(),
            "Dry hands. Breaker gone. Find out why first. Put it back once only. The room's staff do it."
        );
        assert_eq!(words::check(&line), []);
        assert_eq!(words::check(&Line(sentences("Only in its DC socket!"))), []);
    }
}
