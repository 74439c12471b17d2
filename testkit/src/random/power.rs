//! Scenes about power: outlets, strips, restarts, ratings, batteries and what cuts them off.

use serde_json::{Value, json};

use super::draft::{Draft, input, output};

const BOTH: [&str; 2] = ["mic", "line"];

pub(super) fn mains_in() -> Value {
    json!({ "id": "p", "dir": "in", "con": ["iec:plug"], "accepts": { "mains": [0, 0] } })
}

pub(super) fn outlet(d: &mut Draft, id: &str, x: f64, y: f64, cap: i64, sockets: i64) {
    let pos = d.pos(x, y);
    let sockets: Vec<Value> =
        (1..=sockets).map(|n| output(&format!("s{n}"), "mains:sock", "mains", [0, 0], &json!({}))).collect();
    d.gear.push(json!({ "id": id, "pos": pos, "root": true, "cap": cap, "sockets": sockets }));
}

/// A powered speaker and two or three outlets.
pub(super) fn outlets(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let (watts, boot) = (d.dice.between(20, 30) * 10, d.dice.between(0, 8));
    let auto = d.dice.chance(15);
    let battery = d.dice.chance(10);
    d.speaker(
        "speaker",
        1.0,
        0.0,
        &BOTH,
        &json!({
            "sockets": [input("i", &["xlr:sock"], &BOTH, &json!({})), mains_in()],
            "needs_power": true, "watts": watts, "boot": boot, "auto": auto, "battery": battery,
        }),
    );
    outlet(d, "wall a", 1.0, 1.0, 3000, 1);
    let small = d.dice.pick(&[100, 150, 200, 190, 3000]).unwrap_or(150);
    outlet(d, "wall b", 1.3, 0.3, small, 1);
    outlet(d, "wall c", 2.4, 0.3, 3000, 1);
    if d.dice.chance(35) {
        d.monitor("monitor", 0.5, 1.0, &BOTH, 70);
        d.part("voice", "band", "nice");
    }
    d.mic_leads(1);
    d.mains_leads(1);
    d.link("wall a.s1", "speaker.p", &["iec2"]);
    d.link("mic.o", "speaker.i", &["x3"]);
    d.part("voice", "house", "must");
    let lost = d.dice.word(&[
        "gear:wall a",
        "gear:wall a",
        "socket:wall a.s1",
        "socket:wall a.s1",
        "lead:0.0",
        "supply:speaker",
    ]);
    d.lost.push(lost.to_owned());
}

/// Desk and speaker on a strip with a fixed cable; what has lost power must be started again.
pub(super) fn strip(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    d.gear.push(json!({
        "id": "keys", "pos": pos, "needs_power": true, "battery": d.dice.chance(50), "watts": 20, "boot": d.dice.between(2, 12),
        "sockets": [output("o", "xlr:plug", "line", [-10, 10], &json!({})), mains_in()],
        "makes": [{ "socket": "o", "source": "keys" }],
    }));
    let boot = d.dice.between(0, 6);
    d.speaker(
        "speaker",
        1.0,
        0.0,
        &BOTH,
        &json!({
            "sockets": [input("i", &["xlr:sock"], &BOTH, &json!({})), mains_in()],
            "needs_power": true, "watts": 300, "boot": boot,
        }),
    );
    outlet(d, "wall", 0.5, 1.0, 3000, 2);
    let tail =
        json!({ "id": "p", "dir": "in", "con": ["mains:plug"], "accepts": { "mains": [0, 0] }, "tail": 30 });
    let cap = d.dice.pick(&[250, 310, 2300]).unwrap_or(2300);
    for (id, packed, cap) in [("strip", false, 2300), ("spare strip", true, cap)] {
        if packed && d.dice.chance(40) {
            continue;
        }
        let pos = d.pos(0.5, 0.5);
        d.gear.push(json!({
            "id": id, "pos": pos, "needs_power": true, "auto": true, "cap": cap,
            "place": if packed { "case" } else { "here" }, "places": [{ "id": "here", "secs": 6 }],
            "sockets": [
                tail,
                output("s1", "mains:sock", "mains", [0, 0], &json!({})),
                output("s2", "mains:sock", "mains", [0, 0], &json!({})),
            ],
        }));
    }
    d.mic_leads(1);
    d.mains_leads(2);
    d.link("wall.s1", "strip.p", &[]);
    d.link("strip.s1", "keys.p", &["iec2"]);
    d.link("strip.s2", "speaker.p", &["iec2"]);
    d.link("keys.o", "speaker.i", &["x3"]);
    d.part("keys", "house", "must");
    d.tail_kept = d.dice.chance(50);
    let lost = d.dice.word(&[
        "gear:strip",
        "gear:strip",
        "socket:strip.s2",
        "socket:wall.s1",
        "lead:2.0",
        "lead:1.0",
    ]);
    d.lost.push(lost.to_owned());
}

