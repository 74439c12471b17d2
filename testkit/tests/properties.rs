//! What holds of every rig: seeds of the random rigs, and both demo rigs.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use check::fault::{Fault, Loss};
use check::ids::{GearId, LeadId, LinkId, RouteId, SocketId};
use check::order::Goal;
use check::pairs::NoMore;
use check::plan::{End, Plan};
use check::rules::{Rule, Rules};
use check::spec::Spec;
use check::{Judge, Problem};
use engine::{Limit, Proved};
use rand::{Rng as _, RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};
use testkit::random;

const TO_BREAK: i32 = 1200;
const DEMOS: [&str; 2] = [
    include_str!("../../examples/harbour-cafe/harbour-cafe.rig"),
    include_str!("../../examples/street-pitch/street-pitch.rig"),
];

fn read(json: &Value) -> (Spec, Fault) {
    let case = testkit::read::case(json).unwrap();
    (case.neutral.spec, case.fault)
}

/// Any one thing that could be lost besides.
fn any_loss(spec: &Spec, dice: &mut ChaCha8Rng) -> Loss {
    let mut one_of =
        |n: usize| usize::try_from(dice.random_range(0..u64::try_from(n.max(1)).unwrap())).unwrap();
    let kind = one_of(8);
    let gear = GearId::at(one_of(spec.gear.len()));
    match kind {
        0 => Loss::Gear(gear),
        1 => Loss::Sound(gear),
        2 => Loss::Make(gear),
        3 => Loss::Supply(gear),
        4 if !spec.routes.is_empty() => Loss::Route(RouteId::at(one_of(spec.routes.len()))),
        5 => Loss::SpareOnStage(LeadId::at(one_of(spec.leads.len())), 1),
        6 => Loss::SpareInCase(LeadId::at(one_of(spec.leads.len())), 1),
        7 => {
            let link = one_of(spec.patch.len());
            match spec.patch.get(link).map_or(0, |l| l.via.len()) {
                0 => Loss::Socket(SocketId::at(one_of(spec.sockets.len()))),
                n => Loss::Lead(LinkId::at(link), one_of(n)),
            }
        }
        _ => Loss::Socket(SocketId::at(one_of(spec.sockets.len()))),
    }
}

/// Weight of the musts and the fewest seconds for it, harm left aside: docs/cover.md, "More than one fault".
fn must_and_seconds(spec: &Spec, fault: &Fault) -> ((i32, i32), Plan) {
    let p = Problem::with(spec.clone(), &NoMore, Rules::ALL.without(Rule::Harm)).unwrap();
    let cover = engine::cover(&p, fault, Goal::Must, Limit::default());
    assert_ne!(cover.proved, Proved::No);
    ((cover.values.must, cover.values.seconds), cover.plan)
}

/// More faults are never better: not in the musts, and with the same musts not in the seconds, harm left aside. A plan for
/// more faults is valid for fewer, at no more seconds, and carries no less.
#[test]
fn more_faults_are_never_better() {
    let (mut worse, mut quicker_for_harm) = (0, 0);
    for seed in 0..600 {
        let (spec, fault) = read(&random::problem(seed));
        let mut dice = ChaCha8Rng::seed_from_u64(seed);
        let p = Problem::new(spec.clone()).unwrap();
        let mut fewer = fault;
        let (mut best, _) = must_and_seconds(&spec, &fewer);
        let mut harmless = engine::cover(&p, &fewer, Goal::Must, Limit::default()).values;
        for _ in 0..3 {
            let loss = any_loss(&spec, &mut dice);
            let more = fewer.and(&Fault::of([loss]));
            let (values, plan) = must_and_seconds(&spec, &more);
            assert!(values >= best, "seed {seed}: {more:?} gives {values:?}, without {loss:?} {best:?}");
            worse += usize::from(values > best);
            let (under_more, under_fewer) =
                (Judge::new(&p, &more).judge(&plan), Judge::new(&p, &fewer).judge(&plan));
            assert!(under_more.is_valid(), "seed {seed}");
            assert!(under_fewer.is_valid(), "seed {seed}: {plan:?} without {loss:?}: {under_fewer:?}");
            assert!(under_fewer.values.seconds <= under_more.values.seconds, "seed {seed}");
            let lacks = under_more.carried.iter().find(|part| !under_fewer.carried.contains(part));
            assert_eq!(lacks, None, "seed {seed}: a part is carried only because {loss:?} is lost");
            // The plain order is another matter: what is dead can be harmed no more.
            let with_harm = engine::cover(&p, &more, Goal::Must, Limit::default()).values;
            quicker_for_harm += usize::from(Goal::Must.key(&with_harm) < Goal::Must.key(&harmless));
            harmless = with_harm;
            fewer = more;
            best = values;
        }
    }
    println!(
        "{worse} of 1800 losses more made it worse; {quicker_for_harm} made it better by the plain order"
    );
    assert!(worse > 200, "only {worse} of 1800 losses more made anything worse");
    assert!(
        quicker_for_harm > 0,
        "harm never breaks the plain order: then the property could be said more simply"
    );
}

