//! What will sound different: sides lost, one speaker for two, performers who hear less.

use std::collections::BTreeMap;

use check::Judge;
use check::ids::{GearId, ListenerId, PartId};

use super::book::Book;
use super::say::{capital, chunks, list};
use crate::line::{Line, Run, text};

/// Most lines, so that what matters most is read.
const LINES: usize = 5;

/// One sentence each, for the patch that `after` was last laid out for.
pub(super) fn different(book: Book<'_>, after: &Judge<'_>) -> Vec<Line> {
    let counted = &book.c.problem.counted;
    let (audience, others): (Vec<PartId>, Vec<PartId>) = counted.iter().partition(|p| book.for_audience(**p));
    let mut out = Vec::new();

    let before = |p: &PartId| book.c.problem.speakers.get(p.ix()).cloned().unwrap_or_default();
    let all = |at: &dyn Fn(&PartId) -> Vec<GearId>| {
        let mut all: Vec<GearId> = audience.iter().flat_map(at).collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    let (had, has) = (all(&before), all(&|p| after.speakers_of(*p)));
    if !has.is_empty() {
        // One of two alike carries half the power, 3 dB less; near the silent one more is missing. Common practice.
        out.extend(
            had.iter()
                .filter(|g| !has.contains(g))
                .map(|g| Line::from([text("Quieter near"), book.name(*g), text(", by 3 to 6 dB or more.")])),
        );
        out.extend(
            has.iter()
                .filter(|g| !had.contains(g))
                .map(|g| Line::from([text("Another sound through"), book.name(*g), text(".")])),
        );
    }

    let mut from: BTreeMap<Vec<GearId>, Vec<PartId>> = BTreeMap::new();
    let mut gone = Vec::new();
    for p in &audience {
        let (was, now) = (before(p), after.speakers_of(*p));
        if now.is_empty() {
            gone.push(*p);
        } else if now.iter().filter(|g| was.contains(g)).count() < was.len() && now.len() < was.len() {
            from.entry(now).or_default().push(*p);
        }
    }
    for (speakers, parts) in from {
        for names in chunks(&book.parts(&parts), 5) {
            let mut runs = vec![text(format!("{} from", capital(&list(&names))))];
            let shown = speakers.iter().take(3).map(|g| book.name(*g));
            for (i, name) in shown.enumerate() {
                runs.extend((i > 0).then(|| text("and")));
                runs.push(name);
            }
            runs.push(text("only."));
            out.push(runs.into());
        }
    }
    if after_any(book, after) {
        out.extend(
            chunks(&book.parts(&gone), 4).iter().map(|n| Line::text(format!("No {}.", n.join(", no ")))),
        );
    }
    out.extend(performers(book, after, &others));
    out.truncate(LINES);
    out
}

/// Does the audience hear anything at all?
fn after_any(book: Book<'_>, after: &Judge<'_>) -> bool {
    book.c.problem.counted.iter().any(|p| book.for_audience(*p) && !after.speakers_of(*p).is_empty())
}

/// "No monitor for YRSA.", or what YRSA no longer hears.
fn performers(book: Book<'_>, after: &Judge<'_>, parts: &[PartId]) -> Vec<Line> {
    let mut by: BTreeMap<ListenerId, (Vec<PartId>, usize)> = BTreeMap::new();
    for p in parts {
        let Some(part) = book.c.problem.spec.parts.get(p.ix()) else { continue };
        let entry = by.entry(part.listener).or_default();
        if after.speakers_of(*p).is_empty() {
            entry.0.push(*p);
        } else {
            entry.1 += 1;
        }
    }
    let mut out = Vec::new();
    for (listener, (gone, left)) in by {
        let name = book.listener(listener);
        if gone.is_empty() {
            continue;
        }
        if left == 0 {
            out.push(Line::text(format!("No monitor for {name}.")));
            continue;
        }
        let sources: Vec<String> = gone
            .iter()
            .filter_map(|p| book.c.problem.spec.parts.get(p.ix()))
            .map(|p| book.source(p.source.ix()))
            .collect();
        for some in chunks(&sources, 4) {
            let runs: Vec<Run> = vec![text(format!("No {} for {name}.", some.join(", no ")))];
            out.push(runs.into());
        }
    }
    out
}
