//! Every rule of the product's judge decides something: with it off, a written problem is answered otherwise.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

mod hand;

use std::fs;
use std::path::PathBuf;

use check::order::{Goal, Values};
use check::pairs::NoMore;
use check::rules::{Rule, Rules};
use check::{Judge, Problem};
use engine::Limit;
use serde_json::{Value, json};
use testkit::agree::named;

const GOALS: [Goal; 3] = [Goal::Now, Goal::Full, Goal::Break];
const SCENES: [&str; 5] = ["through", "muted", "headphones", "valve", "forgetting"];
const LIMIT: Limit = Limit { nodes: 5_000, polish: 2_000 };

/// Problems by name: the files made for one rule first, then the tiny ones and those written by hand.
fn problems() -> Vec<(String, Value)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/covers");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with("rule-") || name.starts_with("tiny-"))
        .collect();
    names.sort();
    let read = |name: String| {
        let json = serde_json::from_str(&fs::read_to_string(folder.join(&name)).unwrap()).unwrap();
        (name, json)
    };
    names.into_iter().map(read).chain(by_hand()).chain(drawn()).collect()
}

fn by_hand() -> Vec<(String, Value)> {
    let named = |name: &str, json: Value| (name.to_owned(), json);
    vec![
        named("worked example", hand::worked_example(&["gear:mixer"], 1)),
        named("banks", hand::banked(Some("harmed"), &["socket:desk.in1"])),
        named("mend", hand::mendable(30, 2, 1)),
        named("tail", hand::tailed(true, &["ext"], &["lead:1.0"])),
    ]
}

/// A few random problems about passive ways, mutes, loads and banks that forget: no written file has these.
fn drawn() -> Vec<(String, Value)> {
    let scenes = SCENES.iter();
    let of_scene = |scene: &&'static str| {
        let scene = *scene;
        let all = (0..1_000).map(testkit::random::problem).map(|json| {
            let name = json["rig"]["name"].as_str().unwrap().to_owned();
            (name, json)
        });
        all.filter(move |(name, _)| name.starts_with(scene)).take(6)
    };
    scenes.flat_map(of_scene).collect()
}

/// What a problem is answered under these rules: for each goal its values.
fn answers(json: &Value, rules: Rules) -> Vec<String> {
    let case = testkit::read::case(json).unwrap();
    let p = Problem::with(case.neutral.spec, &NoMore, rules).unwrap();
    GOALS.map(|goal| format!("{:?}", engine::cover(&p, &case.fault, goal, LIMIT).values)).to_vec()
}

/// What the judge says of one plan under these rules: is it valid, and what is it worth? `None` where a link of it may not
/// be made at all.
fn verdict(json: &Value, plan: &Value, rules: Rules) -> Option<(bool, Values)> {
    let case = testkit::read::case(json).unwrap();
    let p = Problem::with(case.neutral.spec, &NoMore, rules).unwrap();
    let plan = hand::plan(&p, plan)?;
    let verdict = Judge::new(&p, &case.fault).judge(&plan);
    Some((verdict.is_valid(), verdict.values))
}

/// The worked example with one thing changed, and its spare microphone in the bag.
fn changed(lost: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut json = hand::worked_example(lost, 1);
    let mut spare = hand::mic("ok");
    spare["id"] = json!("spare");
    spare["place"] = json!("case");
    json["rig"]["gear"].as_array_mut().unwrap().push(spare);
    change(&mut json["rig"]);
    json
}

/// A strip at the wall that feeds another strip, which feeds the speaker.
fn strips(lost: &[&str]) -> Value {
    let mut json = hand::worked_example(lost, 1);
    let mains = json!({ "id": "iec", "ends": ["mains:plug", "iec:sock"], "use": ["mains"], "length": 60, "owned": 4 });
    json["rig"]["leads"].as_array_mut().unwrap().push(mains);
    let inlet = json!({ "id": "p", "dir": "in", "con": ["iec:plug"], "accepts": { "mains": [0, 0] } });
    let outlet = |id: &str| json!({ "id": id, "dir": "out", "con": ["mains:sock"], "class": "mains" });
    let gear = json["rig"]["gear"].as_array_mut().unwrap();
    gear[2]["needs_power"] = json!(true);
    gear[2]["sockets"].as_array_mut().unwrap().push(inlet.clone());
    gear.push(json!({ "id": "wall", "pos": [3, 0], "root": true, "sockets": [outlet("1")] }));
    for id in ["near", "far"] {
        gear.push(json!({ "id": id, "pos": [3, 0], "needs_power": true, "auto": true,
                          "sockets": [inlet, outlet("1"), outlet("2")] }));
    }
    for (from, to) in [("wall.1", "near.p"), ("near.1", "far.p"), ("far.1", "speaker.p")] {
        let link = json!({ "from": from, "to": to, "via": ["iec"] });
        json["rig"]["patch"].as_array_mut().unwrap().push(link);
    }
    json
}

