//! # Too little phantom
//!
//! **What happens.** The microphone stays silent, or crackles and distorts.
//!
//! **Why.** It takes its power from the input, over the two signal legs of a balanced lead. The input must give the volts that
//! it is made for, and more current costs volts: 4 mA on a 48 V supply leave 34 V. A two-pole plug or an adapter to jack stops it.
//!
//! **Example.** A condenser microphone in a powered speaker's input, which gives none.
//!
//! **Use instead.** An input with phantom, with XLR all the way; or a dynamic microphone.
//!
//! **Caution.** Mute first, switch phantom, wait 5 s. Never with a ribbon microphone or an unbalanced lead on that mixer.
//!
//! **Source.** IEC 61938:2018 (check values P-PHA-01, P-PHA-02); `physics::phantom::feed`.

use model::{PhantomAtInput, PhantomAtOutput, Wiring};
use physics::phantom::{Feed, Need, P48, feed};
use physics::{Amps, Between, Volts};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let PhantomAtOutput::Needs { volts, milliamps } = &row.out.phantom else { return None };
    let refused = |what: &str| {
        let found = row.finds(Verdict::WillNotWork, 0, what);
        let help = "use an input with phantom, with XLR all the way, or a dynamic microphone";
        Some(found.help(help).figure("needs", volts, "V").figure("draws", milliamps, "mA"))
    };
    if row.input.phantom == PhantomAtInput::No {
        return refused("it needs phantom, and the input gives none");
    }
    if let Some(piece) = row.via.iter().find(|l| l.kind.wiring != Wiring::Bal) {
        return refused(&format!("it needs phantom, and none gets through {}", piece.name));
    }
    if row.out.class != model::Class::Mic {
        return refused("it needs phantom, which comes over microphone leads only");
    }
    // The range of the figure is the supplies it is made for; a lone figure is the one.
    let (least, most) = volts.range.unwrap_or((volts.value, volts.value.max(52.0)));
    let need = Need {
        supply: Between::new(Volts::new(least).ok()?, Volts::new(most).ok()?),
        current: Amps::new(milliamps.value / 1000.0).ok()?,
        least_at_contacts: None,
    };
    match feed(&P48, &need) {
        Feed::Fed(_) => None,
        Feed::SupplyTooHigh => {
            let text = format!("a 48 V phantom supply, and it is made for at most {most} V");
            Some(row.finds(Verdict::Hazard, 0, &text).help("use its own supply").figure("needs", volts, "V"))
        }
        Feed::SupplyTooLow => refused("it needs more volts than a 48 V phantom supply gives"),
        Feed::TooMuchCurrent => {
            refused("it draws more than a 48 V phantom supply gives one microphone, 10 mA")
        }
        Feed::TooFewVoltsLeft(left) => {
            refused(&format!("only {:.0} V of phantom are left at its contacts", left.get()))
        }
    }
}
