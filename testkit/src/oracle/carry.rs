//! How sound travels: from a making over links and routes to what is heard, level by level and side by side.

use crate::neutral::{Guard, Passive, Sides, Span};

use super::options::Options;
use super::rules::Rule;
use super::table::{Down, Table, Wire};

/// Where a label came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    Make {
        make: usize,
        place: usize,
    },
    /// A link of the scene.
    Hop(usize),
    Route(usize),
}

/// Sound of one source at a socket, with one level interval and what it cost to get here.
#[derive(Clone, Debug)]
pub(super) struct Label {
    pub(super) socket: usize,
    span: Span,
    sides: Sides,
    /// Seconds still to be spent on this path, doubled (a pull may be shared by two links, each bears half).
    pub(super) twice_secs: i64,
    /// Points of maker, placement and routes.
    pub(super) pts: i64,
    /// The same with the points of new chains not decided yet.
    pub(super) chain_pts: i64,
    pub(super) maker: usize,
    pub(super) step: Step,
    pub(super) before: Option<usize>,
    beaten: bool,
}

/// A sound link that may work.
#[derive(Clone, Debug)]
pub(super) struct Hop {
    pub(super) wire: Wire,
    pub(super) twice_secs: i64,
    pub(super) pts: i64,
    /// `None` for a normal link; else the new link that is quickest and the one with fewest points.
    pub(super) new: Option<(usize, usize)>,
}

/// All that sound can travel through.
#[derive(Debug)]
pub(super) struct Scene {
    pub(super) hops: Vec<Hop>,
    hops_from: Vec<Vec<usize>>,
    /// By route: twice the seconds still to be spent, `None` when nothing passes.
    route: Vec<Option<i64>>,
    pub(super) live: Vec<bool>,
    make: Vec<bool>,
    sound: Vec<bool>,
    /// By socket: it drives the loudspeaker of its gear.
    drives: Vec<bool>,
    levels: bool,
}

impl Scene {
    /// The scene with losses, levels and power as they are; `holds` says of each unchecked fact whether it holds.
    pub(super) fn as_is(
        table: &Table<'_>,
        options: &Options,
        down: &Down,
        holds: &[bool],
        live: Vec<bool>,
        hops: Vec<Hop>,
    ) -> Scene {
        let rig = table.rig;
        let on = |r: usize| {
            let route = &rig.routes[r];
            let alive = live[route.gear]
                || (passive(table, r, holds) && options.out(route.gear) && !down.gear[route.gear]);
            let works = !down.route[r] && route.only_if.is_none_or(|fact| holds[fact]);
            let passes = works && alive && options.guard(table, route.guard) && !down.socket[route.from];
            let knob = if passes { options.on[r] } else { None };
            knob.and_then(|secs| options.unmuted(table, r).map(|twice| 2 * secs + twice))
        };
        let mut drives = vec![false; rig.sockets.len()];
        for sound in rig.gear.iter().flat_map(|gear| &gear.sounds) {
            drives[sound.socket] |= options.guard(table, sound.guard);
        }
        let make = |m: usize| {
            let make = &rig.makes[m];
            !down.make[make.gear]
                && live[make.gear]
                && !down.socket[make.socket]
                && options.guard(table, make.guard)
        };
        Scene {
            route: (0..rig.routes.len()).map(on).collect(),
            make: (0..rig.makes.len()).map(make).collect(),
            sound: (0..rig.gear.len()).map(|g| live[g] && !down.sound[g]).collect(),
            drives,
            levels: table.rules.has(Rule::Level),
            hops_from: index(rig.sockets.len(), &hops),
            hops,
            live,
        }
    }

    /// The scene as if nothing had failed and everything were switched on, whatever the level.
    pub(super) fn for_safety(table: &Table<'_>, options: &Options, nothing: &Down, hops: Vec<Hop>) -> Scene {
        let live = (0..table.rig.gear.len()).map(|g| options.out(g)).collect();
        let holds = vec![true; table.rig.facts.len()];
        let mut scene = Scene::as_is(table, options, nothing, &holds, live, hops);
        scene.levels = false;
        scene
    }
}

