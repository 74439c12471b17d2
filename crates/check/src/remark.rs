//! What must be said about a rig as it stands, the worst first.

pub mod explain;
mod patch;
mod supply;

use model::{Figure, Origin, Rig};

use crate::compile::{Compiled, compile};
use crate::link::Physics;
use crate::plan::Plan;
use crate::problem::Nonsense;
use crate::verdict::Verdict;
use crate::wired::Wired;

/// A figure that a remark rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureNote {
    /// What it is: `load`.
    pub what: String,
    /// With its unit: `3000 ohm`.
    pub value: String,
    /// Where it is from.
    pub origin: Origin,
}

impl FigureNote {
    /// Of a figure in this unit.
    pub fn of(what: &str, figure: &Figure<f64>, unit: &str) -> Self {
        FigureNote {
            what: what.to_owned(),
            value: format!("{} {unit}", figure.value),
            origin: figure.origin.clone(),
        }
    }
}

/// One thing to say about a rig.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    /// How bad.
    pub verdict: Verdict,
    /// Which check says so; its page: [`explain`](explain::explain).
    pub check: &'static str,
    /// Points of sound difference, where it sounds different.
    pub points: i32,
    /// What is wrong, in the owner's labels. No full stop.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
    /// The figures it rests on.
    pub figures: Vec<FigureNote>,
    /// Place of the link in the rig's list, when it is about one link.
    pub link: Option<usize>,
}

impl Remark {
    fn new(verdict: Verdict, check: &'static str, message: impl Into<String>) -> Self {
        Remark {
            verdict,
            check,
            points: 0,
            message: message.into(),
            help: None,
            figures: Vec::new(),
            link: None,
        }
    }

    fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    fn figure(mut self, what: &str, figure: &Figure<f64>, unit: &str) -> Self {
        self.figures.push(FigureNote::of(what, figure, unit));
        self
    }
}

/// Everything to say about the normal patch, the worst first, else in the order of the file.
pub fn remarks(c: &Compiled) -> Vec<Remark> {
    let mut all = patch::links(c);
    let mut wired = Wired::new(&c.problem);
    if wired.lay_out(&c.problem, &Plan::default()).is_none() {
        all.extend(patch::whole(c, &wired));
        all.extend(supply::supplies(c, &wired));
    }
    all.sort_by_key(|r| std::cmp::Reverse(r.verdict));
    all
}

/// Those that could hurt, harm or be heard by those who must not.
pub fn hazards(all: &[Remark]) -> Vec<&Remark> {
    all.iter().filter(|r| r.verdict == Verdict::Hazard).collect()
}

/// Compiles a rig with all the physics of its links.
///
/// # Errors
/// [`Nonsense`] where the rig cannot be judged at all.
pub fn judge_rig(rig: &Rig) -> Result<Compiled, Nonsense> {
    compile(rig, &Physics::new(rig))
}
