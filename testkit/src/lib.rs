//! Helps the tests.
pub mod read;