/// A pedal whose battery is cut off while its supply's plug is in.
pub(super) fn pedal(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    let jack = |id: &str| output(id, "jack:sock", "inst", [-34, -12], &json!({ "wire": "ts" }));
    d.gear.push(json!({
        "id": "violin", "pos": pos, "sockets": [jack("o")], "makes": [{ "socket": "o", "source": "violin" }],
    }));
    let pos = d.pos(0.5, 0.0);
    let battery = if d.dice.chance(75) { json!({ "guard": { "empty": "pedal.dc" } }) } else { json!(false) };
    let auto = d.dice.chance(70);
    d.gear.push(json!({
        "id": "pedal", "pos": pos, "needs_power": true, "battery": battery, "auto": auto, "watts": 3,
        "sockets": [
            input("i", &["jack:sock"], &["inst"], &json!({ "wire": "ts" })),
            output("o", "jack:sock", "inst", [-24, 0], &json!({ "wire": "ts" })),
            { "id": "dc", "dir": "in", "con": ["barrel:sock"], "accepts": { "dc9": [0, 0] } },
        ],
        "routes": [{ "id": "r", "in": "i", "outs": ["o"] }],
    }));
    for (id, packed) in [("supply", false), ("spare supply", true)] {
        if packed && d.dice.chance(40) {
            continue;
        }
        let pos = d.pos(1.0, -0.5);
        let (tail, cap) = (d.dice.between(22, 30), d.dice.pick(&[2, 20, 20]).unwrap_or(20));
        d.gear.push(json!({
            "id": id, "pos": pos, "root": true, "cap": if packed { cap } else { 20 },
            "place": if packed { "case" } else { "here" }, "places": [{ "id": "here", "secs": 6 }],
            "sockets": [output("o", "barrel:plug", "dc9", [0, 0], &json!({ "tail": tail }))],
        }));
    }
    let pos = d.pos(1.2, 0.0);
    let narrow = d.dice.chance(50);
    let window = if narrow { json!([-20, 6]) } else { json!([-40, 6]) };
    d.gear.push(json!({
        "id": "box", "pos": pos,
        "sockets": [
            { "id": "i", "dir": "in", "con": ["jack:sock"], "wire": "ts", "accepts": { "inst": window } },
            output("o", "xlr:plug", "mic", [-60, -18], &json!({})),
        ],
        "routes": [{ "id": "r", "in": "i", "outs": ["o"], "gain": [-20, -20] }],
    }));
    d.speaker("speaker", 2.0, 0.0, &BOTH, &json!({}));
    let (spare, packed) = (d.dice.between(0, 1), d.dice.between(0, 1));
    d.lead("j3", ["jack:plug", "jack:plug"], "ts", &["inst", "line"], 30, (2 + spare + packed, packed));
    d.mic_leads(1);
    d.link("violin.o", "pedal.i", &["j3"]);
    d.link("pedal.o", "box.i", &["j3"]);
    d.link("supply.o", "pedal.dc", &[]);
    d.link("box.o", "speaker.i", &["x3"]);
    d.part("violin", "house", "must");
    d.tail_kept = d.dice.chance(40);
    let lost = d.dice.word(&[
        "gear:supply",
        "gear:supply",
        "gear:supply",
        "gear:pedal",
        "lead:1.0",
        "supply:pedal",
        "lead:0.0",
    ]);
    d.lost.push(lost.to_owned());
}

/// An amplifier whose left input feeds both sides only while the right one is empty.
pub(super) fn left_or_both(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let pos = d.pos(0.0, 0.5);
    d.gear.push(json!({
        "id": "player", "pos": pos,
        "sockets": [
            output("l", "xlr:plug", "line", [-10, 4], &json!({})),
            output("r", "xlr:plug", "line", [-10, 4], &json!({})),
        ],
        "makes": [
            { "socket": "l", "source": "song", "guard": { "empty": "player.r" } },
            { "socket": "r", "source": "song-right" },
        ],
    }));
    let pos = d.pos(1.0, 0.0);
    let from_left = d.dice.chance(60);
    d.gear.push(json!({
        "id": "amp", "pos": pos,
        "sockets": [
            input("l", &["xlr:sock"], &BOTH, &json!({ "gain": d.dice.chance(40) })),
            input("r", &["xlr:sock"], &BOTH, &json!({})),
            output("a", "xlr:plug", "line", [-20, 20], &json!({})),
            output("b", "xlr:plug", "line", [-20, 20], &json!({})),
        ],
        "routes": [
            { "id": "la", "in": "l", "outs": ["a"] },
            { "id": "lb", "in": "l", "outs": ["b"], "guard": { "empty": "amp.r" } },
            { "id": "rb", "in": "r", "outs": ["b"] },
        ],
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    let pos = d.pos(2.0, 1.0);
    d.gear.push(json!({
        "id": "monitor", "pos": pos, "sounds": ["i", "j"],
        "sockets": [
            input("i", &["xlr:sock"], &["line"], &json!({})),
            input("j", &["xlr:sock"], &BOTH, &json!({})),
        ],
        "places": [{ "id": "front", "hears": { "band": 100 }, "secs": 8 }],
    }));
    d.mic_leads(4);
    let (first, second) = if from_left { ("mic.o", "player.l") } else { ("player.l", "mic.o") };
    d.link(first, "amp.l", &["x3"]);
    d.link("amp.a", "speaker.i", &["x3"]);
    d.link("amp.b", "monitor.i", &["x3"]);
    d.link(second, "monitor.j", &["x3"]);
    let (mine, theirs) = if from_left { ("voice", "song") } else { ("song", "voice") };
    d.part(mine, "house", "must");
    d.part(mine, "band", "should");
    d.part(theirs, "band", "must");
    let lost = d.dice.word(&[
        "lead:3.0",
        "socket:monitor.j",
        "socket:monitor.j",
        "socket:amp.a",
        "lead:2.0",
        "socket:amp.b",
    ]);
    d.lost.push(lost.to_owned());
}
