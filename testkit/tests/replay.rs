//! Every shown way, the way for when that brings nothing, and the way back are walked act by act by `check::replay`, which
//! knows nothing of plans or of the search.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops at the first act that cannot be done")]

use check::fault::Fault;
use check::order::Goal;
use check::plan::Plan;
use check::replay::{Act, Replay, undo};
use check::{Judge, Problem};
use engine::{Do, Limit, Proved, Way, next_fault, way};
use serde_json::{Value, json};
use testkit::agree::{GOALS, differ};

/// Walks a way: each act can be done, nothing is dangerous after any, and in the end all is as promised.
fn walk(p: &Problem, fault: &Fault, way: &Way, whose: &str) {
    // What nobody has checked holds only where the way says so.
    let fault = &fault.relying(&p.spec, &way.cover.relies);
    assert_eq!(way.order.fails, None, "{whose}: the engine's own replay");
    let acts: Vec<Act> = way.order.steps.iter().map(|s| s.does.act()).collect();
    let mut replay = Replay::new(p, fault);
    let mut heard = vec![replay.look().carried];
    for act in &acts {
        let after = replay.act(act).unwrap_or_else(|e| panic!("{whose}: {e}\n{acts:#?}"));
        assert_eq!(after.danger, None, "{whose}: after {act:?}");
        assert_eq!(after.danger_if_up, None, "{whose}: after {act:?}, all turned up");
        heard.push(after.carried);
    }
    replay.end().unwrap_or_else(|e| panic!("{whose}: {e}"));
    assert!(replay.is_left_by(&way.cover.plan), "{whose}: the acts leave the patch of the plan");
    assert_eq!(replay.look().carried, way.verdict.carried, "{whose}: what was promised");
    said_back(p, way, &heard, whose);
    seconds_add_up(p, way, whose);
    walk_back(p, replay, &acts, whose);
}

/// A part is said to be back at the step from which it is heard for good, and at no other.
fn said_back(p: &Problem, way: &Way, heard: &[Vec<check::ids::PartId>], whose: &str) {
    for part in &p.counted {
        let silent = heard.iter().rposition(|h| !h.contains(part));
        let said = way.order.steps.iter().rposition(|s| s.back.iter().any(|(b, _)| b == part));
        let told = way.order.back.iter().find(|(b, _)| b == part).map(|(_, at)| *at);
        match silent {
            None => assert_eq!((said, told), (None, None), "{whose}: {part:?} was never silent"),
            Some(last) if last + 1 == heard.len() => {
                assert_eq!(told, Some(None), "{whose}: {part:?} stays silent")
            }
            Some(last) => {
                assert_eq!(said, Some(last), "{whose}: {part:?} is heard from step {} on", last + 1);
                let until = way.order.steps[last].until;
                assert!(
                    told.flatten().is_some_and(|at| at >= until),
                    "{whose}: {part:?}, {told:?} < {until}"
                );
            }
        }
    }
}

/// The steps take as long as the plan is said to: a piece that is turned down once more costs that once more.
fn seconds_add_up(p: &Problem, way: &Way, whose: &str) {
    let steps = &way.order.steps;
    let mut quiet: Vec<_> =
        steps.iter().filter_map(|s| if let Do::BringUp(g) = s.does { Some(g) } else { None }).collect();
    let brought = quiet.len();
    quiet.sort_unstable();
    quiet.dedup();
    let more = i32::try_from(brought - quiet.len()).unwrap() * p.spec.steps.quiet;
    let boot = way.cover.plan.starts.iter().map(|g| p.spec.gear[g.ix()].boot).max().unwrap_or(0);
    let sum: i32 = steps.iter().map(|s| s.seconds).sum();
    assert_eq!(sum + boot, way.cover.values.seconds + more, "{whose}: the seconds of the steps");
    assert_eq!(steps.last().map_or(0, |s| s.until), sum, "{whose}: the last step ends with the sum");
}

