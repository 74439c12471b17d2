//! One look at a node: what its plan lacks, the cheapest ways for it, and the bound that follows.

use std::cmp::Reverse;

use check::fault::Losses;
use check::ids::GearId;
use check::order::{Goal, Key};
use check::plan::{End, Plan};

use super::Search;
use super::demand::{Status, What, Worth};
use super::split::Split;
use crate::arcs::{Open, UNIT};
use crate::edits::Edit;
use crate::prices::{At, Prices};
use crate::relax::{By, Relax, Wanted, Way};
use crate::repair;
use crate::state;
use crate::supply::{Needs, Supply};

/// What looking at a node brings.
pub(super) enum Look {
    /// No plan of this node can count.
    Dead,
    /// A bound, and how to split it.
    Split(Key, Split, Vec<(usize, Status)>),
    /// A whole plan; the bound and splits for what might still be better, if anything.
    Whole(Option<(Key, Split)>),
}

/// Rounds of moving shares at each node.
pub(super) const ROUNDS: usize = 0;

impl<'p> Search<'p> {
    /// Looks at the plan decided so far in `self.state`.
    pub(super) fn look(&mut self, rounds: usize, keep_prices: bool) -> Look {
        let mut relax = std::mem::take(&mut self.relax);
        let mut touched = std::mem::take(&mut self.touched);
        let mut whole = None;
        let look = self.look_at(&mut relax, &mut touched, &mut whole, rounds, keep_prices);
        self.relax = relax;
        self.touched = touched;
        if let Some(plan) = whole {
            self.consider(&plan);
        }
        look
    }

