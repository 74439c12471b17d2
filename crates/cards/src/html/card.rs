//! One card as markup: an article whose sides follow each other on a screen and stand apart on paper.

use maud::{Markup, PreEscaped, html};

use super::line::{joined, line};
use crate::card::{Card, CarryOn, CarryOnKind, Next, Proof, Step, UNTRIED};
use crate::line::Line;
use crate::picture::svg;
use crate::sides::{Block, sides, tallest};

/// The card. `place` counts cards from 0; the tabs of a fanned pile step down with it.
pub(super) fn card(card: &Card, place: usize) -> Markup {
    let sides = sides(card);
    let count = sides.len();
    let tallest = tallest(card);
    let all: Vec<Block> = sides.iter().flatten().copied().collect();
    let last_step = all.iter().rposition(|b| matches!(b, Block::Step(_)));
    // On a wide screen the second column begins with what follows the steps.
    let second = last_step.and_then(|at| all.get(at + 1)).copied();
    html! {
        article id={ "card-" (card.number) } aria-labelledby={ "title-" (card.number) } {
            @for (i, blocks) in sides.iter().enumerate() {
                div.side.rest[i > 0] style={ "--tall:" (if i == 0 { tallest.0 } else { tallest.1 }) "px" } {
                    @if i == 0 {
                        div.head {
                            p.no { "Card " (card.number) }
                            h2 id={ "title-" (card.number) } { (line(&card.title)) }
                        }
                    } @else {
                        p.onpaper.again aria-hidden="true" { (line(&card.title)) ": " (i + 1) " of " (count) }
                    }
                    (side(card, blocks, second))
                    @if i + 1 == count { (ways_on(card)) }
                    (paper(card, place, i))
                }
            }
        }
    }
}

fn side(card: &Card, blocks: &[Block], second: Option<Block>) -> Markup {
    let first_step = blocks.iter().position(|b| matches!(b, Block::Step(_)));
    let steps: Vec<&Step> = blocks
        .iter()
        .filter_map(|b| if let Block::Step(i) = b { card.steps.get(*i) } else { None })
        .collect();
    let before = blocks.iter().take(first_step.unwrap_or(0));
    let after = blocks.iter().skip(first_step.unwrap_or(0)).filter(|b| !matches!(b, Block::Step(_)));
    html! {
        @for block in before {
            @if Some(*block) == second { div.second { (single(card, *block)) } } @else { (single(card, *block)) }
        }
        @if let Some(first) = steps.first() {
            @if first.number == 1 { h3.vh { "Steps" } }
            ol.steps role="list" start=(first.number) {
                @for step in steps { (step_item(step)) }
            }
        }
        @for block in after {
            @if Some(*block) == second { div.second { (single(card, *block)) } } @else { (single(card, *block)) }
        }
    }
}

/// Every block but the steps.
fn single(card: &Card, block: Block) -> Markup {
    match block {
        Block::Mouth => html! {
            p.mouth { (card.mouth.word.words()) "." }
            p.heard { (line(&card.mouth.heard.stopped())) }
        },
        Block::Looks => looks(card),
        Block::Cautions => html! {
            p.care { "Take care:" @for caution in card.cautions() { " " (line(&caution.stopped())) } }
        },
        Block::CarryFirst(i) => html! { @if let Some(c) = card.carry_on.get(i) { (carry_on(c, "")) } },
        Block::CarryLater(i) => html! { @if let Some(c) = card.carry_on.get(i) { (carry_on(c, "Or: ")) } },
        Block::NoWay => no_way(card),
        Block::Before => html! { div.say { @for words in &card.before { p { (line(&words.stopped())) } } } },
        Block::Step(_) => html! {},
        Block::Picture => picture(card),
        Block::Note(list) => html! {
            @if let Some((label, lines)) = crate::text::after_picture(card).get(list) {
                @if *label == crate::text::DEEPER { (super::list::folded(label, lines)) } @else { (note(label, lines)) }
            }
        },
        Block::Still => html! {
            @if let Next::Words(words) = &card.still_nothing {
                div.onpaper { (note("Still nothing:", std::slice::from_ref(words))) }
            }
        },
        Block::HaventGot(i) => html! {
            @if let Some(without) = card.havent_got.get(i) {
                div.notes { p {
                    b.label { "Haven’t got" } " " (line(&without.thing)) "? "
                    @match &without.then {
                        Next::Card(number) => a href={ "#card-" (number) } { "Card " (number) "." },
                        Next::Words(words) => (line(&words.stopped())),
                    }
                } }
            }
        },
        Block::Guessed(i) => html! {
            @if let Some(words) = card.guessed.get(i) {
                div.notes { p.guessed { b.label { "Guessed:" } " " (line(&words.stopped())) } }
            }
        },
        Block::Tried => html! {
            div.notes {
                @if let Some(proof) = card.proof.filter(|p| *p != Proof::NoWay) { p.sure { (proof.words()) } }
                p { (UNTRIED) " " (card.who.said()) "." }
                @if !card.steps.is_empty() {
                    p.onpaper aria-hidden="true" {
                        span.box { "worked" } "\u{2003}" span.box { "not" } "\u{2003}about ____\u{a0}s"
                    }
                }
            }
        },
    }
}

