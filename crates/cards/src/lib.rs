//! A card as plain data, and three ways to show it: plain text, one HTML page for phone and paper, and a small picture.
//!
//! Nothing here computes an answer. [`Card`] is filled elsewhere; this crate only checks its words and shows it.
//! No clock, disk, environment or chance: a deck shown twice is the same bytes, and dates are text given by the caller.
//!
//! ```
//! use cards::{Line, printed, tape, text, verb};
//!
//! let step = Line::from([verb("move"), tape("VOICE"), text("lead into"), tape("LEFT SPEAKER"), printed("B"), text(".")]);
//! assert_eq!(step.plain(), "MOVE VOICE lead into LEFT SPEAKER B.");
//! ```

mod card;
mod deck;
mod font;
pub mod html;
mod line;
pub mod picture;
mod seconds;
mod sides;
pub mod text;
pub mod words;
pub mod write;

pub use card::{
    Card, CarryOn, CarryOnKind, Foot, HaventGot, Look, Mark, Mouth, MouthWord, Next, Proof, Sign, Step, Who,
};
pub use deck::{Deck, Hazard, Rank, SilentRow};
pub use line::{Line, Run, printed, tape, text, verb};
pub use seconds::{NOTICE, READ, Seconds};
