//! The link check: which two sockets may be joined, and through which pieces (docs/cover.md, section 2).
//!
//! Decided once, before any search. The rules about forms, reach, wiring, sides, phantom and level windows are here; what
//! only physics can tell (a bridging loss, a supply that is too weak) comes in as [`LinkCheck`].

use crate::ids::{ClassId, LeadId, LinkId, SocketId};
use crate::rules::{Rule, Rules};
use crate::spec::{Flow, LeadWire, Levels, PhantomIn, PhantomOut, SocketWire, Spec};

/// What physics says of a link that the wiring allows.
pub trait LinkCheck {
    /// Points for the difference it makes, or `None` to refuse it.
    fn points(&self, spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId) -> Option<i32>;
}

/// Nothing to add: the neutral problems have their physics in their levels and points already.
#[derive(Clone, Copy, Debug)]
pub struct NoMore;

impl LinkCheck for NoMore {
    fn points(&self, _: &Spec, _: SocketId, _: &[LeadId], _: SocketId) -> Option<i32> {
        Some(0)
    }
}

/// Pieces in a row between two sockets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chain {
    /// From the out-socket on. At most three.
    pub via: Vec<LeadId>,
    /// Points of the pieces, and of what physics adds.
    pub points: i32,
}

/// Two sockets that may be joined.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Out-socket.
    pub from: SocketId,
    /// In-socket.
    pub to: SocketId,
    /// Its chains: `chains[first..last]`.
    pub first: usize,
    /// One past its last chain.
    pub last: usize,
}

/// All pairs with all their chains: the rig's largest table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pairs {
    /// In the order of the sockets.
    pub pairs: Vec<Pair>,
    /// The chains of the first pair first.
    pub chains: Vec<Chain>,
    /// For each socket, the pairs it is in.
    pub at: Vec<Vec<usize>>,
}

impl Pairs {
    /// Lists every pair and chain that passes.
    pub fn list(spec: &Spec, normal_at: &[Option<LinkId>], more: &dyn LinkCheck, rules: Rules) -> Pairs {
        let adapters: Vec<usize> = (0..spec.leads.len()).filter(|i| spec.leads[*i].length == 0).collect();
        let long: Vec<usize> = (0..spec.leads.len()).filter(|i| spec.leads[*i].length > 0).collect();
        let shapes = shapes(spec, &long, &adapters, rules);
        let mut it = Pairs { at: vec![Vec::new(); spec.sockets.len()], ..Pairs::default() };
        for from in (0..spec.sockets.len()).map(SocketId::at) {
            let Flow::Out { .. } = spec.socket(from).flow else { continue };
            for to in (0..spec.sockets.len()).map(SocketId::at) {
                if !may_meet(spec, from, to, rules) {
                    continue;
                }
                let first = it.chains.len();
                let normal = [normal_at[from.ix()], normal_at[to.ix()]];
                it.chains.extend(chains(spec, from, to, &shapes, normal, more, rules));
                if it.chains.len() > first {
                    let index = it.pairs.len();
                    it.pairs.push(Pair { from, to, first, last: it.chains.len() });
                    it.at[from.ix()].push(index);
                    it.at[to.ix()].push(index);
                }
            }
        }
        it
    }

    /// The pair of two sockets.
    pub fn find(&self, from: SocketId, to: SocketId) -> Option<usize> {
        self.at[from.ix()].iter().copied().find(|p| self.pairs[*p].to == to)
    }

    /// The chain of a pair with just these pieces.
    pub fn find_chain(&self, pair: usize, via: &[LeadId]) -> Option<usize> {
        let p = &self.pairs[pair];
        (p.first..p.last).find(|c| self.chains[*c].via == via)
    }
}

