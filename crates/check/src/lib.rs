//! The one judge. A rig is compiled once into a whole-number [`Problem`]; plans are judged on it, and on nothing else.
//!
//! Nothing here searches, and nothing here reads a clock, a disk or chance. `docs/cover.md` holds the definition.
#![allow(
    clippy::indexing_slicing,
    reason = "ids are dense and made by this crate for one problem; a wrong one is a defect"
)]

mod carry;
pub mod compile;
pub mod difference;
pub mod fault;
pub mod ids;
mod judge;
mod leak;
pub mod link;
pub mod order;
pub mod pairs;
pub mod plan;
mod power;
mod problem;
pub mod remark;
pub mod rules;
mod seconds;
pub mod spec;
pub mod verdict;
mod wired;

pub use carry::Sides;
pub use difference::{Change, Difference, differences};
pub use judge::{Judge, Pairing, Unsafe, Verdict};
pub use leak::{Hop, Leak};
pub use link::{CHECKS, Check, Physics};
pub use power::Overload;
pub use problem::{Nonsense, Problem};
pub use remark::{FigureNote, Remark, hazards, judge_rig, remarks};
pub use seconds::{Price, Taken};
pub use wired::Broken;
