//! `schema/` at the root holds the promised shape of every answer.
//!
//! After a change that is meant: `SCHEMA=write cargo test -p tasks schema`, then read what changed.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../schema")
}

#[test]
fn no_schema_has_moved() {
    for (name, schema) in tasks::view::schemas() {
        let path = folder().join(format!("{name}.json"));
        let now = serde_json::to_string_pretty(&schema).unwrap() + "\n";
        if std::env::var_os("SCHEMA").is_some_and(|v| v == "write") {
            std::fs::write(&path, &now).unwrap();
        }
        let promised = std::fs::read_to_string(&path).unwrap_or_default();
        assert!(promised == now, "schema/{name}.json says otherwise; see the head of this file");
    }
}

#[test]
fn no_schema_is_left_over() {
    let kept: BTreeSet<String> =
        std::fs::read_dir(folder()).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    let made: BTreeSet<String> =
        tasks::view::schemas().into_iter().map(|(name, _)| format!("{name}.json")).collect();
    assert_eq!(kept, made);
}
