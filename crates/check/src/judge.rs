//! The one judge: does a plan work, is it safe, who hears what, and what is it worth (docs/cover.md, sections 5 to 8).

use crate::carry::{self, Carry, How, Mark};
use crate::fault::{Fault, Losses};
use crate::ids::{GearId, KnobId, LinkId, ListenerId, PartId, RouteId, SocketId};
use crate::leak::{self, Hop, Leak};
use crate::order::Values;
use crate::pairs::Pair;
use crate::plan::Plan;
use crate::power::{self, Overload, Power};
use crate::problem::Problem;
use crate::rules::Rule;
use crate::seconds::{self, Price};
use crate::spec::{Flow, Guard, Making, PhantomOut, Place, Rank};
use crate::wired::{Broken, Wired};

/// What makes a plan that can be done one that must not be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unsafe {
    /// A part that must not be heard could be.
    Never(Leak),
    /// Sound could feed itself.
    Loop(Vec<Hop>),
    /// A rating is exceeded, or supplies stand in a ring.
    Overload(Overload),
    /// Phantom that is on would harm what is plugged here.
    Phantom(SocketId),
    /// An output that has to stay loaded is not.
    Unloaded(SocketId),
}

/// A part and a piece that sounds it.
pub type Pairing = (PartId, GearId);

/// What the judge finds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verdict {
    /// The acts contradict each other or touch what is lost.
    pub broken: Option<Broken>,
    /// A piece is switched on that has no power.
    pub unpowered: Option<GearId>,
    /// The first thing that makes it unsafe.
    pub danger: Option<Unsafe>,
    /// Seconds, moves, leads.
    pub price: Price,
    /// Counted parts that are carried.
    pub carried: Vec<PartId>,
    /// Pairs of *must* and *should* that still sounded after the fault and no longer do.
    pub harmed: Vec<Pairing>,
    /// What it is worth.
    pub values: Values,
}

impl Verdict {
    /// May it be done and shown?
    pub fn is_valid(&self) -> bool {
        self.broken.is_none()
            && self.unpowered.is_none()
            && self.danger.is_none()
            && self.price.short.is_empty()
            && !self.price.worn_out
    }
}

/// Judges plans for one fault. Keeps its working space between plans.
#[derive(Clone, Debug)]
pub struct Judge<'p> {
    problem: &'p Problem,
    fault: &'p Fault,
    losses: Losses,
    /// All that the fault took, mended or not.
    whole: Losses,
    wired: Wired,
    power: Power,
    carry: Vec<Carry>,
    still: Vec<Pairing>,
}

impl<'p> Judge<'p> {
    /// A judge of plans for this fault.
    pub fn new(problem: &'p Problem, fault: &'p Fault) -> Self {
        let losses = Losses::of(&problem.spec, fault, &[]);
        // Harm counts what still sounds for certain.
        let sure = problem.rules.on(Rule::Facts).then(|| fault.for_certain(&problem.spec));
        let certain = Losses::of(&problem.spec, sure.as_ref().unwrap_or(fault), &[]);
        let mut judge = Judge {
            problem,
            fault,
            wired: Wired::new(problem),
            power: Power::new(problem),
            carry: vec![Carry::new(problem); problem.spec.sources.len()],
            whole: losses.clone(),
            losses,
            still: Vec::new(),
        };
        judge.lay_out(&Plan::default());
        judge.run(&certain);
        for p in &problem.counted {
            let rank = problem.part(*p).rank;
            let nice = rank == Rank::Nice && !problem.rules.on(Rule::NiceHarm);
            if problem.rules.on(Rule::Harm) && (nice || matches!(rank, Rank::Must | Rank::Should)) {
                judge.still.extend(judge.speakers_of(*p).into_iter().map(|g| (*p, g)));
            }
        }
        judge
    }

