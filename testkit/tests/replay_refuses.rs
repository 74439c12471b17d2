//! The replay does not do what hands could not do, and says what is in the way.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use check::fault::{Fault, Mend};
use check::ids::{GearId, KnobId, LeadId, LinkId, SocketId, WearId};
use check::plan::End;
use check::replay::{Act, Replay, Take, replay, undo};
use check::spec::{Place, Wear};
use check::{Problem, Unsafe};
use serde_json::{Value, json};

const SPEAKER: GearId = GearId(2);
const SPARE: GearId = GearId(3);
const MIXER: GearId = GearId(1);
const MIC: SocketId = SocketId(0);
const INPUT: SocketId = SocketId(3);
const XLR3: LeadId = LeadId(0);
const XLR6: LeadId = LeadId(1);
const XLR10: LeadId = LeadId(2);
const FROM: End = End::From;
const TO: End = End::To;

/// The worked example of docs/cover.md, with a packed microphone, a fader, a supply for the speaker, and a band that must not
/// hear the voice.
fn rig() -> Value {
    let xlr = |id: &str, length: i64, case: i64| {
        json!({ "id": id, "ends": ["xlr:sock", "xlr:plug"], "use": ["mic", "line"], "length": length, "owned": 1,
                "case": case })
    };
    let takes = json!({ "mic": [-60, -18], "line": [-20, 24] });
    json!({
        "name": "worked example",
        "listeners": [{ "id": "house", "need": 85 }, { "id": "sleeper" }],
        "parts": [{ "id": "voice", "source": "voice", "listener": "house", "rank": "must" },
                  { "id": "peace", "source": "click", "listener": "house", "rank": "never" }],
        "leads": [xlr("xlr3", 30, 0), xlr("xlr6", 60, 0), xlr("xlr10", 100, 1),
                  { "id": "iec", "ends": ["mains:plug", "iec:sock"], "use": ["mains"], "length": 60, "owned": 1 }],
        "wear": [{ "id": "fuse", "owned": 1 }],
        "gear": [
            { "id": "MIC", "pos": [0, 0], "makes": [{ "socket": "OUT", "source": "voice" }],
              "sockets": [{ "id": "OUT", "dir": "out", "con": ["xlr:plug"], "class": "mic", "level": [-50, -30] }] },
            { "id": "MIXER", "pos": [1, 0],
              "sockets": [{ "id": "1", "dir": "in", "con": ["xlr:sock"], "accepts": takes },
                          { "id": "MAIN", "dir": "out", "con": ["xlr:plug"], "class": "line", "level": [-30, 20] }],
              "routes": [{ "id": "FADER", "in": "1", "outs": ["MAIN"], "switch": true }] },
            { "id": "SPEAKER", "pos": [3, 0], "loud": true, "needs_power": true, "sounds": ["A"],
              "sockets": [{ "id": "A", "dir": "in", "con": ["xlr:sock"], "gain": true, "accepts": takes },
                          { "id": "POWER", "dir": "in", "con": ["iec:plug"], "accepts": { "mains": [0, 0] } }],
              "places": [{ "id": "front", "hears": { "house": 100 } }, { "id": "wall", "hears": { "house": 90 } }] },
            { "id": "SPARE MIC", "pos": [0, 0], "place": "case", "places": [{ "id": "stand" }],
              "makes": [{ "socket": "OUT", "source": "click" }],
              "sockets": [{ "id": "OUT", "dir": "out", "con": ["xlr:plug"], "class": "mic", "level": [-50, -30] }] },
            { "id": "WALL", "pos": [3, 1], "root": true, "sockets": [
                { "id": "1", "dir": "out", "con": ["mains:sock"], "class": "mains" },
                { "id": "2", "dir": "out", "con": ["mains:sock"], "class": "mains" }] },
        ],
        "patch": [
            { "from": "MIC.OUT", "to": "MIXER.1", "via": ["xlr3"] },
            { "from": "MIXER.MAIN", "to": "SPEAKER.A", "via": ["xlr6"] },
            { "from": "WALL.1", "to": "SPEAKER.POWER", "via": ["iec"] },
        ],
    })
}

