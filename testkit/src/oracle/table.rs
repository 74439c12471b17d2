//! A problem with a given set of losses and rules, worked out into lists that plans are made of.

use std::collections::BTreeMap;

use crate::neutral::{Loss, Rig, Span, Wires};

use super::links;
use super::rules::{Rule, Rules};

/// What does not work.
#[derive(Clone, Debug)]
pub(super) struct Down {
    pub(super) gear: Vec<bool>,
    pub(super) sound: Vec<bool>,
    pub(super) make: Vec<bool>,
    pub(super) supply: Vec<bool>,
    pub(super) route: Vec<bool>,
    pub(super) socket: Vec<bool>,
    /// By link and piece of the normal patch.
    pub(super) piece: Vec<Vec<bool>>,
    /// Spare pieces missing on stage, in the case; by lead type.
    pub(super) missing: Vec<[i64; 2]>,
}

impl Down {
    pub(super) fn of(rig: &Rig, lost: &[Loss]) -> Down {
        let mut down = Down {
            gear: vec![false; rig.gear.len()],
            sound: vec![false; rig.gear.len()],
            make: vec![false; rig.gear.len()],
            supply: vec![false; rig.gear.len()],
            route: vec![false; rig.routes.len()],
            socket: vec![false; rig.sockets.len()],
            piece: rig.patch.iter().map(|link| vec![false; link.via.len()]).collect(),
            missing: vec![[0, 0]; rig.leads.len()],
        };
        for loss in lost {
            match *loss {
                Loss::Gear(g) => down.gear[g] = true,
                Loss::Sound(g) => down.sound[g] = true,
                Loss::Make(g) => down.make[g] = true,
                Loss::Supply(g) => down.supply[g] = true,
                Loss::Route(r) => down.route[r] = true,
                Loss::Socket(s) => down.socket[s] = true,
                Loss::Piece { link, piece } => down.piece[link][piece] = true,
                Loss::Spare { lead, count, in_case } => down.missing[lead][usize::from(in_case)] += count,
            }
        }
        down
    }
}

/// How a link looks to sound and power: shared by normal and new links.
#[derive(Clone, Debug)]
pub(super) struct Wire {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) supply: bool,
    /// Window of the in-socket for the class of the out-socket; `None` when it is not accepted.
    pub(super) window: Option<Span>,
    /// Stereo to stereo: the side stays what it is.
    pub(super) keeps_side: bool,
}

impl Wire {
    fn new(rig: &Rig, from: usize, to: usize) -> Wire {
        let class = rig.sockets[from].classes[0].0;
        let stereo = |s: usize| rig.sockets[s].wires == Wires::Stereo;
        Wire {
            from,
            to,
            supply: links::is_supply(rig, class),
            window: rig.sockets[to].classes.iter().find(|&&(c, _)| c == class).map(|&(_, window)| window),
            keeps_side: stereo(from) && stereo(to),
        }
    }
}

/// A link of the normal patch.
#[derive(Clone, Debug)]
pub(super) struct Normal {
    pub(super) wire: Wire,
    pub(super) via: Vec<usize>,
    pub(super) alive: Vec<bool>,
    /// Which of its two ends (0 at the out-socket) can be pulled at all.
    pub(super) can_pull: [bool; 2],
    /// One pull lets go of the whole link: with *tail kept*, parting a tail from what it is joined to is free.
    pub(super) one_pull: bool,
}

impl Normal {
    pub(super) fn socket(&self, end: usize) -> usize {
        if end == 0 { self.wire.from } else { self.wire.to }
    }

    /// Is the plug at `end` out, and are the pieces in hand, with these pulls?
    pub(super) fn let_go(&self, pulled: [bool; 2], end: usize) -> bool {
        pulled[end] || (self.one_pull && pulled[1 - end])
    }

    pub(super) fn in_hand(&self, pulled: [bool; 2]) -> bool {
        self.let_go(pulled, 0) && self.let_go(pulled, 1)
    }
}

/// A new link that a plan may make, fresh or kept.
#[derive(Clone, Debug)]
pub(super) struct New {
    pub(super) wire: Wire,
    pub(super) chain: Vec<usize>,
    /// The normal link kept, and the end whose plug stays in.
    pub(super) kept: Option<(usize, usize)>,
    /// Pulls that must be made: (link, end).
    pub(super) pulls: Vec<(usize, usize)>,
    /// Pieces to be found, by lead type.
    pub(super) takes: Vec<usize>,
    /// Live pieces of the kept link that are not used again.
    pub(super) frees: Vec<usize>,
    /// Seconds of its own: ends, joints, level.
    pub(super) secs: i64,
    /// Gear touched by its ends and its level.
    pub(super) touches: Vec<usize>,
    pub(super) moves: i64,
    pub(super) pts: i64,
}

