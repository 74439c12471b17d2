//! # An input that loads the output
//!
//! **What happens.** The sound arrives weaker; 3 to 6 dB is slightly, more is clearly weaker.
//!
//! **Why.** Source and load divide the voltage. A load at least ten times the source loses under 1 dB; an equal one loses
//! 6 dB. What gain makes up for comes back with more noise.
//!
//! **Example.** An effect with a 10 kilohm output into a 10 kilohm line input: 6 dB gone.
//!
//! **Use instead.** An input with a higher load, or a direct box between.
//!
//! **Source.** The voltage divider (check values P-LNK-01); "ten times" is common practice.

use model::Class;
use physics::{Ohms, loading::bridging_loss};

use super::row::{Found, Row};
use crate::verdict::Verdict;

/// Losses that count as slight, and as clear, dB. Common practice.
const SLIGHT: f64 = -3.0;
const CLEAR: f64 = -6.0;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    // A pickup is no plain resistance: `thin-pickup` judges it. Amplifiers and headphone outputs drive their low loads by
    // design.
    let driven = row.out.class == Class::Speaker || row.open_windows().any(|a| a.class == Class::Phones);
    if !row.is_sound() || super::thin_pickup::is_pickup(row) || driven {
        return None;
    }
    let (source, load) = (row.out.impedance.as_ref()?, row.load()?);
    let loss = bridging_loss(Ohms::new(source.value).ok()?, Ohms::new(load.value).ok()?);
    if loss.get() > SLIGHT {
        return None;
    }
    let points = if loss.get() > CLEAR { 1 } else { 2 };
    let found = row.finds(
        Verdict::SoundsDifferent,
        points,
        &format!("the input loads the output, {:.1} dB weaker", loss.get().abs()),
    );
    Some(
        found
            .help("turn its gain up, or use an input with a higher load")
            .figure("source impedance", source, "ohm")
            .figure("load", load, "ohm"),
    )
}
