//! What it takes to bring power to a piece, leaving out what else goes on.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use check::ids::{GearId, SocketId};
use check::spec::Place;

use crate::arcs::{Arc, Hold, Open};
use crate::edits::Edit;
use crate::prices::{At, Prices};

/// How a piece would get its power.
#[derive(Clone, Copy, Debug)]
enum How {
    /// It has it.
    Live,
    /// It has a feed or a battery and must be switched on.
    SwitchOn,
    /// Over a link that is there.
    There { feeder: GearId, into: SocketId },
    /// Over a new link.
    New { feeder: GearId, arc: Arc },
}

/// Power for every piece.
#[derive(Debug)]
pub(crate) struct Supply {
    full: Vec<Option<i64>>,
    last: Vec<Option<i64>>,
    how: Vec<Option<How>>,
    /// For the group last asked for: what power costs it, feeders included.
    priced: Vec<Option<i64>>,
    /// Every way to feed a piece that was seen: from whom, to whom, at what cost of its own.
    options: Vec<(Option<GearId>, GearId, i64)>,
    /// Pieces that only pass power on.
    plain: Vec<bool>,
}

/// What must be done for something on the way, in order: prerequisites first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Needs {
    /// Edits not yet decided.
    pub(crate) edits: Vec<Edit>,
    /// Sockets something has to be plugged into, whatever it is.
    pub(crate) fill: Vec<SocketId>,
}

impl Needs {
    pub(crate) fn edit(&mut self, open: &Open<'_, '_>, edit: Edit) {
        if !open.state.committed[open.edits.id(edit)] && !self.edits.contains(&edit) {
            self.edits.push(open.reseat(edit, &self.edits));
        }
    }

    pub(crate) fn hold(&mut self, open: &Open<'_, '_>, hold: Hold) {
        match hold {
            Hold::Now | Hold::Never => {}
            Hold::Pull(l, end) => self.edit(open, Edit::Pull(l, end)),
            Hold::Fill(s) => self.fill.push(s),
        }
    }
}

impl Supply {
    pub(crate) fn settle(open: &Open<'_, '_>) -> Self {
        let p = open.p;
        let n = p.spec.gear.len();
        let plain = (0..n).map(|g| only_power(p, GearId::at(g))).collect();
        let none = vec![None; n];
        let mut it = Supply {
            full: none.clone(),
            last: none,
            how: vec![None; n],
            priced: Vec::new(),
            options: Vec::new(),
            plain,
        };
        let mut heap = BinaryHeap::new();
        for g in (0..n).map(GearId::at) {
            let gear = &p.spec.gear[g.ix()];
            let packed = open.judge.place(g) == Place::Case;
            if open.judge.is_live(g) || (packed && !gear.needs_power) {
                it.offer(&mut heap, g, 0, 0, How::Live);
                continue;
            }
            if open.losses().gear(g) || !gear.needs_power || gear.root {
                continue;
            }
            if open.judge.could_start(g)
                && let Some(start) = open.switch_cost(g)
            {
                it.offer(&mut heap, g, start, start, How::SwitchOn);
            }
            // A battery that a pull would let in: what it ran on before, it runs on at once.
            // One out of the bag has to be switched on.
            let waits = gear.battery.is_some_and(|b| match open.hold(b.guard) {
                Hold::Now => packed,
                Hold::Pull(..) | Hold::Fill(_) => true,
                Hold::Never => false,
            });
            if waits && let Some(start) = if p.live[g.ix()] { Some(0) } else { open.switch_cost(g) } {
                it.offer(&mut heap, g, start, start, How::SwitchOn);
            }
        }
        while let Some((Reverse(cost), g)) = heap.pop() {
            let g = GearId::at(g);
            if it.full[g.ix()] == Some(cost) {
                it.feed_on(open, &mut heap, g, cost);
            }
        }
        it
    }

