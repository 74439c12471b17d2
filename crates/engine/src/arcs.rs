//! Every link that a half-made plan could still make, with what it costs at least.

use check::Judge;
use check::Problem;
use check::fault::Losses;
use check::ids::{GearId, LinkId, SocketId};
use check::plan::{End, Plan};
use check::spec::{Guard, Place};

use crate::alike::Alike;
use crate::edits::{Edit, Edits, KEPT};
use crate::leads::Least;
use crate::state::{State, always_charged};

/// Costs in a bound are shared out among sources: seconds times this, which the first ten numbers divide.
pub(crate) const UNIT: i64 = 2520;

/// A link that could be made.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arc {
    pub(crate) edit: Edit,
    pub(crate) to: SocketId,
    /// Ends, joints, level and pulls; no walking. In units.
    pub(crate) cost: i64,
    /// The piece at either end has to be walked to.
    pub(crate) touches: [bool; 2],
}

/// Whether a guard can hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Hold {
    /// It does.
    Now,
    /// After this pull.
    Pull(LinkId, End),
    /// Once something is plugged in here.
    Fill(SocketId),
    /// Never.
    Never,
}

/// One half-made plan, laid out, with all that could still be done.
#[derive(Debug)]
pub(crate) struct Open<'a, 'p> {
    pub(crate) p: &'p Problem,
    pub(crate) edits: &'a Edits,
    pub(crate) judge: &'a Judge<'p>,
    pub(crate) state: &'a State,
    pub(crate) plan: &'a Plan,
    pub(crate) touched: &'a [bool],
    alike: &'a Alike,
    /// Sockets that a new link of the plan is in.
    taken: Vec<bool>,
    /// By out-socket: those of socket `s` stand at `first[s]..first[s + 1]`.
    arcs: Vec<Arc>,
    first: Vec<usize>,
}

/// What a new end at a socket costs besides itself: the pulls that it needs. `None` where there can be none.
#[derive(Clone, Copy, Debug)]
struct Ends {
    fresh: Option<i64>,
    kept: Option<i64>,
}

impl<'a, 'p> Open<'a, 'p> {
    #[expect(clippy::too_many_arguments, reason = "each is one thing the search already holds")]
    pub(crate) fn new(
        p: &'p Problem,
        edits: &'a Edits,
        judge: &'a Judge<'p>,
        state: &'a State,
        plan: &'a Plan,
        touched: &'a [bool],
        alike: &'a Alike,
        least: &[Least],
    ) -> Self {
        let mut taken = vec![false; p.spec.sockets.len()];
        let mut claimed = vec![false; p.spec.patch.len()];
        for n in &plan.new {
            let pr = &p.pairs.pairs[n.pair];
            taken[pr.from.ix()] = true;
            taken[pr.to.ix()] = true;
            if let Some(l) = n.kept.and_then(|end| p.kept_link(n.pair, end)) {
                claimed[l.ix()] = true;
            }
        }
        let n = p.spec.sockets.len();
        let (arcs, first) = (Vec::new(), vec![0; n + 1]);
        let mut it = Open { p, edits, judge, state, plan, touched, alike, taken, arcs, first };
        it.list(&claimed, least);
        it
    }

