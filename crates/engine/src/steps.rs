//! The order in which the steps of a plan are shown, and when each part is back (docs/cover.md, section 9a).
//!
//! The plan is cut into units, each an act that makes sense by itself. Lost parts are served one after another: each brings
//! the units it still needs. Every order of serving is tried for up to seven parts, and the one with the least weighted
//! silence is shown. It is never called proved.

use std::collections::BTreeMap;

use check::fault::Fault;
use check::ids::{GearId, LinkId, PartId, SocketId};
use check::plan::{End, NewLink, Plan};
use check::replay::Replay;
use check::spec::{Flow, Rank};
use check::{Judge, Problem, Verdict};

use crate::answer::{Do, Fails, Order, Step, Take};

/// Parts up to which every order of serving is tried.
const ALL_ORDERS: usize = 7;

/// An act of the plan, as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Unit {
    Mend(usize),
    Pull(LinkId, End),
    Place(GearId, usize),
    Off(check::ids::KnobId),
    Link(NewLink),
    Start(GearId),
    On(check::ids::KnobId),
}

/// Puts the acts of a plan in order.
pub(crate) fn order(
    problem: &Problem,
    fault: &Fault,
    plan: &Plan,
    verdict: &Verdict,
    to_break: i32,
) -> Order {
    let mut desk = Desk::new(problem, fault, plan, verdict);
    let before = desk.carried(0);
    let all = desk.full();
    let after = desk.carried(all);
    let mut lost: Vec<PartId> =
        problem.counted.iter().copied().filter(|p| !before.contains(p) && after.contains(p)).collect();
    lost.sort_by_key(|p| (problem.part(*p).rank, std::cmp::Reverse(problem.part(*p).weight), *p));
    let needs: Vec<u64> = lost.iter().map(|p| desk.needed(*p, all)).collect();
    let mut best: Option<(bool, Order)> = None;
    let mut tried: Vec<Vec<usize>> = Vec::new();
    let mut serve = |desk: &mut Desk<'_>, turn: &[usize]| {
        let blocks = desk.blocks(turn.iter().map(|i| needs[*i]), all);
        let flat: Vec<usize> = blocks.iter().flatten().copied().collect();
        if tried.contains(&flat) {
            return;
        }
        tried.push(flat);
        // Safe at every step before quick.
        let (danger, order) = desk.timed(&blocks, to_break);
        if best.as_ref().is_none_or(|(d, b)| (danger, order.weighted) < (*d, b.weighted)) {
            best = Some((danger, order));
        }
    };
    if lost.len() <= ALL_ORDERS {
        let mut turn: Vec<usize> = (0..lost.len()).collect();
        permute(&mut turn, 0, &mut |t| serve(&mut desk, t));
    } else {
        let turn: Vec<usize> = (0..lost.len()).collect();
        serve(&mut desk, &turn);
    }
    // All at once in the safe order: what mutes and unplugs comes before what plugs. Only where no serving is safe.
    if best.as_ref().is_none_or(|(danger, _)| *danger) {
        let blocks = desk.blocks([all].into_iter(), all);
        let (danger, order) = desk.timed(&blocks, to_break);
        if !danger || best.is_none() {
            best = Some((danger, order));
        }
    }
    let (_, mut order) =
        best.unwrap_or((false, Order { steps: Vec::new(), back: Vec::new(), weighted: 0, fails: None }));
    order.fails = fails(problem, fault, plan, verdict, &order.steps);
    order
}

/// Walks the steps as hands do them, knowing nothing of how they were found; what is wrong with them.
fn fails(p: &Problem, fault: &Fault, plan: &Plan, verdict: &Verdict, steps: &[Step]) -> Option<Fails> {
    let mut replay = Replay::new(p, fault);
    for (i, step) in steps.iter().enumerate() {
        match replay.act(&step.does.act()) {
            Ok(after) => {
                if let Some(what) = after.danger_if_up {
                    return Some(Fails::Unsafe { step: i + 1, what });
                }
            }
            Err(stopped) => return Some(Fails::Stopped(stopped)),
        }
    }
    if let Err(stopped) = replay.end() {
        return Some(Fails::Stopped(stopped));
    }
    let promised = replay.is_left_by(plan) && replay.look().carried == verdict.carried;
    (!promised).then_some(Fails::Otherwise)
}

