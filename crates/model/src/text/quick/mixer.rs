//! The mixer: which one has the channels that the lines name.

use super::name;
use super::words::{Word, phrase, words};
use super::{NotQuick, Quick, Read};
use crate::{Guard, Kind, Matters, Origin, shelf};

/// Is it a mixer?
pub(super) fn is_mixer(kind: &Kind) -> bool {
    kind.name.contains("mixer") && !kind.name.contains("supply") && kind.body.sockets.len() > 6
}

/// The smallest mixer with that many channels.
pub(super) fn mixer_for(channels: u32) -> Option<&'static Kind> {
    let small = name::kind_of("mixer");
    let has = |k: &Kind| channels == 0 || k.body.socket(&channels.to_string()).is_some();
    if small.is_some_and(has) {
        return small;
    }
    shelf::kinds().iter().filter(|k| is_mixer(k) && !k.name.contains("powered")).find(|k| has(k)).or(small)
}

/// A new mixer; where no mixer on the shelf has as many channels as are named, it gets line sockets of its own.
pub(super) fn bring_mixer(q: &mut Quick<'_>, name: &str, why: &str) -> Read<usize> {
    let kind = mixer_for(q.channels).ok_or(NotQuick)?;
    let piece = q.bring(name, kind, why, "")?;
    let most = (1..=32).take_while(|n: &u32| kind.body.socket(&n.to_string()).is_some()).last().unwrap_or(0);
    // Line jacks come in pairs: 7/8 is like 5/6.
    let mut left = most + 1;
    while most > 1 && most % 2 == 0 && left <= q.channels.min(32) {
        let from = [(most - 1).to_string(), most.to_string()];
        let to = [left.to_string(), (left + 1).to_string()];
        let renamed = |text: &str| {
            let word = |w: &str| {
                w.split('/')
                    .map(|w| {
                        from.iter().position(|f| f == w).and_then(|i| to.get(i)).map_or(w, String::as_str)
                    })
                    .collect::<Vec<_>>()
                    .join("/")
            };
            text.split(' ').map(word).collect::<Vec<_>>().join(" ")
        };
        for socket in kind.body.sockets.iter().filter(|s| from.contains(&s.name)) {
            let socket = crate::Socket { name: renamed(&socket.name), ..socket.clone() };
            q.push(&format!("socket {}", super::super::socket::print(&socket, &Origin::Yours)))?;
            if let Some(g) = q.pieces.get_mut(piece) {
                g.body.sockets.push(socket);
            }
        }
        for r in kind.body.routes.iter().filter(|r| from.contains(&r.from)) {
            let guard = r.guard.clone().map(|g| Guard { socket: renamed(&g.socket), ..g });
            let (name, knob) = (renamed(&r.name), r.knob.as_deref().map(renamed));
            let route = crate::Route { name, knob, from: renamed(&r.from), guard, ..r.clone() };
            q.push(&format!("route {}", super::super::route::print(&route, &Origin::Yours)))?;
        }
        let text = format!(
            "{} has line sockets {left}/{}, like its {}/{most}",
            q.name_of(piece),
            left + 1,
            most - 1
        );
        q.guess(Matters::Must, text, "a line names one");
        left += 2;
    }
    Ok(piece)
}

/// The highest channel that a line names at a mixer, roughly: the mixer's kind must have it.
pub(super) fn highest_channel(line: &str) -> u32 {
    let mut most = 0;
    for segment in line.split(['>', '→', ';']) {
        let said = words(segment, &[]);
        let numbers = said.iter().filter_map(Word::number).filter(|n| *n <= 32).max().unwrap_or(0);
        let bare = !said.is_empty()
            && said.iter().all(|w| w.number().is_some() || w.is("channel") || w.is("in") || w.is("and"));
        let first = said.iter().position(|w| w.number().is_some()).unwrap_or(0);
        let named = said.get(..first).is_some_and(|w| phrase(w).contains("mixer"))
            || (first == 0
                && phrase(&said).contains("mixer")
                && said.first().is_none_or(|w| w.number().is_none()));
        if bare || named {
            most = most.max(numbers);
        }
    }
    most
}
