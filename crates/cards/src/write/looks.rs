//! What to look at first: settings that can be wrong on the dead piece and on its neighbours.

use std::cmp::Reverse;

use check::Judge;
use check::compile::{About, Named};
use check::fault::{Fault, Loss};
use check::ids::{GearId, PartId, SocketId};
use check::plan::Plan;
use model::Lost;

use super::book::Book;
use super::say;
use crate::card::Look;
use crate::line::{Line, printed, text};
use crate::words;

/// At most 4 looks of at most 10 s together, the likeliest first.
///
/// A look at a neighbour is offered only where its wrong setting would silence what is silent and nothing else: a strip's lamp says
/// nothing about a piano that is dark alone.
pub(super) fn looks(book: Book<'_>, faults: &[&Named], silent: &[Vec<PartId>]) -> Vec<Look> {
    asked(book, faults, silent, alone(faults))
}

/// The likeliest look of a card, the piece always named: in a list that is about no one piece.
pub(super) fn first(book: Book<'_>, faults: &[&Named], silent: &[Vec<PartId>]) -> Option<Look> {
    asked(book, faults, silent, None).into_iter().next()
}

fn asked(book: Book<'_>, faults: &[&Named], silent: &[Vec<PartId>], alone: Option<usize>) -> Vec<Look> {
    let all = chosen(book, faults, silent).into_iter();
    all.filter_map(|(g, l)| Some((g, book.c.rig.gear.get(g)?.body.looks.get(l)?)))
        .map(|(g, look)| Look { words: ask(book, look, GearId::at(g), alone), seconds: takes(look) })
        .collect()
}

/// Which looks: the piece and the place among its looks.
pub(super) fn chosen(book: Book<'_>, faults: &[&Named], silent: &[Vec<PartId>]) -> Vec<(usize, usize)> {
    let mut found: Vec<(u8, Reverse<i32>, usize, usize)> = Vec::new();
    for (g, place) in neighbours(book, faults) {
        let Some(gear) = book.gear(g) else { continue };
        let whole = faults.iter().any(|f| goes_whole(book, f, g));
        for (l, look) in gear.body.looks.iter().enumerate() {
            let told = faults.iter().any(|f| tells(book, f, g, look));
            // Something that took the whole piece is taken for a setting of it that silences the same.
            let explains = faults.iter().any(|f| explains(book, f, g, look))
                || (place == 0 && whole && silent.iter().any(|s| silences(book, g, look, s)));
            let Some(class) = (match (place, told, explains) {
                (0, true, _) => Some(0),
                (0, false, true) => Some(1),
                (2, ..) if silent.iter().any(|s| silences(book, g, look, s)) => Some(2),
                (1, _, true) if silent.iter().any(|s| silences(book, g, look, s)) => Some(3),
                _ => None,
            }) else {
                continue;
            };
            let share = physics::whole::floor_i32(look.share.value).unwrap_or(0);
            found.push((class, Reverse(share), g.ix(), l));
        }
    }
    found.sort_unstable();
    let mut out: Vec<(usize, usize)> = Vec::new();
    let mut asked: Vec<&str> = Vec::new();
    let mut spent = 0_u32;
    for (_, _, g, l) in found {
        let Some(look) = book.c.rig.gear.get(g).and_then(|g| g.body.looks.get(l)) else { continue };
        let ask = look.ask.trim();
        let seconds = spent.saturating_add(takes(look));
        if asked.contains(&ask) || ask.is_empty() || seconds > words::LOOK_SECONDS {
            continue;
        }
        asked.push(ask);
        spent = seconds;
        out.push((g, l));
        if out.len() == words::LOOKS {
            break;
        }
    }
    out
}

fn takes(look: &model::Look) -> u32 {
    say::whole(physics::whole::ceil_i32(look.seconds.value).unwrap_or(i32::MAX))
}

/// The piece that the card is about, when it is about one.
fn alone(faults: &[&Named]) -> Option<usize> {
    let about = |f: &&Named| if let About::Mode { gear, .. } = f.about { Some(gear) } else { None };
    let first = faults.first().and_then(about)?;
    faults.iter().all(|f| about(f) == Some(first)).then_some(first)
}

