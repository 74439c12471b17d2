//! The best that a half-made plan may still become: each value on its own, never worse than it can be.

use crate::neutral::Rank;

use super::carry::{Heard, Hop};
use super::cost::{self, Mended};
use super::judge::{Given, Hearing};
use super::node::{Acts, Node, Status};
use super::options::Options;
use super::table::Table;
use super::{Goal, Values};

/// What may still be heard, and the least values that follow.
#[derive(Debug)]
pub(super) struct Hope {
    pub(super) hearing: Hearing,
    pub(super) values: Values,
    /// Leads run out even if all that can come free does.
    pub(super) short: bool,
}

/// Bounds every value of any valid plan grown from `node` that is to beat `best`.
///
/// Must, should, nice and harm are bounded by what may still be heard at all. Seconds and points also count the
/// cheapest way of every part without which the plan could not even tie with `best` up to that part's rank; a plan
/// without such a part is worse than `best` anyway, so leaving it out of the bound loses nothing.
pub(super) fn hope(
    table: &Table<'_>,
    given: &Given,
    acts: &Acts,
    node: &Node,
    mended: &Mended,
    goal: Goal,
    best: Option<&Values>,
) -> Hope {
    let options = node.possibly(table, acts);
    let hearing = Hearing::of(table, given, &options, &table.down, &hops(table, acts, node, &options));
    let rig = table.rig;
    let cost = cost::cost(table, acts, node, mended, true);
    let mut values = Values {
        must: 0,
        harm: 0,
        conditions: given.conditions,
        should: 0,
        nice: 0,
        seconds: cost.seconds,
        diff: cost.pts,
        moves: cost.moves,
    };
    for (p, part) in rig.parts.iter().enumerate().filter(|&(p, _)| given.counted[p]) {
        if !hearing.ways[p].is_empty() {
            match part.rank {
                Rank::Must => values.must -= part.weight,
                Rank::Should => values.should -= part.weight,
                Rank::Nice => values.nice -= part.weight,
                Rank::Never => {}
            }
        }
        let may = hearing.speakers(rig, p);
        values.harm += (0..rig.gear.len()).map(|g| i64::from(given.harm_pair[p][g] && !may[g])).sum::<i64>();
    }
    if let Some(best) = best {
        paths(table, given, &hearing, goal, best, &mut values);
    }
    Hope { hearing, values, short: !cost.short.is_empty() }
}

/// Adds the seconds and points of paths that are needed to tie with `best`.
fn paths(
    table: &Table<'_>,
    given: &Given,
    hearing: &Hearing,
    goal: Goal,
    best: &Values,
    values: &mut Values,
) {
    let (mut twice_secs, mut chain_pts) = (0, 0);
    // A plan may give something up for a gain in what stands before it, so a criterion asks for its parts only
    // when nothing before it can be gained.
    let gains = |ours: i64, theirs: i64| ours < theirs;
    let must = gains(values.must, best.must);
    let should = gains(values.should, best.should);
    let harm = gains(values.harm, best.harm);
    let conditions = gains(values.conditions, best.conditions);
    let (asks_harm, asks_should, asks_nice) = match goal {
        Goal::Must => (!must, false, false),
        Goal::Now => (!must, !must && !harm && !conditions, !must && !harm && !conditions && !should),
        Goal::Full => (!must && !should, !must, !must && !harm && !should),
        Goal::Break => (false, !must, !must && !should),
    };
    for (p, part) in table.rig.parts.iter().enumerate().filter(|&(p, _)| !hearing.ways[p].is_empty()) {
        let slack = |ours: i64, theirs: i64| ours + part.weight > theirs;
        let needed = match part.rank {
            Rank::Must => slack(values.must, best.must),
            Rank::Should => asks_should && slack(values.should, best.should),
            Rank::Nice => asks_nice && slack(values.nice, best.nice),
            Rank::Never => false,
        };
        let ways = &hearing.ways[p];
        if needed {
            twice_secs = twice_secs.max(least(ways, |way| way.twice_secs));
            let bare = least(ways, |way| way.pts);
            chain_pts = chain_pts.max(least(ways, |way| way.chain_pts) - bare);
            let may = hearing.speakers(table.rig, p);
            let lost = (0..may.len()).filter(|&g| given.speakers_before[p][g] && !may[g]).count();
            values.diff += bare + 2 * i64::try_from(lost).unwrap_or(0);
        }
        if asks_harm && values.harm + 1 > best.harm {
            for g in (0..table.rig.gear.len()).filter(|&g| given.harm_pair[p][g]) {
                let at: Vec<Heard> = ways.iter().filter(|way| way.speaker == g).copied().collect();
                if !at.is_empty() {
                    twice_secs = twice_secs.max(least(&at, |way| way.twice_secs));
                }
            }
        }
    }
    values.seconds += (twice_secs + 1) / 2;
    values.diff += chain_pts;
}

fn least(ways: &[Heard], of: impl Fn(&Heard) -> i64) -> i64 {
    ways.iter().map(of).min().unwrap_or(0)
}

/// New sound links that are in, and those that may still come, joined by pair of sockets.
fn hops(table: &Table<'_>, acts: &Acts, node: &Node, options: &Options) -> Vec<Hop> {
    let mut hops: Vec<Hop> = Vec::new();
    for &i in options.new.iter().filter(|&&i| !table.new[i].wire.supply) {
        let new = &table.new[i];
        let joined = node.joined.contains(&(new.wire.from, new.wire.to));
        if joined || node.status[acts.link(i)] == Status::In {
            hops.push(Hop { wire: new.wire.clone(), twice_secs: 0, pts: 0, new: Some((i, i)) });
            continue;
        }
        // A pull may serve two new links, so each bears half of it; what is pulled already is paid.
        let open_pulls = new.pulls.iter().filter(|&&(link, end)| node.is_open(acts.pull(link, end))).count();
        let twice_secs = 2 * new.secs + table.rig.steps.unplug * i64::try_from(open_pulls).unwrap_or(0);
        let same = hops.iter_mut().find(|hop| hop.wire.from == new.wire.from && hop.wire.to == new.wire.to);
        match same {
            Some(hop) => {
                let (mut quick, mut alike) = hop.new.unwrap_or((i, i));
                if twice_secs < hop.twice_secs {
                    (hop.twice_secs, quick) = (twice_secs, i);
                }
                if new.pts < hop.pts {
                    (hop.pts, alike) = (new.pts, i);
                }
                hop.new = Some((quick, alike));
            }
            None => hops.push(Hop { wire: new.wire.clone(), twice_secs, pts: new.pts, new: Some((i, i)) }),
        }
    }
    hops
}
