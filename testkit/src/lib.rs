//! Helps the tests.
