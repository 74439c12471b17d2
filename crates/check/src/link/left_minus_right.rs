//! # A stereo plug in a balanced input
//!
//! **What happens.** Voice, bass and all else in the middle vanish. What is left is thin and hollow.
//!
//! **Why.** A balanced input amplifies the difference of its two conductors. A stereo plug puts left on one and right on
//! the other, so the input gives left minus right, and what both share cancels.
//!
//! **Example.** A laptop's headphone socket with a stereo lead into a mixer's line input.
//!
//! **Use instead.** A summing lead, or a split lead into two inputs.
//!
//! **Source.** Circuit theory (check values P-BAL-01); `physics::balance::left_minus_right`.

use model::{Wires, Wiring};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let straight = row.via.iter().all(|l| l.kind.wiring == Wiring::Bal);
    if !row.out.class.is_sound() || row.from.wires != Wires::Stereo || row.to.wires != Wires::Bal || !straight
    {
        return None;
    }
    let found = row.finds(
        Verdict::WillNotWork,
        0,
        "left and right arrive as the two legs of a balanced input; what both share, the voice, cancels",
    );
    Some(found.help("use a summing lead, or a split lead into two inputs"))
}
