//! The search for covers. It sees only the compiled [`check::Problem`]; it proposes, and `check` judges.
//!
//! No clock, no disk, no chance: a search ends after a counted number of nodes and says what it proved.
#![allow(
    clippy::indexing_slicing,
    reason = "ids are dense and made by `check` for the problem at hand; a wrong one is a defect"
)]

mod alike;
mod answer;
mod arcs;
mod cover;
mod edits;
mod leads;
mod prices;
mod relax;
mod repair;
mod search;
mod state;
mod steps;
mod supply;

pub use answer::{Answer, Badness, Do, Fails, Order, SLOW, STOPS, Step, Take, Way, answer, next_fault, way};
pub use cover::{Bound, Cover, Limit, cover};
pub use search::Proved;
