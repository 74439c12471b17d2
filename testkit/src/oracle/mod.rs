//! The second way: exact best values of a cover problem, straight from the definition.
//!
//! Reads only the neutral form and shares nothing with the product: link check, judge, stock, power and search are
//! all its own. It is written to be believed rather than to be fast: every act a plan may hold is decided *in* or
//! *out*, both answers are tried, and a branch is left only when a bound that is safe on its face says that
//! nothing better can follow. Small rigs take milliseconds, large ones do not end.
//!
//! Reading order: `rules` → `links` (which chains join two sockets) → `table` (all new links) → `options` (what a
//! patch is or may become) → `power`, `carry`, `safety` (what lives, sounds, leaks) → `node`, `cost` (plans) →
//! `judge` → `bound` → `choose` → `search`.

mod bound;
mod carry;
mod choose;
mod cost;
mod judge;
mod links;
mod node;
mod options;
#[cfg(test)]
mod plain;
mod power;
mod rules;
mod safety;
mod search;
mod table;

use crate::neutral::{Loss, Mend, Problem};

pub use rules::{Rule, Rules};

use judge::Facts;
use node::{Act, Acts, Node, Status};
use search::{Best, Branch, Search};
use table::Table;

/// Which order the plans are put in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Must, harm, seconds: the first half of *now*.
    Must,
    /// At once.
    Now,
    /// At the next pause in the set.
    Full,
    /// In the break.
    Break,
}

impl Goal {
    /// The word used in files and commands.
    pub fn word(self) -> &'static str {
        match self {
            Goal::Must => "must",
            Goal::Now => "now",
            Goal::Full => "full",
            Goal::Break => "break",
        }
    }
}

/// The values of a plan; less is better, so carried weights are negative.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the criteria of the definition, section 9")]
pub struct Values {
    pub must: i64,
    pub harm: i64,
    pub should: i64,
    pub nice: i64,
    pub seconds: i64,
    pub diff: i64,
    pub moves: i64,
}

impl Values {
    /// The values in the order in which a goal compares them.
    pub fn key(&self, goal: Goal) -> [i64; 7] {
        let Values { must, harm, should, nice, seconds, diff, moves } = *self;
        match goal {
            Goal::Must => [must, harm, seconds, 0, 0, 0, 0],
            Goal::Now => [must, harm, should, nice, seconds, diff, moves],
            Goal::Full => [must, should, harm, nice, seconds, diff, moves],
            Goal::Break => [must, should, nice, diff, seconds, moves, 0],
        }
    }

    /// Names and values in the order in which a goal compares them.
    pub fn named(&self, goal: Goal) -> Vec<(&'static str, i64)> {
        let names: &[&'static str] = match goal {
            Goal::Must => &["must", "harm", "seconds"],
            Goal::Now => &["must", "harm", "should", "nice", "seconds", "diff", "moves"],
            Goal::Full => &["must", "should", "harm", "nice", "seconds", "diff", "moves"],
            Goal::Break => &["must", "should", "nice", "diff", "seconds", "moves"],
        };
        names.iter().copied().zip(self.key(goal)).collect()
    }
}

/// One best plan, in words of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// Pulled ends: link of the patch, and `a` (its out-socket) or `b`.
    pub pull: Vec<(usize, char)>,
    /// New links: from, to, lead ids, and the end at which an old plug stays in.
    pub new: Vec<(String, String, Vec<String>, Option<char>)>,
    /// Gear and its new placement.
    pub place: Vec<(String, String)>,
    /// `G.R` for routes, `G.B` for banks.
    pub knob: Vec<String>,
    /// Gear switched on.
    pub start: Vec<String>,
    /// Mends made.
    pub mend: Vec<String>,
}

/// What the search found.
#[derive(Clone, Debug)]
pub struct Answer {
    /// The best values.
    pub values: Values,
    /// A plan that has them.
    pub plan: Plan,
    /// Nodes visited.
    pub nodes: u64,
}

/// The best values of a problem. Takes as long as it takes.
///
/// Should the normal patch itself be invalid, and no plan valid, the values are those of doing nothing.
pub fn solve(problem: &Problem, goal: Goal, rules: Rules) -> Values {
    let nothing = Values { must: 0, harm: 0, should: 0, nice: 0, seconds: 0, diff: 0, moves: 0 };
    answer(problem, goal, rules, u64::MAX).map_or(nothing, |answer| answer.values)
}

