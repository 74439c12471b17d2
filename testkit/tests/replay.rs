//! Every shown way is walked step by step: the patch is rebuilt from the steps alone and judged after each of them.

use check::fault::Fault;
use check::order::Goal;
use check::plan::{NewLink, Plan};
use check::{Judge, Problem};
use engine::{Do, Limit, Way, way};

/// Judges the patch after each step; a link is there once the last of its plugs is in.
fn walk(p: &Problem, fault: &Fault, way: &Way, whose: &str) {
    let steps = &way.order.steps;
    let pair = |n: &NewLink| (p.pairs.pairs[n.pair].from, p.pairs.pairs[n.pair].to);
    let last_plug = |n: &NewLink| {
        steps.iter().rposition(|s| matches!(&s.does, Do::Plug { from, to, .. } if (*from, *to) == pair(n)))
    };
    let mut judge = Judge::new(p, fault);
    let mut plan = Plan::default();
    for (i, step) in steps.iter().enumerate() {
        match &step.does {
            Do::Pull { link, end, .. } => plan.pulls.push((*link, *end)),
            Do::Place { gear, placement, .. } => plan.places.push((*gear, *placement)),
            Do::Mend { mend } => plan.mends.push(*mend),
            Do::Knob { knob, .. } => plan.knobs.push(*knob),
            Do::Start { gear, .. } => plan.starts.push(*gear),
            Do::Plug { .. } => {
                plan.new.extend(way.cover.plan.new.iter().filter(|n| last_plug(n) == Some(i)).copied());
            }
            Do::Quieten(_) | Do::BringUp(_) => continue,
        }
        plan.tidy();
        assert_eq!(judge.look(&plan), None, "{whose}: step {} cannot be done", i + 1);
        assert_eq!(judge.danger(), None, "{whose}: after step {}", i + 1);
    }
    let mut whole = way.cover.plan.clone();
    whole.tidy();
    assert_eq!(plan, whole, "{whose}: the steps are the plan");
    let verdict = judge.judge(&plan);
    assert!(verdict.is_valid(), "{whose}");
    assert_eq!(verdict.carried, way.verdict.carried, "{whose}: what was promised");
}

#[test]
fn every_way_of_the_random_rigs_can_be_walked_and_is_safe_at_every_step() {
    let mut walked = 0;
    for seed in 0..800 {
        let case = testkit::read::case(&testkit::random::problem(seed)).unwrap();
        let p = Problem::new(case.neutral.spec).unwrap();
        for goal in [Goal::Now, Goal::Full] {
            let way = way(&p, &case.fault, goal, Limit::default(), 1200);
            walk(&p, &case.fault, &way, &format!("seed {seed}, {goal:?}"));
            walked += usize::from(way.order.steps.len() > 1);
        }
    }
    assert!(walked > 400, "only {walked} ways have steps to walk");
}

#[test]
fn every_way_of_the_demo_rigs_can_be_walked_and_is_safe_at_every_step() {
    for text in [
        include_str!("../../examples/harbour-cafe/harbour-cafe.rig"),
        include_str!("../../examples/street-pitch/street-pitch.rig"),
    ] {
        let (rig, problems) = model::text::read(text);
        assert_eq!(problems, []);
        let c = check::judge_rig(&rig).unwrap();
        let limit = Limit { nodes: 1_000, polish: 100 };
        for f in &c.faults {
            let a = engine::answer(&c.problem, &f.fault, limit, 1200);
            for (name, w) in [("now", Some(a.now)), ("full", a.full), ("break", a.in_break)] {
                if let Some(w) = w {
                    walk(&c.problem, &f.fault, &w, &format!("{}, {name}", f.key));
                }
            }
        }
    }
}