/// The whole problem, ready for plans.
#[derive(Debug)]
pub(super) struct Table<'p> {
    pub(super) rig: &'p Rig,
    pub(super) rules: Rules,
    /// What does not work, now that what is mended is mended.
    pub(super) down: Down,
    /// The whole fault, mended or not.
    pub(super) fault: Down,
    pub(super) normal: Vec<Normal>,
    pub(super) new: Vec<New>,
    /// New links by out-socket and in-socket.
    pub(super) between: BTreeMap<(usize, usize), Vec<usize>>,
    /// Seconds to go to each piece, and to quieten it.
    pub(super) go: Vec<i64>,
    /// Spare leads by type: on stage, in the case.
    pub(super) spare: Vec<[i64; 2]>,
}

impl<'p> Table<'p> {
    /// `lost` is what is still lost, `fault` what was lost before anything was mended.
    pub(super) fn new(rig: &'p Rig, rules: Rules, lost: &[Loss], fault: &[Loss]) -> Table<'p> {
        let down = Down::of(rig, lost);
        let normal = normal_links(rig, &down);
        let mut table = Table {
            rig,
            rules,
            spare: spare(rig, &down),
            go: rig
                .gear
                .iter()
                .map(|gear| go(rig, gear.pos) + if gear.loud { rig.steps.quiet } else { 0 })
                .collect(),
            down,
            fault: Down::of(rig, fault),
            normal,
            new: Vec::new(),
            between: BTreeMap::new(),
        };
        table.new = new_links(&table);
        for (i, new) in table.new.iter().enumerate() {
            table.between.entry((new.wire.from, new.wire.to)).or_default().push(i);
        }
        table
    }

    /// The normal link and end that fill a socket in the normal patch.
    pub(super) fn plug_at(&self, socket: usize) -> Option<(usize, usize)> {
        let end = usize::from(!self.rig.sockets[socket].out);
        self.normal.iter().position(|link| link.socket(end) == socket).map(|link| (link, end))
    }
}

/// The least whole seconds in which the distance can be walked.
fn go(rig: &Rig, pos: (i64, i64)) -> i64 {
    let square = links::square_distance(rig.home, pos);
    let mut seconds = 0;
    while rig.walk * seconds * rig.walk * seconds < square {
        seconds += 1;
    }
    seconds
}

fn spare(rig: &Rig, down: &Down) -> Vec<[i64; 2]> {
    let used = |t: usize| rig.patch.iter().flat_map(|link| &link.via).filter(|&&x| x == t).count();
    let spare_of = |t: usize| {
        let lead = &rig.leads[t];
        let in_patch = i64::try_from(used(t)).unwrap_or(i64::MAX);
        let stage = (lead.owned - lead.case - in_patch - down.missing[t][0]).max(0);
        let case = (lead.case - down.missing[t][1]).max(0);
        [stage, case]
    };
    (0..rig.leads.len()).map(spare_of).collect()
}

fn normal_links(rig: &Rig, down: &Down) -> Vec<Normal> {
    let one = |i: usize| {
        let link = &rig.patch[i];
        let tail = [rig.sockets[link.from].tail > 0, rig.sockets[link.to].tail > 0];
        let can_pull = match (rig.tail_kept, tail) {
            (false, _) => [true, true],
            // Between two tails only a joint with a piece can be parted.
            (true, [true, true]) => [!link.via.is_empty(); 2],
            (true, [a, b]) => [!a, !b],
        };
        Normal {
            wire: Wire::new(rig, link.from, link.to),
            via: link.via.clone(),
            alive: down.piece[i].iter().map(|dead| !dead).collect(),
            can_pull,
            one_pull: rig.tail_kept && tail != [false, false],
        }
    };
    (0..rig.patch.len()).map(one).collect()
}

fn new_links(table: &Table<'_>) -> Vec<New> {
    let (rig, down) = (table.rig, &table.down);
    let usable = |s: usize| !down.socket[s] && !down.gear[rig.sockets[s].gear];
    let mut found = Vec::new();
    for a in (0..rig.sockets.len()).filter(|&s| rig.sockets[s].out && usable(s)) {
        for b in (0..rig.sockets.len()).filter(|&s| !rig.sockets[s].out && usable(s)) {
            for chain in links::chains(rig, table.rules, a, b) {
                for pulls in pulls_for(table, a, b, None) {
                    found.push(make(table, a, b, &chain, None, pulls));
                }
                for end in [0, 1] {
                    kept(table, a, b, &chain, end, &mut found);
                }
            }
        }
    }
    found
}

/// The variant of a link that leaves the plug at `end` in, if there is a live prefix to keep.
fn kept(table: &Table<'_>, a: usize, b: usize, chain: &[usize], end: usize, found: &mut Vec<New>) {
    if !table.rules.has(Rule::Kept) {
        return;
    }
    let Some((link, _)) = table.plug_at(if end == 0 { a } else { b }) else { return };
    let normal = &table.normal[link];
    if !normal.can_pull[1 - end] {
        return;
    }
    let prefix = kept_run(normal, chain, end);
    if prefix == 0 {
        return;
    }
    for pulls in pulls_for(table, a, b, Some((link, end))) {
        found.push(make(table, a, b, chain, Some((link, end, prefix)), pulls));
    }
}

/// The longest run of pieces, counted from the kept end, alive and of the same types in both chains.
fn kept_run(normal: &Normal, chain: &[usize], end: usize) -> usize {
    let at = |i: usize, len: usize| if end == 0 { i } else { len - 1 - i };
    let longest = normal.via.len().min(chain.len());
    (0..longest)
        .take_while(|&i| {
            let old = at(i, normal.via.len());
            normal.alive[old] && normal.via[old] == chain[at(i, chain.len())]
        })
        .count()
}

/// The sets of pulls that empty the sockets; more than one only between two kept tails.
fn pulls_for(
    table: &Table<'_>,
    a: usize,
    b: usize,
    kept: Option<(usize, usize)>,
) -> Vec<Vec<(usize, usize)>> {
    let mut ways: Vec<Vec<(usize, usize)>> = vec![Vec::new()];
    if let Some((link, end)) = kept {
        ways = vec![vec![(link, 1 - end)]];
    }
    for (which, socket) in [a, b].into_iter().enumerate() {
        if kept.is_some_and(|(_, end)| end == which) {
            continue;
        }
        let Some((link, end)) = table.plug_at(socket) else { continue };
        let normal = &table.normal[link];
        let mut options = Vec::new();
        if normal.can_pull[end] {
            options.push((link, end));
        }
        if normal.one_pull && normal.can_pull[1 - end] {
            options.push((link, 1 - end));
        }
        // A kept link's own plug stays in, so its other end is the only one that may be pulled.
        options.retain(|&(l, e)| kept.is_none_or(|k| k != (l, e)));
        ways = ways
            .iter()
            .flat_map(|way| {
                options.iter().map(move |&pull| {
                    let mut longer = way.clone();
                    longer.push(pull);
                    longer.sort_unstable();
                    longer.dedup();
                    longer
                })
            })
            .collect();
    }
    ways.sort();
    ways.dedup();
    ways
}

/// Counts ends, joints, level, touches and pieces of one new link.
fn make(
    table: &Table<'_>,
    a: usize,
    b: usize,
    chain: &[usize],
    kept: Option<(usize, usize, usize)>,
    pulls: Vec<(usize, usize)>,
) -> New {
    let rig = table.rig;
    let prefix = kept.map_or(0, |(_, _, prefix)| prefix);
    let (mut secs, mut moves, mut touches) = (0, 0, Vec::new());
    for (which, socket) in [a, b].into_iter().enumerate() {
        let stays = kept.is_some_and(|(_, end, _)| end == which);
        // With *tail kept* a bare tail's own end costs nothing: its other end is the plug that moves.
        let free = rig.tail_kept && rig.sockets[socket].tail > 0 && chain.is_empty();
        if !stays && !free {
            secs += plug_seconds(rig, socket);
            moves += 1;
            touches.push(rig.sockets[socket].gear);
        }
    }
    let joints = if kept.is_some() { chain.len() - prefix } else { chain.len().saturating_sub(1) };
    let joints = i64::try_from(joints).unwrap_or(0);
    secs += joints * rig.steps.join;
    moves += joints;
    if rig.sockets[b].gain {
        secs += rig.steps.level;
        touches.push(rig.sockets[b].gear);
    }
    touches.sort_unstable();
    touches.dedup();
    let (mut takes, mut frees) = (chain.to_vec(), Vec::new());
    if let Some((link, end, prefix)) = kept {
        let normal = &table.normal[link];
        let old: Vec<usize> = (0..normal.via.len()).collect();
        let behind = if end == 0 { &old[prefix..] } else { &old[..old.len() - prefix] };
        if table.rules.has(Rule::Freed) {
            frees = behind.iter().filter(|&&i| normal.alive[i]).map(|&i| normal.via[i]).collect();
        }
        takes = if end == 0 { chain[prefix..].to_vec() } else { chain[..chain.len() - prefix].to_vec() };
    }
    New {
        wire: Wire::new(rig, a, b),
        chain: chain.to_vec(),
        kept: kept.map(|(link, end, _)| (link, end)),
        pulls,
        takes,
        frees,
        secs,
        touches,
        moves,
        pts: chain.iter().map(|&t| rig.leads[t].pts).sum(),
    }
}

/// Which plug time a socket has goes by its (first) class.
fn plug_seconds(rig: &Rig, socket: usize) -> i64 {
    match rig.sockets[socket].classes.first().map(|&(class, _)| rig.classes[class].as_str()) {
        Some("mains") => rig.steps.plug_mains,
        Some("speaker") => rig.steps.plug_speaker,
        _ => rig.steps.plug,
    }
}
