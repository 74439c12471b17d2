//! Checks and remarks, on rigs as a performer would write them.

mod demos;
mod expect;
mod links;
