//! Judges a finished plan: is it valid, what is carried, how it differs.

use crate::neutral::{Loss, Rank, Rig};

use super::Values;
use super::carry::{self, Heard, Hop, Label, Scene};
use super::cost::{self, Cost, Mended};
use super::node::{Act, Acts, Node, Status};
use super::options::Options;
use super::power::{self, Before};
use super::rules::{Rule, Rules};
use super::safety::{self, Unsafe};
use super::table::{Down, Table};

/// What was so before anything was touched, and what is taken to be so.
#[derive(Clone, Debug)]
pub(super) struct Given {
    pub(super) live_before: Vec<bool>,
    /// The whole fault.
    pub(super) fault: Down,
    /// By part: carried by the normal patch, so it counts.
    pub(super) counted: Vec<bool>,
    /// By part and gear: the speaker carries the part in the normal patch.
    pub(super) speakers_before: Vec<Vec<bool>>,
    /// By part and gear: silencing this pair is harm.
    pub(super) harm_pair: Vec<Vec<bool>>,
    /// By fact that nobody has checked: it is taken to hold where it is judged who hears what.
    pub(super) holds: Vec<bool>,
    /// How many facts a plan is said to rely on.
    pub(super) conditions: i64,
}

impl Given {
    pub(super) fn of(rig: &Rig, rules: Rules, lost: &[Loss]) -> Given {
        let mut whole = Table::new(rig, rules, &[], &[]);
        let untouched = Options::untouched(&whole);
        let live_before = power::live(&whole, &untouched, &whole.down, None);
        let mut given = Given {
            live_before,
            fault: Down::of(rig, &[]),
            counted: rig.parts.iter().map(|part| part.rank != Rank::Never).collect(),
            speakers_before: vec![vec![false; rig.gear.len()]; rig.parts.len()],
            harm_pair: vec![vec![false; rig.gear.len()]; rig.parts.len()],
            holds: vec![true; rig.facts.len()],
            conditions: 0,
        };
        let before = Hearing::of(&whole, &given, &untouched, &whole.down, &[]);
        given.fault = Down::of(rig, lost);
        whole.fault = given.fault.clone();
        // What still sounds for certain: with nothing taken to hold that nobody has checked.
        given.holds = vec![!rules.has(Rule::Facts); rig.facts.len()];
        let after = Hearing::of(&whole, &given, &Options::untouched(&whole), &given.fault, &[]);
        given.holds = vec![true; rig.facts.len()];
        for (p, part) in rig.parts.iter().enumerate() {
            given.counted[p] = !before.ways[p].is_empty();
            given.speakers_before[p] = before.speakers(rig, p);
            let ranked = part.rank != Rank::Nice || !rules.has(Rule::NiceHarm);
            if given.counted[p] && ranked && rules.has(Rule::Harm) {
                given.harm_pair[p] = after.speakers(rig, p);
            }
        }
        given
    }
}

/// What is heard in a scene, part by part.
#[derive(Debug)]
pub(super) struct Hearing {
    pub(super) scene: Scene,
    /// By source.
    pub(super) labels: Vec<Vec<Label>>,
    /// By part; empty for parts that do not count.
    pub(super) ways: Vec<Vec<Heard>>,
}

impl Hearing {
    /// Spreads every source through what may work; `more` are links beyond those of the normal patch.
    pub(super) fn of(
        table: &Table<'_>,
        given: &Given,
        options: &Options,
        down: &Down,
        more: &[Hop],
    ) -> Hearing {
        let rig = table.rig;
        let live =
            power::live(table, options, down, Some(Before { live: &given.live_before, fault: &given.fault }));
        let mut hops = carry::normal_hops(table, options, down);
        hops.extend(more.iter().filter(|hop| carry::passes(table, options, down, &hop.wire)).cloned());
        let scene = Scene::as_is(table, options, down, &given.holds, live, hops);
        let wanted =
            |source: usize| rig.parts.iter().zip(&given.counted).any(|(p, &c)| c && p.source == source);
        let labels: Vec<Vec<Label>> = (0..rig.sources.len())
            .map(|s| if wanted(s) { carry::spread(table, options, &scene, s) } else { Vec::new() })
            .collect();
        let hear = |(part, &counted): (&crate::neutral::Part, &bool)| {
            if !counted {
                return Vec::new();
            }
            let need = rig.listeners[part.listener].need;
            carry::heard(table, options, &scene, &labels[part.source], part.listener, need)
        };
        let ways = rig.parts.iter().zip(&given.counted).map(hear).collect();
        Hearing { scene, labels, ways }
    }

