//! Scenes without a desk: leads robbed, spares, adapters, spare microphones, levels, pads.

use serde_json::json;

use super::draft::{Draft, input, output};

const BOTH: [&str; 2] = ["mic", "line"];

/// Two or three microphones straight into loudspeakers, with too few leads.
pub(super) fn robbery(d: &mut Draft) {
    let far = d.dice.pick(&[3.0, 6.0, 9.0]).unwrap_or(3.0);
    d.mic("mic a", "voice", 0.0, 0.0, "ok");
    d.mic("mic b", "other", 1.0, 0.0, "ok");
    d.speaker("speaker", 1.0, 1.0, &BOTH, &json!({}));
    d.monitor("monitor", 2.0, 1.0, &BOTH, 30);
    let third = d.dice.chance(60);
    if third {
        d.mic("mic c", "third", far, 0.0, "ok");
        d.monitor("far monitor", far, 1.0, &BOTH, 0);
    }
    let spare = d.dice.pick(&[0, 0, 0, 1]).unwrap_or(0);
    let packed = d.dice.pick(&[0, 0, 1]).unwrap_or(0);
    let used = if third { 3 } else { 2 };
    d.lead("x3", ["xlr:sock", "xlr:plug"], "bal", &BOTH, 30, (used + spare + packed, packed));
    if d.dice.chance(50) {
        let case = d.dice.pick(&[0, 1, 1]).unwrap_or(1);
        d.lead("x6", ["xlr:sock", "xlr:plug"], "bal", &BOTH, 60, (1, case));
    }
    d.link("mic a.o", "speaker.i", &["x3"]);
    d.link("mic b.o", "monitor.i", &["x3"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["should", "should", "nice", "must"]);
    d.part("other", "band", rank);
    if third {
        d.link("mic c.o", "far monitor.i", &["x3"]);
        let rank = d.dice.word(&["should", "nice"]);
        d.part("third", "band", rank);
    }
    let first = d.dice.word(&["lead:0.0", "lead:0.0", "lead:0.0", "gear:speaker", "gear:mic a"]);
    d.lost.push(first.to_owned());
    let second = d.dice.word(&["", "lead:1.0", "lead:1.0", "sound:monitor", "gear:mic b"]);
    if !second.is_empty() {
        d.lost.push(second.to_owned());
    } else if third && d.dice.chance(60) {
        d.lost.push("sound:far monitor".to_owned());
    }
}

/// A keyboard on jack leads with adapters into a desk.
pub(super) fn adapters(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    d.gear.push(json!({
        "id": "keys", "pos": pos, "pts": d.dice.between(0, 1),
        "sockets": [
            output("o", "jack:sock", "line", [-10, 10], &json!({})),
            output("phones", "jack:sock", "line", [-20, 0], &json!({ "wire": "stereo" })),
        ],
        "makes": [{ "socket": "o", "source": "keys" }, { "socket": "phones", "source": "keys" }],
    }));
    let pos = d.pos(1.0, 0.0);
    let combined = d.dice.chance(40);
    let con: &[&str] = if combined { &["xlr:sock", "jack:sock"] } else { &["xlr:sock"] };
    d.gear.push(json!({
        "id": "desk", "pos": pos,
        "sockets": [
            input("in1", &["xlr:sock"], &["line"], &json!({ "gain": d.dice.chance(60) })),
            input("in2", con, &["line", "mic"], &json!({})),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
        ],
        "routes": [
            { "id": "r1", "in": "in1", "outs": ["main"] },
            { "id": "r2", "in": "in2", "outs": ["main"], "switch": true, "on": d.dice.chance(40) },
        ],
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    let (jack, adapter) = (d.dice.between(0, 2), d.dice.between(0, 2));
    let (jack_case, adapter_case) = (d.dice.between(0, jack), d.dice.between(0, adapter));
    d.lead("j3", ["jack:plug", "jack:plug"], "ts", &["line"], 30, (1 + jack, jack_case));
    d.lead("ad", ["jack:sock", "xlr:plug"], "bal", &BOTH, 0, (1 + adapter, adapter_case));
    if d.dice.chance(50) {
        d.lead("st3", ["jack:plug", "jack:plug"], "bal", &["line"], 30, (1, 0));
    }
    if d.dice.chance(50) {
        let case = d.dice.between(0, 1);
        d.lead("sum", ["jack:sock", "jack:plug"], "sum", &["line"], 0, (1, case));
    }
    d.mic_leads(1);
    d.link("keys.o", "desk.in1", &["j3", "ad"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("keys", "house", "must");
    let lost = d.dice.word(&[
        "lead:0.0",
        "lead:0.0",
        "lead:0.1",
        "lead:0.1",
        "socket:desk.in1",
        "socket:keys.o",
        "lead:1.0",
    ]);
    d.lost.push(lost.to_owned());
}

/// A singer with a spare microphone, a monitor that turns, perhaps a spare speaker in the case.
pub(super) fn stand_in(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let spare_at = d.dice.word(&["case", "case", "there"]);
    let pos = d.pos(0.3, 0.4);
    // Some run on a cell of their own, and are off until somebody switches them on.
    let (own_cell, auto) = (d.dice.chance(35), d.dice.chance(20));
    let boot = d.dice.between(0, 4);
    d.gear.push(json!({
        "id": "spare mic", "pos": pos, "pts": d.dice.between(0, 2), "place": spare_at,
        "needs_power": own_cell, "battery": own_cell, "auto": own_cell && auto, "boot": boot,
        "sockets": [output("o", "xlr:plug", "mic", [-50, -30], &json!({}))],
        "makes": [{ "socket": "o", "source": "voice" }, { "socket": "o", "source": "other" }],
        "places": [
            { "id": "there", "sources": ["other"], "secs": 6 },
            { "id": "here", "sources": ["voice"], "secs": d.dice.between(4, 9) },
        ],
    }));
    let pos = d.pos(0.8, 0.0);
    d.gear.push(json!({
        "id": "split", "pos": pos,
        "sockets": [
            input("in1", &["xlr:sock"], &BOTH, &json!({})),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
            output("aux", "xlr:plug", "line", [-30, 20], &json!({})),
        ],
        "routes": [{ "id": "r", "in": "in1", "outs": ["main", "aux"] }],
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.monitor("monitor", 1.0, 1.0, &BOTH, 80);
    d.mic_leads(3);
    d.link("mic.o", "split.in1", &["x3"]);
    d.link("split.main", "speaker.i", &["x3"]);
    d.link("split.aux", "monitor.i", &["x3"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["nice", "should"]);
    d.part("voice", "band", rank);
    let lost = d.dice.word(&[
        "gear:mic",
        "make:mic",
        "gear:mic",
        "gear:speaker",
        "sound:speaker",
        "gear:split",
        "socket:split.main",
    ]);
    d.lost.push(lost.to_owned());
}

/// Levels: a hot player, inputs that take it or not, a pad lying about or packed.
pub(super) fn levels(d: &mut Draft) {
    let hot = d.dice.between(0, 14);
    let pos = d.pos(0.0, 0.0);
    d.gear.push(json!({
        "id": "player", "pos": pos,
        "sockets": [output("o", "xlr:plug", "line", [hot, hot + 4], &json!({}))],
        "makes": [{ "socket": "o", "source": "song" }],
    }));
    let pos = d.pos(1.0, 0.0);
    let window = |id: &str, most: i64, gain: bool| json!({ "id": id, "dir": "in", "con": ["xlr:sock"], "accepts": { "line": [-30, most] }, "gain": gain });
    let low = d.dice.between(-12, 4);
    d.gear.push(json!({
        "id": "desk", "pos": pos,
        "sockets": [
            window("in1", 24, false), window("in2", low, d.dice.chance(30)), window("in3", 24, d.dice.chance(50)),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
        ],
        "routes": [
            { "id": "r1", "in": "in1", "outs": ["main"], "gain": [-10, 20] },
            { "id": "r2", "in": "in2", "outs": ["main"], "gain": [-10, 20] },
            { "id": "r3", "in": "in3", "outs": ["main"], "switch": true, "on": false, "gain": [-10, 20] },
        ],
    }));
    let pos = d.pos(0.5, 0.5);
    let packed = d.dice.chance(50);
    let loss = d.dice.pick(&[-20, -12]).unwrap_or(-20);
    d.gear.push(json!({
        "id": "pad", "pos": pos, "pts": d.dice.between(0, 1), "place": if packed { "case" } else { "here" },
        "sockets": [
            input("i", &["xlr:sock"], &["line"], &json!({})),
            output("o", "xlr:plug", "line", [-60, 20], &json!({})),
        ],
        "routes": [{ "id": "r", "in": "i", "outs": ["o"], "gain": [loss, loss] }],
        "places": [{ "id": "here", "secs": 3 }],
    }));
    let top = d.dice.pick(&[24, 24, 0, -6]).unwrap_or(24);
    let takes = json!({ "sockets": [window("i", top.max(hot - 10), false)] });
    d.speaker("speaker", 2.0, 0.0, &["line"], &takes);
    d.mic_leads(2);
    d.link("player.o", "desk.in1", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("song", "house", "must");
    let lost =
        d.dice.word(&["socket:desk.in1", "socket:desk.in1", "route:desk.r1", "gear:desk", "gear:desk"]);
    d.lost.push(lost.to_owned());
}
