//! Every `--json` answer is exactly its view: nothing unknown in it, nothing lost on the way.

use serde::Serialize;
use serde::de::DeserializeOwned;
use tasks::view;

use crate::run::Folder;

fn holds<T: DeserializeOwned + Serialize>(folder: &Folder, args: &[&str]) -> T {
    let ran = folder.run(args);
    assert_ne!(ran.code, 2, "{args:?}: {}", ran.err);
    let it: T = serde_json::from_str(&ran.out).unwrap_or_else(|e| panic!("{args:?}: {e}\n{}", ran.out));
    assert_eq!(serde_json::to_string_pretty(&it).unwrap() + "\n", ran.out);
    it
}

#[test]
fn every_answer_is_its_view() {
    let folder = Folder::with_rig("json");
    let rig = "corner-bar.rig";
    let check: view::Check = holds(&folder, &["check", rig, "--json"]);
    assert_eq!((check.heard.len(), check.not_carried.len()), (2, 0));
    let ways: view::Ways = holds(&folder, &["ways", rig, "--json"]);
    assert_eq!(ways.faults.len() + ways.silence_nothing, check.faults);
    let one: view::Ways = holds(&folder, &["ways", rig, "--dead", "voice mic", "--json"]);
    assert!(one.round.unwrap().card.unwrap().contains("VOICE MIC"));
    let cards: view::Cards = holds(&folder, &["--json", "cards", rig, "-o", "cards.html"]);
    assert_eq!(std::fs::metadata(folder.0.join("cards.html")).unwrap().len(), cards.bytes as u64);
    let _kept: view::Read = holds(&folder, &["read", rig, "--json"]);
    let _kept: view::Explain = holds(&folder, &["explain", "--json"]);
    let _kept: view::Explain = holds(&folder, &["explain", "stops-short", "--json"]);
    let view::Shelf::List { families, leads } = holds(&folder, &["shelf", "--json"]) else {
        panic!("a list")
    };
    for kind in families.iter().flat_map(|f| &f.kinds).chain(&leads) {
        let _kept: view::Shelf = holds(&folder, &["shelf", &kind.name, "--json"]);
    }
}

#[test]
fn bad_input_is_its_view_too() {
    let folder = Folder::new("json-bad");
    let ran = folder.run(&["check", "none.rig", "--json"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    let bad: view::Bad = serde_json::from_str(&ran.err).unwrap();
    assert_eq!((bad.code.as_str(), bad.place.as_str()), ("no-file", "none.rig"));
}
