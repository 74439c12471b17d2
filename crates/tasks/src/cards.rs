//! All cards of a rig, as one file.

use std::path::Path;

use crate::ways::{Progress, limit, singles};
use crate::{Bad, check as checked, load, view, world};

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked<'a> {
    /// Where to write the page.
    pub to: &'a Path,
    /// The date that stands on every card, as text; `None`: the show's, if the rig file has one.
    pub date: Option<&'a str>,
    /// How long to look, in counted steps; `None`: the usual limit.
    pub limit: Option<u64>,
}

/// Writes the cards. Of a rig that was not wholly understood none are made: a wrong card is worse than none. Of a rig with a
/// hazard the page says stop, what the hazard is and how to be rid of it, and has no cards either.
///
/// # Errors
/// When the rig file cannot be read, the rig cannot be reckoned with, or the page cannot be written.
pub fn cards(path: &Path, asked: &Asked<'_>, progress: Progress<'_>) -> Result<view::Cards, Bad> {
    world::may_write(asked.to)?;
    if world::is_same(path, asked.to) {
        return Err(Bad {
            code: "over-the-rig",
            place: asked.to.display().to_string(),
            found: "this is the rig file itself".to_owned(),
            expected: "another name for the cards".to_owned(),
            fix: format!("write -o {}", asked.to.with_extension("html").display()),
        });
    }
    let loaded = load(path)?;
    let mut it = view::Cards {
        file: loaded.file.clone(),
        rig: loaded.rig.name.clone(),
        written: None,
        cards: 0,
        bytes: 0,
        problems: loaded.problems(),
        hazards: Vec::new(),
    };
    if !it.problems.is_empty() {
        return Ok(it);
    }
    let c = loaded.compile()?;
    it.hazards = checked::hazards(&c);
    // With a hazard on the table nothing else is offered, so nothing else is worked out.
    let answers = if it.hazards.is_empty() { singles(&c, limit(asked.limit), progress) } else { Vec::new() };
    let told = cards::write::Told {
        compiled: &c,
        answers: &answers,
        date: asked.date.or(c.rig.show.date.as_deref()).unwrap_or_default().to_owned(),
        lang: "en".to_owned(),
    };
    let deck = cards::write::deck(&told);
    let page = cards::html::page(&deck);
    world::write(asked.to, page.as_bytes())?;
    it.written = Some(asked.to.display().to_string());
    it.cards = deck.cards.len();
    it.bytes = page.len();
    Ok(it)
}
