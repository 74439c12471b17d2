//! Lines that mean more than they say: a radio microphone, a speaker behind a speaker, a split with a click on it.

use super::chain::link;
use super::name;
use super::sockets::End;
use super::words::{Word, phrase, typed};
use super::{Quick, Read};
use crate::{Direction, Matters};

/// A radio microphone is several things: the hand-held, its receiver, the receiver's supply, and cells.
pub(super) fn radio(q: &mut Quick<'_>, said: &[Word], way: Direction) -> Option<Read<usize>> {
    let whole = phrase(said);
    let name =
        ["radio mic", "radio hand-held", "radio vocal mic"].into_iter().find(|n| whole.ends_with(n))?;
    let named = said.iter().map(Word::in_name).collect::<Vec<_>>().join(" ");
    let there =
        q.pieces.iter().any(|g| crate::same_name(&g.name, &named) || crate::same_name(&g.name, &typed(said)));
    if way != Direction::Out || there {
        let receiver =
            q.pieces.iter().position(|g| crate::same_name(&g.name, &format!("{named} RECEIVER")))?;
        return Some(Ok(receiver));
    }
    let (sender, receiver) = (name::kind_of("radio mic")?, name::kind_of("radio receiver"));
    let why = format!("from \"{name}\"");
    let added = |q: &mut Quick<'_>| -> Read<usize> {
        let sender = q.bring(&named, sender, &why, "")?;
        // A kind that is hand-held and receiver in one has a plug for a lead.
        let whole = q
            .pieces
            .get(sender)
            .is_some_and(|g| g.body.sockets.iter().any(|s| s.output().is_some() && s.tail.is_none()));
        let out = match receiver {
            Some(receiver) if !whole => {
                let receiver =
                    q.bring(&format!("{named} RECEIVER"), receiver, "a radio microphone needs one", "")?;
                link(
                    q,
                    &End { piece: sender, named: None },
                    &End { piece: receiver, named: None },
                    &[],
                    true,
                )?;
                receiver
            }
            _ => sender,
        };
        super::power::with_supply(q, out)?;
        let cells = q.pieces.get(sender).and_then(|g| g.body.wear.first().cloned());
        if let Some(cells) = &cells {
            q.push(&format!("bag: {} x0", cells.what))?;
        }
        let with = cells.map_or(String::new(), |c| format!(", {} {} in it", c.in_use, c.what));
        let text = format!("{named} comes with a receiver, its supply{with}, and no spare cells");
        q.guess(Matters::Must, text, "a radio microphone needs them");
        Ok(out)
    };
    Some(added(q))
}

/// One speaker into another: through socket, or speaker level? Only the owner knows whether they are powered.
pub(super) fn two_speakers(q: &mut Quick<'_>, first: usize, second: usize) -> Read<()> {
    let kind = |p: usize| q.pieces.get(p).and_then(|g| g.kind.clone());
    let usual = name::kind_of("speaker").map(|k| k.name.clone());
    let both = kind(first) == usual && kind(second) == usual && first >= q.declared && second >= q.declared;
    if both && usual.is_some() {
        let name = q.name_of(first);
        q.guess(
            Matters::Hurt,
            format!("{name} is powered, and feeds {} from its THRU", q.name_of(second)),
            "most are",
        );
        q.push(&format!("answer {name} powered: ?"))?;
    }
    Ok(())
}

/// One half of a split goes to ears: then one side is a click, perhaps, and it must never go to the house.
pub(super) fn click(q: &mut Quick<'_>, split: usize, to: &[End]) -> Read<()> {
    let kind_of =
        |q: &Quick<'_>, piece: usize| q.pieces.get(piece).and_then(|g| g.kind.clone()).unwrap_or_default();
    let for_ears = |q: &Quick<'_>, piece: usize| {
        let kind = kind_of(q, piece);
        kind.contains("headphone") || kind.contains("ear")
    };
    if kind_of(q, split) != "split lead" {
        return Ok(());
    }
    let ears: Vec<bool> = to.iter().map(|e| for_ears(q, e.piece)).collect();
    let Some(source) = q.out.iter().rev().chain([]).find_map(|s| fed_from(s, &q.name_of(split))) else {
        return Ok(());
    };
    let Some(source) = q
        .pieces
        .iter()
        .position(|g| source.to_uppercase().starts_with(&format!("{} ", g.name.to_uppercase())))
    else {
        return Ok(());
    };
    let Some(gear) = q.pieces.get(source).cloned() else { return Ok(()) };
    if ears.iter().filter(|e| **e).count() != 1
        || gear.body.makes.iter().any(|m| m.source == "click")
        || source < q.declared
    {
        return Ok(());
    }
    let Some(made) = gear.body.makes.first().cloned() else { return Ok(()) };
    // The first plug typed is the white one, left.
    let (house, ear) = if ears.first() == Some(&true) { ("right", "left") } else { ("left", "right") };
    let (name, split_name) = (gear.name.clone(), q.name_of(split));
    q.push(&format!("about {name}"))?;
    q.push(&format!("makes {} at {}, side {house}", made.source, made.socket))?;
    q.push(&format!("makes click at {}, side {ear}", made.socket))?;
    if !q.click_is_said && !q.click_is_kept {
        q.push("never: click for audience")?;
        q.click_is_kept = true;
    }
    q.push(&format!("answer {split_name} click: ?"))?;
    if let Some(g) = q.pieces.get_mut(source) {
        g.body.makes.push(crate::Makes { source: "click".to_owned(), ..made });
    }
    q.guess(
        Matters::Hurt,
        format!("the click is on the {ear} side of {split_name}, and must not reach the audience"),
        "that plug goes to ears only",
    );
    Ok(())
}

/// The out-socket's label when a link goes into this piece.
fn fed_from(statement: &super::Statement, piece: &str) -> Option<String> {
    let super::Statement::Link(segments) = statement else { return None };
    let (from, to) = (segments.first()?, segments.last()?);
    to.0.to_uppercase().starts_with(&format!("{} ", piece.to_uppercase())).then(|| from.0.clone())
}
