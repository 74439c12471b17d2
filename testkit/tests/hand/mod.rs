//! Small problems written by hand, each figure of which can be added up on paper.

#![allow(dead_code, reason = "each test file uses some of them")]
#![allow(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use check::Problem;
use check::ids::{GearId, KnobId, LeadId, LinkId, SocketId};
use check::plan::{End, NewLink, Plan};
use serde_json::{Value, json};

pub(crate) fn xlr(id: &str, length: i64, owned: i64, case: i64) -> Value {
    json!({ "id": id, "ends": ["xlr:sock", "xlr:plug"], "wire": "bal", "use": ["mic", "line"],
            "length": length, "owned": owned, "case": case })
}

pub(crate) fn mic(phantom: &str) -> Value {
    json!({ "id": "mic", "pos": [0, 0], "makes": [{ "socket": "o", "source": "voice" }],
            "sockets": [{ "id": "o", "dir": "out", "con": ["xlr:plug"], "class": "mic", "level": [-50, -30],
                          "phantom": phantom }] })
}

pub(crate) fn channel(id: &str, phantom: &str) -> Value {
    json!({ "id": id, "dir": "in", "con": ["xlr:sock"], "accepts": { "mic": [-60, -18], "line": [-20, 24] },
            "phantom": phantom })
}

pub(crate) fn main_out() -> Value {
    json!({ "id": "main", "dir": "out", "con": ["xlr:plug"], "class": "line", "level": [-30, 20] })
}

pub(crate) fn voice() -> Value {
    json!([{ "id": "voice for house", "source": "voice", "listener": "house", "rank": "must" }])
}

/// The worked example: mic at 0 m, mixer at 1 m, loud speaker at 3 m.
pub(crate) fn worked_example(lost: &[&str], spares: i64) -> Value {
    json!({ "lost": lost, "rig": {
        "name": "worked example",
        "listeners": [{ "id": "house", "need": 85 }],
        "parts": voice(),
        "leads": [xlr("xlr3", 30, 1, 0), xlr("xlr6", 60, 1, 0), xlr("xlr10", 100, spares, spares)],
        "gear": [
            mic("ok"),
            { "id": "mixer", "pos": [1, 0], "sockets": [channel("in", "no"), main_out()],
              "routes": [{ "id": "r", "in": "in", "outs": ["main"] }] },
            { "id": "speaker", "pos": [3, 0], "loud": true, "sounds": ["i"],
              "sockets": [{ "id": "i", "dir": "in", "con": ["xlr:sock"], "gain": true,
                            "accepts": { "mic": [-60, -18], "line": [-20, 24] } }],
              "places": [{ "id": "front", "hears": { "house": 100 } }] },
        ],
        "patch": [
            { "from": "mic.o", "to": "mixer.in", "via": ["xlr3"] },
            { "from": "mixer.main", "to": "speaker.i", "via": ["xlr6"] },
        ],
    } })
}

/// A strip at 1 m whose first outlet dies; the amplifier hangs on it by its own tail.
pub(crate) fn tailed(kept: bool, via: &[&str], lost: &[&str]) -> Value {
    json!({ "lost": lost, "rig": {
        "name": "tail", "tail_kept": kept,
        "listeners": [{ "id": "house", "need": 85 }],
        "parts": voice(),
        "leads": [
            xlr("x3", 30, 1, 0),
            { "id": "ext", "ends": ["mains:plug", "mains:sock"], "use": ["mains"], "length": 30, "owned": 1 },
        ],
        "gear": [
            mic("ok"),
            { "id": "speaker", "pos": [0, 0], "sounds": ["i"], "needs_power": true, "auto": true,
              "sockets": [
                channel("i", "no"),
                { "id": "p", "dir": "in", "con": ["mains:plug"], "accepts": { "mains": [0, 0] }, "tail": 30 },
              ],
              "places": [{ "id": "front", "hears": { "house": 100 } }] },
            { "id": "wall", "pos": [1, 0], "root": true, "sockets": [
                { "id": "s1", "dir": "out", "con": ["mains:sock"], "class": "mains" },
                { "id": "s2", "dir": "out", "con": ["mains:sock"], "class": "mains" },
            ] },
        ],
        "patch": [
            { "from": "mic.o", "to": "speaker.i", "via": ["x3"] },
            { "from": "wall.s1", "to": "speaker.p", "via": via },
        ],
    } })
}

