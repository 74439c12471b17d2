//! What a plan that lacks nothing costs with its leads chosen, and what could still make it better.

use check::Problem;
use check::fault::{Fault, Losses};
use check::ids::GearId;
use check::order::{Goal, Key, Values};
use check::plan::{End, Plan};

use super::Search;
use super::demand::What;
use super::split::Split;
use crate::arcs::Open;
use crate::edits::Edit;
use crate::leads::{self, Stock};
use crate::prices::Prices;
use crate::relax::{By, Relax};
use crate::state;
use crate::supply::{Needs, Supply};

impl<'p> Search<'p> {
    /// Chooses the leads of a plan that brings all it is asked for, and notes it; then says what could still be better.
    #[expect(clippy::too_many_arguments, reason = "each is one thing `look` already holds")]
    pub(super) fn finish(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        plan: &Plan,
        v: &Values,
        firm: i32,
        whole: &mut Option<Plan>,
    ) -> Option<(Key, Split)> {
        let p = self.p;
        let losses = open.judge.losses().clone();
        let mut stock = stock(p, self.fault, &losses, plan);
        match self.state.bag {
            Some(true) => stock.open = true,
            Some(false) => {
                for spares in &mut stock.spares {
                    spares.1 = 0;
                }
            }
            None => {}
        }
        let goal = self.task.goal;
        let bare: i32 = self
            .state
            .links
            .iter()
            .filter_map(|(a, k)| {
                self.least[self.edits.id(Edit::New { pair: *a, kept: *k })].with(self.state.bag)
            })
            .sum();
        let room = self.task.cap.map_or(i32::MAX / 4, |c| c - (firm - bare));
        let real = leads::choose(p, &losses, goal, &self.state.links, &stock, room, false);
        if let Some((_, new)) = &real {
            let mut plan = plan.clone();
            plan.new.clone_from(new);
            plan.tidy();
            *whole = Some(plan);
        }
        let hoped = leads::choose(p, &losses, goal, &self.state.links, &stock, room, true);
        let better = match (&real, &hoped) {
            (_, None) => return None,
            (None, Some(_)) => true,
            (Some((r, _)), Some((h, _))) => h < r,
        };
        let mut pulls = Vec::new();
        if better {
            pulls = frees(open, plan);
        }
        let mut v = *v;
        v.seconds = firm;
        let points = if goal == Goal::Break { self.fewer_points(relax, open, supply, &mut v) } else { None };
        let key = goal.key(&v);
        if let Some(needs) = points {
            return Some((key, Split::All(needs)));
        }
        (!pulls.is_empty()).then_some((key, Split::OneOf(pulls)))
    }