/// Once the dead thing is repaired: loud pieces down, the steps undone from the last to the first, loud pieces up. That gives
/// the normal patch, safe at every step, and all is heard again.
fn walk_back(p: &Problem, mut replay: Replay<'_>, acts: &[Act], whose: &str) {
    replay.repair();
    let mut loud: Vec<_> =
        acts.iter().filter_map(|act| if let Act::Quieten(g) = act { Some(*g) } else { None }).collect();
    loud.sort_unstable();
    loud.dedup();
    let plain = |act: &Act| !matches!(act, Act::Quieten(_) | Act::BringUp(_));
    let down = loud.iter().map(|g| Act::Quieten(*g));
    let up = loud.iter().map(|g| Act::BringUp(*g));
    for act in down.chain(undo(&p.spec, acts).into_iter().filter(plain)).chain(up) {
        let after = replay.act(&act).unwrap_or_else(|e| panic!("{whose}, way back: {e}, {act:?}\n{acts:#?}"));
        assert_eq!(after.danger, None, "{whose}, way back: after {act:?}");
        assert_eq!(after.danger_if_up, None, "{whose}, way back: after {act:?}, all turned up");
    }
    replay.end().unwrap_or_else(|e| panic!("{whose}, way back: {e}"));
    assert!(replay.is_normal(), "{whose}, way back: all is as it was");
    for act in replay.off().into_iter().flat_map(|g| switch_on(p, g)) {
        replay.act(&act).unwrap_or_else(|e| panic!("{whose}, switching on again: {e}"));
    }
    for k in replay.forgotten() {
        // Pressed once, whatever it says: after a start it is off.
        let act = Act::Knob { knob: k, on: !p.spec.knobs[k.ix()].on };
        replay.act(&act).unwrap_or_else(|e| panic!("{whose}, phantom on again: {e}"));
    }
    assert_eq!(replay.look().carried, p.counted, "{whose}, way back: all is heard again");
}

fn switch_on(p: &Problem, g: check::ids::GearId) -> Vec<Act> {
    if p.spec.gear[g.ix()].loud {
        vec![Act::Quieten(g), Act::Start(g), Act::BringUp(g)]
    } else {
        vec![Act::Start(g)]
    }
}

#[test]
fn every_way_of_the_random_rigs_can_be_walked_there_and_back() {
    let (mut walked, mut next, mut unsafe_as_drawn) = (0, 0, 0);
    for seed in 0..800 {
        let case = testkit::read::case(&testkit::random::problem(seed)).unwrap();
        let p = Problem::new(case.neutral.spec).unwrap();
        if !Judge::new(&p, &Fault::default()).judge(&Plan::default()).is_valid() {
            // Drawn with a leak in its normal patch: its owner is told so, and no step is safe.
            unsafe_as_drawn += 1;
            continue;
        }
        for goal in [Goal::Now, Goal::Full] {
            let way = way(&p, &case.fault, goal, Limit::default(), 1200);
            assert_ne!(way.cover.proved, Proved::No, "seed {seed}, {goal:?}: not given up for its order");
            walk(&p, &case.fault, &way, &format!("seed {seed}, {goal:?}"));
            walked += usize::from(way.order.steps.len() > 1);
        }
        let a = engine::answer(&p, &case.fault, Limit::default(), 1200);
        if let Some(w) = &a.next {
            let worse = next_fault(&p, &case.fault, &a.now).unwrap();
            walk(&p, &worse, w, &format!("seed {seed}, still nothing"));
            next += 1;
        }
    }
    println!("{walked} ways and {next} next ways walked");
    assert!(unsafe_as_drawn < 40, "{unsafe_as_drawn} rigs are unsafe as drawn");
    assert!(walked > 400, "only {walked} ways have steps to walk");
    assert!(next > 60, "only {next} next ways have steps to walk");
}

#[test]
fn every_way_of_the_demo_rigs_can_be_walked_there_and_back() {
    let mut next = 0;
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
            let worse = next_fault(&c.problem, &f.fault, &a.now);
            for (name, w) in
                [("now", Some(&a.now)), ("full", a.full.as_ref()), ("break", a.in_break.as_ref())]
            {
                if let Some(w) = w {
                    let found = engine::cover(&c.problem, &f.fault, w.cover.goal, limit);
                    assert_eq!(w.cover, found, "{}, {name}: not given up for its order", f.key);
                    walk(&c.problem, &f.fault, w, &format!("{}, {name}", f.key));
                }
            }
            if let (Some(w), Some(worse)) = (&a.next, &worse) {
                let found = engine::cover(&c.problem, worse, Goal::Now, limit);
                assert_eq!(w.cover, found, "{}, still nothing: not given up for its order", f.key);
                walk(&c.problem, worse, w, &format!("{}, still nothing", f.key));
                next += 1;
            }
        }
    }
    assert!(next > 10, "only {next} next ways");
}

