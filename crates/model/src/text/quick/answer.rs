//! `answer PEDAL battery: yes`: what the owner said, laid over the rig. Laid twice it is the same.

use super::super::read::Line;
use super::super::statement::Statement;
use super::super::suggest::did_you_mean;
use crate::{
    Answer, BankEffect, Class, Figure, Gear, Origin, PhantomAtInput, Problem, Rig, Side, SocketRef, Stereo,
};

/// Every question with its answers, beside "don't know" and `?`.
const ASKED: [(&str, &[&str]); 9] = [
    ("click", &["left", "right", "none"]),
    ("powered", &["powered", "passive"]),
    ("phantom", &["on", "off"]),
    ("through", &["yes", "no"]),
    ("battery", &["yes", "no"]),
    ("switches", &["yes", "no"]),
    ("microphone", &["yes", "no"]),
    ("mono", &["yes", "no"]),
    ("reach", &["yes", "no"]),
];

/// Is it answered, for this piece? An answer kept open is none.
pub(super) fn is_answered(rig: &Rig, about: &str, asks: &str) -> bool {
    rig.answers.iter().any(|a| crate::same_name(&a.about, about) && a.asks == asks && !a.is_open())
}

/// Lays every answer over the rig; what cannot be laid is told.
pub(crate) fn apply(rig: &mut Rig, lines: &[Line]) -> Vec<Problem> {
    let mut problems = Vec::new();
    for answer in rig.answers.clone() {
        let place = lines.iter().rfind(|l| matches!(&l.statement, Statement::Answer(a, _) if crate::same_name(&a.about, &answer.about) && a.asks == answer.asks));
        let (line, span) = place.map_or((1, 0..0), |l| (l.number, l.start..l.start + l.len));
        if let Err((code, message, help)) = lay(rig, &answer) {
            problems.push(Problem::new(code, line, span, message).with_help(help));
        }
    }
    problems
}

