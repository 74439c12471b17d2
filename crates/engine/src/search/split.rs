//! How a node is split into children that leave nothing out.

use check::fault::Losses;
use check::ids::SocketId;
use check::order::Key;
use check::plan::End;

use super::Search;
use super::demand::Status;
use crate::arcs::Open;
use crate::edits::Edit;
use crate::state;
use crate::supply::Needs;

/// What a child adds to its parent.
#[derive(Clone, Debug, Default)]
pub(super) struct Step {
    pub(super) commit: Vec<Edit>,
    pub(super) forbid: Vec<Edit>,
    pub(super) status: Vec<(usize, Status)>,
}

/// How a node is split.
#[derive(Clone, Debug)]
pub(super) enum Split {
    /// By a way for a demand.
    Way { demand: usize, needs: Needs },
    /// By a way that every plan needs, for power or fewer points.
    All(Needs),
    /// At least one of these, without a way to do without.
    OneOf(Vec<Edit>),
}

impl<'p> Search<'p> {
    /// Makes the children of a node, each with its parent's bound until it is looked at.
    pub(super) fn split(&mut self, n: usize, key: Key, depth: u32) {
        let Some(split) = self.nodes[n].split.clone() else { return };
        let mut steps = Vec::new();
        match split {
            Split::OneOf(edits) => one_of(&edits, &[], &mut steps),
            Split::All(needs) => by_way(&needs, &[], &mut steps, &mut |s| self.fillers(n, s)),
            Split::Way { demand, needs } => {
                self.restore(n);
                let open = self.status[demand] == Status::Open;
                let status: &[(usize, Status)] = if open { &[(demand, Status::Required)] } else { &[] };
                by_way(&needs, status, &mut steps, &mut |s| self.fillers(n, s));
                if open {
                    steps.push(Step { status: vec![(demand, Status::Given)], ..Step::default() });
                }
            }
        }
        for mut step in steps {
            self.spread(&mut step.forbid);
            let c = self.child(n, step);
            self.push(c, key, depth + 1);
        }
    }

    /// What is forbidden for one free socket is forbidden for all that are like it. (One with a plug in it is only offered
    /// when no free one is left, and is then told apart by what it is robbed of.)
    pub(super) fn spread(&self, forbid: &mut Vec<Edit>) {
        for i in 0..forbid.len() {
            let Edit::New { pair, kept } = forbid[i] else { continue };
            let pr = &self.p.pairs.pairs[pair];
            let like = |s: SocketId, end: check::plan::End| {
                let alone = kept == Some(end) || self.p.normal_at[s.ix()].is_some();
                if alone { vec![s] } else { self.alike.of(s).to_vec() }
            };
            let (from, to) = (like(pr.from, End::From), like(pr.to, End::To));
            for a in &from {
                for b in &to {
                    if (*a, *b) != (pr.from, pr.to)
                        && let Some(other) = self.p.pairs.find(*a, *b)
                    {
                        forbid.push(Edit::New { pair: other, kept });
                    }
                }
            }
        }
    }

    pub(super) fn fillers(&mut self, n: usize, s: SocketId) -> Vec<Edit> {
        self.restore(n);
        let losses = Losses::of(&self.p.spec, self.fault, &self.state.mends);
        let Some(plan) = self.state.plan(self.p, &self.edits, &losses) else { return Vec::new() };
        if self.judge.look(&plan).is_some() {
            return Vec::new();
        }
        state::touched(self.p, self.fault, &plan, &mut self.touched);
        let open = Open::new(
            self.p,
            &self.edits,
            &self.judge,
            &self.state,
            &plan,
            &self.touched,
            &self.alike,
            &self.least,
        );
        open.fillers(s).collect()
    }
}

/// What a way is split by first: what most of the other plans would have to do without too. Forbidding a piece or its
/// switch closes many ways at once, and the bound rises; forbidding one plug closes a single one. Of equals the order of the
/// way stays.
pub(super) fn decisive(edit: &Edit) -> u8 {
    match edit {
        Edit::Open | Edit::Mend(_) | Edit::Place(..) => 0,
        Edit::Start(_) => 1,
        Edit::New { .. } | Edit::Pull(..) => 2,
        Edit::Knob(_) => 3,
    }
}

pub(super) fn one_of(edits: &[Edit], status: &[(usize, Status)], steps: &mut Vec<Step>) {
    for i in 0..edits.len() {
        steps.push(Step { commit: vec![edits[i]], forbid: edits[..i].to_vec(), status: status.to_vec() });
    }
}

/// The children of a way: all of it, or the first edit it lacks.
pub(super) fn by_way(
    needs: &Needs,
    status: &[(usize, Status)],
    steps: &mut Vec<Step>,
    fillers: &mut dyn FnMut(SocketId) -> Vec<Edit>,
) {
    if needs.edits.is_empty() {
        // Only a socket has to be filled, with whatever.
        if let Some(s) = needs.fill.first() {
            one_of(&fillers(*s), status, steps);
        }
        return;
    }
    let mut edits = needs.edits.clone();
    edits.sort_by_key(decisive);
    steps.push(Step { commit: edits.clone(), forbid: Vec::new(), status: status.to_vec() });
    for i in (0..edits.len()).rev() {
        steps.push(Step { commit: edits[..i].to_vec(), forbid: vec![edits[i]], status: status.to_vec() });
    }
}
