//! One card from one group of answers and one way.

use check::Judge;
use check::fault::{Fault, Mend};
use check::ids::PartId;
use engine::{Badness, Way};

use super::book::Book;
use super::group::Group;
use super::{back, different, looks, mouth, notes, picture, steps};
use crate::card::{Card, Foot, HaventGot, Next, Proof, Who};
use crate::deck::Rank;
use crate::line::Line;

/// A card without its way.
pub(super) fn base(book: Book<'_>, group: &Group<'_>, title: Line, foot: &Foot) -> Card {
    let mouth = mouth::mouth(book, group.answer);
    Card {
        number: 0,
        next_of: None,
        title,
        rank: match group.answer.badness {
            Badness::StopsTheShow => Rank::StopsTheShow,
            Badness::Slow => Rank::Slow,
            Badness::WedCope => Rank::WedCope,
        },
        carry_on: notes::carry_on(book, group.answer, mouth.word),
        mouth,
        looks: looks::looks(book, &group.faults(), &group.silences(book)),
        before: Vec::new(),
        steps: Vec::new(),
        picture: None,
        different: Vec::new(),
        also_different: Vec::new(),
        in_break: notes::in_break(book, group.answer),
        put_back: Vec::new(),
        still_nothing: Next::Words(notes::last_words(book)),
        havent_got: Vec::new(),
        guessed: Vec::new(),
        proof: None,
        would_do: Vec::new(),
        who: Who::Anyone,
        foot: foot.clone(),
    }
}

/// The way: steps, picture, what differs, the way back. `mends` are what may still be mended.
pub(super) fn fill(book: Book<'_>, card: &mut Card, group: &Group<'_>, way: &Way, mends: &[Mend]) {
    let plan = &way.cover.plan;
    let mends_left = Fault { mends: mends.to_vec(), ..group.fault.clone() };
    let fault = mends_left.relying(&book.c.problem.spec, &way.cover.relies);
    let mut judge = Judge::new(&book.c.problem, &fault);
    // Only where each part is heard afterwards is asked; whether the plan works was judged before.
    let _broken = judge.look(plan);
    let answer = group.answer;
    let later: Vec<PartId> = [&answer.full, &answer.in_break]
        .into_iter()
        .flatten()
        .flat_map(|w| w.verdict.carried.iter().copied())
        .collect();
    let shown = steps::steps(book, way, mends, &judge, &later, &group.dead());
    card.picture = picture::picture(book, group, plan, &judge, &shown.makes);
    (card.different, card.also_different) = different::different(book, &fault, plan);
    card.put_back = back::put_back(book, group, way, &shown.steps);
    card.guessed = notes::guessed(book, way, &judge);
    card.who = notes::who(book, way, mends);
    card.proof = notes::proof(answer, way);
    if card.proof == Some(Proof::NoWay) {
        card.would_do = notes::would_do(book, group);
    }
    let words = notes::last_words(book);
    card.havent_got = notes::taken(book, way)
        .into_iter()
        .map(|thing| HaventGot { thing, then: Next::Words(words.clone()) })
        .collect();
    card.steps = shown.steps;
}
