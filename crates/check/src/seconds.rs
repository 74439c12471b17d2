//! What a plan costs: seconds, moves, and which leads it takes from where (docs/cover.md, sections 3 and 7).

use crate::fault::{Fault, Losses};
use crate::ids::{GearId, LeadId};
use crate::plan::{End, Plan};
use crate::problem::Problem;
use crate::rules::Rule;
use crate::spec::Place;
use crate::wired::Wired;

/// The cost of a plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Price {
    /// Of the whole plan.
    pub seconds: i32,
    /// Pulls, ends, joints, placements, knobs, starts, mends.
    pub moves: i32,
    /// Points of the chains of new links.
    pub points: i32,
    /// Is anything taken from the spare bag?
    pub opens_case: bool,
    /// Pieces of each lead type taken: freed, from stage, from the bag.
    pub taken: Vec<Taken>,
    /// Lead types of which more are used than there are.
    pub short: Vec<LeadId>,
    /// A mend lacks what it uses up.
    pub worn_out: bool,
}

/// Where the new pieces of one type come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// Free on the floor after the pulls.
    pub freed: i32,
    /// Spares that lie on stage.
    pub stage: i32,
    /// Spares in the bag.
    pub case: i32,
}

/// Reckons the price of a plan that is laid out in `w`.
pub(crate) fn price(p: &Problem, w: &Wired, fault: &Fault, losses: &Losses, plan: &Plan) -> Price {
    let steps = &p.spec.steps;
    let mut it = Price { taken: vec![Taken::default(); p.spec.leads.len()], ..Price::default() };
    let mut touched = vec![false; p.spec.gear.len()];
    let mut used = vec![0_i32; p.spec.leads.len()];
    let mut freed = vec![0_i32; p.spec.leads.len()];

    for (l, end) in &plan.pulls {
        it.seconds += steps.unplug;
        it.moves += 1;
        let link = &p.spec.patch[l.ix()];
        let s = if *end == End::From { link.from } else { link.to };
        touched[p.spec.gear_of(s).ix()] = true;
        if let Some(g) = p.unloads(*l) {
            touched[g.ix()] = true;
        }
    }
    for n in &plan.new {
        new_link(p, losses, n, &mut it, &mut touched, &mut used, &mut freed);
    }
    for (g, n) in &plan.places {
        let gear = &p.spec.gear[g.ix()];
        it.seconds += gear.placements.get(*n).map_or(0, |pl| pl.seconds);
        it.moves += 1;
        it.opens_case |= gear.place == Place::Case;
        touched[g.ix()] = true;
    }
    for k in &plan.knobs {
        let knob = &p.spec.knobs[k.ix()];
        it.seconds += steps.knob + knob.wait;
        it.moves += 1;
        touched[knob.gear.ix()] = true;
    }
    let mut boot = 0;
    for g in &plan.starts {
        let own = p.spec.gear[g.ix()].boot;
        it.seconds += steps.start;
        it.moves += 1;
        boot = if p.rules.on(Rule::Boot) { boot.max(own) } else { boot + own };
        touched[g.ix()] = true;
    }
    let mut worn = vec![0_i32; p.spec.wear.len()];
    for m in &plan.mends {
        let Some(mend) = fault.mends.get(*m) else { continue };
        it.seconds += mend.seconds;
        it.moves += 1;
        touched[mend.at.ix()] = true;
        if let Some((wear, n)) = mend.wear {
            worn[wear.ix()] += n;
        }
    }
    it.seconds += boot;

    for (i, link) in p.spec.patch.iter().enumerate() {
        let l = crate::ids::LinkId::at(i);
        if !w.claimed(l) && w.freed(p, l) && p.rules.on(Rule::Freed) {
            for (k, t) in link.via.iter().enumerate() {
                freed[t.ix()] += i32::from(!losses.piece(l, k));
            }
        }
    }
    take(p, losses, &used, &freed, &mut it);
    for (need, wear) in worn.iter().zip(&p.spec.wear) {
        let stage = (*need).min(wear.stage.max(0));
        let case = need - stage;
        it.worn_out |= case > wear.case.max(0);
        it.seconds += stage * steps.item_stage + case * steps.item_case;
        it.opens_case |= case > 0;
    }
    if it.opens_case && p.rules.on(Rule::Case) {
        it.seconds += steps.open_case;
    }
    for g in (0..touched.len()).filter(|g| touched[*g]) {
        it.seconds += p.go[g] + if p.spec.gear[g].loud { steps.quiet } else { 0 };
    }
    it
}

fn new_link(
    p: &Problem,
    losses: &Losses,
    n: &crate::plan::NewLink,
    it: &mut Price,
    touched: &mut [bool],
    used: &mut [i32],
    freed: &mut [i32],
) {
    let steps = &p.spec.steps;
    let pair = &p.pairs.pairs[n.pair];
    let chain = &p.pairs.chains[n.chain];
    let mut touch = |g: GearId| touched[g.ix()] = true;
    let mut kept = 0;
    if let Some(end) = n.kept
        && let Some(l) = p.kept_link(n.pair, end)
    {
        kept = p.kept_pieces(losses, l, end, &chain.via);
        let old = &p.spec.patch[l.ix()].via;
        for (k, t) in old.iter().enumerate() {
            let stays = match end {
                End::From => k < kept,
                End::To => old.len() - 1 - k < kept,
            };
            freed[t.ix()] += i32::from(!stays && !losses.piece(l, k) && p.rules.on(Rule::Freed));
        }
    }
    for (i, t) in chain.via.iter().enumerate() {
        let stays = match n.kept {
            None => false,
            Some(End::From) => i < kept,
            Some(End::To) => chain.via.len() - 1 - i < kept,
        };
        used[t.ix()] += i32::from(!stays);
    }
    for (end, s) in [(End::From, pair.from), (End::To, pair.to)] {
        if n.kept != Some(end) && p.end_charged(s, chain.via.len()) {
            it.seconds += p.spec.plug_seconds(s);
            it.moves += 1;
            touch(p.spec.gear_of(s));
        }
    }
    let joints = match n.kept {
        None => chain.via.len().saturating_sub(1),
        Some(_) => chain.via.len() - kept,
    };
    let joints = i32::try_from(joints).unwrap_or(0);
    it.seconds += joints * steps.join;
    it.moves += joints;
    if p.spec.has_gain(pair.to) {
        it.seconds += steps.level;
        touch(p.spec.gear_of(pair.to));
    }
    it.points += chain.points;
}

/// Freed pieces first, then spares on stage, then the bag.
fn take(p: &Problem, losses: &Losses, used: &[i32], freed: &[i32], it: &mut Price) {
    for (i, need) in used.iter().enumerate().filter(|(_, n)| **n > 0) {
        let t = LeadId::at(i);
        let (stage, case) = losses.spares(&p.spec, t, p.on_stage[i]);
        let stage = if p.rules.on(Rule::Spare) { stage } else { p.on_stage[i].max(0) };
        let from_freed = (*need).min(freed[i]);
        let from_stage = (need - from_freed).min(stage);
        let from_case = need - from_freed - from_stage;
        if from_case > case && p.rules.on(Rule::Stock) {
            it.short.push(t);
        }
        it.taken[i] = Taken { freed: from_freed, stage: from_stage, case: from_case };
        it.seconds += from_stage * p.spec.steps.item_stage + from_case * p.spec.steps.item_case;
        it.opens_case |= from_case > 0;
    }
}