    /// The problem judged on.
    pub fn problem(&self) -> &'p Problem {
        self.problem
    }

    /// Pairs of *must* and *should* parts that still sound after the fault with nothing touched.
    pub fn still_sounding(&self) -> &[Pairing] {
        &self.still
    }

    /// Judges a plan in every respect.
    pub fn judge(&mut self, plan: &Plan) -> Verdict {
        let losses = Losses::of(&self.problem.spec, self.fault, &plan.mends);
        let broken = self.lay_out(plan).or_else(|| self.uses_lost(plan, &losses));
        let price = seconds::price(self.problem, &self.wired, self.fault, &losses, plan);
        self.run(&losses);
        let off = |g: &GearId| !self.power.could[g.ix()] && self.problem.rules.on(Rule::Powered);
        let unpowered = plan.starts.iter().copied().find(off);
        let danger = self.danger();
        let carried: Vec<PartId> =
            self.problem.counted.iter().copied().filter(|p| !self.speakers_of(*p).is_empty()).collect();
        let harmed: Vec<Pairing> =
            self.still.iter().copied().filter(|(p, g)| self.points_at(*p, *g).is_none()).collect();
        let values = self.values(&price, &carried, harmed.len());
        Verdict { broken, unpowered, danger, price, carried, harmed, values }
    }

    pub(crate) fn lay_out(&mut self, plan: &Plan) -> Option<Broken> {
        self.wired.lay_out(self.problem, plan)
    }

    /// Takes a patch as it stands, without a plan.
    pub(crate) fn stand(&mut self, wired: Wired) {
        self.wired = wired;
    }

    /// Turns all up, for a second look at what is dangerous.
    pub(crate) fn all_up(&mut self) {
        self.wired.down.fill(false);
    }

    /// Settles power and follows every source, with these losses.
    pub(crate) fn run(&mut self, losses: &Losses) {
        self.losses.clone_from(losses);
        self.power.settle(self.problem, &self.wired, losses, false);
        self.power.settle_unbroken(self.problem, &self.wired, &self.whole);
        for k in (0..self.problem.spec.knobs.len()).map(KnobId::at) {
            let on = self.wired.knob(k) || self.power.bank_on(self.problem, &self.wired, k);
            self.wired.perhaps[k.ix()] = on;
        }
        for (i, carry) in self.carry.iter_mut().enumerate() {
            let source = crate::ids::SourceId::at(i);
            carry.follow(self.problem, &self.wired, source, How { losses, power: &self.power });
        }
    }

    /// Which pieces have their power over normal links from an outlet on.
    pub(crate) fn unbroken(&self) -> Vec<bool> {
        self.power.unbroken.clone()
    }

    /// Who is live with everything switched on.
    pub(crate) fn fed_everywhere(&mut self, losses: &Losses) -> Vec<bool> {
        self.power.settle(self.problem, &self.wired, losses, true);
        self.power.live.clone()
    }

    /// What is new in a plan and stands on something lost or still packed.
    fn uses_lost(&self, plan: &Plan, losses: &Losses) -> Option<Broken> {
        let p = self.problem;
        for n in &plan.new {
            let Pair { from, to, .. } = &p.pairs.pairs[n.pair];
            for s in [*from, *to] {
                if losses.socket(&p.spec, s) && p.rules.on(Rule::Lost) {
                    return Some(Broken::Lost(s));
                }
                if !self.wired.there(p.spec.gear_of(s)) && p.rules.on(Rule::Packed) {
                    return Some(Broken::NotThere(p.spec.gear_of(s)));
                }
            }
            if let Some(end) = n.kept
                && let Some(l) = p.kept_link(n.pair, end)
                && p.kept_pieces(losses, l, end, &p.pairs.chains[n.chain].via) == 0
            {
                return Some(Broken::NothingKept(l));
            }
            if n.kept.is_some() && !p.rules.on(Rule::Kept) {
                return Some(Broken::TwoPlugs(*from));
            }
        }
        if let Some(m) = plan.mends.iter().find(|_| !p.rules.on(Rule::Mend)) {
            return self.fault.mends.get(*m).map(|mend| Broken::NotThere(mend.at));
        }
        let lost = |g: &GearId| losses.gear(*g) && p.rules.on(Rule::Lost);
        let packed = |g: &GearId| !self.wired.there(*g) && p.rules.on(Rule::Packed);
        let placed = plan.places.iter().map(|(g, _)| *g).filter(lost);
        let switched =
            plan.knobs.iter().map(|k| p.spec.knobs[k.ix()].gear).chain(plan.starts.iter().copied());
        placed.chain(switched.filter(|g| lost(g) || packed(g))).next().map(Broken::NotThere)
    }

    /// The first danger of the patch that is laid out, judged as if nothing had failed and everything were on.
    pub fn danger(&self) -> Option<Unsafe> {
        self.danger_but_loads().or_else(|| self.open_loads().next().map(Unsafe::Unloaded))
    }

    /// The same without outputs that have to stay loaded: those may be open while their piece is turned down.
    pub fn danger_but_loads(&self) -> Option<Unsafe> {
        let (p, w) = (self.problem, &self.wired);
        self.phantom_harm().or_else(|| {
            match power::loads(p, w) {
                Err(g) if p.rules.on(Rule::Ring) => return Some(Unsafe::Overload(Overload::Ring(g))),
                Ok(fed) if p.rules.on(Rule::Rating) => {
                    for (g, watts) in fed.into_iter().enumerate() {
                        if let Some(cap) = p.spec.gear[g].cap
                            && watts > i64::from(cap)
                        {
                            let gear = GearId::at(g);
                            return Some(Unsafe::Overload(Overload::Rating { gear, watts, cap }));
                        }
                    }
                }
                Ok(_) | Err(_) => {}
            }
            if p.rules.on(Rule::Loop)
                && let Some(hops) = leak::ring(p, w)
            {
                return Some(Unsafe::Loop(hops));
            }
            if p.rules.on(Rule::Never) { leak::leak(p, w).map(Unsafe::Never) } else { None }
        })
    }

    fn phantom_harm(&self) -> Option<Unsafe> {
        let p = self.problem;
        if !p.rules.on(Rule::Bank) {
            return None;
        }
        (0..p.spec.sockets.len()).map(SocketId::at).find_map(|s| {
            let wire = self.wired.out[s.ix()]?;
            let Flow::Out { phantom: PhantomOut::Harmed, .. } = p.spec.socket(s).flow else { return None };
            let on = p.bank_of(wire.to).is_some_and(|k| self.wired.perhaps[k.ix()]);
            on.then_some(Unsafe::Phantom(wire.to))
        })
    }

    /// Outputs that have to stay loaded and have no whole link. What is turned down may be so for a moment.
    pub fn open_loads(&self) -> impl Iterator<Item = SocketId> + '_ {
        let p = self.problem;
        let sockets = (0..p.spec.sockets.len()).map(SocketId::at);
        sockets.filter(move |s| {
            let g = p.spec.gear_of(*s);
            matches!(p.spec.socket(*s).flow, Flow::Out { loaded: true, .. })
                && self.wired.out[s.ix()].is_none()
                && self.wired.there(g)
                && !self.wired.idle[g.ix()]
                && p.rules.on(Rule::Loads)
        })
    }

    /// Lays out and follows a plan without its price: what the search asks of every half-made plan.
    pub fn look(&mut self, plan: &Plan) -> Option<Broken> {
        let losses = Losses::of(&self.problem.spec, self.fault, &plan.mends);
        let broken = self.lay_out(plan).or_else(|| self.uses_lost(plan, &losses));
        self.run(&losses);
        broken
    }

    /// The losses that are left after the mends of the plan last looked at.
    pub fn losses(&self) -> &Losses {
        &self.losses
    }

    /// Does the piece work?
    pub fn is_live(&self, g: GearId) -> bool {
        self.power.live[g.ix()]
    }

    /// Has it a working feed, or a battery that gives?
    pub fn could_start(&self, g: GearId) -> bool {
        self.power.could[g.ix()]
    }

    /// Where the whole link out of this socket arrives.
    pub fn link_out(&self, s: SocketId) -> Option<SocketId> {
        self.wired.out[s.ix()].map(|wire| wire.to)
    }

    /// Where the whole link into this socket comes from.
    pub fn link_in(&self, s: SocketId) -> Option<SocketId> {
        self.wired.into[s.ix()]
    }

    /// Is the link out of this socket one of the normal patch?
    pub fn normal_out(&self, s: SocketId) -> Option<LinkId> {
        self.wired.out[s.ix()].and_then(|wire| wire.normal)
    }

    /// Is there a plug in it?
    pub fn is_filled(&self, s: SocketId) -> bool {
        self.wired.filled[s.ix()]
    }

    /// How the piece stands.
    pub fn place(&self, g: GearId) -> Place {
        self.wired.place[g.ix()]
    }

    /// Is the knob on?
    pub fn knob(&self, k: KnobId) -> bool {
        self.wired.knob(k)
    }

    /// Is this a bank that forgets, on a piece that has started anew?
    pub(crate) fn forgot(&self, k: KnobId) -> bool {
        self.power.forgot(self.problem, k)
    }

    /// Is a bank of phantom on? One that forgets is off once its piece has started anew.
    pub fn bank_on(&self, k: KnobId) -> bool {
        self.power.bank_on(self.problem, &self.wired, k)
    }

    /// Does a guard hold?
    pub fn holds(&self, guard: Option<Guard>) -> bool {
        carry::guard_holds(self.problem, &self.wired, guard)
    }

    /// Is a part brought to its listener by this piece?
    pub fn sounds(&self, part: PartId, g: GearId) -> bool {
        self.points_at(part, g).is_some()
    }

    /// Points of a piece that makes a source, where it does.
    pub(crate) fn making(&self, g: GearId, making: &Making) -> Option<i32> {
        let how = How { losses: &self.losses, power: &self.power };
        carry::makes(self.problem, &self.wired, g, making, how)
    }

    /// How a part stands at an in-socket.
    pub(crate) fn marks(&self, part: PartId, s: SocketId) -> &[Mark] {
        &self.carry[self.problem.part(part).source.ix()].at[s.ix()]
    }

    /// Does a route pass what comes in, sides apart?
    pub(crate) fn passes(&self, r: RouteId) -> bool {
        let p = self.problem;
        let how = How { losses: &self.losses, power: &self.power };
        carry::is_on(p, &self.wired, &p.spec.routes[r.ix()]) && !self.losses.route(r) && how.runs(p, r)
    }

    /// The pieces that carry a part now.
    pub fn speakers_of(&self, part: PartId) -> Vec<GearId> {
        (0..self.problem.spec.gear.len())
            .map(GearId::at)
            .filter(|g| self.points_at(part, *g).is_some())
            .collect()
    }

    /// The least points of a path that brings a part to its listener by this piece.
    pub fn points_at(&self, part: PartId, g: GearId) -> Option<i32> {
        let p = self.problem;
        let gear = &p.spec.gear[g.ix()];
        let silent = self.losses.sound(g) || self.wired.down[g.ix()];
        if gear.sounds.is_empty() || !self.power.live[g.ix()] || silent {
            return None;
        }
        let part = p.part(part);
        let Place::At(n) = self.wired.place[g.ix()] else { return None };
        let placement = gear.placements.get(n)?;
        if !hears(p, &placement.hears, part.listener) {
            return None;
        }
        let carry = &self.carry[part.source.ix()];
        let driven = gear.sounds.iter().filter(|s| self.holds(s.guard));
        let least = driven.flat_map(|s| &carry.at[s.socket.ix()]).map(|m| m.points).min()?;
        Some(least + gear.points + placement.points)
    }

    fn values(&self, price: &Price, carried: &[PartId], harm: usize) -> Values {
        let p = self.problem;
        let mut v =
            Values { seconds: price.seconds, moves: price.moves, diff: price.points, ..Values::default() };
        v.harm = i32::try_from(harm).unwrap_or(i32::MAX);
        for part in carried {
            let weight = p.part(*part).weight;
            match p.part(*part).rank {
                Rank::Must => v.must -= weight,
                Rank::Should => v.should -= weight,
                Rank::Nice => v.nice -= weight,
                Rank::Never => {}
            }
            let now: Vec<(GearId, i32)> = (0..p.spec.gear.len())
                .map(GearId::at)
                .filter_map(|g| self.points_at(*part, g).map(|points| (g, points)))
                .collect();
            v.diff += now.iter().map(|(_, points)| *points).min().unwrap_or(0);
            let gone = p.speakers[part.ix()].iter().filter(|g| now.iter().all(|(h, _)| h != *g)).count();
            v.diff += 2 * i32::try_from(gone).unwrap_or(0);
        }
        v
    }
}

/// Is a listener reached from one speaker at the least level it needs?
pub(crate) fn hears(p: &Problem, heard: &[(ListenerId, i32)], who: ListenerId) -> bool {
    let loud = |db: i32| db >= p.spec.listeners[who.ix()].need || !p.rules.on(Rule::Need);
    heard.iter().any(|(l, db)| *l == who && loud(*db))
}
