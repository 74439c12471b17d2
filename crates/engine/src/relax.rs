//! The cheapest way to bring one source to where it is missing, as if nothing else had to be done: the relaxed network.
//!
//! Labels carry cost, level interval, sides, whether other sources may be on the same way by now, and whether the piece
//! has been walked to already. A cost here is a bound: what several sources could share is split among them.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use check::Sides;
use check::ids::{GearId, KnobId, ListenerId, RouteId, SocketId, SourceId};
use check::rules::Rule;
use check::spec::{Flow, Levels, PhantomOut, Place, Placement, Rank};

use crate::arcs::{Hold, Open, UNIT};
use crate::edits::Edit;
use crate::prices::{At, Prices};
use crate::supply::{Needs, Supply};

/// A source that is missing somewhere.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted {
    /// Number of the demand.
    pub(crate) demand: usize,
    pub(crate) listener: ListenerId,
    /// By this piece only.
    pub(crate) by: Option<GearId>,
}

/// The cheapest way found for a demand.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    pub(crate) demand: usize,
    /// In units, shares only.
    pub(crate) cost: i64,
    pub(crate) points: i32,
    pub(crate) needs: Needs,
}

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    /// The fewest seconds.
    Seconds,
    /// The fewest points, then seconds.
    Points,
}

/// Facts about the rig that do not change during a search.
#[derive(Clone, Debug)]
pub(crate) struct Mixing {
    /// Into how many in-sockets, or makers, an out-socket looks back.
    fed_by: Vec<usize>,
    /// Sources that leave the rig's makers through a common socket belong together.
    pub(crate) group: Vec<usize>,
    /// Pieces that serve one group alone.
    alone: Vec<Option<usize>>,
    /// How many routes each knob turns or mutes.
    turns: Vec<usize>,
}

impl Mixing {
    pub(crate) fn find(p: &check::Problem) -> Self {
        let mut fed_by = vec![0; p.spec.sockets.len()];
        for r in &p.spec.routes {
            for to in &r.to {
                let same = p.spec.routes.iter().filter(|q| q.from == r.from && q.to.contains(to)).count();
                // Two routes between the same sockets count once.
                fed_by[to.ix()] += if same > 1 { 0 } else { 1 };
            }
        }
        let mut doubled: Vec<(SocketId, SocketId)> = Vec::new();
        for r in &p.spec.routes {
            for to in &r.to {
                let same = p.spec.routes.iter().filter(|q| q.from == r.from && q.to.contains(to)).count();
                if same > 1 && !doubled.contains(&(r.from, *to)) {
                    doubled.push((r.from, *to));
                    fed_by[to.ix()] += 1;
                }
            }
        }
        // A source made at an in-socket meets there what comes over the link.
        for m in p.spec.gear.iter().flat_map(|g| &g.makes) {
            for to in p.routes_from[m.socket.ix()].iter().flat_map(|r| &p.spec.routes[r.ix()].to) {
                fed_by[to.ix()] += 1;
            }
        }
        let mut group: Vec<usize> = (0..p.spec.sources.len()).collect();
        let mut at: Vec<Option<usize>> = vec![None; p.spec.sockets.len()];
        for m in p.spec.gear.iter().flat_map(|g| &g.makes) {
            match at[m.socket.ix()] {
                None => {
                    at[m.socket.ix()] = Some(m.source.ix());
                    fed_by[m.socket.ix()] += 1;
                }
                Some(other) => {
                    let (a, b) = (group[other], group[m.source.ix()]);
                    for g in &mut group {
                        if *g == b {
                            *g = a;
                        }
                    }
                }
            }
        }
        let alone = p.spec.gear.iter().enumerate().map(|(i, g)| {
            let plain = g.sounds.is_empty()
                && p.supply_outs[i].is_empty()
                && !p.spec.routes.iter().any(|r| r.gear.ix() == i);
            let first = g.makes.first().map(|m| group[m.source.ix()])?;
            (plain && g.makes.iter().all(|m| group[m.source.ix()] == first)).then_some(first)
        });
        let alone = alone.collect();
        let mut turns = vec![0; p.spec.knobs.len()];
        for k in p.spec.routes.iter().flat_map(|r| r.knob.iter().chain(&r.mutes)) {
            turns[k.ix()] += 1;
        }
        Mixing { fed_by, group, alone, turns }
    }
}

