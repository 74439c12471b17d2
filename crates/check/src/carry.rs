//! Who hears what: levels travel as intervals from a maker to a loudspeaker (docs/cover.md, section 5).

use crate::fault::Losses;
use crate::ids::{GearId, RouteId, SocketId, SourceId};
use crate::pairs;
use crate::power::Power;
use crate::problem::Problem;
use crate::rules::Rule;
use crate::spec::{Flow, Guard, Levels, Making, PhantomOut, Place, Route, Side, SocketWire};
use crate::wired::Wired;

/// On which sides of a stereo path a source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// Tip only.
    Left,
    /// Ring only.
    Right,
    /// Both, or a mono path.
    Both,
}

impl Sides {
    /// Is there anything on the side that a route takes?
    pub fn passes(self, takes: Option<Side>) -> bool {
        match (self, takes) {
            (Sides::Both, _)
            | (_, None)
            | (Sides::Left, Some(Side::Left))
            | (Sides::Right, Some(Side::Right)) => true,
            (Sides::Left, Some(Side::Right)) | (Sides::Right, Some(Side::Left)) => false,
        }
    }

    /// What leaves over a link: only stereo to stereo keeps the sides.
    pub fn over_link(self, from: SocketWire, to: SocketWire) -> Sides {
        if from == SocketWire::Stereo && to == SocketWire::Stereo { self } else { Sides::Both }
    }

    /// What leaves over a route.
    pub fn over_route(self, takes: Option<Side>, from: SocketWire, to: SocketWire) -> Sides {
        if takes.is_none() && from == SocketWire::Stereo && to == SocketWire::Stereo {
            self
        } else {
            Sides::Both
        }
    }

    /// Where a making puts its source.
    pub fn made(side: Option<Side>, at: SocketWire) -> Sides {
        match (at, side) {
            (SocketWire::Stereo, Some(Side::Left)) => Sides::Left,
            (SocketWire::Stereo, Some(Side::Right)) => Sides::Right,
            _ => Sides::Both,
        }
    }

    /// Everything on `other` is here too.
    pub fn holds(self, other: Sides) -> bool {
        self == Sides::Both || self == other
    }
}

/// How a source stands at an in-socket, by one path or by several that are no worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Mark {
    pub(crate) levels: Levels,
    pub(crate) sides: Sides,
    pub(crate) points: i32,
}

impl Mark {
    fn no_worse(&self, other: &Mark) -> bool {
        self.points <= other.points && self.levels.holds(other.levels) && self.sides.holds(other.sides)
    }
}

/// Where one source has come, socket by socket.
#[derive(Clone, Debug)]
pub(crate) struct Carry {
    /// Marks at each in-socket; none is worse than another.
    pub(crate) at: Vec<Vec<Mark>>,
    touched: Vec<SocketId>,
    open: Vec<(SocketId, Mark)>,
}

/// What works while a source is followed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct How<'a> {
    pub(crate) losses: &'a Losses,
    pub(crate) power: &'a Power,
}

impl How<'_> {
    /// Does a route pass though its piece has no power? What is lost as a whole passes nothing.
    fn passes_unpowered(&self, p: &Problem, r: RouteId) -> bool {
        self.losses.is_passive(r)
            && !self.losses.gear(p.spec.routes[r.ix()].gear)
            && p.rules.on(Rule::Passive)
    }

    /// Does a route's piece work, or the route without it?
    pub(crate) fn runs(&self, p: &Problem, r: RouteId) -> bool {
        self.power.live[p.spec.routes[r.ix()].gear.ix()] || self.passes_unpowered(p, r)
    }
}

impl Carry {
    pub(crate) fn new(p: &Problem) -> Self {
        Carry { at: vec![Vec::new(); p.spec.sockets.len()], touched: Vec::new(), open: Vec::new() }
    }

