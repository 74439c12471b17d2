//! What could end a danger: at least one of these must be in every safe plan that holds what is already decided.

use check::ids::{GearId, SocketId};
use check::plan::End;
use check::spec::{Guard, Place, Rank};
use check::{Hop, Overload, Unsafe};

use crate::arcs::Open;
use crate::edits::Edit;

/// The edits, any one of which could end the danger.
pub(crate) fn ways_out(open: &Open<'_, '_>, danger: &Unsafe) -> Vec<Edit> {
    let mut out = Out { open, edits: Vec::new() };
    match danger {
        Unsafe::Never(leak) => {
            for hop in &leak.hops {
                out.hop(hop);
            }
            let part = open.p.part(leak.part);
            debug_assert!(part.rank == Rank::Never);
            let gear = &open.p.spec.gear;
            for (n, _) in open.placements(leak.maker) {
                let makes = &gear[leak.maker.ix()].placements[n].sources;
                if makes.as_ref().is_some_and(|list| !list.contains(&part.source)) {
                    out.add(Edit::Place(leak.maker, n));
                }
            }
            for m in &gear[leak.maker.ix()].makes {
                if m.source == part.source {
                    out.guard(m.guard);
                }
            }
            for (n, _) in open.placements(leak.speaker) {
                let hears = &gear[leak.speaker.ix()].placements[n].hears;
                if hears.iter().all(|(l, _)| *l != part.listener) {
                    out.add(Edit::Place(leak.speaker, n));
                }
            }
        }
        Unsafe::Loop(hops) => {
            for hop in hops {
                out.hop(hop);
            }
        }
        Unsafe::Overload(Overload::Rating { gear, .. } | Overload::Ring(gear)) => {
            out.feeds(*gear, &mut vec![false; open.p.spec.gear.len()]);
        }
        Unsafe::Unloaded(s) => {
            for arc in open.arcs_from(*s) {
                out.add(arc.edit);
            }
        }
        Unsafe::Phantom(at) => {
            if let Some(k) = open.p.bank_of(*at) {
                out.add(Edit::Knob(k));
            }
            if let Some(from) = open.judge.link_in(*at) {
                out.cut(from);
            }
        }
    }
    out.edits
}

struct Out<'o, 'a, 'p> {
    open: &'o Open<'a, 'p>,
    edits: Vec<Edit>,
}

impl Out<'_, '_, '_> {
    fn add(&mut self, edit: Edit) {
        let id = self.open.edits.id(edit);
        let free = !self.open.state.forbidden[id] && !self.open.state.committed[id];
        if free && !self.edits.contains(&edit) {
            self.edits.push(edit);
        }
    }

    fn hop(&mut self, hop: &Hop) {
        self.cut(hop.from);
        if let Some(k) = self.open.p.bank_of(hop.to) {
            self.add(Edit::Knob(k));
        }
        if let Some(r) = hop.route {
            let route = &self.open.p.spec.routes[r.ix()];
            for k in route.knob.iter().chain(&route.mutes) {
                self.add(Edit::Knob(*k));
            }
            self.guard(route.guard);
        }
    }

    /// Ends the normal link out of a socket.
    fn cut(&mut self, from: SocketId) {
        let p = self.open.p;
        let Some(l) = self.open.judge.normal_out(from) else { return };
        for end in [End::From, End::To] {
            if p.end_exists[l.ix()][end.ix()] {
                self.add(Edit::Pull(l, end));
            } else {
                // Taking over the other end takes this fixed cable off without a pull.
                let link = &p.spec.patch[l.ix()];
                let s = if end == End::From { link.to } else { link.from };
                let over: Vec<Edit> = self.open.fillers(s).filter(|e| is_kept_at(*e, end.other())).collect();
                for e in over {
                    self.add(e);
                }
            }
        }
    }

    /// Makes a guard fail that holds now.
    fn guard(&mut self, guard: Option<Guard>) {
        match guard {
            None => {}
            Some(Guard::Empty(s)) => {
                let fill: Vec<Edit> = self.open.fillers(s).collect();
                for e in fill {
                    self.add(e);
                }
            }
            Some(Guard::Filled(s)) => {
                if let Some(l) = self.open.p.normal_at[s.ix()] {
                    for end in [End::From, End::To] {
                        if self.open.p.end_exists[l.ix()][end.ix()] {
                            self.add(Edit::Pull(l, end));
                        }
                    }
                }
            }
        }
    }

    /// Takes something off a piece that feeds too much.
    fn feeds(&mut self, g: GearId, seen: &mut [bool]) {
        if std::mem::replace(&mut seen[g.ix()], true) || self.open.judge.place(g) == Place::Case {
            return;
        }
        for s in &self.open.p.supply_outs[g.ix()] {
            if let Some(to) = self.open.judge.link_out(*s) {
                self.cut(*s);
                self.feeds(self.open.p.spec.gear_of(to), seen);
            }
        }
    }
}

fn is_kept_at(edit: Edit, at: End) -> bool {
    matches!(edit, Edit::New { kept: Some(end), .. } if end == at)
}
