//! What wears out, and how many are carried.

use crate::Figure;

/// A consumable that a piece uses.
#[derive(Clone, Debug, PartialEq)]
pub struct Wear {
    /// `AA cell`, `9 V block`, `violin E string`.
    pub what: String,
    /// How many are in use in the piece.
    pub in_use: u32,
    /// Hours one set lasts, where known.
    pub hours: Option<Figure<f64>>,
    /// Seconds to replace.
    pub seconds: Figure<f64>,
}

/// How many of a consumable the owner carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WearStock {
    /// As in [`Wear::what`].
    pub what: String,
    /// Lying on stage.
    pub on_stage: u32,
    /// In the spare bag.
    pub in_case: u32,
}
