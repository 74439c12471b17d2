//! What the card of a next way says before its steps: what to undo, and what is new about it.

use check::plan::Plan;
use engine::Way;

use super::back::stays;
use super::book::Book;
use crate::card::Card;
use crate::line::{Line, Run, text};

/// Most places named as new.
const NEW: usize = 2;

/// "If you did card 1, undo it first. Seconds count from then. New here: `LEFT SPEAKER` `B`."
///
/// The way was worked out from the normal patch, so it must be done from there.
pub(super) fn before(book: Book<'_>, first: &Card, done: &Way, way: &Way) -> Vec<Line> {
    let mut out = Vec::new();
    if !first.steps.is_empty() && !done.order.steps.iter().all(|s| stays(&s.does)) {
        out.push(Line::text(format!(
            "If you did card {}, undo its steps first. Seconds count from then.",
            first.number
        )));
    }
    out.extend(new_here(book, &done.cover.plan, &way.cover.plan));
    out
}

/// Where sound goes now that it did not go before.
fn new_here(book: Book<'_>, done: &Plan, plan: &Plan) -> Option<Line> {
    let pair = |n: usize| book.c.problem.pairs.pairs.get(n);
    let into = |p: &Plan| -> Vec<_> { p.new.iter().filter_map(|n| pair(n.pair)).map(|p| p.to).collect() };
    let old = into(done);
    let mut names: Vec<Vec<Run>> =
        into(plan).into_iter().filter(|s| !old.contains(s)).map(|s| book.place(s)).collect();
    let placed = plan.places.iter().filter(|p| !done.places.contains(p));
    names.extend(placed.map(|(g, _)| vec![book.name(*g)]));
    names.dedup();
    if names.is_empty() {
        return None;
    }
    let mut runs = vec![text("New here:")];
    for (i, name) in names.into_iter().take(NEW).enumerate() {
        runs.extend((i > 0).then(|| text("and")));
        runs.extend(name);
    }
    runs.push(text("."));
    Some(runs.into())
}
