//! Helps the tests: problems in the neutral form, read two ways, and a second way to their best values.
pub mod agree;
pub mod neutral;
pub mod oracle;
pub mod random;
pub mod read;