    pub(super) fn look_at(
        &mut self,
        relax: &mut Relax,
        touched: &mut Vec<bool>,
        whole: &mut Option<Plan>,
        rounds: usize,
        keep_prices: bool,
    ) -> Look {
        let p = self.p;
        let losses = Losses::of(&p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(p, &self.edits, &losses) else { return Look::Dead };
        if self.judge.look(&plan).is_some() {
            return Look::Dead;
        }
        state::touched(p, self.fault, &plan, touched);
        let least = &self.least;
        let edits = &self.edits;
        let bag = self.state.bag;
        let least_of = |pair, kept| least[edits.id(Edit::New { pair, kept })].with(bag);
        let Some(firm) = state::firm(p, self.fault, &self.state, &plan, touched, &least_of) else {
            return Look::Dead;
        };
        let cap = self.task.cap.unwrap_or(i32::MAX);
        if firm > cap {
            return Look::Dead;
        }
        let open = Open::new(p, edits, &self.judge, &self.state, &plan, touched, &self.alike, least);
        let mut supply = Supply::settle(&open);

        // Power for what is switched on comes first: there is no doing without it.
        if let Some(g) = plan.starts.iter().copied().find(|g| !self.judge.could_start(*g)) {
            let mut needs = Needs::default();
            supply.needs(&open, g, &mut needs);
            needs.edits.retain(|e| *e != Edit::Start(g));
            if needs.edits.is_empty() && needs.fill.is_empty() {
                return Look::Dead;
            }
            let mut v = self.given(&self.status);
            v.seconds = firm;
            return Look::Split(self.task.goal.key(&v), Split::All(needs), Vec::new());
        }

        let unmet: Vec<usize> = (0..self.demands.len())
            .filter(|d| self.status[*d] != Status::Given && !self.is_met(&self.demands[*d]))
            .filter(|d| self.counts(*d))
            .collect();
        let mut ways: Vec<Way> = Vec::new();
        let groups = self.groups(&unmet);
        let mut prices = self.prices.among(&groups);
        let most = i64::from(self.most_seconds(cap) - firm) * UNIT;
        self.follow(relax, &open, &mut supply, &unmet, groups.len(), &prices, By::Seconds, most, &mut ways);
        if groups.len() > 1 {
            let mut best = self.total(&ways);
            let mut part = 50;
            for _ in 0..rounds {
                self.shift(&open, &ways, &groups, &mut prices, part);
                let mut again = Vec::new();
                self.follow(
                    relax,
                    &open,
                    &mut supply,
                    &unmet,
                    groups.len(),
                    &prices,
                    By::Seconds,
                    most,
                    &mut again,
                );
                let total = self.total(&again);
                if total > best {
                    (best, ways) = (total, again);
                    if keep_prices {
                        self.prices.clone_from(&prices);
                    }
                } else {
                    part = (part * 3 / 4).max(5);
                }
            }
        }

        // What has no way at all is given up, or the node is dead.
        let mut status = Vec::new();
        let mut now = self.status.clone();
        for d in &unmet {
            if ways.iter().all(|w| w.demand != *d) {
                if self.status[*d] == Status::Required {
                    return Look::Dead;
                }
                now[*d] = Status::Given;
                status.push((*d, Status::Given));
            }
        }
        let all = firm + self.sum(&ways, |_| true);
        let required = firm + self.sum(&ways, |d| now[d] == Status::Required);
        if required > cap {
            return Look::Dead;
        }
        let mut v = self.given(&now);
        v.seconds = all;
        let dearest = ways
            .iter()
            .filter(|w| now[w.demand] != Status::Given)
            .max_by_key(|w| (w.cost, Reverse(w.demand)));
        if all > cap {
            // Something that is still open has to be given up: at the least what costs the order least.
            v = self.cheapest_loss(&ways, &now, &v);
            v.seconds = required;
        }
        if self.above_ceiling(&v) {
            return Look::Dead;
        }
        if self.task.goal == Goal::Break {
            v.diff += plan.new.iter().map(|n| self.least_points(n.pair)).sum::<i32>();
        }
        if let Some(way) = dearest {
            let (demand, needs) = (way.demand, way.needs.clone());
            return Look::Split(self.task.goal.key(&v), Split::Way { demand, needs }, status);
        }
        if let Some(danger) = self.judge.danger() {
            let ways_out = repair::ways_out(&open, &danger);
            if ways_out.is_empty() {
                return Look::Dead;
            }
            return Look::Split(self.task.goal.key(&v), Split::OneOf(ways_out), status);
        }
        Look::Whole(self.finish(relax, &open, &mut supply, &plan, &v, firm, whole))
    }

    /// No plan of this node that takes longer can be better than the best so far: where nothing is left to gain before the
    /// seconds in the order, the best plan's seconds are the limit.
    pub(super) fn most_seconds(&self, cap: i32) -> i32 {
        let Some((best, ..)) = &self.best else { return cap.min(i32::MAX / 4) };
        let v = self.given(&self.status);
        let before = match self.task.goal {
            Goal::Must => 2,
            Goal::Now => 5,
            Goal::Full => 4,
            // Points come before the seconds; a bound on them is not worth having here.
            Goal::Break => return cap.min(i32::MAX / 4),
        };
        let limit =
            if self.task.goal.key(&v)[..before] >= best[..before] { best[before] } else { i32::MAX / 4 };
        cap.min(limit)
    }

    #[expect(clippy::too_many_arguments, reason = "each is one thing `look` already holds")]
    pub(super) fn follow(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        demands: &[usize],
        among: usize,
        prices: &Prices,
        by: By,
        most: i64,
        out: &mut Vec<Way>,
    ) {
        let source = |d: usize| {
            let (What::Part(part) | What::By(part, _)) = self.demands[d].what;
            self.p.part(part).source
        };
        let mut sources: Vec<_> = demands.iter().map(|d| source(*d)).collect();
        sources.sort_unstable();
        sources.dedup();
        for s in sources {
            let wanted: Vec<Wanted> = demands
                .iter()
                .filter(|d| source(**d) == s)
                .map(|d| {
                    let (part, by) = match self.demands[*d].what {
                        What::Part(part) => (part, None),
                        What::By(part, g) => (part, Some(g)),
                    };
                    Wanted { demand: *d, listener: self.p.part(part).listener, by }
                })
                .collect();
            supply.price_for(open, prices, self.mixing.group[s.ix()]);
            relax.ways(open, supply, &self.mixing, s, &wanted, among, prices, by, most, out);
        }
    }

    /// What the ways that count cost together at least: the dearest of each group, added up. In units.
    pub(super) fn units(&self, ways: &[Way], counts: impl Fn(usize) -> bool) -> i64 {
        let mut dearest: Vec<(usize, i64)> = Vec::new();
        for w in ways.iter().filter(|w| counts(w.demand) && self.demands[w.demand].worth != Worth::Points) {
            let g = self.group(w.demand);
            match dearest.iter_mut().find(|(h, _)| *h == g) {
                Some((_, c)) => *c = (*c).max(w.cost),
                None => dearest.push((g, w.cost)),
            }
        }
        dearest.iter().map(|(_, c)| *c).sum()
    }

    pub(super) fn total(&self, ways: &[Way]) -> i64 {
        self.units(ways, |_| true)
    }

    /// The same in whole seconds, rounded up: a plan's seconds are whole, and shares are only ever rounded down.
    pub(super) fn sum(&self, ways: &[Way], counts: impl Fn(usize) -> bool) -> i32 {
        i32::try_from((self.units(ways, counts) + UNIT - 1) / UNIT).unwrap_or(i32::MAX / 4)
    }

    /// Moves the shares of what each group's dearest way uses towards the groups that use it.
    pub(super) fn shift(
        &self,
        open: &Open<'_, '_>,
        ways: &[Way],
        groups: &[usize],
        prices: &mut Prices,
        part: i64,
    ) {
        let gear = self.p.spec.gear.len();
        let mut users: Vec<[Vec<usize>; 3]> = vec![Default::default(); gear];
        for group in groups {
            let mine = ways
                .iter()
                .filter(|w| self.group(w.demand) == *group && self.demands[w.demand].worth != Worth::Points);
            let Some(way) = mine.max_by_key(|w| (w.cost, Reverse(w.demand))) else { continue };
            for (at, g) in uses(open, &way.needs) {
                let list = &mut users[g.ix()][at as usize];
                if !list.contains(group) {
                    list.push(*group);
                }
            }
        }
        for (g, kinds) in users.iter().enumerate() {
            for at in [At::Visit, At::Power, At::Place] {
                prices.shift(at, GearId::at(g), &kinds[at as usize], groups, part);
            }
        }
    }
}

/// Which pieces a way walks to, powers and places.
pub(super) fn uses(open: &Open<'_, '_>, needs: &Needs) -> Vec<(At, GearId)> {
    let p = open.p;
    let mut all = Vec::new();
    for e in &needs.edits {
        match *e {
            Edit::New { pair, kept } => {
                let pr = &p.pairs.pairs[pair];
                let supply = p.spec.class_of(pr.from).is_some_and(|c| p.spec.classes[c.ix()].supply);
                for (end, s) in [(End::From, pr.from), (End::To, pr.to)] {
                    if kept != Some(end) || p.spec.has_gain(s) {
                        all.push((At::Visit, p.spec.gear_of(s)));
                    }
                }
                if supply {
                    all.push((At::Power, p.spec.gear_of(pr.to)));
                }
            }
            Edit::Place(g, _) => all.extend([(At::Place, g), (At::Visit, g)]),
            Edit::Knob(k) => all.push((At::Visit, p.spec.knobs[k.ix()].gear)),
            Edit::Start(g) => all.push((At::Power, g)),
            Edit::Pull(..) | Edit::Mend(_) | Edit::Open => {}
        }
    }
    all
}
