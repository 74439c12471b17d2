//! Leaks, sound loops and overloads, judged as if nothing had failed and everything were switched on.

use crate::neutral::{Guard, Phantom, Rank};

use super::carry::{self, Hop, Label, Scene, Step};
use super::options::Options;
use super::rules::Rule;
use super::table::{Down, Table};

/// What makes a patch unsafe, by the links, routes and gear that take part.
#[derive(Clone, Debug, Default)]
pub(super) struct Unsafe {
    /// Normal links that take part.
    pub(super) normal: Vec<usize>,
    /// New links that take part.
    pub(super) new: Vec<usize>,
    pub(super) routes: Vec<usize>,
    pub(super) makes: Vec<usize>,
    /// Gear whose placement takes part.
    pub(super) gear: Vec<usize>,
    /// Guards of what sounds.
    pub(super) guards: Vec<Guard>,
}

/// An out-socket that has to stay loaded, of gear that is out of the case, from which no link leaves.
pub(super) fn unloaded(table: &Table<'_>, options: &Options) -> Option<usize> {
    if !table.rules.has(Rule::Loads) {
        return None;
    }
    let sockets = table.rig.sockets.iter().enumerate().filter(|(_, socket)| socket.loaded);
    let mut bare = sockets.filter(|(s, socket)| {
        let normal =
            table.normal.iter().zip(&options.normal).any(|(link, &there)| there && link.wire.from == *s);
        let new = options.new.iter().any(|&i| table.new[i].wire.from == *s);
        options.out(socket.gear) && !normal && !new
    });
    bare.next().map(|(s, _)| s)
}

/// The first thing found wrong with a finished patch, if any.
pub(super) fn first_wrong(table: &Table<'_>, options: &Options) -> Option<Unsafe> {
    let nothing = Down::of(table.rig, &[]);
    // A bank counts as on when it is on by either reading: started anew, or never gone.
    let options = &Options { bank_on: options.bank_hot.clone(), ..options.clone() };
    let (hops, which) = all_hops(table, options, &nothing);
    overload(table, options)
        .or_else(|| harmed(table, options))
        .or_else(|| sound_loop(table, options, &hops, &which))
        .or_else(|| leak(table, options, &nothing, hops, &which))
}

/// Sound links of the patch, and for each whether it is normal or new and which.
fn all_hops(table: &Table<'_>, options: &Options, nothing: &Down) -> (Vec<Hop>, Vec<(bool, usize)>) {
    let (mut hops, mut which) = (Vec::new(), Vec::new());
    for (i, link) in table.normal.iter().enumerate() {
        if !link.wire.supply && options.normal[i] && carry::passes(table, options, nothing, &link.wire) {
            hops.push(Hop { wire: link.wire.clone(), twice_secs: 0, pts: 0, new: None });
            which.push((false, i));
        }
    }
    for &i in &options.new {
        let wire = &table.new[i].wire;
        if !wire.supply && carry::passes(table, options, nothing, wire) {
            hops.push(Hop { wire: wire.clone(), twice_secs: 0, pts: 0, new: Some((i, i)) });
            which.push((true, i));
        }
    }
    (hops, which)
}

fn leak(
    table: &Table<'_>,
    options: &Options,
    nothing: &Down,
    hops: Vec<Hop>,
    which: &[(bool, usize)],
) -> Option<Unsafe> {
    if !table.rules.has(Rule::Never) || table.rig.parts.iter().all(|p| p.rank != Rank::Never) {
        return None;
    }
    let scene = Scene::for_safety(table, options, nothing, hops);
    for part in table.rig.parts.iter().filter(|p| p.rank == Rank::Never) {
        let labels = carry::spread(table, options, &scene, part.source);
        // Any loudness above none is too much, so the listener's own least level does not count.
        let ways = carry::heard(table, options, &scene, &labels, part.listener, 1);
        if let Some(way) = ways.first() {
            let mut found = path(&labels, way.label, which);
            found.gear.push(way.speaker);
            found.guards.extend(carry::sound_guards(table, labels[way.label].socket));
            return Some(found);
        }
    }
    None
}

/// Everything on the way of one label.
fn path(labels: &[Label], end: usize, which: &[(bool, usize)]) -> Unsafe {
    let mut found = Unsafe::default();
    let mut at = Some(end);
    while let Some(label) = at.map(|i| &labels[i]) {
        match label.step {
            Step::Make { make, .. } => {
                found.makes.push(make);
                found.gear.push(label.maker);
            }
            Step::Hop(hop) => add_hop(&mut found, which[hop]),
            Step::Route(route) => found.routes.push(route),
        }
        at = label.before;
    }
    found
}

