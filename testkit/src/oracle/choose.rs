//! Which open act to decide next.
//!
//! Any choice is correct, because both answers are tried; a good one ends sooner. Only [`Next::Dead`] needs an
//! argument: it is said when no open act touches anything that takes part in what makes the plan invalid.

use crate::neutral::{Guard, Rank};

use super::Goal;
use super::bound::Hope;
use super::carry::{self, Label, Step};
use super::judge::{Given, Verdict, Wrong};
use super::node::{Act, Acts, Node, Status};
use super::safety::Unsafe;
use super::table::Table;

/// What to do with a node.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Next {
    /// Try the act in, then out.
    Decide(usize),
    /// Try joining two sockets, then leaving them unjoined.
    Join((usize, usize)),
    /// Nothing that is open can make this valid.
    Dead,
    /// Everything is decided.
    Leaf,
}

/// What a choice looks at.
#[derive(Debug)]
pub(super) struct Look<'a> {
    pub(super) table: &'a Table<'a>,
    pub(super) given: &'a Given,
    pub(super) acts: &'a Acts,
    pub(super) node: &'a Node,
    pub(super) verdict: &'a Verdict,
    pub(super) hope: &'a Hope,
}

impl Look<'_> {
    pub(super) fn next(&self, goal: Goal) -> Next {
        let joined = self.node.joined.iter().copied();
        if joined.clone().any(|pair| self.node.choice(self.table, self.acts, pair).is_empty()) {
            return Next::Dead;
        }
        if let Some(act) = self.unheard(goal).or_else(|| self.harmed()) {
            return self.decide(act);
        }
        if let Some(wrong) = &self.verdict.wrong {
            return self.mending(wrong);
        }
        // All that matters about what is joined is settled; now by which links.
        if let Some(act) = joined.filter_map(|pair| self.cheapest(pair)).next() {
            return Next::Decide(act);
        }
        if let Some(act) = self.freeing(&self.verdict.cost.short) {
            return Next::Decide(act);
        }
        let dearer = self.verdict.values.seconds > self.hope.values.seconds;
        let found = if dearer { self.freeing(&self.verdict.cost.fetched) } else { None };
        let found = found.or_else(|| self.otherwise_sounding()).or_else(|| self.any_open());
        found.map_or(Next::Leaf, |act| self.decide(act))
    }

    /// New links are decided by what they join first.
    fn decide(&self, act: usize) -> Next {
        match self.acts.list[act] {
            Act::New(i) => Next::Join((self.table.new[i].wire.from, self.table.new[i].wire.to)),
            _ => Next::Decide(act),
        }
    }

    /// Of the new links that may join a pair, the one that costs least by itself.
    fn cheapest(&self, pair: (usize, usize)) -> Option<usize> {
        let choice = self.node.choice(self.table, self.acts, pair);
        let own = |&i: &usize| {
            let new = &self.table.new[i];
            let pulls = new.pulls.iter().filter(|&&(link, end)| self.node.is_open(self.acts.pull(link, end)));
            new.secs + self.table.rig.steps.unplug * i64::try_from(pulls.count()).unwrap_or(0)
        };
        choice.into_iter().min_by_key(own).map(|i| self.acts.link(i))
    }

    /// May an open act be decided? Links of a joined pair are named in their own turn.
    fn may(&self, act: usize) -> bool {
        match self.acts.list[act] {
            Act::New(i) => {
                let wire = &self.table.new[i].wire;
                !self.node.joined.contains(&(wire.from, wire.to)) && self.node.fits(self.table, self.acts, i)
            }
            _ => true,
        }
    }

    /// A part that may be heard and is not: the first act on its cheapest way.
    fn unheard(&self, goal: Goal) -> Option<usize> {
        let ranks: &[Rank] =
            if goal == Goal::Must { &[Rank::Must] } else { &[Rank::Must, Rank::Should, Rank::Nice] };
        for &rank in ranks {
            let parts = self.table.rig.parts.iter().enumerate().filter(|(_, part)| part.rank == rank);
            let gap = parts
                .filter(|&(p, _)| self.verdict.hearing.ways[p].is_empty())
                .filter_map(|(p, _)| {
                    self.hope.hearing.ways[p].iter().min_by_key(|way| way.twice_secs).map(|way| (p, way))
                })
                .max_by_key(|(_, way)| way.twice_secs);
            if let Some((p, way)) = gap {
                return self.on_the_way(p, way.label, way.speaker, way.place, false);
            }
        }
        None
    }

    /// A pair that still sounded and does not now.
    fn harmed(&self) -> Option<usize> {
        for p in 0..self.table.rig.parts.len() {
            let now = self.verdict.hearing.speakers(self.table.rig, p);
            for g in (0..now.len()).filter(|&g| self.given.harm_pair[p][g] && !now[g]) {
                let ways = self.hope.hearing.ways[p].iter().filter(|way| way.speaker == g);
                if let Some(way) = ways.min_by_key(|way| way.twice_secs) {
                    let act = self.on_the_way(p, way.label, way.speaker, way.place, false);
                    if act.is_some() {
                        return act;
                    }
                }
            }
        }
        None
    }

    /// A part that may sound with fewer points, or from a speaker that it had.
    fn otherwise_sounding(&self) -> Option<usize> {
        for p in 0..self.table.rig.parts.len() {
            let now = self.verdict.hearing.ways[p].iter().map(|way| way.pts).min();
            let may = self.hope.hearing.ways[p].iter().min_by_key(|way| way.pts);
            if let (Some(now), Some(way)) = (now, may) {
                let better = if way.pts < now {
                    self.on_the_way(p, way.label, way.speaker, way.place, true)
                } else {
                    None
                };
                if better.is_some() {
                    return better;
                }
            }
            let speakers = self.verdict.hearing.speakers(self.table.rig, p);
            for g in (0..speakers.len()).filter(|&g| self.given.speakers_before[p][g] && !speakers[g]) {
                let ways = self.hope.hearing.ways[p].iter().filter(|way| way.speaker == g);
                if let Some(way) = ways.min_by_key(|way| way.pts) {
                    let act = self.on_the_way(p, way.label, way.speaker, way.place, true);
                    if act.is_some() {
                        return act;
                    }
                }
            }
        }
        None
    }

    /// The first open act on a hoped-for way that the plan as it stands does not have.
    fn on_the_way(
        &self,
        part: usize,
        label: usize,
        speaker: usize,
        place: usize,
        by_points: bool,
    ) -> Option<usize> {
        let labels = &self.hope.hearing.labels[self.table.rig.parts[part].source];
        let mut way: Vec<&Label> = Vec::new();
        let mut at = Some(label);
        while let Some(i) = at {
            way.push(&labels[i]);
            at = labels[i].before;
        }
        let lacking = way.iter().rev().find_map(|label| self.lacking(label, by_points));
        lacking
            .or_else(|| self.placing(speaker, place))
            .or_else(|| self.living(speaker, &mut Vec::new()))
            .or_else(|| self.driving(labels[label].socket))
    }

    fn lacking(&self, label: &Label, by_points: bool) -> Option<usize> {
        let rig = self.table.rig;
        match label.step {
            Step::Make { make, place } => {
                let gear = rig.makes[make].gear;
                self.placing(gear, place)
                    .or_else(|| self.living(gear, &mut Vec::new()))
                    .or_else(|| self.guarding(rig.makes[make].guard))
            }
            Step::Hop(hop) => {
                let hop = &self.hope.hearing.scene.hops[hop];
                let new = hop.new.map(|(quick, alike)| if by_points { alike } else { quick });
                match new
                    .filter(|&i| self.open(Some(self.acts.link(i))).is_some() && self.may(self.acts.link(i)))
                {
                    Some(i) => Some(self.acts.link(i)),
                    None => {
                        let bank = rig.sockets[hop.wire.to].bank;
                        let dry = !self.verdict.options.phantom(self.table, &hop.wire);
                        bank.filter(|_| dry).and_then(|b| self.open(self.acts.bank(b)))
                    }
                }
            }
            Step::Route(route) => {
                let off = self.verdict.options.on[route].is_none();
                let knob = if off { self.open(self.acts.knob(route)) } else { None };
                let muted = rig.routes[route].mutes.iter();
                let mut muted = muted.filter(|&&m| self.verdict.options.unmuted[m].is_none());
                knob.or_else(|| muted.find_map(|&m| self.open(self.acts.mute(m))))
                    .or_else(|| self.passing(route))
                    .or_else(|| self.guarding(rig.routes[route].guard))
            }
        }
    }

    /// An act towards the piece of a route letting it pass: live, or only there where the route is passive.
    fn passing(&self, route: usize) -> Option<usize> {
        let gear = self.table.rig.routes[route].gear;
        if !carry::passive(self.table, route, &self.given.holds) {
            return self.living(gear, &mut Vec::new());
        }
        if self.verdict.options.out(gear) {
            return None;
        }
        self.acts.placing(gear).iter().copied().find(|&i| self.open(Some(i)).is_some())
    }

    /// An act towards a socket driving its loudspeaker.
    fn driving(&self, socket: usize) -> Option<usize> {
        let drives = |guard: &Guard| self.verdict.options.guard(self.table, Some(*guard));
        let guards: Vec<Guard> = carry::sound_guards(self.table, socket).collect();
        let free = self.table.rig.gear[self.table.rig.sockets[socket].gear]
            .sounds
            .iter()
            .any(|sound| sound.socket == socket && sound.guard.is_none());
        if free || guards.iter().any(drives) {
            return None;
        }
        guards.iter().find_map(|&guard| self.guarding(Some(guard)))
    }

    fn open(&self, act: Option<usize>) -> Option<usize> {
        act.filter(|&i| self.node.status[i] == Status::Open)
    }

    fn placing(&self, gear: usize, place: usize) -> Option<usize> {
        let wanted = Act::Place { gear, place };
        self.acts
            .placing(gear)
            .iter()
            .copied()
            .find(|&i| self.acts.list[i] == wanted && self.open(Some(i)).is_some())
    }

    /// An act towards a guard holding that does not hold yet.
    fn guarding(&self, guard: Option<Guard>) -> Option<usize> {
        let guard = guard?;
        if self.verdict.options.guard(self.table, Some(guard)) {
            return None;
        }
        self.at_socket(guard.socket)
    }

    /// Any open act that could fill or empty a socket.
    fn at_socket(&self, socket: usize) -> Option<usize> {
        let pulls =
            self.table.plug_at(socket).into_iter().flat_map(|(link, end)| [(link, end), (link, 1 - end)]);
        let pull = pulls.filter_map(|(link, end)| self.open(self.acts.pull(link, end))).next();
        pull.or_else(|| {
            let new = (0..self.table.new.len()).filter(|&i| {
                let wire = &self.table.new[i].wire;
                (wire.from == socket || wire.to == socket) && self.may(self.acts.link(i))
            });
            new.filter_map(|i| self.open(Some(self.acts.link(i)))).next()
        })
    }

    /// An act towards a piece being live.
    fn living(&self, gear: usize, seen: &mut Vec<usize>) -> Option<usize> {
        let rig = self.table.rig;
        if self.verdict.hearing.scene.live[gear]
            || !self.hope.hearing.scene.live[gear]
            || seen.contains(&gear)
        {
            return None;
        }
        seen.push(gear);
        if !self.verdict.options.out(gear) {
            return self.acts.placing(gear).iter().copied().find(|&i| self.open(Some(i)).is_some());
        }
        let into = |socket: usize| rig.sockets[socket].gear == gear;
        let live_now = |socket: usize| self.verdict.hearing.scene.live[rig.sockets[socket].gear];
        let may_live = |socket: usize| self.hope.hearing.scene.live[rig.sockets[socket].gear];
        // Fed already? Then it only has to be switched on (or a guard stands in the way).
        let mut wires = Vec::new();
        for (i, link) in self.table.normal.iter().enumerate() {
            if link.wire.supply && self.verdict.options.normal[i] && into(link.wire.to) {
                wires.push(&link.wire);
            }
        }
        for &i in &self.verdict.options.new {
            if self.table.new[i].wire.supply && into(self.table.new[i].wire.to) {
                wires.push(&self.table.new[i].wire);
            }
        }
        for wire in &wires {
            if live_now(wire.from) {
                let act =
                    self.guarding(rig.sockets[wire.to].guard).or_else(|| self.open(self.acts.start(gear)));
                if act.is_some() {
                    return act;
                }
            }
        }
        let upstream = wires.iter().filter(|wire| may_live(wire.from));
        let act = upstream.filter_map(|wire| self.living(rig.sockets[wire.from].gear, seen)).next();
        if act.is_some() {
            return act;
        }
        let plugs = (0..self.table.new.len()).filter(|&i| {
            let wire = &self.table.new[i].wire;
            wire.supply && into(wire.to) && may_live(wire.from) && self.may(self.acts.link(i))
        });
        let plug = plugs
            .filter(|&i| self.open(Some(self.acts.link(i))).is_some())
            .min_by_key(|&i| (!live_now(self.table.new[i].wire.from), self.table.new[i].secs))
            .map(|i| self.acts.link(i));
        let battery = match rig.gear[gear].battery {
            crate::neutral::Battery::When(guard) => self.guarding(Some(guard)),
            crate::neutral::Battery::None | crate::neutral::Battery::Always => None,
        };
        battery.or(plug).or_else(|| self.open(self.acts.start(gear)))
    }

    /// An open pull of a normal link that has a piece of one of these types.
    fn freeing(&self, types: &[usize]) -> Option<usize> {
        let links = self.table.normal.iter().enumerate().filter(|&(i, link)| {
            !self.node.claimed(self.table, i)
                && link.via.iter().zip(&link.alive).any(|(t, alive)| *alive && types.contains(t))
        });
        links.flat_map(|(i, _)| [self.acts.pull(i, 0), self.acts.pull(i, 1)]).find_map(|pull| self.open(pull))
    }

    /// An open act that could make an invalid plan valid.
    fn mending(&self, wrong: &Wrong) -> Next {
        let act = match wrong {
            Wrong::Packed(gear) => {
                self.acts.placing(*gear).iter().copied().find(|&i| self.open(Some(i)).is_some())
            }
            Wrong::Powerless(gear) => {
                if !self.hope.hearing.scene.live[*gear] {
                    return Next::Dead;
                }
                let act = self.living(*gear, &mut Vec::new());
                // Something may still feed it, by a way not looked at here: any open act will do.
                let act = act.or_else(|| self.any_open());
                // With all else decided, only the naming of links is left.
                let name = || self.node.joined.iter().filter_map(|&pair| self.cheapest(pair)).next();
                return match act {
                    Some(act) => self.decide(act),
                    None => name().map_or(Next::Dead, Next::Decide),
                };
            }
            // Nothing but a new link loads it again: what was pulled stays pulled.
            Wrong::Unloaded(socket) => (0..self.table.new.len())
                .filter(|&i| self.table.new[i].wire.from == *socket && self.may(self.acts.link(i)))
                .find_map(|i| self.open(Some(self.acts.link(i)))),
            Wrong::Unsafe(found) => self.ending(found).or_else(|| self.remembering(found)),
        };
        act.map_or(Next::Dead, |act| self.decide(act))
    }

    /// Where a bank that forgets takes part, whether it has forgotten may hang on anything that is open.
    fn remembering(&self, found: &Unsafe) -> Option<usize> {
        let normal = found.normal.iter().map(|&link| self.table.normal[link].wire.to);
        let new = found.new.iter().map(|&i| self.table.new[i].wire.to);
        let banks = &self.table.rig.banks;
        let mut sockets = normal.chain(new);
        let unsure = sockets.any(|s| self.table.rig.sockets[s].bank.is_some_and(|b| banks[b].forgets));
        if unsure { self.any_open() } else { None }
    }

    fn any_open(&self) -> Option<usize> {
        (0..self.acts.list.len()).find(|&i| self.node.status[i] == Status::Open && self.may(i))
    }

    /// Every act that could break what takes part in a leak, loop or overload; the first open one.
    ///
    /// With none open the same links, routes, makings and placements are there in every plan grown from this one.
    fn ending(&self, found: &Unsafe) -> Option<usize> {
        let (table, acts) = (self.table, self.acts);
        let knob = found.routes.iter().find_map(|&route| self.open(acts.knob(route)));
        let mute = || {
            let mutes = found.routes.iter().flat_map(|&route| &table.rig.routes[route].mutes);
            mutes.copied().find_map(|mute| self.open(acts.mute(mute)))
        };
        let pull = || {
            let ends = found.normal.iter().flat_map(|&link| [acts.pull(link, 0), acts.pull(link, 1)]);
            ends.filter_map(|pull| self.open(pull)).next()
        };
        let bank = || {
            let normal = found.normal.iter().map(|&link| table.normal[link].wire.to);
            let new = found.new.iter().map(|&i| table.new[i].wire.to);
            normal.chain(new).filter_map(|s| table.rig.sockets[s].bank).find_map(|b| self.open(acts.bank(b)))
        };
        let place = || {
            let all = found.gear.iter().flat_map(|&gear| acts.placing(gear));
            all.copied().find(|&i| self.open(Some(i)).is_some())
        };
        let guard = || {
            let routes = found.routes.iter().map(|&r| table.rig.routes[r].guard);
            let makes = found.makes.iter().map(|&m| table.rig.makes[m].guard);
            let sounds = found.guards.iter().map(|&guard| Some(guard));
            routes.chain(makes).chain(sounds).flatten().find_map(|guard| self.at_socket(guard.socket))
        };
        knob.or_else(mute).or_else(pull).or_else(bank).or_else(place).or_else(guard)
    }
}