    /// What points each part has at least: by its best way from the normal patch, as if it were the only one.
    pub(super) fn find_floors(&mut self) {
        let p = self.p;
        // A mend only gives back: with all of them done there are the most ways.
        for m in 0..self.fault.mends.len() {
            self.state.commit(&self.edits, Edit::Mend(m));
        }
        let losses = Losses::of(&p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(p, &self.edits, &losses) else { return };
        if self.judge.look(&plan).is_some() {
            return;
        }
        let mut relax = std::mem::take(&mut self.relax);
        let mut touched = std::mem::take(&mut self.touched);
        state::touched(p, self.fault, &plan, &mut touched);
        let open =
            Open::new(p, &self.edits, &self.judge, &self.state, &plan, &touched, &self.alike, &self.least);
        let mut supply = Supply::settle(&open);
        let parts: Vec<usize> =
            (0..self.demands.len()).filter(|d| matches!(self.demands[*d].what, What::Part(_))).collect();
        let prices = Prices::full(p.spec.sources.len(), p.spec.gear.len());
        let mut ways = Vec::new();
        self.follow(&mut relax, &open, &mut supply, &parts, 1, &prices, By::Points, i64::MAX, &mut ways);
        let mut floor = vec![0; self.demands.len()];
        for w in ways {
            floor[w.demand] = w.points;
        }
        self.floor = floor;
        self.relax = relax;
        self.touched = touched;
    }

    /// For the break: the part whose sound could be better, and how.
    pub(super) fn fewer_points(
        &self,
        relax: &mut Relax,
        open: &Open<'_, '_>,
        supply: &mut Supply,
        v: &mut Values,
    ) -> Option<Needs> {
        let parts: Vec<usize> = (0..self.demands.len())
            .filter(|d| matches!(self.demands[*d].what, What::Part(_)) && self.is_met(&self.demands[*d]))
            .collect();
        let mut ways = Vec::new();
        let prices = Prices::full(self.p.spec.sources.len(), self.p.spec.gear.len());
        self.follow(relax, open, supply, &parts, 1, &prices, By::Points, i64::MAX, &mut ways);
        let mut best: Option<(i32, Needs)> = None;
        for w in ways {
            let What::Part(part) = self.demands[w.demand].what else { continue };
            let now =
                (0..self.p.spec.gear.len()).filter_map(|g| self.judge.points_at(part, GearId::at(g))).min();
            let Some(now) = now else { continue };
            v.diff += (w.points.min(now) - self.floor[w.demand]).max(0);
            let gain = now - w.points;
            if gain > 0 && !w.needs.edits.is_empty() && best.as_ref().is_none_or(|(g, _)| gain > *g) {
                best = Some((gain, w.needs));
            }
        }
        best.map(|(_, needs)| needs)
    }

    pub(super) fn least_points(&self, pair: usize) -> i32 {
        let pr = &self.p.pairs.pairs[pair];
        (pr.first..pr.last).map(|c| self.p.pairs.chains[c].points).min().unwrap_or(0)
    }
}

pub(super) fn stock(p: &Problem, fault: &Fault, losses: &Losses, plan: &Plan) -> Stock {
    let n = p.spec.leads.len();
    let mut it = Stock {
        freed: vec![0; n],
        could_be_freed: vec![0; n],
        spares: (0..n).map(|t| losses.spares(&p.spec, check::ids::LeadId::at(t), p.on_stage[t])).collect(),
        open: plan.places.iter().any(|(g, _)| p.packed(*g)),
    };
    let mut worn = vec![0; p.spec.wear.len()];
    for (w, n) in plan.mends.iter().filter_map(|m| fault.mends.get(*m)).filter_map(|m| m.wear) {
        worn[w.ix()] += n;
    }
    it.open |= worn.iter().zip(&p.spec.wear).any(|(need, w)| *need > w.stage.max(0));
    for (i, link) in p.spec.patch.iter().enumerate() {
        let l = check::ids::LinkId::at(i);
        let claimed = plan.new.iter().any(|n| n.kept.and_then(|e| p.kept_link(n.pair, e)) == Some(l));
        if claimed {
            continue;
        }
        let has = p.end_exists[i];
        let out = [End::From, End::To].map(|e| plan.pulls(l, e));
        let freed = has != [false; 2] && (0..2).all(|k| !has[k] || out[k]);
        for (k, t) in link.via.iter().enumerate() {
            if !losses.piece(l, k) {
                if freed { it.freed[t.ix()] += 1 } else { it.could_be_freed[t.ix()] += 1 }
            }
        }
    }
    it
}

/// Pulls and takings-over that could free a lead: at least one of them is in every plan that frees more.
pub(super) fn frees(open: &Open<'_, '_>, plan: &Plan) -> Vec<Edit> {
    let p = open.p;
    let mut out = Vec::new();
    let free = |e: Edit| {
        let id = open.edits.id(e);
        !open.state.forbidden[id] && !open.state.committed[id]
    };
    for (i, link) in p.spec.patch.iter().enumerate() {
        if link.via.is_empty() {
            continue;
        }
        let l = check::ids::LinkId::at(i);
        if plan.new.iter().any(|n| n.kept.and_then(|e| p.kept_link(n.pair, e)) == Some(l)) {
            continue;
        }
        for end in [End::From, End::To] {
            let e = Edit::Pull(l, end);
            if p.end_exists[i][end.ix()] {
                if !plan.pulls(l, end) && free(e) {
                    out.push(e);
                }
            } else {
                let s = if end == End::From { link.to } else { link.from };
                let over = |e: &Edit| matches!(e, Edit::New { kept: Some(k), .. } if *k == end.other());
                out.extend(open.fillers(s).filter(over).filter(|e| free(*e)));
            }
        }
    }
    out
}
