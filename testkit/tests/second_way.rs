//! The second way against the written-down problems of `data/covers`.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use std::fs;
use std::path::PathBuf;

use serde_json::{Value, json};
use testkit::neutral::Problem;
use testkit::oracle::{Goal, Rule, Rules, answer, solve};

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

// Conditions, each problem small enough to be added up on paper. Everything stands at home, so that nobody walks.

fn gear(id: &str, more: &Value) -> Value {
    let mut gear = json!({ "id": id, "pos": [0, 0] });
    gear.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
    gear
}

fn taking(id: &str) -> Value {
    json!({ "id": id, "dir": "in", "con": ["xlr:sock"], "accepts": { "mic": [-60, -18], "line": [-20, 24] } })
}

fn giving(id: &str, class: &str, level: [i64; 2]) -> Value {
    json!({ "id": id, "dir": "out", "con": ["xlr:plug"], "class": class, "level": level })
}

fn inlet() -> Value {
    json!({ "id": "p", "dir": "in", "con": ["iec:plug"], "accepts": { "mains": [0, 0] } })
}

fn outlet(id: &str) -> Value {
    let socket = json!({ "id": "s", "dir": "out", "con": ["mains:sock"], "class": "mains" });
    gear(id, &json!({ "root": true, "sockets": [socket] }))
}

fn voice_mic(id: &str, source: &str) -> Value {
    let makes = json!([{ "socket": "o", "source": source }]);
    gear(id, &json!({ "sockets": [giving("o", "mic", [-50, -30])], "makes": makes }))
}

fn lead(id: &str, ends: [&str; 2], classes: &[&str], (owned, case): (i64, i64)) -> Value {
    json!({ "id": id, "ends": ends, "use": classes, "length": 30, "owned": owned, "case": case })
}

fn xlr(owned: i64) -> Value {
    lead("x", ["xlr:sock", "xlr:plug"], &["mic", "line"], (owned, 0))
}

fn part(source: &str, listener: &str, rank: &str) -> Value {
    json!({ "id": format!("{source} {listener}"), "source": source, "listener": listener, "rank": rank })
}

fn heard(listener: &str) -> Value {
    json!([{ "id": "front", "hears": { listener: 100 } }])
}

fn rig(
    lost: &[&str],
    parts: &Value,
    leads: &Value,
    gear: &[Value],
    patch: &[(&str, &str, &[&str])],
) -> Value {
    let patch: Vec<Value> =
        patch.iter().map(|(from, to, via)| json!({ "from": from, "to": to, "via": via })).collect();
    json!({ "lost": lost, "rig": {
        "listeners": [{ "id": "house", "need": 85 }, { "id": "band", "need": 80 }],
        "parts": parts, "leads": leads, "gear": gear, "patch": patch,
    } })
}

/// The best *now* cover: (must, conditions, seconds, moves), and the facts it relies on.
fn now(problem: &Value, rules: Rules) -> ((i64, i64, i64, i64), Vec<String>) {
    let found = answer(&Problem::from_value(problem).unwrap(), Goal::Now, rules, 1_000_000).unwrap();
    let v = found.values;
    ((v.must, v.conditions, v.seconds, v.moves), found.plan.relies)
}

fn all(problem: &Value) -> (i64, i64, i64, i64) {
    now(problem, Rules::ALL).0
}

fn without(problem: &Value, rule: Rule) -> (i64, i64, i64, i64) {
    now(problem, Rules::ALL.without(rule)).0
}

/// A microphone into a powered speaker, and from its through into another that needs no power.
fn through(lost: &str, passive: &Value) -> Value {
    let route = json!({ "id": "r", "in": "i", "outs": ["t"], "gain": [0, 0], "passive": passive });
    let first = json!({ "needs_power": true, "sounds": ["i"], "places": heard("house"), "routes": [route],
                        "sockets": [taking("i"), giving("t", "mic", [-60, 0]), inlet()] });
    let second = json!({ "sounds": ["i"], "places": heard("house"), "sockets": [taking("i")] });
    let iec = lead("iec", ["mains:plug", "iec:sock"], &["mains"], (1, 0));
    let mut problem = rig(
        &[lost],
        &json!([part("voice", "house", "must")]),
        &json!([xlr(2), iec]),
        &[voice_mic("mic", "voice"), gear("first", &first), gear("second", &second), outlet("wall")],
        &[("mic.o", "first.i", &["x"]), ("first.t", "second.i", &["x"]), ("wall.s", "first.p", &["iec"])],
    );
    problem["rig"]["facts"] = json!(["bare wire"]);
    problem
}

