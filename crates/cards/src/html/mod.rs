//! All cards as one HTML file that needs nothing else: no script, no network, its font inside.
//!
//! The same markup is read on a phone, on a laptop and on paper; `style.css` says how. Names are escaped by `maud`.

mod card;
mod fonts;
mod line;
mod list;

use maud::{DOCTYPE, PreEscaped, html};

use crate::deck::Deck;

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
                    (list::list(deck))
                    div.deck {
                        @for (place, one) in deck.cards.iter().enumerate() { (card::card(one, place)) }
                    }
                }
            }
        }
    }
    .into_string()
}