/// Pieces with fixed cables, as a rig says them: name, place, what its one socket mates with, length of its cable.
fn tailed(pieces: &[(&str, i64, &str, i64)], leads: &Value, patch: &Value, lost: &str) -> Value {
    let gear: Vec<Value> = pieces
        .iter()
        .map(|(id, x, con, tail)| {
            let mut socket = json!({ "id": "s", "con": [con], "tail": tail });
            if id.starts_with("mic") {
                socket["dir"] = json!("out");
                socket["class"] = json!("mic");
                socket["level"] = json!([-50, -30]);
                let source = if *id == "mic" { "voice" } else { "chat" };
                json!({ "id": id, "pos": [x, 0], "sockets": [socket], "makes": [{ "socket": "s", "source": source }] })
            } else {
                socket["dir"] = json!("in");
                socket["accepts"] = json!({ "mic": [-60, -18] });
                json!({ "id": id, "pos": [x, 0], "sockets": [socket], "sounds": ["s"],
                        "places": [{ "id": "front", "hears": { "house": 100 } }] })
            }
        })
        .collect();
    json!({ "lost": [lost], "rig": {
        "name": "fixed cables", "tail_kept": true, "listeners": [{ "id": "house", "need": 85 }],
        "parts": [{ "id": "voice", "source": "voice", "listener": "house", "rank": "must" }],
        "leads": leads, "gear": gear, "patch": patch } })
}

/// Both ways agree on fixed cables that meet, with and without a piece between, and each order can be walked.
#[test]
fn fixed_cables_that_meet_are_parted_joined_and_walked() {
    let coupler =
        json!([{ "id": "c", "ends": ["jack:sock", "jack:sock"], "use": ["mic"], "length": 0, "owned": 1 }]);
    let lead =
        json!([{ "id": "l", "ends": ["mini:sock", "jack:plug"], "use": ["mic"], "length": 20, "owned": 1 }]);
    let (plug, sock) = ("jack:plug", "jack:sock");
    let cases = [
        // Straight from one fixed cable into the other: pull at the dead one 2; joining them is not charged.
        (
            tailed(
                &[("mic", 0, plug, 30), ("a", 0, sock, 0), ("b", 0, sock, 30)],
                &json!([]),
                &json!([{ "from": "mic.s", "to": "a.s", "via": [] }]),
                "gear:a",
            ),
            2,
        ),
        // The coupler stays on the microphone's: part it from the dead one's 2, join 3.
        (
            tailed(
                &[("mic", 0, plug, 30), ("a", 0, plug, 30), ("b", 0, plug, 30)],
                &coupler,
                &json!([{ "from": "mic.s", "to": "a.s", "via": ["c"] }]),
                "gear:a",
            ),
            5,
        ),
        // One parting frees the coupler and both cables: pull at a 2, at the other microphone 2, plug 3 at the kept coupler.
        (
            tailed(
                &[("mic", 0, plug, 30), ("mic 2", 0, plug, 30), ("a", 0, sock, 0), ("b", 0, plug, 30)],
                &coupler,
                &json!([{ "from": "mic.s", "to": "a.s", "via": [] }, { "from": "mic 2.s", "to": "b.s", "via": ["c"] }]),
                "gear:a",
            ),
            7,
        ),
        // A lead from a socket to a fixed cable cannot be kept at the socket, since the cable's end is not pulled: pull at the
        // microphone 2, plug both ends 3 + 3.
        (
            tailed(
                &[("mic", 0, "mini:plug", 0), ("a", 0, sock, 30), ("b", 0, sock, 30)],
                &lead,
                &json!([{ "from": "mic.s", "to": "a.s", "via": ["l"] }]),
                "gear:a",
            ),
            8,
        ),
    ];
    for (i, (json, seconds)) in cases.iter().enumerate() {
        for goals in GOALS {
            assert!(differ(json, goals, 50_000).unwrap().is_none(), "case {i}, {goals:?}");
        }
        let case = testkit::read::case(json).unwrap();
        let p = Problem::new(case.neutral.spec).unwrap();
        let way = way(&p, &case.fault, Goal::Now, Limit::default(), 1200);
        assert_eq!(
            (way.cover.values.must, way.cover.values.seconds),
            (-1, *seconds),
            "case {i}: {:?}",
            way.cover.plan
        );
        walk(&p, &case.fault, &way, &format!("case {i}"));
    }
}
