//! A half-made plan: each possible act is in, out or still open.

use super::memory;
use super::options::Options;
use super::rules::Rule;
use super::table::Table;

/// One act that a plan may hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Act {
    New(usize),
    Pull { link: usize, end: usize },
    Place { gear: usize, place: usize },
    Knob(usize),
    Bank(usize),
    Mute(usize),
    Start(usize),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Status {
    Open,
    In,
    Out,
}

/// All acts of a problem, and where each kind begins in the list.
#[derive(Debug)]
pub(super) struct Acts {
    pub(super) list: Vec<Act>,
    /// By link and end.
    pull: Vec<[Option<usize>; 2]>,
    /// By gear: its acts of placing.
    places: Vec<Vec<usize>>,
    knob: Vec<Option<usize>>,
    bank: Vec<Option<usize>>,
    mute: Vec<Option<usize>>,
    start: Vec<Option<usize>>,
}

impl Acts {
    /// Acts that change something: setting what already is so only costs.
    pub(super) fn of(table: &Table<'_>) -> Acts {
        let (rig, rules, down) = (table.rig, table.rules, &table.down);
        let mut list: Vec<Act> = (0..table.new.len()).map(Act::New).collect();
        let mut pull = vec![[None, None]; table.normal.len()];
        for (link, normal) in table.normal.iter().enumerate() {
            for end in [0, 1] {
                if normal.can_pull[end] {
                    pull[link][end] = Some(list.len());
                    list.push(Act::Pull { link, end });
                }
            }
        }
        let mut places = vec![Vec::new(); rig.gear.len()];
        for (gear, piece) in rig.gear.iter().enumerate() {
            if down.gear[gear] || !rules.has(Rule::Placement) {
                continue;
            }
            for place in (0..piece.places.len()).filter(|&p| piece.place != Some(p)) {
                places[gear].push(list.len());
                list.push(Act::Place { gear, place });
            }
        }
        let mut knob = vec![None; rig.routes.len()];
        for (r, route) in rig.routes.iter().enumerate() {
            if route.switch && !down.gear[route.gear] && rules.has(Rule::Knob) {
                knob[r] = Some(list.len());
                list.push(Act::Knob(r));
            }
        }
        let mut bank = vec![None; rig.banks.len()];
        for (b, knob) in rig.banks.iter().enumerate() {
            if !down.gear[knob.gear] && rules.has(Rule::Bank) {
                bank[b] = Some(list.len());
                list.push(Act::Bank(b));
            }
        }
        let mut mute = vec![None; rig.mutes.len()];
        for (m, button) in rig.mutes.iter().enumerate() {
            if !down.gear[button.gear] && rules.has(Rule::Mutes) {
                mute[m] = Some(list.len());
                list.push(Act::Mute(m));
            }
        }
        let mut start = vec![None; rig.gear.len()];
        for (g, gear) in rig.gear.iter().enumerate() {
            if gear.needs_power && !gear.root && !down.gear[g] && rules.has(Rule::Start) {
                start[g] = Some(list.len());
                list.push(Act::Start(g));
            }
        }
        Acts { list, pull, places, knob, bank, mute, start }
    }

    pub(super) fn link(&self, i: usize) -> usize {
        // New links come first in the list.
        i
    }

    pub(super) fn pull(&self, link: usize, end: usize) -> Option<usize> {
        self.pull[link][end]
    }

    pub(super) fn placing(&self, gear: usize) -> &[usize] {
        &self.places[gear]
    }

    pub(super) fn knob(&self, route: usize) -> Option<usize> {
        self.knob[route]
    }

    pub(super) fn bank(&self, bank: usize) -> Option<usize> {
        self.bank[bank]
    }

    pub(super) fn mute(&self, mute: usize) -> Option<usize> {
        self.mute[mute]
    }

    pub(super) fn start(&self, gear: usize) -> Option<usize> {
        self.start[gear]
    }
}

/// The state of every act.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) status: Vec<Status>,
    /// New links that are in, in the order they were taken.
    pub(super) new: Vec<usize>,
    /// Sockets that will be joined by exactly one of the new links between them; which one is still open.
    ///
    /// Most of what matters about a new link is *what it joins*. Deciding that first, and the chain last, spares
    /// refuting the same thing for every chain.
    pub(super) joined: Vec<(usize, usize)>,
}