/// Every order of a list, the given one first.
fn permute(list: &mut Vec<usize>, from: usize, each: &mut dyn FnMut(&[usize])) {
    if from + 1 >= list.len() {
        each(list);
        return;
    }
    for i in from..list.len() {
        list[from..=i].rotate_right(1);
        permute(list, from + 1, each);
        list[from..=i].rotate_left(1);
    }
}

struct Desk<'p> {
    p: &'p Problem,
    fault: &'p Fault,
    plan: &'p Plan,
    verdict: &'p Verdict,
    judge: Judge<'p>,
    units: Vec<Unit>,
    /// By unit: units that have to come before it.
    after: Vec<u64>,
    known: BTreeMap<u64, Seen>,
}

/// How things are once some units are done: parts that are heard, each from which pieces; and whether anything is dangerous.
#[derive(Clone, Debug, Default)]
struct Seen {
    heard: Vec<(PartId, Vec<GearId>)>,
    dangerous: bool,
    /// Pieces with an output that has to stay loaded and is open.
    open: Vec<GearId>,
}

impl<'p> Desk<'p> {
    fn new(p: &'p Problem, fault: &'p Fault, plan: &'p Plan, verdict: &'p Verdict) -> Self {
        // Within a block: mend, off, pull, place, plug, switch on (loud pieces last), on.
        let mut units: Vec<Unit> = plan.mends.iter().map(|m| Unit::Mend(*m)).collect();
        // What silences comes first. A button that mutes silences when it is turned on, all else when it is turned off.
        let mutes = |k: check::ids::KnobId| p.spec.routes.iter().any(|r| r.mutes.contains(&k));
        let is_on = |k: &&check::ids::KnobId| p.spec.knobs[k.ix()].on != mutes(**k);
        units.extend(plan.knobs.iter().filter(is_on).map(|k| Unit::Off(*k)));
        units.extend(plan.pulls.iter().map(|(l, e)| Unit::Pull(*l, *e)));
        units.extend(plan.places.iter().map(|(g, n)| Unit::Place(*g, *n)));
        let supply = |n: &NewLink| {
            let from = p.pairs.pairs[n.pair].from;
            p.spec.class_of(from).is_some_and(|c| p.spec.classes[c.ix()].supply)
        };
        // Power from the outlet on: a strip before what hangs on it.
        let (mut feeds, sound): (Vec<NewLink>, Vec<NewLink>) = plan.new.iter().copied().partition(supply);
        feeds.sort_by_key(|n| depth(p, &plan.new, p.spec.gear_of(p.pairs.pairs[n.pair].from), 0));
        units.extend(sound.into_iter().chain(feeds).map(Unit::Link));
        let (loud, quiet): (Vec<GearId>, Vec<GearId>) =
            plan.starts.iter().partition(|g| p.spec.gear[g.ix()].loud);
        units.extend(quiet.into_iter().chain(loud).map(Unit::Start));
        units.extend(plan.knobs.iter().filter(|k| !is_on(k)).map(|k| Unit::On(*k)));
        units.truncate(63);
        let mut desk = Desk {
            p,
            fault,
            plan,
            verdict,
            judge: Judge::new(p, fault),
            after: Vec::new(),
            units,
            known: BTreeMap::new(),
        };
        desk.after = (0..desk.units.len()).map(|u| desk.comes_after(u)).collect();
        desk
    }

    fn full(&self) -> u64 {
        (1_u64 << self.units.len()) - 1
    }

    /// The sockets a unit's new plugs go into.
    fn sockets(&self, unit: Unit) -> Vec<SocketId> {
        match unit {
            Unit::Link(n) => {
                let pair = &self.p.pairs.pairs[n.pair];
                vec![pair.from, pair.to]
            }
            _ => Vec::new(),
        }
    }

