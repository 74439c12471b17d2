//! Is it a rig at all: does every name point at something, is every name one thing only?
//!
//! What works electrically is not judged here.

use std::ops::Range;

use crate::{BankEffect, Body, GearId, Lost, PhantomAtInput, Problem, Rig, Switch, same_name};

/// Every name inside a body that points at nothing, in words.
pub(crate) fn body(body: &Body) -> Vec<String> {
    let mut wrong = Vec::new();
    let has = |name: &str| body.socket(name).is_some();
    let way = |name: &str, out: bool| {
        body.sockets.iter().any(|s| same_name(&s.name, name) && s.output().is_some() == out)
    };
    let mut need = |fine: bool, text: String| {
        if !fine {
            wrong.push(text);
        }
    };
    for r in &body.routes {
        need(
            way(&r.from, false),
            format!("route {} starts at \"{}\", which is no in-socket", r.name, r.from),
        );
        for to in &r.to {
            need(way(to, true), format!("route {} goes to \"{to}\", which is no out-socket", r.name));
        }
        need(!r.to.is_empty(), format!("route {} goes nowhere", r.name));
        if let Some(g) = &r.guard {
            need(
                has(&g.socket),
                format!("route {} waits for socket \"{}\", which is not there", r.name, g.socket),
            );
        }
    }
    for m in &body.makes {
        need(has(&m.socket), format!("{} is made at \"{}\", which is not there", m.source, m.socket));
        if let Some(g) = &m.guard {
            need(
                has(&g.socket),
                format!("{} waits for socket \"{}\", which is not there", m.source, g.socket),
            );
        }
    }
    if let Some(g) = &body.sounds_while {
        need(
            has(&g.socket),
            format!("its loudspeaker waits for socket \"{}\", which is not there", g.socket),
        );
    }
    for s in &body.sounds {
        need(way(s, false), format!("it sounds what comes in at \"{s}\", which is no in-socket"));
    }
    for s in &body.sockets {
        let Some(input) = s.input() else { continue };
        if let Some(g) = &input.guard {
            need(
                has(&g.socket),
                format!("socket {} waits for socket \"{}\", which is not there", s.name, g.socket),
            );
        }
        if let PhantomAtInput::Switched(bank) = &input.phantom {
            let there =
                body.banks.iter().any(|b| same_name(&b.name, bank) && b.effect == BankEffect::Phantom);
            need(there, format!("socket {} has phantom by \"{bank}\", but there is no such bank", s.name));
        }
    }
    for b in &body.banks {
        if let BankEffect::Mute(routes) = &b.effect {
            for r in routes {
                need(body.route(r).is_some(), format!("bank {} mutes \"{r}\", which is no route", b.name));
            }
        }
    }
    if let Some(g) = body.battery.as_ref().and_then(|b| b.guard.as_ref()) {
        need(has(&g.socket), format!("the battery waits for socket \"{}\", which is not there", g.socket));
    }
    let modes = body.modes.iter().map(|m| (format!("mode {}", m.name), &m.lost));
    for (who, lost) in modes.chain(body.looks.iter().map(|l| (format!("look \"{}\"", l.ask), &l.takes))) {
        for l in lost {
            match l {
                Lost::Route(r) => {
                    need(body.route(r).is_some(), format!("{who} loses route \"{r}\", which is not there"))
                }
                Lost::Socket(s) => need(has(s), format!("{who} loses socket \"{s}\", which is not there")),
                Lost::All | Lost::Sounding | Lost::Making | Lost::Supply => {}
            }
        }
    }
    let told =
        body.looks.iter().flat_map(|l| l.tells.iter().map(move |t| (format!("look \"{}\"", l.ask), t)));
    let undone = body.mends.iter().flat_map(|m| m.modes.iter().map(move |t| (format!("mend {}", m.name), t)));
    for (who, mode) in told.chain(undone) {
        need(
            body.modes.iter().any(|m| same_name(&m.name, mode)),
            format!("{who} names mode \"{mode}\", which is not there"),
        );
    }
    wrong
}

/// A knob that turns several routes, of which one is on and another off.
fn two_ways(body: &Body) -> Option<&str> {
    let switched = body.routes.iter().filter(|r| r.switch != Switch::Fixed);
    switched
        .map(|r| (r, body.routes.iter().find(|o| o.is_turned_by(r.knob_name()))))
        .find_map(|(r, first)| first.filter(|o| o.switch != r.switch).map(|_| r.knob_name()))
}

