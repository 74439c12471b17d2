//! Many new links that want the same few leads: choosing the leads must not try every combination.

#![expect(clippy::unwrap_used, reason = "a test stops at the first thing that is not as written")]

use check::order::Goal;
use check::{Judge, Problem};
use engine::{Limit, Proved};
use serde_json::{Value, json};

/// So many microphones at a desk that dies; another desk stands farther away, too far for the leads in use. Of each of
/// several lead types that would all do, a few lie on stage.
fn crowd(microphones: usize, stock: &[i64]) -> Value {
    let channel = |i: usize| json!({ "id": format!("i{i}"), "dir": "in", "con": ["xlr:sock"], "accepts": { "mic": [-60, -18] } });
    let out = json!({ "id": "out", "dir": "out", "con": ["xlr:plug"], "class": "line", "level": [-30, 20] });
    let desk = |id: &str, x: i64| {
        let mut sockets: Vec<Value> = (0..microphones).map(channel).collect();
        sockets.push(out.clone());
        let routes: Vec<Value> = (0..microphones)
            .map(|i| json!({ "id": format!("r{i}"), "in": format!("i{i}"), "outs": ["out"] }))
            .collect();
        json!({ "id": id, "pos": [x, 0], "sockets": sockets, "routes": routes })
    };
    let speaker = |id: &str, x: i64| {
        json!({ "id": id, "pos": [x, 0], "sounds": ["in"], "places": [{ "id": "front", "hears": { "house": 100 } }],
                "sockets": [{ "id": "in", "dir": "in", "con": ["xlr:sock"], "accepts": { "line": [-30, 20] } }] })
    };
    let mut gear =
        vec![desk("desk", 0), desk("far desk", 5), speaker("speaker", 0), speaker("far speaker", 5)];
    let xlr = |id: String, length: i64, owned: i64| json!({ "id": id, "ends": ["xlr:sock", "xlr:plug"], "use": ["mic", "line"], "length": length, "owned": owned });
    let mut leads = vec![xlr("short".to_owned(), 20, i64::try_from(microphones).unwrap() + 2)];
    leads.extend(
        stock
            .iter()
            .enumerate()
            .map(|(i, n)| xlr(format!("long {i}"), 100 + 10 * i64::try_from(i).unwrap(), *n)),
    );
    let mut patch = vec![
        json!({ "from": "desk.out", "to": "speaker.in", "via": ["short"] }),
        json!({ "from": "far desk.out", "to": "far speaker.in", "via": ["short"] }),
    ];
    let mut parts = Vec::new();
    for i in 0..microphones {
        let id = format!("mic {i}");
        gear.push(json!({ "id": id, "pos": [0, 0], "makes": [{ "socket": "out", "source": format!("voice {i}") }],
            "sockets": [{ "id": "out", "dir": "out", "con": ["xlr:plug"], "class": "mic", "level": [-50, -30] }] }));
        patch.push(json!({ "from": format!("{id}.out"), "to": format!("desk.i{i}"), "via": ["short"] }));
        parts.push(json!({ "id": id, "source": format!("voice {i}"), "listener": "house", "rank": "must" }));
    }
    json!({ "lost": ["gear:desk"], "rig": { "name": "crowd", "listeners": [{ "id": "house", "need": 85 }],
        "parts": parts, "leads": leads, "gear": gear, "patch": patch } })
}

/// The musts that come back, minus, and how far that is proved; within so many nodes.
fn musts(json: &Value, nodes: u64) -> (i32, Proved) {
    let case = testkit::read::case(json).unwrap();
    let p = Problem::new(case.neutral.spec).unwrap();
    let cover = engine::cover(&p, &case.fault, Goal::Must, Limit { nodes, polish: 0 });
    assert!(cover.nodes <= nodes, "{} nodes", cover.nodes);
    let verdict = Judge::new(&p, &case.fault).judge(&cover.plan);
    assert!(verdict.is_valid(), "{verdict:?}");
    (cover.values.must, cover.proved)
}

/// Enough leads for all but one or two: proved, in a counted number of nodes.
#[test]
fn all_but_the_one_that_no_lead_is_left_for_come_back() {
    assert_eq!(musts(&crowd(4, &[2, 2]), 20), (-4, Proved::Seconds));
    assert_eq!(musts(&crowd(5, &[2, 2]), 2_000), (-4, Proved::Seconds));
    assert_eq!(musts(&crowd(6, &[2, 2]), 2_000), (-4, Proved::Seconds));
    assert_eq!(musts(&crowd(6, &[2, 2, 1]), 2_000), (-5, Proved::Seconds));
}

/// 24 microphones and 2 leads: 16 777 216 combinations a node, nearly all of which are short after the third link. A search
/// that tries them all does not end; this one ends with its nodes.
#[test]
fn a_choice_that_is_short_is_not_tried_to_its_end() {
    let (must, _) = musts(&crowd(24, &[1, 1]), 150);
    assert!((-2..=0).contains(&must), "{must}");
}
