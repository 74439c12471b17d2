//! # A lead that stops short
//!
//! **What happens.** It does not reach, or hangs in the air where somebody will walk into it.
//!
//! **Why.** A lead goes down from one piece, along the floor, and up to the next. On the floor it never lies straight: count a
//! fifth more than the distance.
//!
//! **Example.** 3 m between a keyboard on its stand and a mixer on a table 2 m away: 1 m down, 2.4 m along, 1 m up.
//!
//! **Use instead.** A longer lead, two joined, or move one of the two nearer.
//!
//! **Caution.** Never across an exit or the audience's path without mat and tape.
//!
//! **Source.** Common practice: a lead's useful reach is 70 to 80 % of its length; docs/cover.md, section 2.

use physics::math;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let (have, squared) = row.reach;
    if have >= 0 && 25 * have * have >= 36 * squared {
        return None;
    }
    let floor = f64::from(i32::try_from(squared).unwrap_or(i32::MAX));
    let floor = 1.2 * math::sqrt(floor);
    let left = f64::from(i32::try_from(have).unwrap_or(i32::MIN));
    // Up to the next decimetre: a lead that is told to be long enough must be.
    let short = ((floor - left).ceil() / 10.0).max(0.1);
    let span = row.metres() + short;
    let text = format!("the {} stops {short:.1} m short; it must span {span:.1} m", row.pieces());
    let mut found = row.finds(Verdict::WillNotWork, 0, &text).help(format!(
        "use {span:.1} m or more, or move {} and {} nearer together",
        row.giver.name, row.taker.name
    ));
    for piece in row.via.iter().filter(|l| l.length.value > 0.0) {
        found = found.figure(&piece.name, &piece.length, "m");
    }
    Some(found)
}
