//! Remarks on power: what hangs on what, and how much is left.

use model::Class;
use physics::{Amps, Volts, mains};

use super::Remark;
use crate::compile::Compiled;
use crate::ids::{GearId, LinkId};
use crate::power;
use crate::verdict::Verdict;
use crate::wired::Wired;

/// Mains voltage where nobody said another. From memory: IEC 60038; where it is 120 V, a breaker gives half as much.
const MAINS_VOLTS: f64 = 230.0;

/// Share of a rating above which it is said, percent. Common practice for hours at a time; NEC 210.19(A)(1) has the same.
const NEARLY: i64 = 80;

/// Power of the normal patch.
pub(super) fn supplies(c: &Compiled, wired: &Wired) -> Vec<Remark> {
    let mut all = strips_in_strips(c);
    match power::loads(&c.problem, wired) {
        Err(g) => all.push(
            Remark::new(Verdict::Hazard, "supply-ring", format!("{} feeds itself in a ring", c.name(g)))
                .help("plug one of the strips into a wall outlet"),
        ),
        Ok(fed) => {
            all.extend(ratings(c, &fed));
            all.extend(breakers(c, &fed));
        }
    }
    all
}

fn ratings(c: &Compiled, fed: &[i64]) -> Vec<Remark> {
    let mut all = Vec::new();
    for (g, watts) in fed.iter().enumerate() {
        let Some(cap) = c.problem.spec.gear[g].cap.map(i64::from) else { continue };
        let name = c.name(GearId::at(g));
        let text = format!("{name} feeds {watts} W of {cap} W");
        let remark = if *watts > cap {
            Remark::new(Verdict::Hazard, "overload", format!("{text}: too much"))
                .help("move something to another outlet")
        } else if gives_mains(c, g) && 100 * watts > NEARLY * cap {
            Remark::new(Verdict::Works, "nearly-full", format!("{text}: nearly full"))
                .help("plug nothing more in")
        } else {
            continue;
        };
        let figure = c.rig.gear[g].body.rating.as_ref();
        all.push(match figure {
            Some(f) => remark.figure("may feed", f, "W"),
            None => remark,
        });
    }
    all
}

/// Each breaker against what its outlets feed, and whether everything hangs on one.
fn breakers(c: &Compiled, fed: &[i64]) -> Vec<Remark> {
    let live: i64 = (0..fed.len()).filter(|g| is_outlet(c, *g)).map(|g| fed[g]).sum();
    let mut all = Vec::new();
    for breaker in &c.rig.room.breakers {
        let watts: i64 = breaker.outlets.iter().filter_map(|g| fed.get(g.0)).sum();
        let Some(most) = capacity(breaker.amps.value) else { continue };
        let name = &breaker.name;
        let text = format!("{watts} W of {most} W at {MAINS_VOLTS} V");
        let remark = if watts > most {
            Remark::new(
                Verdict::Hazard,
                "breaker-overload",
                format!("breaker {name} carries {text}: too much"),
            )
            .help("move something to an outlet on another breaker")
        } else if watts > 0 && watts == live {
            Remark::new(Verdict::Works, "one-breaker", format!("everything hangs on breaker {name}: {text}"))
                .help("find out who may reset it, and keep what runs on batteries charged")
        } else {
            continue;
        };
        all.push(remark.figure("breaker", &breaker.amps, "A"));
    }
    all
}

fn capacity(amps: f64) -> Option<i64> {
    let most = mains::capacity(Volts::new(MAINS_VOLTS).ok()?, Amps::new(amps).ok()?).ok()?;
    physics::whole::floor_i32(most.get()).ok().map(i64::from)
}

fn is_outlet(c: &Compiled, g: usize) -> bool {
    c.rig.gear[g].body.live && gives_mains(c, g)
}

fn gives_mains(c: &Compiled, g: usize) -> bool {
    c.rig.gear[g].body.sockets.iter().any(|s| s.output().is_some_and(|o| o.class == Class::Mains))
}

/// A strip: mains in, and mains out more than once.
fn is_strip(c: &Compiled, g: usize) -> bool {
    let sockets = &c.rig.gear[g].body.sockets;
    let outs = sockets.iter().filter(|s| s.output().is_some_and(|o| o.class == Class::Mains)).count();
    outs > 1 && sockets.iter().any(|s| s.takes(&Class::Mains))
}

fn strips_in_strips(c: &Compiled) -> Vec<Remark> {
    let mut all = Vec::new();
    for (i, link) in c.problem.spec.patch.iter().enumerate() {
        let (a, b) = (c.problem.spec.gear_of(link.from), c.problem.spec.gear_of(link.to));
        if is_strip(c, a.ix()) && is_strip(c, b.ix()) {
            let text = format!("{} hangs on {}: one strip behind another", c.name(b), c.name(a));
            let mut remark = Remark::new(Verdict::Works, "strip-in-strip", text)
                .help("plug it into a wall outlet where you can; unwind an extension fully");
            remark.link = Some(LinkId::at(i).ix());
            all.push(remark);
        }
    }
    all
}
