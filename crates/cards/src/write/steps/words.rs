//! One act of the hands in words: verb, which lead, out of what, into what, the switch that goes with it.

use check::Judge;
use check::fault::Mend;
use check::ids::{GearId, KnobId, LinkId, SocketId};
use check::plan::End;
use engine::{Do, Step as Act};

use super::super::book::Book;
use super::super::leads::{Plugged, whence};
use super::super::say::{self, owner};
use super::switch::switch;
use crate::line::{Run, printed, text, verb};

/// "MOVE `VOICE`: out of `MIXER` `1`, into `LEFT SPEAKER` `B`, on `mic`".
pub(super) fn moved(book: Book<'_>, from: SocketId, p: &Plugged<'_>) -> Vec<Run> {
    let mut runs = vec![verb("move")];
    runs.extend(p.hanging(book).unwrap_or_else(|| vec![text("the lead")]));
    runs.push(text(": out of"));
    runs.extend(book.place(from));
    runs.push(text(", into"));
    runs.extend(book.place(p.at()));
    runs.extend(set(book, p));
    runs
}

/// "PULL `VOICE` out of `MIXER` `1`"; the second plug of a lead is its "other end".
pub(super) fn pull(book: Book<'_>, link: LinkId, end: End, from: SocketId, before: &[Act]) -> Vec<Run> {
    let via = book.c.problem.spec.patch.get(link.ix()).map(|l| l.via.as_slice()).unwrap_or_default();
    let out = |a: &Act| matches!(a.does, Do::Pull { link: l, end: e, .. } if l == link && e == end.other());
    let mut runs = vec![verb("pull")];
    if before.iter().any(out) {
        runs.push(text("the other end of"));
        match book.main_lead(via) {
            Some(l) => runs.extend(book.the_lead(l)),
            None => runs.extend(book.cable_of(from)),
        }
    } else {
        let other = book.end(link, end.other()).unwrap_or(from);
        runs.extend(book.link_by(link, other, from));
    }
    runs.push(text("out of"));
    runs.extend(book.place(from));
    runs
}

/// "TAKE `SPARE MIC` from the spare bag. PUT it on the stand".
pub(super) fn place(book: Book<'_>, gear: GearId, placement: usize, from_bag: bool) -> Vec<Run> {
    let found = book.gear(gear).and_then(|g| g.body.placements.get(placement));
    let name = found.map_or("", |p| p.name.as_str()).trim();
    let mut runs = Vec::new();
    if from_bag {
        runs.extend([verb("take"), book.name(gear), text("from the spare bag."), verb("put"), text("it")]);
    } else {
        runs.extend([verb("put"), book.name(gear)]);
    }
    runs.push(if name.is_empty() { text("in place") } else { owner(name, 6) });
    runs
}

/// "TURN UP `AUX 1` on `MIXER`".
pub(super) fn knob(book: Book<'_>, knob: KnobId, on: bool) -> Vec<Run> {
    let Some(found) = book.c.problem.spec.knobs.get(knob.ix()) else { return vec![verb("turn")] };
    let mute = found.name.to_lowercase().contains("mute");
    let bank = matches!(book.c.turn(knob), check::compile::Turn::Bank(..));
    let word = match (bank, mute, on) {
        (true, _, true) | (false, true, false) => "switch on",
        (true, _, false) | (false, true, true) => "switch off",
        (false, false, true) => "turn up",
        (false, false, false) => "turn down",
    };
    let mut runs = vec![verb(word), printed(&found.name), text("on"), book.name(found.gear)];
    if found.wait > 0 {
        runs.push(text(format!(". Wait {} s", found.wait)));
    }
    runs
}

/// "SWITCH ON `LEFT SPEAKER`. It needs 5 s".
pub(super) fn start(book: Book<'_>, gear: GearId, boot: i32) -> Vec<Run> {
    let mut runs = vec![verb("switch on"), book.name(gear)];
    if boot > 0 {
        runs.push(text(format!(". It needs {boot} s")));
    }
    runs
}

/// Adapters that come off a lead before it goes elsewhere: one step each.
pub(super) fn take_off(book: Book<'_>, p: &Plugged<'_>) -> Vec<Vec<Run>> {
    let lead = p.hanging(book).unwrap_or_default();
    let off = p.comes_off(book);
    off.iter()
        .map(|l| {
            let mut runs = vec![verb("take off")];
            runs.extend(book.the_lead(*l));
            runs.push(text("from"));
            runs.extend(lead.clone());
            runs
        })
        .collect()
}