impl Node {
    pub(super) fn root(acts: &Acts) -> Node {
        Node { status: vec![Status::Open; acts.list.len()], new: Vec::new(), joined: Vec::new() }
    }

    pub(super) fn is(&self, act: Option<usize>, status: Status) -> bool {
        act.is_some_and(|i| self.status[i] == status)
    }

    pub(super) fn is_open(&self, act: Option<usize>) -> bool {
        self.is(act, Status::Open)
    }

    /// Takes an open act in, with all that it implies; `false` when it does not go together with what is in.
    pub(super) fn take(&mut self, table: &Table<'_>, acts: &Acts, act: usize) -> bool {
        match acts.list[act] {
            Act::New(i) => {
                if !self.fits(table, acts, i) {
                    return false;
                }
                for &(link, end) in &table.new[i].pulls {
                    if let Some(pull) = acts.pull(link, end) {
                        self.status[pull] = Status::In;
                    }
                }
                if let Some(pull) = table.new[i].kept.and_then(|(link, end)| acts.pull(link, end)) {
                    self.status[pull] = Status::Out;
                }
                let wire = &table.new[i].wire;
                self.joined.retain(|&pair| pair != (wire.from, wire.to));
                self.new.push(i);
            }
            Act::Place { gear, .. } => {
                for &other in acts.placing(gear) {
                    self.status[other] = Status::Out;
                }
            }
            Act::Pull { .. } | Act::Knob(_) | Act::Bank(_) | Act::Mute(_) | Act::Start(_) => {}
        }
        self.status[act] = Status::In;
        true
    }

    /// Joins two sockets by a new link to be named later; `false` when none is left.
    pub(super) fn join(&mut self, table: &Table<'_>, acts: &Acts, pair: (usize, usize)) -> bool {
        self.joined.push(pair);
        let choice = self.choice(table, acts, pair);
        let Some(&first) = choice.first() else { return false };
        // What every one of them needs pulled is pulled.
        for &(link, end) in &table.new[first].pulls {
            if choice.iter().all(|&i| table.new[i].pulls.contains(&(link, end)))
                && let Some(pull) = acts.pull(link, end)
            {
                self.status[pull] = Status::In;
            }
        }
        true
    }

    /// Decides that two sockets stay unjoined.
    pub(super) fn never_join(&mut self, table: &Table<'_>, acts: &Acts, pair: (usize, usize)) {
        for &i in table.between.get(&pair).map_or(&[][..], Vec::as_slice) {
            self.status[acts.link(i)] = Status::Out;
        }
    }

    /// The new links that may still join a pair.
    pub(super) fn choice(&self, table: &Table<'_>, acts: &Acts, pair: (usize, usize)) -> Vec<usize> {
        let all = table.between.get(&pair).map_or(&[][..], Vec::as_slice);
        let open = |&i: &usize| self.status[acts.link(i)] == Status::Open && self.fits(table, acts, i);
        all.iter().copied().filter(open).collect()
    }

    /// May the new link still be taken in?
    pub(super) fn fits(&self, table: &Table<'_>, acts: &Acts, i: usize) -> bool {
        let new = &table.new[i];
        let sockets_free = self.new.iter().all(|&other| {
            let other = &table.new[other];
            other.wire.from != new.wire.from
                && other.wire.to != new.wire.to
                && (new.kept.is_none() || other.kept.map(|k| k.0) != new.kept.map(|k| k.0))
        });
        let pair = (new.wire.from, new.wire.to);
        let joined_elsewhere =
            self.joined.iter().any(|&other| other != pair && (other.0 == pair.0 || other.1 == pair.1));
        let pulls = new.pulls.iter().all(|&(link, end)| !self.is(acts.pull(link, end), Status::Out));
        let kept = new.kept.is_none_or(|(link, end)| !self.is(acts.pull(link, end), Status::In));
        let stands = |socket: usize| {
            let gear = table.rig.sockets[socket].gear;
            table.rig.gear[gear].place.is_some()
                || acts.placing(gear).iter().any(|&p| self.status[p] != Status::Out)
        };
        sockets_free && !joined_elsewhere && pulls && kept && stands(new.wire.from) && stands(new.wire.to)
    }

    pub(super) fn pulled(&self, acts: &Acts, link: usize) -> [bool; 2] {
        [0, 1].map(|end| self.is(acts.pull(link, end), Status::In))
    }

