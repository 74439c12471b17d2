//! Every single fault of the small duo, *now*, to the seconds.

use std::collections::BTreeMap;

use check::Problem;
use check::fault::Fault;
use check::order::{Goal, Values};
use engine::{Cover, Limit, Proved};
use serde_json::{Value, json};
use testkit::neutral;
use testkit::oracle::{self, Rules};

use crate::{Said, folder};

/// To the seconds and no further.
pub const TO_THE_SECONDS: Limit = Limit { nodes: 200_000, polish: 0 };

/// The places of the order that are decided with the seconds, by name.
const PLACES: [&str; 6] = ["must", "harm", "conditions", "should", "nice", "seconds"];

/// The rig and its faults.
#[derive(Debug)]
pub struct Small {
    /// The rig, ready for the search.
    pub problem: Problem,
    /// Every single fault, with its entries.
    pub faults: Vec<(Vec<String>, Fault)>,
    /// How many of the values it was held against the second way had found.
    second: usize,
}

impl Said for Small {
    fn said(&self) -> String {
        format!(
            "{} covers of the small duo, proved to the seconds, have the written values ({} found by the second way).",
            self.faults.len(),
            self.second
        )
    }
}

impl Small {
    /// All covers, one after the other.
    pub fn covers(&self) -> Vec<Cover> {
        self.faults.iter().map(|(_, fault)| self.cover(fault)).collect()
    }

    /// The fault of these entries.
    pub fn fault(&self, entry: &str) -> Option<&Fault> {
        self.faults.iter().find(|(lost, _)| *lost == [entry]).map(|(_, fault)| fault)
    }

    /// One cover.
    pub fn cover(&self, fault: &Fault) -> Cover {
        engine::cover(&self.problem, fault, Goal::Now, TO_THE_SECONDS)
    }
}

/// The rig, once all its covers are as written in `benches/data/small-duo.json`.
///
/// # Errors
/// When one is not, or is not proved, or a fault stands in one list only.
pub fn compared() -> Result<Small, String> {
    let mut small = ready()?;
    let written = written()?;
    let mut left: BTreeMap<&Vec<String>, &Written> = written.iter().map(|w| (&w.lost, w)).collect();
    for ((lost, _), cover) in small.faults.iter().zip(small.covers()) {
        let want = left.remove(lost).ok_or_else(|| format!("{lost:?} has no written values"))?;
        let found = places(&cover.values);
        if found != want.values {
            return Err(format!("{lost:?}: {PLACES:?} are {found:?}, written {:?}", want.values));
        }
        if cover.proved < Proved::Seconds {
            return Err(format!("{lost:?} is not proved"));
        }
    }
    if let Some(lost) = left.keys().next() {
        return Err(format!("{lost:?} is written and no fault of the rig"));
    }
    small.second = written.iter().filter(|w| w.second).count();
    Ok(small)
}

/// The values of every fault, as `benches/data/small-duo.json` holds them: the second way's where it ends within `nodes`, the search's own
/// otherwise, proved in every place of the order. Each says which.
///
/// # Errors
/// When both end and differ, or neither does.
pub fn values(nodes: u64) -> Result<Value, String> {
    let rig = rig()?;
    let small = ready()?;
    let rows = small.faults.iter().map(|(lost, fault)| {
        let whole = Limit { nodes: 2_000_000, polish: 2_000_000 };
        let cover = engine::cover(&small.problem, fault, Goal::Now, whole);
        let problem = neutral::Problem::from_value(&json!({"rig": rig, "lost": lost}))?;
        let mine = places(&cover.values);
        let by = match oracle::answer(&problem, oracle::Goal::Now, Rules::ALL, nodes) {
            Some(second) => {
                let key = second.values.key(oracle::Goal::Now);
                if key.iter().take(PLACES.len()).copied().ne(mine) {
                    return Err(format!("{lost:?}: the search finds {mine:?}, the second way {key:?}"));
                }
                "second way"
            }
            None if cover.proved == Proved::Order => "search, proved in every place",
            None => return Err(format!("{lost:?}: neither way ends")),
        };
        let mut row = json!({"lost": lost, "by": by});
        for (name, value) in PLACES.iter().zip(mine) {
            row[*name] = json!(value);
        }
        Ok(row)
    });
    let rows = rows.collect::<Result<Vec<Value>, String>>()?;
    Ok(json!({"rig": "rig-small-duo.json", "goal": "now", "covers": rows}))
}

struct Written {
    lost: Vec<String>,
    values: [i64; 6],
    second: bool,
}

fn written() -> Result<Vec<Written>, String> {
    let path = folder("benches/data/small-duo.json");
    let json = crate::json(&path)?;
    let rows = json["covers"].as_array().ok_or("benches/data/small-duo.json has no covers")?;
    rows.iter()
        .map(|row| {
            let lost = row["lost"].as_array().ok_or("a written cover has no \"lost\"")?;
            let lost = lost.iter().filter_map(Value::as_str).map(str::to_owned).collect();
            let mut values = [0; 6];
            for (value, name) in values.iter_mut().zip(PLACES) {
                // The small duo has no fact that nobody has checked.
                let found = row.get(name).map_or(Some(0), Value::as_i64);
                *value = found.ok_or_else(|| format!("{lost:?} has no \"{name}\""))?;
            }
            Ok(Written { lost, values, second: row["by"] == "second way" })
        })
        .collect()
}

fn rig() -> Result<Value, String> {
    crate::json(&folder("testkit/data/covers/rig-small-duo.json"))
}

fn ready() -> Result<Small, String> {
    let case = testkit::read::case(&rig()?).map_err(|e| e.to_string())?;
    let problem = Problem::new(case.neutral.spec.clone()).map_err(|e| e.to_string())?;
    let faults = case.neutral.every_fault().map_err(|e| e.to_string())?;
    Ok(Small { problem, faults, second: 0 })
}

fn places(v: &Values) -> [i64; 6] {
    [v.must, v.harm, v.conditions, v.should, v.nice, v.seconds].map(i64::from)
}
