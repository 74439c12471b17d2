//! Which leads the new links are made of: the last choice, over the counted stock.

use check::Problem;
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use check::fault::Losses;
use check::ids::{LeadId, LinkId};
use check::order::Goal;
use check::plan::{End, NewLink};

/// One way to make one link.
#[derive(Clone, Debug)]
struct Choice {
    chain: usize,
    /// Seconds of joints and ends.
    seconds: i32,
    moves: i32,
    points: i32,
    /// Pieces newly used.
    used: Vec<LeadId>,
    /// Living pieces of the old link that it does not reuse.
    freed: Vec<LeadId>,
}

/// What a choice of leads for all links costs, without what does not depend on the leads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Worth {
    first: i32,
    second: i32,
    moves: i32,
}

/// Where pieces come from.
#[derive(Clone, Debug)]
pub(crate) struct Stock {
    /// Free on the floor.
    pub(crate) freed: Vec<i32>,
    /// Still in links that could be freed.
    pub(crate) could_be_freed: Vec<i32>,
    /// Spares on stage and in the bag.
    pub(crate) spares: Vec<(i32, i32)>,
    /// Is the bag open anyway?
    pub(crate) open: bool,
}

/// The least seconds of joints, ends and fetching that a link can cost, whatever else is done.
///
/// Fetching is not firm while a later act may free a piece of the type, so types used in the normal patch cost nothing here.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Least {
    /// With the spare bag closed; `None` where it cannot be made then.
    pub(crate) closed: Option<i32>,
    /// With the bag open, opening it left out.
    pub(crate) open: Option<i32>,
}

impl Least {
    /// The least seconds, by whether the bag is opened; undecided, whichever is less.
    pub(crate) fn with(self, bag: Option<bool>) -> Option<i32> {
        match bag {
            Some(false) => self.closed,
            Some(true) | None => self.open,
        }
    }
}

pub(crate) fn least(p: &Problem, losses: &Losses, pair: usize, kept: Option<End>) -> Least {
    let mut in_patch = vec![false; p.spec.leads.len()];
    for t in p.spec.patch.iter().flat_map(|l| &l.via) {
        in_patch[t.ix()] = true;
    }
    let mut it = Least::default();
    let lower = |at: &mut Option<i32>, seconds: i32| *at = Some(at.map_or(seconds, |s| s.min(seconds)));
    for c in choices(p, losses, pair, kept) {
        let (mut seconds, mut bag) = (c.seconds, false);
        for t in c.used.iter().filter(|t| !in_patch[t.ix()]) {
            let on_stage = losses.spares(&p.spec, *t, p.on_stage[t.ix()]).0 > 0;
            seconds += if on_stage { p.spec.steps.item_stage } else { p.spec.steps.item_case };
            bag |= !on_stage;
        }
        if !bag {
            lower(&mut it.closed, seconds);
        }
        lower(&mut it.open, seconds);
    }
    it
}

fn choices(p: &Problem, losses: &Losses, pair: usize, kept: Option<End>) -> Vec<Choice> {
    let pr = &p.pairs.pairs[pair];
    let old = match kept {
        None => None,
        Some(end) => match p.kept_link(pair, end) {
            Some(l) => Some((l, end)),
            None => return Vec::new(),
        },
    };
    (pr.first..pr.last).filter_map(|chain| choice(p, losses, pr, chain, old)).collect()
}

fn choice(
    p: &Problem,
    losses: &Losses,
    pair: &check::pairs::Pair,
    chain: usize,
    old: Option<(LinkId, End)>,
) -> Option<Choice> {
    let c = &p.pairs.chains[chain];
    let steps = &p.spec.steps;
    let mut it =
        Choice { chain, seconds: 0, moves: 0, points: c.points, used: Vec::new(), freed: Vec::new() };
    for (end, s) in [(End::From, pair.from), (End::To, pair.to)] {
        if old.map(|o| o.1) != Some(end) && p.end_charged(s, c.via.len()) {
            it.seconds += p.spec.plug_seconds(s);
            it.moves += 1;
        }
    }
    let mut kept = 0;
    if let Some((l, end)) = old {
        kept = p.kept_pieces(losses, l, end, &c.via);
        if kept == 0 {
            return None;
        }
        let via = &p.spec.patch[l.ix()].via;
        for (k, t) in via.iter().enumerate() {
            let stays = if end == End::From { k < kept } else { via.len() - 1 - k < kept };
            if !stays && !losses.piece(l, k) {
                it.freed.push(*t);
            }
        }
    }
    let joints = if old.is_some() { c.via.len() - kept } else { c.via.len().saturating_sub(1) };
    let joints = i32::try_from(joints).unwrap_or(0);
    it.seconds += joints * steps.join;
    it.moves += joints;
    for (i, t) in c.via.iter().enumerate() {
        let stays = match old {
            None => false,
            Some((_, End::From)) => i < kept,
            Some((_, End::To)) => c.via.len() - 1 - i < kept,
        };
        if !stays {
            it.used.push(*t);
        }
    }
    Some(it)
}

