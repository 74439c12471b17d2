//! All cards as one HTML file that needs nothing else: no script, no network, its font inside.
//!
//! The same markup is read on a phone, on a laptop and on paper; `style.css` says how. Names are escaped by `maud`.

mod card;
mod fonts;
mod line;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::card::Card;
use crate::deck::{Deck, Rank, SilentRow};
use line::line;

const STYLE: &str = include_str!("style.css");

/// The page.
pub fn page(deck: &Deck) -> String {
    let title = format!("{}: cards", deck.rig);
    html! {
        (DOCTYPE)
        html lang=(deck.lang) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(fonts::faces())) (PreEscaped(STYLE)) }
            }
            body {
                header.bar {
                    a.home href="#silent" { "What’s silent" }
                    p { (deck.rig) br; (deck.foot.said()) }
                }
                main {
                    (list(deck))
                    div.deck {
                        @for (place, one) in deck.cards.iter().enumerate() { (card::card(one, place)) }
                    }
                }
            }
        }
    }
    .into_string()
}

/// What stands before the cards: hazards, the stop box, and what leads to each card.
fn list(deck: &Deck) -> Markup {
    html! {
        div.list {
            h1 { (deck.rig) ": cards" }
            @for hazard in &deck.hazards {
                section.stop aria-label="Stop" { h2 { "Stop" } p { (line(&hazard.stopped())) } }
            }
            section.stop aria-labelledby="tingle" {
                h2 #tingle { "Tingle, smoke, burnt smell: stop" }
                @for words in &deck.tingle { p { (line(&words.stopped())) " " } }
            }
            @if !deck.silent.is_empty() {
                nav aria-labelledby="silent" {
                    h2 #silent { "What went silent?" }
                    table.silent {
                        colgroup { col.c1; col.c2; col.c3; }
                        thead.vh { tr { th scope="col" { "Silent" } th scope="col" { "Look first" } th scope="col" { "Card" } } }
                        tbody { @for row in &deck.silent { (silent_row(row)) } }
                    }
                }
            }
            nav aria-labelledby="dead" {
                h2 #dead { "What looks dead?" }
                @if deck.silent.is_empty() { span #silent {} }
                @for rank in Rank::ALL {
                    @let cards: Vec<&Card> = deck.cards.iter().filter(|c| c.rank == rank).collect();
                    @if !cards.is_empty() {
                        div.few[cards.len() < 14] {
                            h3 { (rank.words()) }
                            table.dead {
                                colgroup { col.c1; col.c2; col.c3; }
                                thead.vh { tr { th scope="col" { "What died" } th scope="col" { "Mouth line" } th scope="col" { "Card" } } }
                                tbody { @for one in cards { (dead_row(one)) } }
                            }
                        }
                    }
                }
            }
            p.last { "Nothing helps? " (line(&deck.last_resort.stopped())) }
            p.onpaper { (deck.foot.said()) }
        }
    }
}

fn silent_row(row: &SilentRow) -> Markup {
    html! {
        tr {
            th scope="row" {
                span.what { (row.name) }
                @if !row.note.is_empty() { (line(&row.note.stopped())) " " }
                span.mouthword { (row.mouth.words()) "." }
            }
            td.look { @for look in &row.looks { div.box { (line(look)) } } }
            td.cards { @for number in &row.cards { (card_link(*number)) " " } }
        }
    }
}

fn dead_row(card: &Card) -> Markup {
    html! {
        tr {
            th scope="row" { (line(&card.title)) }
            td { span.mouthword { (card.mouth.word.words()) "." } }
            td.cards { (card_link(card.number)) }
        }
    }
}

fn card_link(number: u32) -> Markup {
    html! { a href={ "#card-" (number) } { span.vh { "Card " } (number) } }
}
