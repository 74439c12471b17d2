//! A rig as text that reads back as the same rig: each piece as its kind, and what differs from it.

use std::fmt::Write as _;

use super::detail::{self, Amount, Detail, Thing};
use super::items::MakesTyped;
use super::print;
use super::statement::Statement;
use crate::{
    Body, Figure, Gear, LeadId, LeadKind, Link, Makes, Origin, Placed, Rig, Route, STEP_NAMES, StepTimes,
    Switch, shelf,
};

/// The rig as text.
pub(super) fn write(rig: &Rig) -> String {
    let mut out = String::new();
    let mut line = |statement: Statement| {
        out.push_str(&print::statement(&statement, &Origin::Yours));
        out.push('\n');
    };
    if !rig.name.is_empty() {
        line(Statement::Rig(rig.name.clone()));
    }
    line(Statement::Home(rig.home));
    for l in &rig.listeners {
        line(Statement::Listener { name: l.name.clone(), need: Some(l.need.clone()), at: l.at });
    }
    for hand in &rig.hands {
        line(Statement::Hand(hand.clone()));
    }
    for s in &rig.sources {
        let (name, unplugged_to, played_by) = (s.name.clone(), s.unplugged_to.clone(), s.played_by.clone());
        line(Statement::Source { name, unplugged_to, played_by });
    }
    times(&rig.times, &mut line);
    setting(rig, &mut line);
    for gear in &rig.gear {
        piece(gear, &mut line);
    }
    let mut own_kinds: Vec<&LeadKind> = Vec::new();
    for lead in &rig.leads {
        if shelf::lead_kind(&lead.kind.name) != Some(&lead.kind) && !own_kinds.contains(&&lead.kind) {
            own_kinds.push(&lead.kind);
            line(Statement::LeadKind(lead.kind.clone()));
        }
    }
    for lead in &rig.leads {
        let mut what = lead.kind.name.clone();
        if !lead.kind.adapter {
            let _ = write!(what, " {} m", lead.length.value);
            if lead.length.origin != Origin::Yours {
                let _ = write!(what, " ({})", lead.length.origin);
            }
        }
        line(Statement::Lead {
            name: lead.name.clone(),
            what,
            name_span: 0..0,
            owned: Some(lead.owned.clone()),
            in_case: lead.in_case,
            bag: lead.bag.clone(),
        });
    }
    for link in &rig.links {
        line(Statement::Link(segments(rig, link)));
    }
    for b in &rig.room.breakers {
        let feeds =
            b.outlets.iter().filter_map(|id| rig.piece(*id)).map(|g| (g.name.clone(), 0..0)).collect();
        line(Statement::Breaker {
            name: b.name.clone(),
            amps: b.amps.clone(),
            residual: b.residual.clone(),
            feeds,
        });
    }
    for part in &rig.parts {
        let source = rig.sources.get(part.source.0).map(|s| s.name.clone());
        let listener = rig.listeners.get(part.listener.0).map(|l| l.name.clone());
        line(Statement::Parts {
            rank: part.rank,
            weight: part.weight,
            sources: source.into_iter().collect(),
            listeners: listener.into_iter().collect(),
            only_in: part.only_in.clone(),
        });
    }
    carried(rig, &mut line);
    out
}

fn times(times: &StepTimes, line: &mut impl FnMut(Statement)) {
    let usual = StepTimes::default();
    for (index, (time, usual)) in times.all().into_iter().zip(usual.all()).enumerate() {
        if time != usual && index < STEP_NAMES.len() {
            line(Statement::Time(index, time.clone()));
        }
    }
}

/// Room and show.
fn setting(rig: &Rig, line: &mut impl FnMut(Statement)) {
    let room = &rig.room;
    let described = room.volume.is_some() || room.reverberation.is_some() || room.back_row.is_some();
    if described || room.noise.is_some() || room.ask.is_some() || !room.name.is_empty() {
        line(Statement::Room {
            name: room.name.clone(),
            volume: room.volume.clone(),
            reverberation: room.reverberation.clone(),
            back_row: room.back_row.clone(),
            noise: room.noise.clone(),
            ask: room.ask.clone(),
        });
    }
    let (show, usual) = (&rig.show, crate::Show::default());
    if !show.name.is_empty() || show.date.is_some() {
        line(Statement::Show { name: show.name.clone(), date: show.date.clone() });
    }
    if show.break_length != usual.break_length {
        line(Statement::Break(show.break_length.clone()));
    }
    if show.to_next_break != usual.to_next_break {
        line(Statement::NextBreak(show.to_next_break.clone()));
    }
    if show.song != usual.song {
        line(Statement::Song(show.song.clone()));
    }
    if !show.songs.is_empty() {
        line(Statement::Songs(show.songs.clone()));
    }
    if !show.quiet.is_empty() {
        line(Statement::Quiet(show.quiet.clone()));
    }
}

