//! Everything a user can do, one file a task, each with its answer as plain data in [`view`].
//!
//! The command line and the pages both call these. A task prints nothing, reads no clock and no environment; it touches
//! the disk through [`world`] only. Dates come in as text.

mod bad;
mod label;
mod near;
mod physics;
mod rig;
pub mod view;
pub mod world;

pub use bad::Bad;
pub use rig::{Loaded, load};