/// The owner's question, as plain words where it may stand as such. The piece to look at is named, unless it is the one
/// the card is about: "`LEFT SPEAKER` lamp dark?"
fn ask(book: Book<'_>, look: &model::Look, g: GearId, alone: Option<usize>) -> Line {
    let said = look.ask.trim();
    if !say::fits(said, words::LOOK_WORDS) {
        return printed_line(said);
    }
    if alone == Some(g.ix()) {
        return Line::text(said);
    }
    let name = book.gear(g).map(|g| g.name.to_lowercase()).unwrap_or_default();
    let named = |word: &str| name.split_whitespace().any(|w| w.trim_end_matches('s') == word.to_lowercase());
    let mut rest = said;
    while let Some((_, more)) = rest.split_once(' ').filter(|(first, _)| named(first)) {
        rest = more;
    }
    if rest.split_whitespace().any(named) {
        return Line::text(said);
    }
    // What is printed on the gear, such as MUTE, keeps its capitals.
    let rest =
        if rest.chars().nth(1).is_some_and(char::is_lowercase) { say::small(rest) } else { rest.to_owned() };
    let line = Line::from([book.name(g), text(rest)]);
    if words::count(&line) <= words::LOOK_WORDS { line } else { Line::text(said) }
}

/// Does the wrong setting silence this, and nothing else?
fn silences(book: Book<'_>, g: GearId, look: &model::Look, silent: &[PartId]) -> bool {
    let lost: Vec<Loss> = look.takes.iter().filter_map(|t| loss(book, g, t)).collect();
    if lost.is_empty() {
        return false;
    }
    let fault = Fault::of(lost).for_certain(&book.c.problem.spec);
    let mut judge = Judge::new(&book.c.problem, &fault);
    let _broken = judge.look(&Plan::default());
    let counted = book.c.problem.counted.iter().copied();
    let gone: Vec<PartId> = counted.filter(|p| judge.speakers_of(*p).is_empty()).collect();
    // Whether a monitor is silent too is not noticed at once, so for an audience it need not be.
    let out = |parts: &[PartId]| parts.iter().copied().filter(|p| book.for_audience(*p)).collect::<Vec<_>>();
    let (all_gone, all_silent) = (out(&gone), out(silent));
    let same = if all_silent.is_empty() { gone == silent } else { all_gone == all_silent };
    same && gone.iter().all(|p| silent.contains(p))
}

/// What a setting takes, in the problem.
fn loss(book: Book<'_>, g: GearId, lost: &Lost) -> Option<Loss> {
    let body = &book.gear(g)?.body;
    Some(match lost {
        Lost::All => Loss::Gear(g),
        Lost::Sounding => Loss::Sound(g),
        Lost::Making => Loss::Make(g),
        Lost::Supply => Loss::Supply(g),
        Lost::Route(name) => Loss::Route(book.c.route_id(g.ix(), body.route(name)?)),
        Lost::Socket(name) => {
            let socket = body.socket(name)?;
            Loss::Socket(book.c.socket_id(model::SocketRef { gear: model::GearId(g.ix()), socket }))
        }
    })
}

fn printed_line(words: &str) -> Line {
    if words.trim().is_empty() { Line::default() } else { [printed(words.trim())].into() }
}

/// The pieces to look at: 0 what died, 1 where its leads go, 2 what feeds it.
fn neighbours(book: Book<'_>, faults: &[&Named]) -> Vec<(GearId, u8)> {
    let mut out: Vec<(GearId, u8)> = Vec::new();
    let mut add = |g: GearId, place: u8| {
        if !out.iter().any(|(o, _)| *o == g) {
            out.push((g, place));
        }
    };
    for fault in faults {
        match fault.about {
            About::Mode { gear, .. } => add(GearId::at(gear), 0),
            About::Lead { link, .. } => {
                for s in ends(book, link) {
                    add(book.gear_of(s), 0);
                }
            }
            About::Spare { .. } => {}
        }
    }
    for fault in faults {
        let About::Mode { gear, .. } = fault.about else { continue };
        let g = GearId::at(gear);
        let dark = fault.fault.lost.iter().any(|l| matches!(l, Loss::Gear(_) | Loss::Supply(_)));
        let whole = dark || fault.fault.lost.iter().any(|l| matches!(l, Loss::Sound(_) | Loss::Make(_)));
        for link in &book.c.problem.spec.patch {
            let (from, to) = (book.gear_of(link.from), book.gear_of(link.to));
            if to == g && book.is_supply(link.to) && dark {
                add(from, 2);
            } else if from == g && whole && !book.is_supply(link.from) {
                add(to, 1);
            }
        }
    }
    out
}