#[test]
fn a_passive_through_passes_without_power() {
    let problem = through("supply:first", &json!(true));
    assert_eq!(all(&problem), (-1, 0, 0, 0));
    // Without the rule: out of the first speaker 2, out of the second 2, into the second 3.
    assert_eq!(without(&problem, Rule::Passive), (-1, 0, 7, 3));
    // Neither does one that is not passive, nor anything through a piece that is lost as a whole.
    assert_eq!(all(&through("supply:first", &json!(false))), (-1, 0, 7, 3));
    assert_eq!(all(&through("gear:first", &json!(true))), (-1, 0, 7, 3));
}

#[test]
fn a_sure_way_comes_before_one_that_relies_on_a_fact() {
    // Doing nothing takes 0 s, if the through is bare wire. Within 15 s more, 7 s make it sure.
    let mut problem = through("supply:first", &json!("bare wire"));
    assert_eq!(now(&problem, Rules::ALL), ((-1, 0, 7, 3), Vec::new()));
    assert_eq!(without(&problem, Rule::Facts), (-1, 0, 0, 0));
    // Sure would be 10 + 10 + 3 s: too long to wait, and the fact is relied on.
    problem["rig"]["steps"] = json!({ "unplug": 10 });
    assert_eq!(now(&problem, Rules::ALL), ((-1, 1, 0, 0), vec!["bare wire".to_owned()]));
}

#[test]
fn what_works_only_if_a_fact_holds_is_relied_on_too() {
    let mut problem = through("sound:first", &json!(false));
    problem["rig"]["gear"][1]["routes"][0]["only_if"] = json!("bare wire");
    problem["rig"]["steps"] = json!({ "unplug": 10 });
    assert_eq!(now(&problem, Rules::ALL), ((-1, 1, 0, 0), vec!["bare wire".to_owned()]));
    problem["rig"]["gear"][1]["routes"][0]["only_if"] = Value::Null;
    assert_eq!(now(&problem, Rules::ALL), ((-1, 0, 0, 0), Vec::new()));
}

/// Two microphones into a desk with two spare channels, muted together or not.
fn mutes(lost: &[&str], muted: bool) -> Value {
    let route = |n: usize| {
        let mutes: &[&str] = if n > 2 { &["spares"] } else { &[] };
        json!({ "id": format!("r{n}"), "in": format!("i{n}"), "outs": ["main"], "mutes": mutes })
    };
    let desk = json!({ "mutes": [{ "id": "spares", "on": muted }], "routes": (1..=4).map(route).collect::<Vec<_>>(),
        "sockets": [taking("i1"), taking("i2"), taking("i3"), taking("i4"), giving("main", "line", [-30, 20])] });
    let speaker = json!({ "sounds": ["i"], "places": heard("house"), "sockets": [taking("i")] });
    rig(
        lost,
        &json!([part("voice", "house", "must"), part("second", "house", "must")]),
        &json!([xlr(3)]),
        &[
            voice_mic("mic", "voice"),
            voice_mic("mic b", "second"),
            gear("desk", &desk),
            gear("speaker", &speaker),
        ],
        &[("mic.o", "desk.i1", &["x"]), ("mic b.o", "desk.i2", &["x"]), ("desk.main", "speaker.i", &["x"])],
    )
}

#[test]
fn a_mute_is_one_knob_for_all_its_routes() {
    // Out 2, in 3, button 3.
    let one = mutes(&["socket:desk.i1"], true);
    assert_eq!(all(&one), (-2, 0, 8, 3));
    assert_eq!(without(&one, Rule::Mutes), (-2, 0, 5, 2));
    // Both channels: twice 5 s, and the button once.
    assert_eq!(all(&mutes(&["socket:desk.i1", "socket:desk.i2"], true)), (-2, 0, 13, 5));
    // Not muted: no button.
    assert_eq!(all(&mutes(&["socket:desk.i1"], false)), (-2, 0, 5, 2));
}

