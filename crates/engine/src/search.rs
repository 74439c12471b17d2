//! The search: best-first over edits (docs/cover.md, section 10).
//!
//! A node stands for every plan that has some edits and lacks others. It is split by the cheapest way for the dearest thing
//! still missing: either a plan has that way's first edit not, or the first and not the second, and so on, or all of them,
//! or it does without the thing. Nothing is left out, so when the best plan found is no worse than every open node's bound,
//! it is proved.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use check::fault::{Fault, Losses};
use check::ids::{GearId, PartId};
use check::order::{Goal, Key, Values};
use check::plan::{Act, Plan};
use check::spec::Rank;
use check::{Judge, Problem};

use crate::alike::Alike;
use crate::arcs::{Open, UNIT};
use crate::edits::{Edit, Edits, KEPT};
use crate::leads::{self, Least, Stock};
use crate::prices::{At, Prices};
use crate::relax::{By, Mixing, Relax, Wanted, Way};
use crate::repair;
use crate::state::{self, State};
use crate::supply::{Needs, Supply};

/// Something a plan may bring back, or keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    /// A part, by whichever piece.
    Part(PartId),
    /// A part by one piece: it still sounds there (harm), or it did (points).
    By(PartId, GearId),
}

#[derive(Clone, Copy, Debug)]
struct Demand {
    what: What,
    worth: Worth,
}

/// What is lost with a demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Worth {
    Must(i32),
    Should(i32),
    Nice(i32),
    Harm,
    /// Two points for a speaker that no longer carries a part that is carried.
    Points,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Status {
    /// Not decided.
    Open,
    /// Every plan of this node has it.
    Required,
    /// Done without.
    Given,
}

/// What a child adds to its parent.
#[derive(Clone, Debug, Default)]
struct Step {
    commit: Vec<Edit>,
    forbid: Vec<Edit>,
    status: Vec<(usize, Status)>,
}

#[derive(Debug)]
struct Node {
    parent: usize,
    step: Step,
    split: Option<Split>,
}

/// How a node is split.
#[derive(Clone, Debug)]
enum Split {
    /// By a way for a demand.
    Way { demand: usize, needs: Needs },
    /// By a way that every plan needs, for power or fewer points.
    All(Needs),
    /// At least one of these, without a way to do without.
    OneOf(Vec<Edit>),
}

/// Bounds and best, as the search ends.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    pub(crate) plan: Plan,
    pub(crate) values: Values,
    pub(crate) proved: Proved,
    /// Nothing is better than this.
    pub(crate) bound: Key,
    pub(crate) nodes: u64,
}

/// How far a plan is proved to be the best.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Proved {
    /// Not at all: the limit was hit first.
    No,
    /// Up to the seconds of the order.
    Seconds,
    /// In every place of the order.
    Order,
}

/// What to look for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Task {
    pub(crate) goal: Goal,
    /// Plans that take longer are out.
    pub(crate) cap: Option<i32>,
    /// Plans that are worse in these are out.
    pub(crate) ceiling: Option<(i32, i32)>,
    /// Nodes to look at, at the most, until the seconds are settled; and then for the rest of the order.
    pub(crate) limit: u64,
    pub(crate) polish: u64,
}

/// Mends of one fault that are weighed, one set against another.
const MENDS: usize = 8;

/// Rounds of moving shares at each node.
const ROUNDS: usize = 0;

pub(crate) struct Search<'p> {
    p: &'p Problem,
    fault: &'p Fault,
    task: Task,
    judge: Judge<'p>,
    edits: Edits,
    alike: Alike,
    mixing: Mixing,
    least: Vec<Least>,
    demands: Vec<Demand>,
    relax: Relax,
    nodes: Vec<Node>,
    heap: BinaryHeap<Reverse<(Key, Reverse<u32>, usize)>>,
    looked: u64,
    best: Option<(Key, Vec<Act>, Plan, Values)>,
    state: State,
    status: Vec<Status>,
    touched: Vec<bool>,
    prices: Prices,
    /// By demand: the points that its part has at least, however it is brought. Only where points come before seconds.
    floor: Vec<i32>,
}

/// What looking at a node brings.
enum Look {
    /// No plan of this node can count.
    Dead,
    /// A bound, and how to split it.
    Split(Key, Split, Vec<(usize, Status)>),
    /// A whole plan; the bound and splits for what might still be better, if anything.
    Whole(Option<(Key, Split)>),
}

