//! The second way: exact best values of a cover problem, straight from the definition.
//!
//! Reads only the neutral form and shares nothing with the product: link check, judge, stock, power and search are
//! all its own. It is written to be believed rather than to be fast: every act a plan may hold is decided *in* or
//! *out*, both answers are tried, and a branch is left only when a bound that is safe on its face says that
//! nothing better can follow. Small rigs take milliseconds, large ones do not end.
//!
//! Reading order: `rules` → `links` (which chains join two sockets) → `table` (all new links) → `options` (what a
//! patch is or may become) → `memory`, `power`, `carry`, `safety` (what lives, sounds, leaks) → `node`, `cost` (plans) →
//! `judge` → `bound` → `choose` → `search`.

mod bound;
mod carry;
mod choose;
mod cost;
mod judge;
mod links;
mod memory;
mod node;
mod options;
#[cfg(test)]
mod plain;
mod power;
mod rules;
mod safety;
mod search;
mod table;

use crate::neutral::{Loss, Mend, Problem, Rig};

pub use rules::{Rule, Rules};

use judge::Given;
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
    /// Facts relied on; counted in the second half of *now*, else 0.
    pub conditions: i64,
    pub should: i64,
    pub nice: i64,
    pub seconds: i64,
    pub diff: i64,
    pub moves: i64,
}

impl Values {
    /// The values in the order in which a goal compares them.
    pub fn key(&self, goal: Goal) -> [i64; 8] {
        let Values { must, harm, conditions, should, nice, seconds, diff, moves } = *self;
        match goal {
            Goal::Must => [must, harm, seconds, 0, 0, 0, 0, 0],
            Goal::Now => [must, harm, conditions, should, nice, seconds, diff, moves],
            Goal::Full => [must, should, harm, nice, seconds, diff, moves, 0],
            Goal::Break => [must, should, nice, diff, seconds, moves, 0, 0],
        }
    }

