//! The static link check: which chains may join an out-socket to an in-socket.

use crate::neutral::{Connector, Phantom, Rig, Wires, Wiring};

use super::rules::{Rule, Rules};

/// A supply class; every other class is sound.
pub(super) fn is_supply(rig: &Rig, class: usize) -> bool {
    matches!(rig.classes[class].as_str(), "mains" | "dc9" | "dc12" | "usb5")
}

/// Every chain that passes the link check between `a` and `b`, dominated ones left out.
///
/// A dominated chain contains another passing chain and more, with no fewer points. It stays all the same when
/// it shares a piece type with a normal link at `a` or `b`, because it might then be cheaper to make.
pub(super) fn chains(rig: &Rig, rules: Rules, a: usize, b: usize) -> Vec<Vec<usize>> {
    if rig.sockets[a].gear == rig.sockets[b].gear || !class_fits(rig, rules, a, b) {
        return Vec::new();
    }
    let passing: Vec<Vec<usize>> = mating(rig, a, b)
        .into_iter()
        .filter(|chain| reaches(rig, rules, a, b, chain))
        .filter(|chain| is_supply(rig, rig.sockets[a].classes[0].0) || sound_fits(rig, rules, a, b, chain))
        .collect();
    let near: Vec<usize> =
        rig.patch.iter().filter(|l| l.from == a || l.to == b).flat_map(|l| l.via.iter().copied()).collect();
    let points = |chain: &[usize]| chain.iter().map(|&t| rig.leads[t].pts).sum::<i64>();
    let dominated = |chain: &Vec<usize>| {
        !chain.iter().any(|t| near.contains(t))
            && passing.iter().any(|other| {
                other.len() < chain.len() && contains(chain, other) && points(chain) >= points(other)
            })
    };
    passing.iter().filter(|chain| !dominated(chain)).cloned().collect()
}

/// Does the multiset `big` contain the multiset `small`?
fn contains(big: &[usize], small: &[usize]) -> bool {
    let count = |chain: &[usize], t: usize| chain.iter().filter(|&&x| x == t).count();
    small.iter().all(|&t| count(small, t) <= count(big, t))
}

/// Class and level of the two sockets, and phantom power that is always on.
fn class_fits(rig: &Rig, rules: Rules, a: usize, b: usize) -> bool {
    let (from, to) = (&rig.sockets[a], &rig.sockets[b]);
    let (class, range) = from.classes[0];
    if is_supply(rig, class) {
        return to
            .classes
            .iter()
            .any(|&(c, _)| c == class || (!rules.has(Rule::SupplyClass) && is_supply(rig, c)));
    }
    let Some(&(_, window)) = to.classes.iter().find(|&&(c, _)| c == class) else { return false };
    if rules.has(Rule::Level) && (range.0.max(window.0) > range.1.min(window.1)) {
        return false;
    }
    if !rules.has(Rule::Phantom) {
        return true;
    }
    match from.phantom {
        Phantom::Harmed => to.phantom != Phantom::On,
        Phantom::Needs => rig.classes[class] == "mic" && matches!(to.phantom, Phantom::Switch | Phantom::On),
        _ => true,
    }
}