/// Consumables, trials, notes.
fn carried(rig: &Rig, line: &mut impl FnMut(Statement)) {
    for w in &rig.wear {
        let counted = |n: u32| vec![(w.what.clone(), n, 0..0)];
        if w.in_case > 0 || w.on_stage == 0 {
            line(Statement::Bag(counted(w.in_case)));
        }
        if w.on_stage > 0 {
            line(Statement::Stage(counted(w.on_stage)));
        }
    }
    for trial in &rig.trials {
        line(Statement::Tried(trial.clone()));
    }
    for note in &rig.notes {
        line(Statement::Note(note.clone()));
    }
}

fn segments(rig: &Rig, link: &Link) -> Vec<(String, std::ops::Range<usize>)> {
    let name = |id: &LeadId| rig.lead(*id).map_or(String::new(), |l| l.name.clone());
    let middle = link.via.iter().map(name);
    std::iter::once(rig.label(link.from))
        .chain(middle)
        .chain([rig.label(link.to)])
        .map(|s| (s, 0..0))
        .collect()
}

/// A gear line and what differs from its kind.
fn piece(gear: &Gear, line: &mut impl FnMut(Statement)) {
    let kind = gear.kind.as_deref().and_then(shelf::kind);
    let plain = Body::default();
    let base = kind.map_or(&plain, |k| &k.body);
    line(Statement::Gear {
        name: gear.name.clone(),
        name_span: 0..0,
        kind: kind.map_or("other", |k| k.name.as_str()).to_owned(),
        kind_span: 0..0,
        details: Vec::new(),
    });
    let mut details: Vec<Detail> = Vec::new();
    if let Some(at) = gear.at {
        details.push(Detail::At(at));
    }
    let usual_stand = kind.map_or_else(|| Gear::bare("").stands, crate::Kind::stands);
    if gear.stands != usual_stand {
        details.push(Detail::Stands(gear.stands.clone()));
    }
    if gear.off {
        details.push(Detail::Off);
    }
    if gear.owner != crate::Owner::Mine {
        details.push(Detail::Owner(gear.owner.clone()));
    }
    if let Some(photo) = &gear.photo {
        details.push(Detail::Photo(photo.clone()));
    }
    body(&gear.body, base, &mut details);
    let usual = kind.map_or("", |k| k.usual_placement.as_str());
    let taken = |d: &Detail| matches!(d, Detail::Without(Thing::Placement, name) if name == usual);
    let taken = details.iter().any(taken);
    match &gear.placed {
        Placed::At(name) if name.is_empty() || (name == usual && !taken) => {}
        placed => details.push(Detail::Placed(placed.clone())),
    }
    for d in details {
        line(Statement::Detail(d));
    }
}

/// Does `own` keep the order of `base`, with new names at its end? Then single lines say the difference.
fn keeps_order<T>(own: &[T], base: &[T], name: impl Fn(&T) -> &String) -> bool {
    let place = |x: &T| base.iter().position(|b| crate::same_name(name(b), name(x))).unwrap_or(base.len());
    own.windows(2).all(|w| match w {
        [a, z] => place(a) < place(z) || (place(a) == base.len() && place(z) == base.len()),
        _ => true,
    })
}

/// The lines for one list of named items: what is taken away, then what is new or changed.
fn list<T: PartialEq + Clone>(
    own: &[T],
    base: &[T],
    thing: Thing,
    name: impl Fn(&T) -> &String,
    wrap: impl Fn(T) -> Detail,
    (gone, more): (&mut Vec<Detail>, &mut Vec<Detail>),
) -> bool {
    let whole = !keeps_order(own, base, &name);
    for b in base {
        if whole || !own.iter().any(|o| crate::same_name(name(o), name(b))) {
            gone.push(Detail::Without(thing, name(b).clone()));
        }
    }
    for o in own {
        if whole || !base.contains(o) {
            more.push(wrap(o.clone()));
        }
    }
    whole
}