/// What is taken, and joined, before a plug goes in.
pub(super) fn join(book: Book<'_>, p: &Plugged<'_>) -> Vec<Run> {
    let mut runs = Vec::new();
    for (lead, take) in p.takes {
        runs.push(verb("take"));
        runs.extend(book.the_lead(*lead));
        runs.push(text(format!("{}.", whence(*take))));
    }
    let many = p.takes.len() > 1;
    match p.hanging(book).filter(|_| p.kept.is_some()) {
        Some(lead) => {
            runs.extend([verb("join"), text(if many { "them to" } else { "it to" })]);
            runs.extend(lead);
        }
        None if many => runs.extend([verb("join"), text("them in one row")]),
        None => {
            let rest = p.via.iter().find(|l| p.takes.iter().all(|(t, _)| t != *l));
            runs.extend([verb("join"), text("it to")]);
            runs.extend(rest.map(|l| book.the_lead(*l)).unwrap_or_default());
        }
    }
    runs
}

/// "PUSH `VOICE` into `LEFT SPEAKER` `B`, on `mic`"; a lead that is fetched for it is taken first.
pub(super) fn plug(book: Book<'_>, p: &Plugged<'_>, joined: bool, before: &[Act]) -> Vec<Run> {
    let mut runs = Vec::new();
    let second = before.iter().filter_map(|a| Plugged::of(&a.does)).any(|b| (b.from, b.to) == (p.from, p.to));
    let main = || book.main_lead(p.via).map(|l| book.the_lead(l)).unwrap_or_default();
    if let Some(lead) = p.hanging(book).filter(|_| !second) {
        runs.push(verb("push"));
        runs.extend(lead);
    } else if second {
        runs.extend([verb("push"), text("the other end of")]);
        runs.extend(main());
    } else if joined || p.takes.is_empty() {
        runs.push(verb("push"));
        runs.extend(main());
    } else {
        for (lead, take) in p.takes {
            runs.push(verb("take"));
            runs.extend(book.the_lead(*lead));
            runs.push(text(format!("{}.", whence(*take))));
        }
        runs.extend([verb("push"), text("it")]);
    }
    runs.push(text("into"));
    // A piece's own cable goes into what it is plugged to, whichever end the act names.
    let own_tail = p.via.is_empty() && book.has_tail(p.at());
    let at = match (own_tail, p.end) {
        (false, _) => p.at(),
        (true, End::From) => p.to,
        (true, End::To) => p.from,
    };
    runs.extend(book.place(at));
    runs.extend(set(book, p));
    runs
}

/// The switch that goes with a combined input: ", on mic".
fn set(book: Book<'_>, p: &Plugged<'_>) -> Vec<Run> {
    switch(book, p).map_or_else(Vec::new, |class| vec![text(", on"), printed(class)])
}

/// A level that is set by ear after plugging; a loud piece is brought up in a step of its own.
pub(super) fn level(book: Book<'_>, after: &Judge<'_>, does: &Do) -> Vec<Run> {
    let Do::Plug { to, end, level: true, .. } = does else { return Vec::new() };
    if book.gear(book.gear_of(*to)).is_some_and(|g| g.body.loud) {
        return Vec::new();
    }
    let mut runs = vec![text("."), verb("set")];
    if *end == End::To {
        runs.push(text("its level by ear"));
    } else {
        runs.push(text("the level of"));
        runs.extend(book.place(*to));
    }
    if let Some(other) = shares_knob(after, *to) {
        runs.push(text(". That moves"));
        runs.extend(book.place(other));
        runs.push(text("too"));
    }
    runs
}

/// Another input that the same knob turns and that something is plugged into when all is done.
fn shares_knob(after: &Judge<'_>, to: SocketId) -> Option<SocketId> {
    let routes = &after.problem().spec.routes;
    let knobs: Vec<KnobId> = routes.iter().filter(|r| r.from == to).filter_map(|r| r.knob).collect();
    let shared = routes.iter().filter(|r| r.from != to && r.knob.is_some_and(|k| knobs.contains(&k)));
    shared.map(|r| r.from).find(|s| after.link_in(*s).is_some())
}

/// "At `GUITAR`: SWAP the 9 V block".
pub(super) fn mend(book: Book<'_>, mend: &Mend) -> Vec<Run> {
    let mut runs = vec![text("At"), book.name(mend.at), text(":")];
    match mend.name.trim().split_once(' ') {
        Some((first, rest)) if say::fits(&mend.name, 8) => runs.extend([verb(first), text(rest)]),
        _ => {
            let name = if mend.name.trim().is_empty() { "?" } else { &mend.name };
            runs.extend([verb("do"), printed(name)]);
        }
    }
    runs
}