/// Chooses the leads of all new links at once: the best in the order of the goal that the stock allows.
///
/// `room` is how many seconds the leads may cost at the most (the *break* cover looks at points first). With `hoped` the
/// pieces that could still be freed count as free: a bound on what any further pull could bring.
pub(crate) fn choose(
    p: &Problem,
    losses: &Losses,
    goal: Goal,
    links: &[(usize, Option<End>)],
    stock: &Stock,
    room: i32,
    hoped: bool,
) -> Option<(Worth, Vec<NewLink>)> {
    let choices: Vec<Vec<Choice>> =
        links.iter().map(|(pair, kept)| choices(p, losses, *pair, *kept)).collect();
    let mut rest = vec![(0, 0); links.len() + 1];
    for i in (0..links.len()).rev() {
        let seconds = choices[i].iter().map(|c| c.seconds).min()?;
        let points = choices[i].iter().map(|c| c.points).min()?;
        rest[i] = (rest[i + 1].0 + seconds, rest[i + 1].1 + points);
    }
    // The most that the links still to be chosen could free of each type.
    let types = p.spec.leads.len();
    let mut may_free = vec![vec![0; types]; links.len() + 1];
    for i in (0..links.len()).rev() {
        may_free[i] = may_free[i + 1].clone();
        for (t, n) in may_free[i].iter_mut().enumerate() {
            let of = |c: &Choice| c.freed.iter().filter(|f| f.ix() == t).count();
            *n += i32::try_from(choices[i].iter().map(of).max().unwrap_or(0)).unwrap_or(i32::MAX);
        }
    }
    let mut free = stock.freed.clone();
    if hoped {
        for (f, more) in free.iter_mut().zip(&stock.could_be_freed) {
            *f += more;
        }
    }
    let mut it = Chooser {
        p,
        goal,
        stock,
        room,
        choices: &choices,
        rest: &rest,
        may_free: &may_free,
        free,
        used: vec![0; p.spec.leads.len()],
        picked: Vec::new(),
        best: None,
        seen: BTreeMap::new(),
    };
    it.go(0, 0, 0, 0);
    let (worth, picked) = it.best?;
    let new =
        links.iter().zip(picked).map(|((pair, kept), chain)| NewLink { pair: *pair, chain, kept: *kept });
    Some((worth, new.collect()))
}

struct Chooser<'a> {
    p: &'a Problem,
    goal: Goal,
    stock: &'a Stock,
    room: i32,
    choices: &'a [Vec<Choice>],
    rest: &'a [(i32, i32)],
    may_free: &'a [Vec<i32>],
    free: Vec<i32>,
    used: Vec<i32>,
    picked: Vec<usize>,
    best: Option<(Worth, Vec<usize>)>,
    /// By what is left to choose and what is used up: the best so far that has come there. The rest is the same for all that
    /// come to one such point, so a later one that is no better is dropped: else a short stock is tried in every order.
    seen: BTreeMap<(usize, Vec<i32>), Worth>,
}

impl Chooser<'_> {
    fn worth(&self, seconds: i32, points: i32, moves: i32) -> Worth {
        match self.goal {
            Goal::Break => Worth { first: points, second: seconds, moves },
            Goal::Now | Goal::Full | Goal::Must => Worth { first: seconds, second: points, moves },
        }
    }

    fn go(&mut self, i: usize, seconds: i32, points: i32, moves: i32) {
        // More is only ever used, and no more can come free than that: what is short now stays short.
        let Some(fetch) = self.fetch(i) else { return };
        let soonest = seconds + self.rest[i].0 + fetch;
        let least = self.worth(soonest, points + self.rest[i].1, moves);
        if soonest > self.room || self.best.as_ref().is_some_and(|(b, _)| least >= *b) {
            return;
        }
        let here = self.worth(seconds, points, moves);
        let used = self.used.iter().zip(&self.free).map(|(used, free)| used - free).collect();
        match self.seen.entry((i, used)) {
            Entry::Occupied(old) if *old.get() <= here => return,
            Entry::Occupied(mut old) => {
                old.insert(here);
            }
            Entry::Vacant(new) => {
                new.insert(here);
            }
        }
        if i == self.choices.len() {
            let worth = self.worth(seconds + fetch, points, moves);
            // Strictly better only: of equals the first chain in the order of the file stays.
            if seconds + fetch <= self.room && self.best.as_ref().is_none_or(|(b, _)| worth < *b) {
                self.best = Some((worth, self.picked.clone()));
            }
            return;
        }
        for k in 0..self.choices[i].len() {
            let c = &self.choices[i][k];
            let (s, m, pts) = (seconds + c.seconds, moves + c.moves, points + c.points);
            for t in &c.used {
                self.used[t.ix()] += 1;
            }
            for t in &c.freed {
                self.free[t.ix()] += 1;
            }
            self.picked.push(c.chain);
            self.go(i + 1, s, pts, m);
            self.picked.pop();
            let c = &self.choices[i][k];
            for t in &c.used {
                self.used[t.ix()] -= 1;
            }
            for t in &c.freed {
                self.free[t.ix()] -= 1;
            }
        }
    }

    /// The least seconds of fetching once the first `i` links are chosen; `None` where the stock is short.
    fn fetch(&self, i: usize) -> Option<i32> {
        let steps = &self.p.spec.steps;
        let (mut seconds, mut open) = (0, false);
        for (t, need) in self.used.iter().enumerate() {
            let need = need - self.free[t] - self.may_free[i][t];
            if need <= 0 {
                continue;
            }
            let (stage, case) = self.stock.spares[t];
            let from_stage = need.min(stage);
            let from_case = need - from_stage;
            if from_case > case {
                return None;
            }
            seconds += from_stage * steps.item_stage + from_case * steps.item_case;
            open |= from_case > 0;
        }
        if open && !self.stock.open {
            seconds += steps.open_case;
        }
        Some(seconds)
    }
}