fn body(own: &Body, base: &Body, out: &mut Vec<Detail>) {
    let (mut gone, mut more) = (Vec::new(), Vec::new());
    let lists = (&mut gone, &mut more);
    // Routes before sockets: taking a socket away takes its routes along.
    let dropped = base.sockets.iter().any(|b| own.socket(&b.name).is_none());
    let mut sockets_gone = Vec::new();
    let mut sockets = Vec::new();
    let all_sockets = list(
        &own.sockets,
        &base.sockets,
        Thing::Socket,
        |s| &s.name,
        Detail::Socket,
        (&mut sockets_gone, &mut sockets),
    );
    let anew = dropped || all_sockets;
    let none = Vec::new();
    if anew {
        lists.0.extend(base.routes.iter().map(|r| Detail::Without(Thing::Route, r.name.clone())));
    }
    let routes_anew = list(
        &own.routes,
        if anew { &none } else { &base.routes },
        Thing::Route,
        |r| &r.name,
        Detail::Route,
        (lists.0, lists.1),
    );
    if !anew && !routes_anew {
        lists.1.iter_mut().for_each(|detail| only_switched(detail, own, base));
        // One line for a knob, however many routes it turns.
        let mut said: Vec<String> = Vec::new();
        lists.1.retain(|detail| match detail {
            Detail::Switch(knob, _) if said.contains(knob) => false,
            Detail::Switch(knob, _) => {
                said.push(knob.clone());
                true
            }
            _ => true,
        });
    }
    lists.0.extend(sockets_gone);
    sockets.append(lists.1);
    *lists.1 = sockets;
    if own.makes != base.makes || anew {
        makes(&own.makes, lists.1);
    }
    if (&own.sounds, &own.sounds_while) != (&base.sounds, &base.sounds_while) || anew {
        lists.1.push(Detail::Sounds(own.sounds.clone(), own.sounds_while.clone()));
    }
    list(
        &own.placements,
        &base.placements,
        Thing::Placement,
        |p| &p.name,
        Detail::Placement,
        (lists.0, lists.1),
    );
    list(&own.banks, &base.banks, Thing::Bank, |b| &b.name, Detail::Bank, (lists.0, lists.1));
    list(&own.modes, &base.modes, Thing::Mode, |m| &m.name, Detail::Mode, (lists.0, lists.1));
    list(&own.looks, &base.looks, Thing::Look, |l| &l.ask, Detail::Look, (lists.0, lists.1));
    list(&own.mends, &base.mends, Thing::Mend, |m| &m.name, Detail::Mend, (lists.0, lists.1));
    list(&own.wear, &base.wear, Thing::Wear, |w| &w.what, Detail::Wear, (lists.0, lists.1));
    if own.cautions != base.cautions {
        if !base.cautions.is_empty() {
            lists.0.push(Detail::Without(Thing::Cautions, String::new()));
        }
        lists.1.extend(own.cautions.iter().cloned().map(Detail::Caution));
    }
    amounts(own, base, lists.1);
    out.append(&mut gone);
    out.append(&mut more);
}

/// A route that differs only in how its knob stands is said as that.
fn only_switched(detail: &mut Detail, own: &Body, base: &Body) {
    let Detail::Route(route) = detail else { return };
    let usual = base.route(&route.name).and_then(|i| base.routes.get(i));
    let knobs = usual.is_some_and(|u| u.switch != Switch::Fixed) && route.switch != Switch::Fixed;
    // The line turns all that the knob turns: only where they stand alike does it say no more than this route.
    let turned = |r: &&Route| r.is_turned_by(route.knob_name());
    let alike = own.routes.iter().filter(turned).all(|r| r.switch == route.switch);
    if knobs && alike && usual.is_some_and(|u| *route == Route { switch: route.switch, ..u.clone() }) {
        *detail = Detail::Switch(route.knob_name().to_owned(), route.switch.is_on());
    }
}

fn makes(own: &[Makes], out: &mut Vec<Detail>) {
    if own.is_empty() {
        out.push(Detail::Makes(None));
    }
    for m in own {
        out.push(Detail::Makes(Some(MakesTyped {
            source: m.source.clone(),
            socket: Some(m.socket.clone()),
            side: m.side,
            guard: m.guard.clone(),
        })));
    }
}

fn amounts(own: &Body, base: &Body, out: &mut Vec<Detail>) {
    let mut amount = |which: Amount, own: Option<&Figure<f64>>, base: Option<&Figure<f64>>| {
        if own != base
            && let Some(own) = own
        {
            out.push(Detail::Amount(which, Some(own.clone())));
        }
    };
    amount(Amount::Draws, Some(&own.watts), Some(&base.watts));
    amount(Amount::Feeds, own.rating.as_ref(), base.rating.as_ref());
    amount(Amount::Starts, Some(&own.boot), Some(&base.boot));
    amount(Amount::Weighs, own.weight.as_ref(), base.weight.as_ref());
    if own.starts_itself != base.starts_itself {
        out.push(Detail::StartsItself(own.starts_itself));
    }
    if own.live && !base.live {
        out.push(Detail::Live);
    }
    if own.loud != base.loud {
        out.push(Detail::Loud(own.loud));
    }
    if own.battery != base.battery {
        out.push(Detail::Battery(own.battery.clone()));
    }
    if own.points != base.points {
        out.push(Detail::Points(own.points));
    }
    if own.size != base.size
        && let Some(size) = &own.size
    {
        out.push(Detail::Size(size.clone()));
    }
}

/// One detail as printed in a rig file, for edits.
pub(crate) fn print_detail(detail: &Detail) -> String {
    detail::print(detail, &Origin::Yours)
}
