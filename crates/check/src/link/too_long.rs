//! # A lead that is too long for its signal
//!
//! **What happens.** Pickups lose treble or level. Unbalanced leads gather hum. Loudspeaker leads lose power.
//!
//! **Why.** Each metre of screened lead adds some 100 picofarads and gathers what stray fields give it. Balanced leads cancel
//! that; others do not.
//!
//! **Example.** A magnetic pickup on 10 m of instrument lead: dull.
//!
//! **Use instead.** A shorter lead, or a direct box near the source and a balanced lead from there.
//!
//! **Source.** Common practice: balanced 100 m; unbalanced line 10 m; magnetic pickup 6 m; piezo 5 m; loudspeaker 15 m.

use model::Class;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if !row.is_taken() {
        return None;
    }
    let (most, costs) = match row.out.class {
        Class::Inst if super::thin_pickup::is_pickup(row) && row.out.capacitance_nf.is_some() => {
            (5.0, "the lead takes level")
        }
        Class::Inst if super::thin_pickup::is_pickup(row) => (6.0, "the lead takes treble"),
        Class::Speaker => (15.0, "the lead takes power"),
        Class::Mic | Class::Line | Class::Inst if row.is_balanced() => (100.0, "the lead takes treble"),
        // What a headphone output drives is far below the lead's own impedance; only hum counts.
        Class::Mic | Class::Line | Class::Inst | Class::Phones => (10.0, "it gathers hum"),
        Class::Mains | Class::Dc { .. } | Class::Usb | Class::Own(_) | Class::Data(_) => return None,
    };
    let metres = row.metres();
    if metres <= most {
        return None;
    }
    let points = if metres > 2.0 * most { 2 } else { 1 };
    let text = format!("{metres:.1} m of lead, good up to {most} m for this signal; {costs}");
    let mut found = row
        .finds(Verdict::SoundsDifferent, points, &text)
        .help("use a shorter lead, or balance it near the source");
    for piece in row.via.iter().filter(|l| l.length.value > 0.0) {
        found = found.figure(&piece.name, &piece.length, "m");
    }
    Some(found)
}
