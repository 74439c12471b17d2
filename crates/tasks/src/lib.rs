//! Everything a user can do, one file a task, each with its answer as plain data in [`view`].
//!
//! The command line and the pages both call these. A task prints nothing, reads no clock and no environment; it touches
//! the disk through [`world`] only. Dates come in as text.
#![allow(
    clippy::indexing_slicing,
    reason = "ids are dense and made by `check` for the rig at hand; a wrong one is a defect"
)]

mod bad;
pub mod cards;
pub mod check;
pub mod explain;
mod label;
mod near;
pub mod read;
mod rig;
pub mod shelf;
pub mod view;
pub mod ways;
pub mod world;

pub use bad::Bad;
pub use rig::{Loaded, load};
