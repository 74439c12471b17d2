//! # An instrument straight into a microphone input
//!
//! **What happens.** It sounds dull or thin, and loud notes distort.
//!
//! **Why.** A microphone input loads with 1 to 3 kilohm. A pickup wants 1 megohm. And an instrument gives some ten times the
//! voltage of a microphone.
//!
//! **Example.** A violin's pickup through a jack to XLR adapter into a mixer's XLR input.
//!
//! **Use instead.** A direct box between, or an input marked for instruments.
//!
//! **Caution.** Phantom on that input reaches the instrument. Switch it off, wait 5 s.
//!
//! **Source.** The voltage divider (check values P-LNK-01), common practice.

use model::Class;

use super::row::{Found, Row};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    // A combined socket may take it by its other plug: then it is this only where the microphone's plug arrives.
    let taken = if row.arrives.is_empty() { row.is_taken() } else { row.open_windows().next().is_some() };
    if row.out.class != Class::Inst || taken || !row.takes_any(|c| *c == Class::Mic) {
        return None;
    }
    let found = row.finds(
        Verdict::WillNotWork,
        0,
        "an instrument in a microphone input: dull, and loud notes distort",
    );
    Some(found.help("put a direct box between, or use an input for instruments"))
}
