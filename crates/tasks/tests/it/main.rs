//! Tests of the tasks.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on has failed")]

mod schema;
mod world;
