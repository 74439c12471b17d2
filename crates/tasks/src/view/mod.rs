//! Every answer as plain data: what `--json` prints and what pages show.
//!
//! The shapes are promised: `schema/` at the root holds them, and a test holds that they have not moved.

mod cards;
mod check;
mod explain;
mod problem;
mod read;
mod shelf;
mod ways;

pub use cards::Cards;
pub use check::{Check, Heard, Remark, Rests, Verdict};
pub use explain::{Explain, What};
pub use problem::{Bad, Matters, Problem};
pub use read::{Choice, Guess, Line, Question, Read, Weight};
pub use shelf::{Family, Figure, KindName, KindPage, LeadPage, Look, Mend, Mode, Shelf, Socket};
pub use ways::{Back, FaultLine, GoalAsked, Proof, Range, Rank, Round, Step, Values, Way, Ways};

/// The schema of every answer, by the name of its file.
pub fn schemas() -> Vec<(&'static str, schemars::Schema)> {
    vec![
        ("bad", schemars::schema_for!(Bad)),
        ("cards", schemars::schema_for!(Cards)),
        ("check", schemars::schema_for!(Check)),
        ("explain", schemars::schema_for!(Explain)),
        ("read", schemars::schema_for!(Read)),
        ("shelf", schemars::schema_for!(Shelf)),
        ("ways", schemars::schema_for!(Ways)),
    ]
}
