//! Values worked out by hand: the worked example of the definition, and the extensions of the neutral form. The product and
//! the second way both find them.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first thing that is not as written"
)]

mod hand;

use check::fault::Fault;
use engine::Limit;
use hand::{banked, mendable, tailed, worked_example};
use serde_json::{Value, json};
use testkit::neutral::Problem;
use testkit::oracle::{Answer, Goal, Rule, Rules, answer, solve};

fn solved(problem: &Value, goal: Goal) -> Answer {
    let problem = Problem::from_value(problem).unwrap_or_else(|error| panic!("{error}"));
    answer(&problem, goal, Rules::ALL, 1_000_000).expect("a cover")
}

/// (must, seconds, moves) of the best *now* cover, found by the second way and by the product.
fn check_now(problem: &Value, must: i64, seconds: i64, moves: i64) -> Answer {
    let found = solved(problem, Goal::Now);
    let values = &found.values;
    assert_eq!((values.must, values.seconds, values.moves), (must, seconds, moves), "{:?}", found.plan);
    let product = testkit::agree::cover(problem, check::order::Goal::Now, Limit::default()).expect("a cover");
    let v = product.values;
    let three = [v.must, v.seconds, v.moves].map(i64::from);
    assert_eq!(three, [must, seconds, moves], "the product: {:?}", product.plan);
    assert_eq!(product.proved, engine::Proved::Order, "the product: {:?}", product.plan);
    found
}

/// A rig with its fault, as the product reads it.
fn product(problem: &Value) -> (check::Problem, Fault) {
    let case = testkit::read::case(problem).unwrap();
    (check::Problem::new(case.neutral.spec).unwrap(), case.fault)
}

#[test]
fn worked_example_plan_a_keeps_the_lead_at_the_speaker() {
    // Pull xlr3 at the mic 2, xlr6 at the mixer 2, plug into the mic 3, level 4, go 0 + 1 + 3, quieten 3.
    let found = check_now(&worked_example(&["gear:mixer"], 1), -1, 18, 3);
    assert_eq!(found.values.harm, 0);
    let kept = vec![("mic.o".to_owned(), "speaker.i".to_owned(), vec!["xlr6".to_owned()], Some('b'))];
    assert_eq!(found.plan.new, kept);
}

#[test]
fn worked_example_plan_b_opens_the_case() {
    // Open 15, take 4, pull 2 + 2, plug 3 + 3, level 4, go 0 + 3, quieten 3.
    let found = check_now(&worked_example(&["gear:mixer", "lead:1.0"], 1), -1, 39, 4);
    assert_eq!(found.values.harm, 0);
}

#[test]
fn worked_example_plan_a_does_not_need_the_spare() {
    check_now(&worked_example(&["gear:mixer", "spare:xlr10:1:case"], 1), -1, 18, 3);
    check_now(&worked_example(&["gear:mixer"], 0), -1, 18, 3);
}

/// Plan A: xlr6 from the mixer to the microphone, kept at the speaker. Plan B: xlr10 from the bag.
fn plans(p: &check::Problem) -> [check::plan::Plan; 2] {
    let a = json!({ "pull": [[0, "a"], [1, "a"]], "new": [["mic.o", "speaker.i", ["xlr6"], "b"]] });
    let b = json!({ "pull": [[0, "a"], [1, "b"]], "new": [["mic.o", "speaker.i", ["xlr10"], null]] });
    [a, b].map(|plan| hand::plan(p, &plan).expect("both links may be made"))
}

#[test]
fn worked_example_is_judged_by_its_numbers() {
    let numbers = |lost: &[&str]| {
        let (p, fault) = product(&worked_example(lost, 1));
        let mut judge = check::Judge::new(&p, &fault);
        plans(&p).map(|plan| {
            let verdict = judge.judge(&plan);
            let v = verdict.values;
            (verdict.is_valid(), v.must, v.harm, v.seconds, v.moves)
        })
    };
    let (a, b) = ((true, -1, 0, 18, 3), (true, -1, 0, 39, 4));
    assert_eq!(numbers(&["gear:mixer"]), [a, b]);
    // xlr6 is dead too: nothing of it can be kept, and plan A is no plan.
    let dead = numbers(&["gear:mixer", "lead:1.0"]);
    assert!(!dead[0].0, "{dead:?}");
    assert_eq!(dead[1], b);
    // The spare is missing: plan A does not use it.
    let missing = numbers(&["gear:mixer", "spare:xlr10:1:case"]);
    assert_eq!(missing[0], a);
    assert!(!missing[1].0, "{missing:?}");
}

#[test]
fn worked_example_is_answered_with_plan_a_and_else_with_plan_b() {
    let answered = |lost: &[&str]| {
        let (p, fault) = product(&worked_example(lost, 1));
        let cover = engine::cover(&p, &fault, check::order::Goal::Now, Limit::default());
        assert_eq!(cover.proved, engine::Proved::Order, "{lost:?}");
        plans(&p).iter().position(|plan| *plan == cover.plan)
    };
    assert_eq!(answered(&["gear:mixer"]), Some(0));
    assert_eq!(answered(&["gear:mixer", "lead:1.0"]), Some(1));
    assert_eq!(answered(&["gear:mixer", "spare:xlr10:1:case"]), Some(0));
}