    /// The normal link that a new one in the plan keeps a plug of.
    pub(super) fn claimed(&self, table: &Table<'_>, link: usize) -> bool {
        self.new.iter().any(|&i| table.new[i].kept.is_some_and(|(l, _)| l == link))
    }

    /// The plan as it stands: all that is open is left out, and a pair is joined by the first link that may.
    pub(super) fn exactly(&self, table: &Table<'_>, acts: &Acts) -> Options {
        let rig = table.rig;
        let mut options = Options::untouched(table);
        options.new.clone_from(&self.new);
        options
            .new
            .extend(self.joined.iter().filter_map(|&pair| self.choice(table, acts, pair).first().copied()));
        for (link, normal) in table.normal.iter().enumerate() {
            let pulled = self.pulled(acts, link);
            options.normal[link] = pulled == [false, false];
            for end in [0, 1] {
                options.filled[normal.socket(end)] = !normal.let_go(pulled, end);
            }
        }
        for i in options.new.clone() {
            options.filled[table.new[i].wire.from] = true;
            options.filled[table.new[i].wire.to] = true;
        }
        options.empty = options.filled.iter().map(|f| !f).collect();
        let mut turned = vec![false; rig.banks.len()];
        for (i, &act) in acts.list.iter().enumerate().filter(|&(i, _)| self.status[i] == Status::In) {
            match act {
                Act::Place { gear, place } => options.places[gear] = vec![(place, 0)],
                Act::Knob(route) => {
                    options.on[route] = if rig.routes[route].on { None } else { Some(0) };
                }
                Act::Bank(bank) => turned[bank] = true,
                Act::Mute(mute) => {
                    options.unmuted[mute] = if rig.mutes[mute].on { Some(0) } else { None };
                }
                Act::Start(gear) => options.started[gear] = true,
                Act::New(_) | Act::Pull { .. } => debug_assert!(i < acts.list.len(), "counted above"),
            }
        }
        options.set_banks(table, &turned);
        options
    }

    /// Everything that the plan may still become, and the open new links that it may still take in.
    pub(super) fn possibly(&self, table: &Table<'_>, acts: &Acts) -> Options {
        let rig = table.rig;
        let mut options = self.exactly(table, acts);
        for (link, normal) in table.normal.iter().enumerate() {
            for end in [0, 1] {
                let may_go = [0, 1].into_iter().any(|e| {
                    (e == end || normal.one_pull)
                        && !self.is(acts.pull(link, e), Status::Out)
                        && normal.can_pull[e]
                });
                // A socket that a new link holds stays filled, whatever is pulled.
                let socket = normal.socket(end);
                let taken = self
                    .new
                    .iter()
                    .any(|&i| [table.new[i].wire.from, table.new[i].wire.to].contains(&socket));
                options.empty[socket] |= may_go && !taken;
            }
        }
        for i in (0..table.new.len()).filter(|&i| self.status[acts.link(i)] == Status::Open) {
            let wire = &table.new[i].wire;
            if !self.joined.contains(&(wire.from, wire.to)) && self.fits(table, acts, i) {
                options.new.push(i);
                options.filled[table.new[i].wire.from] = true;
                options.filled[table.new[i].wire.to] = true;
            }
        }
        for (i, &act) in acts.list.iter().enumerate().filter(|&(i, _)| self.status[i] == Status::Open) {
            match act {
                Act::Place { gear, place } => {
                    options.places[gear].push((place, rig.gear[gear].places[place].secs))
                }
                Act::Knob(route) if !rig.routes[route].on => options.on[route] = Some(rig.steps.knob),
                Act::Mute(mute) if rig.mutes[mute].on => options.unmuted[mute] = Some(rig.steps.knob),
                Act::Start(gear) => options.started[gear] = true,
                Act::Bank(_) | Act::Mute(_) | Act::Knob(_) | Act::New(_) | Act::Pull { .. } => {
                    debug_assert!(i < acts.list.len(), "counted above")
                }
            }
        }
        let forgotten = memory::forgotten(table, &options);
        for (b, bank) in rig.banks.iter().enumerate() {
            let act = acts.bank(b);
            let (in_plan, open) = (self.is(act, Status::In), self.is_open(act));
            let kept = if bank.on { !in_plan } else { in_plan || open };
            // A bank that may still forget comes on again by being turned over.
            options.bank_on[b] = (!forgotten[b] && kept) || (bank.forgets && (in_plan || open));
        }
        options
    }
}
