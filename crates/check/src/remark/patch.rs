//! Remarks on the links of the normal patch, and on the sound that runs through them.

use super::Remark;
use crate::compile::Compiled;
use crate::fault::Fault;
use crate::ids::{LeadId, PartId, SocketId};
use crate::judge::{Judge, Unsafe};
use crate::leak::Hop;
use crate::link::Physics;
use crate::power::Overload;
use crate::spec::Rank;
use crate::verdict::Verdict;

/// Each link of the normal patch by every check.
pub(super) fn links(c: &Compiled) -> Vec<Remark> {
    let physics = Physics::new(&c.rig);
    let mut all = Vec::new();
    for (i, link) in c.problem.spec.patch.iter().enumerate() {
        let Some(row) = physics.row(&c.problem.spec, link.from, &link.via, link.to) else { continue };
        all.extend(physics.findings(&row).into_iter().map(|(check, found)| Remark {
            verdict: found.verdict,
            check: check.name,
            message: found.message,
            help: found.help,
            figures: found.figures,
            link: Some(i),
        }));
    }
    all
}

/// What is wrong with the patch as a whole.
pub(super) fn whole(c: &Compiled) -> Vec<Remark> {
    let p = &c.problem;
    let mut all = Vec::new();
    let none = Fault::default();
    if let Some(danger) = Judge::new(p, &none).danger() {
        all.push(told(c, &danger));
    }
    for t in (0..p.spec.leads.len()).map(LeadId::at) {
        let used = p.spec.patch.iter().flat_map(|l| &l.via).filter(|v| **v == t).count();
        let owned = usize::try_from(p.spec.leads[t.ix()].owned).unwrap_or(0);
        if used > owned {
            let text = format!("{}: {used} are plugged in, {owned} are owned", c.lead_name(t));
            all.push(
                Remark::new(Verdict::WillNotWork, "too-few-leads", text)
                    .help("count again, or plug with what there is"),
            );
        }
    }
    for (i, part) in p.spec.parts.iter().enumerate() {
        if part.rank == Rank::Never || !p.speakers[PartId::at(i).ix()].is_empty() {
            continue;
        }
        let (source, who) = (&p.spec.sources[part.source.ix()], &p.spec.listeners[part.listener.ix()].name);
        let text = if who == model::AUDIENCE {
            format!("nobody hears {source}")
        } else {
            format!("{who} does not hear {source}")
        };
        all.push(
            Remark::new(Verdict::WillNotWork, "not-heard", text)
                .help("follow its leads to the speaker; look at switches, levels and power on the way"),
        );
    }
    all
}

fn told(c: &Compiled, danger: &Unsafe) -> Remark {
    let p = &c.problem;
    match danger {
        Unsafe::Never(leak) => {
            let part = p.part(leak.part);
            let (source, who) =
                (&p.spec.sources[part.source.ix()], &p.spec.listeners[part.listener.ix()].name);
            let who = if who == model::AUDIENCE { "the audience" } else { who };
            let text = format!("{source} would reach {who}: {}", way(c, &leak.hops));
            Remark::new(Verdict::Hazard, "must-not-hear", text)
                .help("turn one of them off on the way, or send it on a side of its own")
        }
        Unsafe::Loop(hops) => {
            Remark::new(Verdict::Hazard, "sound-loop", format!("sound feeds itself: {}", way(c, hops)))
                .help("pull one of these leads, or turn that level down")
        }
        Unsafe::Overload(Overload::Rating { gear, watts, cap }) => {
            let text = format!("{} feeds {watts} W; it may feed {cap} W", c.name(*gear));
            Remark::new(Verdict::Hazard, "overload", text).help("move something to another outlet")
        }
        Unsafe::Overload(Overload::Ring(gear)) => {
            Remark::new(Verdict::Hazard, "supply-ring", format!("{} feeds itself in a ring", c.name(*gear)))
                .help("plug one of the strips into a wall outlet")
        }
        Unsafe::Phantom(s) => {
            let text = format!("{}: phantom is on and would harm what is plugged there", c.label(*s));
            Remark::new(Verdict::Hazard, "phantom-harms", text)
                .help("mute, switch phantom off, wait 5 s, then plug")
        }
    }
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
    let ends = spec.gear[g.ix()].sounds.contains(&s);
    let sound_ins = (0..spec.sockets.len())
        .map(SocketId::at)
        .filter(|t| spec.gear_of(*t) == g)
        .filter(|t| c.rig.socket(c.socket(*t)).is_some_and(|k| k.input().is_some() && !k.is_supply()))
        .count();
    if sound_ins > 1 && !ends { c.label(s) } else { c.name(g).to_owned() }
}
