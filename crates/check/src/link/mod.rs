//! What physics says of a link: one file a check, named by the fault it finds.
//!
//! The comment that opens a check's file is its help page. [`CHECKS`] lists them; the link check of the search, the remarks
//! on the normal patch, `explain` and `docs/checks.md` all read that one list.

mod left_minus_right;
mod low_load;
pub mod row;
mod thin_pickup;

use model::{Rig, SocketRef};

pub use row::{Found, Row};

use crate::ids::{LeadId, SocketId};
use crate::pairs::LinkCheck;
use crate::spec::Spec;

/// One check of a link.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// Its name: `left-minus-right`.
    pub name: &'static str,
    /// What it finds, in one line.
    pub line: &'static str,
    source: &'static str,
    /// What it says of a link; `None` when it has nothing to say.
    pub judge: fn(&Row<'_>) -> Option<Found>,
}

macro_rules! check {
    ($file:ident, $name:literal, $line:literal) => {
        Check {
            name: $name,
            line: $line,
            source: include_str!(concat!(stringify!($file), ".rs")),
            judge: $file::judge,
        }
    };
}

/// Every check of a link.
pub const CHECKS: &[Check] = &[
    check!(
        left_minus_right,
        "left-minus-right",
        "a stereo plug in a balanced input: what both sides share cancels"
    ),
    check!(low_load, "low-load", "an input that loads the output so much that level is lost"),
    check!(thin_pickup, "thin-pickup", "a pickup into an input that takes its bass or its treble"),
];

impl Check {
    /// Its help page: what happens, why, an example, what to use instead, the source. Plain text with headings.
    pub fn page(&self) -> String {
        let mut page = String::new();
        for line in self.source.lines().map_while(|l| l.strip_prefix("//!")) {
            page.push_str(line.strip_prefix(' ').unwrap_or(line));
            page.push('\n');
        }
        page
    }

    /// The check with this name.
    pub fn find(name: &str) -> Option<&'static Check> {
        CHECKS.iter().find(|c| c.name == name)
    }
}

/// The link check of a rig: every one of [`CHECKS`] on every row of pieces that the wiring allows.
#[derive(Clone, Debug)]
pub struct Physics<'r> {
    rig: &'r Rig,
    sockets: Vec<SocketRef>,
}

impl<'r> Physics<'r> {
    /// For this rig; the problem must be compiled from the same one.
    pub fn new(rig: &'r Rig) -> Self {
        let sockets = rig
            .gear
            .iter()
            .enumerate()
            .flat_map(|(g, gear)| {
                (0..gear.body.sockets.len()).map(move |socket| SocketRef { gear: model::GearId(g), socket })
            })
            .collect();
        Physics { rig, sockets }
    }

    /// The row between two sockets.
    pub fn row(&self, spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId) -> Option<Row<'r>> {
        let at = |s: SocketId| self.sockets.get(s.ix()).map(|r| (s, *r));
        Row::new(self.rig, spec, [at(from)?, at(to)?], via)
    }

    /// Everything that the checks say of a row.
    pub fn findings(&self, row: &Row<'r>) -> Vec<(&'static Check, Found)> {
        CHECKS.iter().filter_map(|c| (c.judge)(row).map(|f| (c, f))).collect()
    }
}

impl LinkCheck for Physics<'_> {
    fn points(&self, spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId) -> Option<i32> {
        let row = self.row(spec, from, via, to)?;
        let mut points = 0;
        for check in CHECKS {
            if let Some(found) = (check.judge)(&row) {
                if !found.verdict.is_usable() {
                    return None;
                }
                points += found.points;
            }
        }
        Some(points)
    }
}
