//! The same question gets the same bytes: asked twice in one process, and in two processes whose environments differ in what
//! they hold and in its order.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::path::{Path, PathBuf};
use std::process::Command;

fn rig() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/street-pitch/street-pitch.rig")
}

const QUESTIONS: [&[&str]; 5] = [
    &["check", "--json"],
    &["ways", "--json", "--limit", "300"],
    &["ways", "--limit", "300", "--dead", "SPEAKER"],
    &["ways", "--json", "--limit", "300", "--goal", "break", "--dead", "LOOPER"],
    &["read", "--json"],
];

/// Standard output of one question, with these variables and no others, in this order.
fn asked(question: &[&str], env: &[&str]) -> Vec<u8> {
    let (task, more) = question.split_first().unwrap();
    let ran = Command::new("env")
        .arg("-i")
        .args(env)
        .arg(env!("CARGO_BIN_EXE_secondstring"))
        .arg(task)
        .arg(rig())
        .args(more)
        .output()
        .unwrap();
    assert!(ran.status.code().is_some_and(|code| code < 2), "{}", String::from_utf8_lossy(&ran.stderr));
    assert!(!ran.stdout.is_empty());
    ran.stdout
}

#[test]
fn two_processes_with_other_environments_print_the_same_bytes() {
    for question in QUESTIONS {
        let one = asked(question, &["LANG=C", "TZ=UTC", "HOME=/", "A=1", "Z=2"]);
        let two =
            asked(question, &["Z=x", "A=y", "HOME=/nowhere", "TZ=Asia/Tokyo", "LANG=de_DE.UTF-8", "USER=z"]);
        assert!(one == two, "{question:?}");
    }
}

#[test]
fn one_process_answers_the_same_twice() {
    let ways = || {
        let goal = tasks::view::GoalAsked::Now;
        let asked = tasks::ways::Asked { dead: Vec::new(), goal, limit: Some(300) };
        let ways = tasks::ways::ways(&rig(), &asked, &mut |_, _| {}).unwrap();
        serde_json::to_string_pretty(&ways).unwrap()
    };
    assert!(ways() == ways());
    let check = || serde_json::to_string_pretty(&tasks::check::check(&rig()).unwrap()).unwrap();
    assert!(check() == check());
}
