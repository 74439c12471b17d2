//! `docs/checks.md` says what the checks say of themselves, word for word.
//!
//! After a change of a check: `CHECKS_PAGE=write cargo test -p check page`, then read what changed.

use std::fmt::Write as _;
use std::path::Path;

use check::CHECKS;
use check::remark::explain::WHOLE;

fn page() -> String {
    let mut out = String::from(
        "# The checks\n\nWritten by a test from the opening comments of `crates/check/src/link/`; not edited by hand.\n\n\
         Each check looks at one link: an output, the leads and adapters between, an input. `secondstring check RIG` says what\n\
         they find in a rig as it is plugged; a way round never uses a link that *will not work* or is a *hazard*.\n\n\
         | check | finds |\n|---|---|\n",
    );
    for check in CHECKS {
        writeln!(out, "| [{0}](#{0}) | {1} |", check.name, check.line).unwrap();
    }
    for check in CHECKS {
        let page = check.page();
        let (title, rest) = page.split_once('\n').unwrap();
        let title = title.strip_prefix("# ").unwrap();
        write!(out, "\n## {}\n\n*{title}.*\n{rest}", check.name).unwrap();
    }
    out.push_str("\n# About the rig as a whole\n\n| said | when |\n|---|---|\n");
    for about in WHOLE {
        writeln!(out, "| [{0}](#{0}) | {1} |", about.name, about.line).unwrap();
    }
    for about in WHOLE {
        write!(out, "\n## {}\n\n{}\n", about.name, about.page).unwrap();
    }
    out
}

#[test]
fn the_page_says_what_the_checks_say() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/checks.md");
    let page = page();
    if std::env::var_os("CHECKS_PAGE").is_some_and(|v| v == "write") {
        std::fs::write(&path, &page).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = written.lines().zip(page.lines()).find(|(a, b)| a != b);
    assert!(written == page, "docs/checks.md is old; first difference: {differs:?}");
}

/// Every help page says what happens, why, an example, what to use instead, and where it is known from.
#[test]
fn every_check_explains_itself() {
    for check in CHECKS {
        let page = check.page();
        for head in
            ["# ", "**What happens.** ", "**Why.** ", "**Example.** ", "**Use instead.** ", "**Source.** "]
        {
            assert!(page.lines().any(|l| l.starts_with(head)), "{}: no {head}", check.name);
        }
        let names = CHECKS.iter().filter(|c| c.name == check.name).count();
        assert_eq!((names, check.line.ends_with('.')), (1, false), "{}", check.name);
    }
    for about in WHOLE {
        assert!(
            about.page.contains("**Do instead.** ") && about.page.contains("**Source.** "),
            "{}",
            about.name
        );
        assert!(CHECKS.iter().all(|c| c.name != about.name), "{}", about.name);
    }
}
