//! How a cost that several sources could share is split among them.
//!
//! Any split gives a bound as long as the shares of one cost add up to no more than the cost. Equal shares are poor: the
//! piece that only the violin needs should be charged to the violin. So the shares move, round by round, to the sources
//! whose cheapest way uses the piece, and the split with the best bound is kept.

use check::ids::GearId;

/// A whole cost; shares are parts of it.
const WHOLE: i64 = 1 << 20;

/// What is shared at a piece of gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum At {
    /// Walking to it.
    Visit = 0,
    /// Its plug and switch.
    Power = 1,
    /// Placing it.
    Place = 2,
}

/// The shares of each group of sources.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Prices {
    gear: usize,
    groups: usize,
    /// By kind, piece and group.
    shares: Vec<i64>,
}

impl Prices {
    pub(crate) fn even(groups: usize, gear: usize) -> Self {
        let groups_ = i64::try_from(groups.max(1)).unwrap_or(1);
        Prices { gear, groups, shares: vec![WHOLE / groups_; 3 * gear * groups] }
    }

    /// Everything in full for every group: for ways that are looked at one by one.
    pub(crate) fn full(groups: usize, gear: usize) -> Self {
        Prices { gear, groups, shares: vec![WHOLE; 3 * gear * groups] }
    }

    fn row(&self, at: At, g: GearId) -> usize {
        ((at as usize) * self.gear + g.ix()) * self.groups
    }

    /// What a group pays of a cost.
    pub(crate) fn of(&self, at: At, g: GearId, group: usize, cost: i64) -> i64 {
        if cost == 0 { 0 } else { cost * self.shares[self.row(at, g) + group] / WHOLE }
    }

    /// The shares of a few groups alone, grown until they make up the whole again.
    pub(crate) fn among(&self, these: &[usize]) -> Prices {
        let mut it = Prices { gear: self.gear, groups: self.groups, shares: vec![0; self.shares.len()] };
        for row in (0..self.shares.len()).step_by(self.groups.max(1)) {
            let sum: i64 = these.iter().map(|k| self.shares[row + k]).sum();
            for k in these {
                it.shares[row + k] = if sum > 0 {
                    self.shares[row + k] * WHOLE / sum
                } else {
                    WHOLE / i64::try_from(these.len()).unwrap_or(1)
                };
            }
        }
        it
    }

    /// Moves part of what others hold of a cost to those that use it.
    pub(crate) fn shift(&mut self, at: At, g: GearId, users: &[usize], these: &[usize], part: i64) {
        if users.is_empty() || users.len() == these.len() {
            return;
        }
        let row = self.row(at, g);
        let mut pot = 0;
        for k in these.iter().filter(|k| !users.contains(k)) {
            let give = self.shares[row + k] * part / 100;
            self.shares[row + k] -= give;
            pot += give;
        }
        let each = pot / i64::try_from(users.len()).unwrap_or(1);
        for k in users {
            self.shares[row + k] += each;
        }
    }
}
