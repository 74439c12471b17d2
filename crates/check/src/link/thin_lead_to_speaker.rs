//! # A thin lead between amplifier and loudspeaker
//!
//! **What happens.** The lead gets hot, may melt or short, and the amplifier may fail.
//!
//! **Why.** An instrument lead has one thin core and a screen. Loudspeaker power runs at several amperes.
//!
//! **Example.** A jack instrument lead from a power amplifier to a passive speaker. It looks like a speaker lead.
//!
//! **Use instead.** A speaker lead: two thick conductors, no screen.
//!
//! **Caution.** Switch the amplifier off before you change its loudspeaker lead.
//!
//! **Source.** Ohm's law (`physics::speaker_lead`); common practice.

use model::Class;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if row.out.class != Class::Speaker {
        return None;
    }
    let thin = row.via.iter().find(|l| !l.kind.carries.contains(&Class::Speaker))?;
    let found = row.finds(Verdict::Hazard, 0, &format!("{} is no speaker lead; it may get hot", thin.name));
    Some(found.help("use a speaker lead: two thick conductors, no screen"))
}