fn add_hop(found: &mut Unsafe, (new, i): (bool, usize)) {
    if new { found.new.push(i) } else { found.normal.push(i) }
}

/// Follows every socket's ways out until one comes back to where it started.
fn sound_loop(table: &Table<'_>, options: &Options, hops: &[Hop], which: &[(bool, usize)]) -> Option<Unsafe> {
    if !table.rules.has(Rule::Loop) {
        return None;
    }
    let rig = table.rig;
    let open = |r: usize| {
        options.on[r].is_some()
            && options.unmuted(table, r).is_some()
            && options.out(rig.routes[r].gear)
            && options.guard(table, rig.routes[r].guard)
    };
    for start in (0..rig.routes.len()).filter(|&r| open(r)) {
        // From the route's out-sockets, breadth first, back to its in-socket; remembers how each was reached.
        let mut reached: Vec<(usize, Option<usize>, Step)> =
            rig.routes[start].outs.iter().map(|&out| (out, None, Step::Route(start))).collect();
        let mut next = 0;
        while next < reached.len() {
            let socket = reached[next].0;
            if socket == rig.routes[start].from {
                let mut found = Unsafe::default();
                let mut at = Some(next);
                while let Some(i) = at {
                    match reached[i].2 {
                        Step::Hop(hop) => add_hop(&mut found, which[hop]),
                        Step::Route(route) => found.routes.push(route),
                        Step::Make { .. } => {}
                    }
                    at = reached[i].1;
                }
                return Some(found);
            }
            let mut onward: Vec<(usize, Step)> = Vec::new();
            for (h, hop) in hops.iter().enumerate().filter(|(_, hop)| hop.wire.from == socket) {
                onward.push((hop.wire.to, Step::Hop(h)));
            }
            for r in (0..rig.routes.len()).filter(|&r| rig.routes[r].from == socket && open(r)) {
                onward.extend(rig.routes[r].outs.iter().map(|&out| (out, Step::Route(r))));
            }
            for (to, step) in onward {
                if !reached.iter().any(|r| r.0 == to) {
                    reached.push((to, Some(next), step));
                }
            }
            next += 1;
        }
    }
    None
}

/// Loads of all that hangs on each piece, used or not, against its rating; and loops of supply links.
fn overload(table: &Table<'_>, options: &Options) -> Option<Unsafe> {
    if !table.rules.has(Rule::Rating) {
        return None;
    }
    let rig = table.rig;
    let mut feeds: Vec<(usize, usize, (bool, usize))> = Vec::new();
    let mut add = |wire: &super::table::Wire, which| {
        if wire.supply {
            feeds.push((rig.sockets[wire.from].gear, rig.sockets[wire.to].gear, which));
        }
    };
    for (i, link) in table.normal.iter().enumerate().filter(|&(i, _)| options.normal[i]) {
        add(&link.wire, (false, i));
    }
    for &i in &options.new {
        add(&table.new[i].wire, (true, i));
    }
    for top in 0..rig.gear.len() {
        // Depth first below `top`; a depth beyond the number of pieces can only be a loop.
        let (mut below, mut members) = (0, Unsafe::default());
        let mut stack = vec![(top, 0)];
        while let Some((gear, depth)) = stack.pop() {
            if depth > rig.gear.len() {
                return Some(members);
            }
            for &(_, to, which) in feeds.iter().filter(|f| f.0 == gear) {
                below += rig.gear[to].watts;
                add_hop(&mut members, which);
                stack.push((to, depth + 1));
            }
        }
        if rig.gear[top].cap.is_some_and(|cap| below > cap) {
            return Some(members);
        }
    }
    None
}

/// An output that phantom power harms, plugged into a bank that is on.
fn harmed(table: &Table<'_>, options: &Options) -> Option<Unsafe> {
    if !table.rules.has(Rule::Phantom) || !table.rules.has(Rule::Bank) {
        return None;
    }
    let rig = table.rig;
    let hurts = |from: usize, to: usize| {
        rig.sockets[from].phantom == Phantom::Harmed
            && rig.sockets[to].bank.is_some_and(|bank| options.bank_on[bank])
    };
    let mut found = Unsafe::default();
    for (i, link) in table.normal.iter().enumerate().filter(|&(i, _)| options.normal[i]) {
        if hurts(link.wire.from, link.wire.to) {
            found.normal.push(i);
            return Some(found);
        }
    }
    for &i in &options.new {
        if hurts(table.new[i].wire.from, table.new[i].wire.to) {
            found.new.push(i);
            return Some(found);
        }
    }
    None
}
