//! # Too loud or too weak for the input
//!
//! **What happens.** Too loud: it distorts, whatever the knob. Too weak: the knob is full up, and noise comes along.
//!
//! **Why.** Each input can be set for a range of levels. What the output gives, from its knob's lowest to its loudest peak, has
//! to reach into it.
//!
//! **Example.** A line output of +10 dBu in a microphone input that takes up to -18 dBu.
//!
//! **Use instead.** Another input, or turn the output down where it has a knob.
//!
//! **Source.** Levels: check values P-LVL-01 to P-LVL-05; windows are typical figures.

use super::row::{Found, Row};
use crate::compile::{CREST, inward};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let level = row.level?;
    if !row.is_sound() || row.open_windows().next().is_none() {
        return None;
    }
    let windows: Vec<_> =
        row.open_windows().map(|a| (a, inward(a.least.value, a.most.value - CREST))).collect();
    if windows.iter().any(|(_, w)| level.meet(*w).is_some()) {
        return None;
    }
    let (nearest, window) =
        windows.into_iter().min_by_key(|(_, w)| (level.lo - w.hi).max(w.lo - level.hi))?;
    let loud = level.lo > window.hi;
    let (what, by) =
        if loud { ("too loud", level.lo - window.hi) } else { ("too weak", window.lo - level.hi) };
    let help =
        if loud { "turn the output down, or use another input" } else { "use an input for weaker signals" };
    let found = row.finds(Verdict::WillNotWork, 0, &format!("{by} dB {what} for this input")).help(help);
    let found = match &row.out.level {
        Some(l) => found.figure("usual level", &l.nominal, "dBu").figure("peaks", &l.peak, "dBu"),
        None => found,
    };
    Some(found.figure("least", &nearest.least, "dBu").figure("most", &nearest.most, "dBu"))
}
