//! Checks and remarks, on rigs as a performer would write them.

#![expect(clippy::unwrap_used, reason = "a test that cannot go on fails")]

mod broken;
mod demos;
mod different;
mod every_pair;
mod expect;
mod knobs;
mod links;
mod page;
mod ready;
mod shelf_pairs;
mod whole;
