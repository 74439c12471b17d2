//! Cards as plain text: what tests, a terminal and a screen reader read.

use crate::card::{Card, Next, Proof, UNTRIED};
use crate::deck::{Deck, Rank};
use crate::line::Line;

/// One card as plain text, a fact a line, in the order of [`Card`]'s fields.
pub fn card(card: &Card) -> String {
    let mut out = Vec::new();
    out.push(format!("CARD {}", card.number));
    out.push(card.title.plain());
    out.push(format!("{}.", card.mouth.word.words().to_uppercase()));
    push(&mut out, "", &card.mouth.heard);
    if !card.looks.is_empty() {
        out.push("Look first. Tick what it was.".into());
    }
    for look in &card.looks {
        out.push(format!("[ ] {}", look.words));
    }
    let cautions: Vec<String> = card.cautions().iter().map(|c| c.stopped().plain()).collect();
    if !cautions.is_empty() {
        out.push(format!("Take care: {}", cautions.join(" ")));
    }
    for carry_on in card.carry_on.iter().filter(|c| c.first) {
        push(&mut out, carry_on.kind.words(), &carry_on.words);
    }
    if card.proof == Some(Proof::NoWay) {
        out.push(Proof::NoWay.words().into());
    }
    for would in &card.would_do {
        push(&mut out, "", would);
    }
    for line in &card.before {
        push(&mut out, "", line);
    }
    for step in &card.steps {
        let who = step.who.as_ref().map(|who| format!("{who}: ")).unwrap_or_default();
        out.push(format!("{} {who}{} {}", step.number, step.words.stopped(), step.sign.line()));
        if let Some(caution) = &step.caution {
            push(&mut out, "  Take care:", caution);
        }
        out.extend(step.marks.iter().map(|mark| format!("— {} —", mark.said())));
    }
    for carry_on in card.carry_on.iter().filter(|c| !c.first) {
        push(&mut out, &format!("Or: {}", lower_first(carry_on.kind.words())), &carry_on.words);
    }
    if let Some(picture) = &card.picture {
        out.push("Picture: what changes.".into());
        out.extend(picture.facts().iter().map(|fact| format!("- {fact}")));
    }
    for (label, lines) in after_picture(card) {
        if !lines.is_empty() {
            let said: Vec<String> = lines.iter().map(|line| line.stopped().plain()).collect();
            out.push(format!("{label} {}", said.join(" ")));
        }
    }
    out.push(format!("Still nothing: {}", next(&card.still_nothing)));
    for without in &card.havent_got {
        out.push(format!("Haven’t got {}? {}", without.thing, capital(&next(&without.then))));
    }
    for guess in &card.guessed {
        push(&mut out, "Guessed:", guess);
    }
    if !card.steps.is_empty() {
        if let Some(proof) = card.proof.filter(|proof| *proof != Proof::NoWay) {
            out.push(proof.words().into());
        }
        out.push(UNTRIED.into());
        out.push(format!("{}.", card.who.said()));
    }
    out.push(card.foot.said());
    out.join("\n") + "\n"
}

/// The label of what is read last, if at all.
pub(crate) const DEEPER: &str = "Also different:";

/// The lines under the picture, with their labels, in order.
pub(crate) fn after_picture(card: &Card) -> [(&'static str, &[Line]); 4] {
    [
        ("Different:", &card.different),
        ("Later:", &card.in_break),
        ("Put back:", &card.put_back),
        (DEEPER, &card.also_different),
    ]
}

/// All cards, the list that finds them first.
pub fn deck(deck: &Deck) -> String {
    let mut out = vec![deck.rig.clone(), deck.foot.said(), String::new()];
    for hazard in &deck.hazards {
        push(&mut out, "STOP.", &hazard.what);
        push(&mut out, "  Be rid of it:", &hazard.cure);
    }
    out.extend(deck.withheld().map(str::to_owned));
    out.push("TINGLE, SMOKE, BURNT SMELL: STOP".into());
    for line in &deck.tingle {
        push(&mut out, "", line);
    }
    if deck.withheld().is_some() {
        return out.join("\n") + "\n";
    }
    out.push(String::new());
    out.push("WHAT WENT SILENT?".into());
    for row in &deck.silent {
        let cards: Vec<String> = row.cards.iter().map(u32::to_string).collect();
        let note = if row.note.is_empty() { String::new() } else { format!(" {}", row.note.stopped()) };
        out.push(format!(
            "{}{} {}. Card {}.",
            row.name.to_uppercase(),
            note,
            row.mouth.words().to_uppercase(),
            cards.join(", ")
        ));
        out.extend(row.looks.iter().map(|look| format!("  [ ] {look}")));
    }
    out.push(String::new());
    out.push("WHAT LOOKS DEAD?".into());
    for rank in Rank::ALL {
        let own = |card: &&Card| card.rank == rank && card.next_of.is_none();
        let mut cards = deck.cards.iter().filter(own).peekable();
        if cards.peek().is_some() {
            out.push(rank.words().into());
        }
        out.extend(cards.map(|card| {
            let then = match card.still_nothing {
                Next::Card(number) => format!(" Still nothing: card {number}."),
                Next::Words(_) => String::new(),
            };
            let mouth = card.mouth.word.words().to_uppercase();
            format!("  {}: {mouth}. Card {}.{then}", card.title, card.number)
        }));
    }
    push(&mut out, "Nothing helps?", &deck.last_resort);
    for c in &deck.cards {
        out.push(String::new());
        out.push(card(c).trim_end().to_owned());
    }
    out.join("\n") + "\n"
}

/// "card 5." or the words.
fn next(next: &Next) -> String {
    match next {
        Next::Card(number) => format!("card {number}."),
        Next::Words(line) => line.stopped().plain(),
    }
}

fn push(out: &mut Vec<String>, label: &str, line: &Line) {
    if !line.is_empty() {
        let space = if label.is_empty() { "" } else { " " };
        out.push(format!("{label}{space}{}", line.stopped()));
    }
}

fn capital(s: &str) -> String {
    let mut chars = s.chars();
    chars.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default() + chars.as_str()
}

fn lower_first(s: &str) -> String {
    let mut chars = s.chars();
    chars.next().map(|c| c.to_lowercase().collect::<String>()).unwrap_or_default() + chars.as_str()
}
