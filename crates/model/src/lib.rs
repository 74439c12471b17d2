//! The words of the program as types: gear, sockets, leads, patch, parts, faults, covers. Plain data, no
//! judgement of whether anything works; the text form and the shelf.
//!
//! ```
//! let (rig, problems) = model::text::read(
//!     "gear MIC = vocal mic, at 0 0
//!      gear MIXER = small mixer, at 1 0
//!      MIC > XLR 3 m > MIXER 1
//!      must: voice for audience",
//! );
//! assert!(problems.is_empty());
//! assert_eq!(rig.links.iter().map(|l| rig.label(l.to)).collect::<Vec<_>>(), ["MIXER 1"]);
//! assert_eq!(model::text::read(&model::text::write(&rig)).1, []);
//! ```
//!
//! One word, one file. Lengths are metres, times seconds, levels dBu, power watts, impedances ohms, unless a
//! field's own words say otherwise. Nothing here touches a clock, the disk, the environment or chance.

mod battery;
mod cover;
mod fault;
mod figure;
mod gear;
mod hands;
mod kind;
mod lead;
mod look;
mod mend;
mod part;
mod patch;
mod placement;
mod problem;
mod question;
mod rig;
mod room;
mod route;
pub mod shelf;
mod show;
mod socket;
pub mod text;
mod trial;
mod validate;
mod wear;

pub use battery::{Bank, BankEffect, Battery};
pub use cover::{Back, Cover, Goal, Proved, Step, StepAct};
pub use fault::{Fault, Lost, LostFunction, Mode, SparePlace};
pub use figure::{Figure, Origin};
pub use gear::{Body, Gear, Makes, Owner, Placed, Stand, Stereo};
pub use hands::{STEP_NAMES, StepTimes};
pub use kind::Kind;
pub use lead::{Lead, LeadKind, Wiring};
pub use look::Look;
pub use mend::{Act, Caution, Mend};
pub use part::{Listener, Part, Rank, Source};
pub use patch::{End, Link};
pub use placement::{AUDIENCE, Hears, Placement, Who};
pub use problem::Problem;
pub use question::{Answer, Choice, Guess, Matters, Question};
pub use rig::{GearId, LeadId, ListenerId, PartId, Rig, RouteRef, SocketRef, SourceId, Spot};
pub use room::{Breaker, Room};
pub use route::{Gain, Route, Switch};
pub use show::{Hand, Show};
pub use socket::{
    Accepts, Class, Connector, Direction, Fill, Form, Guard, Half, Input, Level, Output, PhantomAtInput,
    PhantomAtOutput, Polarity, Side, Socket, Wires,
};
pub use trial::{Trial, TrialHow};
pub use wear::{Wear, WearStock};

/// Are two names the same to a performer? Upper and lower case, and runs of spaces, do not matter.
pub fn same_name(a: &str, b: &str) -> bool {
    fold(a) == fold(b)
}

/// A name as it is compared: lower case, single spaces.
pub(crate) fn fold(name: &str) -> String {
    name.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}