fn problem() -> Problem {
    Problem::new(testkit::read::case(&rig()).unwrap().neutral.spec).unwrap()
}

fn dead(entry: &str) -> Fault {
    testkit::read::case(&json!({ "rig": rig(), "lost": [entry] })).unwrap().fault
}

/// Plan A of the worked example: xlr6 out of the mixer and into the microphone.
fn plan_a() -> Vec<Act> {
    let plug = Act::Plug { from: MIC, to: INPUT, via: vec![XLR6], kept: Some(TO), end: FROM, takes: vec![] };
    vec![Act::Quieten(SPEAKER), pull(0, FROM), pull(1, FROM), plug, Act::BringUp(SPEAKER)]
}

fn pull(link: usize, end: End) -> Act {
    Act::Pull { link: LinkId::at(link), end }
}

fn fresh(end: End, lead: LeadId, takes: &[(LeadId, Take)]) -> Act {
    Act::Plug { from: MIC, to: INPUT, via: vec![lead], kept: None, end, takes: takes.to_vec() }
}

fn without(acts: &[Act], left_out: usize) -> Vec<Act> {
    acts.iter().enumerate().filter(|(i, _)| *i != left_out).map(|(_, act)| act.clone()).collect()
}

#[track_caller]
fn stops(fault: &Fault, acts: &[Act], said: &str) {
    let stopped = replay(&problem(), fault, acts).unwrap_err();
    assert_eq!(stopped.to_string(), said);
}

#[test]
fn plan_a_is_heard_once_the_speaker_is_up_again() {
    let p = problem();
    let fault = dead("gear:MIXER");
    let carried: Vec<usize> =
        replay(&p, &fault, &plan_a()).unwrap().iter().map(|after| after.carried.len()).collect();
    assert_eq!(carried, [0, 0, 0, 0, 1]);
    let mut replay = Replay::new(&p, &fault);
    for act in plan_a() {
        replay.act(&act).unwrap();
    }
    assert!(!replay.is_normal());
    replay.repair();
    for act in undo(&p.spec, &plan_a()) {
        replay.act(&act).unwrap();
    }
    assert!(replay.is_normal());
    assert_eq!(replay.look().carried, p.counted);
}

#[test]
fn a_loud_piece_is_not_touched_while_it_is_up() {
    let fault = dead("gear:MIXER");
    // The level at the kept end touches it, though no plug does.
    stops(&fault, &without(&plan_a(), 0), "step 3: SPEAKER is loud and still up; turn it down first");
    let up = "step 1: SPEAKER is loud and still up; turn it down first";
    stops(&fault, &[pull(1, TO)], up);
    stops(&fault, &[Act::Start(SPEAKER)], up);
    stops(&fault, &[Act::Place { gear: SPEAKER, to: Place::At(1) }], up);
    stops(&fault, &[Act::Quieten(SPEAKER), Act::Quieten(SPEAKER)], "step 2: SPEAKER is turned down already");
    stops(&fault, &[Act::BringUp(SPEAKER)], "step 1: SPEAKER is turned up already");
    stops(&fault, &plan_a()[..4], "step 5: SPEAKER is still turned down at the end; bring it up");
}

#[test]
fn a_socket_holds_one_plug_and_a_plug_comes_out_once() {
    let fault = dead("gear:MIXER");
    stops(&fault, &without(&plan_a(), 1), "step 3: MIC OUT has a plug in it; pull that first");
    stops(
        &fault,
        &without(&plan_a(), 2),
        "step 3: the plug at SPEAKER A cannot stay in for a new link; its other end has to be out, and some lead left at it",
    );
    let twice = "step 2: no plug of that link is in MIC OUT; it is out already, or it cannot come out there";
    stops(&fault, &[pull(0, FROM), pull(0, FROM)], twice);
    // The plug at the microphone is another link's by now.
    let mut after = plan_a();
    after.push(pull(0, FROM));
    stops(&fault, &after, &twice.replace("step 2", "step 6"));
    let back = Act::Return { link: LinkId::at(0), end: FROM };
    stops(&fault, &[back], "step 1: MIC OUT has a plug in it; pull that first");
}