/// All that is known of a fault, and the cover of each goal. Ids only: there is no name in it.
fn everything(p: &Problem, fault: &Fault, limit: Limit) -> String {
    let covers = [Goal::Must, Goal::Now, Goal::Full, Goal::Break].map(|g| engine::cover(p, fault, g, limit));
    format!("{:#?}\n{covers:#?}", engine::answer(p, fault, limit, TO_BREAK))
}

/// Gives everything another name, so that any order by name turns round.
fn rename(spec: &mut Spec) {
    let mut n = 99_999;
    let mut anew = |name: &mut String| {
        n -= 1;
        *name = format!("ø{n}");
    };
    anew(&mut spec.name);
    spec.forms.iter_mut().for_each(&mut anew);
    spec.sources.iter_mut().for_each(&mut anew);
    spec.classes.iter_mut().map(|c| &mut c.name).for_each(&mut anew);
    spec.listeners.iter_mut().map(|l| &mut l.name).for_each(&mut anew);
    spec.parts.iter_mut().map(|l| &mut l.name).for_each(&mut anew);
    spec.leads.iter_mut().map(|l| &mut l.name).for_each(&mut anew);
    spec.wear.iter_mut().map(|w| &mut w.name).for_each(&mut anew);
    spec.sockets.iter_mut().map(|s| &mut s.name).for_each(&mut anew);
    spec.routes.iter_mut().map(|r| &mut r.name).for_each(&mut anew);
    spec.knobs.iter_mut().map(|k| &mut k.name).for_each(&mut anew);
    for g in &mut spec.gear {
        anew(&mut g.name);
        g.placements.iter_mut().map(|pl| &mut pl.name).for_each(&mut anew);
    }
}

#[test]
fn other_names_change_nothing() {
    for seed in 0..300 {
        let (spec, mut fault) = read(&random::problem(seed));
        let before = everything(&Problem::new(spec.clone()).unwrap(), &fault, Limit::default());
        let mut renamed = spec;
        rename(&mut renamed);
        for m in &mut fault.mends {
            m.name = "ø".to_owned();
        }
        let after = everything(&Problem::new(renamed).unwrap(), &fault, Limit::default());
        assert!(before == after, "seed {seed}:\n{before}\n{after}");
    }
}

/// The same from the text on: every label of gear in a demo rig becomes another, sorted the other way round.
#[test]
fn other_labels_in_a_rig_file_change_nothing() {
    let limit = Limit { nodes: 300, polish: 50 };
    for text in DEMOS {
        let (rig, problems) = model::text::read(text);
        assert_eq!(problems, []);
        let mut labels: Vec<&str> = rig.gear.iter().map(|g| g.name.as_str()).collect();
        // Longer ones first: one label may begin another.
        labels.sort_by_key(|l| (std::cmp::Reverse(l.len()), std::cmp::Reverse(*l)));
        let (mut other, mut left) = (text.to_owned(), Vec::new());
        for (i, label) in labels.iter().enumerate() {
            let next = replaced(&other, label, &format!("Q{}Q", 500 - i));
            // A label that is also the word of a kind, or on a socket, cannot be told from it in this way.
            if model::text::read(&next).1.is_empty() {
                other = next;
            } else {
                left.push(*label);
            }
        }
        assert!(left.len() <= 1, "{left:?}");
        let renamed = model::text::read(&other).0;
        let (a, b) = (check::judge_rig(&rig).unwrap(), check::judge_rig(&renamed).unwrap());
        assert_eq!(a.faults.len(), b.faults.len());
        for (f, g) in a.faults.iter().zip(&b.faults) {
            let (before, after) = (
                engine::answer(&a.problem, &f.fault, limit, TO_BREAK),
                engine::answer(&b.problem, &g.fault, limit, TO_BREAK),
            );
            assert_eq!(before, after, "{} became {}", f.key, g.key);
        }
    }
}

/// Whole words only.
fn replaced(text: &str, old: &str, new: &str) -> String {
    let is_word = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(old) {
        let (before, from) = rest.split_at(at);
        let after = &from[old.len()..];
        let whole =
            !before.chars().next_back().is_some_and(is_word) && !after.chars().next().is_some_and(is_word);
        out.push_str(before);
        out.push_str(if whole { new } else { old });
        rest = after;
    }
    out + rest
}

