//! The cover of a fault: the plan that the order of docs/cover.md, section 9, puts first.

use check::Problem;
use check::fault::Fault;
use check::order::{Goal, Key, SLACK, Values};
use check::plan::Plan;
use check::rules::Rule;

use crate::search::{Found, Proved, Search, Task};

/// How long to look: counted in nodes looked at, never in seconds, so that every machine gives the same answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit {
    /// Nodes until the seconds are settled, for each of the two halves of a *now* cover.
    pub nodes: u64,
    /// Nodes more for what the order asks after the seconds.
    pub polish: u64,
}

impl Default for Limit {
    fn default() -> Self {
        Limit { nodes: 200_000, polish: 2_000 }
    }
}

/// The best plan found for a fault, and how far it is proved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cover {
    /// What was asked for.
    pub goal: Goal,
    /// The plan. Doing nothing is one.
    pub plan: Plan,
    /// Its worth.
    pub values: Values,
    /// How far it is proved.
    pub proved: Proved,
    /// No plan is better than this in the goal's order.
    pub bound: Bound,
    /// Nodes looked at.
    pub nodes: u64,
}

/// The least that any plan could be worth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Bound {
    /// Minus the weight of the musts.
    pub must: i32,
    /// Pairs silenced.
    pub harm: i32,
    /// Seconds for those.
    pub seconds: i32,
}

/// Searches the cover of a fault.
pub fn cover(problem: &Problem, fault: &Fault, goal: Goal, limit: Limit) -> Cover {
    match goal {
        Goal::Now => now(problem, fault, limit),
        Goal::Must => {
            let found = search(problem, fault, Goal::Must, None, None, None, limit);
            done(goal, &found, bound_of_must(&found.bound, &found.values))
        }
        Goal::Full => {
            let found = search(problem, fault, goal, None, None, None, limit);
            done(goal, &found, as_seconds(&found))
        }
        Goal::Break => {
            let cap = Some(problem.spec.break_limit);
            let found = search(problem, fault, goal, cap, None, None, limit);
            done(goal, &found, as_seconds(&found))
        }
    }
}

/// First the musts, then what else comes within the slack.
fn now(problem: &Problem, fault: &Fault, limit: Limit) -> Cover {
    let musts = search(problem, fault, Goal::Must, None, None, None, limit);
    let slack = if problem.rules.on(Rule::Slack) { SLACK } else { 0 };
    let cap = Some(musts.values.seconds + slack);
    let ceiling = Some((musts.values.must, musts.values.harm));
    let mut found = search(problem, fault, Goal::Now, cap, ceiling, Some(&musts.plan), limit);
    found.nodes += musts.nodes;
    if musts.proved == Proved::No {
        found.proved = Proved::No;
    }
    done(Goal::Now, &found, bound_of_must(&musts.bound, &musts.values))
}

fn search(
    problem: &Problem,
    fault: &Fault,
    goal: Goal,
    cap: Option<i32>,
    ceiling: Option<(i32, i32)>,
    first: Option<&Plan>,
    limit: Limit,
) -> Found {
    let polish = if goal == Goal::Must { 0 } else { limit.polish };
    let task = Task { goal, cap, ceiling, limit: limit.nodes, polish };
    Search::new(problem, fault, task).run(first)
}

fn done(goal: Goal, found: &Found, bound: Bound) -> Cover {
    Cover {
        goal,
        plan: found.plan.clone(),
        values: found.values,
        proved: found.proved,
        bound,
        nodes: found.nodes,
    }
}

fn bound_of_must(bound: &Key, values: &Values) -> Bound {
    if bound[0] == i32::MIN {
        return Bound { must: i32::MIN, harm: 0, seconds: 0 };
    }
    let whole = Goal::Must.key(values);
    let least = bound.min(&whole);
    Bound { must: least[0], harm: least[1], seconds: least[2] }
}

fn as_seconds(found: &Found) -> Bound {
    let v = found.values;
    match found.proved {
        Proved::No => Bound { must: found.bound[0], harm: 0, seconds: 0 },
        Proved::Seconds | Proved::Order => Bound { must: v.must, harm: v.harm, seconds: v.seconds },
    }
}
