//! # The wrong plug in a combined socket
//!
//! **What happens.** A microphone on a jack is far too weak; a line output on an XLR distorts.
//!
//! **Why.** A socket that takes XLR and jack often has two inputs behind it: microphone by XLR, line or instrument by jack.
//!
//! **Example.** A microphone through an XLR to jack adapter into a combined socket.
//!
//! **Use instead.** The plug that the socket wants for this signal.
//!
//! **Source.** Common practice.

use super::row::{Found, Row, form_in_words, in_words};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if row.arrives.is_empty() || !row.is_taken() || row.open_windows().next().is_some() {
        return None;
    }
    if super::instrument_into_microphone::judge(row).is_some() {
        return None;
    }
    let only: Vec<&str> = row.windows().filter_map(|a| a.only_on.as_ref()).map(form_in_words).collect();
    let came = row.arrives.iter().map(form_in_words).collect::<Vec<_>>().join(" or ");
    let text = format!("takes {} by {} only; a {came} arrives", in_words(&row.out.class), only.join(" or "));
    Some(
        row.finds(Verdict::WillNotWork, 0, &text)
            .help(format!("use a lead that ends in {}", only.join(" or "))),
    )
}
