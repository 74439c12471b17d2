//! Which answers share a card, and in which order the cards stand.

use check::compile::{About, Named};
use check::fault::Loss;
use engine::{Answer, Way};

use super::Told;

/// Answers that share one card: the same piece, the same silence, the same way.
pub(super) struct Group<'a> {
    /// The one with the greatest loss.
    pub(super) named: &'a Named,
    /// Its answer.
    pub(super) answer: &'a Answer,
    /// All of them.
    pub(super) faults: Vec<&'a Named>,
    /// The card speaks for every way the piece fails.
    pub(super) whole: bool,
}

/// The way a card shows: what to do at once, or at the next pause where nothing needs doing at once.
pub(super) fn main_way(answer: &Answer) -> &Way {
    match &answer.full {
        Some(full) if answer.now.cover.plan.is_empty() => full,
        _ => &answer.now,
    }
}

/// Is what is silent brought back only at the next pause?
pub(super) fn waits(answer: &Answer) -> bool {
    answer.now.cover.plan.is_empty() && answer.full.is_some()
}

/// Groups, the worst first: badness, then weighted silence, then the order of the file.
pub(super) fn groups<'a>(told: &'a Told<'_>) -> Vec<Group<'a>> {
    let mut answers: Vec<(usize, &Named, &Answer)> = told
        .answers
        .iter()
        .filter_map(|(f, answer)| Some((*f, told.compiled.faults.get(*f)?, answer)))
        .filter(|(_, _, answer)| !answer.silent.is_empty())
        .collect();
    answers.sort_by_key(|(f, _, a)| (a.badness, std::cmp::Reverse(a.weighted), *f));
    let mut out: Vec<Group<'a>> = Vec::new();
    for (_, named, answer) in answers {
        let fits = out.iter_mut().find(|g| alike(g, named, answer));
        match fits {
            Some(group) => {
                if loss(named) > loss(group.named) {
                    (group.named, group.answer) = (named, answer);
                }
                group.faults.push(named);
            }
            None => out.push(Group { named, answer, faults: vec![named], whole: false }),
        }
    }
    for group in &mut out {
        group.whole = match group.named.about {
            About::Mode { .. } => group.faults.len() > 1 && group.faults.iter().any(|f| is_whole(f)),
            About::Lead { link, .. } => {
                let pieces = told.compiled.problem.spec.patch.get(link).map_or(1, |l| l.via.len());
                group.faults.len() >= pieces
            }
            About::Spare { .. } => true,
        };
    }
    out
}

/// A mend belongs to one way of failing, so what can be mended is never told together.
fn alike(group: &Group<'_>, named: &Named, answer: &Answer) -> bool {
    let same_thing = match (group.named.about, named.about) {
        (About::Mode { gear: a, .. }, About::Mode { gear: b, .. }) => a == b,
        (About::Lead { link: a, .. }, About::Lead { link: b, .. }) => a == b,
        _ => false,
    };
    let plan = &main_way(answer).cover.plan;
    same_thing
        && plan.mends.is_empty()
        && group.answer.silent == answer.silent
        && group.answer.badness == answer.badness
        && *plan == main_way(group.answer).cover.plan
        && waits(group.answer) == waits(answer)
}

/// Is the piece itself dead, not only one socket or one way through it?
pub(super) fn is_whole(named: &Named) -> bool {
    let whole = |l: &Loss| matches!(l, Loss::Gear(_) | Loss::Supply(_) | Loss::Sound(_) | Loss::Make(_));
    named.fault.lost.iter().any(whole)
}

/// How much is lost, so that a card's next way holds for all it speaks for.
fn loss(named: &Named) -> usize {
    let all = named.fault.lost.iter().any(|l| matches!(l, Loss::Gear(_)));
    named.fault.lost.len() + if all { 1000 } else { 0 }
}
