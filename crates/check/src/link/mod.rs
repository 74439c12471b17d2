//! What physics says of a link: one file a check, named by the fault it finds.
//!
//! The comment that opens a check's file is its help page. [`CHECKS`] lists them; the link check of the search, the remarks
//! on the normal patch, `explain` and `docs/checks.md` all read that one list.

mod half_level;
mod instrument_into_microphone;
mod lead_not_for_it;
mod left_minus_right;
mod low_load;
mod no_amplifier;
mod one_side_only;
mod phantom_harms;
mod phantom_too_weak;
mod plug_does_not_fit;
pub mod row;
mod short_of_current;
mod speaker_into_input;
mod stops_short;
mod supply_does_not_match;
mod thin_lead_to_speaker;
mod thin_pickup;
mod too_long;
mod wrong_level;
mod wrong_side_of_combined;
mod wrong_signal;

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
    check!(plug_does_not_fit, "plug-does-not-fit", "a plug that does not fit"),
    check!(stops_short, "stops-short", "a lead that does not reach"),
    check!(lead_not_for_it, "lead-not-for-it", "a lead that is not made for this kind of signal or supply"),
    check!(
        speaker_into_input,
        "speaker-into-input",
        "an amplifier's loudspeaker output into anything but a loudspeaker"
    ),
    check!(
        thin_lead_to_speaker,
        "thin-lead-to-speaker",
        "a lead between amplifier and loudspeaker that is not a speaker lead"
    ),
    check!(no_amplifier, "no-amplifier", "a passive loudspeaker without an amplifier before it"),
    check!(
        instrument_into_microphone,
        "instrument-into-microphone",
        "an instrument straight into a microphone input"
    ),
    check!(wrong_signal, "wrong-signal", "an input that does not take this kind of signal"),
    check!(wrong_side_of_combined, "wrong-side-of-combined", "the wrong plug in a combined socket"),
    check!(wrong_level, "wrong-level", "a level that the input cannot be set to: too loud or too weak"),
    check!(
        left_minus_right,
        "left-minus-right",
        "a stereo plug in a balanced input: what both sides share cancels"
    ),
    check!(one_side_only, "one-side-only", "left or right lost, or heard on one side only"),
    check!(half_level, "half-level", "a balanced output into an unbalanced input: half the level"),
    check!(low_load, "low-load", "an input that loads the output so much that level is lost"),
    check!(thin_pickup, "thin-pickup", "a pickup into an input that takes its bass or its treble"),
    check!(too_long, "too-long", "a lead longer than is good for its kind of signal"),
    check!(phantom_too_weak, "phantom-too-weak", "no phantom, or too little, for what needs it"),
    check!(phantom_harms, "phantom-harms", "phantom that is always on, into what it can harm"),
    check!(
        supply_does_not_match,
        "supply-does-not-match",
        "a supply of other volts, polarity or type than the gear wants"
    ),
    check!(short_of_current, "short-of-current", "a supply that gives less current than the gear draws"),
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