/// Does the route pass although its piece is not live?
pub(super) fn passive(table: &Table<'_>, route: usize, holds: &[bool]) -> bool {
    table.rules.has(Rule::Passive)
        && match table.rig.routes[route].passive {
            Passive::No => false,
            Passive::Always => true,
            Passive::If(fact) => holds[fact],
        }
}

/// The guards of what a socket drives, wherever it drives its gear's loudspeaker.
pub(super) fn sound_guards(table: &Table<'_>, socket: usize) -> impl Iterator<Item = Guard> {
    let gear = &table.rig.gear[table.rig.sockets[socket].gear];
    gear.sounds.iter().filter(move |sound| sound.socket == socket).filter_map(|sound| sound.guard)
}

fn index(sockets: usize, hops: &[Hop]) -> Vec<Vec<usize>> {
    let mut from = vec![Vec::new(); sockets];
    for (i, hop) in hops.iter().enumerate() {
        from[hop.wire.from].push(i);
    }
    from
}

/// The normal sound links that may work.
pub(super) fn normal_hops(table: &Table<'_>, options: &Options, down: &Down) -> Vec<Hop> {
    let mut hops = Vec::new();
    for (i, link) in table.normal.iter().enumerate() {
        let whole = down.piece[i].iter().all(|dead| !dead);
        if !link.wire.supply && options.normal[i] && whole && passes(table, options, down, &link.wire) {
            hops.push(Hop { wire: link.wire.clone(), twice_secs: 0, pts: 0, new: None });
        }
    }
    hops
}

/// Do both sockets work, and is there phantom power if it is needed?
pub(super) fn passes(table: &Table<'_>, options: &Options, down: &Down, wire: &Wire) -> bool {
    !down.socket[wire.from] && !down.socket[wire.to] && options.phantom(table, wire)
}

/// Everywhere that a source gets to, and how.
///
/// A label is dropped when another at the same socket has the wider interval and sides for no more seconds and
/// points: whatever the dropped one reaches, the other reaches too.
pub(super) fn spread(table: &Table<'_>, options: &Options, scene: &Scene, source: usize) -> Vec<Label> {
    let rig = table.rig;
    let mut labels: Vec<Label> = Vec::new();
    for (m, make) in rig.makes.iter().enumerate() {
        if make.source != source || !scene.make[m] {
            continue;
        }
        for &(place, secs) in &options.places[make.gear] {
            let at = &rig.gear[make.gear].places[place];
            if at.sources.as_ref().is_some_and(|only| !only.contains(&source)) {
                continue;
            }
            let stereo = rig.sockets[make.socket].wires == crate::neutral::Wires::Stereo;
            // At an in-socket it stands as if it had come over a link, on both sides.
            let one_sided = stereo && rig.sockets[make.socket].out && table.rules.has(Rule::Side);
            let pts = rig.gear[make.gear].pts + at.pts;
            add(
                &mut labels,
                Label {
                    socket: make.socket,
                    span: rig.sockets[make.socket].classes[0].1,
                    sides: if one_sided { make.sides } else { Sides::BOTH },
                    twice_secs: 2 * secs,
                    pts,
                    chain_pts: pts,
                    maker: make.gear,
                    step: Step::Make { make: m, place },
                    before: None,
                    beaten: false,
                },
            );
        }
    }
    let mut next = 0;
    while next < labels.len() {
        if !labels[next].beaten {
            leave(table, scene, &mut labels, next);
        }
        next += 1;
    }
    labels
}

