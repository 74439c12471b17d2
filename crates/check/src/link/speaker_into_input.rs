//! # Loudspeaker power into an input
//!
//! **What happens.** The input is damaged. The amplifier may be, too.
//!
//! **Why.** A loudspeaker output gives tens of volts: 100 W in 8 ohm are 28 V, some 27 dB over the usual line level. A line
//! input is made for one or two volts.
//!
//! **Example.** A power amplifier's output into a mixer, to "record it".
//!
//! **Use instead.** The amplifier's line output, or the mixer's.
//!
//! **Caution.** Switch the amplifier off before you touch its loudspeaker leads. A valve amplifier is never on without its
//! loudspeaker.
//!
//! **Source.** Ohm's law (check values P-LVL-07).

use model::Class;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if row.out.class != Class::Speaker || row.takes_any(|c| *c == Class::Speaker) {
        return None;
    }
    let found = row.finds(Verdict::Hazard, 0, "loudspeaker power into an input; it may destroy the input");
    Some(found.help("take the sound from a line output; this socket feeds loudspeakers only"))
}
