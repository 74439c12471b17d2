//! The page of all cards: needs nothing from outside, says only allowed words, keeps its order and its anchors.

use cards::{Line, Mark, Sign, Step, html, tape, text, words};

use crate::deck::{self, deck};

fn page() -> String {
    html::page(&deck())
}

/// The page without its style and pictures.
fn body(page: &str) -> String {
    let mut out = String::new();
    let mut rest = page.split_once("</style>").map_or("", |(_, after)| after);
    while let Some((before, after)) = rest.split_once("<svg") {
        out.push_str(before);
        rest = after.split_once("</svg>").map_or("", |(_, after)| after);
    }
    out + rest
}

/// What is read, a line a block; taped names and printed labels as one letter each.
fn read(page: &str) -> Vec<String> {
    let mut out = String::new();
    let body = body(page);
    let mut rest = body.as_str();
    while let Some((before, after)) = rest.split_once('<') {
        out.push_str(before);
        let (tag, after) = after.split_once('>').unwrap_or((after, ""));
        rest = after;
        if tag.starts_with("b class=\"tape\"") || tag.starts_with("b class=\"printed\"") {
            out.push('N');
            rest = after.split_once("</b>").map_or("", |(_, after)| after);
        } else if !["b", "/b", "span", "/span", "a ", "/a"].iter().any(|inline| tag.starts_with(inline))
            || tag == "br"
        {
            out.push('\n');
        }
    }
    out.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

#[test]
fn the_page_fetches_nothing_and_runs_nothing() {
    let page = page();
    for bad in [
        "<script",
        "<link",
        "<img",
        "<iframe",
        "@import",
        "javascript:",
        "onclick",
        "onload",
        "//cdn",
        "src=\"",
    ] {
        assert!(!page.contains(bad), "{bad}");
    }
    for (at, _) in page.match_indices("url(") {
        let url = page[at + 4..].trim_start_matches('"');
        assert!(url.starts_with("data:"), "{}", &url[..40]);
    }
    // The only addresses are the names of two file formats, which nothing fetches.
    for (at, _) in page.match_indices("http") {
        assert!(page[at..].starts_with("http://www.w3.org/2000/svg"), "{}", &page[at..at + 40]);
    }
    for (at, _) in page.match_indices("href=\"") {
        assert!(page[at + 6..].starts_with('#'), "{}", &page[at..at + 40]);
    }
}

#[test]
fn every_anchor_leads_somewhere_once() {
    let page = page();
    for (at, _) in page.match_indices("href=\"#") {
        let id = page[at + 7..].split('"').next().unwrap();
        assert_eq!(page.matches(&format!("id=\"{id}\"")).count(), 1, "{id}");
    }
}

#[test]
fn headings_never_skip_a_level() {
    let page = page();
    let mut last = 0;
    for (at, _) in page.match_indices("<h") {
        let Some(level) = page[at + 2..].chars().next().and_then(|c| c.to_digit(10)) else { continue };
        assert!(level <= last + 1, "h{level} after h{last}");
        last = level;
    }
    assert_eq!(page.matches("<h1").count(), 1);
    assert!(page.contains("<html lang=\"en\">") && page.contains("<main>"));
}

#[test]
fn all_that_is_read_keeps_the_word_rules() {
    for line in read(&page()) {
        let line =
            line.trim_start_matches(|c: char| c.is_ascii_digit()).replace(['\u{2060}', '\u{2003}'], " ");
        // The rig's own name and the foot are the owner's words.
        if line.contains('·') || line.starts_with("Harbour café duo") {
            continue;
        }
        assert_eq!(words::check_text(&line), [], "{line}");
    }
}

#[test]
fn a_card_reads_title_mouth_line_looks_steps_picture() {
    let page = page();
    let card = &page[page.find("id=\"card-1\"").unwrap()..page.find("id=\"card-2\"").unwrap()];
    let order = [
        "id=\"title-1\"",
        "Talk to them.",
        "Look first.",
        "<ol",
        "Voice is back",
        "<ul class=\"vh\"",
        "class=\"picture\"",
        "Different:",
        "Later:",
        "Put back:",
    ];
    let places: Vec<usize> =
        order.iter().map(|what| card.find(what).unwrap_or_else(|| panic!("{what}"))).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn every_step_stands_on_one_side_and_no_side_has_more_than_eight() {
    for marked in [false, true] {
        let mut deck = deck();
        let mut card = deck::strip();
        card.steps = (1..=30)
            .map(|number| Step {
                number,
                words: Line::from([tape("X"), text("a")]),
                sign: Sign::See(Line::text("b")),
                marks: if marked { vec![Mark::NotTonight { parts: vec!["keys".into()] }] } else { vec![] },
                ..card.steps[1].clone()
            })
            .collect();
        deck.cards = vec![card];
        let page = html::page(&deck);
        for number in 1..=30 {
            let two = if number > 9 { " two" } else { "" };
            assert_eq!(page.matches(&format!("<span class=\"n{two}\">{number}</span>")).count(), 1);
        }
        let sides: Vec<&str> = page.split("<div class=\"side").skip(1).collect();
        assert!(sides.len() >= 5);
        for side in &sides {
            let numbers = |class: &str| side.matches(&format!("<span class=\"{class}\">")).count();
            assert!(numbers("n") + numbers("n two") <= 8);
            assert!(side.contains("KELP"), "mark and date stand on every side");
        }
        assert!(sides[1].contains(": 2 of "));
    }
}

#[test]
fn names_cannot_break_out() {
    let mut deck = deck();
    deck.rig = "<script>alert(1)</script>".into();
    deck.cards[0].title = [tape("</h2><script>"), text("is dead")].into();
    assert!(!html::page(&deck).contains("<script"));
}

#[test]
fn the_same_deck_is_the_same_bytes() {
    assert_eq!(page(), page());
}
