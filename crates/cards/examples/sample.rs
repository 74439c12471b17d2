//! Prints the sample deck: `cargo run -p cards --example sample` gives the page, `-- text` the plain text,
//! `-- picture N` the picture of card N alone.

use std::io::Write as _;

mod deck;

fn main() -> std::io::Result<()> {
    let deck = deck::deck();
    let args: Vec<String> = std::env::args().skip(1).collect();
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let out = match args.as_slice() {
        ["text"] => cards::text::deck(&deck),
        ["picture", number] => number
            .parse()
            .ok()
            .and_then(|number| deck.card(number))
            .and_then(|card| card.picture.as_ref())
            .map(|picture| cards::picture::svg(picture, "p", "What changes"))
            .unwrap_or_default(),
        _ => cards::html::page(&deck),
    };
    std::io::stdout().write_all(out.as_bytes())
}