impl<'p> Search<'p> {
    pub(crate) fn new(p: &'p Problem, fault: &'p Fault, task: Task) -> Self {
        let judge = Judge::new(p, fault);
        let edits = Edits::new(p, fault.mends.len());
        let losses = Losses::of(&p.spec, fault, &[]);
        // With a lead that could be mended, more of an old chain might be kept than lives now.
        let hopeful = if fault.mends.is_empty() { losses.clone() } else { Losses::none(&p.spec) };
        let mut least = vec![Least::default(); 3 * p.pairs.pairs.len()];
        for pair in 0..p.pairs.pairs.len() {
            for kept in KEPT {
                let id = edits.id(Edit::New { pair, kept });
                least[id] = leads::least(p, &hopeful, pair, kept);
            }
        }
        let demands = demands(p, &judge, task.goal);
        Search {
            p,
            fault,
            task,
            edits: edits.clone(),
            alike: Alike::find(p, &losses),
            mixing: Mixing::find(p),
            least,
            status: vec![Status::Open; demands.len()],
            floor: vec![0; demands.len()],
            demands,
            relax: Relax::default(),
            nodes: Vec::new(),
            heap: BinaryHeap::new(),
            looked: 0,
            best: None,
            state: State::new(&edits),
            touched: Vec::new(),
            prices: Prices::even(p.spec.sources.len(), p.spec.gear.len()),
            judge,
        }
    }

    /// Looks until the best plan is proved or the limit is hit.
    pub(crate) fn run(mut self, first: Option<&Plan>) -> Found {
        self.consider(&Plan::default());
        if let Some(plan) = first {
            self.consider(plan);
        }
        self.nodes.push(Node { parent: usize::MAX, step: Step::default(), split: None });
        self.restore(0);
        if self.task.goal == Goal::Break {
            self.find_floors();
            self.restore(0);
        }
        self.look(60, true);
        self.dive(0);
        // Whether the bag is opened, and what is mended, is decided first: the one is a large cost that everything taken
        // from it shares, and each set of mends leaves another fault.
        let least = Key::from([i32::MIN; 7]);
        for step in self.first_steps() {
            let n = self.child(0, step);
            self.dive(n);
            self.heap.push(Reverse((least, Reverse(1), n)));
        }
        let mut settled_at = None;
        let mut since_dive = 0;
        let (proved, bound) = loop {
            let Some(Reverse((key, Reverse(depth), n))) = self.heap.pop() else {
                break (Proved::Order, self.best_key());
            };
            let to = self.task.goal.to_the_seconds();
            if self.best_key()[..to] < key[..to] || self.best_key() < key {
                break (Proved::Order, self.best_key());
            }
            if self.best_key()[..to] == key[..to] && settled_at.is_none() {
                settled_at = Some(self.looked);
            }
            let over = match settled_at {
                Some(at) => self.looked - at >= self.task.polish,
                None => self.looked >= self.task.limit,
            };
            if over {
                self.heap.push(Reverse((key, Reverse(depth), n)));
                break if settled_at.is_some() {
                    (Proved::Seconds, self.best_key())
                } else {
                    (Proved::No, key)
                };
            }
            if self.nodes[n].split.is_none() {
                self.restore(n);
                self.looked += 1;
                since_dive += 1;
                match self.look(ROUNDS, n == 0) {
                    Look::Dead => continue,
                    Look::Whole(None) => continue,
                    Look::Whole(Some((k, split))) => {
                        self.nodes[n].split = Some(split);
                        self.push(n, k.max(key), depth);
                        continue;
                    }
                    Look::Split(k, split, status) => {
                        self.nodes[n].split = Some(split);
                        self.nodes[n].step.status.extend(status);
                        let k = k.max(key);
                        if k > key {
                            self.push(n, k, depth);
                            continue;
                        }
                    }
                }
            }
            self.split(n, key, depth);
            if since_dive >= 200 && settled_at.is_none() {
                since_dive = 0;
                if let Some(Reverse((_, _, next))) = self.heap.peek().copied() {
                    self.dive(next);
                }
            }
        };
        let nodes = self.looked;
        let (_, _, plan, values) = self.best.unwrap_or_default();
        Found { plan, values, proved, bound, nodes }
    }

    /// Every way to begin: with the bag closed or open, and with each set of mends.
    fn first_steps(&self) -> Vec<Step> {
        let mends = self.fault.mends.len();
        let mut steps = Vec::new();
        for bag in if self.has_bag() { &[Some(false), Some(true)][..] } else { &[None][..] } {
            // A fault has one or two mends; of more, only the first few are weighed together.
            for set in 0_u32..1 << mends.min(MENDS) {
                let mut step = Step::default();
                match bag {
                    Some(true) => step.commit.push(Edit::Open),
                    Some(false) => step.forbid.push(Edit::Open),
                    None => {}
                }
                for m in 0..mends {
                    let list =
                        if m < MENDS && set & (1 << m) != 0 { &mut step.commit } else { &mut step.forbid };
                    list.push(Edit::Mend(m));
                }
                steps.push(step);
            }
        }
        steps
    }

    fn has_bag(&self) -> bool {
        let spec = &self.p.spec;
        spec.leads.iter().any(|t| t.case > 0)
            || spec.gear.iter().any(|g| g.place == check::spec::Place::Case)
            || spec.wear.iter().any(|w| w.case > 0)
    }

    fn best_key(&self) -> Key {
        self.best.as_ref().map_or([i32::MAX; 7], |b| b.0)
    }

    fn push(&mut self, n: usize, key: Key, depth: u32) {
        if key <= self.best_key() {
            self.heap.push(Reverse((key, Reverse(depth), n)));
        }
    }

