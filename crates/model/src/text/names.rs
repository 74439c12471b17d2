//! Looking up the names a performer types: pieces, sockets, leads.

use std::collections::BTreeMap;

use super::figure;
use super::scan::Piece;
use crate::{Body, Direction, LeadKind, fold};

/// Names folded to lower case, with where they stand.
#[derive(Debug, Default)]
pub(crate) struct Index(BTreeMap<String, usize>);

impl Index {
    /// Adds a name; the place it already had, if any.
    pub(crate) fn add(&mut self, name: &str, place: usize) -> Option<usize> {
        let key = fold(name);
        let old = self.0.get(&key).copied();
        if old.is_none() {
            self.0.insert(key, place);
        }
        old
    }

    pub(crate) fn get(&self, name: &str) -> Option<usize> {
        self.0.get(&fold(name)).copied()
    }

    /// The longest name that `piece` starts with, as whole words, and what follows it.
    pub(crate) fn longest<'a>(&self, piece: Piece<'a>) -> Option<(usize, Piece<'a>)> {
        let mut best = None;
        let ends = piece.text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at);
        // No name is longer than 60 characters, of at most four bytes, and some spaces.
        for end in ends.chain([piece.text.len()]).take_while(|end| *end < 400) {
            if let Some(place) = self.get(piece.to(end).text) {
                best = Some((place, piece.from(end).trim()));
            }
        }
        best
    }
}

/// How a socket was found, or not.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Found {
    /// This one.
    One(usize),
    /// Several fit what was typed.
    Several(Vec<usize>),
    /// None.
    None,
}

/// Words people put before a socket's number.
const PREFIXES: [&str; 9] = ["channel", "ch", "input", "in", "socket", "output", "out", "number", "no"];

/// The socket called `typed`: as printed, else after a word such as `channel`, else the only one of that
/// direction whose name holds all the typed words.
pub(crate) fn socket(body: &Body, typed: &str, direction: Direction) -> Found {
    let exact = |words: &str| {
        let key = fold(words);
        let mut fitting = body.sockets.iter().enumerate().filter(|(_, s)| fold(&s.name) == key);
        fitting.next().map(|(i, _)| i)
    };
    if let Some(i) = exact(typed) {
        return Found::One(i);
    }
    let folded = fold(typed);
    for prefix in PREFIXES {
        if let Some(rest) = folded.strip_prefix(prefix)
            && let Some(i) = exact(rest.trim_start())
        {
            return Found::One(i);
        }
    }
    let words: Vec<&str> = folded.split([' ', '/']).filter(|w| !w.is_empty()).collect();
    let holds = |name: &str| {
        let name = fold(name);
        let parts: Vec<&str> = name.split([' ', '/']).collect();
        words.iter().all(|w| parts.contains(w))
    };
    let fitting: Vec<usize> = body
        .sockets
        .iter()
        .enumerate()
        .filter(|(_, s)| s.direction() == direction && holds(&s.name))
        .map(|(i, _)| i)
        .collect();
    match fitting.as_slice() {
        [] => Found::None,
        [one] => Found::One(*one),
        _ => Found::Several(fitting),
    }
}

/// Cuts the length out of `XLR 6 m` or `6 m XLR`: what is left, and metres.
pub(crate) fn length(piece: Piece<'_>) -> (String, Option<Piece<'_>>) {
    let text = piece.text;
    let starts: Vec<usize> = text
        .char_indices()
        .filter(|(at, c)| {
            c.is_ascii_digit() && text.get(..*at).is_none_or(|t| t.is_empty() || t.ends_with(' '))
        })
        .map(|(at, _)| at)
        .collect();
    for start in starts {
        let here = piece.from(start);
        let Some((_, rest)) = figure::number(here) else { continue };
        let unit = ["metres", "metre", "meters", "meter", "feet", "foot", "ft", "cm", "m"]
            .into_iter()
            .find(|u| rest.after(u).is_some());
        let Some(unit) = unit else { continue };
        let end = rest.start - piece.start + unit.len();
        let left = format!("{} {}", piece.to(start).text, piece.from(end).text);
        return (left.split_whitespace().collect::<Vec<_>>().join(" "), Some(piece.to(end).from(start)));
    }
    (text.split_whitespace().collect::<Vec<_>>().join(" "), None)
}

/// The kind of lead called `name`: its own name or one of its other words, with or without "lead" or "cable".
pub(crate) fn lead_kind<'a>(
    kinds: impl Iterator<Item = &'a LeadKind> + Clone,
    name: &str,
) -> Option<&'a LeadKind> {
    let find = |wanted: &str| {
        kinds.clone().find(|k| fold(&k.name) == wanted || k.also.iter().any(|a| fold(a) == wanted))
    };
    let folded = fold(name);
    find(&folded).or_else(|| {
        let cut = ["lead", "leads", "cable", "cables"].iter().find_map(|w| folded.strip_suffix(w))?;
        find(cut.trim_end())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_found_before_or_after_the_words() {
        for text in ["XLR 6 m", "6 m XLR", "6m XLR"] {
            let (kind, metres) = length(Piece::new(text, 0));
            assert_eq!(kind, "XLR", "{text}");
            assert!(metres.is_some(), "{text}");
        }
        assert_eq!(length(Piece::new("DC barrel 2.1 extension", 0)).1.map(|p| p.text), None);
    }

    #[test]
    fn the_longest_name_wins() {
        let mut index = Index::default();
        index.add("SPEAKER", 0);
        index.add("Speaker 2", 1);
        let (place, rest) = index.longest(Piece::new("speaker 2 in A", 0)).unwrap();
        assert_eq!((place, rest.text), (1, "in A"));
        assert_eq!(index.longest(Piece::new("SPEAKER 3", 0)).map(|(p, _)| p), Some(0));
        assert!(index.longest(Piece::new("SPEAKERS", 0)).is_none());
    }
}
