//! The patch that a plan leaves: what is plugged where, how it stands, what is on.

use crate::ids::{GearId, KnobId, LinkId, SocketId};
use crate::plan::{End, Plan};
use crate::problem::Problem;
use crate::rules::Rule;
use crate::spec::{Guard, Place, Route};

/// Why a set of acts cannot be done at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Broken {
    /// Two plugs would be in one socket.
    TwoPlugs(SocketId),
    /// An old link is taken over twice, or its kept end is pulled, or its other end is not.
    Claim(LinkId),
    /// Nothing of the old link would be kept.
    NothingKept(LinkId),
    /// A plug that cannot be pulled.
    NoSuchEnd(LinkId, End),
    /// A new link at something lost.
    Lost(SocketId),
    /// A dead piece, or one still packed, is placed, switched or plugged.
    NotThere(GearId),
}

/// What makes up a whole link of the patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Wire {
    /// Where it arrives.
    pub(crate) to: SocketId,
    /// The normal link it is, untouched; `None` for a new one.
    pub(crate) normal: Option<LinkId>,
}

/// What is plugged where, for one plan at a time. Kept and refilled, since a search lays out thousands.
#[derive(Clone, Debug)]
pub(crate) struct Wired {
    /// For each out-socket, the whole link that leaves it.
    pub(crate) out: Vec<Option<Wire>>,
    /// For each in-socket, where its whole link comes from.
    pub(crate) into: Vec<Option<SocketId>>,
    /// Is there a plug in it, hanging or not?
    pub(crate) filled: Vec<bool>,
    /// How each piece stands.
    pub(crate) place: Vec<Place>,
    /// Is each knob on?
    pub(crate) on: Vec<bool>,
    /// Is each piece switched on by the plan?
    pub(crate) started: Vec<bool>,
    /// Is each piece turned down? Only the replay turns any down; a plan is judged with all up.
    pub(crate) down: Vec<bool>,
    /// Is it turned down so that its output may stand open for a moment, whatever else is asked?
    pub(crate) idle: Vec<bool>,
    /// Is each knob on for all that is safety? A bank that forgets is, if it is with the new start or without.
    pub(crate) perhaps: Vec<bool>,
    claimed: Vec<bool>,
    pulled: Vec<[bool; 2]>,
}

impl Wired {
    pub(crate) fn new(p: &Problem) -> Self {
        Wired {
            out: vec![None; p.spec.sockets.len()],
            into: vec![None; p.spec.sockets.len()],
            filled: vec![false; p.spec.sockets.len()],
            place: vec![Place::Case; p.spec.gear.len()],
            on: vec![false; p.spec.knobs.len()],
            started: vec![false; p.spec.gear.len()],
            down: vec![false; p.spec.gear.len()],
            idle: vec![false; p.spec.gear.len()],
            perhaps: vec![false; p.spec.knobs.len()],
            claimed: vec![false; p.spec.patch.len()],
            pulled: vec![[false; 2]; p.spec.patch.len()],
        }
    }

    /// Lays a plan out over the normal patch. Even when something is broken the rest is laid out, so that a normal patch
    /// with a slip in it can still be looked at.
    pub(crate) fn lay_out(&mut self, p: &Problem, plan: &Plan) -> Option<Broken> {
        let mut broken = None;
        self.out.fill(None);
        self.into.fill(None);
        self.filled.fill(false);
        self.claimed.fill(false);
        self.pulled.fill([false; 2]);
        self.started.fill(false);
        self.down.fill(false);
        self.idle.fill(false);
        for (to, g) in self.place.iter_mut().zip(&p.spec.gear) {
            *to = g.place;
        }
        for (to, k) in self.on.iter_mut().zip(&p.spec.knobs) {
            *to = k.on;
        }
        for (g, n) in &plan.places {
            self.place[g.ix()] = Place::At(*n);
        }
        for k in &plan.knobs {
            self.on[k.ix()] = !p.spec.knobs[k.ix()].on;
        }
        for g in &plan.starts {
            self.started[g.ix()] = true;
        }
        for (l, end) in &plan.pulls {
            if !p.end_exists[l.ix()][end.ix()] {
                broken = broken.or(Some(Broken::NoSuchEnd(*l, *end)));
            }
            self.pulled[l.ix()][end.ix()] = true;
        }
        for n in &plan.new {
            if let Some(end) = n.kept
                && let Some(l) = p.kept_link(n.pair, end)
            {
                if self.claimed[l.ix()] && p.rules.on(Rule::Claim) {
                    broken = broken.or(Some(Broken::Claim(l)));
                }
                self.claimed[l.ix()] = true;
            }
        }
        self.lay_normal(p);
        for n in &plan.new {
            broken = broken.or(self.lay_new(p, n.pair, n.kept));
        }
        broken
    }