const NONE: u32 = u32::MAX;

#[derive(Clone, Copy, Debug)]
struct Label {
    cost: i64,
    points: i32,
    at: SocketId,
    levels: Levels,
    sides: Sides,
    /// Other sources may be on the same way by now.
    mixed: bool,
    /// The piece at `at` has been walked to on this way.
    walked: bool,
    /// What feeds the pieces on this way is paid for.
    fed: bool,
    /// The piece at `at` has power; without it only passive routes lead on.
    powered: bool,
    parent: u32,
    /// The route behind the parent's socket; `None` at a maker.
    route: Option<RouteId>,
    /// The out-socket it left, and the new link it took, if any.
    from: SocketId,
    edit: Option<Edit>,
    /// At a maker: its piece and placement.
    placed: Option<(GearId, usize)>,
    done: bool,
}

/// A label in the queue: the least key first, of equals the first made.
type Waiting = (Reverse<(i64, i64)>, Reverse<u32>);

/// A way's cost and points, its last label, and the placement its loudspeaker is brought to.
type Reached = (i64, i32, u32, Option<usize>);

/// Working space, kept between searches.
#[derive(Debug, Default)]
pub(crate) struct Relax {
    labels: Vec<Label>,
    front: Vec<Vec<u32>>,
    used: Vec<SocketId>,
    heap: BinaryHeap<Waiting>,
}

struct Run<'r, 'a, 'p> {
    r: &'r mut Relax,
    open: &'r Open<'a, 'p>,
    supply: &'r Supply,
    mixing: &'r Mixing,
    source: SourceId,
    group: usize,
    /// Among how many groups costs are split that have no price of their own.
    among: i64,
    prices: &'r Prices,
    by: By,
    /// Ways that cost more, in units, are of no use.
    most: i64,
}

/// A mark on its way out of a socket.
#[derive(Clone, Copy)]
struct Leaving {
    cost: i64,
    points: i32,
    levels: Levels,
    sides: Sides,
    mixed: bool,
    walked: bool,
    fed: bool,
    parent: u32,
    route: Option<RouteId>,
    placed: Option<(GearId, usize)>,
}

impl Leaving {
    /// At the in-socket where the source is made.
    fn standing(self, s: SocketId) -> Label {
        Label {
            cost: self.cost,
            points: self.points,
            at: s,
            levels: self.levels,
            sides: self.sides,
            mixed: self.mixed,
            walked: self.walked,
            fed: self.fed,
            powered: true,
            parent: self.parent,
            route: self.route,
            from: s,
            edit: None,
            placed: self.placed,
            done: false,
        }
    }
}

impl Relax {
    /// The cheapest way for each thing wanted of one source.
    #[expect(clippy::too_many_arguments, reason = "each is one thing the search already holds")]
    pub(crate) fn ways(
        &mut self,
        open: &Open<'_, '_>,
        supply: &Supply,
        mixing: &Mixing,
        source: SourceId,
        wanted: &[Wanted],
        among: usize,
        prices: &Prices,
        by: By,
        most: i64,
        out: &mut Vec<Way>,
    ) {
        self.front.resize(open.p.spec.sockets.len(), Vec::new());
        for s in self.used.drain(..) {
            self.front[s.ix()].clear();
        }
        self.labels.clear();
        self.heap.clear();
        let group = mixing.group[source.ix()];
        let among = i64::try_from(among.max(1)).unwrap_or(1);
        let mut run = Run { r: self, open, supply, mixing, source, group, among, prices, by, most };
        run.makers();
        let mut best: Vec<Option<Reached>> = vec![None; wanted.len()];
        while let Some((_, Reverse(i))) = run.r.heap.pop() {
            let label = run.r.labels[i as usize];
            if label.done {
                continue;
            }
            if best.iter().all(|b| b.is_some_and(|b| run.key(b.0, b.1) <= run.key(label.cost, label.points)))
            {
                break;
            }
            if open.p.sounding[label.at.ix()] {
                for (k, want) in wanted.iter().enumerate() {
                    if let Some((cost, points, placed)) = run.heard(&label, want)
                        && best[k].is_none_or(|b| run.key(cost, points) < run.key(b.0, b.1))
                    {
                        best[k] = Some((cost, points, i, placed));
                    }
                }
            }
            run.onwards(i, &label);
        }
        for (want, best) in wanted.iter().zip(best) {
            if let Some((cost, points, i, placed)) = best {
                let needs = run.retrace(i, placed);
                out.push(Way { demand: want.demand, cost, points, needs });
            }
        }
    }
}

