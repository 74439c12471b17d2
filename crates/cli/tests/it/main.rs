//! Tests of the real program.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod answers;
mod bad_input;
mod browser;
mod garden;
mod json;
mod quick;
mod reference;
mod run;
