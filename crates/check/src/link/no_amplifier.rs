//! # A passive loudspeaker without an amplifier
//!
//! **What happens.** Next to nothing is heard.
//!
//! **Why.** A passive loudspeaker needs watts. A line output gives milliwatts, and its load pulls the level down.
//!
//! **Example.** A mixer's main output straight into a passive speaker.
//!
//! **Use instead.** A power amplifier between, or a powered speaker.
//!
//! **Source.** Common practice.

use model::Class;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let passive = !row.is_taken() && row.takes_any(|c| *c == Class::Speaker);
    if !passive || !row.out.class.is_sound() {
        return None;
    }
    let found = row.finds(Verdict::WillNotWork, 0, "a passive speaker needs an amplifier before it");
    Some(found.help("put an amplifier between, or use a powered speaker"))
}