    /// By gear: does it carry the part?
    pub(super) fn speakers(&self, rig: &Rig, part: usize) -> Vec<bool> {
        let mut speakers = vec![false; rig.gear.len()];
        for way in &self.ways[part] {
            speakers[way.speaker] = true;
        }
        speakers
    }
}

/// Why a plan is not valid.
#[derive(Clone, Debug)]
pub(super) enum Wrong {
    /// A new link or act at gear that is still packed.
    Packed(usize),
    /// Started without power.
    Powerless(usize),
    /// An out-socket that has to stay loaded and is not.
    Unloaded(usize),
    Unsafe(Unsafe),
}

/// A plan, judged. With pairs joined by links not named yet it is only a guess of one.
#[derive(Debug)]
pub(super) struct Verdict {
    pub(super) options: Options,
    pub(super) hearing: Hearing,
    pub(super) cost: Cost,
    pub(super) values: Values,
    pub(super) wrong: Option<Wrong>,
}

pub(super) fn judge(table: &Table<'_>, given: &Given, acts: &Acts, node: &Node, mended: &Mended) -> Verdict {
    let options = node.exactly(table, acts);
    let new_hop =
        |&i: &usize| Hop { wire: table.new[i].wire.clone(), twice_secs: 0, pts: 0, new: Some((i, i)) };
    let hops: Vec<Hop> = options.new.iter().filter(|&&i| !table.new[i].wire.supply).map(new_hop).collect();
    let hearing = Hearing::of(table, given, &options, &table.down, &hops);
    let cost = cost::cost(table, acts, node, mended, false);
    let wrong = packed(table, acts, node, &options)
        .or_else(|| powerless(acts, node, &hearing.scene))
        .or_else(|| safety::unloaded(table, &options).map(Wrong::Unloaded))
        .or_else(|| safety::first_wrong(table, &options).map(Wrong::Unsafe));
    let values = values(table, given, &hearing, &cost);
    Verdict { options, hearing, cost, values, wrong }
}

fn packed(table: &Table<'_>, acts: &Acts, node: &Node, options: &Options) -> Option<Wrong> {
    let sockets = options.new.iter().flat_map(|&i| [table.new[i].wire.from, table.new[i].wire.to]);
    let handled = acts.list.iter().enumerate().filter(|&(i, _)| node.status[i] == Status::In);
    let knobs = handled.filter_map(|(_, act)| match *act {
        Act::Knob(route) => Some(table.rig.routes[route].gear),
        Act::Bank(bank) => Some(table.rig.banks[bank].gear),
        Act::Mute(mute) => Some(table.rig.mutes[mute].gear),
        Act::Start(gear) => Some(gear),
        Act::New(_) | Act::Pull { .. } | Act::Place { .. } => None,
    });
    sockets.map(|s| table.rig.sockets[s].gear).chain(knobs).find(|&g| !options.out(g)).map(Wrong::Packed)
}

fn powerless(acts: &Acts, node: &Node, scene: &Scene) -> Option<Wrong> {
    let started = acts.list.iter().enumerate().filter(|&(i, _)| node.status[i] == Status::In);
    started
        .filter_map(|(_, act)| if let Act::Start(gear) = *act { Some(gear) } else { None })
        .find(|&gear| !scene.live[gear])
        .map(Wrong::Powerless)
}

fn values(table: &Table<'_>, given: &Given, hearing: &Hearing, cost: &Cost) -> Values {
    let rig = table.rig;
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
        let now = hearing.speakers(rig, p);
        values.harm +=
            given.harm_pair[p].iter().zip(&now).map(|(pair, now)| i64::from(*pair && !now)).sum::<i64>();
        let Some(least) = hearing.ways[p].iter().map(|way| way.pts).min() else { continue };
        match part.rank {
            Rank::Must => values.must -= part.weight,
            Rank::Should => values.should -= part.weight,
            Rank::Nice => values.nice -= part.weight,
            Rank::Never => {}
        }
        let lost = (0..rig.gear.len()).filter(|&g| given.speakers_before[p][g] && !now[g]).count();
        values.diff += least + 2 * i64::try_from(lost).unwrap_or(0);
    }
    values
}
