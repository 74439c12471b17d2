//! Tests of the text form and the shelf from outside.
#![expect(clippy::unwrap_used, reason = "helpers of tests: a failure is the message")]

mod bad_input;
mod bytes;
mod document;
mod formats_page;
mod generated;
mod looks;
mod print_read;
mod quick;
mod quick_random;
mod rigs;
mod shelf_page;
mod shelf_whole;