    /// What must be done before a unit can be.
    fn comes_after(&self, u: usize) -> u64 {
        let unit = self.units[u];
        let mut mask = 0;
        for (v, other) in self.units.iter().enumerate().filter(|(v, _)| *v != u) {
            let first = match (*other, unit) {
                (Unit::Pull(l, end), Unit::Link(n)) => {
                    let link = &self.p.spec.patch[l.ix()];
                    let at = if end == End::From { link.from } else { link.to };
                    let empties = self.sockets(unit).contains(&at)
                        || (self.p.one_pull[l.ix()]
                            && self.sockets(unit).contains(if end == End::From {
                                &link.to
                            } else {
                                &link.from
                            }));
                    let kept = n.kept.and_then(|e| self.p.kept_link(n.pair, e)) == Some(l);
                    // Freed leads of the types it uses come free first.
                    let via = &self.p.pairs.chains[n.chain].via;
                    let frees = link.via.iter().any(|t| {
                        via.contains(t) && self.verdict.price.taken.get(t.ix()).is_some_and(|k| k.freed > 0)
                    });
                    empties || kept || frees
                }
                (Unit::Place(g, _), Unit::Link(_)) => {
                    self.sockets(unit).iter().any(|s| self.p.spec.gear_of(*s) == g) && self.p.packed(g)
                }
                (Unit::Place(g, _), Unit::Start(h)) => g == h,
                (Unit::Link(n), Unit::Start(g)) => self.feeds(n, g, 0),
                (Unit::Mend(m), Unit::Start(g)) => self.fault.mends.get(m).is_some_and(|mend| mend.at == g),
                (Unit::Mend(m), Unit::Link(_)) => self.fault.mends.get(m).is_some_and(|mend| {
                    self.sockets(unit).iter().any(|s| self.p.spec.gear_of(*s) == mend.at)
                }),
                _ => false,
            };
            if first {
                mask |= 1 << v;
            }
        }
        mask
    }

    /// Is a new link part of what feeds a piece?
    fn feeds(&self, n: NewLink, g: GearId, deep: usize) -> bool {
        let pair = &self.p.pairs.pairs[n.pair];
        let supply = self.p.spec.class_of(pair.from).is_some_and(|c| self.p.spec.classes[c.ix()].supply);
        let to = self.p.spec.gear_of(pair.to);
        supply
            && deep < 8
            && (to == g
                || self.plan.new.iter().any(|m| {
                    let next = &self.p.pairs.pairs[m.pair];
                    self.p.spec.gear_of(next.from) == to && *m != n && self.feeds(*m, g, deep + 1)
                })
                || self
                    .p
                    .spec
                    .patch
                    .iter()
                    .any(|l| self.p.spec.gear_of(l.from) == to && self.p.spec.gear_of(l.to) == g))
    }

    /// A unit with all that must come before it.
    fn closed(&self, mut mask: u64) -> u64 {
        loop {
            let more =
                (0..self.units.len()).filter(|u| mask & (1 << u) != 0).fold(mask, |m, u| m | self.after[u]);
            if more == mask {
                return mask;
            }
            mask = more;
        }
    }

    /// The plan of some of the units.
    fn part_plan(&self, mask: u64) -> Plan {
        let mut plan = Plan::default();
        for (_, unit) in self.units.iter().enumerate().filter(|(u, _)| mask & (1 << u) != 0) {
            match *unit {
                Unit::Mend(m) => plan.mends.push(m),
                Unit::Pull(l, e) => plan.pulls.push((l, e)),
                Unit::Place(g, n) => plan.places.push((g, n)),
                Unit::Off(k) | Unit::On(k) => plan.knobs.push(k),
                Unit::Link(n) => plan.new.push(n),
                Unit::Start(g) => plan.starts.push(g),
            }
        }
        plan.tidy();
        plan
    }

    /// Parts carried once these units are done.
    fn carried(&mut self, mask: u64) -> Vec<PartId> {
        self.heard(mask, &[])
    }

