//! Every line of a card, and of a deck, by the rules of words.

use super::{Found, LOOK_SECONDS, LOOK_WORDS, LOOKS, Problem, check, count};
use crate::card::{Card, Next, Proof, UNTRIED};
use crate::deck::{Deck, Rank};
use crate::line::{Line, Run};

/// Everything wrong with a card's words, numbers and looks.
pub fn check_card(card: &Card) -> Vec<Found> {
    let mut c = Checker { card: card.number, found: Vec::new() };
    c.must("title", &card.title);
    c.line("mouth line", &Line::text(card.mouth.word.words()));
    c.must("mouth line", &card.mouth.heard);
    for look in &card.looks {
        c.must("look", &look.words);
        let words = count(&look.words);
        if words > LOOK_WORDS {
            c.push("look", &look.words.plain(), Problem::LongLook(words));
        }
    }
    if card.looks.len() > LOOKS {
        c.push("looks", "", Problem::ManyLooks(card.looks.len()));
    }
    let seconds = card.looks.iter().fold(0_u32, |sum, look| sum.saturating_add(look.seconds));
    if seconds > LOOK_SECONDS {
        c.push("looks", "", Problem::SlowLooks(seconds));
    }
    for carry_on in &card.carry_on {
        c.line("carry on", &Line::text(carry_on.kind.words()));
        c.line("carry on", &carry_on.words);
    }
    for line in &card.before {
        c.must("before the steps", line);
    }
    for (place, step) in (1_u32..).zip(&card.steps) {
        let at = format!("step {place}");
        if step.number != place {
            c.push(&at, "", Problem::StepNumber(step.number));
        }
        let who = step.who.as_ref().map(|who| Run::Tape(who.clone()));
        let words: Vec<Run> = who.into_iter().chain(step.words.0.iter().cloned()).collect();
        c.must(&at, &words.into());
        c.must(&at, &step.sign.line());
        if let Some(caution) = &step.caution {
            c.must(&at, &caution.after_words("Take care:"));
        }
        for mark in &step.marks {
            c.line(&at, &Line::text(mark.said()));
        }
    }
    if let Some(picture) = &card.picture {
        for fact in picture.facts() {
            c.line("picture", &fact);
        }
    }
    let after = crate::text::after_picture(card);
    for (label, lines) in after {
        for line in lines {
            c.must(label, &line.after_words(label));
        }
    }
    for guess in &card.guessed {
        c.must("guessed", &guess.after_words("Guessed:"));
    }
    c.next("still nothing", &card.still_nothing);
    for without in &card.havent_got {
        c.must("haven’t got", &without.thing.after_words("Haven’t got"));
        c.next("haven’t got", &without.then);
    }
    for line in &card.would_do {
        c.must("nearest thing", line);
    }
    if card.proof != Some(Proof::NoWay) && !card.would_do.is_empty() {
        c.push("nearest thing", "", Problem::ProofDisagrees);
    }
    if let Some(proof) = card.proof {
        c.line("how sure", &Line::text(proof.words()));
    }
    c.line("tried", &Line::text(UNTRIED));
    c.found
}

/// Everything wrong with a deck's words: each card's, the list's, and cards named that do not exist.
pub fn check_deck(deck: &Deck) -> Vec<Found> {
    let mut c = Checker { card: 0, found: Vec::new() };
    for hazard in &deck.hazards {
        c.must("hazard", &hazard.what);
        c.must("hazard, what to do", &hazard.cure);
    }
    c.line("hazard", &Line::text(deck.withheld().unwrap_or_default()));
    for line in &deck.tingle {
        c.must("stop box", line);
    }
    for row in &deck.silent {
        let at = format!("list, {}", row.name);
        c.line(&at, &row.note);
        c.line(&at, &Line::text(row.mouth.words()));
        for look in &row.looks {
            c.must(&at, look);
        }
        for number in &row.cards {
            if deck.card(*number).is_none() {
                c.push(&at, "", Problem::NoCard(*number));
            }
        }
    }
    if !deck.hazards.is_empty() && !deck.cards.is_empty() {
        c.push("hazard", "", Problem::Offered);
    }
    for rank in Rank::ALL {
        c.line("list", &Line::text(rank.words()));
    }
    c.must("list, last line", &deck.last_resort);
    let mut found = c.found;
    for card in &deck.cards {
        found.extend(check_card(card));
        let mut c = Checker { card: card.number, found: Vec::new() };
        let nexts = std::iter::once(&card.still_nothing).chain(card.havent_got.iter().map(|h| &h.then));
        let nexts = nexts.filter_map(|next| if let Next::Card(number) = next { Some(*number) } else { None });
        for number in nexts.chain(card.next_of) {
            if deck.card(number).is_none() {
                c.push("next card", "", Problem::NoCard(number));
            }
        }
        found.extend(c.found);
    }
    found
}

struct Checker {
    card: u32,
    found: Vec<Found>,
}

impl Checker {
    fn push(&mut self, at: &str, words: &str, problem: Problem) {
        let at = if self.card == 0 { at.to_owned() } else { format!("card {}, {at}", self.card) };
        self.found.push(Found { at, words: words.to_owned(), problem });
    }

    fn line(&mut self, at: &str, line: &Line) {
        for problem in check(line) {
            self.push(at, &line.plain(), problem);
        }
    }

    fn must(&mut self, at: &str, line: &Line) {
        if line.is_empty() {
            self.push(at, "", Problem::Empty);
        }
        self.line(at, line);
    }

    fn next(&mut self, at: &str, next: &Next) {
        if let Next::Words(line) = next {
            self.must(at, line);
        }
    }
}
