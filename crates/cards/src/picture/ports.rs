//! Where leads leave and enter boxes: at the foot and at the head, in an order that makes few crossings.

use super::rows::LETTERS;
use super::{Lead, LeadState};
use crate::font::{Measure, Weight};

/// Radius of the disc with a step's number.
pub(super) const DISC: i32 = 12;
/// Height of a word in its box.
pub(super) const TAG: i32 = 20;
/// The word NEW in its box.
pub(super) const NEW: i32 = 42;
/// The word OUT in its box.
pub(super) const OUT: i32 = 40;
/// The word DEAD on a lead.
pub(super) const DEAD_TAG: i32 = 48;

/// How far right of its line a label stands where a lead arrives, clear of the arrow.
pub(super) const LABEL: i32 = 11;

/// Which side of the boxes a lead runs round, or none when its rows are neighbours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Way {
    Left,
    Straight,
    Right,
}

/// One end of a lead on an edge of a box.
#[derive(Clone, Copy, Debug)]
pub(super) struct Port {
    pub lead: usize,
    /// Room needed to the left of the line.
    pub left: i32,
    /// Room needed to the right of the line.
    pub right: i32,
    /// Where it would like to be, if anywhere.
    pub wish: Option<i32>,
    pub x: i32,
}

/// Room at the foot of a box, where a lead leaves.
pub(super) fn leaving(at: usize, lead: &Lead, measure: &Measure) -> Port {
    let label = label_width(&lead.from.label, measure);
    let how = if let LeadState::TooShort(how) = &lead.state { 3 + label_width(how, measure) } else { 0 };
    Port { lead: at, left: 8, right: (how + label).max(8), wish: None, x: 0 }
}

/// Room at the head of a box, where a lead arrives: its sign stands on it above the socket's label.
pub(super) fn arriving(at: usize, lead: &Lead, flat: bool, measure: &Measure) -> Port {
    let label = label_width(&lead.to.label, measure);
    let (left, right) = match lead.state {
        LeadState::New(_) if flat => (DISC + 2, DISC + 2 + NEW),
        LeadState::New(_) => (NEW / 2, NEW / 2),
        LeadState::Out => (OUT / 2, OUT / 2),
        LeadState::Dead => (DEAD_TAG / 2, DEAD_TAG / 2),
        LeadState::Kept | LeadState::TooShort(_) => (8, 8),
    };
    Port { lead: at, left, right: (label + LABEL - 5).max(right), wish: None, x: 0 }
}

/// Width of a label beside a line, with its distance from it.
pub(super) fn label_width(label: &str, measure: &Measure) -> i32 {
    if label.is_empty() { 0 } else { measure.width(label, LETTERS, Weight::Bold) + 8 }
}

/// The width an edge needs for its ports.
pub(super) fn needed(ports: &[Port]) -> i32 {
    ports.iter().map(|p| p.left + p.right + 2).sum::<i32>() + 24
}

/// Places ports on an edge from `left` to `right`, in their order, each near its wish and never over a neighbour's
/// room, and away from the `taken` uprights of other leads in the same gap between rows.
pub(super) fn place(ports: &mut [Port], left: i32, right: i32, taken: &[(usize, i32)]) {
    let count = i32::try_from(ports.len()).unwrap_or(1).max(1);
    let mut least = left + 6;
    for (i, port) in (0_i32..).zip(ports.iter_mut()) {
        let even = left + (right - left) * (2 * i + 1) / (2 * count);
        port.x = port.wish.unwrap_or(even).max(least + port.left);
        least = port.x + port.right + 2;
    }
    let mut most = right - 6;
    for port in ports.iter_mut().rev() {
        port.x = port.x.min(most - port.right);
        most = port.x - port.left - 2;
    }
    let mut least = left + 4;
    for i in 0..ports.len() {
        let next = ports.get(i + 1).map_or(right - 4, |next| next.x - next.left - 1);
        let Some(port) = ports.get_mut(i) else { continue };
        let free = |x: i32| taken.iter().all(|&(lead, other)| lead == port.lead || (x - other).abs() >= 9);
        let fits = |x: i32| x - port.left >= least && x + port.right <= next;
        let found = (0..40).flat_map(|d| [port.x + d, port.x - d]).find(|&x| free(x) && fits(x));
        if let Some(x) = found {
            port.x = x;
        }
        least = port.x + port.right + 1;
    }
}
