//! Every package that is built into the program or its tests may be used under a licence that we have read.

use std::process::Command;

use serde_json::Value;

/// Licences that ask for no more than a notice, or (MPL-2.0) only for changes to the package itself.
const READ: [&str; 12] = [
    "MIT",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "Zlib",
    "ISC",
    "Unicode-3.0",
    "Unlicense",
    "0BSD",
    "CC0-1.0",
    "BSL-1.0",
    "MPL-2.0",
];

/// Is there a way to use a package under these terms? `OR` gives a choice, `AND` and `WITH` do not.
fn acceptable(terms: &str) -> bool {
    let spaced = terms.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let good = any_of(&words, &mut at);
    good && at == words.len()
}

fn any_of(words: &[&str], at: &mut usize) -> bool {
    let mut good = all_of(words, at);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        // Both sides are read, or the place in the text would be lost.
        let other = all_of(words, at);
        good |= other;
    }
    good
}

fn all_of(words: &[&str], at: &mut usize) -> bool {
    let mut good = one(words, at);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        let other = one(words, at);
        good &= other;
    }
    good
}

fn one(words: &[&str], at: &mut usize) -> bool {
    let word = words.get(*at).copied().unwrap_or("");
    *at += 1;
    if word == "(" {
        let good = any_of(words, at);
        *at += 1;
        return good;
    }
    if words.get(*at) == Some(&"WITH") {
        // An exception that we have not read is no licence that we have read.
        *at += 2;
        return false;
    }
    READ.contains(&word)
}

#[test]
fn every_package_has_a_licence_that_we_have_read() {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1"])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    assert!(
        out.status.success(),
        "run `cargo fetch --locked` once, so that every package is at hand:\n{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let all: Value = serde_json::from_slice(&out.stdout).unwrap();
    let packages = all["packages"].as_array().unwrap();
    assert!(packages.len() > 20, "only {} packages were found", packages.len());
    let wrong: Vec<String> = packages
        .iter()
        .filter(|p| !p["license"].as_str().is_some_and(acceptable))
        .map(|p| format!("{} {}: {}", p["name"], p["version"], p["license"]))
        .collect();
    assert!(wrong.is_empty(), "no licence that we have read:\n{}", wrong.join("\n"));
}

#[test]
fn terms_are_read_as_they_are_written() {
    for good in [
        "MIT",
        "MIT OR Apache-2.0",
        "MIT/Apache-2.0",
        "MIT OR LGPL-2.1-or-later",
        "(MIT OR GPL-3.0) AND Unicode-3.0",
        "Apache-2.0 WITH LLVM-exception OR MIT",
    ] {
        assert!(acceptable(good), "{good}");
    }
    for bad in
        ["", "GPL-3.0", "MIT AND GPL-3.0", "(MIT OR GPL-3.0) AND AGPL-3.0", "Apache-2.0 WITH X", "MIT extra"]
    {
        assert!(!acceptable(bad), "{bad}");
    }
}
