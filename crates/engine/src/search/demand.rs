//! What a plan is asked to bring back or to keep, and what it is worth to do without.

use check::ids::{GearId, PartId};
use check::order::{Goal, Values};
use check::spec::Rank;
use check::{Judge, Problem};

use super::Search;
use crate::relax::Way;

/// Something a plan may bring back, or keep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// A part, by whichever piece.
    Part(PartId),
    /// A part by one piece: it still sounds there (harm), or it did (points).
    By(PartId, GearId),
}

#[derive(Clone, Copy, Debug)]
pub(super) struct Demand {
    pub(super) what: What,
    pub(super) worth: Worth,
}

/// What is lost with a demand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Worth {
    Must(i32),
    Should(i32),
    Nice(i32),
    Harm,
    /// Two points for a speaker that no longer carries a part that is carried.
    Points,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Status {
    /// Not decided.
    Open,
    /// Every plan of this node has it.
    Required,
    /// Done without.
    Given,
}

impl<'p> Search<'p> {
    /// A bound from what is given up so far.
    pub(super) fn given(&self, status: &[Status]) -> Values {
        let mut v = Values::default();
        for (d, s) in self.demands.iter().zip(status) {
            let given = *s == Status::Given;
            match d.worth {
                Worth::Must(w) => v.must -= if given { 0 } else { w },
                Worth::Should(w) => v.should -= if given { 0 } else { w },
                Worth::Nice(w) => v.nice -= if given { 0 } else { w },
                Worth::Harm => v.harm += i32::from(given),
                Worth::Points => v.diff += if given && !self.part_given(d, status) { 2 } else { 0 },
            }
        }
        let kept = status.iter().zip(&self.floor).filter(|(s, _)| **s != Status::Given);
        v.diff += kept.map(|(_, points)| points).sum::<i32>();
        v
    }

    /// Is the part of this demand itself done without? Then its speakers are no matter of points.
    pub(super) fn part_given(&self, d: &Demand, status: &[Status]) -> bool {
        let (What::Part(part) | What::By(part, _)) = d.what;
        self.demands.iter().zip(status).any(|(e, s)| e.what == What::Part(part) && *s == Status::Given)
    }

    pub(super) fn is_met(&self, d: &Demand) -> bool {
        match d.what {
            What::Part(part) => (0..self.p.spec.gear.len()).any(|g| self.judge.sounds(part, GearId::at(g))),
            What::By(part, g) => self.judge.sounds(part, g),
        }
    }

    /// Does a demand count at all now? A speaker of a part that is not carried is no matter of points.
    pub(super) fn counts(&self, d: usize) -> bool {
        match (self.demands[d].worth, self.demands[d].what) {
            (Worth::Points, What::By(part, _)) => {
                (0..self.p.spec.gear.len()).any(|g| self.judge.sounds(part, GearId::at(g)))
            }
            _ => true,
        }
    }

    pub(super) fn groups(&self, unmet: &[usize]) -> Vec<usize> {
        let mut groups: Vec<usize> = unmet.iter().map(|d| self.group(*d)).collect();
        groups.sort_unstable();
        groups.dedup();
        groups
    }

    pub(super) fn group(&self, d: usize) -> usize {
        let (What::Part(part) | What::By(part, _)) = self.demands[d].what;
        self.mixing.group[self.p.part(part).source.ix()]
    }

    pub(super) fn cheapest_loss(&self, ways: &[Way], now: &[Status], v: &Values) -> Values {
        let mut best: Option<Values> = None;
        let open = |w: &&Way| now[w.demand] == Status::Open && self.demands[w.demand].worth != Worth::Points;
        for w in ways.iter().filter(open) {
            let mut u = *v;
            match self.demands[w.demand].worth {
                Worth::Must(x) => u.must += x,
                Worth::Should(x) => u.should += x,
                Worth::Nice(x) => u.nice += x,
                Worth::Harm => u.harm += 1,
                Worth::Points => u.diff += 2,
            }
            if best.is_none_or(|b| self.task.goal.key(&u) < self.task.goal.key(&b)) {
                best = Some(u);
            }
        }
        best.unwrap_or(*v)
    }
}

pub(super) fn demands(p: &Problem, judge: &Judge<'_>, goal: Goal) -> Vec<Demand> {
    let mut all = Vec::new();
    for part in &p.counted {
        let weight = p.part(*part).weight;
        let worth = match p.part(*part).rank {
            Rank::Must => Worth::Must(weight),
            Rank::Should if goal != Goal::Must => Worth::Should(weight),
            Rank::Nice if goal != Goal::Must => Worth::Nice(weight),
            Rank::Should | Rank::Nice | Rank::Never => continue,
        };
        all.push(Demand { what: What::Part(*part), worth });
    }
    match goal {
        Goal::Now | Goal::Full | Goal::Must => {
            all.extend(
                judge
                    .still_sounding()
                    .iter()
                    .map(|(part, g)| Demand { what: What::By(*part, *g), worth: Worth::Harm }),
            );
        }
        Goal::Break => {
            for part in &p.counted {
                let by = p.speakers[part.ix()].iter();
                all.extend(by.map(|g| Demand { what: What::By(*part, *g), worth: Worth::Points }));
            }
        }
    }
    all
}