    /// Follows a source from all that make it to all that it reaches.
    pub(crate) fn follow(&mut self, p: &Problem, w: &Wired, source: SourceId, how: How<'_>) {
        for s in self.touched.drain(..) {
            self.at[s.ix()].clear();
        }
        for (i, gear) in p.spec.gear.iter().enumerate() {
            let g = GearId::at(i);
            for making in gear.makes.iter().filter(|m| m.source == source) {
                if let Some(points) = makes(p, w, g, making, how) {
                    let s = making.socket;
                    let sides = Sides::made(making.side, p.spec.socket(s).wire);
                    match &p.spec.socket(s).flow {
                        Flow::Out { levels, .. } => {
                            self.leave(p, w, s, Mark { levels: *levels, sides, points }, how);
                        }
                        // An instrument with a loudspeaker of its own.
                        Flow::In { accepts, .. } if !how.losses.socket(&p.spec, s) => {
                            if let Some((_, levels)) = accepts.first() {
                                self.arrive(s, Mark { levels: *levels, sides, points });
                            }
                        }
                        Flow::In { .. } => {}
                    }
                }
            }
        }
        while let Some((s, mark)) = self.open.pop() {
            // A better mark may have come meanwhile.
            if !self.at[s.ix()].contains(&mark) {
                continue;
            }
            for r in &p.routes_from[s.ix()] {
                let route = &p.spec.routes[r.ix()];
                if !how.runs(p, *r)
                    || how.losses.route(*r)
                    || !is_on(p, w, route)
                    || !mark.sides.passes(route.takes)
                {
                    continue;
                }
                for to in &route.to {
                    if let Some(levels) = through(p, route, *to, mark.levels) {
                        let sides = mark.sides.over_route(
                            route.takes,
                            p.spec.socket(s).wire,
                            p.spec.socket(*to).wire,
                        );
                        self.leave(
                            p,
                            w,
                            *to,
                            Mark { levels, sides, points: mark.points + route.points },
                            how,
                        );
                    }
                }
            }
        }
    }

    /// Out of a socket, over the link that leaves it, into the next.
    fn leave(&mut self, p: &Problem, w: &Wired, from: SocketId, mark: Mark, how: How<'_>) {
        let Some(wire) = w.out[from.ix()] else { return };
        let to = wire.to;
        let (a, b) = (p.spec.socket(from), p.spec.socket(to));
        let (Flow::Out { class, phantom, .. }, Flow::In { .. }) = (&a.flow, &b.flow) else { return };
        if p.spec.classes[class.ix()].supply {
            return;
        }
        if *phantom == PhantomOut::Needs
            && p.bank_of(to).is_some_and(|k| !how.power.bank_on(p, w, k))
            && p.rules.on(Rule::Bank)
        {
            return;
        }
        let without_power =
            || w.there(b.gear) && p.routes_from[to.ix()].iter().any(|r| how.passes_unpowered(p, *r));
        let dead = how.losses.socket(&p.spec, from)
            || how.losses.socket(&p.spec, to)
            || wire.normal.is_some_and(|l| how.losses.link(l))
            || !(how.power.live[b.gear.ix()] || without_power());
        if dead {
            return;
        }
        let Some(window) = pairs::window(&p.spec, to, *class, p.rules) else { return };
        let levels = match mark.levels.meet(window) {
            Some(both) => both,
            None if p.rules.on(Rule::Level) => return,
            None => window,
        };
        let sides = if p.rules.on(Rule::Side) { mark.sides.over_link(a.wire, b.wire) } else { Sides::Both };
        self.arrive(to, Mark { levels, sides, points: mark.points });
    }

    fn arrive(&mut self, s: SocketId, mark: Mark) {
        let here = &mut self.at[s.ix()];
        if here.iter().any(|m| m.no_worse(&mark)) {
            return;
        }
        if here.is_empty() {
            self.touched.push(s);
        }
        here.retain(|m| !mark.no_worse(m));
        here.push(mark);
        self.open.push((s, mark));
    }
}

/// Points of a piece that makes this source, where it does.
pub(crate) fn makes(p: &Problem, w: &Wired, g: GearId, making: &Making, how: How<'_>) -> Option<i32> {
    let gear = &p.spec.gear[g.ix()];
    let Place::At(n) = w.place[g.ix()] else { return None };
    let placement = gear.placements.get(n)?;
    if placement.sources.as_ref().is_some_and(|list| !list.contains(&making.source))
        && p.rules.on(Rule::Placement)
    {
        return None;
    }
    if !guard_holds(p, w, making.guard) {
        return None;
    }
    if how.losses.make(g) || !how.power.live[g.ix()] {
        return None;
    }
    Some(gear.points + placement.points)
}

/// Is a route open in this patch, whether or not its piece lives?
pub(crate) fn is_on(p: &Problem, w: &Wired, route: &Route) -> bool {
    let on = match route.knob {
        Some(k) => w.knob(k) || !p.rules.on(Rule::Knob),
        None => route.on,
    };
    on && w.unmuted(p, route) && guard_holds(p, w, route.guard)
}

pub(crate) fn guard_holds(p: &Problem, w: &Wired, guard: Option<Guard>) -> bool {
    w.holds(guard) || !p.rules.on(Rule::Guard)
}

fn through(p: &Problem, route: &Route, to: SocketId, levels: Levels) -> Option<Levels> {
    let Flow::Out { levels: own, .. } = p.spec.socket(to).flow else { return None };
    let Some(gain) = route.gain else { return Some(own) };
    let moved = Levels { lo: levels.lo.saturating_add(gain.lo), hi: levels.hi.saturating_add(gain.hi) };
    match moved.meet(own) {
        None if !p.rules.on(Rule::Level) => Some(own),
        met => met,
    }
}
