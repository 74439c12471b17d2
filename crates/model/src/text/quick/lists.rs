//! `spare: …` and `must: …; should: …; not in house: …`.

use super::name;
use super::words::{Word, phrase, take_count, take_length, typed, words};
use super::{Quick, Read};
use crate::{Matters, shelf};

/// Heads of lists of parts, with the full form's word.
const RANKS: [(&str, &str); 11] = [
    ("must", "must"),
    ("should", "should"),
    ("nice", "nice"),
    ("nice to have", "nice"),
    ("never", "never"),
    ("not in house", "never"),
    ("never in house", "never"),
    ("not in speaker", "never"),
    ("not out front", "never"),
    ("not for audience", "never"),
    ("not to audience", "never"),
];

/// Other words for what is made, with the shelf's own.
const MADE: [(&str, &str); 9] = [
    ("vocal", "voice"),
    ("singer", "voice"),
    ("sing", "voice"),
    ("piano", "keys"),
    ("keyboard", "keys"),
    ("backing", "tracks"),
    ("track", "tracks"),
    ("backing track", "tracks"),
    ("metronome", "click"),
];

/// A list of parts; `None` when it is none.
pub(super) fn parts(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    let (head, list) = text.split_once(':')?;
    let mut said = words(head, &[]);
    let weight = said.last().and_then(Word::number);
    if weight.is_some() {
        said.pop();
    }
    let head = phrase(&said);
    let (_, rank) = RANKS.iter().find(|(w, _)| *w == head)?;
    let (list, whom) = match list.find(" for ") {
        Some(at) => (list.get(..at).unwrap_or(list), list.get(at..).unwrap_or("").trim()),
        None => (list, ""),
    };
    let sources: Vec<String> =
        list.split([',', '+', '&']).flat_map(|p| p.split(" and ")).filter_map(|p| source(q, p)).collect();
    if sources.is_empty() {
        return None;
    }
    // A quick line has said already that the click must not reach the audience.
    let sources: Vec<String> = if *rank == "never" && whom.is_empty() && q.click_is_kept {
        q.heard = true;
        sources.into_iter().filter(|s| s != "click").collect()
    } else {
        sources
    };
    if sources.is_empty() {
        return Some(Ok(()));
    }
    let weight = weight.filter(|n| *n > 1).map_or(String::new(), |n| format!(" {n}"));
    let whom = if whom.is_empty() { "for audience" } else { whom };
    Some(q.push(&format!("{rank}{weight}: {} {whom}", sources.join(", "))))
}

/// The source that words mean: by its name, by another word for it, or by the piece that makes it.
pub(super) fn source(q: &Quick<'_>, text: &str) -> Option<String> {
    let clean = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if clean.is_empty() {
        return None;
    }
    let made = |name: &str| {
        q.pieces
            .iter()
            .flat_map(|g| &g.body.makes)
            .find(|m| crate::same_name(&m.source, name))
            .map(|m| m.source.clone())
    };
    let said = phrase(&words(&clean, &q.name_words));
    let other = MADE.iter().find(|(w, _)| *w == said).map(|(_, m)| *m);
    made(&clean)
        .or_else(|| made(&said))
        .or_else(|| other.and_then(made))
        .or_else(|| {
            let piece = q
                .pieces
                .iter()
                .find(|g| crate::same_name(&g.name, &clean) || crate::same_name(&g.name, &said))?;
            piece.body.makes.first().map(|m| m.source.clone())
        })
        .or_else(|| other.map(str::to_owned))
        .or(Some(clean))
}

/// `spare: mic, 2 XLR 6m, AA x8`; `None` when it is no such list.
pub(super) fn spare(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    let (head, list) = text.split_once(':')?;
    let head = phrase(&words(head, &[]));
    if !["spare", "spare bag", "in bag", "in spare bag", "bag", "backup", "case"].contains(&head.as_str()) {
        return None;
    }
    let items: Vec<&str> =
        list.split(',').flat_map(|p| p.split(" and ")).map(str::trim).filter(|p| !p.is_empty()).collect();
    if items.is_empty() {
        return None;
    }
    Some(items.into_iter().try_for_each(|item| one(q, item)))
}

fn one(q: &mut Quick<'_>, item: &str) -> Read<()> {
    // A piece by its own name is that piece.
    if let Some(piece) = q.pieces.iter().find(|g| crate::same_name(&g.name, item)) {
        let line = format!("bag: {}", piece.name);
        return q.push(&line);
    }
    let said = words(item, &q.name_words);
    let mut left = said.clone();
    let metres = take_length(&mut left);
    let count = take_count(&mut left).unwrap_or(1);
    if let Some(Some(kind)) = name::lead_of(q, &left) {
        if kind.adapter {
            return q.push(&format!("bag: {} x{count}", kind.name));
        }
        let known = q.leads.iter().find(|l| l.kind.name == kind.name).map(|l| l.length.value);
        let usual =
            kind.lengths.iter().copied().find(|l| *l >= 3.0).or(kind.lengths.last().copied()).unwrap_or(3.0);
        let metres = metres.unwrap_or_else(|| {
            let metres = known.unwrap_or(usual);
            q.guess(Matters::Later, format!("the spare {} is {metres} m long", kind.name), "a usual length");
            metres
        });
        return q.push(&format!("bag: {} {metres} m x{count}", kind.name));
    }
    if let Some(what) = used_up(q, &phrase(&left)) {
        return q.push(&format!("bag: {what} x{count}"));
    }
    if let Some(m) = name::meant(&left, None).filter(|m| m.rest.is_empty()) {
        let name = m.name.iter().map(Word::in_name).collect::<Vec<_>>().join(" ");
        let name = if name.starts_with("SPARE ") { name } else { format!("SPARE {name}") };
        let why = format!("from \"{}\"", typed(&m.name));
        for _ in 0..count.clamp(1, 20) {
            let piece = q.bring(&name, m.kind, &why, ", in the bag")?;
            if let Some(g) = q.pieces.get_mut(piece) {
                g.placed = crate::Placed::InCase;
            }
        }
        return Ok(());
    }
    q.guess(
        Matters::Later,
        format!("\"{item}\" in the spare bag is something that is used up"),
        "no piece or lead is called so",
    );
    let plain: String = typed(&left).chars().filter(|c| !super::super::plug::is_mark(*c)).take(60).collect();
    q.push(&format!("bag: {plain} x{count}"))
}

/// Cells and the like, as the shelf calls them.
pub(super) fn used_up(q: &Quick<'_>, said: &str) -> Option<String> {
    let short = match said {
        "aa" | "aa cell" | "aa battery" => Some("AA cell"),
        "aaa" | "aaa cell" | "aaa battery" => Some("AAA cell"),
        "9 v" | "9 v block" | "9 v battery" | "pp3" | "block battery" => Some("9 V block"),
        _ => None,
    };
    let own = q.pieces.iter().map(|g| &g.body).chain(shelf::kinds().iter().map(|k| &k.body));
    let mut used = own.flat_map(|b| &b.wear).map(|w| w.what.as_str());
    short.map(str::to_owned).or_else(|| used.find(|w| phrase(&words(w, &[])) == said).map(str::to_owned))
}
