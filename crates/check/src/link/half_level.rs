//! # A balanced output into an unbalanced input
//!
//! **What happens.** The sound arrives 6 dB weaker, and hum has an easier way in.
//!
//! **Why.** A balanced output puts half of its signal on each of two conductors. A two-pole plug takes one and joins the other
//! to earth. Some outputs stand that badly.
//!
//! **Example.** A mixer's XLR output through an XLR to two-pole jack lead into an amplifier.
//!
//! **Use instead.** A balanced lead into a balanced input; or turn the level up and keep the lead short.
//!
//! **Source.** Circuit theory (check values P-BAL-02); `physics::balance::balanced_into_unbalanced`.

use model::{Class, Wires, Wiring};
use physics::balance::{ColdLeg, Output, balanced_into_unbalanced};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    // A dynamic microphone's coil floats: earthing one end costs nothing. Only driven legs halve.
    let driven = match row.out.class {
        Class::Line => true,
        Class::Mic => row.giver.needs_power(),
        _ => false,
    };
    let unbalanced = row.has(Wiring::Ts) || row.to.wires == Wires::Ts;
    if !driven || row.from.wires != Wires::Bal || !unbalanced {
        return None;
    }
    let change = balanced_into_unbalanced(Output::Symmetrical, ColdLeg::Grounded).change?;
    let text = format!("one of two legs is lost, {:.0} dB weaker", change.get().abs());
    Some(row.finds(Verdict::SoundsDifferent, 1, &text).help("use a balanced lead, or turn it up"))
}