#[test]
fn a_lead_is_taken_from_where_one_is() {
    let fault = dead("gear:MIXER");
    let acts = |takes| vec![Act::Quieten(SPEAKER), pull(0, FROM), pull(1, TO), fresh(FROM, XLR6, takes)];
    stops(
        &fault,
        &acts(&[(XLR6, Take::Freed)]),
        "step 4: there is no xlr6 free; free one first, or take another",
    );
    stops(
        &fault,
        &acts(&[(XLR6, Take::Stage)]),
        "step 4: there is no xlr6 on stage; free one first, or take another",
    );
    stops(&fault, &acts(&[]), "step 4: the leads taken for MIC OUT are not those that the link lacks");
    stops(
        &fault,
        &acts(&[(XLR10, Take::Bag)]),
        "step 4: the leads taken for MIC OUT are not those that the link lacks",
    );
    // With both its plugs out it is free.
    let mut free = acts(&[(XLR6, Take::Freed)]);
    free.insert(3, pull(1, FROM));
    free.push(fresh(TO, XLR6, &[]));
    free.push(Act::BringUp(SPEAKER));
    assert_eq!(replay(&problem(), &fault, &free).unwrap().pop().unwrap().carried.len(), 1);
    // A dead one never is.
    let mut spare_gone = free.clone();
    spare_gone[4] = fresh(FROM, XLR10, &[(XLR10, Take::Bag)]);
    let both = dead("gear:MIXER").and(&dead("spare:xlr10:1:case"));
    stops(&both, &spare_gone, "step 5: there is no xlr10 in the bag; free one first, or take another");
    let both = dead("gear:MIXER").and(&dead("lead:1.0"));
    stops(&both, &free, "step 5: there is no xlr6 free; free one first, or take another");
    stops(
        &both,
        &plan_a(),
        "step 4: the plug at SPEAKER A cannot stay in for a new link; its other end has to be out, and some lead left at it",
    );
}

#[test]
fn a_link_is_plugged_at_both_ends_and_is_one_that_may_be() {
    let fault = dead("gear:MIXER");
    let half = [
        Act::Quieten(SPEAKER),
        pull(0, FROM),
        fresh(FROM, XLR10, &[(XLR10, Take::Bag)]),
        Act::BringUp(SPEAKER),
    ];
    stops(&fault, &half, "step 5: the link from MIC OUT to SPEAKER A is only half plugged at the end");
    // 3 m does not reach.
    let short = [Act::Quieten(SPEAKER), fresh(FROM, XLR3, &[])];
    stops(
        &fault,
        &short,
        "step 2: MIC OUT may not be joined to SPEAKER A like this; the link check refuses it",
    );
}

#[test]
fn nothing_dead_or_packed_or_unknown_is_used() {
    let fault = dead("gear:MIXER");
    stops(&fault, &[Act::Knob { knob: KnobId(0), on: false }], "step 1: MIXER is dead; do without it");
    stops(&fault, &[Act::Start(MIXER)], "step 1: MIXER is dead; do without it");
    stops(&dead("socket:SPEAKER.A"), &plan_a(), "step 4: SPEAKER A is dead; do without it");
    stops(&fault, &[Act::Start(SPARE)], "step 1: SPARE MIC is still packed; place it first");
    let via = vec![XLR10];
    let packed = Act::Plug { from: SocketId(5), to: INPUT, via, kept: None, end: FROM, takes: vec![] };
    stops(&fault, &[packed], "step 1: SPARE MIC is still packed; place it first");
    let nowhere = Act::Place { gear: SPARE, to: Place::At(1) };
    stops(&fault, &[nowhere], "step 1: SPARE MIC, that place: there is no such thing, or none is left");
    stops(&fault, &[Act::Mend(0)], "step 1: mend 1: there is no such thing, or none is left");
}

