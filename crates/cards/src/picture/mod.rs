//! The small picture on a card: only the pieces touched, sources on top, the audience at the foot.
//!
//! Data here; places in `layout`, drawing in `svg`. The same facts stand as a list before every drawing.

mod gaps;
mod layout;
mod lines;
mod ports;
mod rows;
mod scene;
mod svg;

use crate::line::{Line, Run, printed, tape, text};

pub use layout::lay_out;
pub use scene::{Boxed, Rect, Scene, Tag, TagKind, Wire};
pub use svg::svg;

/// What changes, as data.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picture {
    /// The pieces touched and their neighbours.
    pub pieces: Vec<Piece>,
    /// The leads between them.
    pub leads: Vec<Lead>,
    /// Whether the audience's line is drawn at the foot.
    pub audience: bool,
}

/// One box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The taped name.
    pub name: String,
    /// What it does, which is its outline and its row.
    pub role: Role,
    /// Whether it is what died.
    pub dead: bool,
    /// Whether it belongs to the house.
    pub house: bool,
}

/// What a piece does in the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Makes sound, or picks it up: top row.
    Source,
    /// Passes sound on.
    Passes,
    /// A speaker the audience hears: last row.
    HeardByAudience,
    /// A speaker or ears a performer hears: last row.
    HeardByPerformer,
    /// Outlet, strip or supply: top row, at the left.
    Supply,
}

/// One lead in the picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// What it is called: `VOICE`, or "the `XLR 6 m`". Empty for a piece's own cable.
    pub name: Line,
    /// Where it comes from.
    pub from: End,
    /// Where it arrives.
    pub to: End,
    /// What happens to it.
    pub state: LeadState,
    /// What runs in it.
    pub kind: LeadKind,
}

/// An end of a lead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct End {
    /// Index into [`Picture::pieces`].
    pub piece: usize,
    /// What is printed beside the socket; empty when nothing is.
    pub label: String,
}

/// What happens to a lead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LeadState {
    /// Stays.
    Kept,
    /// Made by this step.
    New(u32),
    /// Taken out.
    Out,
    /// It is what died.
    Dead,
    /// Would be wanted but does not reach: "1 m short".
    TooShort(String),
}

/// What runs in a lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LeadKind {
    /// Sound at any level but speaker level.
    Sound,
    /// Amplifier to speaker.
    Speaker,
    /// Mains.
    Mains,
    /// Low-voltage supply.
    LowVoltage,
}

impl Picture {
    /// The same facts in words, in this order: what died, what goes, what is new, what is too short, what stays.
    pub fn facts(&self) -> Vec<Line> {
        let mut out: Vec<Line> =
            self.pieces.iter().filter(|p| p.dead).map(|p| [tape(&p.name), text("is dead.")].into()).collect();
        let of = |state: LeadState| self.leads.iter().filter(move |l| l.state == state);
        out.extend(of(LeadState::Dead).map(|l| self.lead("Dead lead:", l, ".")));
        out.extend(of(LeadState::Out).map(|l| self.lead("Out:", l, ".")));
        let mut new: Vec<(u32, &Lead)> = Vec::new();
        let mut short = Vec::new();
        for lead in &self.leads {
            match &lead.state {
                LeadState::New(step) => new.push((*step, lead)),
                LeadState::TooShort(how) => short.push(self.lead("Too short:", lead, &format!(": {how}."))),
                LeadState::Kept | LeadState::Out | LeadState::Dead => {}
            }
        }
        new.sort_by_key(|(step, _)| *step);
        out.extend(new.iter().map(|(step, l)| self.lead(&format!("New, step {step}:"), l, ".")));
        out.extend(short);
        out.extend(of(LeadState::Kept).map(|l| self.lead("Stays:", l, ".")));
        out
    }

    fn lead(&self, before: &str, lead: &Lead, after: &str) -> Line {
        let mut runs = vec![text(before)];
        if !lead.name.is_empty() {
            runs.extend(lead.name.0.iter().cloned());
            runs.push(text(","));
        }
        self.end(&mut runs, &lead.from);
        runs.push(text("to"));
        self.end(&mut runs, &lead.to);
        runs.push(text(after));
        runs.into()
    }

    fn end(&self, runs: &mut Vec<Run>, end: &End) {
        runs.push(tape(self.pieces.get(end.piece).map_or("?", |p| p.name.as_str())));
        if !end.label.is_empty() {
            runs.push(printed(&end.label));
        }
    }
}
