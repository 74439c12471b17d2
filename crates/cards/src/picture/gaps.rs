//! The gaps between rows: signs where leads leave, level stretches, signs where they arrive.

use super::LeadState;
use super::layout::{Plan, Run};
use super::ports::{DISC, TAG, Way};
use super::scene::{Scene, Wire};

/// Room under the signs where leads arrive, for the arrow and the socket's label.
pub(super) const UNDER: i32 = 23;
/// The same where no socket has a label: the arrow alone.
pub(super) const UNDER_BARE: i32 = 16;

/// Uprights nearer than this read as one line.
const APART: i32 = 8;

/// Level stretches that share a height: of which sort, how thick, and from where to where for which lead.
#[derive(Debug)]
struct Level {
    kind: i32,
    pitch: i32,
    stretches: Vec<(i32, i32, usize)>,
}

impl Plan<'_> {
    /// Lays out the gap above `row`, from `y` down: signs where leads leave, level stretches, signs where they arrive.
    /// Returns where the row begins. Level stretches are kept in `scene.wires` until the lines are drawn.
    pub(super) fn gap(&self, row: usize, top: i32, scene: &mut Scene) -> i32 {
        let lead = |run: &Run| self.picture.leads.get(run.lead);
        let leaving: Vec<&Run> = self.runs.iter().filter(|r| r.rows.0 + 1 == row).collect();
        let arriving: Vec<&Run> = self.runs.iter().filter(|r| r.rows.1 == row).collect();
        if leaving.is_empty() && arriving.is_empty() {
            return if row == 0 { top } else { top + 16 };
        }
        let named = |r: &Run| {
            lead(r).is_some_and(|l| !l.from.label.is_empty() || matches!(l.state, LeadState::TooShort(_)))
        };
        let room = if leaving.iter().any(|r| named(r)) { 22 } else { 6 };
        let mut y = top + if leaving.is_empty() { 0 } else { room };

        let mut tracks: Vec<(i32, i32, i32, &Run)> = Vec::new();
        for run in leaving.iter().chain(&arriving).filter(|r| !r.stub) {
            let (from, to) = (self.foot_x(run.lead), self.head_x(run.lead));
            let lane = i32::try_from(run.lane).unwrap_or(0);
            // First those that leave for a lane, the outermost highest; then those between the two rows; then those
            // that come in, the outermost lowest: that way they cross least.
            let key = match (run.way, run.rows.0 + 1 == row) {
                (Way::Straight, _) if from == to => continue,
                (Way::Straight, _) if to > from => (1, -from),
                (Way::Straight, _) => (1, from),
                (Way::Left | Way::Right, true) => (0, lane),
                (Way::Left | Way::Right, false) => (2, -lane),
            };
            if !tracks.iter().any(|t| t.3.lead == run.lead && t.0 == key.0) {
                tracks.push((key.0, key.1, run.pitch, run));
            }
        }
        tracks.sort_by_key(|(kind, order, _, run)| (*kind, *order, run.lead));
        // Where one lead comes down beside the spot another leaves from, the one that leaves has to turn off above it, or
        // the two uprights lie on each other.
        let mut waiting = std::mem::take(&mut tracks);
        while !waiting.is_empty() {
            let beside = |t: &Run, u: &Run| (self.head_x(t.lead) - self.foot_x(u.lead)).abs() < APART;
            let held = |at: usize| {
                let (kind, .., run) = waiting[at];
                waiting
                    .iter()
                    .enumerate()
                    .any(|(k, u)| k != at && u.0 == kind && kind == 1 && beside(run, u.3))
            };
            let first = waiting[0].0;
            let free = (0..waiting.len()).take_while(|at| waiting[*at].0 == first).find(|at| !held(*at));
            tracks.push(waiting.remove(free.unwrap_or(0)));
        }
        // Stretches of one sort that do not meet share a level.
        let mut levels: Vec<Level> = Vec::new();
        for (kind, _, pitch, run) in tracks {
            let (from, to) = (self.foot_x(run.lead), self.head_x(run.lead));
            let here = if kind == 2 { to } else { from };
            let (a, b) = match run.way {
                Way::Left => (i32::MIN / 4, here),
                Way::Right => (here, i32::MAX / 4),
                Way::Straight => (from.min(to), from.max(to)),
            };
            let clear = |level: &&mut Level| {
                level.kind == kind && level.stretches.iter().all(|&(c, d, _)| b + 20 < c || d + 20 < a)
            };
            match levels.last_mut().filter(clear) {
                Some(level) => {
                    level.pitch = level.pitch.max(pitch);
                    level.stretches.push((a, b, run.lead));
                }
                None => levels.push(Level { kind, pitch, stretches: vec![(a, b, run.lead)] }),
            }
        }
        for level in levels {
            y += level.pitch / 2;
            for (_, _, lead) in level.stretches {
                // A level is remembered as one point; `draw_lines` reads it.
                scene.wires.push(Wire { lead, points: vec![(level.kind, y)], arrives: true });
            }
            y += level.pitch - level.pitch / 2;
        }
        let any = |want: &dyn Fn(&LeadState) -> bool| {
            arriving.iter().filter_map(|r| lead(r)).any(|l| want(&l.state))
        };
        let signs = if any(&|s| matches!(s, LeadState::New(_))) {
            2 * DISC + 3 + if self.flat { 0 } else { TAG }
        } else if any(&|s| matches!(s, LeadState::Out | LeadState::Dead)) {
            TAG + 2
        } else {
            0
        };
        let labelled = arriving.iter().filter_map(|r| lead(r)).any(|l| !l.to.label.is_empty());
        y + if arriving.is_empty() { 4 } else { signs + if labelled { UNDER + 1 } else { UNDER_BARE + 1 } }
    }
}
