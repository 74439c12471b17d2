//! # A supply that is too weak
//!
//! **What happens.** The gear stays dark, restarts, or hums and crackles. The supply gets hot.
//!
//! **Why.** Gear draws what it needs; a supply gives up to what its plate says. More milliamps than needed do no harm. Fewer do.
//!
//! **Example.** A looper that draws 500 mA on a 200 mA supply for pedals.
//!
//! **Use instead.** A supply of the same volts and polarity with at least the milliamps of the gear's plate.
//!
//! **Source.** Kirchhoff, common practice (check values P-PWR-08).

use physics::{Amps, supply::spare};

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if !row.out.class.is_supply() || !row.is_taken() {
        return None;
    }
    let (gives, draws) = (row.out.milliamps.as_ref()?, row.input.milliamps.as_ref()?);
    let amps = |milli: f64| Amps::new(milli / 1000.0).ok();
    spare(amps(gives.value)?, &[amps(draws.value)?]).err()?;
    let text = format!("gives {} mA, {} draws {} mA", gives.value, row.taker.name, draws.value);
    let found = row
        .finds(Verdict::WillNotWork, 0, &text)
        .help("use a supply that gives more, at the same volts and polarity");
    Some(found.figure("gives", gives, "mA").figure("draws", draws, "mA"))
}
