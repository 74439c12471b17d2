//! Who has power: fed, steady, live; and what hangs on what (docs/cover.md, section 4).

use crate::fault::Losses;
use crate::ids::{GearId, KnobId, SocketId};
use crate::problem::Problem;
use crate::rules::Rule;
use crate::spec::Flow;
use crate::wired::Wired;

/// Power of every piece in one patch.
#[derive(Clone, Debug)]
pub(crate) struct Power {
    /// Works.
    pub(crate) live: Vec<bool>,
    /// Has a working feed, or a battery that gives.
    pub(crate) could: Vec<bool>,
    fed: Vec<bool>,
    steady: Vec<bool>,
    /// Has its power over the normal links from an outlet on, none of them touched or lost: it has not started anew.
    pub(crate) unbroken: Vec<bool>,
}

impl Power {
    pub(crate) fn new(p: &Problem) -> Self {
        let n = p.spec.gear.len();
        let none = vec![false; n];
        Power {
            live: none.clone(),
            could: none.clone(),
            fed: none.clone(),
            steady: none.clone(),
            unbroken: none,
        }
    }

    /// Settles who is live. With `all_on` every piece that could be is: how the normal patch stands before anything fails.
    pub(crate) fn settle(&mut self, p: &Problem, w: &Wired, losses: &Losses, all_on: bool) {
        self.live.fill(false);
        self.could.fill(false);
        self.fed.fill(false);
        self.steady.fill(false);
        let gears = || (0..p.spec.gear.len()).map(GearId::at);
        for g in gears() {
            let gear = &p.spec.gear[g.ix()];
            let usable = w.there(g) && !losses.gear(g) && !(gear.root && losses.supply(g));
            if gear.root || !gear.needs_power || !p.rules.on(Rule::Feeding) {
                self.live[g.ix()] = usable;
                self.could[g.ix()] = usable;
                self.steady[g.ix()] = usable;
            }
        }
        // Feeding only grows, so passes until nothing changes end after as many as the chain of feeders is long.
        loop {
            let mut changed = false;
            for g in gears() {
                let gear = &p.spec.gear[g.ix()];
                let settled = gear.root || !gear.needs_power || !p.rules.on(Rule::Feeding);
                if settled || !w.there(g) || losses.gear(g) {
                    continue;
                }
                changed |= self.look_at(p, w, losses, g, all_on);
            }
            if !changed {
                break;
            }
        }
    }

    /// One look at one piece; says whether anything about it changed.
    fn look_at(&mut self, p: &Problem, w: &Wired, losses: &Losses, g: GearId, all_on: bool) -> bool {
        let gear = &p.spec.gear[g.ix()];
        let (mut fed, mut steady) = (self.fed[g.ix()], self.steady[g.ix()]);
        if !losses.supply(g) {
            for s in &p.supply_ins[g.ix()] {
                let Some(from) = w.into[s.ix()] else { continue };
                if !feeds(p, w, losses, from, *s) {
                    continue;
                }
                let feeder = p.spec.gear_of(from);
                fed |= self.live[feeder.ix()];
                let untouched = w.out[from.ix()].is_some_and(|wire| wire.normal.is_some());
                steady |= untouched && self.steady[feeder.ix()] && p.live[g.ix()];
            }
        }
        let battery = gear.battery.is_some_and(|b| w.holds(b.guard) || !p.rules.on(Rule::Guard));
        steady |= battery && p.live[g.ix()];
        if !p.rules.on(Rule::Steady) {
            steady = fed || battery;
        }
        let on = (all_on && !gear.off) || steady || w.started[g.ix()] || !p.rules.on(Rule::Start);
        let live = (fed && (on || gear.auto)) || (battery && on);
        let could = fed || battery;
        let before = (self.fed[g.ix()], self.steady[g.ix()], self.live[g.ix()], self.could[g.ix()]);
        self.fed[g.ix()] = fed;
        self.steady[g.ix()] = steady;
        self.live[g.ix()] = live;
        self.could[g.ix()] = could;
        before != (fed, steady, live, could)
    }
}

