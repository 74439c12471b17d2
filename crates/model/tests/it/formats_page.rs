//! Every example of `docs/formats.md` reads without a problem, and every word of the form is on that page.

use model::text::read;

const PAGE: &str = include_str!("../../../../docs/formats.md");

/// Fenced blocks, with the word after the opening fence.
fn blocks() -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut open: Option<(String, String)> = None;
    for line in PAGE.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(word), None) => open = Some((word.to_owned(), String::new())),
            (Some(_), Some(block)) => found.push(block),
            (None, Some((word, mut text))) => {
                text.push_str(line);
                text.push('\n');
                open = Some((word, text));
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none());
    found
}

#[test]
fn every_example_reads_without_a_problem() {
    let mut examples = 0;
    for (_, text) in blocks().iter().filter(|(word, _)| word == "rig") {
        examples += 1;
        let told: Vec<String> = read(text).1.iter().map(ToString::to_string).collect();
        assert!(told.is_empty(), "{}\n---\n{text}", told.join("\n"));
    }
    assert!(examples >= 5, "{examples}");
}

#[test]
fn every_word_of_the_form_is_explained() {
    let words = [
        "rig",
        "home",
        "listener",
        "source",
        "gear",
        "about",
        "lead kind",
        "lead",
        "must",
        "should",
        "nice",
        "never",
        "bag",
        "stage",
        "time",
        "room",
        "breaker",
        "hand",
        "show",
        "break",
        "next break in",
        "song length",
        "songs",
        "quiet",
        "tried",
        "note",
        "socket",
        "route",
        "makes",
        "sounds",
        "placement",
        "placed",
        "at",
        "on",
        "in the bag",
        "draws",
        "feeds",
        "starts in",
        "starts by itself",
        "live",
        "loud",
        "battery",
        "no battery",
        "bank",
        "switch",
        "mode",
        "look",
        "mend",
        "caution",
        "uses",
        "points",
        "weighs",
        "size",
        "owner",
        "photo",
        "for",
        "without",
    ];
    for word in words {
        assert!(PAGE.contains(&format!("`{word}")), "{word}");
    }
    for (name, _) in model::STEP_NAMES {
        assert!(PAGE.contains(name), "{name}");
    }
}
