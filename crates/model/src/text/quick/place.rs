//! `keys 1.5 m left of voice`, `speakers 4 m apart`: where things stand. Left and right are the audience's.

use super::name;
use super::words::{Word, phrase, take_length, words};
use super::{Quick, Read};
use crate::{Direction, Matters, Spot};

/// Where something is from another: words, and the direction of one metre.
const WAYS: [(&str, (f64, f64)); 13] = [
    ("left of", (-1.0, 0.0)),
    ("to left of", (-1.0, 0.0)),
    ("right of", (1.0, 0.0)),
    ("to right of", (1.0, 0.0)),
    ("in front of", (0.0, 1.0)),
    ("before", (0.0, 1.0)),
    ("behind", (0.0, -1.0)),
    ("in back of", (0.0, -1.0)),
    ("next to", (1.0, 0.0)),
    ("beside", (1.0, 0.0)),
    ("near", (1.0, 0.0)),
    ("from", (1.0, 0.0)),
    ("away from", (1.0, 0.0)),
];

/// A line of positions; `None` when it is none.
pub(super) fn read(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    let mut said = words(text, &q.name_words);
    let metres = take_length(&mut said);
    if said.last().is_some_and(|w| w.is("apart")) {
        said.pop();
        return apart(q, &said, metres?);
    }
    let (at, len, way) = WAYS.iter().find_map(|(way, to)| {
        let wanted: Vec<&str> = way.split(' ').collect();
        let at = said
            .windows(wanted.len())
            .position(|w| w.iter().map(|w| w.house.as_str()).eq(wanted.iter().copied()))?;
        Some((at, wanted.len(), (*way, *to)))
    })?;
    // "monitor from aux" is no place: only with metres does "from" say where.
    if metres.is_none() && way.0.ends_with("from") {
        return None;
    }
    // The longer words are tried first only by their first word: `to left of` takes its "to" along.
    let (at, len) =
        if at > 0 && said.get(at - 1).is_some_and(|w| w.is("to")) { (at - 1, len + 1) } else { (at, len) };
    let (who, than) = (said.get(..at)?.to_vec(), said.get(at + len..)?.to_vec());
    let (Some(a), Some(z)) = (piece(q, &who), piece(q, &than)) else {
        let lost = if piece(q, &who).is_none() { &who } else { &than };
        return unknown(q, lost);
    };
    Some(beside(q, a, z, way, metres))
}

/// May this line say where something stands?
pub(super) fn is_place(q: &Quick<'_>, text: &str) -> bool {
    let said = words(text, &q.name_words);
    let whole = format!(" {} ", phrase(&said));
    WAYS.iter().any(|(way, _)| whole.contains(&format!(" {way} ")))
        || said.last().is_some_and(|w| w.is("apart"))
}

/// A thing that no line brings: told, once all lines are read.
fn unknown(q: &mut Quick<'_>, said: &[Word]) -> Option<Read<()>> {
    if !q.last || said.is_empty() {
        return None;
    }
    q.heard = true;
    let typed = super::words::typed(said);
    q.problem(
        "unknown-gear",
        format!("nothing here is called \"{}\"", super::super::plug::shorten(&typed)),
        "name it on a line of its own, such as: vocal mic > mixer 1".to_owned(),
    );
    Some(Ok(()))
}

/// A piece by its name, its kind, or what it makes. It must be there already.
fn piece(q: &Quick<'_>, said: &[Word]) -> Option<usize> {
    if said.is_empty() {
        return None;
    }
    let whole = phrase(said);
    let typed = super::words::typed(said);
    let by_name =
        q.pieces.iter().position(|g| crate::same_name(&g.name, &typed) || crate::same_name(&g.name, &whole));
    let source = super::lists::source(q, &whole);
    let by_source = || {
        let source = source?;
        q.pieces.iter().position(|g| {
            g.placed != crate::Placed::InCase && g.body.makes.iter().any(|m| m.source == source)
        })
    };
    let by_kind = || name::kind_of(&whole).and_then(|k| name::alike(q, &whole, k).first().copied());
    by_name.or_else(by_source).or_else(by_kind)
}

