//! `cards`: all cards of a rig as one page.

use std::path::Path;

use tasks::view::Cards;
use tasks::{Bad, cards};

use crate::Exit;
use crate::progress::Progress;
use crate::show::{Out, count};

pub(crate) fn run(
    rig: &Path,
    output: &Path,
    date: Option<&str>,
    limit: Option<u64>,
    out: &mut Out,
) -> Result<Exit, Bad> {
    let mut progress = Progress::new();
    let asked = cards::Asked { to: output, date, limit };
    let it = cards::cards(rig, &asked, &mut |done, all| progress.at(done, all))?;
    drop(progress);
    out.answer(&it, text);
    Ok(Exit::of(!it.problems.is_empty() || !it.hazards.is_empty()))
}

fn text(it: &Cards, out: &mut Out) {
    out.remarks(&it.hazards);
    out.problems(&it.problems);
    match &it.written {
        Some(place) if !it.hazards.is_empty() => out.line(format_args!(
            "No cards until this is dealt with: {place} says only stop, and what to do. Then make them again."
        )),
        Some(place) => {
            out.line(format_args!("{} are in {place}", count(it.cards, "card", "cards")));
            out.line("Open it in any browser: it needs no network. Print it on A4 or Letter.");
        }
        None => out
            .line("No cards were made: a card from half a rig could be wrong. Put these lines right first."),
    }
}
