//! `docs/command-line.md` is what the program says of itself.
//!
//! After a change that is meant: `COMMANDS=write cargo test -p cli reference`, then read what changed.

use std::path::Path;

use crate::run::Folder;

const COMMANDS: [&str; 7] = ["check", "ways", "cards", "shelf", "explain", "read", "completions"];

#[test]
fn the_page_says_what_the_help_says() {
    let folder = Folder::new("reference");
    let help = |args: &[&str]| {
        let ran = folder.run(args);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{args:?}");
        let lines: Vec<&str> = ran.out.lines().map(str::trim_end).collect();
        lines.join("\n").trim_end().to_owned()
    };
    let whole = help(&["--help"]);
    let mut page = format!(
        "# The command line\n\nWritten by a test from the program's own help; not edited by hand.\n\nAnswers go to standard \
         output. With `--json` an answer has the shape of the file of the same name in `schema/`, and bad input is told on \
         standard error in the shape of `schema/bad.json`.\n\n```text\n{whole}\n```\n"
    );
    for command in COMMANDS {
        page.push_str(&format!("\n## {command}\n\n```text\n{}\n```\n", help(&[command, "--help"])));
    }
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/command-line.md");
    if std::env::var_os("COMMANDS").is_some_and(|v| v == "write") {
        std::fs::write(&path, &page).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = written.lines().zip(page.lines()).find(|(a, b)| a != b);
    assert!(written == page, "docs/command-line.md is old; first difference: {differs:?}");
    for line in whole.lines().skip_while(|l| *l != "Commands:").skip(1).take_while(|l| !l.is_empty()) {
        let name = line.split_whitespace().next().unwrap_or_default();
        assert!(
            name == "help" || line.starts_with("   ") || COMMANDS.contains(&name),
            "{name} has no section"
        );
    }
}

#[test]
fn completions_know_every_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let ran = Folder::new("completions").run(&["completions", shell]);
        assert_eq!(ran.code, 0);
        for command in COMMANDS {
            assert!(ran.out.contains(command), "{shell}: {command}");
        }
    }
}