/// Every row of pieces a chain may be, by the counts owned: one lead with at most two adapters, at most two adapters, or
/// two leads with at most one adapter; any order.
fn shapes(spec: &Spec, long: &[usize], adapters: &[usize], rules: Rules) -> Vec<Vec<LeadId>> {
    let all: Vec<usize> = long.iter().chain(adapters).copied().collect();
    let mut out = vec![Vec::new()];
    let fits = |row: &[usize]| {
        let leads = row.iter().filter(|t| spec.leads[**t].length > 0).count();
        let extra = row.len() - leads;
        let shape = matches!((leads, extra), (0, 1..=2) | (1, 0..=2))
            || (rules.on(Rule::TwoLeads) && matches!((leads, extra), (2, 0..=1)));
        let owned = row.iter().all(|t| {
            let n = row.iter().filter(|u| *u == t).count();
            i32::try_from(n).is_ok_and(|n| n <= spec.leads[*t].owned)
        });
        // Pieces that can't be pushed together save nothing: this keeps the list short.
        let mates = row.windows(2).all(|w| {
            let (a, b) = (&spec.leads[w[0]], &spec.leads[w[1]]);
            !rules.on(Rule::Mates) || a.ends.iter().any(|x| b.ends.iter().any(|y| x.mates(*y)))
        });
        shape && owned && mates
    };
    for &a in &all {
        if fits(&[a]) {
            out.push(vec![LeadId::at(a)]);
        }
        for &b in &all {
            if fits(&[a, b]) {
                out.push(vec![LeadId::at(a), LeadId::at(b)]);
            }
            for &c in &all {
                if fits(&[a, b, c]) {
                    out.push(vec![LeadId::at(a), LeadId::at(b), LeadId::at(c)]);
                }
            }
        }
    }
    out
}

/// The levels that an in-socket takes of a class; `None` where it does not take the class.
pub(crate) fn window(spec: &Spec, to: SocketId, class: ClassId, rules: Rules) -> Option<Levels> {
    let Flow::In { accepts, .. } = &spec.socket(to).flow else { return None };
    let supply = spec.classes[class.ix()].supply;
    let any = if supply { !rules.on(Rule::SupplyClass) } else { !rules.on(Rule::Class) };
    let own = accepts.iter().find(|(c, _)| *c == class);
    let other = accepts.iter().find(|(c, _)| any && spec.classes[c.ix()].supply == supply);
    own.or(other).map(|(_, window)| *window)
}

/// Rules of a link that do not depend on the pieces between.
fn may_meet(spec: &Spec, from: SocketId, to: SocketId, rules: Rules) -> bool {
    let (a, b) = (spec.socket(from), spec.socket(to));
    if a.gear == b.gear {
        return false;
    }
    let (Flow::Out { class, levels, phantom, .. }, Flow::In { phantom: offered, .. }) = (&a.flow, &b.flow)
    else {
        return false;
    };
    let Some(window) = window(spec, to, *class, rules) else { return false };
    let class = &spec.classes[class.ix()];
    if class.supply {
        return true;
    }
    let phantom_ok = match phantom {
        PhantomOut::Fine => true,
        PhantomOut::Needs => class.mic && *offered != PhantomIn::No,
        PhantomOut::Harmed => *offered != PhantomIn::Always,
    };
    (phantom_ok || !rules.on(Rule::Phantom)) && (levels.meet(window).is_some() || !rules.on(Rule::Level))
}

fn chains(
    spec: &Spec,
    from: SocketId,
    to: SocketId,
    shapes: &[Vec<LeadId>],
    normal: [Option<LinkId>; 2],
    more: &dyn LinkCheck,
    rules: Rules,
) -> Vec<Chain> {
    let mut passing: Vec<Chain> = Vec::new();
    for via in shapes {
        if passes(spec, from, via, to, rules)
            && let Some(extra) = more.points(spec, from, via, to)
        {
            let points = extra + via.iter().map(|t| spec.leads[t.ix()].points).sum::<i32>();
            passing.push(Chain { via: via.clone(), points });
        }
    }
    let near: Vec<LeadId> =
        normal.iter().flatten().flat_map(|l| spec.patch[l.ix()].via.iter().copied()).collect();
    let dominated = |c: &Chain| {
        !c.via.iter().any(|t| near.contains(t))
            && passing
                .iter()
                .any(|d| d.via.len() < c.via.len() && d.points <= c.points && within(&d.via, &c.via))
    };
    passing.iter().filter(|c| !dominated(c)).cloned().collect()
}

/// Is every piece of `few` also in `many`, counted?
fn within(few: &[LeadId], many: &[LeadId]) -> bool {
    few.iter().all(|t| few.iter().filter(|u| *u == t).count() <= many.iter().filter(|u| *u == t).count())
}