/// Adds what is wrong with the whole; `named_at` says where each piece is named.
pub(crate) fn rig(rig: &Rig, named_at: &[(usize, Range<usize>)], problems: &mut Vec<Problem>) {
    for (i, gear) in rig.gear.iter().enumerate() {
        let Some((line, span)) = named_at.get(i).cloned() else { continue };
        for text in body(&gear.body) {
            problems.push(
                Problem::new("points-nowhere", line, span.clone(), format!("{}: {text}", gear.name))
                    .with_help("check the spelling against the socket, route and mode lines of this piece"),
            );
        }
        if let Some(knob) = two_ways(&gear.body) {
            let text = format!("{}: knob {knob} turns several routes; one is on and another off", gear.name);
            problems.push(
                Problem::new("knob-two-ways", line, span, text)
                    .with_help(format!("say how the knob stands on a line below: switch {knob} on, or off")),
            );
        }
    }
    clashes(rig, named_at, problems);
    power_loops(rig, named_at, problems);
}

/// `SPEAKER 2` may not be both a piece and socket 2 of SPEAKER.
fn clashes(rig: &Rig, named_at: &[(usize, Range<usize>)], problems: &mut Vec<Problem>) {
    for (i, gear) in rig.gear.iter().enumerate() {
        let folded = crate::fold(&gear.name);
        let clash = folded.char_indices().filter(|(_, c)| *c == ' ').find_map(|(at, _)| {
            let owner = rig.piece(rig.find_gear(folded.get(..at)?)?)?;
            let socket = owner.body.socket(folded.get(at + 1..)?)?;
            Some((owner, socket))
        });
        if let (Some((owner, socket)), Some((line, span))) = (clash, named_at.get(i).cloned()) {
            let socket = owner.body.sockets.get(socket).map_or("", |s| s.name.as_str());
            problems.push(
                Problem::new(
                    "two-meanings",
                    line,
                    span,
                    format!("\"{}\" is a piece, and also socket {socket} of {}", gear.name, owner.name),
                )
                .with_help(format!("tape another name on it, for example {} TWO", owner.name)),
            );
        }
    }
}

/// Does power come round to where it started? Each loop is told once, at its first piece.
fn power_loops(rig: &Rig, named_at: &[(usize, Range<usize>)], problems: &mut Vec<Problem>) {
    let mut feeds: Vec<Vec<usize>> = vec![Vec::new(); rig.gear.len()];
    for link in &rig.links {
        let supply = rig.socket(link.from).is_some_and(crate::Socket::is_supply);
        if supply && let Some(list) = feeds.get_mut(link.from.gear.0) {
            list.push(link.to.gear.0);
        }
    }
    // 0 not seen, 1 on the way, 2 done.
    let mut state = vec![0_u8; rig.gear.len()];
    for start in 0..rig.gear.len() {
        if state.get(start) != Some(&0) {
            continue;
        }
        let mut way: Vec<(usize, usize)> = vec![(start, 0)];
        while let Some((piece, next)) = way.pop() {
            if let Some(s) = state.get_mut(piece) {
                *s = 1;
            }
            let Some(fed) = feeds.get(piece).and_then(|f| f.get(next)).copied() else {
                if let Some(s) = state.get_mut(piece) {
                    *s = 2;
                }
                continue;
            };
            way.push((piece, next + 1));
            match state.get(fed) {
                Some(0) => way.push((fed, 0)),
                Some(1) => {
                    let from = way.iter().position(|(p, _)| *p == fed).unwrap_or(0);
                    let names: Vec<String> = way
                        .iter()
                        .skip(from)
                        .map(|(p, _)| *p)
                        .chain([fed])
                        .filter_map(|p| rig.piece(GearId(p)))
                        .map(|g| g.name.clone())
                        .collect();
                    let (line, span) = named_at.get(fed).cloned().unwrap_or((1, 0..0));
                    problems.push(
                        Problem::new(
                            "power-loop",
                            line,
                            span,
                            format!("power goes round in a ring: {}", names.join(" feeds ")),
                        )
                        .with_help("plug one of them into an outlet instead"),
                    );
                }
                _ => {}
            }
        }
    }
}
