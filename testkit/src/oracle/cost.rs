//! Seconds, moves and stock of a plan.

use super::node::{Act, Acts, Node, Status};
use super::rules::Rule;
use super::table::{New, Table};

/// What the mends of a plan cost; the same for every plan with the same mends.
#[derive(Clone, Debug, Default)]
pub(super) struct Mended {
    pub(super) secs: i64,
    pub(super) moves: i64,
    pub(super) touches: Vec<usize>,
    pub(super) opens_case: bool,
}

/// What a plan costs.
#[derive(Clone, Debug)]
pub(super) struct Cost {
    pub(super) seconds: i64,
    pub(super) moves: i64,
    /// Lead types that run out.
    pub(super) short: Vec<usize>,
    /// Lead types fetched from stage or case.
    pub(super) fetched: Vec<usize>,
    /// Points of the chains of new links.
    pub(super) pts: i64,
}

/// The cost of the acts that are in.
///
/// With `hopeful`, the least that any plan grown from this one can cost: every normal link whose pieces may
/// still come free counts as freed. Everything else only ever grows when an act is added.
pub(super) fn cost(table: &Table<'_>, acts: &Acts, node: &Node, mended: &Mended, hopeful: bool) -> Cost {
    let rig = table.rig;
    let (mut secs, mut moves, mut boot) = (mended.secs, mended.moves, 0);
    let mut touched = vec![false; rig.gear.len()];
    for &gear in &mended.touches {
        touched[gear] = true;
    }
    let mut opens = mended.opens_case;
    for (_, &act) in acts.list.iter().enumerate().filter(|&(i, _)| node.status[i] == Status::In) {
        match act {
            Act::New(i) => {
                let new = &table.new[i];
                secs += new.secs;
                moves += new.moves;
                for &gear in &new.touches {
                    touched[gear] = true;
                }
            }
            Act::Pull { link, end } => {
                secs += rig.steps.unplug;
                moves += 1;
                touched[rig.sockets[table.normal[link].socket(end)].gear] = true;
                // What has to stay loaded goes to standby, whichever end comes out.
                let from = &rig.sockets[table.normal[link].wire.from];
                touched[from.gear] |= from.loaded;
            }
            Act::Place { gear, place } => {
                secs += rig.gear[gear].places[place].secs;
                moves += 1;
                touched[gear] = true;
                opens |= rig.gear[gear].place.is_none();
            }
            Act::Knob(route) => {
                secs += rig.steps.knob;
                moves += 1;
                touched[rig.routes[route].gear] = true;
            }
            Act::Bank(bank) => {
                secs += rig.steps.knob + rig.banks[bank].wait;
                moves += 1;
                touched[rig.banks[bank].gear] = true;
            }
            Act::Mute(mute) => {
                secs += rig.steps.knob;
                moves += 1;
                touched[rig.mutes[mute].gear] = true;
            }
            Act::Start(gear) => {
                secs += rig.steps.start;
                moves += 1;
                touched[gear] = true;
                if table.rules.has(Rule::Boot) {
                    boot = boot.max(rig.gear[gear].boot);
                }
            }
        }
    }
    let mut pts: i64 = node.new.iter().map(|&i| table.new[i].pts).sum();
    for &pair in &node.joined {
        // Whichever link it will be, it costs this much and touches these.
        let choice = node.choice(table, acts, pair);
        let least = |of: fn(&New) -> i64| choice.iter().map(|&i| of(&table.new[i])).min().unwrap_or(0);
        secs += least(|new| new.secs);
        moves += least(|new| new.moves);
        pts += least(|new| new.pts);
        for gear in choice.first().map_or(&[][..], |&i| &table.new[i].touches) {
            touched[*gear] |= choice.iter().all(|&i| table.new[i].touches.contains(gear));
        }
    }
    secs += boot;
    secs += touched.iter().zip(&table.go).filter(|(t, _)| **t).map(|(_, go)| go).sum::<i64>();

    let balance = balance(table, acts, node, hopeful);
    let (mut short, mut fetched) = (Vec::new(), Vec::new());
    for (t, &missing) in balance.iter().enumerate().filter(|(_, missing)| **missing > 0) {
        fetched.push(t);
        let [stage, case] = table.spare[t];
        let from_stage = missing.min(stage);
        let from_case = (missing - from_stage).min(case);
        let nowhere = missing - from_stage - from_case;
        secs += from_stage * rig.steps.item_stage + from_case * rig.steps.item_case;
        opens |= from_case > 0;
        if nowhere > 0 && table.rules.has(Rule::Stock) {
            short.push(t);
        }
        // Without the rule, what runs out lies on stage.
        secs += nowhere * rig.steps.item_stage;
    }
    if opens && table.rules.has(Rule::Case) {
        secs += rig.steps.open_case;
    }
    Cost { seconds: secs, moves, short, fetched, pts }
}

/// Pieces needed less pieces freed, by lead type.
fn balance(table: &Table<'_>, acts: &Acts, node: &Node, hopeful: bool) -> Vec<i64> {
    let mut balance = vec![0; table.rig.leads.len()];
    for &i in &node.new {
        for &t in &table.new[i].takes {
            balance[t] += 1;
        }
        for &t in &table.new[i].frees {
            balance[t] -= 1;
        }
    }
    if !table.rules.has(Rule::Freed) {
        return balance;
    }
    for (link, normal) in table.normal.iter().enumerate() {
        let freed = normal.in_hand(node.pulled(acts, link)) || (hopeful && may_free(table, acts, node, link));
        if freed && !node.claimed(table, link) {
            for (piece, &t) in normal.via.iter().enumerate() {
                if normal.alive[piece] {
                    balance[t] -= 1;
                }
            }
        }
    }
    balance
}

/// May pieces of a normal link still come free, by pulls or by a new link that keeps only some of them?
fn may_free(table: &Table<'_>, acts: &Acts, node: &Node, link: usize) -> bool {
    let normal = &table.normal[link];
    let may_pull = [0, 1].map(|end| acts.pull(link, end).is_some_and(|i| node.status[i] != Status::Out));
    normal.in_hand(may_pull)
        || (0..table.new.len()).any(|i| {
            table.new[i].kept.is_some_and(|(kept, _)| kept == link)
                && node.status[acts.link(i)] == Status::Open
                && node.fits(table, acts, i)
        })
}