/// Rules of a link that depend on the pieces between.
fn passes(spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId, rules: Rules) -> bool {
    let (a, b) = (spec.socket(from), spec.socket(to));
    let Flow::Out { class, phantom, .. } = &a.flow else { return false };
    let supply = spec.classes[class.ix()].supply;
    let any = if supply { !rules.on(Rule::SupplyClass) } else { !rules.on(Rule::Class) };
    let fits = |c: &ClassId| c == class || (any && spec.classes[c.ix()].supply == supply);
    if via.iter().any(|t| !spec.leads[t.ix()].carries.iter().any(fits)) {
        return false;
    }
    let mates = !rules.on(Rule::Mates) || plugs_mate(spec, from, via, to);
    if !mates || !reaches(spec, from, via, to, rules) {
        return false;
    }
    if supply {
        return true;
    }
    let wire = |t: &LeadId| spec.leads[t.ix()].wire;
    if *phantom == PhantomOut::Needs
        && rules.on(Rule::Phantom)
        && via.iter().any(|t| wire(t) != LeadWire::Bal)
    {
        return false;
    }
    !rules.on(Rule::Sum)
        || sides_fit(
            a.wire == SocketWire::Stereo,
            &via.iter().map(wire).collect::<Vec<_>>(),
            b.wire == SocketWire::Stereo,
        )
}

/// Stereo and mono through a row of pieces (section 2, rule 4).
pub(crate) fn sides_fit(from_stereo: bool, via: &[LeadWire], to_stereo: bool) -> bool {
    let sums = via.iter().filter(|w| **w == LeadWire::Sum).count();
    let dups = via.iter().filter(|w| **w == LeadWire::Dup).count();
    let two_wire = |part: &[LeadWire]| part.contains(&LeadWire::Ts);
    match (from_stereo, to_stereo) {
        (true, true) => sums == 0 && dups == 0 && !two_wire(via),
        (false, false) => sums == 0 && dups == 0,
        (true, false) => {
            let at = via.iter().position(|w| *w == LeadWire::Sum);
            sums == 1 && dups == 0 && at.is_some_and(|i| !two_wire(&via[..i]))
        }
        (false, true) => {
            let at = via.iter().position(|w| *w == LeadWire::Dup);
            dups == 1 && sums == 0 && at.is_some_and(|i| !two_wire(&via[i + 1..]))
        }
    }
}

/// Plugs mate all along, each piece either way round.
fn plugs_mate(spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId) -> bool {
    let (a, b) = (spec.socket(from), spec.socket(to));
    let (Some(first), Some(_)) = (via.first(), via.last()) else {
        return (a.tail > 0 || b.tail > 0)
            && a.connectors.iter().any(|x| b.connectors.iter().any(|y| x.mates(*y)));
    };
    // Which ends can look forward, after the pieces so far.
    let ends = |t: &LeadId| spec.leads[t.ix()].ends;
    let mut open = [false; 2];
    for (i, end) in ends(first).iter().enumerate() {
        open[1 - i] |= a.connectors.iter().any(|x| x.mates(*end));
    }
    for pair in via.windows(2) {
        let (here, next) = (ends(&pair[0]), ends(&pair[1]));
        let mut after = [false; 2];
        for (i, end) in here.iter().enumerate() {
            for (j, other) in next.iter().enumerate() {
                after[1 - j] |= open[i] && end.mates(*other);
            }
        }
        open = after;
    }
    let last = via.last().map_or([false; 2], |t| {
        let e = ends(t);
        [0, 1].map(|i| open[i] && b.connectors.iter().any(|y| y.mates(e[i])))
    });
    last[0] || last[1]
}

/// Lengths and tails span both rises and 1.2 times the distance: 25·(have − rises)² ≥ 36·D², in whole decimetres.
fn reaches(spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId, rules: Rules) -> bool {
    let (mut have, d2) = reach(spec, from, via, to);
    if !rules.on(Rule::Rise) {
        have += i64::from(spec.socket(from).rise) + i64::from(spec.socket(to).rise);
    }
    !rules.on(Rule::Reach) || (have >= 0 && 25 * have * have >= 36 * d2)
}

/// Decimetres left for the floor after tails, lengths and rises, and the squared distance.
pub fn reach(spec: &Spec, from: SocketId, via: &[LeadId], to: SocketId) -> (i64, i64) {
    let (a, b) = (spec.socket(from), spec.socket(to));
    let (p, q) = (spec.gear[a.gear.ix()].spot, spec.gear[b.gear.ix()].spot);
    let length: i64 = via.iter().map(|t| i64::from(spec.leads[t.ix()].length)).sum();
    let have = length + i64::from(a.tail) + i64::from(b.tail) - i64::from(a.rise) - i64::from(b.rise);
    let (dx, dy) = (i64::from(p.x - q.x), i64::from(p.y - q.y));
    (have, dx * dx + dy * dy)
}
