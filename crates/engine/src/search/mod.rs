//! The search: best-first over edits (docs/cover.md, section 10).
//!
//! A node stands for every plan that has some edits and lacks others. It is split by the cheapest way for the dearest thing
//! still missing: either a plan has that way's first edit not, or the first and not the second, and so on, or all of them,
//! or it does without the thing. Nothing is left out, so when the best plan found is no worse than every open node's bound,
//! it is proved.

mod demand;
mod look;
mod split;
mod whole;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use check::fault::{Fault, Losses};
use check::order::{Goal, Key, Values};
use check::plan::{Act, Plan};
use check::{Judge, Problem};

use self::demand::{Demand, Status, demands};
use self::look::{Look, ROUNDS};
use self::split::{Split, Step};
use crate::alike::Alike;
use crate::edits::{Edit, Edits, KEPT};
use crate::leads::{self, Least};
use crate::prices::Prices;
use crate::relax::{Mixing, Relax};
use crate::state::State;

#[derive(Debug)]
struct Node {
    parent: usize,
    step: Step,
    split: Option<Split>,
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
    /// Is there a plan at all within the task's limits?
    pub(crate) any: bool,
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
        let least = [i32::MIN; 8];
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
        let any = self.best.is_some();
        let (_, _, plan, values) = self.best.unwrap_or_default();
        Found { plan, values, proved, bound, nodes, any }
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
        self.best.as_ref().map_or([i32::MAX; 8], |b| b.0)
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
