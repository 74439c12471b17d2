//! Turns computed answers into cards: what `check` and `engine` found, said in a performer's words.
//!
//! Nothing is decided here. Every plan, every second and every silence comes from [`engine::Answer`]; this module
//! only finds words for it. The owner's own words (taped names, modes, looks, cautions) are kept where the word rules
//! of [`crate::words`] allow, and else stand as labels, so no name an owner chooses can spoil a card.

mod book;
mod cautions;
mod deck;
mod different;
mod group;
mod leads;
mod looks;
mod mouth;
mod notes;
mod picture;
mod say;
mod signs;
mod steps;
mod title;

use check::compile::Compiled;
use engine::Answer;

use crate::card::Card;
use crate::line::Line;

pub use deck::deck;
pub use leads::{is_taped, tape_of};

/// What a deck is made of.
#[derive(Clone, Debug)]
pub struct Told<'a> {
    /// The rig and its faults.
    pub compiled: &'a Compiled,
    /// Answers, each with the place of its fault in [`Compiled::faults`]. Others than those there are left out.
    pub answers: &'a [(usize, Answer)],
    /// Hazards in the rig as it stands, said before anything else.
    pub hazards: Vec<Line>,
    /// The date as text.
    pub date: String,
    /// Language tag: "en".
    pub lang: String,
}

/// The card of one answer by itself, numbered 1: what a command shows for one thing that died.
///
/// `None` when nothing that counts goes silent, or the answer's fault is not in the rig.
pub fn card(told: &Told<'_>, fault: usize) -> Option<Card> {
    let one: Vec<(usize, Answer)> = told.answers.iter().filter(|(f, _)| *f == fault).cloned().collect();
    let alone = Told { answers: &one, ..told.clone() };
    deck(&alone).cards.into_iter().next()
}
