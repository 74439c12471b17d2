//! Remarks on the links of the normal patch, and on the sound that runs through them.

use super::Remark;
use crate::compile::Compiled;
use crate::ids::{LeadId, PartId, SocketId};
use crate::leak::{self, Hop};
use crate::link::Physics;
use crate::spec::{Flow, PhantomOut, Rank};
use crate::verdict::Verdict;
use crate::wired::Wired;

/// Each link of the normal patch by every check.
pub(super) fn links(c: &Compiled) -> Vec<Remark> {
    let physics = Physics::new(&c.rig);
    let mut all = Vec::new();
    for (i, link) in c.problem.spec.patch.iter().enumerate() {
        let Some(row) = physics.row(&c.problem.spec, link.from, &link.via, link.to) else { continue };
        all.extend(physics.findings(&row).into_iter().map(|(check, found)| Remark {
            verdict: found.verdict,
            check: check.name,
            points: if found.verdict.is_usable() { found.points } else { 0 },
            message: found.message,
            help: found.help,
            figures: found.figures,
            link: Some(i),
        }));
    }
    all
}

/// What is wrong with the patch as a whole, judged as if everything were switched on.
pub(super) fn whole(c: &Compiled, wired: &Wired) -> Vec<Remark> {
    let p = &c.problem;
    let mut all = phantom(c, wired);
    if let Some(hops) = leak::ring(p, wired) {
        all.push(
            Remark::new(Verdict::Hazard, "sound-loop", format!("sound feeds itself: {}", way(c, &hops)))
                .help("pull one of these leads, or turn that level down"),
        );
    }
    for (i, part) in p.spec.parts.iter().enumerate() {
        let source = &p.spec.sources[part.source.ix()];
        let who = &p.spec.listeners[part.listener.ix()].name;
        let audience = model::same_name(who, model::AUDIENCE);
        if part.rank == Rank::Never {
            if let Some(leak) = leak::leak_of(p, wired, PartId::at(i)) {
                let who = if audience { "the audience" } else { who };
                let text = format!("{source} would reach {who}: {}", way(c, &leak.hops));
                all.push(
                    Remark::new(Verdict::Hazard, "must-not-hear", text)
                        .help("turn it off on the way, or send it on a side of its own"),
                );
            }
        } else if p.speakers[i].is_empty() {
            let text = if audience {
                format!("nobody hears {source}")
            } else {
                format!("{who} does not hear {source}")
            };
            all.push(
                Remark::new(Verdict::WillNotWork, "not-heard", text)
                    .help("follow its leads to the speaker; look at switches, levels and power on the way"),
            );
        }
    }
    all.extend(too_few(c));
    all.extend(unloaded(c, wired));
    all
}

/// Phantom that would harm, or that is off where it is needed.
fn phantom(c: &Compiled, wired: &Wired) -> Vec<Remark> {
    let p = &c.problem;
    let mut all = Vec::new();
    for (i, link) in p.spec.patch.iter().enumerate() {
        let (Flow::Out { phantom, .. }, Some(bank)) = (&p.spec.socket(link.from).flow, p.bank_of(link.to))
        else {
            continue;
        };
        let (from, to, switch) = (c.label(link.from), c.label(link.to), &p.spec.knobs[bank.ix()].name);
        let mut remark = match (phantom, wired.knob(bank)) {
            (PhantomOut::Harmed, true) => {
                let text = format!("{to}: {switch} is on and may harm {from}");
                Remark::new(Verdict::Hazard, "phantom-harms", text)
                    .help("mute, switch phantom off, wait 5 s, then plug")
            }
            (PhantomOut::Needs, false) => {
                let text = format!("{from} needs phantom, and {switch} is off at {to}");
                Remark::new(Verdict::WillNotWork, "phantom-off", text)
                    .help(format!("mute, switch {switch} on, wait 5 s"))
            }
            (PhantomOut::Fine | PhantomOut::Needs, true) | (PhantomOut::Fine | PhantomOut::Harmed, false) => {
                continue;
            }
        };
        remark.link = Some(i);
        all.push(remark);
    }
    all
}

/// More pieces of a type plugged than owned.
fn too_few(c: &Compiled) -> Vec<Remark> {
    let spec = &c.problem.spec;
    let mut all = Vec::new();
    for t in (0..spec.leads.len()).map(LeadId::at) {
        let used = spec.patch.iter().flat_map(|l| &l.via).filter(|v| **v == t).count();
        let owned = usize::try_from(spec.leads[t.ix()].owned).unwrap_or(0);
        if used > owned {
            let text = format!("{}: {used} are plugged in, {owned} are owned", c.lead_name(t));
            all.push(
                Remark::new(Verdict::WillNotWork, "too-few-leads", text)
                    .help("count again, or plug with what there is"),
            );
        }
    }
    all
}

/// Valve amplifiers without their loudspeaker.
fn unloaded(c: &Compiled, wired: &Wired) -> Vec<Remark> {
    let mut all = Vec::new();
    for s in (0..c.problem.spec.sockets.len()).map(SocketId::at) {
        let valve =
            c.rig.socket(c.socket(s)).and_then(|k| k.output()).is_some_and(|out| out.must_stay_loaded);
        if valve && wired.out[s.ix()].is_none() && wired.there(c.problem.spec.gear_of(s)) {
            let text = format!("{} has no loudspeaker; a valve amplifier must never run so", c.label(s));
            all.push(
                Remark::new(Verdict::Hazard, "no-load", text)
                    .help("leave it off until its loudspeaker is plugged in"),
            );
        }
    }
    all
}

/// `LAPTOP > SPLIT > MIXER 5 > LEFT SPEAKER`: pieces, with the socket where a piece has several inputs.
fn way(c: &Compiled, hops: &[Hop]) -> String {
    let mut out: Vec<String> = hops.first().map(|h| piece(c, h.from)).into_iter().collect();
    out.extend(hops.iter().map(|h| at(c, h.to)));
    out.join(" > ")
}

fn piece(c: &Compiled, s: SocketId) -> String {
    c.name(c.problem.spec.gear_of(s)).to_owned()
}

fn at(c: &Compiled, s: SocketId) -> String {
    let g = c.problem.spec.gear_of(s);
    let spec = &c.problem.spec;
    let ends = spec.gear[g.ix()].sounds.iter().any(|x| x.socket == s);
    let sound_ins = (0..spec.sockets.len())
        .map(SocketId::at)
        .filter(|t| spec.gear_of(*t) == g)
        .filter(|t| c.rig.socket(c.socket(*t)).is_some_and(|k| k.input().is_some() && !k.is_supply()))
        .count();
    if sound_ins > 1 && !ends { c.label(s) } else { c.name(g).to_owned() }
}