/// Keys with a loudspeaker of their own, cut by the headphone plug; the speaker is dead.
fn own_loudspeaker(count: bool) -> Value {
    let mut makes = vec![
        json!({ "socket": "o", "source": "keys" }),
        json!({ "socket": "phones", "source": "keys" }),
        json!({ "socket": "own", "source": "keys" }),
    ];
    let mut parts = vec![part("keys", "house", "must")];
    if count {
        makes.push(json!({ "socket": "own", "source": "count" }));
        parts.push(part("count", "house", "never"));
    }
    let keys = json!({ "places": heard("house"), "makes": makes,
        "sounds": [{ "socket": "own", "guard": { "empty": "keys.phones" } }],
        "sockets": [giving("o", "line", [-10, 4]), giving("phones", "line", [-10, 4]), taking("own")] });
    let phones = json!({ "sounds": ["i"], "places": heard("band"), "sockets": [taking("i")] });
    let speaker = json!({ "sounds": ["i"], "places": heard("house"), "sockets": [taking("i")] });
    rig(
        &["gear:speaker"],
        &json!(parts),
        &json!([xlr(2)]),
        &[gear("keys", &keys), gear("headphones", &phones), gear("speaker", &speaker)],
        &[("keys.o", "speaker.i", &["x"]), ("keys.phones", "headphones.i", &["x"])],
    )
}

#[test]
fn a_headphone_plug_that_comes_out_brings_the_own_loudspeaker_back() {
    let problem = own_loudspeaker(false);
    // Out 2, at the keys: a plug left hanging would still cut it.
    assert_eq!(all(&problem), (-1, 0, 2, 1));
    let found = answer(&Problem::from_value(&problem).unwrap(), Goal::Now, Rules::ALL, 1_000_000).unwrap();
    assert_eq!(found.plan.pull, [(1, 'a')]);
    assert_eq!(without(&problem, Rule::Guard), (-1, 0, 0, 0));
}

#[test]
fn what_the_own_loudspeaker_would_tell_the_house_keeps_the_headphone_plug_in() {
    // The count that only the headphones' wearer may hear is made at the same input.
    assert_eq!(all(&own_loudspeaker(true)), (0, 0, 0, 0));
    assert_eq!(without(&own_loudspeaker(true), Rule::Never), (-1, 0, 2, 1));
}

/// A valve amplifier with its cabinet, and the main amplifier whose lead is dead; a spare lies in the bag.
fn valve(loaded: bool) -> Value {
    let amplifier = |source: &str, loaded: bool| {
        json!({ "makes": [{ "socket": "o", "source": source }],
                "sockets": [{ "id": "o", "dir": "out", "con": ["pole:sock"], "class": "speaker", "level": [10, 30],
                              "loaded": loaded }] })
    };
    let cabinet = |listener: &str| {
        json!({ "sounds": ["i"], "places": heard(listener),
                "sockets": [{ "id": "i", "dir": "in", "con": ["pole:sock"], "accepts": { "speaker": [0, 40] } }] })
    };
    let mut problem = rig(
        &["lead:1.0"],
        &json!([part("voice", "house", "must"), part("violin", "band", "nice")]),
        &json!([lead("s", ["pole:plug", "pole:plug"], &["speaker"], (3, 1))]),
        &[
            gear("valve amplifier", &amplifier("violin", loaded)),
            gear("cabinet", &cabinet("band")),
            gear("main amplifier", &amplifier("voice", false)),
            gear("speaker", &cabinet("house")),
        ],
        &[("valve amplifier.o", "cabinet.i", &["s"]), ("main amplifier.o", "speaker.i", &["s"])],
    );
    // More than 15 s dearer than robbing, or the violin would decide.
    problem["rig"]["steps"] = json!({ "open_case": 20 });
    problem
}

