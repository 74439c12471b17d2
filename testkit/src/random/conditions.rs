//! Scenes about what holds only sometimes: a passive through, facts nobody has checked, mutes, a loudspeaker that a
//! headphone plug cuts, an output that must stay loaded, phantom power that is off after a restart.

use serde_json::{Value, json};

use super::draft::{Draft, input, output, with};
use super::power::{mains_in, outlet};

const BOTH: [&str; 2] = ["mic", "line"];

fn channel(id: &str, more: &Value) -> Value {
    input(id, &["xlr:sock"], &BOTH, more)
}

/// A powered speaker that passes its input on to a second one: also without power, or perhaps so.
pub(super) fn through(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let passive = match d.dice.below(10) {
        0 => json!(false),
        1..=5 => json!(true),
        _ => json!("through is bare wire"),
    };
    let auto = d.dice.chance(20);
    let boot = d.dice.between(0, 8);
    let mut route = json!({ "id": "through", "in": "i", "outs": ["t"], "gain": [0, 0], "passive": passive });
    if d.dice.chance(25) {
        route["only_if"] = json!("through works with a microphone");
    }
    let link_switch = d.dice.chance(20);
    route["switch"] = json!(link_switch);
    d.speaker(
        "speaker",
        1.0,
        0.0,
        &BOTH,
        &json!({
            "sockets": [
                channel("i", &json!({})), output("t", "xlr:plug", "mic", [-60, 0], &json!({})), mains_in(),
            ],
            "routes": [route],
            "needs_power": true, "watts": 250, "boot": boot, "auto": auto,
        }),
    );
    d.speaker(
        "second",
        2.0,
        0.0,
        &BOTH,
        &json!({ "sockets": [channel("i", &json!({})), mains_in()], "needs_power": true, "watts": 250 }),
    );
    // Too small for both of them, or not.
    let cap = d.dice.pick(&[300, 300, 3000]).unwrap_or(3000);
    outlet(d, "wall a", 1.0, 1.0, 3000, 1);
    outlet(d, "wall b", 2.0, 1.0, cap, 2);
    d.mic_leads(2);
    d.mains_leads(2);
    d.facts = vec!["through is bare wire", "through works with a microphone"];
    d.link("mic.o", "speaker.i", &["x3"]);
    d.link("speaker.t", "second.i", &["x3"]);
    d.link("wall a.s1", "speaker.p", &["iec2"]);
    d.link("wall b.s1", "second.p", &["iec2"]);
    d.part("voice", "house", "must");
    if d.dice.chance(50) {
        d.monitor("monitor", 1.5, 1.0, &BOTH, 30);
        let rank = d.dice.word(&["nice", "should"]);
        d.part("voice", "band", rank);
    }
    let lost = d.dice.word(&[
        "supply:speaker",
        "supply:speaker",
        "gear:wall a",
        "gear:wall a",
        "socket:wall a.s1",
        "lead:2.0",
        "gear:speaker",
        "sound:speaker",
        "supply:second",
    ]);
    d.lost.push(lost.to_owned());
}

