//! # One side only
//!
//! **What happens.** Only left is heard, or sound comes to one ear.
//!
//! **Why.** A stereo plug carries two signals. A two-pole plug or socket joins the second one to earth. A mono signal in a
//! stereo socket fills one side.
//!
//! **Example.** A headphone socket into a mixer's two-pole input: the music on the right is gone. A mono lead into ear-pieces:
//! one ear.
//!
//! **Use instead.** A summing lead from stereo to mono, a lead that feeds both sides from mono to stereo, or a split lead.
//!
//! **Caution.** Never one ear loud.
//!
//! **Source.** The wiring of jacks (`physics::contacts`), common practice.

use model::{Wires, Wiring};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if !row.is_sound() || row.sides_fit || super::left_minus_right::judge(row).is_some() {
        return None;
    }
    let stereo = |wires| wires == Wires::Stereo;
    let (what, help) = match (stereo(row.from.wires), stereo(row.to.wires)) {
        (true, true) if row.has(Wiring::Ts) => {
            ("a two-pole piece joins the right side to earth", "use stereo leads all the way")
        }
        (true, true) => ("left and right are mixed on the way", "use stereo leads all the way"),
        (true, false) if row.has(Wiring::Sum) => {
            ("a piece before the summing lead loses one side", "put the summing lead first")
        }
        (true, false) => {
            ("only the left side arrives", "use a summing lead, or a split lead into two inputs")
        }
        (false, true) => ("sound on one side only", "use a lead that feeds both sides"),
        (false, false) => ("a stereo lead between two mono sockets", "use a plain lead"),
    };
    Some(row.finds(Verdict::WillNotWork, 0, what).help(help))
}