    /// Lists every new link that could be made, by out-socket.
    fn list(&mut self, claimed: &[bool], least: &[Least]) {
        let (p, state) = (self.p, self.state);
        let n = p.spec.sockets.len();
        let ends: Vec<Ends> = (0..n).map(|s| self.ends(SocketId::at(s), claimed)).collect();
        let mut next = 0;
        for (i, pr) in p.pairs.pairs.iter().enumerate() {
            while next <= pr.from.ix() {
                self.first[next] = self.arcs.len();
                next += 1;
            }
            let (a, b) = (ends[pr.from.ix()], ends[pr.to.ix()]);
            let gain = p.spec.has_gain(pr.to);
            let level = if gain { i64::from(p.spec.steps.level) * UNIT } else { 0 };
            let normal = p.normal_at[pr.from.ix()];
            let own = normal.is_some()
                && normal == p.normal_at[pr.to.ix()]
                && !self.taken[pr.from.ix()]
                && !self.taken[pr.to.ix()];
            for kept in KEPT {
                let pulls = match kept {
                    None => a.fresh.zip(b.fresh),
                    Some(End::From) => a.kept.zip(if own { Some(0) } else { b.fresh }),
                    Some(End::To) => b.kept.zip(if own { Some(0) } else { a.fresh }),
                };
                let Some((x, y)) = pulls else { continue };
                let edit = Edit::New { pair: i, kept };
                let id = self.edits.id(edit);
                if state.forbidden[id] || state.committed[id] {
                    continue;
                }
                let Some(seconds) = least[id].with(state.bag) else { continue };
                let cost = x + y + level + i64::from(seconds) * UNIT;
                let touches = [
                    kept != Some(End::From) && always_charged(p, i, pr.from),
                    gain || (kept != Some(End::To) && always_charged(p, i, pr.to)),
                ];
                self.arcs.push(Arc { edit, to: pr.to, cost, touches });
            }
        }
        while next <= n {
            self.first[next] = self.arcs.len();
            next += 1;
        }
    }

    /// New links that could leave a socket.
    pub(crate) fn arcs_from(&self, s: SocketId) -> &[Arc] {
        &self.arcs[self.first[s.ix()]..self.first[s.ix() + 1]]
    }

    /// What a new end at a socket costs besides itself.
    fn ends(&self, s: SocketId, claimed: &[bool]) -> Ends {
        let p = self.p;
        let g = p.spec.gear_of(s);
        let packed_for_good = self.judge.place(g) == Place::Case && self.placements(g).next().is_none();
        if self.taken[s.ix()] || packed_for_good || self.lost(s) {
            return Ends { fresh: None, kept: None };
        }
        let normal = p.normal_at[s.ix()];
        let mine = |l: LinkId| if p.spec.patch[l.ix()].from == s { End::From } else { End::To };
        let kept = normal.and_then(|l| {
            let stays = !claimed[l.ix()] && !self.plan.pulls(l, mine(l));
            if stays { self.pull_cost(l, mine(l).other(), false) } else { None }
        });
        let first_free = self.alike.of(s).iter().find(|m| !self.taken[m.ix()] && !self.judge.is_filled(**m));
        let fresh = if first_free.is_none_or(|f| *f == s) {
            match normal {
                Some(l) if self.judge.is_filled(s) => self.pull_cost(l, mine(l), true),
                Some(_) | None => Some(0),
            }
        } else {
            None
        };
        Ends { fresh, kept }
    }

    /// The same link on the next free sockets that are like its own, where another edit of the way has those already.
    pub(crate) fn reseat(&self, edit: Edit, before: &[Edit]) -> Edit {
        let Edit::New { pair, kept } = edit else { return edit };
        let pairs = &self.p.pairs;
        let in_use = |s: SocketId| {
            self.taken[s.ix()]
                || before.iter().any(|e| match e {
                    Edit::New { pair, .. } => pairs.pairs[*pair].from == s || pairs.pairs[*pair].to == s,
                    _ => false,
                })
        };
        let seat = |s: SocketId, stays: bool| {
            if stays || !in_use(s) {
                return s;
            }
            let all = self.alike.of(s);
            let free = all.iter().copied().find(|m| !in_use(*m) && !self.judge.is_filled(*m));
            free.or_else(|| all.iter().copied().find(|m| !in_use(*m))).unwrap_or(s)
        };
        let pr = &pairs.pairs[pair];
        let (from, to) = (seat(pr.from, kept == Some(End::From)), seat(pr.to, kept == Some(End::To)));
        pairs.find(from, to).map_or(edit, |pair| Edit::New { pair, kept })
    }

