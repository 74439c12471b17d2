//! What a patch is, or may still become.
//!
//! One structure serves twice. For a finished plan every question has one answer. For a half-made plan a
//! question may have several answers at once (a link is there *or* not, a socket is filled *or* empty), and
//! whatever any of them allows counts as possible. What sounds in a finished plan also sounds in every set of
//! possibilities that contains it, and that is what makes the bounds safe.

use crate::neutral::{Guard, Phantom, Rig};

use super::memory;
use super::rules::Rule;
use super::table::{Table, Wire};

/// One or several answers to each question about the resulting patch.
#[derive(Clone, Debug)]
pub(super) struct Options {
    /// By normal link: may be there untouched.
    pub(super) normal: Vec<bool>,
    /// New links that may be there.
    pub(super) new: Vec<usize>,
    /// By socket: may be filled, may be empty.
    pub(super) filled: Vec<bool>,
    pub(super) empty: Vec<bool>,
    /// By gear: placements it may have, with the seconds still to be spent for each; none is the case.
    pub(super) places: Vec<Vec<(usize, i64)>>,
    /// By route: seconds still to be spent to have it on; `None` when it is off.
    pub(super) on: Vec<Option<i64>>,
    /// By mute: may be off, with the seconds still to be spent for it; `None` when it is on.
    pub(super) unmuted: Vec<Option<i64>>,
    /// By bank: may be on.
    pub(super) bank_on: Vec<bool>,
    /// By bank: counts as on for safety. Asked of finished plans only.
    pub(super) bank_hot: Vec<bool>,
    /// By gear: may be switched on by the plan.
    pub(super) started: Vec<bool>,
}

impl Options {
    /// The normal patch, nothing touched.
    pub(super) fn untouched(table: &Table<'_>) -> Options {
        let mut options = Options::plugged(table);
        options.set_banks(table, &vec![false; table.rig.banks.len()]);
        options
    }

    /// The normal patch, but for the banks, which depend on what has had its supply.
    pub(super) fn plugged(table: &Table<'_>) -> Options {
        let rig = table.rig;
        let mut filled = vec![false; rig.sockets.len()];
        for link in &rig.patch {
            filled[link.from] = true;
            filled[link.to] = true;
        }
        Options {
            normal: vec![true; rig.patch.len()],
            new: Vec::new(),
            empty: filled.iter().map(|f| !f).collect(),
            filled,
            places: rig.gear.iter().map(|g| g.place.map(|p| (p, 0)).into_iter().collect()).collect(),
            on: rig.routes.iter().map(|r| r.on.then_some(0)).collect(),
            unmuted: rig.mutes.iter().map(|mute| (!mute.on).then_some(0)).collect(),
            bank_on: Vec::new(),
            bank_hot: Vec::new(),
            started: vec![false; rig.gear.len()],
        }
    }

    /// Sets every bank by whether the plan turns it over.
    pub(super) fn set_banks(&mut self, table: &Table<'_>, turned: &[bool]) {
        let banks = &table.rig.banks;
        let forgotten = memory::forgotten(table, self);
        let kept = |b: usize| banks[b].on != turned[b];
        // A bank that has forgotten is off, and turning it over puts it on.
        self.bank_on = (0..banks.len()).map(|b| if forgotten[b] { turned[b] } else { kept(b) }).collect();
        self.bank_hot = (0..banks.len()).map(|b| self.bank_on[b] || kept(b)).collect();
    }

    /// May every button that mutes the route be off? Twice the seconds still to be spent for that at least: each of the
    /// routes that share a button bears its part.
    pub(super) fn unmuted(&self, table: &Table<'_>, route: usize) -> Option<i64> {
        if !table.rules.has(Rule::Mutes) {
            return Some(0);
        }
        let share = |&mute: &usize| self.unmuted[mute].map(|secs| 2 * secs / sharing(table.rig, mute));
        table.rig.routes[route].mutes.iter().map(share).sum()
    }

    /// May the guard hold?
    pub(super) fn guard(&self, table: &Table<'_>, guard: Option<Guard>) -> bool {
        let Some(guard) = guard else { return true };
        if !table.rules.has(Rule::Guard) {
            return true;
        }
        if guard.filled { self.filled[guard.socket] } else { self.empty[guard.socket] }
    }

    /// May a link have the phantom power that its out-socket needs? (Asked of banks only: the rest is static.)
    pub(super) fn phantom(&self, table: &Table<'_>, wire: &Wire) -> bool {
        let rig = table.rig;
        if !table.rules.has(Rule::Phantom) || !table.rules.has(Rule::Bank) {
            return true;
        }
        match rig.sockets[wire.to].bank {
            Some(bank) if rig.sockets[wire.from].phantom == Phantom::Needs => self.bank_on[bank],
            _ => true,
        }
    }

    /// May the piece be out of its case?
    pub(super) fn out(&self, gear: usize) -> bool {
        !self.places[gear].is_empty()
    }
}

/// How many routes a mute silences; one at least.
fn sharing(rig: &Rig, mute: usize) -> i64 {
    let routes = rig.routes.iter().filter(|route| route.mutes.contains(&mute)).count();
    i64::try_from(routes).unwrap_or(1).max(1)
}
