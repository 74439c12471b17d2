//! What happened, in a card's title: the taped name and a few words.

use check::compile::{About, Named};
use check::fault::Loss;

use super::book::Book;
use super::group::Group;
use super::say::owner;
use crate::line::{Line, Run, printed, tape, text};

/// The title of a card.
pub(super) fn title(book: Book<'_>, group: &Group<'_>) -> Line {
    let (named, whole) = (group.named, group.whole);
    match named.about {
        About::Mode { gear, mode } => {
            let mut runs = vec![tape(book.c.rig.gear.get(gear).map_or("?", |g| g.name.as_str()))];
            if whole {
                runs.push(text("is dead"));
            } else if group.faults.len() > 1 {
                let lost: Vec<Loss> = group.faults.iter().flat_map(|f| f.fault.lost.clone()).collect();
                runs.extend(functions(book, &lost).unwrap_or_else(|| vec![text("is dead")]));
            } else {
                runs.extend(of_mode(book, named, gear, mode));
            }
            runs.into()
        }
        About::Lead { link, piece } => lead(book, link, piece, whole),
        About::Spare { lead, in_bag } => [
            text("A spare"),
            printed(book.c.rig.leads.get(lead).map_or("?", |l| l.name.as_str())),
            text(if in_bag { "is not in the bag" } else { "is not on stage" }),
        ]
        .into(),
    }
}

/// The same title with the mode's own name behind it, where two cards would have one title.
pub(super) fn told_apart(book: Book<'_>, named: &Named, title: &Line) -> Line {
    let mut runs = title.0.clone();
    let more = match named.about {
        About::Mode { gear, mode } => {
            book.c.rig.gear.get(gear).and_then(|g| g.body.modes.get(mode)).map(|m| m.name.clone())
        }
        About::Lead { link, piece } => {
            let via = book.c.problem.spec.patch.get(link).and_then(|l| l.via.get(piece).copied());
            via.map(|t| book.c.lead_name(t).to_owned())
        }
        About::Spare { .. } => None,
    };
    if let Some(more) = more {
        runs.extend([text("("), owner(&more, 3), text(")")]);
    }
    runs.into()
}

/// "`VOICE` is broken"; a lead without a tape is told by where it runs.
fn lead(book: Book<'_>, link: usize, piece: usize, whole: bool) -> Line {
    let Some(l) = book.c.problem.spec.patch.get(link) else { return Line::text("A lead is broken") };
    let broken = if whole { book.main_lead(&l.via) } else { l.via.get(piece).copied() };
    let Some(lead) = broken else { return Line::text("A lead is broken") };
    let mut runs = vec![book.lead(lead)];
    if let Some(tape) = super::leads::tape_of(book.c, link).filter(|t| *t != lead) {
        runs.extend([text("on"), book.lead(tape)]);
    } else if !super::leads::is_taped(book.c, lead) {
        runs.push(text("from"));
        runs.extend(book.lead_at(l.from));
        runs.push(text("to"));
        runs.extend(book.place(l.to));
    }
    // Which of several pieces broke is not seen, so the card speaks for all of them.
    runs.push(text(if whole && l.via.len() > 1 { "or its adapter is broken" } else { "is broken" }));
    runs.into()
}

fn of_mode(book: Book<'_>, named: &Named, gear: usize, mode: usize) -> Vec<Run> {
    let found = book.c.rig.gear.get(gear).and_then(|g| g.body.modes.get(mode));
    let name = found.map_or("", |m| m.name.as_str()).to_lowercase();
    let shows = found.map_or("", |m| m.shows.as_str()).to_lowercase();
    let lost = &named.fault.lost;
    if name.contains("battery") || name.contains("cell") {
        return vec![text("battery is flat")];
    }
    if name.contains("hang") || name.contains("crash") || name.contains("frozen") {
        return vec![text("is frozen")];
    }
    if let Some(things) = functions(book, lost) {
        return things;
    }
    let dark = shows.contains("dark");
    let all = lost.iter().any(|l| matches!(l, Loss::Gear(_)));
    let supply = lost.iter().any(|l| matches!(l, Loss::Supply(_)));
    let said = if dark || (supply && !all) {
        "is dark"
    } else if all {
        "is dead"
    } else {
        "is silent"
    };
    vec![text(said)]
}

/// What is printed at the sockets and knobs that are lost, when nothing else is.
fn functions(book: Book<'_>, lost: &[Loss]) -> Option<Vec<Run>> {
    let mut labels: Vec<&str> = Vec::new();
    for loss in lost {
        let label = match loss {
            Loss::Socket(s) => book.print_of(*s)?,
            Loss::Route(r) => book.c.problem.spec.routes.get(r.ix())?.name.as_str(),
            Loss::Gear(_)
            | Loss::Sound(_)
            | Loss::Make(_)
            | Loss::Supply(_)
            | Loss::Lead(..)
            | Loss::SpareOnStage(..)
            | Loss::SpareInCase(..) => return None,
        };
        if !labels.contains(&label) {
            labels.push(label);
        }
    }
    match labels.as_slice() {
        [] => None,
        [one] => Some(vec![printed(*one), text("is dead")]),
        [one, two] => Some(vec![printed(*one), text("and"), printed(*two), text("are dead")]),
        [one, ..] => Some(vec![printed(*one), text("and more are dead")]),
    }
}
