//! What to look at first: settings that can be wrong on the dead piece and on its neighbours.

use std::cmp::Reverse;

use check::compile::{About, Named};
use check::fault::Loss;
use check::ids::{GearId, SocketId};
use model::Lost;

use super::book::Book;
use super::say;
use crate::card::Look;
use crate::line::{Line, printed};
use crate::words;

/// At most 4 looks of at most 10 s together, the likeliest first.
pub(super) fn looks(book: Book<'_>, faults: &[&Named]) -> Vec<Look> {
    let mut found: Vec<(u8, Reverse<i32>, usize, usize)> = Vec::new();
    for (g, place) in neighbours(book, faults) {
        let Some(gear) = book.gear(g) else { continue };
        for (l, look) in gear.body.looks.iter().enumerate() {
            let told = faults.iter().any(|f| tells(book, f, g, look));
            let explains = faults.iter().any(|f| explains(book, f, g, look));
            let Some(class) = (match (place, told, explains) {
                (0, true, _) => Some(0),
                (0, false, true) => Some(1),
                (2, ..) => Some(2),
                (1, _, true) => Some(3),
                _ => None,
            }) else {
                continue;
            };
            let share = physics::whole::floor_i32(look.share.value).unwrap_or(0);
            found.push((class, Reverse(share), g.ix(), l));
        }
    }
    found.sort_unstable();
    let mut out: Vec<Look> = Vec::new();
    let mut spent = 0_u32;
    for (_, _, g, l) in found {
        let Some(look) = book.c.rig.gear.get(g).and_then(|g| g.body.looks.get(l)) else { continue };
        let seconds = say::whole(physics::whole::ceil_i32(look.seconds.value).unwrap_or(i32::MAX));
        let words = ask(&look.ask);
        let told = out.iter().any(|o| o.words == words);
        if told || words.is_empty() || spent.saturating_add(seconds) > words::LOOK_SECONDS {
            continue;
        }
        spent += seconds;
        out.push(Look { words, seconds });
        if out.len() == words::LOOKS {
            break;
        }
    }
    out
}

/// The owner's question, as plain words where it may stand as such.
fn ask(words: &str) -> Line {
    if say::fits(words, words::LOOK_WORDS) { Line::text(words.trim()) } else { printed_line(words) }
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

/// Two losses that a performer takes for one another.
fn overlap(lost: &Lost, taken: &Lost) -> bool {
    match (lost, taken) {
        (Lost::All, Lost::All | Lost::Supply) | (Lost::Supply, Lost::All) => true,
        (a, b) => a == b,
    }
}
