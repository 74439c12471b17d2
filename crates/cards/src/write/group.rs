//! Which answers share a card, and in which order the cards stand.
//!
//! Twice answers are put together. First the ways in which one piece or lead fails: the same silence, the same way.
//! Then pieces: where the performer hears the same, sees the same and has to do the same, one card with all their names
//! is found sooner than four cards with one name each.

use check::Judge;
use check::compile::{About, Named};
use check::fault::{Fault, Loss, Mend};
use check::ids::{GearId, PartId};
use check::plan::Plan;
use engine::{Answer, Way};

use super::Told;
use super::book::Book;
use super::{looks, notes, title};
use crate::words;

/// The ways in which one piece, or one lead, fails, as far as they share a card.
pub(super) struct Thing<'a> {
    /// The one with the greatest loss.
    pub(super) named: &'a Named,
    /// All of them.
    pub(super) faults: Vec<&'a Named>,
    /// The card speaks for every way the piece fails.
    pub(super) whole: bool,
}

/// Everything that shares one card.
pub(super) struct Group<'a> {
    /// The answer of the greatest loss.
    pub(super) answer: &'a Answer,
    /// What is lost and what can be mended: of the greatest loss, or of all that died together.
    pub(super) fault: Fault,
    /// The things that died: one of these, or all of them.
    pub(super) things: Vec<Thing<'a>>,
    /// They died together.
    pub(super) together: bool,
}

impl<'a> Group<'a> {
    /// All faults it speaks for.
    pub(super) fn faults(&self) -> Vec<&'a Named> {
        self.things.iter().flat_map(|t| t.faults.iter().copied()).collect()
    }

    /// What is silent: of things that died together, what each of them alone silences.
    pub(super) fn silences(&self, book: Book<'_>) -> Vec<Vec<PartId>> {
        if !self.together {
            return vec![self.answer.silent.clone()];
        }
        let gone = |thing: &Thing<'_>| {
            let certain = thing.named.fault.for_certain(&book.c.problem.spec);
            let mut judge = Judge::new(&book.c.problem, &certain);
            let _broken = judge.look(&Plan::default());
            let counted = book.c.problem.counted.iter().copied();
            counted.filter(|p| judge.speakers_of(*p).is_empty()).collect()
        };
        self.things.iter().map(gone).collect()
    }

    /// Pieces with no life or no power left, whichever of the things it was.
    pub(super) fn dead(&self) -> Vec<GearId> {
        let lifeless = |t: &Thing<'_>| -> Vec<GearId> {
            let lost = t.named.fault.lost.iter();
            lost.filter_map(|l| if let Loss::Gear(g) | Loss::Supply(g) = l { Some(*g) } else { None })
                .collect()
        };
        let all: Vec<Vec<GearId>> = self.things.iter().map(lifeless).collect();
        let every = |g: &GearId| self.together || all.iter().all(|dead| dead.contains(g));
        all.iter().flatten().copied().filter(every).collect()
    }
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

/// The next way, where it is one: it does something that the first does not.
pub(super) fn next_way(answer: &Answer) -> Option<&Way> {
    let (next, first) = (answer.next.as_ref()?, &main_way(answer).cover.plan);
    (!waits(answer) && adds(&next.cover.plan, first)).then_some(next)
}

/// Does `plan` do anything that `first` does not? What is mended is counted anew there, so any mend is new.
fn adds(plan: &Plan, first: &Plan) -> bool {
    !plan.mends.is_empty()
        || plan.new.iter().any(|n| !first.new.contains(n))
        || plan.pulls.iter().any(|p| !first.pulls.contains(p))
        || plan.places.iter().any(|p| !first.places.contains(p))
        || plan.knobs.iter().any(|k| !first.knobs.contains(k))
        || plan.starts.iter().any(|g| !first.starts.contains(g))
}

/// The mends the next way may still do: one that did not help is not offered again.
pub(super) fn mends_left(fault: &Fault, first: &Way) -> Vec<Mend> {
    let done = &first.cover.plan.mends;
    let all = fault.mends.iter().enumerate();
    all.filter(|(i, _)| !done.contains(i)).map(|(_, m)| m.clone()).collect()
}

