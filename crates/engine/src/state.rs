//! A half-made plan: what is decided to be done, and what is decided not to be.

use check::Problem;
use check::fault::{Fault, Losses};
use check::ids::{GearId, KnobId, LinkId, SocketId};
use check::plan::{End, NewLink, Plan};
use check::spec::Place;

use crate::edits::{Edit, Edits};

/// What a node of the search stands for: every plan with these edits and without those.
#[derive(Clone, Debug)]
pub(crate) struct State {
    pub(crate) links: Vec<(usize, Option<End>)>,
    pub(crate) pulls: Vec<(LinkId, End)>,
    pub(crate) places: Vec<(GearId, usize)>,
    pub(crate) knobs: Vec<KnobId>,
    pub(crate) starts: Vec<GearId>,
    pub(crate) mends: Vec<usize>,
    /// Is the spare bag opened? `None` while that is not decided.
    pub(crate) bag: Option<bool>,
    /// By edit number.
    pub(crate) forbidden: Vec<bool>,
    /// By edit number.
    pub(crate) committed: Vec<bool>,
}

impl State {
    pub(crate) fn new(edits: &Edits) -> Self {
        State {
            links: Vec::new(),
            pulls: Vec::new(),
            places: Vec::new(),
            knobs: Vec::new(),
            starts: Vec::new(),
            mends: Vec::new(),
            bag: None,
            forbidden: vec![false; edits.count],
            committed: vec![false; edits.count],
        }
    }

    pub(crate) fn clear(&mut self) {
        self.links.clear();
        self.pulls.clear();
        self.places.clear();
        self.knobs.clear();
        self.starts.clear();
        self.mends.clear();
        self.bag = None;
        self.forbidden.fill(false);
        self.committed.fill(false);
    }

    pub(crate) fn commit(&mut self, edits: &Edits, edit: Edit) {
        if std::mem::replace(&mut self.committed[edits.id(edit)], true) {
            return;
        }
        match edit {
            Edit::New { pair, kept } => self.links.push((pair, kept)),
            Edit::Pull(l, end) => self.pulls.push((l, end)),
            Edit::Place(g, n) => self.places.push((g, n)),
            Edit::Knob(k) => self.knobs.push(k),
            Edit::Start(g) => self.starts.push(g),
            Edit::Mend(m) => self.mends.push(m),
            Edit::Open => self.bag = Some(true),
        }
    }

    pub(crate) fn forbid(&mut self, edits: &Edits, edit: Edit) {
        self.forbidden[edits.id(edit)] = true;
        if edit == Edit::Open {
            self.bag = Some(false);
        }
    }

    /// The plan of these edits with the pulls that the new links need; `None` where one of those is forbidden or the links
    /// contradict each other. Each new link gets its first chain: what it carries does not depend on that.
    pub(crate) fn plan(&self, p: &Problem, edits: &Edits, losses: &Losses) -> Option<Plan> {
        let mut plan = Plan {
            pulls: self.pulls.clone(),
            new: Vec::with_capacity(self.links.len()),
            places: self.places.clone(),
            knobs: self.knobs.clone(),
            starts: self.starts.clone(),
            mends: self.mends.clone(),
        };
        let mut claimed: Vec<LinkId> = Vec::new();
        for (pair, kept) in &self.links {
            if let Some(end) = kept {
                let l = p.kept_link(*pair, *end)?;
                if claimed.contains(&l) {
                    return None;
                }
                claimed.push(l);
                if p.end_exists[l.ix()][end.other().ix()] {
                    plan.pulls.push((l, end.other()));
                }
            }
        }
        for (pair, kept) in &self.links {
            let pr = &p.pairs.pairs[*pair];
            for (end, s) in [(End::From, pr.from), (End::To, pr.to)] {
                if *kept == Some(end) {
                    continue;
                }
                if let Some(l) = p.normal_at[s.ix()] {
                    plan.pulls.extend(pull_for(p, &claimed, l, s)?);
                }
            }
            plan.new.push(NewLink { pair: *pair, chain: first_chain(p, losses, *pair, *kept)?, kept: *kept });
        }
        for (l, end) in &plan.pulls {
            if self.forbidden[edits.id(Edit::Pull(*l, *end))] {
                return None;
            }
        }
        plan.tidy();
        let mut placed: Vec<GearId> = plan.places.iter().map(|(g, _)| *g).collect();
        placed.dedup();
        (placed.len() == plan.places.len()).then_some(plan)
    }
}

/// Which pull empties a socket that a plug of a normal link is in; nothing where the link is taken over elsewhere and its
/// fixed cable goes with it. `None` where the plug cannot be pulled.
fn pull_for(p: &Problem, claimed: &[LinkId], l: LinkId, s: SocketId) -> Option<Option<(LinkId, End)>> {
    let end = if p.spec.patch[l.ix()].from == s { End::From } else { End::To };
    if p.end_exists[l.ix()][end.ix()] {
        Some(Some((l, end)))
    } else if claimed.contains(&l) {
        Some(None)
    } else if p.end_exists[l.ix()][end.other().ix()] {
        Some(Some((l, end.other())))
    } else {
        None
    }
}

