//! What happened, in a card's title: the taped name and a few words.

use check::compile::{About, Named};
use check::fault::Loss;

use super::book::Book;
use super::group::Thing;
use super::say::owner;
use crate::line::{Line, Run, printed, tape, text};

/// What a thing is called and what happened to it: `MIXER` `1`, "is dead".
struct Said {
    who: Vec<Run>,
    what: &'static str,
}

/// The title of a card: all names, then what happened.
pub(super) fn title(book: Book<'_>, things: &[&Thing<'_>], together: bool) -> Line {
    let said: Vec<Said> = things.iter().flat_map(|t| of_thing(book, t)).collect();
    let what = match said.as_slice() {
        [] => "is dead",
        [one] => one.what,
        _ if together => "are dead together",
        [first, rest @ ..] => {
            if rest.iter().all(|s| s.what == first.what) {
                first.what
            } else {
                "is dead"
            }
        }
    };
    let last = said.len().saturating_sub(1);
    let mut runs = Vec::new();
    for (i, one) in said.into_iter().enumerate() {
        if i > 0 {
            runs.push(text(match (i == last, together) {
                (false, _) => ",",
                (true, true) => "and",
                (true, false) => "or",
            }));
        }
        runs.extend(one.who);
    }
    runs.push(text(what));
    runs.into()
}

fn of_thing(book: Book<'_>, thing: &Thing<'_>) -> Vec<Said> {
    let (named, whole) = (thing.named, thing.whole);
    let one = match named.about {
        About::Mode { gear, .. } if whole => Said { who: vec![piece(book, gear)], what: "is dead" },
        About::Mode { gear, .. } if thing.faults.len() > 1 => {
            let name = piece(book, gear);
            let each = thing.faults.iter().map(|f| functions(book, &name, &f.fault.lost));
            return each
                .collect::<Option<Vec<Said>>>()
                .unwrap_or_else(|| vec![Said { who: vec![name], what: "is dead" }]);
        }
        About::Mode { gear, mode } => {
            let name = piece(book, gear);
            let own = own_word(&mode_name(book, gear, mode)).is_some();
            let lost = functions(book, &name, &named.fault.lost).filter(|_| !own);
            lost.unwrap_or_else(|| Said { who: vec![name], what: of_mode(book, named, gear, mode) })
        }
        About::Lead { link, piece } => lead(book, link, piece, whole),
        About::Spare { lead, in_bag } => Said {
            who: vec![text("A spare"), printed(book.c.rig.leads.get(lead).map_or("?", |l| l.name.as_str()))],
            what: if in_bag { "is not in the bag" } else { "is not on stage" },
        },
    };
    vec![one]
}

fn piece(book: Book<'_>, gear: usize) -> Run {
    tape(book.c.rig.gear.get(gear).map_or("?", |g| g.name.as_str()))
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
fn lead(book: Book<'_>, link: usize, piece: usize, whole: bool) -> Said {
    let found = book.c.problem.spec.patch.get(link);
    let via = found.map(|l| l.via.as_slice()).unwrap_or_default();
    let broken = if whole { book.main_lead(via) } else { via.get(piece).copied() };
    let (Some(l), Some(lead)) = (found, broken) else {
        return Said { who: vec![text("A lead")], what: "is broken" };
    };
    let mut who = vec![book.lead(lead)];
    if let Some(tape) = super::leads::tape_of(book.c, link).filter(|t| *t != lead) {
        who.extend([text("on"), book.lead(tape)]);
    } else if !super::leads::is_taped(book.c, lead) {
        who.push(text("from"));
        who.extend(book.lead_at(l.from));
        who.push(text("to"));
        who.extend(book.place(l.to));
    }
    if whole && l.via.len() > 1 {
        // Which of several pieces broke is not seen, so the card speaks for all of them.
        who.push(text("or its adapter"));
    }
    Said { who, what: "is broken" }
}

fn mode_name(book: Book<'_>, gear: usize, mode: usize) -> String {
    let found = book.c.rig.gear.get(gear).and_then(|g| g.body.modes.get(mode));
    found.map_or(String::new(), |m| m.name.to_lowercase())
}

fn own_word(name: &str) -> Option<&'static str> {
    if ["battery", "cell"].iter().any(|w| name.contains(w)) {
        Some("has a flat battery")
    } else if ["hang", "crash", "frozen"].iter().any(|w| name.contains(w)) {
        Some("is frozen")
    } else {
        None
    }
}

fn of_mode(book: Book<'_>, named: &Named, gear: usize, mode: usize) -> &'static str {
    if let Some(word) = own_word(&mode_name(book, gear, mode)) {
        return word;
    }
    let found = book.c.rig.gear.get(gear).and_then(|g| g.body.modes.get(mode));
    let shows = found.map_or("", |m| m.shows.as_str()).to_lowercase();
    let lost = &named.fault.lost;
    let all = lost.iter().any(|l| matches!(l, Loss::Gear(_)));
    let supply = lost.iter().any(|l| matches!(l, Loss::Supply(_)));
    if shows.contains("dark") || (supply && !all) {
        "is dark"
    } else if all {
        "is dead"
    } else {
        "is silent"
    }
}

/// What is printed at the sockets and knobs that are lost, when nothing else is.
fn functions(book: Book<'_>, name: &Run, lost: &[Loss]) -> Option<Said> {
    let mut labels: Vec<&str> = Vec::new();
    for loss in lost {
        let label = match loss {
            Loss::Socket(s) => book.print_of(*s)?,
            Loss::Route(r) => {
                let route = book.c.problem.spec.routes.get(r.ix())?;
                // What is printed has capitals or digits; another name is the owner's for what has none, told by where
                // it comes out.
                let printed = route.name.chars().any(|c| c.is_uppercase() || c.is_ascii_digit());
                match route.to.as_slice() {
                    [to] if !printed => book.print_of(*to)?,
                    _ => route.name.as_str(),
                }
            }
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
    let mut who = vec![name.clone()];
    let what = match labels.as_slice() {
        [] => return None,
        [one] => {
            who.push(printed(*one));
            "is dead"
        }
        [one, two] => {
            who.extend([printed(*one), text("and"), printed(*two)]);
            "are dead"
        }
        [one, ..] => {
            who.extend([printed(*one), text("and more")]);
            "are dead"
        }
    };
    Some(Said { who, what })
}