/// A desk whose spare channels lie in a mute group, perhaps with something that must stay muted.
pub(super) fn muted(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let pos = d.pos(1.0, 0.0);
    let (group, second) = (d.dice.chance(80), d.dice.chance(70));
    let guarded = d.dice.chance(40);
    let route = |id: &str, from: &str, mutes: &[&str], more: &Value| {
        with(json!({ "id": id, "in": from, "outs": ["main"], "mutes": mutes }), more)
    };
    let up = d.dice.chance(70);
    let mut routes = vec![
        route("m1", "in1", &["voice"], &json!({ "switch": true })),
        route("m2", "in2", &["spares"], &json!({ "switch": true, "on": up })),
        route("m3", "in3", &["spares"], &json!({})),
    ];
    if second {
        routes.push(route("m4", "in4", &["spares", "last"], &json!({})));
    }
    let gain = d.dice.chance(60);
    let also = d.dice.chance(20);
    d.gear.push(json!({
        "id": "desk", "pos": pos, "routes": routes,
        "mutes": [{ "id": "voice", "on": false }, { "id": "spares", "on": group }, { "id": "last", "on": also }],
        "sockets": [
            channel("in1", &json!({})), channel("in2", &json!({ "gain": gain })), channel("in3", &json!({})),
            channel("in4", &json!({ "gain": true })),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
        ],
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.mic_leads(if guarded { 3 } else { 2 });
    d.link("mic.o", "desk.in1", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("voice", "house", "must");
    if guarded {
        d.mic("talkback", "talk", 0.5, 0.5, "ok");
        d.link("talkback.o", "desk.in3", &["x3"]);
        let rank = d.dice.word(&["never", "never", "nice"]);
        d.part("talk", "house", rank);
    }
    let lost = d.dice.word(&["socket:desk.in1", "socket:desk.in1", "route:desk.m1", "lead:0.0", "lead:1.0"]);
    d.lost.push(lost.to_owned());
}

/// A keyboard whose own loudspeaker is cut by the headphone plug.
pub(super) fn headphones(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    let (far, pts) = (d.dice.between(5, 9), d.dice.between(0, 4));
    let louder = d.dice.chance(70);
    let jack = |id: &str, wire: &str| output(id, "jack:sock", "line", [-20, 4], &json!({ "wire": wire }));
    let mut makes = vec![
        json!({ "socket": "o", "source": "keys" }),
        json!({ "socket": "phones", "source": "keys" }),
        json!({ "socket": "own", "source": "keys" }),
    ];
    let count = d.dice.chance(40);
    if count {
        makes.push(json!({ "socket": "own", "source": "count" }));
    }
    d.gear.push(json!({
        "id": "keys", "pos": pos, "pts": pts, "makes": makes,
        "sounds": [{ "socket": "own", "guard": { "empty": "keys.phones" } }],
        "sockets": [jack("o", "bal"), jack("phones", "stereo"), input("own", &["mini:sock"], &["line"], &json!({}))],
        "places": [
            { "id": "low", "hears": { "band": 88, "house": if louder { 86 } else { 60 } } },
            { "id": "up", "hears": { "band": 80, "house": 88 }, "secs": far },
        ],
    }));
    let pos = d.pos(0.2, 0.2);
    let tail = json!({ "wire": "stereo", "tail": 20 });
    d.gear.push(json!({
        "id": "headphones", "pos": pos, "sounds": ["plug"],
        "sockets": [with(input("plug", &["jack:plug"], &["line"], &json!({})), &tail)],
        "places": [{ "id": "on", "hears": { "band": 90 } }],
    }));
    d.speaker(
        "speaker",
        2.0,
        0.0,
        &["line"],
        &json!({ "sockets": [input("i", &["jack:sock"], &["line"], &json!({}))] }),
    );
    let case = d.dice.between(0, 1);
    d.lead("j3", ["jack:plug", "jack:plug"], "ts", &["line"], 30, (2, case));
    d.link("keys.o", "speaker.i", &["j3"]);
    d.link("keys.phones", "headphones.plug", &[]);
    d.part("keys", "house", "must");
    let rank = d.dice.word(&["nice", "nice", "should", "must"]);
    d.part("keys", "band", rank);
    if count {
        d.part("count", "house", "never");
    }
    d.tail_kept = d.dice.chance(60);
    let lost =
        d.dice.word(&["gear:speaker", "sound:speaker", "socket:keys.o", "lead:0.0", "socket:keys.phones"]);
    d.lost.push(lost.to_owned());
}

/// A valve amplifier whose cabinet lead, or whose cabinet, could be robbed for the main speaker.
pub(super) fn valve(d: &mut Draft) {
    let feed = |d: &mut Draft, id: &str, source: &str, x: f64| {
        let pos = d.pos(x, 0.0);
        d.gear.push(json!({
            "id": id, "pos": pos, "makes": [{ "socket": "o", "source": source }],
            "sockets": [output("o", "twist:sock", "speaker", [10, 30], &json!({ "loaded": source == "violin" }))],
        }));
    };
    feed(d, "valve amplifier", "violin", 1.0);
    feed(d, "main amplifier", "voice", 0.5);
    let case = d.dice.pick(&[0, 1, 1]).unwrap_or(1);
    let spare = d.dice.pick(&[0, 0, 1]).unwrap_or(0);
    let ends = ["twist:plug", "twist:plug"];
    d.lead("s4", ends, "ts", &["speaker"], 45, (2 + spare, spare.min(case)));
    if d.dice.chance(50) {
        d.lead("s8", ends, "ts", &["speaker"], 80, (1, 1));
    }
    for (id, listener, x) in [("cabinet", "band", 1.5), ("speaker", "house", 2.0)] {
        let pos = d.pos(x, 0.5);
        let mut places = vec![json!({ "id": "front", "hears": { listener: 96 } })];
        if listener == "band" {
            let secs = d.dice.between(3, 10);
            places.push(
                json!({ "id": "turned", "hears": { "house": 90, "band": 84 }, "secs": secs, "pts": 2 }),
            );
        }
        d.gear.push(json!({
            "id": id, "pos": pos, "sounds": ["i"], "places": places,
            "sockets": [{ "id": "i", "dir": "in", "con": ["twist:sock"], "wire": "ts", "accepts": { "speaker": [0, 40] } }],
        }));
    }
    d.link("valve amplifier.o", "cabinet.i", &["s4"]);
    d.link("main amplifier.o", "speaker.i", &["s4"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["nice", "nice", "nice", "nice", "should"]);
    d.part("violin", "band", rank);
    let lost = d.dice.word(&[
        "lead:1.0",
        "lead:1.0",
        "gear:speaker",
        "sound:speaker",
        "sound:speaker",
        "gear:cabinet",
    ]);
    d.lost.push(lost.to_owned());
}

/// A condenser microphone on a desk that forgets its phantom power when it loses the mains.
pub(super) fn forgetting(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "needs");
    let second = d.dice.word(&["harmed", "ok", "needs"]);
    d.mic("mic b", "other", 0.4, 0.4, second);
    let pos = d.pos(1.0, 0.0);
    let (forgets, on) = (d.dice.chance(85), d.dice.chance(90));
    let (auto, boot, wait) = (d.dice.chance(40), d.dice.between(0, 5), d.dice.between(2, 5));
    let battery = d.dice.chance(20);
    let spare = if second == "harmed" { "no" } else { "switch" };
    d.gear.push(json!({
        "id": "desk", "pos": pos, "needs_power": true, "auto": auto, "boot": boot, "battery": battery, "watts": 40,
        "sockets": [
            channel("in1", &json!({ "phantom": "switch" })),
            channel("in2", &json!({ "phantom": spare })),
            channel("in3", &json!({ "phantom": "on" })),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
            mains_in(),
        ],
        "routes": [
            { "id": "r1", "in": "in1", "outs": ["main"] },
            { "id": "r2", "in": "in2", "outs": ["main"] },
            { "id": "r3", "in": "in3", "outs": ["main"], "switch": true, "on": d.dice.chance(30) },
        ],
        "banks": [{
            "id": "48v", "on": on, "wait": wait, "forgets": forgets,
            "sockets": if second == "harmed" { vec!["in1"] } else { vec!["in1", "in2"] },
        }],
    }));
    let strip = d.dice.chance(30);
    outlet(d, "wall a", 1.0, 1.0, 3000, 1);
    // The near outlet may be too small; then there is one farther away.
    let small = d.dice.chance(70);
    outlet(d, "wall b", 1.5, 0.4, if small { 30 } else { 3000 }, 1);
    if small {
        outlet(d, "wall c", 2.2, 0.2, 3000, 1);
    }
    let mut feeder = "wall a.s1";
    if strip {
        let pos = d.pos(1.0, 0.5);
        d.gear.push(json!({
            "id": "strip", "pos": pos, "needs_power": true, "auto": true, "cap": 2300,
            "sockets": [
                { "id": "p", "dir": "in", "con": ["mains:plug"], "accepts": { "mains": [0, 0] }, "tail": 30 },
                output("s1", "mains:sock", "mains", [0, 0], &json!({})),
            ],
        }));
        d.link("wall a.s1", "strip.p", &[]);
        feeder = "strip.s1";
    }
    d.speaker("speaker", 2.0, 0.0, &BOTH, &json!({}));
    d.mic_leads(3);
    d.mains_leads(1);
    d.link(feeder, "desk.p", &["iec2"]);
    d.link("mic.o", "desk.in1", &["x3"]);
    d.link("mic b.o", "desk.in2", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["nice", "should"]);
    d.part("other", "house", rank);
    d.tail_kept = d.dice.chance(50);
    let lost = d.dice.word(&[
        "gear:wall a",
        "gear:wall a",
        "gear:wall a",
        "socket:wall a.s1",
        "socket:wall a.s1",
        "supply:wall a",
        "supply:wall a",
        "supply:desk",
    ]);
    d.lost.push(lost.to_owned());
}