    /// What pulling an end adds, in units. Half where another link could want the same pull: one that keeps the other end.
    fn pull_cost(&self, l: LinkId, end: End, needs_plug: bool) -> Option<i64> {
        let p = self.p;
        let whole = i64::from(p.spec.steps.unplug) * UNIT;
        if self.plan.pulls(l, end) {
            return Some(0);
        }
        if !p.end_exists[l.ix()][end.ix()] {
            // A fixed cable's own end: it comes free with the other one.
            return match (needs_plug, p.end_exists[l.ix()][end.other().ix()]) {
                (false, _) | (true, true) => Some(0),
                (true, false) => None,
            };
        }
        if self.state.forbidden[self.edits.id(Edit::Pull(l, end))] {
            return None;
        }
        // The link that could want the same pull is one kept at the other end, or a fresh one into this socket.
        let link = &p.spec.patch[l.ix()];
        let at = |e: End| if e == End::From { link.from } else { link.to };
        let rival = at(if needs_plug { end.other() } else { end });
        let alone = (needs_plug && link.via.is_empty()) || self.lost(rival);
        Some(if alone { whole } else { whole / 2 })
    }

    /// Seconds, in units, to walk to a piece that nothing has touched yet.
    pub(crate) fn visit(&self, g: GearId) -> i64 {
        if self.touched[g.ix()] { 0 } else { i64::from(crate::state::visit(self.p, g)) * UNIT }
    }

    /// Is a socket lost, alone or with its piece?
    pub(crate) fn lost(&self, s: SocketId) -> bool {
        self.losses().socket(&self.p.spec, s)
    }

    /// What is lost after the mends of this plan.
    pub(crate) fn losses(&self) -> &Losses {
        self.judge.losses()
    }

    /// Can a guard hold, and what does it take?
    pub(crate) fn hold(&self, guard: Option<Guard>) -> Hold {
        if self.judge.holds(guard) {
            return Hold::Now;
        }
        match guard {
            None => Hold::Now,
            Some(Guard::Empty(s)) => {
                let Some(l) = self.p.normal_at[s.ix()] else { return Hold::Never };
                let by_new = self.plan.new.iter().any(|n| {
                    let pr = &self.p.pairs.pairs[n.pair];
                    pr.from == s || pr.to == s
                });
                let mine = if self.p.spec.patch[l.ix()].from == s { End::From } else { End::To };
                let end = if self.p.end_exists[l.ix()][mine.ix()] { mine } else { mine.other() };
                let can = self.p.end_exists[l.ix()][end.ix()]
                    && !self.state.forbidden[self.edits.id(Edit::Pull(l, end))];
                if by_new || !can { Hold::Never } else { Hold::Pull(l, end) }
            }
            Some(Guard::Filled(s)) => {
                let any = self.fillers(s).next().is_some();
                if any { Hold::Fill(s) } else { Hold::Never }
            }
        }
    }

    /// Links that could still be made at a socket.
    pub(crate) fn fillers(&self, s: SocketId) -> impl Iterator<Item = Edit> + '_ {
        let out = self.arcs_from(s).iter();
        let into = self.arcs.iter().filter(move |a| a.to == s);
        out.chain(into).map(|a| a.edit)
    }

    /// The placements a piece may still be brought to.
    pub(crate) fn placements(&self, g: GearId) -> impl Iterator<Item = (usize, i64)> + '_ {
        let packed = self.judge.place(g) == Place::Case && self.state.bag == Some(false);
        let decided = packed || self.plan.places.iter().any(|(h, _)| *h == g);
        let all = &self.p.spec.gear[g.ix()].placements;
        all.iter().enumerate().filter_map(move |(n, pl)| {
            let open = !decided
                && self.judge.place(g) != Place::At(n)
                && !self.state.forbidden[self.edits.id(Edit::Place(g, n))];
            open.then_some((n, i64::from(pl.seconds) * UNIT))
        })
    }

    /// What a piece costs once its supply arrives: 0 where it starts by itself then. `None` where it may not be switched on.
    pub(crate) fn start_cost(&self, g: GearId) -> Option<i64> {
        if self.p.spec.gear[g.ix()].auto { Some(0) } else { self.switch_cost(g) }
    }

    /// May a piece still be switched on by hand, and at what cost? 0 where it is already.
    pub(crate) fn switch_cost(&self, g: GearId) -> Option<i64> {
        let id = self.edits.id(Edit::Start(g));
        if self.state.committed[id] {
            Some(0)
        } else if self.state.forbidden[id] {
            None
        } else {
            Some(i64::from(self.p.spec.steps.start) * UNIT)
        }
    }
}
