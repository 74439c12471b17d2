//! All cards of a rig, and the list that finds them.

use check::fault::Mend;
use engine::{Answer, Way};

use super::book::Book;
use super::fill::{base, fill};
use super::foot::foot;
use super::group::{Group, groups, main_way, mends_left, next_way, together as grouped};
use super::hazard::hazards;
use super::rows::rows;
use super::{Told, mouth, next, notes, title};
use crate::card::{Card, Foot, Next};
use crate::deck::Deck;
use crate::line::{Line, text};

/// The whole deck: one card for each thing that silences something that counts, the worst first, then the next ways.
///
/// With a hazard in the rig as it stands there are no cards: nothing else is offered until it is dealt with.
pub fn deck(told: &Told<'_>) -> Deck {
    let book = Book { c: told.compiled };
    let hazards = hazards(told.compiled);
    let groups = if hazards.is_empty() { groups(book, told) } else { Vec::new() };
    let foot = foot(told);
    let titles = titles(book, &groups);
    let mut nexts: Vec<Card> = Vec::new();
    let mut cards: Vec<Card> = Vec::new();
    for (i, (group, title)) in groups.iter().zip(&titles).enumerate() {
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        let after = u32::try_from(groups.len() + nexts.len() + 1).unwrap_or(u32::MAX);
        let (card, next) = pair(book, group, title, &foot, (number, after));
        cards.push(card);
        nexts.extend(next);
    }
    let silent = rows(book, &groups, &cards);
    cards.extend(nexts);
    Deck {
        rig: told.compiled.rig.name.clone(),
        lang: told.lang.clone(),
        foot,
        hazards,
        tingle: Deck::tingle(&strips(book)),
        silent,
        cards,
        last_resort: last_resort(book),
    }
}

/// The cards of things that died together, each by its place in [`check::compile::Compiled::faults`]: what to do, and the
/// next way if there is one. None when nothing that counts goes silent, and none with a hazard.
pub fn together(told: &Told<'_>, faults: &[usize], answer: &Answer) -> Vec<Card> {
    let book = Book { c: told.compiled };
    let Some(group) = grouped(told, faults, answer).filter(|_| hazards(told.compiled).is_empty()) else {
        return Vec::new();
    };
    let title = title::title(book, &group.things.iter().collect::<Vec<_>>(), group.together);
    let (card, next) = pair(book, &group, &title, &foot(told), (1, 2));
    std::iter::once(card).chain(next).collect()
}

/// Most steps of a next way that is shown. Whom the first way has failed follows no longer one: the room has waited a
/// minute or two by then.
const NEXT_STEPS: usize = 12;

/// A group's card, and the card for when it brought no sound.
fn pair(
    book: Book<'_>,
    group: &Group<'_>,
    title: &Line,
    foot: &Foot,
    (number, after): (u32, u32),
) -> (Card, Option<Card>) {
    let way = main_way(group.answer);
    let mut card = base(book, group, title.clone(), foot);
    card.number = number;
    fill(book, &mut card, group, way, &group.fault.mends);
    let next = next_way(group.answer).map(|next| {
        let left = mends_left(&group.fault, way);
        next_card(book, group, (way, next), &left, &card, after)
    });
    let long = next.as_ref().is_some_and(|next| next.steps.len() > NEXT_STEPS);
    let next = next.filter(|_| !long);
    let then = match &next {
        Some(_) => Next::Card(after),
        None if long => Next::Words(notes::nothing_quick(book)),
        None => return (card, None),
    };
    for without in &mut card.havent_got {
        without.then = then.clone();
    }
    card.still_nothing = then;
    (card, next)
}

fn next_card(
    book: Book<'_>,
    group: &Group<'_>,
    (first, way): (&Way, &Way),
    mends: &[Mend],
    card: &Card,
    number: u32,
) -> Card {
    let mut title = card.title.clone();
    title.0.push(text(": next way"));
    let mut it = base(book, group, title, &card.foot);
    it.number = number;
    it.mouth = mouth::of_next(book, group.answer, way);
    it.next_of = Some(card.number);
    fill(book, &mut it, group, way, mends);
    it.before = next::before(book, card, first, way);
    it.looks = Vec::new();
    it.in_break = Vec::new();
    it.carry_on = Vec::new();
    // The next way rests on a loss that was only supposed, so nothing is claimed of quicker ones.
    it.proof = None;
    it
}

/// Titles, each only once.
fn titles(book: Book<'_>, groups: &[Group<'_>]) -> Vec<Line> {
    let plain: Vec<Line> =
        groups.iter().map(|g| title::title(book, &g.things.iter().collect::<Vec<_>>(), g.together)).collect();
    plain
        .iter()
        .zip(groups)
        .map(|(title, group)| match group.things.as_slice() {
            [thing] if plain.iter().filter(|t| *t == title).count() > 1 => {
                title::told_apart(book, thing.named, title)
            }
            _ => title.clone(),
        })
        .collect()
}

/// Strips with a switch: where power is cut.
fn strips<'a>(book: Book<'a>) -> Vec<&'a str> {
    let gear = book.c.rig.gear.iter().filter(|g| g.placed != model::Placed::InCase);
    gear.filter(|g| g.kind.as_deref().is_some_and(|k| k.contains("strip"))).map(|g| g.name.as_str()).collect()
}

fn last_resort(book: Book<'_>) -> Line {
    let unplugged = book.c.rig.sources.iter().any(|s| s.unplugged_to.is_some());
    Line::text(if unplugged { "Play unplugged. Come close to them." } else { "Talk to them. Come close." })
}
