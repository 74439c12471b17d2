//! The product against the second way, and against every written problem.

use check::order::Goal;
use engine::Limit;
use serde_json::Value;
use testkit::agree::{GOALS, cover, differ, named};
use testkit::random;

#[test]
fn five_hundred_random_rigs_have_the_same_best_values_both_ways() {
    let mut differing = Vec::new();
    for seed in 0..500 {
        let json = random::problem(seed);
        for goals in GOALS {
            match differ(&json, goals, 300_000) {
                Ok(None) => {}
                Ok(Some(d)) => differing.push(format!("seed {seed}: {d:?}")),
                Err(e) => differing.push(format!("seed {seed}: {e}")),
            }
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}

#[test]
fn every_written_problem_has_its_written_values() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/data/covers");
    let mut checked = 0;
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    for file in files.iter().filter(|f| f.extension().is_some_and(|e| e == "json")) {
        let json: Value = serde_json::from_str(&std::fs::read_to_string(file).unwrap()).unwrap();
        let Some(expected) = json.get("expected").and_then(Value::as_object) else { continue };
        for (goal, values) in expected {
            let goal = match goal.as_str() {
                "now" => Goal::Now,
                "full" => Goal::Full,
                "break" => Goal::Break,
                _ => Goal::Must,
            };
            let found = cover(&json, goal, Limit::default()).unwrap();
            for (name, value) in named(&found.values) {
                if let Some(want) = values.get(name).and_then(Value::as_i64) {
                    assert_eq!(i64::from(value), want, "{}: {goal:?} {name}", file.display());
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 600, "only {checked} values were found");
}
