//! # A plug that does not fit
//!
//! **What happens.** It cannot be plugged.
//!
//! **Why.** Plug and socket must have the same form, and one must be a plug and the other a socket. A 2.5 mm barrel is loose on
//! a 2.1 mm pin, and a 2.1 mm barrel does not go on a 2.5 mm pin.
//!
//! **Example.** A jack lead into a mixer channel that has XLR only.
//!
//! **Use instead.** The lead with the right ends, or an adapter from the bag.
//!
//! **Source.** Common practice.

use super::row::{Found, Row, ends_in_words};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let at = row.misfit?;
    let sock = |label: &str, s: &model::Socket| format!("{label} ({})", ends_in_words(&s.connectors));
    let piece = |i: usize| row.via.get(i).map(|l| format!("{} ({})", l.name, ends_in_words(&l.kind.ends)));
    let before = at.checked_sub(1).and_then(piece).unwrap_or_else(|| sock(&row.from_label, row.from));
    let after = piece(at).unwrap_or_else(|| sock(&row.to_label, row.to));
    let what = if row.via.is_empty() && row.from.tail.is_none() && row.to.tail.is_none() {
        "no lead between, and neither has its own cable".to_owned()
    } else {
        format!("{before} does not fit {after}")
    };
    Some(row.finds(Verdict::WillNotWork, 0, &what).help("use a lead or an adapter with the right ends"))
}
