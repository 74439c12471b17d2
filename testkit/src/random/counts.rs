//! Holds the generator to account: which rules decide, and how many covers take more than one move.

use crate::neutral::Problem;
use crate::oracle::{Goal, Rule, Rules, answer};

use super::problem;

/// How often each rule decides among a number of random problems.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Counts {
    /// Problems looked at.
    pub problems: u64,
    /// Problems whose best *now* cover takes two moves or more.
    pub two_moves: u64,
    /// By rule: problems whose best *now* values change with the rule off.
    pub decides: Vec<(Rule, u64)>,
    /// Problems that could not be settled within the limit of nodes.
    pub unsettled: u64,
}

/// Solves `count` problems from seed `from` on, with every rule and with each of `rules` off.
///
/// # Errors
/// When a drawn problem does not read back, which is a fault of the generator; says which seed.
pub fn count(from: u64, count: u64, rules: &[Rule], limit: u64) -> Result<Counts, String> {
    let mut counts = Counts {
        problems: 0,
        two_moves: 0,
        decides: rules.iter().map(|&rule| (rule, 0)).collect(),
        unsettled: 0,
    };
    for seed in from..from.saturating_add(count) {
        let problem = Problem::from_value(&problem(seed)).map_err(|error| format!("seed {seed}: {error}"))?;
        counts.problems += 1;
        let Some(best) = answer(&problem, Goal::Now, Rules::ALL, limit) else {
            counts.unsettled += 1;
            continue;
        };
        counts.two_moves += u64::from(best.values.moves >= 2);
        for (rule, decides) in &mut counts.decides {
            // A search without the rule that does not end in time is not counted for the rule.
            let without = answer(&problem, Goal::Now, Rules::ALL.without(*rule), limit);
            *decides += u64::from(without.is_some_and(|without| without.values != best.values));
        }
    }
    Ok(counts)
}
