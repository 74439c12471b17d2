//! The sample deck, as text and by the word rules.

use cards::words;

use crate::deck::{self, deck};

#[test]
fn every_word_of_the_sample_is_allowed() {
    let found = words::check_deck(&deck());
    assert!(found.is_empty(), "{}", found.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"));
}

#[test]
fn mixer_is_dead_as_text() {
    insta::assert_snapshot!(cards::text::card(&deck::mixer()));
}

#[test]
fn piano_is_dark_as_text() {
    insta::assert_snapshot!(cards::text::card(&deck::piano()));
}

#[test]
fn the_whole_deck_as_text() {
    insta::assert_snapshot!(cards::text::deck(&deck()));
}

/// Holds the rule on what is really read, counting every word of every name.
#[test]
fn no_sentence_as_shown_is_longer_than_twelve_words() {
    for line in cards::text::deck(&deck()).lines() {
        let line = line.trim_start_matches(|c: char| c.is_ascii_digit() || "[]- ".contains(c));
        for sentence in line.split_inclusive(['.', '?', ':', '!']) {
            let words = sentence.split_whitespace().filter(|w| w.contains(char::is_alphanumeric)).count();
            assert!(words <= words::SENTENCE, "{words} words: {sentence}");
        }
    }
}