/// Rules that the search keeps by the way it makes its plans: it would not propose a plan against them, so the judge is shown
/// one. Each is good but for its rule; the reason stands beside it.
fn against(rule: Rule) -> Vec<(&'static str, Value, Value)> {
    let a = |pulls: Value| json!({ "pull": pulls, "new": [["mic.o", "speaker.i", ["xlr6"], "b"]] });
    let b = json!({ "pull": [[0, "a"], [1, "b"]], "new": [["mic.o", "speaker.i", ["xlr10"], null]] });
    let both = json!([[0, "a"], [1, "a"]]);
    let mixer = ["gear:mixer"];
    let takes = |takes: Value| move |rig: &mut Value| rig["gear"][2]["sockets"][0]["accepts"] = takes;
    vec![match rule {
        Rule::Plugs => ("xlr3 is still in the microphone", changed(&mixer, |_| {}), a(json!([[1, "a"]]))),
        Rule::Claim => ("xlr6 is still in the mixer", changed(&mixer, |_| {}), a(json!([[0, "a"]]))),
        Rule::Stock => ("there is no xlr10 left", changed(&["gear:mixer", "spare:xlr10:1:case"], |_| {}), b),
        Rule::Lost => {
            ("the speaker's input is dead", changed(&["gear:mixer", "socket:speaker.i"], |_| {}), a(both))
        }
        Rule::Level => (
            "a microphone is too soft for the speaker",
            changed(&mixer, takes(json!({ "mic": [-20, 0], "line": [-20, 24] }))),
            a(both),
        ),
        Rule::Class => {
            ("the speaker takes line only", changed(&mixer, takes(json!({ "line": [-60, 24] }))), a(both))
        }
        Rule::Packed => (
            "the spare microphone is in the bag",
            changed(&["gear:mic"], |_| {}),
            json!({ "pull": [[0, "a"]], "new": [["spare.o", "mixer.in", ["xlr3"], "b"]] }),
        ),
        Rule::Need => (
            "turned to the wall the speaker is too soft",
            changed(&[], |rig| {
                let wall = json!({ "id": "wall", "hears": { "house": 70 } });
                rig["gear"][2]["places"].as_array_mut().unwrap().push(wall);
            }),
            json!({ "place": { "speaker": "wall" } }),
        ),
        Rule::Powered => {
            ("no plug is in the speaker", strips(&mixer), json!({ "pull": [[4, "b"]], "start": ["speaker"] }))
        }
        Rule::Feeding => ("no power comes to the speaker", strips(&[]), json!({ "pull": [[4, "b"]] })),
        Rule::Steady | Rule::Start => (
            "the speaker lost its power for a moment, and nobody switched it on",
            strips(&[]),
            json!({ "pull": [[4, "a"]], "new": [["near.2", "speaker.p", ["iec"], "b"]] }),
        ),
        Rule::Ring => (
            "the strips feed each other",
            strips(&mixer),
            json!({ "pull": [[2, "a"]], "new": [["far.2", "near.p", ["iec"], "b"]] }),
        ),
        _ => return Vec::new(),
    }]
}

#[test]
fn switching_any_rule_of_the_judge_off_changes_an_answer() {
    let problems = problems();
    let all: Vec<Vec<String>> = problems.iter().map(|(_, json)| answers(json, Rules::ALL)).collect();
    let mut idle = Vec::new();
    for rule in Rule::ALL {
        let off = Rules::ALL.without(rule);
        let mut witnesses: Vec<String> = problems
            .iter()
            .zip(&all)
            .filter(|((_, json), all)| answers(json, off) != **all)
            .map(|((name, _), _)| name.trim_end_matches(".json").to_owned())
            .collect();
        for (why, json, plan) in against(rule) {
            let (with, without) = (verdict(&json, &plan, Rules::ALL), verdict(&json, &plan, off));
            assert!(without.is_some_and(|v| v.0), "{rule:?}: the plan is good but for the rule: {without:?}");
            if with != without {
                witnesses.push(format!("a plan by hand ({why})"));
            }
        }
        println!("{:12} {:2}  {}", format!("{rule:?}"), witnesses.len(), witnesses.join(", "));
        if witnesses.is_empty() {
            idle.push(rule);
        }
    }
    assert_eq!(idle, [], "rules that no written problem needs");
}

/// The files made for one rule say what a program without it answers, and so does the product without it. Left out are
/// words that are no rule of the judge; steady and level, which the search minds by itself whatever the judge says; and
/// knob, which is meant otherwise there (no knob can be turned).
#[test]
fn a_problem_made_for_one_rule_has_its_written_values_without_the_rule() {
    let switches = [
        ("never", Rule::Never),
        ("loop", Rule::Loop),
        ("harm", Rule::Harm),
        ("niceharm", Rule::NiceHarm),
        ("slack", Rule::Slack),
        ("rating", Rule::Rating),
        ("class", Rule::SupplyClass),
        ("case", Rule::Case),
        ("freed", Rule::Freed),
        ("two", Rule::TwoLeads),
        ("boot", Rule::Boot),
        ("spare", Rule::Spare),
        ("rise", Rule::Rise),
        ("side", Rule::Side),
        ("sum", Rule::Sum),
        ("guard", Rule::Guard),
        ("phantom", Rule::Phantom),
        ("harmed", Rule::Phantom),
    ];
    let mut checked = 0;
    for (name, json) in problems() {
        let Some(&(_, rule)) = switches.iter().find(|(word, _)| json["rule"] == *word) else { continue };
        let case = testkit::read::case(&json).unwrap();
        let p = Problem::with(case.neutral.spec, &NoMore, Rules::ALL.without(rule)).unwrap();
        let found = engine::cover(&p, &case.fault, Goal::Now, LIMIT).values;
        let found: Value = named(&found)
            .into_iter()
            .filter(|(name, _)| *name != "conditions")
            .map(|(name, v)| (name.to_owned(), json!(v)))
            .collect();
        assert_eq!(found, json["with_the_rule_off"]["now"], "{name}");
        checked += 1;
    }
    assert_eq!(checked, switches.len());
}
