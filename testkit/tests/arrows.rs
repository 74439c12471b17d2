//! Which crate may use which, held against the table in `docs/architecture.md`; and that the pure crates stay pure.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first thing that is not as written"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Crates that touch no clock, disk, environment, network, thread or chance.
const PURE: [&str; 5] = ["physics", "model", "check", "engine", "cards"];

/// Words that reach the outside world, or an order that differs from run to run.
const OUTSIDE: [&str; 14] = [
    "std::fs",
    "std::env",
    "std::time",
    "std::net",
    "std::process",
    "std::thread",
    "std::io",
    "Instant",
    "SystemTime",
    "rand",
    "HashMap",
    "HashSet",
    "thread_local",
    "unsafe",
];

fn root() -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// What the table allows one crate.
#[derive(Debug, Default)]
struct Allowed {
    uses: BTreeSet<String>,
    outside: BTreeSet<String>,
    in_tests: BTreeSet<String>,
}

/// The names in backticks of a table cell.
fn names(cell: &str) -> BTreeSet<String> {
    cell.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

/// The rows below the heading "Which crate may use which".
fn table() -> BTreeMap<String, Allowed> {
    let page = read(&root().join("docs/architecture.md"));
    let (_, after) = page.split_once("## Which crate may use which").unwrap();
    let section = after.split("\n## ").next().unwrap();
    let mut rows = BTreeMap::new();
    for line in section.lines().filter(|l| l.starts_with("| `")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let &[name, uses, outside, in_tests] = cells.as_slice() else {
            panic!("four columns are expected: {line}");
        };
        let name = name.trim_matches('`').to_owned();
        let row = Allowed { uses: names(uses), outside: names(outside), in_tests: names(in_tests) };
        assert!(rows.insert(name.clone(), row).is_none(), "{name} stands twice in the table");
    }
    assert!(rows.len() >= 9, "only {} rows were found", rows.len());
    rows
}

/// The folders of the workspace's members.
fn members() -> BTreeMap<String, PathBuf> {
    let top = read(&root().join("Cargo.toml"));
    let (_, after) = top.split_once("members = [").unwrap();
    let list = after.split(']').next().unwrap();
    list.split('"')
        .skip(1)
        .step_by(2)
        .map(|folder| (folder.rsplit('/').next().unwrap().to_owned(), root().join(folder)))
        .collect()
}

/// The names under one heading of a Cargo.toml, whatever stands before it: `[target.….dependencies]` counts too.
fn under(manifest: &str, heading: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut inside = false;
    for line in manifest.lines().map(str::trim) {
        if let Some(section) = line.strip_prefix('[') {
            let section = section.trim_end_matches(']');
            // `[dependencies.name]` says its one name in the heading.
            if let Some((head, name)) = section.rsplit_once('.')
                && (head == heading || head.ends_with(&format!(".{heading}")))
            {
                found.insert(name.to_owned());
            }
            inside = section == heading || section.ends_with(&format!(".{heading}"));
        } else if inside && let Some((name, _)) = line.split_once('=') {
            let name = name.split('.').next().unwrap().trim();
            if !name.starts_with('#') {
                found.insert(name.trim_matches('"').to_owned());
            }
        }
    }
    found
}

/// The arrows of a manifest that a row does not allow, in words.
fn strangers(name: &str, manifest: &str, row: &Allowed, ours: &BTreeSet<String>) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut uses = under(manifest, "dependencies");
    uses.extend(under(manifest, "build-dependencies"));
    for used in uses {
        let allowed = if ours.contains(&used) { &row.uses } else { &row.outside };
        if !allowed.contains(&used) {
            wrong.push(format!("{name} uses {used}"));
        }
    }
    for used in under(manifest, "dev-dependencies") {
        if !(row.uses.contains(&used) || row.outside.contains(&used) || row.in_tests.contains(&used)) {
            wrong.push(format!("the tests of {name} use {used}"));
        }
    }
    wrong
}