fn put(q: &mut Quick<'_>, piece: usize, at: Spot) -> Read<()> {
    let round = |v: f64| (v * 100.0).round() / 100.0 + 0.0;
    let at = Spot { x: round(at.x), y: round(at.y) };
    let name = q.name_of(piece);
    if q.fixed.iter().any(|(n, _)| *n == crate::fold(&name)) {
        q.heard = true;
        q.guess(
            Matters::Later,
            format!("{name} stays where its full line puts it"),
            "a full line goes first",
        );
        return Ok(());
    }
    q.push(&format!("about {name}"))?;
    q.push(&format!("at {} {}", at.x, at.y))?;
    if let Some(g) = q.pieces.get_mut(piece) {
        g.at = Some(at);
    }
    Ok(())
}

fn beside(
    q: &mut Quick<'_>,
    who: usize,
    than: usize,
    (word, way): (&str, (f64, f64)),
    metres: Option<f64>,
) -> Read<()> {
    let base = match q.pieces.get(than).and_then(|g| g.at) {
        Some(at) => at,
        None => {
            let home = q.home;
            put(q, than, home)?;
            let text = format!("{} stands at {} {}", q.name_of(than), home.x, home.y);
            q.guess(Matters::Later, text, "it is measured from, and stands nowhere yet");
            home
        }
    };
    if metres.is_none() {
        let text = format!("{} is 1 m {word} {}", q.name_of(who), q.name_of(than));
        q.guess(Matters::Later, text, "no metres typed");
    }
    let m = metres.unwrap_or(1.0);
    q.kept.push(m.to_string());
    put(q, who, Spot { x: base.x + way.0 * m, y: base.y + way.1 * m })
}

/// `speakers 4 m apart`: half to the left and half to the right.
fn apart(q: &mut Quick<'_>, said: &[Word], metres: f64) -> Option<Read<()>> {
    let both: Vec<usize> = match said.iter().position(|w| w.is("and")) {
        Some(at) => vec![piece(q, said.get(..at)?)?, piece(q, said.get(at + 1..)?)?],
        None => {
            let Some(m) = name::meant(said, None).filter(|m| m.rest.is_empty()) else {
                return unknown(q, said);
            };
            let there = name::alike(q, &m.said, m.kind);
            if there.is_empty() {
                let ends = name::ends(q, said, Direction::In).ok()?;
                ends.iter().map(|e| e.piece).collect()
            } else {
                there
            }
        }
    };
    q.kept.push(metres.to_string());
    let [left, right] = both.as_slice() else {
        let names: Vec<String> = both.iter().map(|p| q.name_of(*p)).collect();
        q.heard = true;
        q.problem(
            "which-two",
            format!("\"{}\" are {}, not two", super::words::typed(said), both.len()),
            format!("write which two, such as: {} 4 m apart", names.get(..2).unwrap_or(&names).join(" and ")),
        );
        return Some(Ok(()));
    };
    let place = |p: usize| q.pieces.get(p).and_then(|g| g.at);
    let (middle, known) = match (place(*left), place(*right)) {
        (Some(a), Some(z)) => (Spot { x: f64::midpoint(a.x, z.x), y: f64::midpoint(a.y, z.y) }, true),
        _ => (Spot { x: q.home.x, y: q.home.y + 1.0 }, false),
    };
    let (left, right) = (*left, *right);
    let done = put(q, left, Spot { x: middle.x - metres / 2.0, ..middle })
        .and_then(|()| put(q, right, Spot { x: middle.x + metres / 2.0, ..middle }));
    if !known {
        let text =
            format!("{} and {} stand 1 m in front, as far to each side", q.name_of(left), q.name_of(right));
        q.guess(Matters::Later, text, "only the metres between them were typed");
    }
    Some(done)
}
