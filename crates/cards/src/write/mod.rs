//! Turns computed answers into cards: what `check` and `engine` found, said in a performer's words.
//!
//! Nothing is decided here. Every plan, every second and every silence comes from [`engine::Answer`]; this module
//! only finds words for it. The owner's own words (taped names, modes, looks, cautions) are kept where the word rules
//! of [`crate::words`] allow, and else stand as labels, so no name an owner chooses can spoil a card.

mod back;
mod book;
mod cautions;
mod deck;
mod different;
mod fill;
mod foot;
mod group;
mod hazard;
mod leads;
mod looks;
mod mouth;
mod next;
mod notes;
mod picture;
mod rows;
mod say;
mod signs;
mod steps;
mod title;

use check::compile::Compiled;
use engine::Answer;

use crate::card::Card;

pub use deck::{deck, together};
pub use hazard::hazards;
pub use leads::{is_taped, tape_of};

/// What a deck is made of.
#[derive(Clone, Debug)]
pub struct Told<'a> {
    /// The rig and its faults.
    pub compiled: &'a Compiled,
    /// Answers, each with the place of its fault in [`Compiled::faults`]. Others than those there are left out.
    pub answers: &'a [(usize, Answer)],
    /// The date as text.
    pub date: String,
    /// Language tag: "en".
    pub lang: String,
}

/// The card of one answer by itself, numbered 1: what a command shows for one thing that died.
///
/// `None` when nothing that counts goes silent, or the answer's fault is not in the rig.
pub fn card(told: &Told<'_>, fault: usize) -> Option<Card> {
    let (_, answer) = told.answers.iter().find(|(f, _)| *f == fault)?;
    together(told, &[fault], answer).into_iter().next()
}