#[test]
fn no_crate_uses_another_that_the_table_does_not_allow() {
    let table = table();
    let members = members();
    let ours: BTreeSet<String> = members.keys().cloned().collect();
    assert_eq!(ours, table.keys().cloned().collect(), "every crate has one row, and every row a crate");
    let mut wrong = Vec::new();
    for (name, folder) in &members {
        wrong.extend(strangers(name, &read(&folder.join("Cargo.toml")), &table[name], &ours));
    }
    assert!(wrong.is_empty(), "not in the table of docs/architecture.md:\n{}", wrong.join("\n"));
}

#[test]
fn the_table_itself_has_no_ring_and_no_arrow_upwards() {
    let table = table();
    for name in table.keys() {
        let mut seen = BTreeSet::new();
        let mut next: Vec<&String> = table[name].uses.iter().collect();
        while let Some(used) = next.pop() {
            assert_ne!(used, name, "{name} uses itself in the end");
            assert!(table.contains_key(used), "{name} may use {used}, which has no row");
            if seen.insert(used) {
                next.extend(&table[used].uses);
            }
        }
    }
    for name in PURE {
        for tool in ["serde", "serde_json", "rand", "rand_chacha", "clap"] {
            assert!(!table[name].outside.contains(tool), "{name} is pure: it has no use for {tool}");
        }
    }
}

#[test]
fn an_arrow_that_is_not_in_the_table_is_found() {
    let table = table();
    let ours: BTreeSet<String> = table.keys().cloned().collect();
    let manifest = "[dependencies]\nmodel.workspace = true\nengine = { path = \"../engine\" }\n\
                    [target.'cfg(unix)'.dependencies]\nrand = \"0.10\"\n[dependencies.cards]\nworkspace = true\n\
                    [dev-dependencies]\ncli.workspace = true\n";
    let found = strangers("check", manifest, &table["check"], &ours);
    let want = ["check uses cards", "check uses engine", "check uses rand", "the tests of check use cli"];
    assert_eq!(found, want);
}

/// Every `.rs` file below a folder, in order.
fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// Lines of code, without comments, that hold one of the words as a whole word.
fn outside_words(code: &str) -> Vec<String> {
    let whole = |line: &str, word: &str| {
        let part = |c: char| c.is_alphanumeric() || c == '_';
        line.match_indices(word)
            .any(|(at, _)| !line[..at].ends_with(part) && !line[at + word.len()..].starts_with(part))
    };
    let mut found = Vec::new();
    for (n, line) in code.lines().enumerate() {
        let line = line.split("//").next().unwrap();
        for word in OUTSIDE.iter().filter(|w| whole(line, w)) {
            found.push(format!("line {}: {word}", n + 1));
        }
    }
    found
}

#[test]
fn the_pure_crates_touch_no_clock_disk_environment_or_chance() {
    let mut wrong = Vec::new();
    let mut looked_at = 0;
    for name in PURE {
        let mut files = Vec::new();
        sources(&root().join("crates").join(name).join("src"), &mut files);
        for file in files.iter().filter(|f| !f.ends_with("tests.rs")) {
            // Unit tests at the foot of a file may read what they compare with.
            let text = read(file);
            let code = text.split("#[cfg(test)]").next().unwrap();
            wrong.extend(outside_words(code).iter().map(|w| format!("{}, {w}", file.display())));
            looked_at += 1;
        }
    }
    assert!(looked_at > 100, "only {looked_at} files were found");
    assert!(wrong.is_empty(), "a pure crate reaches outside:\n{}", wrong.join("\n"));
}

#[test]
fn a_word_that_reaches_outside_is_found() {
    assert_eq!(outside_words("let t = Instant::now(); // why\n").len(), 1);
    assert_eq!(outside_words("use std::fs::read;\nuse rand::Rng;\n").len(), 2);
    assert_eq!(outside_words("// Instant coffee\nlet strand = include_bytes!(\"font.ttf\");\n"), [""; 0]);
}
