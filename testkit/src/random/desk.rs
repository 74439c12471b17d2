//! Scenes about a small desk: what must not be heard, sends, faders, phantom power and its banks.

use serde_json::{Value, json};

use super::draft::{Draft, input, output, with};

const BOTH: [&str; 2] = ["mic", "line"];

fn channel(id: &str, more: &Value) -> Value {
    input(id, &["xlr:sock"], &BOTH, more)
}

fn route(id: &str, from: &str, outs: &[&str], more: &Value) -> Value {
    with(json!({ "id": id, "in": from, "outs": outs }), more)
}

/// Voice and click on a desk; the send carries the click, which the house must never hear.
pub(super) fn click(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "ok");
    let pos = d.pos(0.5, 0.5);
    // A talkback microphone cannot drive the ear by itself, a player can.
    let (class, level) = if d.dice.chance(60) { ("mic", [-50, -30]) } else { ("line", [-10, 4]) };
    let player = output("o", "xlr:plug", class, level, &json!({}));
    d.gear.push(json!({
        "id": "player", "pos": pos, "sockets": [player], "makes": [{ "socket": "o", "source": "click" }],
    }));
    let pos = d.pos(1.0, 0.0);
    let gain = d.dice.chance(40);
    let third = d.dice.chance(70);
    let mut sockets = vec![
        channel("in1", &json!({ "gain": gain })),
        channel("in2", &json!({})),
        output("main", "xlr:plug", "line", [-30, 20], &json!({})),
        output("aux", "xlr:plug", "line", [-30, 20], &json!({})),
    ];
    let send_on = d.dice.chance(50);
    let mut routes = vec![
        route("m1", "in1", &["main"], &json!({ "switch": true })),
        route("a1", "in1", &["aux"], &json!({ "switch": true, "on": send_on })),
        route("m2", "in2", &["main"], &json!({ "switch": true, "on": false })),
        route("a2", "in2", &["aux"], &json!({ "switch": true })),
    ];
    if third {
        let fader_up = d.dice.chance(40);
        sockets.push(channel("in3", &json!({})));
        routes.push(route("m3", "in3", &["main"], &json!({ "switch": true, "on": fader_up })));
    }
    d.gear.push(json!({ "id": "desk", "pos": pos, "sockets": sockets, "routes": routes }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.monitor("ear", 1.0, 1.0, &["line"], 70);
    d.mic_leads(4);
    d.link("mic.o", "desk.in1", &["x3"]);
    d.link("player.o", "desk.in2", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.link("desk.aux", "ear.i", &["x3"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["nice", "nice", "should", "must"]);
    d.part("click", "band", rank);
    d.part("voice", "band", "nice");
    if d.dice.chance(85) {
        d.part("click", "house", "never");
    }
    let lost = d.dice.word(&[
        "socket:desk.main",
        "socket:desk.main",
        "socket:desk.main",
        "route:desk.m1",
        "route:desk.m1",
        "sound:speaker",
        "sound:speaker",
        "gear:speaker",
        "lead:2.0",
        "socket:desk.in1",
        "lead:0.0",
        "route:desk.a2",
    ]);
    d.lost.push(lost.to_owned());
}

/// A condenser microphone that needs phantom power, a ribbon that it harms, and a desk with one or two banks.
pub(super) fn phantom(d: &mut Draft) {
    d.mic("mic", "voice", 0.0, 0.0, "needs");
    let second = d.dice.word(&["harmed", "harmed", "ok", "needs"]);
    d.mic("mic b", "other", 0.5, 0.5, second);
    let pos = d.pos(1.0, 0.0);
    let third = d.dice.word(&["switch", "switch", "switch", "on", "no"]);
    let gain = d.dice.chance(50);
    let sockets = vec![
        channel("in1", &json!({ "phantom": "switch" })),
        channel("in2", &json!({ "phantom": if second == "needs" { "switch" } else { "no" } })),
        channel("in3", &json!({ "phantom": third, "gain": gain })),
        channel("in4", &json!({ "phantom": d.dice.word(&["no", "no", "switch"]) })),
        output("main", "xlr:plug", "line", [-30, 20], &json!({})),
    ];
    let banked = d.dice.chance(85);
    let mut desk = json!({
        "id": "desk", "pos": pos,
        "routes": [
            route("r1", "in1", &["main"], &json!({})),
            route("r2", "in2", &["main"], &json!({})),
            route("r3", "in3", &["main"], &json!({})),
            route("r4", "in4", &["main"], &json!({})),
        ],
    });
    if banked {
        let mut banks = vec![json!({ "id": "48v a", "on": true, "sockets": ["in1"] })];
        let mut rest: Vec<&str> = Vec::new();
        for (i, id) in ["in2", "in3", "in4"].into_iter().enumerate() {
            if sockets[i + 1]["phantom"] == "switch" {
                rest.push(id);
            }
        }
        if second == "needs" {
            banks[0]["sockets"] = json!(["in1", "in2"]);
            rest.retain(|id| *id != "in2");
        }
        if !rest.is_empty() {
            let (on, wait) = (d.dice.chance(25), d.dice.between(3, 6));
            banks.push(json!({ "id": "48v b", "on": on, "wait": wait, "sockets": rest }));
        }
        desk["banks"] = json!(banks);
    }
    desk["sockets"] = json!(sockets);
    d.gear.push(desk);
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.mic_leads(3);
    d.link("mic.o", "desk.in1", &["x3"]);
    d.link("mic b.o", "desk.in2", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("voice", "house", "must");
    let rank = d.dice.word(&["nice", "should", "must"]);
    d.part("other", "house", rank);
    let lost = d.dice.word(&[
        "socket:desk.in1",
        "socket:desk.in1",
        "socket:desk.in1",
        "route:desk.r1",
        "socket:desk.in2",
        "lead:0.0",
    ]);
    d.lost.push(lost.to_owned());
}

/// A desk with a send to an effect whose return channel could feed the send again.
pub(super) fn effect(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    d.gear.push(json!({
        "id": "player", "pos": pos, "sockets": [output("o", "xlr:plug", "line", [-10, 10], &json!({}))],
        "makes": [{ "socket": "o", "source": "song" }],
    }));
    let pos = d.pos(1.0, 0.0);
    let also_send = d.dice.chance(85);
    let outs: &[&str] = if also_send { &["main", "send"] } else { &["main"] };
    // The normal patch must carry the song: straight, or (where that makes no loop) by the return alone.
    let dry = also_send || d.dice.chance(50);
    let up = !dry;
    let mut sockets = vec![
        channel("in1", &json!({})),
        channel("in2", &json!({})),
        output("main", "xlr:plug", "line", [-30, 20], &json!({})),
        output("send", "xlr:plug", "line", [-30, 20], &json!({})),
    ];
    let mut routes = vec![
        route("m1", "in1", &["main"], &json!({ "switch": true, "on": dry })),
        route("s1", "in1", &["send"], &json!({ "switch": true })),
        route("r2", "in2", outs, &json!({ "switch": true, "on": up })),
    ];
    if d.dice.chance(50) {
        sockets.push(channel("in3", &json!({})));
        routes.push(route("m3", "in3", &["main"], &json!({ "switch": true, "on": false })));
    }
    d.gear.push(json!({ "id": "desk", "pos": pos, "sockets": sockets, "routes": routes }));
    let (pos, pts) = (d.pos(1.0, 1.0), d.dice.between(0, 2));
    d.gear.push(json!({
        "id": "effect", "pos": pos,
        "sockets": [channel("i", &json!({})), output("o", "xlr:plug", "line", [-30, 20], &json!({}))],
        "routes": [route("r", "i", &["o"], &json!({ "pts": pts }))],
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.mic_leads(4);
    d.link("player.o", "desk.in1", &["x3"]);
    d.link("desk.send", "effect.i", &["x3"]);
    d.link("effect.o", "desk.in2", &["x3"]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.part("song", "house", "must");
    let lost = d.dice.word(&[
        "route:desk.m1",
        "route:desk.m1",
        "route:desk.m1",
        "route:desk.m1",
        "socket:desk.in1",
        "socket:desk.main",
        "gear:desk",
        "lead:0.0",
    ]);
    d.lost.push(lost.to_owned());
}

/// Song on the left, click on the right, through a splitter with tails.
pub(super) fn sides(d: &mut Draft) {
    let pos = d.pos(0.0, 0.0);
    let wire = json!({ "wire": "stereo" });
    d.gear.push(json!({
        "id": "player", "pos": pos, "sockets": [output("o", "mini:sock", "line", [-20, 5], &wire)],
        "makes": [
            { "socket": "o", "source": "song", "side": "left" },
            { "socket": "o", "source": "click", "side": "right" },
        ],
    }));
    let pos = d.pos(0.3, 0.0);
    let tail = d.dice.between(22, 35);
    d.gear.push(json!({
        "id": "split", "pos": pos,
        "sockets": [
            with(input("in", &["mini:plug"], &["line"], &json!({})), &json!({ "wire": "stereo", "tail": 20 })),
            output("l", "jack:plug", "line", [-40, 10], &json!({ "tail": tail })),
            output("r", "jack:plug", "line", [-40, 10], &json!({ "tail": tail })),
        ],
        "routes": [
            route("l", "in", &["l"], &json!({ "gain": [0, 0], "takes": "left" })),
            route("r", "in", &["r"], &json!({ "gain": [0, 0], "takes": "right" })),
        ],
    }));
    let pos = d.pos(0.9, 0.0);
    let jack = |id: &str| input(id, &["jack:sock"], &["line"], &json!({}));
    let (up, both) = (d.dice.chance(40), d.dice.chance(60));
    let mut routes = vec![
        route("m1", "in1", &["main"], &json!({})),
        route("a2", "in2", &["aux"], &json!({ "switch": true })),
        route("m3", "in3", &["main"], &json!({ "switch": true, "on": up })),
    ];
    if both {
        routes.push(route("m2", "in2", &["main"], &json!({ "switch": true, "on": false })));
    }
    d.gear.push(json!({
        "id": "desk", "pos": pos,
        "sockets": [
            jack("in1"), jack("in2"), jack("in3"),
            output("main", "xlr:plug", "line", [-30, 20], &json!({})),
            output("aux", "xlr:plug", "line", [-30, 20], &json!({})),
        ],
        "routes": routes,
    }));
    d.speaker("speaker", 2.0, 0.0, &["line"], &json!({}));
    d.monitor("ear", 1.0, 1.0, &["line"], 30);
    d.mic_leads(2);
    d.link("player.o", "split.in", &[]);
    d.link("split.l", "desk.in1", &[]);
    d.link("split.r", "desk.in2", &[]);
    d.link("desk.main", "speaker.i", &["x3"]);
    d.link("desk.aux", "ear.i", &["x3"]);
    d.part("song", "house", "must");
    let rank = d.dice.word(&["should", "nice", "must"]);
    d.part("click", "band", rank);
    if d.dice.chance(60) {
        d.part("click", "house", "never");
    }
    let lost = d.dice.word(&[
        "socket:desk.in1",
        "socket:desk.in1",
        "route:split.l",
        "route:desk.m1",
        "socket:desk.main",
    ]);
    d.lost.push(lost.to_owned());
    d.tail_kept = d.dice.chance(50);
}
