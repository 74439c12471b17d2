//! The search beside the second way, on the same written problems, in the same run.
//!
//! Both start at the problem as JSON and end with values that they have proved in every place of the goal's order.

use check::order::Goal;
use engine::{Limit, Proved};
use serde_json::Value;
use testkit::oracle::{self, Rules};
use testkit::{agree, neutral};

use crate::{Said, folder};

/// Far more than any of these needs.
const WHOLE: Limit = Limit { nodes: 200_000, polish: 200_000 };

/// Some of the written problems.
#[derive(Debug)]
pub struct Set {
    /// `tiny`, `rule`, `duo`.
    pub name: &'static str,
    problems: Vec<(String, Value)>,
    goals: (Goal, oracle::Goal),
}

/// The sets.
#[derive(Debug)]
pub struct Peers {
    /// All.
    pub sets: Vec<Set>,
}

impl Said for Peers {
    fn said(&self) -> String {
        let sets: Vec<String> =
            self.sets.iter().map(|s| format!("{} {}", s.problems.len(), s.name)).collect();
        format!("both ways find the written values and each other's: {}.", sets.join(", "))
    }
}

impl Set {
    /// The search's values.
    ///
    /// # Errors
    /// When a problem cannot be read, or is not proved.
    pub fn search(&self) -> Result<Vec<Vec<i64>>, String> {
        let one = |(name, json): &(String, Value)| {
            let cover = agree::cover(json, self.goals.0, WHOLE)?;
            let needed = if self.goals.0 == Goal::Must { Proved::Seconds } else { Proved::Order };
            if cover.proved < needed {
                return Err(format!("{name} is not proved"));
            }
            Ok(self.goals.0.key(&cover.values).map(i64::from).to_vec())
        };
        self.problems.iter().map(one).collect()
    }

    /// The second way's values.
    ///
    /// # Errors
    /// When a problem cannot be read, or has no end.
    pub fn second(&self) -> Result<Vec<Vec<i64>>, String> {
        let one = |(name, json): &(String, Value)| {
            let problem = neutral::Problem::from_value(json)?;
            oracle::answer(&problem, self.goals.1, Rules::ALL, 1_000_000)
                .map(|answer| answer.values.key(self.goals.1).to_vec())
                .ok_or_else(|| format!("{name}: the second way does not end"))
        };
        self.problems.iter().map(one).collect()
    }

    /// The values that the files hold.
    fn written(&self) -> Result<Vec<Vec<i64>>, String> {
        let one = |(name, json): &(String, Value)| {
            let expected = &json["expected"][self.goals.1.word()];
            let value = |place| {
                expected
                    .get(place)
                    .map_or(Some(0), serde_json::Value::as_i64)
                    .and_then(|v| i32::try_from(v).ok())
            };
            let read = || {
                let values = check::order::Values {
                    must: value("must")?,
                    harm: value("harm")?,
                    conditions: 0,
                    should: value("should")?,
                    nice: value("nice")?,
                    seconds: value("seconds")?,
                    diff: value("diff")?,
                    moves: value("moves")?,
                };
                Some(self.goals.0.key(&values).map(i64::from).to_vec())
            };
            read().ok_or_else(|| format!("{name} has no written values"))
        };
        self.problems.iter().map(one).collect()
    }
}

/// The sets, once both ways find what is written.
///
/// # Errors
/// When one does not.
pub fn compared() -> Result<Peers, String> {
    let now = (Goal::Now, oracle::Goal::Now);
    let must = (Goal::Must, oracle::Goal::Must);
    let sets = vec![set("tiny", now)?, set("rule", now)?, set("duo", must)?];
    for set in &sets {
        let (search, second, written) = (set.search()?, set.second()?, set.written()?);
        for (i, (name, _)) in set.problems.iter().enumerate() {
            let (a, b, c) = (search.get(i), second.get(i), written.get(i));
            if a != c || b != c {
                return Err(format!("{name}: the search {a:?}, the second way {b:?}, written {c:?}"));
            }
        }
    }
    Ok(Peers { sets })
}

fn set(name: &'static str, goals: (Goal, oracle::Goal)) -> Result<Set, String> {
    let covers = folder("testkit/data/covers");
    let entries = std::fs::read_dir(&covers).map_err(|e| format!("{}: {e}", covers.display()))?;
    let mut names: Vec<String> =
        entries.filter_map(Result::ok).map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.retain(|n| n.starts_with(&format!("{name}-")) && n.ends_with(".json"));
    names.sort();
    if names.is_empty() {
        return Err(format!("no {name}-*.json in {}", covers.display()));
    }
    let problems = names.into_iter().map(|n| Ok((n.clone(), crate::json(&covers.join(n))?)));
    Ok(Set { name, problems: problems.collect::<Result<_, String>>()?, goals })
}