#[test]
fn nothing_is_switched_on_without_power_and_what_loses_it_is_off() {
    let p = problem();
    let fault = dead("socket:WALL.1");
    let start = [Act::Quieten(SPEAKER), Act::Start(SPEAKER)];
    stops(&fault, &start, "step 2: SPEAKER has no power to be switched on; plug its supply first");
    // Into the other outlet, on; then out and in again: off until switched on again.
    let (iec, power) = (LeadId(3), SocketId(4));
    let there = SocketId(7);
    let plug = Act::Plug { from: there, to: power, via: vec![iec], kept: Some(TO), end: FROM, takes: vec![] };
    let out = Act::Unplug { from: there, to: power, end: FROM };
    let mut hands = Replay::new(&p, &fault);
    let mut heard = Vec::new();
    for act in [
        Act::Quieten(SPEAKER),
        pull(2, FROM),
        plug.clone(),
        Act::Start(SPEAKER),
        out,
        plug,
        Act::BringUp(SPEAKER),
    ] {
        heard.push(hands.act(&act).unwrap().carried.len());
    }
    assert_eq!(heard, [0; 7]);
    assert_eq!(hands.off(), [SPEAKER]);
    for act in [Act::Quieten(SPEAKER), Act::Start(SPEAKER), Act::BringUp(SPEAKER)] {
        heard.push(hands.act(&act).unwrap().carried.len());
    }
    assert_eq!(heard[7..], [0, 0, 1]);
}

#[test]
fn a_mend_uses_up_what_there_is_of_it() {
    let mut spec = testkit::read::case(&rig()).unwrap().neutral.spec;
    spec.wear = vec![Wear { name: "fuse".to_owned(), stage: 1, case: 0 }];
    let p = Problem::new(spec).unwrap();
    let mend = |gives| Mend {
        name: "fuse".to_owned(),
        gives: vec![gives],
        at: MIXER,
        seconds: 9,
        wear: Some((WearId(0), 1)),
    };
    let fault = Fault { mends: vec![mend(0), mend(1)], ..dead("gear:MIXER").and(&dead("lead:0.0")) };
    let stopped = replay(&p, &fault, &[Act::Mend(0), Act::Mend(1)]).unwrap_err();
    assert_eq!(stopped.to_string(), "step 2: fuse: there is no such thing, or none is left");
    // The mixer is back; the lead is still dead.
    let after = replay(&p, &fault, &[Act::Mend(0)]).unwrap();
    assert_eq!(after[0].carried, []);
    let after = replay(&p, &Fault { mends: vec![mend(0)], ..dead("gear:MIXER") }, &[Act::Mend(0)]).unwrap();
    assert_eq!(after[0].carried, p.counted);
}

#[test]
fn what_must_not_be_heard_is_no_danger_while_the_speaker_is_down() {
    let p = problem();
    let fault = dead("gear:MIC");
    // The packed microphone makes what must not be heard.
    let acts = [
        Act::Quieten(SPEAKER),
        Act::Place { gear: SPARE, to: Place::At(0) },
        pull(1, FROM),
        Act::Plug { from: SocketId(5), to: INPUT, via: vec![XLR6], kept: Some(TO), end: FROM, takes: vec![] },
        Act::BringUp(SPEAKER),
    ];
    let after = replay(&p, &fault, &acts).unwrap();
    let leaks = |d: &Option<Unsafe>| matches!(d, Some(Unsafe::Never(_)));
    let now: Vec<bool> = after.iter().map(|a| leaks(&a.danger)).collect();
    let up: Vec<bool> = after.iter().map(|a| leaks(&a.danger_if_up)).collect();
    assert_eq!(now, [false, false, false, false, true]);
    assert_eq!(up, [false, false, false, true, true]);
}
