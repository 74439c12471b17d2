//! Which gear is live.

use crate::neutral::Battery;

use super::options::Options;
use super::rules::Rule;
use super::table::{Down, Table};

/// What was so when the fault struck.
#[derive(Clone, Copy, Debug)]
pub(super) struct Before<'f> {
    /// Gear that was live in the normal patch.
    pub(super) live: &'f [bool],
    /// The whole fault, mended or not.
    pub(super) fault: &'f Down,
}

/// A supply link that may work.
struct Feed {
    from: usize,
    to: usize,
    untouched: bool,
}

/// Which gear may be live, given what does not work.
///
/// Without `before` whatever has power is on: that is the normal patch.
pub(super) fn live(
    table: &Table<'_>,
    options: &Options,
    down: &Down,
    before: Option<Before<'_>>,
) -> Vec<bool> {
    let rig = table.rig;
    let up = |g: usize| options.out(g) && !down.gear[g];
    if !table.rules.has(Rule::Feeding) {
        return (0..rig.gear.len()).map(up).collect();
    }
    let feeds = feeds(table, options, down);
    let battery = |g: usize| match rig.gear[g].battery {
        Battery::None => false,
        Battery::Always => true,
        Battery::When(guard) => options.guard(table, Some(guard)),
    };
    // What is live with nothing in the way of it: passive gear always, outlets unless their supply is lost.
    let always = |g: usize, down: &Down| {
        let gear = &rig.gear[g];
        if gear.root { !down.supply[g] } else { !gear.needs_power }
    };
    let steady = match before {
        None => vec![true; rig.gear.len()],
        Some(before) if !table.rules.has(Rule::Steady) => before.live.to_vec(),
        Some(before) => {
            // With the rule, what lost its power when the fault struck stays off, mended or not.
            let fault = if table.rules.has(Rule::Interrupted) { before.fault } else { down };
            let kept_up = |g: usize| options.out(g) && !fault.gear[g] && before.live[g];
            let ground = |g: usize| kept_up(g) && (always(g, fault) || battery(g));
            let passes = |g: usize| kept_up(g) && !fault.supply[g];
            grow(&self::feeds(table, options, fault), rig.gear.len(), ground, passes, true)
        }
    };
    let no_start = before.is_none() || !table.rules.has(Rule::Start);
    let switched = |g: usize| steady[g] || no_start || options.started[g];
    let ground = |g: usize| up(g) && (always(g, down) || (battery(g) && switched(g)));
    let passes = |g: usize| up(g) && !down.supply[g] && (switched(g) || rig.gear[g].auto);
    grow(&feeds, rig.gear.len(), ground, passes, false)
}

/// The least set that holds the ground and whatever passes and is fed from the set.
fn grow(
    feeds: &[Feed],
    count: usize,
    ground: impl Fn(usize) -> bool,
    passes: impl Fn(usize) -> bool,
    untouched_only: bool,
) -> Vec<bool> {
    let mut set: Vec<bool> = (0..count).map(ground).collect();
    loop {
        let next = feeds
            .iter()
            .find(|f| (f.untouched || !untouched_only) && set[f.from] && !set[f.to] && passes(f.to));
        match next {
            Some(feed) => set[feed.to] = true,
            None => return set,
        }
    }
}

fn feeds(table: &Table<'_>, options: &Options, down: &Down) -> Vec<Feed> {
    let rig = table.rig;
    let works = |from: usize, to: usize| {
        !down.socket[from] && !down.socket[to] && options.guard(table, rig.sockets[to].guard)
    };
    let mut feeds = Vec::new();
    for (i, link) in table.normal.iter().enumerate() {
        let (from, to) = (link.wire.from, link.wire.to);
        let whole = down.piece[i].iter().all(|dead| !dead);
        if link.wire.supply && options.normal[i] && whole && works(from, to) {
            feeds.push(Feed { from: rig.sockets[from].gear, to: rig.sockets[to].gear, untouched: true });
        }
    }
    for &i in &options.new {
        let wire = &table.new[i].wire;
        if wire.supply && works(wire.from, wire.to) {
            let (from, to) = (rig.sockets[wire.from].gear, rig.sockets[wire.to].gear);
            feeds.push(Feed { from, to, untouched: false });
        }
    }
    feeds
}
