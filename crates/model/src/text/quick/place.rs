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
    let (who, than) = (piece(q, &who)?, piece(q, &than)?);
    Some(beside(q, who, than, way, metres))
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
    q.push(&format!("about {}", q.name_of(piece)))?;
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
    put(q, who, Spot { x: base.x + way.0 * m, y: base.y + way.1 * m })
}

/// `speakers 4 m apart`: half to the left and half to the right.
fn apart(q: &mut Quick<'_>, said: &[Word], metres: f64) -> Option<Read<()>> {
    let both: Vec<usize> = match said.iter().position(|w| w.is("and")) {
        Some(at) => vec![piece(q, said.get(..at)?)?, piece(q, said.get(at + 1..)?)?],
        None => {
            let m = name::meant(said, None)?;
            let there = name::alike(q, &m.said, m.kind);
            if there.is_empty() {
                let ends = name::ends(q, said, Direction::In).ok()?;
                ends.iter().map(|e| e.piece).collect()
            } else {
                there
            }
        }
    };
    let [left, right] = both.as_slice() else { return None };
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
