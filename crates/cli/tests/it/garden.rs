//! Twelve pieces told in words, and a dead mixer worked by hand: `examples/garden-party/README.md`.

use serde_json::Value;

use crate::run::Folder;

/// Noticing and reading, told on the card and not part of the way.
const BEFORE: i64 = 13;

#[test]
fn a_dead_mixer_is_answered_as_worked_by_hand() {
    let folder = Folder::new("garden");
    folder.file("garden.rig", include_bytes!("../../../../examples/garden-party/garden-party.rig"));
    let ran = folder.run(&["ways", "garden.rig", "--dead", "MIXER", "--json"]);
    let answer: Value = serde_json::from_str(&ran.out).unwrap();
    let way = &answer["round"]["way"];
    assert_eq!(way["values"]["seconds"], 59, "{way:#}");
    let steps = way["steps"].as_array().unwrap();
    let heard: Vec<(&str, i64)> = steps
        .iter()
        .flat_map(|s| s["first_heard"].as_array().unwrap())
        .map(|h| (h["part"].as_str().unwrap(), h["seconds"]["least"].as_i64().unwrap() - BEFORE))
        .collect();
    assert_eq!(heard, [("voice for audience", 32)]);
    let back: Vec<(&str, Option<i64>)> = way["back"]
        .as_array()
        .unwrap()
        .iter()
        .map(|b| (b["part"].as_str().unwrap(), b["seconds"]["least"].as_i64().map(|s| s - BEFORE)))
        .collect();
    let for_good =
        [("voice for audience", Some(64)), ("guitar for audience", Some(64)), ("tracks for audience", None)];
    assert_eq!(back, for_good);

    let full = folder.run(&["ways", "garden.rig", "--dead", "MIXER", "--goal", "full", "--json"]);
    let full: Value = serde_json::from_str(&full.out).unwrap();
    let values = &full["round"]["way"]["values"];
    assert_eq!(
        (&values["seconds"], &values["should"]),
        (&Value::from(195), &Value::from(-1)),
        "tracks by the other speaker"
    );
}