    /// Parts carried once these units are done, while these loud pieces are turned down.
    fn heard(&mut self, mask: u64, down: &[GearId]) -> Vec<PartId> {
        let up = |at: &[GearId]| at.iter().any(|g| !down.contains(g));
        self.known(mask).heard.iter().filter(|(_, at)| up(at)).map(|(part, _)| *part).collect()
    }

    /// Is anything dangerous once these units are done? The same question that a whole plan is asked, with all turned up; only
    /// what has to stay loaded may be open while its piece is down.
    fn is_dangerous(&mut self, mask: u64, down: &[GearId]) -> bool {
        let seen = self.known(mask);
        seen.dangerous || seen.open.iter().any(|g| !down.contains(g))
    }

    fn known(&mut self, mask: u64) -> &Seen {
        if !self.known.contains_key(&mask) {
            let plan = self.part_plan(mask);
            self.judge.look(&plan);
            let at = |p: &PartId| (*p, self.judge.speakers_of(*p));
            let heard = self.p.counted.iter().map(at).filter(|(_, at)| !at.is_empty()).collect();
            let dangerous = self.judge.danger_but_loads().is_some();
            let open = self.judge.open_loads().map(|s| self.p.spec.gear_of(s)).collect();
            self.known.insert(mask, Seen { heard, dangerous, open });
        }
        self.known.entry(mask).or_default()
    }

    /// Units without which a part is not carried: all of them, less each that it can do without.
    fn needed(&mut self, part: PartId, all: u64) -> u64 {
        let mut mask = all;
        for u in (0..self.units.len()).rev() {
            // What needs this one goes with it.
            let gone = (0..self.units.len())
                .filter(|v| self.closed(1 << v) & (1 << u) != 0)
                .fold(1_u64 << u, |m, v| m | (1 << v));
            let less = mask & !gone;
            if less != mask && self.closed(less) == less && self.carried(less).contains(&part) {
                mask = less;
            }
        }
        mask
    }

    /// Units in blocks: one a part served, and one for the rest.
    fn blocks(&self, needs: impl Iterator<Item = u64>, all: u64) -> Vec<Vec<usize>> {
        let mut done = 0;
        let mut blocks = Vec::new();
        for need in needs.chain([all]) {
            let todo = self.closed(need) & !done;
            if todo == 0 {
                continue;
            }
            done |= todo;
            blocks.push(self.sorted(todo, done & !todo));
        }
        blocks
    }

    /// The units of a block in the safe order, prerequisites first.
    fn sorted(&self, mut todo: u64, mut done: u64) -> Vec<usize> {
        let mut list = Vec::new();
        while todo != 0 {
            let ready =
                (0..self.units.len()).find(|u| todo & (1 << u) != 0 && self.after[*u] & !done & todo == 0);
            let u = ready.unwrap_or_else(|| usize::try_from(todo.trailing_zeros()).unwrap_or(0));
            list.push(u);
            todo &= !(1 << u);
            done |= 1 << u;
        }
        list
    }

    /// Puts the blocks on the clock; and whether anything on the way is dangerous.
    fn timed(&mut self, blocks: &[Vec<usize>], to_break: i32) -> (bool, Order) {
        let mut clock = Clock::new(self.p, self.verdict);
        let mut steps: Vec<Step> = Vec::new();
        let mut mask = 0;
        let mut danger = false;
        // Each moment at which what is heard may change: seconds, and the parts heard from then on.
        let mut moments: Vec<(i32, usize, Vec<PartId>)> = vec![(0, 0, self.carried(0))];
        // When each start is made, and when it works.
        let mut ready: Vec<(i32, i32)> = Vec::new();
        for block in blocks {
            let loud = self.loud_in(block);
            for g in &loud {
                clock.step(&mut steps, Do::Quieten(*g), *g, 0);
            }
            moments.push((clock.now, steps.len(), self.heard(mask, &loud)));
            for u in block {
                self.unit_steps(self.units[*u], &mut clock, &mut steps, &mut ready);
                mask |= 1 << u;
                danger |= self.is_dangerous(mask, &loud);
                moments.push((clock.now, steps.len(), self.heard(mask, &loud)));
            }
            for i in 0..loud.len() {
                clock.step(&mut steps, Do::BringUp(loud[i]), loud[i], self.p.spec.steps.quiet);
                moments.push((clock.now, steps.len(), self.heard(mask, &loud[i + 1..])));
            }
            danger |= self.is_dangerous(mask, &[]);
        }
        (danger, self.close(steps, &moments, &ready, to_break))
    }