/// Groups, the worst first: badness, then weighted silence, then the order of the file.
pub(super) fn groups<'a>(book: Book<'_>, told: &'a Told<'_>) -> Vec<Group<'a>> {
    let mut answers: Vec<(usize, &Named, &Answer)> = told
        .answers
        .iter()
        .filter_map(|(f, answer)| Some((*f, told.compiled.faults.get(*f)?, answer)))
        .filter(|(_, _, answer)| !answer.silent.is_empty())
        .collect();
    answers.sort_by_key(|(f, _, a)| (a.badness, std::cmp::Reverse(a.weighted), *f));
    let mut pieces: Vec<(Thing<'a>, &Answer)> = Vec::new();
    for (_, named, answer) in answers {
        match pieces.iter_mut().find(|(t, a)| one_thing(t.named, named) && same_way(a, answer)) {
            Some((thing, best)) => {
                if loss(named) > loss(thing.named) {
                    (thing.named, *best) = (named, answer);
                }
                thing.faults.push(named);
            }
            None => pieces.push((Thing { named, faults: vec![named], whole: false }, answer)),
        }
    }
    let mut out: Vec<Group<'a>> = Vec::new();
    for (mut thing, answer) in pieces {
        thing.whole = is_all(told, &thing);
        match out.iter_mut().find(|g| joins(book, g, &thing, answer)) {
            Some(group) => {
                let most = group.things.iter().map(|t| loss(t.named)).max().unwrap_or(0);
                if loss(thing.named) > most {
                    (group.answer, group.fault) = (answer, thing.named.fault.clone());
                }
                group.things.push(thing);
            }
            None => {
                let fault = thing.named.fault.clone();
                out.push(Group { answer, fault, things: vec![thing], together: false });
            }
        }
    }
    out
}

/// Things that died together, as one group.
pub(super) fn together<'a>(told: &'a Told<'_>, faults: &[usize], answer: &'a Answer) -> Option<Group<'a>> {
    let mut things: Vec<Thing<'a>> = Vec::new();
    for named in faults.iter().filter_map(|f| told.compiled.faults.get(*f)) {
        match things.iter_mut().find(|t| one_thing(t.named, named)) {
            Some(thing) => {
                thing.faults.push(named);
                if loss(named) > loss(thing.named) {
                    thing.named = named;
                }
            }
            None => things.push(Thing { named, faults: vec![named], whole: false }),
        }
    }
    for thing in &mut things {
        thing.whole = is_all(told, thing);
    }
    let mut lost = things.iter().flat_map(|t| t.faults.iter()).map(|f| &f.fault);
    let first = lost.next()?.clone();
    let fault = lost.fold(first, |both, more| both.and(more));
    (!answer.silent.is_empty()).then_some(Group { answer, fault, together: things.len() > 1, things })
}

/// Does the card speak for every way in which the thing fails?
fn is_all(told: &Told<'_>, thing: &Thing<'_>) -> bool {
    match thing.named.about {
        About::Mode { .. } => thing.faults.len() > 1 && thing.faults.iter().any(|f| is_whole(f)),
        About::Lead { link, .. } => {
            thing.faults.len() >= told.compiled.problem.spec.patch.get(link).map_or(1, |l| l.via.len())
        }
        About::Spare { .. } => true,
    }
}

fn one_thing(a: &Named, b: &Named) -> bool {
    match (a.about, b.about) {
        (About::Mode { gear: a, .. }, About::Mode { gear: b, .. }) => a == b,
        (About::Lead { link: a, .. }, About::Lead { link: b, .. }) => a == b,
        _ => false,
    }
}

/// A mend belongs to one way of failing, so what can be mended is never told together.
fn same_way(a: &Answer, b: &Answer) -> bool {
    let plan = &main_way(a).cover.plan;
    plan.mends.is_empty()
        && a.silent == b.silent
        && a.badness == b.badness
        && *plan == main_way(b).cover.plan
        && waits(a) == waits(b)
}

/// May another piece stand on this card? Only where everything on it holds for both, and no look is lost.
fn joins(book: Book<'_>, group: &Group<'_>, thing: &Thing<'_>, answer: &Answer) -> bool {
    let steps = |a: &Answer| main_way(a).order.steps.clone();
    let next = |a: &Answer| next_way(a).map(|w| w.cover.plan.clone());
    let same = same_way(group.answer, answer)
        && steps(group.answer) == steps(answer)
        && next(group.answer) == next(answer)
        && next_way(answer).is_none_or(|w| w.cover.plan.mends.is_empty())
        && notes::in_break(book, group.answer) == notes::in_break(book, answer);
    let title = title::title(book, &group.things.iter().chain([thing]).collect::<Vec<_>>(), false);
    let both: Vec<&Named> = group.faults().into_iter().chain(thing.faults.iter().copied()).collect();
    let silent = [answer.silent.clone()];
    same && words::check(&title).is_empty() && {
        let all = looks::chosen(book, &both, &silent);
        let kept = |faults: &[&Named]| looks::chosen(book, faults, &silent).iter().all(|l| all.contains(l));
        kept(&group.faults()) && kept(&thing.faults)
    }
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
