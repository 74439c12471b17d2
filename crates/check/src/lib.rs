//! The one judge. A rig is compiled once into a whole-number [`Problem`]; plans are judged on it, and on nothing else.
//!
//! Nothing here searches, and nothing here reads a clock, a disk or chance. `docs/cover.md` holds the definition.
//!
//! # Example
//!
//! A stereo lead from a laptop into a speaker's balanced input: it fits, it reaches, and the voice is gone.
//!
//! ```
//! let (rig, problems) = model::text::read(
//!     "gear LAPTOP = laptop, at 0 0
//! gear SPEAKER = powered speaker, at 0.5 0
//! lead stereo mini to jack 3 m: own 1
//! LAPTOP PHONES > stereo mini to jack 3 m > SPEAKER A",
//! );
//! assert!(problems.is_empty());
//! let compiled = check::judge_rig(&rig)?;
//! let worst = &check::remarks(&compiled)[0];
//! assert_eq!(worst.verdict, check::verdict::Verdict::WillNotWork);
//! assert_eq!(worst.check, "left-minus-right");
//! # Ok::<(), check::Nonsense>(())
//! ```
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
pub mod replay;
pub mod rules;
mod seconds;
pub mod spec;
mod trail;
pub mod verdict;
mod wired;

pub use carry::Sides;
pub use difference::{Change, Difference, differences};
pub use judge::{Judge, Pairing, Unsafe, Verdict};
pub use leak::{Hop, Leak};
pub use link::{CHECKS, Check, Physics};
pub use power::Overload;
pub use problem::{Nonsense, Problem};
pub use remark::explain::explain;
pub use remark::{FigureNote, Remark, hazards, judge_rig, remarks};
pub use seconds::{Price, Taken};
pub use trail::{Cause, Culprit, Sound};
pub use wired::Broken;