/// Takes one label over every link or route that leaves its socket.
fn leave(table: &Table<'_>, scene: &Scene, labels: &mut Vec<Label>, at: usize) {
    let rig = table.rig;
    let here = labels[at].clone();
    if rig.sockets[here.socket].out {
        for &h in &scene.hops_from[here.socket] {
            let hop = &scene.hops[h];
            let Some(window) = hop.wire.window else { continue };
            let Some(span) = meet(scene, here.span, window) else { continue };
            let sides = if hop.wire.keeps_side { here.sides } else { Sides::BOTH };
            add(
                labels,
                Label {
                    socket: hop.wire.to,
                    span,
                    sides,
                    twice_secs: here.twice_secs + hop.twice_secs,
                    chain_pts: here.chain_pts + hop.pts,
                    step: Step::Hop(h),
                    before: Some(at),
                    ..here.clone()
                },
            );
        }
        return;
    }
    for (r, route) in rig.routes.iter().enumerate().filter(|(_, route)| route.from == here.socket) {
        let Some(secs) = scene.route[r] else { continue };
        let stereo_in = rig.sockets[route.from].wires == crate::neutral::Wires::Stereo;
        let takes = route.takes.filter(|_| stereo_in && table.rules.has(Rule::Side));
        if takes.is_some_and(|side| !side.meets(here.sides)) {
            continue;
        }
        for &out in &route.outs {
            let range = rig.sockets[out].classes[0].1;
            let moved = match route.gain {
                Some((least, most)) => meet(scene, (here.span.0 + least, here.span.1 + most), range),
                None => Some(range),
            };
            let Some(span) = moved else { continue };
            let stereo_out = rig.sockets[out].wires == crate::neutral::Wires::Stereo;
            let keeps = takes.is_none() && stereo_in && stereo_out;
            add(
                labels,
                Label {
                    socket: out,
                    span,
                    sides: if keeps { here.sides } else { Sides::BOTH },
                    twice_secs: here.twice_secs + secs,
                    pts: here.pts + route.pts,
                    chain_pts: here.chain_pts + route.pts,
                    step: Step::Route(r),
                    before: Some(at),
                    ..here.clone()
                },
            );
        }
    }
}

/// What two intervals share; where levels do not count, everything.
fn meet(scene: &Scene, one: Span, two: Span) -> Option<Span> {
    if !scene.levels {
        return Some((0, 0));
    }
    let both = (one.0.max(two.0), one.1.min(two.1));
    (both.0 <= both.1).then_some(both)
}

fn add(labels: &mut Vec<Label>, new: Label) {
    let covers = |a: &Label, b: &Label| {
        a.socket == b.socket
            && a.span.0 <= b.span.0
            && a.span.1 >= b.span.1
            && a.sides.contains(b.sides)
            && a.twice_secs <= b.twice_secs
            && a.pts <= b.pts
            && a.chain_pts <= b.chain_pts
            // One placement pays twice when maker and speaker are one piece, so makers are told apart.
            && a.maker == b.maker
    };
    if labels.iter().any(|old| !old.beaten && covers(old, &new)) {
        return;
    }
    for old in labels.iter_mut() {
        if !old.beaten && covers(&new, old) {
            old.beaten = true;
        }
    }
    labels.push(new);
}

/// One way in which a part is heard.
#[derive(Clone, Copy, Debug)]
pub(super) struct Heard {
    pub(super) speaker: usize,
    pub(super) place: usize,
    pub(super) label: usize,
    pub(super) twice_secs: i64,
    pub(super) pts: i64,
    pub(super) chain_pts: i64,
}

/// Every way in which a listener hears at least `need` of what was spread.
pub(super) fn heard(
    table: &Table<'_>,
    options: &Options,
    scene: &Scene,
    labels: &[Label],
    listener: usize,
    need: i64,
) -> Vec<Heard> {
    let rig = table.rig;
    let mut ways = Vec::new();
    for (i, label) in labels.iter().enumerate() {
        let speaker = rig.sockets[label.socket].gear;
        let gear = &rig.gear[speaker];
        if label.beaten || !scene.sound[speaker] || !scene.drives[label.socket] {
            continue;
        }
        for &(place, secs) in &options.places[speaker] {
            let at = &gear.places[place];
            if !at.hears.iter().any(|&(l, level)| l == listener && level >= need) {
                continue;
            }
            // A piece that makes and sounds at once is placed once.
            let secs = if label.maker == speaker { 0 } else { secs };
            let more = gear.pts + at.pts;
            ways.push(Heard {
                speaker,
                place,
                label: i,
                twice_secs: label.twice_secs + 2 * secs,
                pts: label.pts + more,
                chain_pts: label.chain_pts + more,
            });
        }
    }
    ways
}