    /// Loud pieces that a block touches and that are on before it.
    fn loud_in(&self, block: &[usize]) -> Vec<GearId> {
        let p = self.p;
        let mut loud = Vec::new();
        let mut add = |g: GearId| {
            if p.spec.gear[g.ix()].loud && !loud.contains(&g) {
                loud.push(g);
            }
        };
        for u in block {
            match self.units[*u] {
                Unit::Mend(m) => {
                    if let Some(mend) = self.fault.mends.get(m) {
                        add(mend.at);
                    }
                }
                Unit::Pull(l, end) => {
                    let link = &p.spec.patch[l.ix()];
                    add(p.spec.gear_of(if end == End::From { link.from } else { link.to }));
                    if let Some(g) = p.unloads(l) {
                        add(g);
                    }
                }
                Unit::Place(g, _) | Unit::Start(g) => add(g),
                Unit::Off(k) | Unit::On(k) => add(p.spec.knobs[k.ix()].gear),
                Unit::Link(n) => {
                    let pair = &p.pairs.pairs[n.pair];
                    for (end, s) in [(End::From, pair.from), (End::To, pair.to)] {
                        if n.kept != Some(end) || p.spec.has_gain(s) {
                            add(p.spec.gear_of(s));
                        }
                    }
                }
            }
        }
        loud
    }

    fn unit_steps(
        &self,
        unit: Unit,
        clock: &mut Clock<'_>,
        steps: &mut Vec<Step>,
        ready: &mut Vec<(i32, i32)>,
    ) {
        let p = self.p;
        let t = &p.spec.steps;
        match unit {
            Unit::Mend(mend) => {
                let Some(m) = self.fault.mends.get(mend) else { return };
                let fetch = m.wear.map_or(0, |(w, n)| clock.wear(w, n));
                clock.step(steps, Do::Mend { mend }, m.at, m.seconds + fetch);
            }
            Unit::Pull(link, end) => {
                let l = &p.spec.patch[link.ix()];
                let from = if end == End::From { l.from } else { l.to };
                clock.step(steps, Do::Pull { link, end, from }, p.spec.gear_of(from), t.unplug);
            }
            Unit::Place(gear, placement) => {
                let from_bag = p.packed(gear);
                let open = if from_bag { clock.open() } else { 0 };
                let seconds = p.spec.gear[gear.ix()].placements.get(placement).map_or(0, |pl| pl.seconds);
                clock.step(steps, Do::Place { gear, placement, from_bag }, gear, seconds + open);
            }
            Unit::Off(knob) | Unit::On(knob) => {
                let k = &p.spec.knobs[knob.ix()];
                clock.step(steps, Do::Knob { knob, on: !k.on }, k.gear, t.knob + k.wait);
            }
            Unit::Link(n) => self.plug_steps(n, clock, steps),
            Unit::Start(gear) => {
                let boot = p.spec.gear[gear.ix()].boot;
                clock.step(steps, Do::Start { gear, boot }, gear, t.start);
                ready.push((clock.now, clock.now + boot));
            }
        }
    }

