//! The random problems lean on every rule.

use testkit::neutral::Problem;
use testkit::oracle::{Goal, Rule, Rules, answer};
use testkit::random::{count, problem};

/// The rules that must each decide at least 3 % of the problems.
const RULES: [Rule; 24] = [
    Rule::Never,
    Rule::Loop,
    Rule::Harm,
    Rule::Slack,
    Rule::Kept,
    Rule::Stock,
    Rule::Case,
    Rule::Start,
    Rule::Knob,
    Rule::Placement,
    Rule::Rating,
    Rule::Feeding,
    Rule::Phantom,
    Rule::Level,
    Rule::Side,
    Rule::Guard,
    Rule::Bank,
    Rule::Mend,
    Rule::Reach,
    Rule::Passive,
    Rule::Facts,
    Rule::Mutes,
    Rule::Loads,
    Rule::Forgets,
];

#[test]
fn every_rule_decides_its_share_and_half_the_covers_take_two_moves() {
    let counts = count(0, 500, &RULES, 50_000).unwrap();
    println!("{counts:?}");
    assert_eq!(counts.unsettled, 0, "all within 50 000 nodes");
    assert!(2 * counts.two_moves >= counts.problems, "two moves or more: {} of 500", counts.two_moves);
    for (rule, decides) in counts.decides {
        assert!(100 * decides >= 3 * counts.problems, "{rule:?} decides {decides} of 500");
    }
}

#[test]
fn a_seed_gives_the_same_problem_every_time() {
    for seed in [0, 7, 4242] {
        assert_eq!(problem(seed).to_string(), problem(seed).to_string());
    }
    assert_ne!(problem(1), problem(2));
}

/// The other two goals end in time too.
#[test]
fn full_and_break_covers_are_found_in_few_nodes() {
    for seed in 0..120 {
        let problem = Problem::from_value(&problem(seed)).unwrap();
        for goal in [Goal::Full, Goal::Break] {
            assert!(answer(&problem, goal, Rules::ALL, 200_000).is_some(), "seed {seed}, {goal:?}");
        }
    }
}
