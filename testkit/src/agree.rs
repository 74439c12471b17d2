//! The product's answers beside the second way's, on the same problem.

use check::Problem;
use check::order::{Goal, Values};
use engine::{Cover, Limit, Proved};
use serde_json::Value;

use crate::{neutral, oracle, read};

/// The goals, in both tongues.
pub const GOALS: [(Goal, oracle::Goal); 4] = [
    (Goal::Must, oracle::Goal::Must),
    (Goal::Now, oracle::Goal::Now),
    (Goal::Full, oracle::Goal::Full),
    (Goal::Break, oracle::Goal::Break),
];

/// A problem on which the two ways differ.
#[derive(Clone, Debug)]
pub struct Differ {
    /// The goal.
    pub goal: Goal,
    /// The product's cover.
    pub product: Cover,
    /// The second way's best values and one plan that has them.
    pub second: oracle::Answer,
}

/// The product's cover of a problem in the neutral form.
///
/// # Errors
/// Where the file cannot be read.
pub fn cover(json: &Value, goal: Goal, limit: Limit) -> Result<Cover, String> {
    let case = read::case(json).map_err(|e| e.to_string())?;
    let problem = Problem::new(case.neutral.spec).map_err(|e| e.to_string())?;
    Ok(engine::cover(&problem, &case.fault, goal, limit))
}

/// Compares the values of one problem for one goal. `None` when they agree; a cover that is not proved to the whole order
/// never agrees, since the second way's always is.
///
/// # Errors
/// Where the file cannot be read, or the second way does not end within `nodes`.
pub fn differ(json: &Value, goals: (Goal, oracle::Goal), nodes: u64) -> Result<Option<Differ>, String> {
    let limit = Limit { nodes: 200_000, polish: 200_000 };
    let product = cover(json, goals.0, limit)?;
    let problem = neutral::Problem::from_value(json)?;
    let second = oracle::answer(&problem, goals.1, oracle::Rules::ALL, nodes)
        .ok_or("the second way did not end within its nodes")?;
    let proved = match goals.0 {
        Goal::Must => product.proved >= Proved::Seconds,
        Goal::Now | Goal::Full | Goal::Break => product.proved == Proved::Order,
    };
    let same = goals.0.key(&product.values).map(i64::from) == second.values.key(goals.1);
    Ok((!same || !proved).then_some(Differ { goal: goals.0, product, second }))
}

/// Values in the words of the neutral form.
pub fn named(values: &Values) -> [(&'static str, i32); 8] {
    let v = values;
    [
        ("must", v.must),
        ("harm", v.harm),
        ("conditions", v.conditions),
        ("should", v.should),
        ("nice", v.nice),
        ("seconds", v.seconds),
        ("diff", v.diff),
        ("moves", v.moves),
    ]
}