type Told = (&'static str, String, String);

fn lay(rig: &mut Rig, a: &Answer) -> Result<(), Told> {
    let Some((_, says)) = ASKED.iter().find(|(asks, _)| *asks == a.asks) else {
        let help =
            did_you_mean(&a.asks, ASKED.iter().map(|(q, _)| *q), "see the questions of: secondstring read");
        return Err(("unknown-question", format!("nothing asks \"{}\"", a.asks), help));
    };
    if !["?", "don't know", "dont know"].contains(&a.says.as_str()) && !says.contains(&a.says.as_str()) {
        let help = format!("write one of: {}, don't know", says.join(", "));
        return Err((
            "unknown-answer",
            format!("\"{}\" is no answer to {} {}", a.says, a.about, a.asks),
            help,
        ));
    }
    let Some(piece) = rig.find_gear(&a.about) else {
        let names: Vec<String> = rig.gear.iter().map(|g| g.name.clone()).collect();
        let help = did_you_mean(&a.about, names.iter().map(String::as_str), "name a piece of this rig");
        return Err(("unknown-gear", format!("no piece is called \"{}\"", a.about), help));
    };
    match (a.asks.as_str(), a.says.as_str()) {
        ("click", "left") => click(rig, piece.0, Stereo::Left),
        ("click", "right") => click(rig, piece.0, Stereo::Right),
        ("click", "none") => no_click(rig, piece.0),
        ("powered", says) => powered(rig, piece.0, says)?,
        ("reach", "no") => {
            let message = format!("a lead from {} does not reach, as you said", a.about);
            return Err((
                "does-not-reach",
                message,
                "write a longer lead, or move the two nearer together".to_owned(),
            ));
        }
        ("through", says) => {
            let kind = rig.gear.get(piece.0).and_then(|g| g.kind.clone());
            let others: Vec<String> = rig
                .answers
                .iter()
                .filter(|o| o.asks == "through" && !o.is_open())
                .map(|o| crate::fold(&o.about))
                .collect();
            for (i, gear) in rig.gear.iter_mut().enumerate() {
                // One answer serves all of the kind that have none of their own.
                if i == piece.0
                    || (gear.kind == kind && kind.is_some() && !others.contains(&crate::fold(&gear.name)))
                {
                    through(gear, says);
                }
            }
        }
        (asks, says) => {
            if let Some(gear) = rig.gear.get_mut(piece.0) {
                lay_gear(gear, asks, says);
            }
        }
    }
    Ok(())
}

fn lay_gear(gear: &mut Gear, asks: &str, says: &str) {
    match (asks, says) {
        ("phantom", "on" | "off") => {
            gear.body
                .banks
                .iter_mut()
                .filter(|b| b.effect == BankEffect::Phantom)
                .for_each(|b| b.on = says == "on");
        }
        ("battery", "yes" | "no" | "don't know" | "dont know") => {
            if let Some(b) = &mut gear.body.battery {
                b.present = match says {
                    "yes" => Figure::yours(true),
                    "no" => Figure::yours(false),
                    _ => Figure::dont_know(b.present.value),
                };
            }
        }
        ("switches", "no") => own_switches(gear),
        ("microphone", "no") => {
            for socket in &mut gear.body.sockets {
                if let Side::In(input) = &mut socket.side {
                    let more = input.accepts.iter().any(|a| a.class != Class::Mic);
                    input.accepts.retain(|a| a.class != Class::Mic || !more);
                }
            }
        }
        ("mono", "no") => gear.body.makes.retain(|m| m.guard.is_none()),
        _ => {}
    }
}

fn through(gear: &mut Gear, says: &str) {
    for route in gear.body.routes.iter_mut().filter(|r| r.passive.origin == Origin::DontKnow) {
        match says {
            "yes" => route.passive = Figure::yours(true),
            "no" => route.passive = Figure::yours(false),
            _ => {}
        }
    }
}

/// Each input gets a phantom switch of its own.
fn own_switches(gear: &mut Gear) {
    let body = &mut gear.body;
    let banks: Vec<String> =
        body.banks.iter().filter(|b| b.effect == BankEffect::Phantom).map(|b| b.name.clone()).collect();
    for bank in banks {
        let shared = |s: &&mut crate::Socket| {
            s.input().is_some_and(|i| i.phantom == PhantomAtInput::Switched(bank.clone()))
        };
        let inputs: Vec<&mut crate::Socket> = body.sockets.iter_mut().filter(shared).collect();
        if inputs.len() < 2 {
            continue;
        }
        let mut own = Vec::new();
        for socket in inputs {
            let name = format!("{bank} {}", socket.name);
            if let Side::In(input) = &mut socket.side {
                input.phantom = PhantomAtInput::Switched(name.clone());
            }
            own.push(name);
        }
        let Some(at) = body.banks.iter().position(|b| b.name == bank) else { continue };
        let old = body.banks.remove(at);
        body.banks.extend(own.into_iter().map(|name| crate::Bank { name, ..old.clone() }));
    }
}

fn powered(rig: &Rig, piece: usize, says: &str) -> Result<(), Told> {
    let Some(gear) = rig.gear.get(piece) else { return Ok(()) };
    let is_passive = gear.body.sockets.iter().any(|s| s.takes(&Class::Speaker));
    if says == "passive" && !is_passive {
        let message = format!("{} is passive, as you said, but its line says it is powered", gear.name);
        let help = format!(
            "write gear {} = passive speaker, and plug it into an amplifier's speaker socket",
            gear.name
        );
        return Err(("powered-and-passive", message, help));
    }
    Ok(())
}

/// What feeds the split, and which of its out-sockets are left and right.
fn split_ends(rig: &Rig, split: usize) -> Option<(SocketRef, usize, usize)> {
    let gear = rig.gear.get(split)?;
    let from = rig.links.iter().find(|l| l.to.gear.0 == split)?.from;
    Some((from, gear.body.socket("LEFT")?, gear.body.socket("RIGHT")?))
}

/// The click on this side: the sides of the source and the two plugs change places when they must.
fn click(rig: &mut Rig, split: usize, side: Stereo) {
    let Some((from, left, right)) = split_ends(rig, split) else { return };
    let Some(source) = rig.gear.get_mut(from.gear.0) else { return };
    let now = source.body.makes.iter().find(|m| m.source == "click").and_then(|m| m.side);
    if now.is_none() || now == Some(side) {
        return;
    }
    for made in &mut source.body.makes {
        made.side = match made.side {
            Some(Stereo::Left) => Some(Stereo::Right),
            Some(Stereo::Right) => Some(Stereo::Left),
            None => None,
        };
    }
    for link in rig.links.iter_mut().filter(|l| l.from.gear.0 == split) {
        if link.from.socket == left {
            link.from.socket = right;
        } else if link.from.socket == right {
            link.from.socket = left;
        }
    }
}

/// No click at all: both sides carry the rest.
fn no_click(rig: &mut Rig, split: usize) {
    let Some((from, _, _)) = split_ends(rig, split) else { return };
    let Some(source) = rig.gear.get_mut(from.gear.0) else { return };
    if !source.body.makes.iter().any(|m| m.source == "click") {
        return;
    }
    source.body.makes.retain(|m| m.source != "click");
    source.body.makes.iter_mut().for_each(|m| m.side = None);
    let still = rig.gear.iter().any(|g| g.body.makes.iter().any(|m| m.source == "click"));
    if let (false, Some(click)) = (still, rig.find_source("click")) {
        rig.parts.retain(|p| p.source != click);
    }
}