/// As [`solve`], with a plan; `None` when there is no valid plan or after more than `limit` nodes.
pub fn answer(problem: &Problem, goal: Goal, rules: Rules, limit: u64) -> Option<Answer> {
    let rig = &problem.rig;
    let facts = Facts::of(rig, rules, &problem.lost);
    let branches = branches(problem, rules);
    let mut search = Search { facts: &facts, goal, cap: None, best: None, nodes: 0, limit };
    match goal {
        Goal::Must | Goal::Full => {}
        Goal::Break => search.cap = Some(rig.break_limit),
        Goal::Now => {
            // First the fewest seconds for the best must and harm, then everything within the slack.
            search.goal = Goal::Must;
            search.run(&branches);
            let slack = if rules.has(Rule::Slack) { 15 } else { 0 };
            search.goal = Goal::Now;
            search.cap = search.best.as_ref().map(|best| best.values.seconds + slack);
        }
    }
    search.run(&branches);
    if !search.finished() {
        return None;
    }
    let best = search.best.as_ref()?;
    let branch = branches.iter().find(|branch| branch.mends == best.mends)?;
    Some(Answer { values: best.values.clone(), plan: plan(problem, branch, best), nodes: search.nodes })
}

/// One branch of the search for each set of mends.
fn branches(problem: &Problem, rules: Rules) -> Vec<Branch<'_>> {
    let mends: &[Mend] = if rules.has(Rule::Mend) { &problem.mends } else { &[] };
    let one = |(set, mended): (Vec<usize>, cost::Mended)| {
        let table = Table::new(&problem.rig, rules, &left(problem, &set));
        Branch { acts: Acts::of(&table), table, mends: set, mended }
    };
    search::mendings(&problem.rig, mends).into_iter().map(one).collect()
}

/// The losses that these mends leave; a mend takes away one occurrence.
fn left(problem: &Problem, mends: &[usize]) -> Vec<Loss> {
    let mut left = problem.lost.clone();
    for &m in mends {
        if let Some(at) = left.iter().position(|&loss| loss == problem.mends[m].gives) {
            left.remove(at);
        }
    }
    left
}

fn plan(problem: &Problem, branch: &Branch<'_>, best: &Best) -> Plan {
    let rig = &problem.rig;
    let node: &Node = &best.node;
    let mut plan =
        Plan { mend: best.mends.iter().map(|&m| problem.mends[m].id.clone()).collect(), ..Plan::default() };
    let socket = |s: usize| format!("{}.{}", rig.gear[rig.sockets[s].gear].id, rig.sockets[s].id);
    let end = |end: usize| if end == 0 { 'a' } else { 'b' };
    let taken = branch.acts.list.iter().enumerate().filter(|&(i, _)| node.status[i] == Status::In);
    for (_, act) in taken {
        match *act {
            Act::New(i) => {
                let new = &branch.table.new[i];
                let via = new.chain.iter().map(|&t| rig.leads[t].id.clone()).collect();
                let kept = new.kept.map(|(_, e)| end(e));
                plan.new.push((socket(new.wire.from), socket(new.wire.to), via, kept));
            }
            Act::Pull { link, end: e } => plan.pull.push((link, end(e))),
            Act::Place { gear, place } => {
                plan.place.push((rig.gear[gear].id.clone(), rig.gear[gear].places[place].id.clone()));
            }
            Act::Knob(r) => {
                plan.knob.push(format!("{}.{}", rig.gear[rig.routes[r].gear].id, rig.routes[r].id))
            }
            Act::Bank(b) => plan.knob.push(format!("{}.{}", rig.gear[rig.banks[b].gear].id, rig.banks[b].id)),
            Act::Start(gear) => plan.start.push(rig.gear[gear].id.clone()),
        }
    }
    plan
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every plan of at most 20 s, one by one, is no better than what the search found.
    #[test]
    fn the_search_finds_what_trying_every_short_plan_finds() {
        let mut compared = 0;
        for seed in 0..150 {
            let problem = Problem::from_value(&crate::random::problem(seed)).unwrap();
            let facts = Facts::of(&problem.rig, Rules::ALL, &problem.lost);
            let branches = branches(&problem, Rules::ALL);
            for goal in [Goal::Must, Goal::Full, Goal::Break] {
                let mut search =
                    Search { facts: &facts, goal, cap: Some(20), best: None, nodes: 0, limit: u64::MAX };
                search.run(&branches);
                let found = search.best.map(|best| best.values.key(goal));
                let plain = plain::best(&branches, &facts, goal, 20).map(|values| values.key(goal));
                assert_eq!(found, plain, "seed {seed}, {goal:?}");
                compared += 1;
            }
        }
        assert!(compared > 100);
    }

    /// The slack of *now*: what trying every plan within 15 s of the fewest seconds finds.
    #[test]
    fn the_slack_holds_what_trying_every_plan_finds() {
        let mut compared = 0;
        for seed in 0..150 {
            let problem = Problem::from_value(&crate::random::problem(seed)).unwrap();
            let fewest = solve(&problem, Goal::Must, Rules::ALL).seconds;
            // Beyond that there are too many plans to try them all.
            if fewest > 9 {
                continue;
            }
            let facts = Facts::of(&problem.rig, Rules::ALL, &problem.lost);
            let branches = branches(&problem, Rules::ALL);
            let plain = plain::best(&branches, &facts, Goal::Now, fewest + 15);
            assert_eq!(Some(solve(&problem, Goal::Now, Rules::ALL)), plain, "seed {seed}");
            compared += 1;
        }
        assert!(compared > 30, "only {compared} with a quick cover");
    }
}