/// Chains of the allowed shapes whose plugs mate all along and whose pieces may carry the class.
fn mating(rig: &Rig, a: usize, b: usize) -> Vec<Vec<usize>> {
    let (from, to) = (&rig.sockets[a], &rig.sockets[b]);
    let class = from.classes[0].0;
    let mut found = Vec::new();
    let direct = from.con.iter().any(|&c| to.con.iter().any(|&d| c.mates(d)));
    if direct && (from.tail > 0 || to.tail > 0) {
        found.push(Vec::new());
    }
    let mut stack: Vec<(Vec<usize>, Vec<Connector>)> = vec![(Vec::new(), from.con.clone())];
    while let Some((chain, open)) = stack.pop() {
        if !chain.is_empty() && open.iter().any(|&c| to.con.iter().any(|&d| c.mates(d))) {
            found.push(chain.clone());
        }
        for (t, lead) in rig.leads.iter().enumerate() {
            let mut longer = chain.clone();
            longer.push(t);
            let used = chain.iter().filter(|&&x| x == t).count();
            let left = usize::try_from(lead.owned).unwrap_or(0);
            if used >= left || !lead.classes.contains(&class) || !shape_allowed(rig, &longer) {
                continue;
            }
            // Either way round; the far ends of both ways are open for the next piece.
            let mut far = Vec::new();
            for (near_end, far_end) in [(lead.ends[0], lead.ends[1]), (lead.ends[1], lead.ends[0])] {
                if open.iter().any(|&c| c.mates(near_end)) && !far.contains(&far_end) {
                    far.push(far_end);
                }
            }
            if !far.is_empty() {
                stack.push((longer, far));
            }
        }
    }
    found.sort();
    found.dedup();
    found
}

/// One lead with at most two adapters, at most two adapters, or two leads with at most one adapter.
fn shape_allowed(rig: &Rig, chain: &[usize]) -> bool {
    let adapters = chain.iter().filter(|&&t| rig.leads[t].length == 0).count();
    match chain.len() - adapters {
        0 | 1 => adapters <= 2,
        2 => adapters <= 1,
        _ => false,
    }
}

/// Lengths and tails against the rises and 1.2 times the straight distance, in whole numbers.
fn reaches(rig: &Rig, rules: Rules, a: usize, b: usize, chain: &[usize]) -> bool {
    if !rules.has(Rule::TwoLeads) && chain.iter().filter(|&&t| rig.leads[t].length > 0).count() > 1 {
        return false;
    }
    if !rules.has(Rule::Reach) {
        return true;
    }
    let (from, to) = (&rig.sockets[a], &rig.sockets[b]);
    let rises = if rules.has(Rule::Rise) { from.rise + to.rise } else { 0 };
    let have = chain.iter().map(|&t| rig.leads[t].length).sum::<i64>() + from.tail + to.tail - rises;
    have >= 0 && 25 * have * have >= 36 * square_distance(rig.gear[from.gear].pos, rig.gear[to.gear].pos)
}

pub(super) fn square_distance(one: (i64, i64), two: (i64, i64)) -> i64 {
    let (dx, dy) = (one.0 - two.0, one.1 - two.1);
    dx * dx + dy * dy
}

/// Stereo, sum, dup, two-wire pieces, and balanced pieces where phantom power is needed.
fn sound_fits(rig: &Rig, rules: Rules, a: usize, b: usize, chain: &[usize]) -> bool {
    let (from, to) = (&rig.sockets[a], &rig.sockets[b]);
    let wiring: Vec<Wiring> = chain.iter().map(|&t| rig.leads[t].wiring).collect();
    if rules.has(Rule::Phantom) && from.phantom == Phantom::Needs && wiring.iter().any(|&w| w != Wiring::Bal)
    {
        return false;
    }
    let sums = wiring.iter().filter(|&&w| w == Wiring::Sum).count();
    let dups = wiring.iter().filter(|&&w| w == Wiring::Dup).count();
    let stereo = (from.wires == Wires::Stereo, to.wires == Wires::Stereo);
    let counts = match stereo {
        (true, true) => sums == 0 && dups == 0 && !wiring.contains(&Wiring::Ts),
        (true, false) => sums == 1 && dups == 0,
        (false, true) => sums == 0 && dups == 1,
        (false, false) => sums == 0 && dups == 0,
    };
    if !counts || !rules.has(Rule::Sum) {
        return counts;
    }
    let two_wire_before_sum =
        wiring.iter().position(|&w| w == Wiring::Sum).is_some_and(|at| wiring[..at].contains(&Wiring::Ts));
    let two_wire_after_dup = wiring
        .iter()
        .position(|&w| w == Wiring::Dup)
        .is_some_and(|at| wiring[at + 1..].contains(&Wiring::Ts));
    !two_wire_before_sum && !two_wire_after_dup
}