    fn plug_steps(&self, n: NewLink, clock: &mut Clock<'_>, steps: &mut Vec<Step>) {
        let p = self.p;
        let pair = &p.pairs.pairs[n.pair];
        let via = p.pairs.chains[n.chain].via.clone();
        let kept = n.kept.and_then(|e| p.kept_link(n.pair, e).map(|l| (l, e)));
        let losses = check::fault::Losses::of(&p.spec, self.fault, &self.plan.mends);
        let stay = kept.map_or(0, |(l, e)| p.kept_pieces(&losses, l, e, &via));
        let new: Vec<_> = match kept {
            None => via.clone(),
            Some((_, End::From)) => via[stay..].to_vec(),
            Some((_, End::To)) => via[..via.len() - stay].to_vec(),
        };
        let mut fetch = 0;
        let mut takes = Vec::new();
        for t in &new {
            let (take, seconds) = clock.take(*t);
            fetch += seconds;
            takes.push((*t, take));
        }
        let joints = if kept.is_some() { via.len() - stay } else { via.len().saturating_sub(1) };
        fetch += i32::try_from(joints).unwrap_or(0) * p.spec.steps.join;
        let mut level = p.spec.has_gain(pair.to);
        let before = steps.len();
        for (end, s) in [(End::From, pair.from), (End::To, pair.to)] {
            // Two fixed cables that go straight into each other have no end that is charged. They are joined all the same.
            let joined = end == End::To && steps.len() == before && n.kept.is_none();
            let charged = p.end_charged(s, via.len());
            if n.kept == Some(end) || !(charged || joined) {
                continue;
            }
            let sets = level && end == End::To;
            let does = Do::Plug {
                from: pair.from,
                to: pair.to,
                via: via.clone(),
                end,
                kept,
                takes: std::mem::take(&mut takes),
                level: sets,
            };
            level &= !sets;
            let own = if sets { p.spec.steps.level } else { 0 };
            if charged {
                let all = p.spec.plug_seconds(s) + own + std::mem::take(&mut fetch);
                clock.step(steps, does, p.spec.gear_of(s), all);
            } else if sets {
                clock.step(steps, does, p.spec.gear_of(s), own);
            } else {
                clock.free(steps, does, p.spec.gear_of(s));
            }
        }
        // The level at a kept end, or at a fixed cable's own end, is set in the step that went before.
        if level {
            let g = p.spec.gear_of(pair.to);
            let walk = clock.walk(g);
            clock.now += walk + p.spec.steps.level;
            if let Some(last) = steps.last_mut() {
                last.seconds += walk + p.spec.steps.level;
                last.until = clock.now;
                if let Do::Plug { level, .. } = &mut last.does {
                    *level = true;
                }
            }
        }
    }

    /// Says of each step what is back after it, and reckons the silence.
    fn close(
        &self,
        mut steps: Vec<Step>,
        moments: &[(i32, usize, Vec<PartId>)],
        ready: &[(i32, i32)],
        to_break: i32,
    ) -> Order {
        let p = self.p;
        let mut back = Vec::new();
        let mut weighted = 0_i64;
        for part in &p.counted {
            let mut silent = 0;
            let mut since: Option<i32> = None;
            let mut last: Option<(i32, usize)> = None;
            let mut first: Option<(i32, usize)> = None;
            let lost = moments.first().is_some_and(|(_, _, heard)| !heard.contains(part));
            for (at, step, heard) in moments {
                match (heard.contains(part), since) {
                    (false, None) => since = Some(*at),
                    (true, Some(from)) => {
                        // What was started on its way carries once it works.
                        let begun = ready.iter().filter(|(start, _)| start <= at && self.waits(*part));
                        let at = begun.map(|(_, works)| *works).fold(*at, i32::max);
                        silent += at - from;
                        last = Some((at, *step));
                        first = first.or(last);
                        since = None;
                    }
                    (true, None) | (false, Some(_)) => {}
                }
            }
            let rank = match p.part(*part).rank {
                Rank::Must => 100,
                Rank::Should => 10,
                Rank::Nice => 1,
                Rank::Never => 0,
            };
            if let Some(from) = since {
                silent += (to_break - from).max(0);
                back.push((*part, None));
            } else if let Some((at, step)) = last {
                back.push((*part, Some(at)));
                if let Some(step) = step.checked_sub(1).and_then(|i| steps.get_mut(i)) {
                    step.back.push((*part, at));
                }
                // What the fault left alone and a step turned down needs no stop.
                if let Some((at, early)) = first.filter(|(_, early)| lost && *early != step)
                    && let Some(step) = early.checked_sub(1).and_then(|i| steps.get_mut(i))
                {
                    step.first_heard.push((*part, at));
                }
            }
            weighted += rank * i64::from(p.part(*part).weight) * i64::from(silent);
        }
        Order { steps, back, weighted, fails: None }
    }