/// in1 (bank a, on) dies; in2 is in bank b, off, with a second microphone perhaps in in3 of that bank.
pub(crate) fn banked(second: Option<&str>, lost: &[&str]) -> Value {
    let mut problem = json!({ "lost": lost, "rig": {
        "name": "banks",
        "listeners": [{ "id": "house", "need": 85 }],
        "parts": voice(),
        "leads": [xlr("x3", 30, 3, 0)],
        "gear": [
            mic("needs"),
            { "id": "desk", "pos": [0, 0],
              "sockets": [channel("in1", "switch"), channel("in2", "switch"), channel("in3", "switch"), main_out()],
              "banks": [{ "id": "a", "on": true, "sockets": ["in1"] },
                        { "id": "b", "on": false, "sockets": ["in2", "in3"] }],
              "routes": [{ "id": "r1", "in": "in1", "outs": ["main"] }, { "id": "r2", "in": "in2", "outs": ["main"] },
                         { "id": "r3", "in": "in3", "outs": ["main"] }] },
            { "id": "speaker", "pos": [0, 0], "sounds": ["i"], "sockets": [channel("i", "no")],
              "places": [{ "id": "front", "hears": { "house": 100 } }] },
        ],
        "patch": [
            { "from": "mic.o", "to": "desk.in1", "via": ["x3"] },
            { "from": "desk.main", "to": "speaker.i", "via": ["x3"] },
        ],
    } });
    if let Some(phantom) = second {
        let mut other = mic(phantom);
        other["id"] = json!("ribbon");
        other["makes"] = json!([{ "socket": "o", "source": "chat" }]);
        problem["rig"]["gear"].as_array_mut().unwrap().push(other);
        let link = json!({ "from": "ribbon.o", "to": "desk.in3", "via": ["x3"] });
        problem["rig"]["patch"].as_array_mut().unwrap().push(link);
    }
    problem
}

/// The speaker's supply is lost, and can be mended at the speaker.
pub(crate) fn mendable(secs: i64, owned: i64, case: i64) -> Value {
    json!({
        "lost": ["supply:speaker"],
        "mends": [{ "id": "swap cells", "gives": "supply:speaker", "at": "speaker", "secs": secs, "wear": "cell9" }],
        "rig": {
            "name": "mend", "wear": [{ "id": "cell9", "owned": owned, "case": case }],
            "listeners": [{ "id": "house", "need": 85 }],
            "parts": voice(),
            "leads": [xlr("x3", 30, 1, 0), { "id": "iec2", "ends": ["mains:plug", "iec:sock"], "use": ["mains"],
                                             "length": 30, "owned": 1 }],
            "gear": [
                mic("ok"),
                { "id": "speaker", "pos": [1, 0], "loud": true, "needs_power": true, "boot": 9, "sounds": ["i"],
                  "sockets": [channel("i", "no"),
                              { "id": "p", "dir": "in", "con": ["iec:plug"], "accepts": { "mains": [0, 0] } }],
                  "places": [{ "id": "front", "hears": { "house": 100 } }] },
                { "id": "wall", "pos": [1, 1], "root": true,
                  "sockets": [{ "id": "s1", "dir": "out", "con": ["mains:sock"], "class": "mains" }] },
            ],
            "patch": [
                { "from": "mic.o", "to": "speaker.i", "via": ["x3"] },
                { "from": "wall.s1", "to": "speaker.p", "via": ["iec2"] },
            ],
        },
    })
}

/// A plan as the commands print it: `{"pull": [[link, "a|b"]], "new": [[from, to, [via], null|"a"|"b"]], "place": {gear:
/// placement}, "knob": ["G.R"], "start": [gear]}`. `None` where a link of it is none that may be made.
pub(crate) fn plan(p: &Problem, json: &Value) -> Option<Plan> {
    let list = |key: &str| json[key].as_array().cloned().unwrap_or_default();
    let gear = |name: &str| GearId::at(p.spec.gear.iter().position(|g| g.name == name).unwrap());
    let socket = |at: &Value| {
        let (g, name) = at.as_str().unwrap().split_once('.').unwrap();
        let is = |s: &check::spec::Socket| s.gear == gear(g) && s.name == name;
        SocketId::at(p.spec.sockets.iter().position(is).unwrap())
    };
    let end = |at: &Value| match at.as_str() {
        Some("a") => Some(End::From),
        Some("b") => Some(End::To),
        _ => None,
    };
    let mut plan = Plan::default();
    for pull in list("pull") {
        let link = LinkId::at(usize::try_from(pull[0].as_u64().unwrap()).unwrap());
        plan.pulls.push((link, end(&pull[1]).unwrap()));
    }
    for new in list("new") {
        let lead = |t: &Value| LeadId::at(p.spec.leads.iter().position(|l| *t == *l.name).unwrap());
        let via: Vec<LeadId> = new[2].as_array().unwrap().iter().map(lead).collect();
        let pair = p.pairs.find(socket(&new[0]), socket(&new[1]))?;
        plan.new.push(NewLink { pair, chain: p.pairs.find_chain(pair, &via)?, kept: end(&new[3]) });
    }
    for (name, at) in json["place"].as_object().into_iter().flatten() {
        let g = gear(name);
        let n = p.spec.gear[g.ix()].placements.iter().position(|pl| *at == *pl.name).unwrap();
        plan.places.push((g, n));
    }
    for knob in list("knob") {
        let (g, name) = knob.as_str().unwrap().split_once('.').unwrap();
        let is = |k: &check::spec::Knob| k.gear == gear(g) && k.name == name;
        plan.knobs.push(KnobId::at(p.spec.knobs.iter().position(is).unwrap()));
    }
    plan.starts = list("start").iter().map(|g| gear(g.as_str().unwrap())).collect();
    plan.tidy();
    Some(plan)
}