#[test]
fn a_valve_amplifier_keeps_its_load() {
    // The dead lead out 2 + 2, bag 20 + 4, a new one in 4 + 4.
    assert_eq!(all(&valve(true)), (-1, 0, 36, 4));
    // Robbed: both leads out 4 × 2, in 4 + 4, the valve amplifier to standby and back 3.
    assert_eq!(without(&valve(true), Rule::Loads), (-1, 0, 19, 6));
    // An amplifier that may run without a load is robbed.
    assert_eq!(all(&valve(false)), (-1, 0, 16, 6));
}

#[test]
fn a_valve_amplifier_may_be_loaded_with_another_speaker() {
    // The cabinet, turned to the house, takes over from a speaker that no longer sounds; that one is a load all the same.
    let mut problem = valve(true);
    problem["lost"] = json!(["sound:speaker"]);
    problem["rig"]["leads"][0]["case"] = json!(0);
    problem["rig"]["leads"][0]["owned"] = json!(2);
    let turned = json!({ "id": "turned", "hears": { "house": 90 }, "secs": 6 });
    problem["rig"]["gear"][1]["places"].as_array_mut().unwrap().push(turned);
    // Turn 6, out of cabinet and speaker 2 + 2, across 4 + 4, the valve amplifier to standby and back 3.
    assert_eq!(all(&problem), (-1, 0, 21, 5));
    // Without the rule the second lead hangs where it is: turn 6, out of the cabinet 2 and of the speaker 2, in 4, standby 3.
    assert_eq!(without(&problem, Rule::Loads), (-1, 0, 17, 4));
}

/// A condenser microphone on a desk whose outlet fails; a second outlet is free.
fn forgetting(lost: &str, forgets: bool, battery: bool) -> Value {
    let mut mic = voice_mic("mic", "voice");
    mic["sockets"][0]["phantom"] = json!("needs");
    let mut channel = taking("i");
    channel["phantom"] = json!("switch");
    let desk = json!({ "needs_power": true, "auto": true, "battery": battery,
        "sockets": [channel, giving("main", "line", [-30, 20]), inlet()],
        "routes": [{ "id": "r", "in": "i", "outs": ["main"] }],
        "banks": [{ "id": "48v", "on": true, "sockets": ["i"], "forgets": forgets }] });
    let speaker = json!({ "sounds": ["i"], "places": heard("house"), "sockets": [taking("i")] });
    let iec = lead("iec", ["mains:plug", "iec:sock"], &["mains"], (1, 0));
    rig(
        &[lost],
        &json!([part("voice", "house", "must")]),
        &json!([xlr(2), iec]),
        &[mic, gear("desk", &desk), gear("speaker", &speaker), outlet("wall a"), outlet("wall b")],
        &[("mic.o", "desk.i", &["x"]), ("desk.main", "speaker.i", &["x"]), ("wall a.s", "desk.p", &["iec"])],
    )
}

#[test]
fn phantom_power_is_off_after_the_desk_was_without_mains() {
    let problem = forgetting("gear:wall a", true, false);
    // Out of the wall 2, into the other 4, phantom 3 + 5.
    assert_eq!(all(&problem), (-1, 0, 14, 3));
    assert_eq!(without(&problem, Rule::Forgets), (-1, 0, 6, 2));
    // A desk that remembers.
    assert_eq!(all(&forgetting("gear:wall a", false, false)), (-1, 0, 6, 2));
}

#[test]
fn neither_a_battery_nor_a_mend_brings_forgotten_phantom_back() {
    // The desk runs on: phantom 3 + 5 and nothing else.
    assert_eq!(all(&forgetting("gear:wall a", true, true)), (-1, 0, 8, 1));
    assert_eq!(all(&forgetting("gear:wall a", false, true)), (-1, 0, 0, 0));
    // The mend 30, phantom 8.
    let mut problem = forgetting("supply:desk", true, false);
    problem["mends"] = json!([{ "id": "fuse", "gives": "supply:desk", "at": "desk", "secs": 30 }]);
    assert_eq!(all(&problem), (-1, 0, 38, 2));
    assert_eq!(without(&problem, Rule::Forgets), (-1, 0, 30, 1));
    // A lead that fails elsewhere leaves the phantom on.
    assert_eq!(all(&forgetting("gear:wall b", true, false)), (-1, 0, 0, 0));
}