    fn child(&mut self, parent: usize, step: Step) -> usize {
        self.nodes.push(Node { parent, step, split: None });
        self.nodes.len() - 1
    }

    /// Makes the children of a node, each with its parent's bound until it is looked at.
    fn split(&mut self, n: usize, key: Key, depth: u32) {
        let Some(split) = self.nodes[n].split.clone() else { return };
        let mut steps = Vec::new();
        match split {
            Split::OneOf(edits) => one_of(&edits, &[], &mut steps),
            Split::All(needs) => by_way(&needs, &[], &mut steps, &mut |s| self.fillers(n, s)),
            Split::Way { demand, needs } => {
                self.restore(n);
                let open = self.status[demand] == Status::Open;
                let status: &[(usize, Status)] = if open { &[(demand, Status::Required)] } else { &[] };
                by_way(&needs, status, &mut steps, &mut |s| self.fillers(n, s));
                if open {
                    steps.push(Step { status: vec![(demand, Status::Given)], ..Step::default() });
                }
            }
        }
        for mut step in steps {
            self.spread(&mut step.forbid);
            let c = self.child(n, step);
            self.push(c, key, depth + 1);
        }
    }

    /// What is forbidden for one free socket is forbidden for all that are like it. (One with a plug in it is only offered
    /// when no free one is left, and is then told apart by what it is robbed of.)
    fn spread(&self, forbid: &mut Vec<Edit>) {
        for i in 0..forbid.len() {
            let Edit::New { pair, kept } = forbid[i] else { continue };
            let pr = &self.p.pairs.pairs[pair];
            let like = |s: check::ids::SocketId, end: check::plan::End| {
                let alone = kept == Some(end) || self.p.normal_at[s.ix()].is_some();
                if alone { vec![s] } else { self.alike.of(s).to_vec() }
            };
            let (from, to) = (like(pr.from, check::plan::End::From), like(pr.to, check::plan::End::To));
            for a in &from {
                for b in &to {
                    if (*a, *b) != (pr.from, pr.to)
                        && let Some(other) = self.p.pairs.find(*a, *b)
                    {
                        forbid.push(Edit::New { pair: other, kept });
                    }
                }
            }
        }
    }

