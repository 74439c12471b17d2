//! The second way against the written-down problems of `data/covers`.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use std::fs;
use std::path::PathBuf;

use serde_json::{Value, json};
use testkit::neutral::Problem;
use testkit::oracle::{Goal, Rule, Rules, solve};

const GOALS: [Goal; 4] = [Goal::Must, Goal::Now, Goal::Full, Goal::Break];

fn files(prefix: &str) -> Vec<(String, Value)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/covers");
    let mut names: Vec<String> = fs::read_dir(folder.clone())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with(prefix) && name.ends_with(".json"))
        .collect();
    names.sort();
    assert!(!names.is_empty(), "no {prefix}* in {}", folder.display());
    names
        .into_iter()
        .map(|name| {
            let text = fs::read_to_string(folder.join(&name)).unwrap();
            (name, serde_json::from_str(&text).unwrap())
        })
        .collect()
}

fn values(problem: &Problem, goal: Goal, rules: Rules) -> Value {
    let found = solve(problem, goal, rules);
    // The files are older than conditions; none of them has any.
    assert_eq!(found.conditions, 0);
    let named = found.named(goal).into_iter().filter(|(name, _)| *name != "conditions");
    named.map(|(name, v)| (name.to_owned(), json!(v))).collect()
}

fn check_agreement(prefix: &str) {
    for (name, file) in files(prefix) {
        let problem = Problem::from_value(&file).unwrap();
        for goal in GOALS {
            if let Some(expected) = file["expected"].get(goal.word()) {
                assert_eq!(&values(&problem, goal, Rules::ALL), expected, "{name}, {}", goal.word());
            }
        }
    }
}

#[test]
fn agrees_with_every_tiny_problem() {
    check_agreement("tiny-");
}

#[test]
fn agrees_with_every_problem_made_for_one_rule() {
    check_agreement("rule-");
}

/// Twenty pieces are much for the second way: some 20 s together.
#[test]
fn agrees_with_every_duo_problem() {
    check_agreement("duo-");
}

/// Each of these files also says what a program without the rule would answer. Left out are rules whose "off" was
/// meant otherwise there: "kept" (whole leads could still be kept), and words without a switch here.
#[test]
fn gives_the_written_values_with_the_rule_off() {
    let switches = [
        ("never", Rule::Never),
        ("loop", Rule::Loop),
        ("harm", Rule::Harm),
        ("niceharm", Rule::NiceHarm),
        ("slack", Rule::Slack),
        ("rating", Rule::Rating),
        ("class", Rule::SupplyClass),
        ("steady", Rule::Steady),
        ("level", Rule::Level),
        ("case", Rule::Case),
        ("freed", Rule::Freed),
        ("two", Rule::TwoLeads),
        ("knob", Rule::Knob),
        ("rise", Rule::Rise),
        ("side", Rule::Side),
        ("sum", Rule::Sum),
        ("guard", Rule::Guard),
        ("phantom", Rule::Phantom),
        ("harmed", Rule::Phantom),
    ];
    for (name, file) in files("rule-") {
        let Some(&(_, rule)) = switches.iter().find(|(word, _)| file["rule"] == *word) else { continue };
        let problem = Problem::from_value(&file).unwrap();
        let found = values(&problem, Goal::Now, Rules::ALL.without(rule));
        assert_eq!(found, file["with_the_rule_off"]["now"], "{name}");
    }
}
