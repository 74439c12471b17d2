//! One test program for the crate: samples as text and as a page, and properties of pictures.

#[path = "../../examples/deck/mod.rs"]
mod deck;
mod page;
mod pictures;
mod samples;
mod write;
