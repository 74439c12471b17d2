//! The way by which a part comes to a loudspeaker with the fewest points, and what on it makes the sound different.
//!
//! The judge counts points of makers, routes and speakers path by path, and those of new links once for the whole plan (docs/cover.md,
//! section 8). Told to a performer, the points of a link belong to the part that goes over it: here they are counted along its way.

use crate::compile::Compiled;
use crate::ids::{GearId, LeadId, PartId, SocketId};
use crate::judge::Judge;
use crate::link::{Physics, Row};
use crate::plan::Plan;
use crate::spec::{Flow, Place};

/// How a thing on the way changes the sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sound {
    /// Without bass: a piezo pickup into too low a load.
    Thin,
    /// Without treble: a magnetic pickup into too low a load.
    Dull,
    /// Weaker, so that the gain brings noise along.
    Weak,
    /// Another sound, not told how.
    Other,
}

/// The thing that does it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Culprit {
    /// A piece of gear.
    Gear(GearId),
    /// A lead or an adapter.
    Lead(LeadId),
}

/// One thing on the way that makes the sound different.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cause {
    /// By how many points.
    pub points: i32,
    /// How.
    pub sound: Sound,
    /// What does it.
    pub by: Culprit,
}

/// The points of a way, and what they are for, in the order of the way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Trail {
    pub(crate) points: i32,
    pub(crate) causes: Vec<Cause>,
}

/// A rig as a plan leaves it; `judge` has looked at that plan.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Done<'a> {
    pub(crate) c: &'a Compiled,
    pub(crate) plan: &'a Plan,
    pub(crate) judge: &'a Judge<'a>,
}

/// How an in-socket was come to with the fewest points.
#[derive(Clone, Copy, Debug)]
struct Step {
    points: i32,
    /// The piece that makes it, or the in-socket before and the route through its piece.
    before: Before,
}

#[derive(Clone, Copy, Debug)]
enum Before {
    Made(GearId, i32),
    Route(SocketId, i32),
}

/// The way with the fewest points by which a part comes to any of these speakers; `None` where it comes to none.
pub(crate) fn least(done: Done<'_>, part: PartId, at: &[GearId]) -> Option<Trail> {
    let Done { c, judge, .. } = done;
    let steps = steps(done, part);
    let spec = &c.problem.spec;
    let mut best: Option<(i32, GearId, SocketId)> = None;
    for g in at {
        let own = stands(c, judge, *g);
        for s in spec.gear[g.ix()].sounds.iter().filter(|x| judge.holds(x.guard)).map(|x| &x.socket) {
            if let Some(step) = steps[s.ix()]
                && best.is_none_or(|(points, ..)| step.points + own < points)
            {
                best = Some((step.points + own, *g, *s));
            }
        }
    }
    let (points, speaker, mut here) = best?;
    let mut causes = Vec::new();
    let other = |points: i32, g: GearId| Cause { points, sound: Sound::Other, by: Culprit::Gear(g) };
    if stands(c, judge, speaker) > 0 {
        causes.push(other(stands(c, judge, speaker), speaker));
    }
    // Each step comes from one with no more points, set before it: as many as there are sockets, and no more.
    for _ in 0..spec.sockets.len() {
        let Some(step) = steps[here.ix()] else { break };
        let made_here = matches!(step.before, Before::Made(g, _) if spec.gear_of(here) == g);
        if let Some(from) = judge.link_in(here)
            && !made_here
        {
            causes.extend(of_link(done, from, here));
        }
        match step.before {
            Before::Made(g, points) => {
                causes.extend((points > 0).then(|| other(points, g)));
                break;
            }
            Before::Route(s, points) => {
                causes.extend((points > 0).then(|| other(points, spec.gear_of(s))));
                here = s;
            }
        }
    }
    causes.reverse();
    Some(Trail { points, causes })
}