fn first_chain(p: &Problem, losses: &Losses, pair: usize, kept: Option<End>) -> Option<usize> {
    let pr = &p.pairs.pairs[pair];
    match kept {
        None => Some(pr.first),
        Some(end) => {
            let l = p.kept_link(pair, end)?;
            (pr.first..pr.last).find(|c| p.kept_pieces(losses, l, end, &p.pairs.chains[*c].via) > 0)
        }
    }
}

/// Pieces that a plan touches, leaving out those only touched by an end that is free of charge for some choice of leads.
pub(crate) fn touched(p: &Problem, fault: &Fault, plan: &Plan, into: &mut Vec<bool>) {
    into.clear();
    into.resize(p.spec.gear.len(), false);
    let mut touch = |g: GearId| into[g.ix()] = true;
    for (l, end) in &plan.pulls {
        let link = &p.spec.patch[l.ix()];
        touch(p.spec.gear_of(if *end == End::From { link.from } else { link.to }));
        if let Some(g) = p.unloads(*l) {
            touch(g);
        }
    }
    for n in &plan.new {
        let pr = &p.pairs.pairs[n.pair];
        for (end, s) in [(End::From, pr.from), (End::To, pr.to)] {
            if n.kept != Some(end) && always_charged(p, n.pair, s) {
                touch(p.spec.gear_of(s));
            }
        }
        if p.spec.has_gain(pr.to) {
            touch(p.spec.gear_of(pr.to));
        }
    }
    for (g, _) in &plan.places {
        touch(*g);
    }
    for k in &plan.knobs {
        touch(p.spec.knobs[k.ix()].gear);
    }
    for g in &plan.starts {
        touch(*g);
    }
    for m in &plan.mends {
        if let Some(mend) = fault.mends.get(*m) {
            touch(mend.at);
        }
    }
}

/// Does a new end at this socket cost something with every chain of the pair?
pub(crate) fn always_charged(p: &Problem, pair: usize, s: SocketId) -> bool {
    let pr = &p.pairs.pairs[pair];
    !(p.spec.tail_kept && p.spec.socket(s).tail > 0)
        || (pr.first..pr.last).all(|c| !p.pairs.chains[c].via.is_empty())
}

/// Seconds that every plan with these edits costs at least: everything but fetching.
pub(crate) fn firm(
    p: &Problem,
    fault: &Fault,
    state: &State,
    plan: &Plan,
    touched: &[bool],
    least: &dyn Fn(usize, Option<End>) -> Option<i32>,
) -> Option<i32> {
    let steps = &p.spec.steps;
    let count = |n: usize| i32::try_from(n).unwrap_or(i32::MAX);
    let mut seconds = steps.unplug * count(plan.pulls.len());
    for (pair, kept) in &state.links {
        seconds += least(*pair, *kept)?;
        if p.spec.has_gain(p.pairs.pairs[*pair].to) {
            seconds += steps.level;
        }
    }
    let mut opens = state.bag == Some(true);
    for (g, n) in &plan.places {
        let gear = &p.spec.gear[g.ix()];
        seconds += gear.placements.get(*n).map_or(0, |pl| pl.seconds);
        opens |= gear.place == Place::Case;
    }
    for k in &plan.knobs {
        seconds += steps.knob + p.spec.knobs[k.ix()].wait;
    }
    seconds += steps.start * count(plan.starts.len());
    seconds += plan.starts.iter().map(|g| p.spec.gear[g.ix()].boot).max().unwrap_or(0);
    let mut worn = vec![0; p.spec.wear.len()];
    for m in &plan.mends {
        if let Some(mend) = fault.mends.get(*m) {
            seconds += mend.seconds;
            if let Some((w, n)) = mend.wear {
                worn[w.ix()] += n;
            }
        }
    }
    for (need, wear) in worn.iter().zip(&p.spec.wear) {
        let stage = (*need).min(wear.stage.max(0));
        seconds += stage * steps.item_stage + (need - stage) * steps.item_case;
        opens |= *need > stage;
    }
    if opens {
        seconds += steps.open_case;
    }
    for (g, _) in touched.iter().enumerate().filter(|(_, t)| **t) {
        seconds += visit(p, GearId::at(g));
    }
    Some(seconds)
}

/// Seconds to walk to a piece, and to turn it down and up again.
pub(crate) fn visit(p: &Problem, g: GearId) -> i32 {
    p.go[g.ix()] + if p.spec.gear[g.ix()].loud { p.spec.steps.quiet } else { 0 }
}