impl Run<'_, '_, '_> {
    fn key(&self, cost: i64, points: i32) -> (i64, i64) {
        match self.by {
            By::Seconds => (cost, 0),
            By::Points => (i64::from(points), cost),
        }
    }

    /// What a cost that several sources could share counts for this one.
    fn share(&self, cost: i64) -> i64 {
        cost / self.among
    }

    /// A cost at a piece: whole where only this group ever comes by.
    fn at_piece(&self, at: At, g: GearId, cost: i64) -> i64 {
        if self.mixing.alone[g.ix()] == Some(self.group) {
            cost
        } else {
            self.prices.of(at, g, self.group, cost)
        }
    }

    /// What power for a piece counts, and whether what feeds it is paid for by now.
    fn power(&self, g: GearId, fed: bool) -> Option<(i64, bool)> {
        let own = self.supply.last(g)?;
        if own == 0 && self.open.judge.is_live(g) {
            return Some((0, fed));
        }
        // The feeders of a second piece may be those of the first, which are paid for.
        if fed {
            Some((self.at_piece(At::Power, g, own), true))
        } else {
            Some((self.supply.full_for(g)?, true))
        }
    }

    fn makers(&mut self) {
        let (open, source) = (self.open, self.source);
        for i in 0..open.p.spec.gear.len() {
            let g = GearId::at(i);
            let gear = &open.p.spec.gear[i];
            if !gear.makes.iter().any(|m| m.source == source) {
                continue;
            }
            if open.losses().make(g) || open.losses().gear(g) {
                continue;
            }
            let Some((base, fed)) = self.power(g, false) else { continue };
            let here = match open.judge.place(g) {
                Place::At(n) => Some((n, 0)),
                Place::Case => None,
            };
            let places: Vec<(usize, i64)> = here.into_iter().chain(open.placements(g)).collect();
            for (n, seconds) in places {
                let placement = &gear.placements[n];
                if placement.sources.as_ref().is_some_and(|list| !list.contains(&source)) {
                    continue;
                }
                let moved = Place::At(n) != open.judge.place(g);
                let walk = if moved { open.visit(g) } else { 0 };
                for m in gear.makes.iter().filter(|m| m.source == source) {
                    if open.hold(m.guard) == Hold::Never {
                        continue;
                    }
                    let s = m.socket;
                    let levels = match &open.p.spec.socket(s).flow {
                        Flow::Out { levels, .. } => *levels,
                        Flow::In { accepts, .. } => {
                            let Some((_, window)) = accepts.first() else { continue };
                            *window
                        }
                    };
                    let leaving = Leaving {
                        cost: base + self.at_piece(At::Place, g, seconds) + self.at_piece(At::Visit, g, walk),
                        points: gear.points + placement.points,
                        levels,
                        sides: Sides::made(m.side, open.p.spec.socket(s).wire),
                        mixed: self.mixing.fed_by[s.ix()] >= 2,
                        walked: moved,
                        fed,
                        parent: NONE,
                        route: None,
                        placed: Some((g, n)),
                    };
                    match open.p.spec.socket(s).flow {
                        Flow::Out { .. } => self.leave(s, leaving),
                        Flow::In { .. } if open.lost(s) => {}
                        Flow::In { .. } => self.insert(leaving.standing(s)),
                    }
                }
            }
        }
    }

    fn leave(&mut self, from: SocketId, l: Leaving) {
        let open = self.open;
        if open.lost(from) {
            return;
        }
        if let Some(to) = open.judge.link_out(from)
            && !open.judge.normal_out(from).is_some_and(|n| open.losses().link(n))
        {
            self.arrive(from, to, None, l, l.cost, false);
        }
        let g = open.p.spec.gear_of(from);
        for arc in open.arcs_from(from) {
            let mut cost = if l.mixed { self.share(arc.cost) } else { arc.cost };
            if arc.touches[0] && !l.walked {
                cost += self.at_piece(At::Visit, g, open.visit(g));
            }
            if arc.touches[1] {
                let h = open.p.spec.gear_of(arc.to);
                cost += self.at_piece(At::Visit, h, open.visit(h));
            }
            self.arrive(from, arc.to, Some(arc.edit), l, l.cost + cost, arc.touches[1]);
        }
    }

    fn arrive(
        &mut self,
        from: SocketId,
        to: SocketId,
        edit: Option<Edit>,
        l: Leaving,
        cost: i64,
        walked: bool,
    ) {
        let open = self.open;
        let p = open.p;
        let (a, b) = (p.spec.socket(from), p.spec.socket(to));
        let (Flow::Out { class, phantom, .. }, Flow::In { .. }) = (&a.flow, &b.flow) else { return };
        if p.spec.classes[class.ix()].supply {
            return;
        }
        let Some(levels) = p.spec.window(to, *class).and_then(|w| l.levels.meet(w)) else { return };
        if open.lost(to) {
            return;
        }
        let mut cost = cost;
        if let Some(k) = self.wrong_bank(to, *phantom) {
            if open.state.forbidden[open.edits.id(Edit::Knob(k))] || open.plan.knobs.contains(&k) {
                return;
            }
            cost += self.share(i64::from(p.spec.steps.knob + p.spec.knobs[k.ix()].wait) * UNIT);
        }
        if open.judge.place(b.gear) == Place::Case {
            let Some(place) = open.placements(b.gear).map(|(_, c)| c).min() else { return };
            cost += self.at_piece(At::Place, b.gear, place);
        }
        let sides = l.sides.over_link(a.wire, b.wire);
        let label = Label {
            cost,
            points: l.points,
            at: to,
            levels,
            sides,
            mixed: l.mixed,
            walked,
            fed: l.fed,
            powered: false,
            parent: l.parent,
            route: l.route,
            from,
            edit,
            placed: l.placed,
            done: false,
        };
        if let Some((power, fed)) = self.power(b.gear, l.fed) {
            self.insert(Label { cost: cost + power, fed, powered: true, ..label });
        }
        if !open.judge.is_live(b.gear) && p.routes_from[to.ix()].iter().any(|r| open.losses().is_passive(*r))
        {
            self.insert(label);
        }
    }

    /// The phantom button that stands the wrong way for what arrives here.
    fn wrong_bank(&self, to: SocketId, phantom: PhantomOut) -> Option<KnobId> {
        let k = self.open.p.bank_of(to)?;
        let wrong = match phantom {
            PhantomOut::Fine => false,
            // What has started anew stays so, whatever else is done.
            PhantomOut::Needs => !self.open.judge.bank_on(k),
            PhantomOut::Harmed => self.open.judge.knob(k),
        };
        wrong.then_some(k)
    }

    fn insert(&mut self, label: Label) {
        if label.cost > self.most {
            return;
        }
        let by = self.by;
        let front = &mut self.r.front[label.at.ix()];
        let labels = &mut self.r.labels;
        let covers = |x: &Label, y: &Label| {
            x.cost <= y.cost
                && (by == By::Seconds || x.points <= y.points)
                && x.levels.holds(y.levels)
                && x.sides.holds(y.sides)
                && (x.mixed || !y.mixed)
                && (x.walked || !y.walked)
                && (x.fed || !y.fed)
                && (x.powered || !y.powered)
        };
        if front.iter().any(|i| covers(&labels[*i as usize], &label)) {
            return;
        }
        front.retain(|i| {
            let old = &mut labels[*i as usize];
            let worse = covers(&label, old);
            old.done |= worse;
            !worse
        });
        let Ok(i) = u32::try_from(labels.len()) else { return };
        labels.push(label);
        if front.is_empty() {
            self.r.used.push(label.at);
        }
        front.push(i);
        let key = match by {
            By::Seconds => (label.cost, 0),
            By::Points => (i64::from(label.points), label.cost),
        };
        self.r.heap.push((Reverse(key), Reverse(i)));
    }

    fn onwards(&mut self, i: u32, label: &Label) {
        let open = self.open;
        let p = open.p;
        let g = p.spec.gear_of(label.at);
        for r in &p.routes_from[label.at.ix()] {
            let route = &p.spec.routes[r.ix()];
            let unpowered = !label.powered && !open.losses().is_passive(*r);
            if open.losses().route(*r) || !label.sides.passes(route.takes) || unpowered {
                continue;
            }
            let mut cost = label.cost;
            let mut walked = label.walked;
            let own = route.knob.filter(|k| !open.judge.knob(*k));
            let lit = route.mutes.iter().copied().filter(|k| open.judge.knob(*k));
            let turned: Vec<KnobId> = own.into_iter().chain(lit).collect();
            let cannot = |k: &KnobId| {
                open.state.forbidden[open.edits.id(Edit::Knob(*k))] || open.plan.knobs.contains(k)
            };
            if turned.iter().any(cannot) || (route.knob.is_none() && !route.on) {
                continue;
            }
            for k in &turned {
                let knob = i64::from(p.spec.steps.knob + p.spec.knobs[k.ix()].wait) * UNIT;
                // One that turns several ways serves several sources at once.
                let shared = label.mixed || self.mixing.turns[k.ix()] > 1;
                cost += if shared { self.share(knob) } else { knob };
            }
            if !turned.is_empty() && !walked {
                cost += self.at_piece(At::Visit, g, open.visit(g));
                walked = true;
            }
            if open.hold(route.guard) == Hold::Never {
                continue;
            }
            for to in &route.to {
                let Flow::Out { levels: own, .. } = p.spec.socket(*to).flow else { continue };
                let levels = match route.gain {
                    None => Some(own),
                    Some(gain) => Levels {
                        lo: label.levels.lo.saturating_add(gain.lo),
                        hi: label.levels.hi.saturating_add(gain.hi),
                    }
                    .meet(own),
                };
                let Some(levels) = levels else { continue };
                let sides = label.sides.over_route(
                    route.takes,
                    p.spec.socket(label.at).wire,
                    p.spec.socket(*to).wire,
                );
                let leaving = Leaving {
                    cost,
                    points: label.points + route.points,
                    levels,
                    sides,
                    mixed: label.mixed || self.mixing.fed_by[to.ix()] >= 2,
                    walked,
                    fed: label.fed,
                    parent: i,
                    route: Some(*r),
                    placed: None,
                };
                self.leave(*to, leaving);
            }
        }
    }

    /// What it takes besides for a listener to hear what has arrived at a loudspeaker.
    fn heard(&self, label: &Label, want: &Wanted) -> Option<(i64, i32, Option<usize>)> {
        let open = self.open;
        let p = open.p;
        let g = p.spec.gear_of(label.at);
        if want.by.is_some_and(|by| by != g) {
            return None;
        }
        let driven = p.spec.gear[g.ix()].sounds.iter().find(|s| s.socket == label.at);
        let cut = driven.is_none_or(|s| open.hold(s.guard) == Hold::Never);
        if open.losses().sound(g) || cut || !label.powered {
            return None;
        }
        let gear = &p.spec.gear[g.ix()];
        let need = p.spec.listeners[want.listener.ix()].need;
        let hears =
            |n: usize| gear.placements[n].hears.iter().any(|(l, db)| *l == want.listener && *db >= need);
        let here = match open.judge.place(g) {
            Place::At(n) => Some((n, 0)),
            Place::Case => None,
        };
        let packed = open.judge.place(g) == Place::Case;
        let all = here.into_iter().chain(open.placements(g));
        all.filter(|(n, _)| hears(*n) && !self.leaks(&gear.placements[*n]))
            .map(|(n, seconds)| {
                let moved = Place::At(n) != open.judge.place(g);
                // A packed piece has paid for its cheapest placement on arrival.
                let extra = if moved && !packed {
                    let walk = if label.walked { 0 } else { open.visit(g) };
                    self.at_piece(At::Place, g, seconds) + self.at_piece(At::Visit, g, walk)
                } else {
                    0
                };
                let points = label.points + gear.points + gear.placements[n].points;
                (label.cost + extra, points, moved.then_some(n))
            })
            .min_by_key(|(c, pts, _)| self.key(*c, *pts))
    }

    /// Would somebody hear the source here who must never hear it? Then no valid plan brings it here at all.
    fn leaks(&self, placement: &Placement) -> bool {
        let p = self.open.p;
        let never = p.spec.parts.iter().filter(|q| q.rank == Rank::Never && q.source == self.source);
        p.rules.on(Rule::Never)
            && never.map(|q| q.listener).any(|l| placement.hears.iter().any(|(who, _)| *who == l))
    }

    /// All that has to be done along a way, in order.
    fn retrace(&self, last: u32, placed: Option<usize>) -> Needs {
        let open = self.open;
        let p = open.p;
        let mut trail = Vec::new();
        let mut i = last;
        while i != NONE {
            trail.push(i);
            i = self.r.labels[i as usize].parent;
        }
        trail.reverse();
        let mut needs = Needs::default();
        let end = self.r.labels[last as usize];
        let speaker = p.spec.gear_of(end.at);
        for (k, i) in trail.iter().enumerate() {
            let label = &self.r.labels[*i as usize];
            if let Some((g, n)) = label.placed {
                if open.judge.place(g) != Place::At(n) {
                    needs.edit(open, Edit::Place(g, n));
                }
                self.supply.needs(open, g, &mut needs);
                let guard = p.spec.gear[g.ix()]
                    .makes
                    .iter()
                    .find(|m| m.socket == label.from && m.source == self.source);
                let guard = guard.and_then(|m| m.guard);
                needs.hold(open, open.hold(guard));
            }
            if let Some(r) = label.route {
                let route = &p.spec.routes[r.ix()];
                needs.hold(open, open.hold(route.guard));
                for m in route.mutes.iter().filter(|m| open.judge.knob(**m)) {
                    needs.edit(open, Edit::Knob(*m));
                }
                if let Some(kb) = route.knob
                    && !open.judge.knob(kb)
                {
                    needs.edit(open, Edit::Knob(kb));
                }
            }
            let g = p.spec.gear_of(label.at);
            if open.judge.place(g) == Place::Case {
                let cheapest = open.placements(g).min_by_key(|(_, c)| *c).map(|(n, _)| n);
                let ends_here = k + 1 == trail.len() && g == speaker;
                if let Some(n) = if ends_here { placed.or(cheapest) } else { cheapest } {
                    needs.edit(open, Edit::Place(g, n));
                }
            }
            if let Some(edit) = label.edit {
                needs.edit(open, edit);
            }
            if let Flow::Out { phantom, .. } = p.spec.socket(label.from).flow
                && let Some(kb) = self.wrong_bank(label.at, phantom)
            {
                needs.edit(open, Edit::Knob(kb));
            }
            if label.powered {
                self.supply.needs(open, g, &mut needs);
            }
        }
        let driven = p.spec.gear[speaker.ix()].sounds.iter().find(|s| s.socket == end.at);
        needs.hold(open, open.hold(driven.and_then(|s| s.guard)));
        if let Some(n) = placed {
            needs.edit(open, Edit::Place(speaker, n));
        }
        needs
    }
}
