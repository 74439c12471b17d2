//! The search without any cleverness: every plan up to some seconds, in the order of the list.
//!
//! It shares the judge with the real search but neither its bounds nor its choices, so a bound that cuts off too
//! much shows up here.

use super::cost::{self, Mended};
use super::judge::{self, Given};
use super::node::{Act, Acts, Node, Status};
use super::search::Branch;
use super::{Goal, Values};

/// The best values, by `goal`, among all valid plans that take at most `cap` seconds.
pub(super) fn best(branches: &[Branch<'_>], given: &Given, goal: Goal, cap: i64) -> Option<Values> {
    let mut best: Option<Values> = None;
    for branch in branches {
        let mut node = Node::root(&branch.acts);
        node.status.fill(Status::Out);
        every(branch, given, goal, cap, 0, &node, &mut best);
    }
    best
}

/// All plans that add to `node` only acts from `from` on. Everything not taken is out.
fn every(
    branch: &Branch<'_>,
    given: &Given,
    goal: Goal,
    cap: i64,
    from: usize,
    node: &Node,
    best: &mut Option<Values>,
) {
    let (table, acts, mended): (_, &Acts, &Mended) = (&branch.table, &branch.acts, &branch.mended);
    // Nothing but fetching ever gets cheaper when an act is added.
    let mut open = node.clone();
    for status in &mut open.status {
        if *status == Status::Out {
            *status = Status::Open;
        }
    }
    if cost::cost(table, acts, &open, mended, true).seconds > cap {
        return;
    }
    let verdict = judge::judge(table, given, acts, node, mended);
    let valid = verdict.wrong.is_none() && verdict.cost.short.is_empty() && verdict.values.seconds <= cap;
    if valid && best.as_ref().is_none_or(|b| verdict.values.key(goal) < b.key(goal)) {
        *best = Some(verdict.values.clone());
    }
    for act in from..acts.list.len() {
        if node.status[act] == Status::In {
            continue;
        }
        let mut with = node.clone();
        // Nothing is ruled out here, so that what a link needs pulled may be pulled.
        for status in &mut with.status {
            if *status == Status::Out {
                *status = Status::Open;
            }
        }
        if let Act::Place { gear, .. } = acts.list[act]
            && acts.placing(gear).iter().any(|&i| with.status[i] == Status::In)
        {
            continue;
        }
        if let Act::Pull { link, end } = acts.list[act] {
            let kept = node.new.iter().any(|&i| table.new[i].kept == Some((link, end)));
            if kept {
                continue;
            }
        }
        if with.take(table, acts, act) {
            for status in &mut with.status {
                if *status == Status::Open {
                    *status = Status::Out;
                }
            }
            every(branch, given, goal, cap, act + 1, &with, best);
        }
    }
}
