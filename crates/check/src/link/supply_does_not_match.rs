//! # A supply that does not match
//!
//! **What happens.** Too many volts, the wrong polarity or the wrong type may destroy the gear at once. Too few volts: it stays
//! dark, or crackles.
//!
//! **Why.** The same round plug carries anything from 5 to 24 volts, with plus inside or outside. It fits, and that proves
//! nothing.
//!
//! **Example.** A keyboard's 12 V centre positive supply into a pedal for 9 V centre negative.
//!
//! **Use instead.** The supply whose plate says the same volts and the same polarity sign as the gear, and at least its
//! milliamps.
//!
//! **Caution.** Read both plates before you plug. Never defeat the earth of a mains plug.
//!
//! **Source.** Common practice (check values P-PWR-08).

use model::Class;

use super::row::{Found, Row, in_words};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if !row.out.class.is_supply() || row.is_taken() || !row.takes_any(Class::is_supply) {
        return None;
    }
    let wants: Vec<&Class> = row.input.accepts.iter().map(|a| &a.class).filter(|c| c.is_supply()).collect();
    // Only too few volts the right way round do no harm.
    let mild = wants.iter().any(|want| {
        matches!((want, direct(&row.out.class)), (want, Some((given, centre)))
            if direct(want).is_some_and(|(most, c)| given < most && (c.is_none() || centre.is_none() || c == centre)))
    });
    let verdict = if mild { Verdict::WillNotWork } else { Verdict::Hazard };
    let words: Vec<String> = wants.iter().map(|c| in_words(c)).collect();
    let harm = if mild { "it stays dark" } else { "it may be destroyed" };
    let text = format!("gives {}, wants {}; {harm}", in_words(&row.out.class), words.join(" or "));
    Some(
        row.finds(verdict, 0, &text)
            .help("use the supply with the same volts and the same polarity on its plate"),
    )
}

/// Volts times ten and polarity of a direct-current supply; a USB plug cannot be the wrong way round.
fn direct(class: &Class) -> Option<(u32, Option<model::Polarity>)> {
    match class {
        Class::Dc { decivolts, centre } => Some((*decivolts, Some(*centre))),
        Class::Usb => Some((50, None)),
        Class::Mic | Class::Inst | Class::Line | Class::Phones | Class::Speaker => None,
        Class::Mains | Class::Own(_) | Class::Data(_) => None,
    }
}
