//! # A lead that is not made for it
//!
//! **What happens.** It hums, it stays silent, or it is not safe.
//!
//! **Why.** Leads that look alike differ inside: screened or not, balanced or not, for light or for strong currents.
//!
//! **Example.** A speaker lead between guitar and amplifier: no screen, so it hums.
//!
//! **Use instead.** A lead of a kind that is made for it; docs/shelf.md says what each carries.
//!
//! **Source.** Common practice.

use model::Class;

use super::row::{Found, Row, in_words, suits};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let class = &row.out.class;
    if *class == Class::Speaker {
        return None;
    }
    let piece = row.via.iter().find(|l| !l.kind.carries.iter().any(|c| suits(c, class)))?;
    let text = format!("{} is not made for {}", piece.name, in_words(class));
    let verdict = if *class == Class::Mains { Verdict::Hazard } else { Verdict::WillNotWork };
    Some(row.finds(verdict, 0, &text).help(format!("use a lead for {}", in_words(class))))
}
