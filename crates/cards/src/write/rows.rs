//! "What went silent?": the rows that lead from what is heard to the cards that fit.

use check::Judge;
use check::ids::{GearId, PartId};
use check::plan::Plan;

use super::book::Book;
use super::group::Group;
use super::looks;
use crate::card::Card;
use crate::deck::SilentRow;
use crate::line::Line;

/// Most looks in a row.
const LOOKS: usize = 3;

/// Everything first, then each source that goes silent by itself, then one side, then what only the performers hear.
///
/// A card stands in every row whose silence it answers, since nobody on stage knows beforehand which row is the whole truth.
pub(super) fn rows(book: Book<'_>, groups: &[Group<'_>], cards: &[Card]) -> Vec<SilentRow> {
    let mut out = Vec::new();
    let row = |name: &str, note: &str, fits: &dyn Fn(&Group<'_>) -> bool| -> Option<SilentRow> {
        let found: Vec<(&Group<'_>, &Card)> = groups.iter().zip(cards).filter(|(g, _)| fits(g)).collect();
        let (_, first) = found.first()?;
        let mut looks: Vec<Line> = Vec::new();
        for look in found.iter().filter_map(|(g, _)| looks::first(book, &g.faults(), &g.silences(book))) {
            if !looks.contains(&look.words) && looks.len() < LOOKS {
                looks.push(look.words);
            }
        }
        Some(SilentRow {
            name: name.to_owned(),
            note: if note.is_empty() { Line::default() } else { Line::text(note) },
            mouth: first.mouth.word,
            looks,
            cards: found.iter().map(|(_, c)| c.number).collect(),
        })
    };
    let everything = |g: &Group<'_>| book.heard(&g.answer.sounding).is_empty();
    let dark = |g: &Group<'_>| {
        let judge = Judge::new(&book.c.problem, &g.fault);
        book.c.problem.live.iter().enumerate().any(|(i, live)| *live && !judge.is_live(GearId::at(i)))
    };
    out.extend(row("everything", "and some lamps are dark", &|g| everything(g) && dark(g)));
    out.extend(row("everything", "but lamps are lit", &|g| everything(g) && !dark(g)));
    for (s, source) in book.c.rig.sources.iter().enumerate() {
        let this = |g: &Group<'_>| !everything(g) && book.heard(&g.answer.silent).contains(&s);
        out.extend(row(&source.name, "", &this));
    }
    out.extend(row("one side", "", &|g| !everything(g) && one_side(book, g)));
    out.extend(row("only what you hear", "", &|g| book.heard(&g.answer.silent).is_empty()));
    out
}

/// Does the audience hear something from fewer speakers than before, and still hear it?
fn one_side(book: Book<'_>, group: &Group<'_>) -> bool {
    let certain = group.fault.for_certain(&book.c.problem.spec);
    let mut judge = Judge::new(&book.c.problem, &certain);
    let _broken = judge.look(&Plan::default());
    let before = book.c.problem.speakers.iter().enumerate();
    before.filter(|(p, _)| book.for_audience(PartId::at(*p))).any(|(p, had)| {
        let has = judge.speakers_of(PartId::at(p)).len();
        has > 0 && has < had.len()
    })
}
