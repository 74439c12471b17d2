//! What stands before the cards: hazards, the stop box, and what leads from a silence or a dead thing to its card.

use maud::{Markup, html};

use super::line::line;
use crate::card::{Card, Next};
use crate::deck::{Deck, Rank, SilentRow};
use crate::line::Line;

/// The list. With a hazard it says stop and leads nowhere.
pub(super) fn list(deck: &Deck) -> Markup {
    html! {
        div.list {
            h1 { (deck.rig) ": cards" }
            @for hazard in &deck.hazards {
                section.stop.first aria-label="Stop" {
                    h2 { "Stop" }
                    p { (line(&hazard.what.stopped())) }
                    p { b { "Be rid of it: " } (line(&hazard.cure.stopped())) }
                }
            }
            @if let Some(why) = deck.withheld() { p.say { (why) } span #silent {} }
            section.stop aria-labelledby="tingle" {
                h2 #tingle { "Tingle, smoke, burnt smell: stop" }
                @for words in &deck.tingle { p { (line(&words.stopped())) " " } }
            }
            @if deck.withheld().is_none() {
                @if !deck.silent.is_empty() { (silent(deck)) }
                (dead(deck))
                p.last { "Nothing helps? " (line(&deck.last_resort.stopped())) }
            }
            p.onpaper { (deck.foot.said()) }
        }
    }
}

/// On a screen a row opens to the cards that fit, by name; on paper all of it stands open.
fn silent(deck: &Deck) -> Markup {
    html! {
        nav aria-labelledby="silent" {
            h2 #silent { "What went silent?" }
            div.onscreen.tiles {
                @for row in &deck.silent { (tile(deck, row)) }
            }
            div.onpaper {
                table.silent {
                    colgroup { col.c1; col.c2; col.c3; }
                    thead.vh { tr { th scope="col" { "Silent" } th scope="col" { "Look first" } th scope="col" { "Card" } } }
                    tbody { @for row in &deck.silent { (silent_row(row)) } }
                }
            }
        }
    }
}

fn tile(deck: &Deck, row: &SilentRow) -> Markup {
    html! {
        details {
            summary {
                span.what { (row.name) }
                @if !row.note.is_empty() { span.note { (line(&row.note.stopped())) } }
                span.mouthword { (row.mouth.words()) "." }
            }
            ul.fits role="list" {
                @for card in row.cards.iter().filter_map(|n| deck.card(*n)) {
                    li { a href={ "#card-" (card.number) } {
                        span.num { (card.number) } span { (line(&card.title)) (first_look(card)) }
                    } }
                }
            }
        }
    }
}

/// What tells this card from its neighbours.
fn first_look(card: &Card) -> Markup {
    html! { @if let Some(look) = card.looks.first() { span.lookfor { (line(&look.words)) } } }
}

fn silent_row(row: &SilentRow) -> Markup {
    html! {
        tr {
            th scope="row" {
                span.what { (row.name) }
                @if !row.note.is_empty() { (line(&row.note.stopped())) " " }
                span.mouthword { (row.mouth.words()) "." }
            }
            td.look { @for look in &row.looks { div.box { span { (line(look)) } } } }
            td.cards { @for number in &row.cards { (card_link(*number)) " " } }
        }
    }
}

fn dead(deck: &Deck) -> Markup {
    html! {
        nav aria-labelledby="dead" {
            h2 #dead { "What looks dead?" }
            @if deck.silent.is_empty() { span #silent {} }
            div.all { @for rank in Rank::ALL {
                @let cards: Vec<&Card> = deck.cards.iter().filter(|c| c.rank == rank && c.next_of.is_none()).collect();
                @if !cards.is_empty() {
                    div {
                        h3 { (rank.words()) }
                        table.dead {
                            colgroup { col.c1; col.c2; col.c3; }
                            thead.vh { tr { th scope="col" { "What died" } th scope="col" { "Mouth line" } th scope="col" { "Card" } } }
                            tbody { @for one in cards { (dead_row(one)) } }
                        }
                    }
                }
            } }
        }
    }
}

fn dead_row(card: &Card) -> Markup {
    html! {
        tr {
            th scope="row" {
                (line(&card.title))
                @if let Next::Card(number) = card.still_nothing { span.then { "Still nothing: card " (number) } }
            }
            td { span.mouthword { (card.mouth.word.words()) "." } }
            td.cards { (card_link(card.number)) }
        }
    }
}

fn card_link(number: u32) -> Markup {
    html! { a href={ "#card-" (number) } { span.vh { "Card " } (number) } }
}

/// A paragraph of sentences that opens at a tap; on paper it stands open.
pub(super) fn folded(label: &str, lines: &[Line]) -> Markup {
    let words = html! { @for words in lines { " " (line(&words.stopped())) } };
    html! {
        details.onscreen.notes { summary { (label) } p { (words) } }
        div.onpaper.notes { p { b.label { (label) } (words) } }
    }
}
