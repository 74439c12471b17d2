//! # A kind of signal that the input does not take
//!
//! **What happens.** It is far too weak and noisy, or far too loud and distorted, or nothing comes at all. Power into an input
//! for sound destroys it.
//!
//! **Why.** Microphones give thousandths of a volt, instruments tenths, line outputs one or two volts. Each input is built for
//! one of them.
//!
//! **Example.** A microphone in a line input: weak, and no phantom. A line output in a microphone input: distorted.
//!
//! **Use instead.** The input marked for it: MIC, INST, LINE, PHONES; or a direct box between.
//!
//! **Source.** Common practice; levels: check values P-LVL-01 to P-LVL-03.

use model::Class;

use super::row::{Found, Row, in_words};
use crate::verdict::Verdict;

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    let class = &row.out.class;
    let takes_power = row.takes_any(Class::is_supply);
    let known = [
        super::speaker_into_input::judge,
        super::no_amplifier::judge,
        super::instrument_into_microphone::judge,
    ];
    if row.is_taken() || (class.is_supply() && takes_power) || known.iter().any(|other| other(row).is_some())
    {
        return None;
    }
    let takes: Vec<String> = row.input.accepts.iter().map(|a| in_words(&a.class)).collect();
    let takes = if takes.is_empty() { "nothing".to_owned() } else { takes.join(", ") };
    let why = match class {
        Class::Mic => ": too weak, and no phantom",
        Class::Line | Class::Phones if row.takes_any(|c| *c == Class::Mic) => ": too loud, it distorts",
        _ => "",
    };
    let verdict = if class.is_supply() { Verdict::Hazard } else { Verdict::WillNotWork };
    let found = row.finds(verdict, 0, &format!("gives {}, the input takes {takes}{why}", in_words(class)));
    Some(found.help("use an input marked for it"))
}
