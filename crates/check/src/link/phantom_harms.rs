//! # Phantom that harms
//!
//! **What happens.** A ribbon may tear. An output that was not made for it may fail.
//!
//! **Why.** Phantom puts volts on both signal legs. What expects a floating or a silent input gets 48 V instead.
//!
//! **Example.** A passive ribbon microphone through a jack adapter on an input whose phantom is always on.
//!
//! **Use instead.** An input without phantom, or one where it can be switched off; or an isolating transformer.
//!
//! **Caution.** Mute, switch phantom off, wait 5 s, then plug.
//!
//! **Source.** IEC 61938:2018; common practice (check values P-PHA-04).

use model::{PhantomAtInput, PhantomAtOutput};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if row.out.phantom != PhantomAtOutput::Harmed || row.input.phantom != PhantomAtInput::Always {
        return None;
    }
    let text = format!("phantom is always on there and may harm {}", row.giver.name);
    Some(row.finds(Verdict::Hazard, 0, &text).help("use an input without phantom"))
}
