//! The cover of a fault: the plan that the order of docs/cover.md, section 9, puts first.

use check::fault::Fault;
use check::ids::FactId;
use check::order::{Goal, Key, SLACK, Values};
use check::plan::{Act, Plan};
use check::rules::Rule;
use check::{Judge, Problem};

use crate::search::{Found, Proved, Search, Task, acts};

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
    /// What nobody has checked and this plan needs to be so.
    pub relies: Vec<FactId>,
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
            let relies = needed(problem, fault, &found.plan);
            done(goal, &found, bound_of_must(&found.bound, &found.values), relies)
        }
        Goal::Full | Goal::Break => {
            let cap = (goal == Goal::Break).then_some(problem.spec.break_limit);
            let found = search(problem, fault, goal, cap, None, None, limit);
            let relies = needed(problem, fault, &found.plan);
            done(goal, &found, as_seconds(&found), relies)
        }
    }
}

/// The facts that a plan needs: leaving out any one of these, it would carry less. Taken away one by one in the order of the file.
fn needed(problem: &Problem, fault: &Fault, plan: &Plan) -> Vec<FactId> {
    let spec = &problem.spec;
    let mut all: Vec<FactId> =
        (0..spec.facts.len()).map(FactId::at).filter(|f| !fault.doubted.contains(f)).collect();
    if !problem.rules.on(Rule::Facts) || all.is_empty() {
        return Vec::new();
    }
    let carried = |on: &[FactId]| {
        let fault = fault.relying(spec, on);
        Judge::new(problem, &fault).judge(plan).carried
    };
    let whole = carried(&all);
    for f in all.clone() {
        let without: Vec<FactId> = all.iter().copied().filter(|g| *g != f).collect();
        if carried(&without) == whole {
            all = without;
        }
    }
    all
}

/// Sets of facts that are tried at the most, the smallest first.
const SETS: usize = 200;

/// Every set of so many facts, in the order of the file.
fn sets(facts: usize, size: usize) -> Vec<Vec<FactId>> {
    let mut all: Vec<Vec<FactId>> = vec![Vec::new()];
    for _ in 0..size {
        let longer = all.iter().flat_map(|set| {
            let next = set.last().map_or(0, |f| f.ix() + 1);
            (next..facts).map(move |f| set.iter().copied().chain([FactId::at(f)]).collect())
        });
        all = longer.take(SETS + 1).collect();
    }
    all
}

/// First the musts, then what else comes within the slack.
fn now(problem: &Problem, fault: &Fault, limit: Limit) -> Cover {
    let musts = search(problem, fault, Goal::Must, None, None, None, limit);
    let slack = if problem.rules.on(Rule::Slack) { SLACK } else { 0 };
    let cap = Some(musts.values.seconds + slack);
    let ceiling = Some((musts.values.must, musts.values.harm));
    let facts = if problem.rules.on(Rule::Facts) { problem.spec.facts.len() } else { 0 };
    let mut nodes = musts.nodes;
    let mut worst = if musts.proved == Proved::No { Proved::No } else { Proved::Order };
    let mut tried = 0;
    // Fewest conditions first: with none, with one of them, with two, … until some set brings what is asked for.
    for size in 0..=facts {
        let mut best: Option<(Key, Vec<Act>, Found, Vec<FactId>)> = None;
        for set in sets(facts, size) {
            tried += 1;
            if tried > SETS {
                break;
            }
            let fault = if facts == 0 { fault.clone() } else { fault.relying(&problem.spec, &set) };
            let mut found = search(problem, &fault, Goal::Now, cap, ceiling, Some(&musts.plan), limit);
            found.values.conditions = i32::try_from(size).unwrap_or(i32::MAX);
            nodes += found.nodes;
            worst = worst.min(found.proved);
            if found.any {
                let (key, acts) = (Goal::Now.key(&found.values), acts(problem, &found.plan));
                if best.as_ref().is_none_or(|(k, a, ..)| (&key, &acts) < (k, a)) {
                    best = Some((key, acts, found, set));
                }
            }
        }
        if let Some((_, _, mut found, set)) = best {
            found.nodes = nodes;
            found.proved = worst;
            return done(Goal::Now, &found, bound_of_must(&musts.bound, &musts.values), set);
        }
        if tried > SETS {
            break;
        }
    }
    // Too many facts to try every set: the quickest way to the musts stands, with what it needs.
    let relies = needed(problem, fault, &musts.plan);
    let found = Found { proved: Proved::No, nodes, ..musts.clone() };
    done(Goal::Now, &found, bound_of_must(&musts.bound, &musts.values), relies)
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

fn done(goal: Goal, found: &Found, bound: Bound, relies: Vec<FactId>) -> Cover {
    Cover {
        goal,
        plan: found.plan.clone(),
        values: found.values,
        proved: found.proved,
        bound,
        nodes: found.nodes,
        relies,
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