/// Fewest points to each in-socket that the part comes to.
fn steps(done: Done<'_>, part: PartId) -> Vec<Option<Step>> {
    let Done { c, judge, .. } = done;
    let p = &c.problem;
    let source = p.part(part).source;
    let mut steps: Vec<Option<Step>> = vec![None; p.spec.sockets.len()];
    let mut open = Vec::new();
    for (i, gear) in p.spec.gear.iter().enumerate() {
        let g = GearId::at(i);
        for making in gear.makes.iter().filter(|m| m.source == source) {
            if let Some(points) = judge.making(g, making) {
                let step = Step { points, before: Before::Made(g, points) };
                let s = making.socket;
                if matches!(p.spec.socket(s).flow, Flow::Out { .. }) {
                    leave(done, part, (s, step), &mut steps, &mut open);
                } else if steps[s.ix()].is_none_or(|old| step.points < old.points) {
                    steps[s.ix()] = Some(step);
                    open.push(s);
                }
            }
        }
    }
    while let Some(s) = open.pop() {
        let Some(here) = steps[s.ix()] else { continue };
        for r in &p.routes_from[s.ix()] {
            let route = &p.spec.routes[r.ix()];
            let passes = judge.marks(part, s).iter().any(|m| m.sides.passes(route.takes));
            if !passes || !judge.passes(*r) {
                continue;
            }
            for to in &route.to {
                let step = Step {
                    points: here.points.saturating_add(route.points),
                    before: Before::Route(s, route.points),
                };
                leave(done, part, (*to, step), &mut steps, &mut open);
            }
        }
    }
    steps
}

fn leave(
    done: Done<'_>,
    part: PartId,
    (from, mut step): (SocketId, Step),
    steps: &mut [Option<Step>],
    open: &mut Vec<SocketId>,
) {
    let judge = done.judge;
    let Some(to) = judge.link_out(from) else { return };
    if judge.marks(part, to).is_empty() {
        return;
    }
    step.points = step.points.saturating_add(link_points(done, from, to));
    if steps[to.ix()].is_none_or(|old| step.points < old.points) {
        steps[to.ix()] = Some(step);
        open.push(to);
    }
}

/// Points of a speaker and of how it stands.
fn stands(c: &Compiled, judge: &Judge<'_>, g: GearId) -> i32 {
    let gear = &c.problem.spec.gear[g.ix()];
    let Place::At(n) = judge.place(g) else { return gear.points };
    gear.points + gear.placements.get(n).map_or(0, |pl| pl.points)
}

/// The pieces of the link between two sockets.
fn via(done: Done<'_>, from: SocketId, to: SocketId) -> Vec<LeadId> {
    let Done { c, plan, judge } = done;
    let p = &c.problem;
    if let Some(l) = judge.normal_out(from) {
        return p.spec.patch[l.ix()].via.clone();
    }
    let new = plan.new.iter().find(|n| {
        let pair = &p.pairs.pairs[n.pair];
        pair.from == from && pair.to == to
    });
    new.map_or(Vec::new(), |n| p.pairs.chains[n.chain].via.clone())
}

fn link_points(done: Done<'_>, from: SocketId, to: SocketId) -> i32 {
    let pairs = &done.c.problem.pairs;
    // A normal link that the link check would not offer has no points: it is what the owner is used to.
    pairs
        .find(from, to)
        .and_then(|pair| pairs.find_chain(pair, &via(done, from, to)))
        .map_or(0, |chain| pairs.chains[chain].points)
}

/// What on a link makes the sound different: its pieces by their own points, and what physics says of it.
fn of_link(done: Done<'_>, from: SocketId, to: SocketId) -> Vec<Cause> {
    let c = done.c;
    let spec = &c.problem.spec;
    let via = via(done, from, to);
    let own = via.iter().filter(|t| spec.leads[t.ix()].points > 0).map(|t| Cause {
        points: spec.leads[t.ix()].points,
        sound: Sound::Other,
        by: Culprit::Lead(*t),
    });
    let mut all: Vec<Cause> = own.collect();
    let physics = Physics::new(&c.rig);
    if let Some(row) = physics.row(spec, from, &via, to) {
        for (check, found) in physics.findings(&row) {
            if found.points > 0 && found.verdict.is_usable() {
                all.push(Cause {
                    points: found.points,
                    sound: sound(check.name, &row),
                    by: Culprit::Gear(spec.gear_of(to)),
                });
            }
        }
    }
    all
}

fn sound(check: &str, row: &Row<'_>) -> Sound {
    match check {
        "thin-pickup" if row.out.capacitance_nf.is_some() => Sound::Thin,
        "thin-pickup" => Sound::Dull,
        "low-load" => Sound::Weak,
        _ => Sound::Other,
    }
}