fn ends(book: Book<'_>, link: usize) -> Vec<SocketId> {
    book.c.problem.spec.patch.get(link).map_or(Vec::new(), |l| vec![l.from, l.to])
}

/// Does the look name this very way of failing?
fn tells(book: Book<'_>, fault: &Named, g: GearId, look: &model::Look) -> bool {
    let About::Mode { gear, mode } = fault.about else { return false };
    let name = book.c.rig.gear.get(gear).and_then(|p| p.body.modes.get(mode)).map(|m| m.name.as_str());
    gear == g.ix() && name.is_some_and(|n| look.tells.iter().any(|t| model::same_name(t, n)))
}

/// Would the wrong setting silence what the fault silences?
fn explains(book: Book<'_>, fault: &Named, g: GearId, look: &model::Look) -> bool {
    match fault.about {
        About::Mode { gear, mode } => {
            if gear == g.ix() {
                let modes = book.c.rig.gear.get(gear).map(|p| p.body.modes.as_slice()).unwrap_or_default();
                let lost = modes.get(mode).map(|m| m.lost.as_slice()).unwrap_or(&[Lost::All]);
                let sockets = fault.fault.lost.iter().filter_map(|l| match l {
                    Loss::Socket(s) => Some(*s),
                    _ => None,
                });
                return lost.iter().any(|l| look.takes.iter().any(|t| overlap(l, t)))
                    || sockets.into_iter().any(|s| stops(book, g, s, look));
            }
            let into = book.c.problem.spec.patch.iter().filter(|l| book.gear_of(l.from).ix() == gear);
            into.filter(|l| book.gear_of(l.to) == g).any(|l| stops(book, g, l.to, look))
        }
        About::Lead { link, .. } => {
            ends(book, link).into_iter().any(|s| book.gear_of(s) == g && stops(book, g, s, look))
        }
        About::Spare { .. } => false,
    }
}

/// Does the wrong setting stop what passes this socket, and no more than the piece itself?
fn stops(book: Book<'_>, g: GearId, s: SocketId, look: &model::Look) -> bool {
    let (Some(gear), Some(socket)) = (book.gear(g), book.socket(s)) else { return false };
    look.takes.iter().any(|t| match t {
        Lost::Socket(name) => model::same_name(name, &socket.name),
        Lost::Route(name) => gear
            .body
            .routes
            .iter()
            .any(|r| model::same_name(&r.name, name) && model::same_name(&r.from, &socket.name)),
        Lost::Sounding => gear.body.sounds.iter().any(|n| model::same_name(n, &socket.name)),
        Lost::Making => gear.body.makes.iter().any(|m| model::same_name(&m.socket, &socket.name)),
        Lost::Supply => book.is_supply(s),
        Lost::All => false,
    })
}

/// Is the piece gone as a whole, and not to be seen? One that is dark shows it, so no knob or plug is taken for that.
fn goes_whole(book: Book<'_>, fault: &Named, g: GearId) -> bool {
    let About::Mode { gear, mode } = fault.about else { return false };
    let shows = book.c.rig.gear.get(gear).and_then(|p| p.body.modes.get(mode)).map_or("", |m| &m.shows);
    let whole = |l: &Loss| matches!(*l, Loss::Gear(o) | Loss::Sound(o) | Loss::Make(o) if o == g);
    gear == g.ix() && !shows.to_lowercase().contains("dark") && fault.fault.lost.iter().any(whole)
}

/// Two losses that a performer takes for one another.
fn overlap(lost: &Lost, taken: &Lost) -> bool {
    match (lost, taken) {
        (Lost::All, Lost::All | Lost::Supply) | (Lost::Supply, Lost::All) => true,
        (a, b) => a == b,
    }
}