    /// What power costs one group of sources: every piece on the chain of feeders at its share.
    pub(crate) fn price_for(&mut self, open: &Open<'_, '_>, prices: &Prices, group: usize) {
        let n = self.full.len();
        let mut priced: Vec<Option<i64>> = vec![None; n];
        // Options are in the order of growing cost of their feeder; a few rounds settle what the shares turn round.
        loop {
            let mut changed = false;
            for (feeder, g, own) in &self.options {
                let Some(before) = feeder.map_or(Some(0), |f| priced[f.ix()]) else { continue };
                let mut own = prices.of(At::Power, *g, group, *own);
                if self.plain[g.ix()] {
                    own += prices.of(At::Visit, *g, group, open.visit(*g));
                    if open.judge.place(*g) == Place::Case {
                        let place = open.placements(*g).map(|(_, c)| c).min().unwrap_or(0);
                        own += prices.of(At::Place, *g, group, place);
                    }
                }
                // A feeder that also passes sound pays for itself where a way goes through it.
                let before = if feeder.is_some_and(|f| !self.plain[f.ix()]) { 0 } else { before };
                if priced[g.ix()].is_none_or(|c| before + own < c) {
                    priced[g.ix()] = Some(before + own);
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        self.priced = priced;
    }

    /// What power for a piece costs the group last priced, feeders included.
    pub(crate) fn full_for(&self, g: GearId) -> Option<i64> {
        self.priced[g.ix()]
    }

    fn offer(
        &mut self,
        heap: &mut BinaryHeap<(Reverse<i64>, usize)>,
        g: GearId,
        full: i64,
        own: i64,
        how: How,
    ) {
        let feeder = match how {
            How::Live | How::SwitchOn => None,
            How::There { feeder, .. } | How::New { feeder, .. } => Some(feeder),
        };
        self.options.push((feeder, g, own));
        let last = &mut self.last[g.ix()];
        *last = Some(last.map_or(own, |l| l.min(own)));
        if self.full[g.ix()].is_none_or(|f| full < f) {
            self.full[g.ix()] = Some(full);
            self.how[g.ix()] = Some(how);
            heap.push((Reverse(full), g.ix()));
        }
    }

    /// Everything that a piece with power could feed.
    fn feed_on(
        &mut self,
        open: &Open<'_, '_>,
        heap: &mut BinaryHeap<(Reverse<i64>, usize)>,
        g: GearId,
        cost: i64,
    ) {
        let p = open.p;
        for s in &p.supply_outs[g.ix()] {
            if open.lost(*s) {
                continue;
            }
            if let Some(to) = open.judge.link_out(*s) {
                let dead = open.judge.normal_out(*s).is_some_and(|l| open.losses().link(l));
                if !dead && let Some(own) = at_socket(open, to) {
                    self.offer(heap, p.spec.gear_of(to), cost + own, own, How::There { feeder: g, into: to });
                }
            }
            for arc in open.arcs_from(*s) {
                if let Some(own) = at_socket(open, arc.to) {
                    let own = own + arc.cost;
                    self.offer(
                        heap,
                        p.spec.gear_of(arc.to),
                        cost + own,
                        own,
                        How::New { feeder: g, arc: *arc },
                    );
                }
            }
        }
    }

    /// The least that power for this piece costs by itself: its own last plug and switch.
    pub(crate) fn last(&self, g: GearId) -> Option<i64> {
        self.last[g.ix()]
    }

    /// What to do to bring power to a piece, its feeders first.
    pub(crate) fn needs(&self, open: &Open<'_, '_>, g: GearId, needs: &mut Needs) {
        if open.judge.is_live(g) {
            return;
        }
        let gear = &open.p.spec.gear[g.ix()];
        if open.judge.place(g) == Place::Case
            && let Some((n, _)) = open.placements(g).min_by_key(|(_, c)| *c)
            && !needs.edits.iter().any(|e| matches!(e, Edit::Place(h, _) if *h == g))
        {
            needs.edit(open, Edit::Place(g, n));
        }
        match self.how[g.ix()] {
            None | Some(How::Live) => {}
            Some(How::SwitchOn) => {
                if let Some(b) = gear.battery
                    && !open.judge.could_start(g)
                {
                    needs.hold(open, open.hold(b.guard));
                }
            }
            Some(How::There { feeder, into }) => {
                self.needs(open, feeder, needs);
                self.needs_of_socket(open, into, needs);
            }
            Some(How::New { feeder, arc }) => {
                self.needs(open, feeder, needs);
                self.needs_of_socket(open, arc.to, needs);
                needs.edit(open, arc.edit);
            }
        }
        let by_hand = match self.how[g.ix()] {
            None | Some(How::Live) => false,
            // On its battery nothing starts by itself, unless it ran before.
            Some(How::SwitchOn) => !gear.auto || !open.p.live[g.ix()],
            Some(How::There { .. } | How::New { .. }) => !gear.auto,
        };
        if by_hand && gear.needs_power && !gear.root && !open.state.forbidden[open.edits.id(Edit::Start(g))] {
            needs.edit(open, Edit::Start(g));
        }
    }

    fn needs_of_socket(&self, open: &Open<'_, '_>, into: SocketId, needs: &mut Needs) {
        if let check::spec::Flow::In { guard, .. } = open.p.spec.socket(into).flow {
            needs.hold(open, open.hold(guard));
        }
    }
}

/// What a piece needs besides the link that arrives at its supply socket: to be switched on.
fn at_socket(open: &Open<'_, '_>, to: SocketId) -> Option<i64> {
    let p = open.p;
    let h = p.spec.gear_of(to);
    let out =
        open.losses().supply(h) || open.lost(to) || open.judge.is_live(h) || !p.spec.gear[h.ix()].needs_power;
    let check::spec::Flow::In { guard, .. } = p.spec.socket(to).flow else { return None };
    if out || open.hold(guard) == Hold::Never { None } else { open.start_cost(h) }
}

/// Does a piece only pass power on, so that no sound ever goes through it?
fn only_power(p: &check::Problem, g: GearId) -> bool {
    let gear = &p.spec.gear[g.ix()];
    gear.makes.is_empty() && gear.sounds.is_empty() && !p.spec.routes.iter().any(|r| r.gear == g)
}
