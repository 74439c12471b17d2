//! A generic type of gear with typical figures: one entry of the shelf.

use crate::{Body, Figure, Stand};

/// One entry of the shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Generic name: `small analogue mixer`.
    pub name: String,
    /// Other words that performers use for it.
    pub also: Vec<String>,
    /// Which family file it is in: `mixers`.
    pub family: String,
    /// One line on what it is.
    pub about: String,
    /// What such gear usually stands on.
    pub stands: Stand,
    /// The placement it is in unless told otherwise; empty: the first.
    pub usual_placement: String,
    /// Typical sockets, figures, modes, looks.
    pub body: Body,
    /// Questions to ask the owner, most telling first.
    pub questions: Vec<String>,
}

impl Kind {
    /// What such gear stands on, as a typical figure.
    pub fn stands(&self) -> Figure<Stand> {
        Figure::typical(self.stands)
    }
}