    /// Names and values in the order in which a goal compares them.
    pub fn named(&self, goal: Goal) -> Vec<(&'static str, i64)> {
        let names: &[&'static str] = match goal {
            Goal::Must => &["must", "harm", "seconds"],
            Goal::Now => &["must", "harm", "conditions", "should", "nice", "seconds", "diff", "moves"],
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
    /// `G.R` for routes, `G.B` for banks, `G.M` for mutes.
    pub knob: Vec<String>,
    /// Gear switched on.
    pub start: Vec<String>,
    /// Mends made.
    pub mend: Vec<String>,
    /// Unchecked facts that it relies on.
    pub relies: Vec<String>,
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
    let nothing =
        Values { must: 0, harm: 0, conditions: 0, should: 0, nice: 0, seconds: 0, diff: 0, moves: 0 };
    answer(problem, goal, rules, u64::MAX).map_or(nothing, |answer| answer.values)
}

/// As [`solve`], with a plan; `None` when there is no valid plan or after more than `limit` nodes.
pub fn answer(problem: &Problem, goal: Goal, rules: Rules, limit: u64) -> Option<Answer> {
    let rig = &problem.rig;
    let given = Given::of(rig, rules, &problem.lost);
    let branches = branches(problem, rules);
    let mut search = Search { given, goal, cap: None, best: None, nodes: 0, limit };
    match goal {
        Goal::Must | Goal::Full => search.run(&branches),
        Goal::Break => {
            search.cap = Some(rig.break_limit);
            search.run(&branches);
        }
        Goal::Now => {
            // First the fewest seconds for the best must and harm, then everything within the slack.
            search.goal = Goal::Must;
            search.run(&branches);
            let slack = if rules.has(Rule::Slack) { 15 } else { 0 };
            search.goal = Goal::Now;
            search.cap = search.best.as_ref().map(|best| best.values.seconds + slack);
            let sets = relied(rig, rules);
            // The first half may rely on anything: as a plan of the second it relies on all.
            let all = sets.last().map_or(0, |(_, conditions)| *conditions);
            if let Some(best) = &mut search.best {
                best.values.conditions = all;
            }
            for (holds, conditions) in sets {
                (search.given.holds, search.given.conditions) = (holds, conditions);
                search.run(&branches);
            }
        }
    }
    if !search.finished() {
        return None;
    }
    let best = search.best.as_ref()?;
    let branch = branches.iter().find(|branch| branch.mends == best.mends)?;
    let mut plan = plan(problem, branch, best);
    let named = if goal == Goal::Now { best.holds.clone() } else { needed(&search.given, branch, best) };
    if rules.has(Rule::Facts) {
        plan.relies = rig.facts.iter().zip(named).filter(|(_, n)| *n).map(|(fact, _)| fact.clone()).collect();
    }
    Some(Answer { values: best.values.clone(), plan, nodes: search.nodes })
}

/// Every set of facts that a plan of the second half of *now* may rely on, and how many conditions that is; fewest first.
fn relied(rig: &Rig, rules: Rules) -> Vec<(Vec<bool>, i64)> {
    if !rules.has(Rule::Facts) {
        return vec![(vec![true; rig.facts.len()], 0)];
    }
    let mut sets: Vec<(Vec<bool>, i64)> = vec![(Vec::new(), 0)];
    for _ in &rig.facts {
        let longer = |(set, count): &(Vec<bool>, i64)| {
            [false, true].map(|fact| ([set.as_slice(), &[fact]].concat(), count + i64::from(fact)))
        };
        sets = sets.iter().flat_map(longer).collect();
    }
    sets.sort_by_key(|(_, count)| *count);
    sets
}

/// Of the facts that a plan may rely on, some without any of which it would carry fewer parts.
fn needed(given: &Given, branch: &Branch<'_>, best: &Best) -> Vec<bool> {
    let carries = |holds: &[bool]| {
        let given = Given { holds: holds.to_vec(), ..given.clone() };
        let verdict = judge::judge(&branch.table, &given, &branch.acts, &best.node, &branch.mended);
        verdict.hearing.ways.iter().map(Vec::is_empty).collect::<Vec<bool>>()
    };
    let mut holds = best.holds.clone();
    let all = carries(&holds);
    for fact in 0..holds.len() {
        holds[fact] = false;
        holds[fact] = carries(&holds) != all;
    }
    holds
}

/// One branch of the search for each set of mends.
fn branches(problem: &Problem, rules: Rules) -> Vec<Branch<'_>> {
    let mends: &[Mend] = if rules.has(Rule::Mend) { &problem.mends } else { &[] };
    let one = |(set, mended): (Vec<usize>, cost::Mended)| {
        let table = Table::new(&problem.rig, rules, &left(problem, &set), &problem.lost);
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
            Act::Mute(m) => plan.knob.push(format!("{}.{}", rig.gear[rig.mutes[m].gear].id, rig.mutes[m].id)),
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
            let given = Given::of(&problem.rig, Rules::ALL, &problem.lost);
            let branches = branches(&problem, Rules::ALL);
            for goal in [Goal::Must, Goal::Full, Goal::Break] {
                let given = given.clone();
                let mut search = Search { given, goal, cap: Some(20), best: None, nodes: 0, limit: u64::MAX };
                search.run(&branches);
                let found = search.best.map(|best| best.values.key(goal));
                let plain = plain::best(&branches, &search.given, goal, 20).map(|values| values.key(goal));
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
            let mut given = Given::of(&problem.rig, Rules::ALL, &problem.lost);
            let branches = branches(&problem, Rules::ALL);
            let plain = relied(&problem.rig, Rules::ALL).into_iter().filter_map(|(holds, conditions)| {
                (given.holds, given.conditions) = (holds, conditions);
                plain::best(&branches, &given, Goal::Now, fewest + 15)
            });
            let plain = plain.min_by_key(|values| values.key(Goal::Now));
            assert_eq!(Some(solve(&problem, Goal::Now, Rules::ALL)), plain, "seed {seed}");
            compared += 1;
        }
        assert!(compared > 30, "only {compared} with a quick cover");
    }
}