    /// The plugs of the normal patch that are still in.
    fn lay_normal(&mut self, p: &Problem) {
        for (i, link) in p.spec.patch.iter().enumerate() {
            let pulled = self.pulled[i];
            let whole = pulled == [false; 2] && !self.claimed[i];
            // A fixed cable fills its own socket only as long as it leads somewhere, and what was joined to it falls off.
            let still = |end: End| if p.one_pull[i] { whole } else { !pulled[end.ix()] };
            self.filled[link.from.ix()] = still(End::From);
            self.filled[link.to.ix()] = still(End::To);
            if whole {
                self.out[link.from.ix()] = Some(Wire { to: link.to, normal: Some(LinkId::at(i)) });
                self.into[link.to.ix()] = Some(link.from);
            }
        }
    }

    fn lay_new(&mut self, p: &Problem, pair: usize, kept: Option<End>) -> Option<Broken> {
        let pair_ = &p.pairs.pairs[pair];
        let mut broken = None;
        for (end, s) in [(End::From, pair_.from), (End::To, pair_.to)] {
            if kept == Some(end) {
                let Some(l) = p.normal_at[s.ix()] else { return Some(Broken::TwoPlugs(s)) };
                let [mine, far] = [end, end.other()].map(|e| self.pulled[l.ix()][e.ix()]);
                // An end that cannot be pulled is never out, so nothing is kept at the other.
                if (mine || !far) && p.rules.on(Rule::Claim) {
                    broken = broken.or(Some(Broken::Claim(l)));
                }
                self.filled[s.ix()] = true;
            } else if std::mem::replace(&mut self.filled[s.ix()], true) && p.rules.on(Rule::Plugs) {
                broken = broken.or(Some(Broken::TwoPlugs(s)));
            }
        }
        if broken.is_none() {
            self.out[pair_.from.ix()] = Some(Wire { to: pair_.to, normal: None });
            self.into[pair_.to.ix()] = Some(pair_.from);
        }
        broken
    }

    /// Is the same plugged, placed and set?
    pub(crate) fn is_like(&self, other: &Wired) -> bool {
        self.out == other.out
            && self.into == other.into
            && self.filled == other.filled
            && self.place == other.place
            && self.on == other.on
            && self.started == other.started
    }

    /// Does a guard hold?
    pub(crate) fn holds(&self, guard: Option<Guard>) -> bool {
        match guard {
            None => true,
            Some(Guard::Empty(s)) => !self.filled[s.ix()],
            Some(Guard::Filled(s)) => self.filled[s.ix()],
        }
    }

    /// Is the piece out of its bag?
    pub(crate) fn there(&self, g: GearId) -> bool {
        self.place[g.ix()] != Place::Case
    }

    /// Is an old link taken over by a new one?
    pub(crate) fn claimed(&self, l: LinkId) -> bool {
        self.claimed[l.ix()]
    }

    /// Are the pieces of the link in hand?
    pub(crate) fn freed(&self, p: &Problem, l: LinkId) -> bool {
        let out = self.pulled[l.ix()];
        if p.one_pull[l.ix()] { out.contains(&true) } else { out == [true; 2] }
    }

    /// Is a route's or bank's knob on?
    pub(crate) fn knob(&self, k: KnobId) -> bool {
        self.on[k.ix()]
    }

    /// Does no button mute it?
    pub(crate) fn unmuted(&self, p: &Problem, route: &Route) -> bool {
        route.mutes.iter().all(|k| !self.on[k.ix()]) || !p.rules.on(Rule::Mutes)
    }
}