    /// Does a part go through anything that the plan starts? A part that waits for none is not kept waiting.
    fn waits(&self, part: PartId) -> bool {
        let source = self.p.part(part).source;
        self.plan.starts.iter().any(|g| {
            let gear = &self.p.spec.gear[g.ix()];
            // A maker of another source is not on its way; mixers and speakers may be.
            gear.makes.is_empty() || gear.makes.iter().any(|m| m.source == source)
        })
    }
}

/// How many new supply links stand before a piece.
fn depth(p: &Problem, new: &[NewLink], g: GearId, deep: usize) -> usize {
    let into = new.iter().find(|n| {
        let pair = &p.pairs.pairs[n.pair];
        matches!(p.spec.socket(pair.to).flow, Flow::In { .. })
            && p.spec.gear_of(pair.to) == g
            && p.supply_ins[g.ix()].contains(&pair.to)
    });
    match into {
        Some(n) if deep < 8 => 1 + depth(p, new, p.spec.gear_of(p.pairs.pairs[n.pair].from), deep + 1),
        _ => 0,
    }
}

/// Seconds as they pass, and what has been fetched and visited.
struct Clock<'p> {
    p: &'p Problem,
    now: i32,
    walked: Vec<bool>,
    opened: bool,
    /// What is left of each lead type: freed, on stage.
    left: Vec<(i32, i32)>,
    worn: Vec<i32>,
}

impl<'p> Clock<'p> {
    fn new(p: &'p Problem, verdict: &Verdict) -> Self {
        Clock {
            p,
            now: 0,
            walked: vec![false; p.spec.gear.len()],
            opened: false,
            left: verdict.price.taken.iter().map(|t| (t.freed, t.stage)).collect(),
            worn: p.spec.wear.iter().map(|w| w.stage).collect(),
        }
    }

    fn walk(&mut self, g: GearId) -> i32 {
        if std::mem::replace(&mut self.walked[g.ix()], true) { 0 } else { self.p.go[g.ix()] }
    }

    fn open(&mut self) -> i32 {
        if std::mem::replace(&mut self.opened, true) { 0 } else { self.p.spec.steps.open_case }
    }

    fn take(&mut self, t: check::ids::LeadId) -> (Take, i32) {
        let (freed, stage) = &mut self.left[t.ix()];
        if *freed > 0 {
            *freed -= 1;
            (Take::Freed, 0)
        } else if *stage > 0 {
            *stage -= 1;
            (Take::Stage, self.p.spec.steps.item_stage)
        } else {
            (Take::Bag, self.p.spec.steps.item_case + self.open())
        }
    }

    fn wear(&mut self, w: check::ids::WearId, n: i32) -> i32 {
        let stage = n.min(self.worn[w.ix()].max(0));
        self.worn[w.ix()] -= stage;
        let case = n - stage;
        let open = if case > 0 { self.open() } else { 0 };
        stage * self.p.spec.steps.item_stage + case * self.p.spec.steps.item_case + open
    }

    fn step(&mut self, steps: &mut Vec<Step>, does: Do, gear: GearId, seconds: i32) {
        let seconds = seconds + self.walk(gear);
        self.now += seconds;
        steps.push(Step { does, gear, seconds, until: self.now, back: Vec::new(), first_heard: Vec::new() });
    }

    /// A step that no definition charges: not even the way there.
    fn free(&mut self, steps: &mut Vec<Step>, does: Do, gear: GearId) {
        steps.push(Step {
            does,
            gear,
            seconds: 0,
            until: self.now,
            back: Vec::new(),
            first_heard: Vec::new(),
        });
    }
}
