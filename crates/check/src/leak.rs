//! Ways that sound must not take: to ears it is not meant for, or back to itself (docs/cover.md, section 6).
//!
//! Judged as if nothing had failed and everything were switched on, since what is dead may come back. Levels play no
//! part; sides and guards do, but a ring counts whatever its sides.

use crate::carry::{Sides, guard_holds, is_on};
use crate::ids::{GearId, PartId, RouteId, SocketId};
use crate::problem::Problem;
use crate::rules::Rule;
use crate::spec::{Flow, PhantomOut, Place, Rank, SocketWire};
use crate::wired::Wired;

/// One link of such a way, and the route taken behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hop {
    /// Out of this socket.
    pub from: SocketId,
    /// Into this one.
    pub to: SocketId,
    /// On through this route; `None` where a loudspeaker ends it.
    pub route: Option<RouteId>,
}

/// How a part that must not be heard could be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Leak {
    /// The part.
    pub part: PartId,
    /// What makes it.
    pub maker: GearId,
    /// The way.
    pub hops: Vec<Hop>,
    /// What sounds it.
    pub speaker: GearId,
}

/// The first leak of the patch that is laid out.
pub(crate) fn leak(p: &Problem, w: &Wired) -> Option<Leak> {
    let nevers = p.spec.parts.iter().enumerate().filter(|(_, part)| part.rank == Rank::Never);
    nevers.map(|(i, _)| PartId::at(i)).find_map(|part| leak_of(p, w, part))
}

pub(crate) fn leak_of(p: &Problem, w: &Wired, part: PartId) -> Option<Leak> {
    let mut walk = Walk { p, w, part, seen: Vec::new(), hops: Vec::new() };
    for (g, gear) in p.spec.gear.iter().enumerate() {
        let Place::At(n) = w.place[g] else { continue };
        let placed = gear.placements.get(n).and_then(|pl| pl.sources.as_ref());
        let source = p.part(part).source;
        if placed.is_some_and(|list| !list.contains(&source)) && p.rules.on(Rule::Placement) {
            continue;
        }
        for m in gear.makes.iter().filter(|m| m.source == source && guard_holds(p, w, m.guard)) {
            let sides = Sides::made(m.side, p.spec.socket(m.socket).wire);
            let found = match p.spec.socket(m.socket).flow {
                Flow::Out { .. } => walk.from(m.socket, sides),
                Flow::In { .. } => walk.at(m.socket, m.socket, sides),
            };
            if let Some(speaker) = found {
                return Some(Leak { part, maker: GearId::at(g), hops: walk.hops, speaker });
            }
        }
    }
    None
}

struct Walk<'a> {
    p: &'a Problem,
    w: &'a Wired,
    part: PartId,
    seen: Vec<(SocketId, Sides)>,
    hops: Vec<Hop>,
}

impl Walk<'_> {
    fn from(&mut self, from: SocketId, sides: Sides) -> Option<GearId> {
        let (p, w) = (self.p, self.w);
        let to = w.out[from.ix()]?.to;
        let (a, b) = (p.spec.socket(from), p.spec.socket(to));
        let Flow::Out { class, phantom, .. } = &a.flow else { return None };
        let starved = *phantom == PhantomOut::Needs
            && p.rules.on(Rule::Bank)
            && p.bank_of(to).is_some_and(|k| !w.perhaps[k.ix()]);
        if p.spec.classes[class.ix()].supply || starved {
            return None;
        }
        let sides = if p.rules.on(Rule::Side) { sides.over_link(a.wire, b.wire) } else { Sides::Both };
        self.at(from, to, sides)
    }

    /// On from an in-socket; `from` is where the link into it starts, itself where the source is made there.
    fn at(&mut self, from: SocketId, to: SocketId, sides: Sides) -> Option<GearId> {
        let (p, w) = (self.p, self.w);
        let b = p.spec.socket(to);
        if self.seen.contains(&(to, sides)) {
            return None;
        }
        self.seen.push((to, sides));
        if is_sounding(p, w, to) && self.heard(b.gear) {
            self.hops.push(Hop { from, to, route: None });
            return Some(b.gear);
        }
        for r in &p.routes_from[to.ix()] {
            let route = &p.spec.routes[r.ix()];
            if !is_on(p, w, route) || !sides.passes(route.takes) {
                continue;
            }
            self.hops.push(Hop { from, to, route: Some(*r) });
            for out in &route.to {
                let wire: [SocketWire; 2] = [b.wire, p.spec.socket(*out).wire];
                let on = sides.over_route(route.takes, wire[0], wire[1]);
                if let Some(speaker) = self.from(*out, on) {
                    return Some(speaker);
                }
            }
            self.hops.pop();
        }
        None
    }

    fn heard(&self, g: GearId) -> bool {
        if self.w.down[g.ix()] {
            return false;
        }
        let Place::At(n) = self.w.place[g.ix()] else { return false };
        let listener = self.p.part(self.part).listener;
        let placement = self.p.spec.gear[g.ix()].placements.get(n);
        placement.is_some_and(|pl| pl.hears.iter().any(|(l, _)| *l == listener))
    }
}

/// Does this in-socket drive the loudspeaker of its piece in this patch?
fn is_sounding(p: &Problem, w: &Wired, s: SocketId) -> bool {
    let all = &p.spec.gear[p.spec.gear_of(s).ix()].sounds;
    p.sounding[s.ix()] && all.iter().any(|x| x.socket == s && guard_holds(p, w, x.guard))
}

/// A ring of links and open routes: sound that feeds itself.
pub(crate) fn ring(p: &Problem, w: &Wired) -> Option<Vec<Hop>> {
    let mut state = vec![Seen::Not; p.spec.sockets.len()];
    let mut hops = Vec::new();
    let start =
        (0..p.spec.sockets.len()).map(SocketId::at).find_map(|s| round(p, w, s, &mut state, &mut hops))?;
    let first = hops.iter().position(|h| h.from == start).unwrap_or(0);
    Some(hops.split_off(first))
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Seen {
    Not,
    OnTheWay,
    Done,
}

/// Follows the link out of `from`; the socket it comes back to, when one on the way is met again.
fn round(
    p: &Problem,
    w: &Wired,
    from: SocketId,
    state: &mut [Seen],
    hops: &mut Vec<Hop>,
) -> Option<SocketId> {
    match state[from.ix()] {
        Seen::OnTheWay => return Some(from),
        Seen::Done => return None,
        Seen::Not => state[from.ix()] = Seen::OnTheWay,
    }
    let sound = p.spec.class_of(from).is_some_and(|c| !p.spec.classes[c.ix()].supply);
    if sound && let Some(wire) = w.out[from.ix()] {
        for r in &p.routes_from[wire.to.ix()] {
            let route = &p.spec.routes[r.ix()];
            if !is_on(p, w, route) {
                continue;
            }
            hops.push(Hop { from, to: wire.to, route: Some(*r) });
            for to in &route.to {
                if let Some(start) = round(p, w, *to, state, hops) {
                    return Some(start);
                }
            }
            hops.pop();
        }
    }
    state[from.ix()] = Seen::Done;
    None
}