impl Power {
    /// Settles which pieces have had their power all along, by everything that the fault took, mended or not.
    pub(crate) fn settle_unbroken(&mut self, p: &Problem, w: &Wired, fault: &Losses) {
        if p.spec.knobs.iter().all(|k| !k.forgets) {
            return;
        }
        self.unbroken.fill(false);
        loop {
            let mut changed = false;
            for (i, gear) in p.spec.gear.iter().enumerate() {
                let g = GearId::at(i);
                if self.unbroken[i] {
                    continue;
                }
                let by_link = |s: &SocketId| {
                    w.into[s.ix()].is_some_and(|from| {
                        feeds(p, w, fault, from, *s)
                            && w.out[from.ix()].is_some_and(|wire| wire.normal.is_some())
                            && self.unbroken[p.spec.gear_of(from).ix()]
                    })
                };
                let lost = fault.gear(g) || fault.supply(g);
                let fed = gear.root || p.supply_ins[i].iter().any(by_link);
                let whole = !gear.needs_power && !gear.root || fed && !lost;
                self.unbroken[i] = whole;
                changed |= whole;
            }
            if !changed {
                break;
            }
        }
    }

    /// Has the piece of a bank that forgets started anew?
    pub(crate) fn forgot(&self, p: &Problem, k: KnobId) -> bool {
        let knob = &p.spec.knobs[k.ix()];
        let g = knob.gear.ix();
        knob.forgets && p.unbroken[g] && !self.unbroken[g] && p.rules.on(Rule::Forgets)
    }

    /// Is a bank on? One that forgot is on only if it was turned over.
    pub(crate) fn bank_on(&self, p: &Problem, w: &Wired, k: KnobId) -> bool {
        if self.forgot(p, k) { w.knob(k) != p.spec.knobs[k.ix()].on } else { w.knob(k) }
    }
}

/// Does a supply link between these sockets work?
fn feeds(p: &Problem, w: &Wired, losses: &Losses, from: SocketId, to: SocketId) -> bool {
    let Some(class) = p.spec.class_of(from) else { return false };
    if !p.spec.classes[class.ix()].supply || losses.socket(&p.spec, from) || losses.socket(&p.spec, to) {
        return false;
    }
    if w.out[from.ix()].and_then(|wire| wire.normal).is_some_and(|l| losses.link(l)) {
        return false;
    }
    let Flow::In { guard, .. } = p.spec.socket(to).flow else { return false };
    w.holds(guard) || !p.rules.on(Rule::Guard)
}

/// A rating exceeded, or supplies in a ring; judged as if nothing had failed and everything were switched on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overload {
    /// Feeds more than its rating.
    Rating {
        /// The piece.
        gear: GearId,
        /// What it would feed, W.
        watts: i64,
        /// What it may feed, W.
        cap: i32,
    },
    /// Feeds itself in a ring.
    Ring(GearId),
}

/// What each piece feeds, W, its own draw left out; or a ring.
///
/// # Errors
/// A piece that is in a ring of supplies.
pub(crate) fn loads(p: &Problem, w: &Wired) -> Result<Vec<i64>, GearId> {
    let n = p.spec.gear.len();
    let mut fed: Vec<Option<i64>> = vec![None; n];
    let mut open = vec![false; n];
    for g in 0..n {
        load(p, w, GearId::at(g), &mut fed, &mut open)?;
    }
    Ok(fed.into_iter().map(|f| f.unwrap_or(0)).collect())
}

fn load(
    p: &Problem,
    w: &Wired,
    g: GearId,
    fed: &mut [Option<i64>],
    open: &mut [bool],
) -> Result<i64, GearId> {
    if let Some(watts) = fed[g.ix()] {
        return Ok(watts);
    }
    if std::mem::replace(&mut open[g.ix()], true) {
        return Err(g);
    }
    let mut watts = 0;
    for s in &p.supply_outs[g.ix()] {
        if let Some(wire) = w.out[s.ix()] {
            let to = p.spec.gear_of(wire.to);
            watts += i64::from(p.spec.gear[to.ix()].watts) + load(p, w, to, fed, open)?;
        }
    }
    open[g.ix()] = false;
    fed[g.ix()] = Some(watts);
    Ok(watts)
}