/// A plan with names for ids, so that plans of rigs with other ids can be compared.
fn named(p: &Problem, plan: &Plan) -> Vec<String> {
    let gear = |g: GearId| p.spec.gear[g.ix()].name.clone();
    let socket = |s: SocketId| format!("{}.{}", gear(p.spec.gear_of(s)), p.spec.socket(s).name);
    let mut out: Vec<String> = Vec::new();
    let end = |e: &End| if *e == End::From { "a" } else { "b" };
    out.extend(plan.pulls.iter().map(|(l, e)| format!("pull {} {}", l.ix(), end(e))));
    for n in &plan.new {
        let pair = &p.pairs.pairs[n.pair];
        let via: Vec<&str> =
            p.pairs.chains[n.chain].via.iter().map(|t| p.spec.leads[t.ix()].name.as_str()).collect();
        out.push(format!("{} > {via:?} > {} {:?}", socket(pair.from), socket(pair.to), n.kept));
    }
    out.extend(plan.places.iter().map(|(g, n)| format!("place {} {n}", gear(*g))));
    let knob = |k: &check::ids::KnobId| &p.spec.knobs[k.ix()];
    out.extend(plan.knobs.iter().map(|k| format!("knob {}.{}", gear(knob(k).gear), knob(k).name)));
    out.extend(plan.starts.iter().map(|g| format!("start {}", gear(*g))));
    out.extend(plan.mends.iter().map(|m| format!("mend {m}")));
    out.sort();
    out
}

/// Puts into the rig, at a place among the others, a piece whose plugs fit nothing, and leads that fit nothing else.
fn with_a_stranger(json: &Value, dice: &mut ChaCha8Rng) -> Value {
    let mut json = json.clone();
    let stranger = json!({
        "id": "lamp", "pos": [0, 0], "watts": 500, "needs_power": true, "loud": true, "sounds": ["in"],
        "sockets": [
            { "id": "in", "dir": "in", "con": ["odd:sock"], "accepts": { "mic": [-60, 20], "line": [-60, 20] }, "gain": true },
            { "id": "out", "dir": "out", "con": ["odd:plug"], "class": "line", "level": [-30, 20] },
            { "id": "power", "dir": "in", "con": ["odder:plug"], "accepts": { "mains": [0, 0] } },
        ],
        "routes": [{ "id": "through", "in": "in", "outs": ["out"], "switch": true, "on": false }],
        "places": [{ "id": "here", "hears": { "house": 200, "band": 200 } }, { "id": "there", "secs": 1 }],
    });
    let lead = json!({ "id": "odd lead", "ends": ["odd:plug", "oddest:sock"], "use": ["mic", "line", "mains"],
                       "length": 500, "owned": 3, "case": 1 });
    for (key, what) in [("gear", stranger), ("leads", lead)] {
        let list = json["rig"][key].as_array_mut().unwrap();
        let at = usize::try_from(dice.next_u64() % u64::try_from(list.len() + 1).unwrap()).unwrap();
        list.insert(at, what);
    }
    // Only listeners that there are can hear it.
    let there: Vec<String> = json["rig"]["listeners"]
        .as_array()
        .unwrap()
        .iter()
        .map(|l| l["id"].as_str().unwrap().to_owned())
        .collect();
    let lamp = json["rig"]["gear"].as_array_mut().unwrap().iter_mut().find(|g| g["id"] == "lamp").unwrap();
    let hears: Value = there.into_iter().map(|l| (l, json!(200))).collect();
    lamp["places"][0]["hears"] = hears;
    json
}

#[test]
fn a_piece_and_a_lead_that_fit_nothing_change_nothing() {
    for seed in 0..300 {
        let json = random::problem(seed);
        let other = with_a_stranger(&json, &mut ChaCha8Rng::seed_from_u64(seed));
        let ((spec, fault), (spec_too, fault_too)) = (read(&json), read(&other));
        let (p, q) = (Problem::new(spec).unwrap(), Problem::new(spec_too).unwrap());
        assert_eq!(q.spec.gear.len(), p.spec.gear.len() + 1);
        for goal in [Goal::Must, Goal::Now, Goal::Full, Goal::Break] {
            let a = engine::cover(&p, &fault, goal, Limit::default());
            let b = engine::cover(&q, &fault_too, goal, Limit::default());
            assert_eq!(a.values, b.values, "seed {seed}, {goal:?}");
            assert_eq!(a.proved, b.proved, "seed {seed}, {goal:?}");
            assert_eq!(named(&p, &a.plan), named(&q, &b.plan), "seed {seed}, {goal:?}");
        }
    }
}

#[test]
fn the_same_problem_gets_the_same_answer_to_the_byte() {
    for seed in 0..200 {
        let json = random::problem(seed);
        let once = || {
            let (spec, fault) = read(&json);
            everything(&Problem::new(spec).unwrap(), &fault, Limit::default())
        };
        assert!(once() == once(), "seed {seed}");
    }
    let (rig, _) = model::text::read(DEMOS[1]);
    let once = || {
        let c = check::judge_rig(&rig).unwrap();
        let limit = Limit { nodes: 300, polish: 50 };
        let all = c.faults.iter().map(|f| engine::answer(&c.problem, &f.fault, limit, TO_BREAK));
        format!("{:#?}", all.collect::<Vec<_>>())
    };
    assert!(once() == once());
}
