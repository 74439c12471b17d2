//! Depth first over the acts: each in turn in, then out, cut off only where the bound proves that nothing better
//! can follow.

use crate::neutral::Rig;

use super::bound;
use super::choose::{Look, Next};
use super::cost::Mended;
use super::judge::{self, Given};
use super::node::{Acts, Node, Status};
use super::table::Table;
use super::{Goal, Values};

/// The best plan found so far.
#[derive(Clone, Debug)]
pub(super) struct Best {
    pub(super) values: Values,
    pub(super) mends: Vec<usize>,
    pub(super) node: Node,
    /// The facts that it was judged with.
    pub(super) holds: Vec<bool>,
}

/// One set of mends: what is still lost, and what the mending costs.
#[derive(Debug)]
pub(super) struct Branch<'p> {
    pub(super) table: Table<'p>,
    pub(super) acts: Acts,
    pub(super) mends: Vec<usize>,
    pub(super) mended: Mended,
}

/// A search under one goal.
#[derive(Debug)]
pub(super) struct Search {
    pub(super) given: Given,
    pub(super) goal: Goal,
    /// Most seconds a plan may take.
    pub(super) cap: Option<i64>,
    pub(super) best: Option<Best>,
    pub(super) nodes: u64,
    /// Most nodes; the search is not finished when it ends here.
    pub(super) limit: u64,
}

impl Search {
    /// Searches every branch under the cap.
    ///
    /// Short plans come first: a search under a small cap is quick, and what it finds cuts off most of the
    /// search under the next one. The last search, under the real cap, decides alone.
    pub(super) fn run(&mut self, branches: &[Branch<'_>]) {
        let real = self.cap;
        for cap in [10, 20, 40, 80, 160] {
            if real.is_none_or(|real| cap < real) {
                self.cap = Some(cap);
                branches.iter().for_each(|branch| self.visit(branch, Node::root(&branch.acts)));
            }
        }
        self.cap = real;
        branches.iter().for_each(|branch| self.visit(branch, Node::root(&branch.acts)));
    }

    pub(super) fn finished(&self) -> bool {
        self.nodes < self.limit
    }

    fn visit(&mut self, branch: &Branch<'_>, mut node: Node) {
        let (table, acts, mended) = (&branch.table, &branch.acts, &branch.mended);
        // The loop follows "out" answers; "in" answers go one level deeper.
        while self.finished() {
            self.nodes += 1;
            let verdict = judge::judge(table, &self.given, acts, &node, mended);
            let in_time = self.cap.is_none_or(|cap| verdict.values.seconds <= cap);
            let whole = node.joined.is_empty();
            let valid = whole && verdict.wrong.is_none() && verdict.cost.short.is_empty() && in_time;
            if valid && self.beats(&verdict.values) {
                let mends = branch.mends.clone();
                let holds = self.given.holds.clone();
                self.best = Some(Best { values: verdict.values.clone(), mends, node: node.clone(), holds });
            }
            let best = self.best.as_ref().map(|best| &best.values);
            let hope = bound::hope(table, &self.given, acts, &node, mended, self.goal, best);
            let too_long = self.cap.is_some_and(|cap| hope.values.seconds > cap);
            if too_long || hope.short || !self.beats(&hope.values) {
                return;
            }
            let look = Look { table, given: &self.given, acts, node: &node, verdict: &verdict, hope: &hope };
            match look.next(self.goal) {
                Next::Decide(act) => {
                    let mut with = node.clone();
                    if with.take(table, acts, act) {
                        self.visit(branch, with);
                    }
                    node.status[act] = Status::Out;
                }
                Next::Join(pair) => {
                    let mut with = node.clone();
                    if with.join(table, acts, pair) {
                        self.visit(branch, with);
                    }
                    node.never_join(table, acts, pair);
                }
                Next::Dead | Next::Leaf => return,
            }
        }
    }

    fn beats(&self, values: &Values) -> bool {
        self.best.as_ref().is_none_or(|best| values.key(self.goal) < best.values.key(self.goal))
    }
}

/// Every set of mends that leaves a cost that can be paid, cheapest first.
pub(super) fn mendings(rig: &Rig, mends: &[crate::neutral::Mend]) -> Vec<(Vec<usize>, Mended)> {
    let mut sets: Vec<Vec<usize>> = vec![Vec::new()];
    for m in 0..mends.len() {
        let more: Vec<Vec<usize>> = sets.iter().map(|set| set.iter().copied().chain([m]).collect()).collect();
        sets.extend(more);
    }
    let mut found: Vec<(Vec<usize>, Mended)> =
        sets.into_iter().filter_map(|set| mended(rig, mends, &set).map(|cost| (set, cost))).collect();
    found.sort_by_key(|(set, cost)| (cost.secs, set.len()));
    found
}

/// What a set of mends costs; `None` when a consumable runs out.
fn mended(rig: &Rig, mends: &[crate::neutral::Mend], set: &[usize]) -> Option<Mended> {
    let mut cost = Mended::default();
    let mut used = vec![0; rig.wear.len()];
    for &m in set {
        let mend = &mends[m];
        cost.secs += mend.secs;
        cost.moves += 1;
        cost.touches.push(mend.at);
        if let Some(w) = mend.wear {
            used[w] += 1;
            let wear = &rig.wear[w];
            if used[w] > wear.owned {
                return None;
            }
            if used[w] > wear.owned - wear.case {
                cost.secs += rig.steps.item_case;
                cost.opens_case = true;
            } else {
                cost.secs += rig.steps.item_stage;
            }
        }
    }
    Some(cost)
}