fn looks(card: &Card) -> Markup {
    html! {
        div.looks {
            h3 { "Look first." } " Tick what it was."
            ul role="list" {
                @for look in &card.looks {
                    li.box { span { (line(&look.words)) } }
                }
            }
        }
    }
}

fn step_item(step: &Step) -> Markup {
    html! {
        li {
            div.step {
                span.n.two[step.number > 9] { (step.number) }
                p.do {
                    @if let Some(who) = &step.who { span.who { (who) ":" } " " }
                    (line(&step.words.stopped())) " "
                    span.sign { (line(&step.sign.line())) }
                }
            }
            @if let Some(caution) = &step.caution { (care(caution)) }
            @for mark in &step.marks { p.mark { span { (joined(&mark.said())) } } }
        }
    }
}

fn care(caution: &Line) -> Markup {
    html! { p.care { "Take care: " (line(&caution.stopped())) } }
}

fn carry_on(carry_on: &CarryOn, before: &str) -> Markup {
    let stops = carry_on.kind == CarryOnKind::Stop;
    html! { p.say.stopping[stops] { (before) (carry_on.kind.words()) " " (line(&carry_on.words.stopped())) } }
}

fn no_way(card: &Card) -> Markup {
    html! {
        @if card.proof == Some(Proof::NoWay) { p.say { (Proof::NoWay.words()) } }
        @for would in &card.would_do { p.would { (line(&would.stopped())) } }
    }
}

fn picture(card: &Card) -> Markup {
    let id = format!("picture-{}", card.number);
    html! {
        @if let Some(picture) = &card.picture {
            figure {
                h3.vh { "What changes" }
                ul.vh role="list" { @for fact in picture.facts() { li { (line(&fact)) } } }
                (PreEscaped(svg(picture, &id, "What changes")))
            }
        }
    }
}

fn note(label: &str, lines: &[Line]) -> Markup {
    html! { div.notes { p { b.label { (label) } @for words in lines { " " (line(&words.stopped())) } } } }
}

/// On a screen: where to go next, never a dead end.
fn ways_on(card: &Card) -> Markup {
    html! {
        div.next.onscreen {
            @match &card.still_nothing {
                Next::Card(number) => a href={ "#card-" (number) } { span.u { "Still nothing: card " (number) } },
                Next::Words(words) => p.wide { span { "Still nothing: " (line(&words.stopped())) } },
            }
            a href="#silent" { span.u { "What’s silent" } }
        }
        p.foot.onscreen { (card.foot.said()) }
    }
}

/// On paper: tab, cut marks, hole and foot of each side.
fn paper(card: &Card, place: usize, side: usize) -> Markup {
    let top = 6 + 11 * (place % 11);
    html! {
        svg.onpaper.tab aria-hidden="true" style={ "top:" (top) "mm" } viewBox="0 0 80 94" {
            rect width="80" height="94" {}
            text x="40" y="68" text-anchor="middle" font-size="62" font-weight="800" { (card.number) }
        }
        @for corner in ["a", "b", "c", "d"] { i class={ "onpaper cut " (corner) } aria-hidden="true" {} }
        i.onpaper.hole aria-hidden="true" {}
        p.foot.onpaper aria-hidden="true" {
            b { @match &card.still_nothing {
                Next::Card(number) if side == 0 => { "Still nothing: card " (number) }
                Next::Card(_) | Next::Words(_) => { "Card " (card.number) }
            } }
            span { (card.foot.said()) }
        }
    }
}