    fn fillers(&mut self, n: usize, s: check::ids::SocketId) -> Vec<Edit> {
        self.restore(n);
        let losses = Losses::of(&self.p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(self.p, &self.edits, &losses) else { return Vec::new() };
        if self.judge.look(&plan).is_some() {
            return Vec::new();
        }
        state::touched(self.p, self.fault, &plan, &mut self.touched);
        let open = Open::new(
            self.p,
            &self.edits,
            &self.judge,
            &self.state,
            &plan,
            &self.touched,
            &self.alike,
            &self.least,
        );
        open.fillers(s).collect()
    }

    /// Brings back what a node has decided.
    fn restore(&mut self, n: usize) {
        let mut trail = Vec::new();
        let mut i = n;
        while i != usize::MAX {
            trail.push(i);
            i = self.nodes[i].parent;
        }
        self.state.clear();
        self.status.fill(Status::Open);
        for i in trail.into_iter().rev() {
            let step = &self.nodes[i].step;
            for e in &step.commit {
                self.state.commit(&self.edits, *e);
            }
            for e in &step.forbid {
                self.state.forbid(&self.edits, *e);
            }
            for (d, s) in &step.status {
                self.status[*d] = *s;
            }
        }
    }

    /// Takes the cheapest ways one after another, for a first plan.
    fn dive(&mut self, from: usize) {
        self.restore(from);
        for _ in 0..40 {
            match self.look(0, false) {
                Look::Dead | Look::Whole(None) => return,
                Look::Whole(Some((_, Split::OneOf(edits)))) => match edits.first() {
                    Some(e) => self.state.commit(&self.edits, *e),
                    None => return,
                },
                Look::Whole(Some((_, Split::All(needs) | Split::Way { needs, .. }))) => {
                    if needs.edits.is_empty() {
                        return;
                    }
                    for e in &needs.edits {
                        self.state.commit(&self.edits, *e);
                    }
                }
                Look::Split(_, split, status) => {
                    for (d, s) in status {
                        self.status[d] = s;
                    }
                    let edits = match split {
                        Split::Way { demand, needs } => {
                            if self.status[demand] == Status::Open {
                                self.status[demand] = Status::Required;
                            }
                            needs.edits
                        }
                        Split::All(needs) => needs.edits,
                        Split::OneOf(edits) => edits.into_iter().take(1).collect(),
                    };
                    if edits.is_empty() {
                        return;
                    }
                    for e in edits {
                        self.state.commit(&self.edits, e);
                    }
                }
            }
            self.looked += 1;
        }
    }

    /// A bound from what is given up so far.
    fn given(&self, status: &[Status]) -> Values {
        let mut v = Values::default();
        for (d, s) in self.demands.iter().zip(status) {
            let given = *s == Status::Given;
            match d.worth {
                Worth::Must(w) => v.must -= if given { 0 } else { w },
                Worth::Should(w) => v.should -= if given { 0 } else { w },
                Worth::Nice(w) => v.nice -= if given { 0 } else { w },
                Worth::Harm => v.harm += i32::from(given),
                Worth::Points => v.diff += if given && !self.part_given(d, status) { 2 } else { 0 },
            }
        }
        let kept = status.iter().zip(&self.floor).filter(|(s, _)| **s != Status::Given);
        v.diff += kept.map(|(_, points)| points).sum::<i32>();
        v
    }

    /// What points each part has at least: by its best way from the normal patch, as if it were the only one.
    fn find_floors(&mut self) {
        let p = self.p;
        // A mend only gives back: with all of them done there are the most ways.
        for m in 0..self.fault.mends.len() {
            self.state.commit(&self.edits, Edit::Mend(m));
        }
        let losses = Losses::of(&p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(p, &self.edits, &losses) else { return };
        if self.judge.look(&plan).is_some() {
            return;
        }
        let mut relax = std::mem::take(&mut self.relax);
        let mut touched = std::mem::take(&mut self.touched);
        state::touched(p, self.fault, &plan, &mut touched);
        let open =
            Open::new(p, &self.edits, &self.judge, &self.state, &plan, &touched, &self.alike, &self.least);
        let mut supply = Supply::settle(&open);
        let parts: Vec<usize> =
            (0..self.demands.len()).filter(|d| matches!(self.demands[*d].what, What::Part(_))).collect();
        let prices = Prices::full(p.spec.sources.len(), p.spec.gear.len());
        let mut ways = Vec::new();
        self.follow(&mut relax, &open, &mut supply, &parts, 1, &prices, By::Points, i64::MAX, &mut ways);
        let mut floor = vec![0; self.demands.len()];
        for w in ways {
            floor[w.demand] = w.points;
        }
        self.floor = floor;
        self.relax = relax;
        self.touched = touched;
    }

    /// Is the part of this demand itself done without? Then its speakers are no matter of points.
    fn part_given(&self, d: &Demand, status: &[Status]) -> bool {
        let (What::Part(part) | What::By(part, _)) = d.what;
        self.demands.iter().zip(status).any(|(e, s)| e.what == What::Part(part) && *s == Status::Given)
    }

    fn is_met(&self, d: &Demand) -> bool {
        match d.what {
            What::Part(part) => (0..self.p.spec.gear.len()).any(|g| self.judge.sounds(part, GearId::at(g))),
            What::By(part, g) => self.judge.sounds(part, g),
        }
    }

    /// Looks at the plan decided so far in `self.state`.
    fn look(&mut self, rounds: usize, keep_prices: bool) -> Look {
        let mut relax = std::mem::take(&mut self.relax);
        let mut touched = std::mem::take(&mut self.touched);
        let mut whole = None;
        let look = self.look_at(&mut relax, &mut touched, &mut whole, rounds, keep_prices);
        self.relax = relax;
        self.touched = touched;
        if let Some(plan) = whole {
            self.consider(&plan);
        }
        look
    }

    fn look_at(
        &mut self,
        relax: &mut Relax,
        touched: &mut Vec<bool>,
        whole: &mut Option<Plan>,
        rounds: usize,
        keep_prices: bool,
    ) -> Look {
        let p = self.p;
        let losses = Losses::of(&p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(p, &self.edits, &losses) else { return Look::Dead };
        if self.judge.look(&plan).is_some() {
            return Look::Dead;
        }
        state::touched(p, self.fault, &plan, touched);
        let least = &self.least;
        let edits = &self.edits;
        let bag = self.state.bag;
        let least_of = |pair, kept| least[edits.id(Edit::New { pair, kept })].with(bag);
        let Some(firm) = state::firm(p, self.fault, &self.state, &plan, touched, &least_of) else {
            return Look::Dead;
        };
        let cap = self.task.cap.unwrap_or(i32::MAX);
        if firm > cap {
            return Look::Dead;
        }
        let open = Open::new(p, edits, &self.judge, &self.state, &plan, touched, &self.alike, least);
        let mut supply = Supply::settle(&open);

        // Power for what is switched on comes first: there is no doing without it.
        if let Some(g) = plan.starts.iter().copied().find(|g| !self.judge.could_start(*g)) {
            let mut needs = Needs::default();
            supply.needs(&open, g, &mut needs);
            needs.edits.retain(|e| *e != Edit::Start(g));
            if needs.edits.is_empty() && needs.fill.is_empty() {
                return Look::Dead;
            }
            let mut v = self.given(&self.status);
            v.seconds = firm;
            return Look::Split(self.task.goal.key(&v), Split::All(needs), Vec::new());
        }

        let unmet: Vec<usize> = (0..self.demands.len())
            .filter(|d| self.status[*d] != Status::Given && !self.is_met(&self.demands[*d]))
            .filter(|d| self.counts(*d))
            .collect();
        let mut ways: Vec<Way> = Vec::new();
        let groups = self.groups(&unmet);
        let mut prices = self.prices.among(&groups);
        let most = i64::from(self.most_seconds(cap) - firm) * UNIT;
        self.follow(relax, &open, &mut supply, &unmet, groups.len(), &prices, By::Seconds, most, &mut ways);
        if groups.len() > 1 {
            let mut best = self.total(&ways);
            let mut part = 50;
            for _ in 0..rounds {
                self.shift(&open, &ways, &groups, &mut prices, part);
                let mut again = Vec::new();
                self.follow(
                    relax,
                    &open,
                    &mut supply,
                    &unmet,
                    groups.len(),
                    &prices,
                    By::Seconds,
                    most,
                    &mut again,
                );
                let total = self.total(&again);
                if total > best {
                    (best, ways) = (total, again);
                    if keep_prices {
                        self.prices.clone_from(&prices);
                    }
                } else {
                    part = (part * 3 / 4).max(5);
                }
            }
        }

        // What has no way at all is given up, or the node is dead.
        let mut status = Vec::new();
        let mut now = self.status.clone();
        for d in &unmet {
            if ways.iter().all(|w| w.demand != *d) {
                if self.status[*d] == Status::Required {
                    return Look::Dead;
                }
                now[*d] = Status::Given;
                status.push((*d, Status::Given));
            }
        }
        let all = firm + self.sum(&ways, |_| true);
        let required = firm + self.sum(&ways, |d| now[d] == Status::Required);
        if required > cap {
            return Look::Dead;
        }
        let mut v = self.given(&now);
        v.seconds = all;
        let dearest = ways
            .iter()
            .filter(|w| now[w.demand] != Status::Given)
            .max_by_key(|w| (w.cost, Reverse(w.demand)));
        if all > cap {
            // Something that is still open has to be given up: at the least what costs the order least.
            v = self.cheapest_loss(&ways, &now, &v);
            v.seconds = required;
        }
        if self.above_ceiling(&v) {
            return Look::Dead;
        }
        if self.task.goal == Goal::Break {
            v.diff += plan.new.iter().map(|n| self.least_points(n.pair)).sum::<i32>();
        }
        if let Some(way) = dearest {
            let (demand, needs) = (way.demand, way.needs.clone());
            return Look::Split(self.task.goal.key(&v), Split::Way { demand, needs }, status);
        }
        if let Some(danger) = self.judge.danger() {
            let ways_out = repair::ways_out(&open, &danger);
            if ways_out.is_empty() {
                return Look::Dead;
            }
            return Look::Split(self.task.goal.key(&v), Split::OneOf(ways_out), status);
        }
        Look::Whole(self.finish(relax, &open, &mut supply, &plan, &v, firm, whole))
    }

    /// Chooses the leads of a plan that brings all it is asked for, and notes it; then says what could still be better.
    #[expect(clippy::too_many_arguments, reason = "each is one thing `look` already holds")]
    fn finish(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        plan: &Plan,
        v: &Values,
        firm: i32,
        whole: &mut Option<Plan>,
    ) -> Option<(Key, Split)> {
        let p = self.p;
        let losses = open.judge.losses().clone();
        let mut stock = stock(p, self.fault, &losses, plan);
        match self.state.bag {
            Some(true) => stock.open = true,
            Some(false) => {
                for spares in &mut stock.spares {
                    spares.1 = 0;
                }
            }
            None => {}
        }
        let goal = self.task.goal;
        let bare: i32 = self
            .state
            .links
            .iter()
            .filter_map(|(a, k)| {
                self.least[self.edits.id(Edit::New { pair: *a, kept: *k })].with(self.state.bag)
            })
            .sum();
        let room = self.task.cap.map_or(i32::MAX / 4, |c| c - (firm - bare));
        let real = leads::choose(p, &losses, goal, &self.state.links, &stock, room, false);
        if let Some((_, new)) = &real {
            let mut plan = plan.clone();
            plan.new.clone_from(new);
            plan.tidy();
            *whole = Some(plan);
        }
        let hoped = leads::choose(p, &losses, goal, &self.state.links, &stock, room, true);
        let better = match (&real, &hoped) {
            (_, None) => return None,
            (None, Some(_)) => true,
            (Some((r, _)), Some((h, _))) => h < r,
        };
        let mut pulls = Vec::new();
        if better {
            pulls = frees(open, plan);
        }
        let mut v = *v;
        v.seconds = firm;
        let points = if goal == Goal::Break { self.fewer_points(relax, open, supply, &mut v) } else { None };
        let key = goal.key(&v);
        if let Some(needs) = points {
            return Some((key, Split::All(needs)));
        }
        (!pulls.is_empty()).then_some((key, Split::OneOf(pulls)))
    }

    /// For the break: the part whose sound could be better, and how.
    fn fewer_points(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        v: &mut Values,
    ) -> Option<Needs> {
        let parts: Vec<usize> = (0..self.demands.len())
            .filter(|d| matches!(self.demands[*d].what, What::Part(_)) && self.is_met(&self.demands[*d]))
            .collect();
        let mut ways = Vec::new();
        let prices = Prices::full(self.p.spec.sources.len(), self.p.spec.gear.len());
        self.follow(relax, open, supply, &parts, 1, &prices, By::Points, i64::MAX, &mut ways);
        let mut best: Option<(i32, Needs)> = None;
        for w in ways {
            let What::Part(part) = self.demands[w.demand].what else { continue };
            let now =
                (0..self.p.spec.gear.len()).filter_map(|g| self.judge.points_at(part, GearId::at(g))).min();
            let Some(now) = now else { continue };
            v.diff += (w.points.min(now) - self.floor[w.demand]).max(0);
            let gain = now - w.points;
            if gain > 0 && !w.needs.edits.is_empty() && best.as_ref().is_none_or(|(g, _)| gain > *g) {
                best = Some((gain, w.needs));
            }
        }
        best.map(|(_, needs)| needs)
    }

    fn least_points(&self, pair: usize) -> i32 {
        let pr = &self.p.pairs.pairs[pair];
        (pr.first..pr.last).map(|c| self.p.pairs.chains[c].points).min().unwrap_or(0)
    }

    /// No plan of this node that takes longer can be better than the best so far: where nothing is left to gain before the
    /// seconds in the order, the best plan's seconds are the limit.
    fn most_seconds(&self, cap: i32) -> i32 {
        let Some((best, ..)) = &self.best else { return cap.min(i32::MAX / 4) };
        let v = self.given(&self.status);
        let before = match self.task.goal {
            Goal::Must => 2,
            Goal::Now | Goal::Full => 4,
            // Points come before the seconds; a bound on them is not worth having here.
            Goal::Break => return cap.min(i32::MAX / 4),
        };
        let limit =
            if self.task.goal.key(&v)[..before] >= best[..before] { best[before] } else { i32::MAX / 4 };
        cap.min(limit)
    }

    /// Does a demand count at all now? A speaker of a part that is not carried is no matter of points.
    fn counts(&self, d: usize) -> bool {
        match (self.demands[d].worth, self.demands[d].what) {
            (Worth::Points, What::By(part, _)) => {
                (0..self.p.spec.gear.len()).any(|g| self.judge.sounds(part, GearId::at(g)))
            }
            _ => true,
        }
    }

    fn groups(&self, unmet: &[usize]) -> Vec<usize> {
        let mut groups: Vec<usize> = unmet.iter().map(|d| self.group(*d)).collect();
        groups.sort_unstable();
        groups.dedup();
        groups
    }

    fn group(&self, d: usize) -> usize {
        let (What::Part(part) | What::By(part, _)) = self.demands[d].what;
        self.mixing.group[self.p.part(part).source.ix()]
    }

    #[expect(clippy::too_many_arguments, reason = "each is one thing `look` already holds")]
    fn follow(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        demands: &[usize],
        among: usize,
        prices: &Prices,
        by: By,
        most: i64,
        out: &mut Vec<Way>,
    ) {
        let source = |d: usize| {
            let (What::Part(part) | What::By(part, _)) = self.demands[d].what;
            self.p.part(part).source
        };
        let mut sources: Vec<_> = demands.iter().map(|d| source(*d)).collect();
        sources.sort_unstable();
        sources.dedup();
        for s in sources {
            let wanted: Vec<Wanted> = demands
                .iter()
                .filter(|d| source(**d) == s)
                .map(|d| {
                    let (part, by) = match self.demands[*d].what {
                        What::Part(part) => (part, None),
                        What::By(part, g) => (part, Some(g)),
                    };
                    Wanted { demand: *d, listener: self.p.part(part).listener, by }
                })
                .collect();
            supply.price_for(open, prices, self.mixing.group[s.ix()]);
            relax.ways(open, supply, &self.mixing, s, &wanted, among, prices, by, most, out);
        }
    }

    /// What the ways that count cost together at least: the dearest of each group, added up. In units.
    fn units(&self, ways: &[Way], counts: impl Fn(usize) -> bool) -> i64 {
        let mut dearest: Vec<(usize, i64)> = Vec::new();
        for w in ways.iter().filter(|w| counts(w.demand) && self.demands[w.demand].worth != Worth::Points) {
            let g = self.group(w.demand);
            match dearest.iter_mut().find(|(h, _)| *h == g) {
                Some((_, c)) => *c = (*c).max(w.cost),
                None => dearest.push((g, w.cost)),
            }
        }
        dearest.iter().map(|(_, c)| *c).sum()
    }

    fn total(&self, ways: &[Way]) -> i64 {
        self.units(ways, |_| true)
    }

    /// The same in whole seconds, rounded up: a plan's seconds are whole, and shares are only ever rounded down.
    fn sum(&self, ways: &[Way], counts: impl Fn(usize) -> bool) -> i32 {
        i32::try_from((self.units(ways, counts) + UNIT - 1) / UNIT).unwrap_or(i32::MAX / 4)
    }

    /// Moves the shares of what each group's dearest way uses towards the groups that use it.
    fn shift(&self, open: &Open<'_, '_>, ways: &[Way], groups: &[usize], prices: &mut Prices, part: i64) {
        let gear = self.p.spec.gear.len();
        let mut users: Vec<[Vec<usize>; 3]> = vec![Default::default(); gear];
        for group in groups {
            let mine = ways
                .iter()
                .filter(|w| self.group(w.demand) == *group && self.demands[w.demand].worth != Worth::Points);
            let Some(way) = mine.max_by_key(|w| (w.cost, Reverse(w.demand))) else { continue };
            for (at, g) in uses(open, &way.needs) {
                let list = &mut users[g.ix()][at as usize];
                if !list.contains(group) {
                    list.push(*group);
                }
            }
        }
        for (g, kinds) in users.iter().enumerate() {
            for at in [At::Visit, At::Power, At::Place] {
                prices.shift(at, GearId::at(g), &kinds[at as usize], groups, part);
            }
        }
    }

    fn cheapest_loss(&self, ways: &[Way], now: &[Status], v: &Values) -> Values {
        let mut best: Option<Values> = None;
        let open = |w: &&Way| now[w.demand] == Status::Open && self.demands[w.demand].worth != Worth::Points;
        for w in ways.iter().filter(open) {
            let mut u = *v;
            match self.demands[w.demand].worth {
                Worth::Must(x) => u.must += x,
                Worth::Should(x) => u.should += x,
                Worth::Nice(x) => u.nice += x,
                Worth::Harm => u.harm += 1,
                Worth::Points => u.diff += 2,
            }
            if best.is_none_or(|b| self.task.goal.key(&u) < self.task.goal.key(&b)) {
                best = Some(u);
            }
        }
        best.unwrap_or(*v)
    }

    fn above_ceiling(&self, v: &Values) -> bool {
        self.task.ceiling.is_some_and(|(must, harm)| (v.must, v.harm) > (must, harm))
    }

    /// Judges a whole plan and keeps it if it is the best so far.
    fn consider(&mut self, plan: &Plan) {
        let verdict = self.judge.judge(plan);
        let within = self.task.cap.is_none_or(|c| verdict.values.seconds <= c);
        if !verdict.is_valid() || !within || self.above_ceiling(&verdict.values) {
            return;
        }
        let key = self.task.goal.key(&verdict.values);
        let acts = acts(self.p, plan);
        if self.best.as_ref().is_none_or(|(k, a, _, _)| (&key, &acts) < (k, a)) {
            self.best = Some((key, acts, plan.clone(), verdict.values));
        }
    }
}

/// A plan as the list of its acts, in the order in which ties are broken.
pub(crate) fn acts(p: &Problem, plan: &Plan) -> Vec<Act> {
    let mut acts: Vec<Act> = plan.pulls.iter().map(|(l, e)| Act::Pull(*l, *e)).collect();
    acts.extend(plan.new.iter().map(|n| {
        let pr = &p.pairs.pairs[n.pair];
        Act::Link(pr.from, pr.to, n.chain, n.kept)
    }));
    acts.extend(plan.places.iter().map(|(g, n)| Act::Place(*g, *n)));
    acts.extend(plan.knobs.iter().map(|k| Act::Knob(*k)));
    acts.extend(plan.starts.iter().map(|g| Act::Start(*g)));
    acts.extend(plan.mends.iter().map(|m| Act::Mend(*m)));
    acts.sort_unstable();
    acts
}

/// Which pieces a way walks to, powers and places.
fn uses(open: &Open<'_, '_>, needs: &Needs) -> Vec<(At, GearId)> {
    let p = open.p;
    let mut all = Vec::new();
    for e in &needs.edits {
        match *e {
            Edit::New { pair, kept } => {
                let pr = &p.pairs.pairs[pair];
                let supply = p.spec.class_of(pr.from).is_some_and(|c| p.spec.classes[c.ix()].supply);
                for (end, s) in [(check::plan::End::From, pr.from), (check::plan::End::To, pr.to)] {
                    if kept != Some(end) || p.spec.has_gain(s) {
                        all.push((At::Visit, p.spec.gear_of(s)));
                    }
                }
                if supply {
                    all.push((At::Power, p.spec.gear_of(pr.to)));
                }
            }
            Edit::Place(g, _) => all.extend([(At::Place, g), (At::Visit, g)]),
            Edit::Knob(k) => all.push((At::Visit, p.spec.knobs[k.ix()].gear)),
            Edit::Start(g) => all.push((At::Power, g)),
            Edit::Pull(..) | Edit::Mend(_) | Edit::Open => {}
        }
    }
    all
}

/// What a way is split by first: what most of the other plans would have to do without too. Forbidding a piece or its
/// switch closes many ways at once, and the bound rises; forbidding one plug closes a single one. Of equals the order of the
/// way stays.
fn decisive(edit: &Edit) -> u8 {
    match edit {
        Edit::Open | Edit::Mend(_) | Edit::Place(..) => 0,
        Edit::Start(_) => 1,
        Edit::New { .. } | Edit::Pull(..) => 2,
        Edit::Knob(_) => 3,
    }
}

fn one_of(edits: &[Edit], status: &[(usize, Status)], steps: &mut Vec<Step>) {
    for i in 0..edits.len() {
        steps.push(Step { commit: vec![edits[i]], forbid: edits[..i].to_vec(), status: status.to_vec() });
    }
}

/// The children of a way: all of it, or the first edit it lacks.
fn by_way(
    needs: &Needs,
    status: &[(usize, Status)],
    steps: &mut Vec<Step>,
    fillers: &mut dyn FnMut(check::ids::SocketId) -> Vec<Edit>,
) {
    if needs.edits.is_empty() {
        // Only a socket has to be filled, with whatever.
        if let Some(s) = needs.fill.first() {
            one_of(&fillers(*s), status, steps);
        }
        return;
    }
    let mut edits = needs.edits.clone();
    edits.sort_by_key(decisive);
    steps.push(Step { commit: edits.clone(), forbid: Vec::new(), status: status.to_vec() });
    for i in (0..edits.len()).rev() {
        steps.push(Step { commit: edits[..i].to_vec(), forbid: vec![edits[i]], status: status.to_vec() });
    }
}

fn demands(p: &Problem, judge: &Judge<'_>, goal: Goal) -> Vec<Demand> {
    let mut all = Vec::new();
    for part in &p.counted {
        let weight = p.part(*part).weight;
        let worth = match p.part(*part).rank {
            Rank::Must => Worth::Must(weight),
            Rank::Should if goal != Goal::Must => Worth::Should(weight),
            Rank::Nice if goal != Goal::Must => Worth::Nice(weight),
            Rank::Should | Rank::Nice | Rank::Never => continue,
        };
        all.push(Demand { what: What::Part(*part), worth });
    }
    match goal {
        Goal::Now | Goal::Full | Goal::Must => {
            all.extend(
                judge
                    .still_sounding()
                    .iter()
                    .map(|(part, g)| Demand { what: What::By(*part, *g), worth: Worth::Harm }),
            );
        }
        Goal::Break => {
            for part in &p.counted {
                let by = p.speakers[part.ix()].iter();
                all.extend(by.map(|g| Demand { what: What::By(*part, *g), worth: Worth::Points }));
            }
        }
    }
    all
}

fn stock(p: &Problem, fault: &Fault, losses: &Losses, plan: &Plan) -> Stock {
    let n = p.spec.leads.len();
    let mut it = Stock {
        freed: vec![0; n],
        could_be_freed: vec![0; n],
        spares: (0..n).map(|t| losses.spares(&p.spec, check::ids::LeadId::at(t), p.on_stage[t])).collect(),
        open: plan.places.iter().any(|(g, _)| p.packed(*g)),
    };
    let mut worn = vec![0; p.spec.wear.len()];
    for (w, n) in plan.mends.iter().filter_map(|m| fault.mends.get(*m)).filter_map(|m| m.wear) {
        worn[w.ix()] += n;
    }
    it.open |= worn.iter().zip(&p.spec.wear).any(|(need, w)| *need > w.stage.max(0));
    for (i, link) in p.spec.patch.iter().enumerate() {
        let l = check::ids::LinkId::at(i);
        let claimed = plan.new.iter().any(|n| n.kept.and_then(|e| p.kept_link(n.pair, e)) == Some(l));
        if claimed {
            continue;
        }
        let has = p.end_exists[i];
        let out = [check::plan::End::From, check::plan::End::To].map(|e| plan.pulls(l, e));
        let freed = has != [false; 2] && (0..2).all(|k| !has[k] || out[k]);
        for (k, t) in link.via.iter().enumerate() {
            if !losses.piece(l, k) {
                if freed { it.freed[t.ix()] += 1 } else { it.could_be_freed[t.ix()] += 1 }
            }
        }
    }
    it
}

/// Pulls and takings-over that could free a lead: at least one of them is in every plan that frees more.
fn frees(open: &Open<'_, '_>, plan: &Plan) -> Vec<Edit> {
    let p = open.p;
    let mut out = Vec::new();
    let free = |e: Edit| {
        let id = open.edits.id(e);
        !open.state.forbidden[id] && !open.state.committed[id]
    };
    for (i, link) in p.spec.patch.iter().enumerate() {
        if link.via.is_empty() {
            continue;
        }
        let l = check::ids::LinkId::at(i);
        if plan.new.iter().any(|n| n.kept.and_then(|e| p.kept_link(n.pair, e)) == Some(l)) {
            continue;
        }
        for end in [check::plan::End::From, check::plan::End::To] {
            let e = Edit::Pull(l, end);
            if p.end_exists[i][end.ix()] {
                if !plan.pulls(l, end) && free(e) {
                    out.push(e);
                }
            } else {
                let s = if end == check::plan::End::From { link.to } else { link.from };
                let over = |e: &Edit| matches!(e, Edit::New { kept: Some(k), .. } if *k == end.other());
                out.extend(open.fillers(s).filter(over).filter(|e| free(*e)));
            }
        }
    }
    out
}