/// The steps of plan A in the order shown: to each its seconds, the way to the piece with it.
#[test]
fn worked_example_is_shown_in_eighteen_seconds() {
    let (p, fault) = product(&worked_example(&["gear:mixer"], 1));
    let way = engine::way(&p, &fault, check::order::Goal::Now, Limit::default(), 1200);
    let seconds: Vec<i32> = way.order.steps.iter().map(|step| step.seconds).collect();
    // Down and walk 0 + 3, out of the microphone 2, out of the mixer 2 + 1, in 3 and level 4, up 3.
    assert_eq!(seconds, [3, 2, 3, 7, 3]);
    assert_eq!(way.order.back, [(check::ids::PartId(0), Some(18))]);
}

#[test]
fn a_tail_that_is_not_kept_is_pulled_and_plugged_at_both_ends() {
    // Pull 2 (the tail's end; the other may hang), plug 4 + 4, go 0 + 1.
    check_now(&tailed(false, &[], &["socket:wall.s1"]), -1, 11, 3);
}

#[test]
fn a_kept_tail_moves_for_one_pull_and_one_plug() {
    // Pull at the wall 2, plug at the wall 4, go 1.
    check_now(&tailed(true, &[], &["socket:wall.s1"]), -1, 7, 2);
}

#[test]
fn pulling_the_outlet_end_frees_an_extension_from_a_kept_tail() {
    // Pull at the wall 2; the tail alone reaches s2: plug 4; go 1. The joint parts for nothing.
    check_now(&tailed(true, &["ext"], &["socket:wall.s1"]), -1, 7, 2);
    // Not kept: leave the extension on the tail (kept at the tail) and move its other plug: the same.
    check_now(&tailed(false, &["ext"], &["socket:wall.s1"]), -1, 7, 2);
    // A dead extension: pull at the wall 2, tail into the wall 4, go 1.
    check_now(&tailed(true, &["ext"], &["lead:1.0"]), -1, 7, 2);
    // Not kept: the tail's end is pulled 2 and plugged 4, the far one plugged into the free outlet 4, go 0 + 1.
    check_now(&tailed(false, &["ext"], &["lead:1.0"]), -1, 11, 3);
}

#[test]
fn a_piece_joined_to_a_kept_tail_is_plugged_there() {
    // The wall moved to 4 m: the tail (30 − 5 − 5 dm) does not reach, so the extension is joined on.
    let mut problem = tailed(true, &[], &["socket:wall.s1"]);
    problem["rig"]["gear"][2]["pos"] = json!([3, 0]);
    // Pull at the wall 2, plug at the wall 4, join at the tail 4, take 2, go 0 + 3.
    check_now(&problem, -1, 15, 3);
}

#[test]
fn a_bank_that_is_off_costs_its_knob_and_the_wait() {
    // Pull at in1 2, plug in2 3, bank 3 + 5.
    let found = check_now(&banked(None, &["socket:desk.in1"]), -1, 13, 3);
    assert_eq!(found.plan.knob, ["desk.b"]);
}

#[test]
fn a_bank_is_not_switched_on_over_an_output_that_it_harms() {
    check_now(&banked(Some("ok"), &["socket:desk.in1"]), -1, 13, 3);
    // The ribbon is unplugged first: 2 more.
    let found = check_now(&banked(Some("harmed"), &["socket:desk.in1"]), -1, 15, 4);
    assert!(found.plan.pull.iter().any(|&(link, _)| link == 2), "{:?}", found.plan);
}

#[test]
fn a_mend_costs_its_seconds_the_way_there_and_what_it_uses_up() {
    // Swap 30, take from stage 2, go 1, quieten 3. Judged by what is still lost, the power was never gone: no start.
    let found = check_now(&mendable(30, 2, 1), -1, 36, 1);
    assert_eq!(found.plan.mend, ["swap cells"]);
    // From the case: 4 and 15 instead of 2.
    check_now(&mendable(30, 1, 1), -1, 53, 1);
    // None left: nothing can be done.
    check_now(&mendable(30, 0, 0), 0, 0, 0);
    // Were the break in power counted: switch on 3 and boot 9 besides.
    let problem = Problem::from_value(&mendable(30, 2, 1)).unwrap();
    assert_eq!(solve(&problem, Goal::Now, Rules::ALL.with(Rule::Interrupted)).seconds, 48);
}

#[test]
fn a_mend_gives_back_one_loss_and_no_other() {
    let mut problem = mendable(5, 1, 0);
    problem["lost"] = json!(["supply:speaker", "lead:0.0"]);
    // The only lead is dead: mending the supply alone brings nothing back, so nothing is done.
    check_now(&problem, 0, 0, 0);
}
