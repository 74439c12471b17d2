//! Laying an owner's lines over what the kind gave.

use super::detail::{Amount, Detail, THINGS, Thing};
use super::items::MakesTyped;
use crate::{Body, Figure, Gear, Makes, Placed, Switch, Who};

/// A name that a detail is about and the piece does not have.
#[derive(Clone, Debug)]
pub(crate) struct Unfound {
    /// In words.
    pub(crate) message: String,
    /// The name as typed.
    pub(crate) typed: String,
    /// The names there are.
    pub(crate) names: Vec<String>,
}

/// Lays a detail over what the kind gave.
pub(crate) fn apply(detail: &Detail, gear: &mut Gear) -> Result<(), Unfound> {
    let body = &mut gear.body;
    match detail {
        Detail::Socket(s) => put(&mut body.sockets, s, |x| &x.name),
        Detail::Route(r) => put(&mut body.routes, r, |x| &x.name),
        Detail::Placement(p) => {
            if body.placements.is_empty() && gear.placed == Placed::At(String::new()) {
                gear.placed = Placed::At(p.name.clone());
            }
            put(&mut body.placements, p, |x| &x.name);
        }
        Detail::Bank(b) => put(&mut body.banks, b, |x| &x.name),
        Detail::Mode(m) => put(&mut body.modes, m, |x| &x.name),
        Detail::Look(l) => put(&mut body.looks, l, |x| &x.ask),
        Detail::Mend(m) => put(&mut body.mends, m, |x| &x.name),
        Detail::Wear(w) => put(&mut body.wear, w, |x| &x.what),
        Detail::Caution(c) => body.cautions.push(c.clone()),
        Detail::Makes(None) => body.makes.clear(),
        Detail::Makes(Some(m)) => return make(m, body),
        Detail::Sounds(sockets, holds) => {
            body.sounds.clone_from(sockets);
            body.sounds_while.clone_from(holds);
        }
        Detail::Placed(Placed::InCase) => gear.placed = Placed::InCase,
        Detail::Placed(Placed::At(name)) => {
            let found = body.placements.iter().find(|p| crate::same_name(&p.name, name));
            match found {
                Some(p) => gear.placed = Placed::At(p.name.clone()),
                None => {
                    let names = body.placements.iter().map(|p| p.name.clone()).collect();
                    let message = format!("{} has no placement \"{name}\"", gear.name);
                    return Err(Unfound { message, typed: name.clone(), names });
                }
            }
        }
        Detail::At(spot) => gear.at = Some(*spot),
        Detail::Stands(stand) => gear.stands = stand.clone(),
        Detail::Amount(amount, figure) => set_amount(*amount, figure.as_ref(), body),
        Detail::StartsItself(yes) => body.starts_itself = *yes,
        Detail::Live => body.live = true,
        Detail::Off => gear.off = true,
        Detail::Loud(yes) => body.loud = *yes,
        Detail::Battery(battery) => body.battery = battery.clone(),
        Detail::Switch(name, on) => return set_switch(name, *on, &gear.name, body),
        Detail::Points(n) => body.points = *n,
        Detail::Size(size) => body.size = Some(size.clone()),
        Detail::Owner(owner) => gear.owner = owner.clone(),
        Detail::For(name) => {
            for hears in body.placements.iter_mut().flat_map(|p| &mut p.hears) {
                if hears.who == Who::Performers {
                    hears.who = Who::Named(name.clone());
                }
            }
        }
        Detail::Photo(file) => gear.photo = Some(file.clone()),
        Detail::Without(thing, name) => {
            let result = take_away(*thing, name, &gear.name, body);
            if gear.placement().is_none() && gear.placed != Placed::InCase {
                let left = gear.body.placements.first().map_or(String::new(), |p| p.name.clone());
                gear.placed = Placed::At(left);
            }
            return result;
        }
    }
    Ok(())
}

/// Replaces the item of that name where it stands, or adds it at the end.
fn put<T: Clone>(list: &mut Vec<T>, item: &T, name: impl Fn(&T) -> &String) {
    match list.iter_mut().find(|x| crate::same_name(name(x), name(item))) {
        Some(old) => *old = item.clone(),
        None => list.push(item.clone()),
    }
}

fn set_amount(amount: Amount, figure: Option<&Figure<f64>>, body: &mut Body) {
    let laid = |old: Option<&Figure<f64>>| match figure {
        Some(figure) => figure.clone(),
        None => Figure::dont_know(old.map_or(0.0, |o| o.value)),
    };
    match amount {
        Amount::Draws => body.watts = laid(Some(&body.watts)),
        Amount::Feeds => body.rating = Some(laid(body.rating.as_ref())),
        Amount::Starts => body.boot = laid(Some(&body.boot)),
        Amount::Weighs => body.weight = Some(laid(body.weight.as_ref())),
    }
}

fn make(typed: &MakesTyped, body: &mut Body) -> Result<(), Unfound> {
    if let Some(socket) = &typed.socket {
        body.makes.push(Makes {
            source: typed.source.clone(),
            socket: socket.clone(),
            side: typed.side,
            guard: typed.guard.clone(),
        });
        return Ok(());
    }
    // `makes organ` on a kind that makes "keys" and "keys right": the first name is replaced in both.
    if let Some(old) = body.makes.first().map(|m| m.source.clone()) {
        for m in &mut body.makes {
            if let Some(tail) = m.source.strip_prefix(&old) {
                m.source = format!("{}{tail}", typed.source);
            }
        }
        return Ok(());
    }
    let outs: Vec<String> = body
        .sockets
        .iter()
        .filter(|s| s.output().is_some_and(|o| o.class.is_sound()))
        .map(|s| s.name.clone())
        .collect();
    match outs.as_slice() {
        [socket] => {
            let (source, socket) = (typed.source.clone(), socket.clone());
            body.makes.push(Makes { source, socket, side: typed.side, guard: typed.guard.clone() });
            Ok(())
        }
        _ => Err(Unfound {
            message: format!("\"makes {}\" does not say at which socket", typed.source),
            typed: String::new(),
            names: outs,
        }),
    }
}

fn set_switch(name: &str, on: bool, gear: &str, body: &mut Body) -> Result<(), Unfound> {
    // By what is printed on the knob; else by the route's own name, and its knob turns all its others along.
    let of_route =
        || body.routes.iter().find(|r| crate::same_name(&r.name, name) && r.switch != Switch::Fixed);
    let knob = if body.routes.iter().any(|r| r.is_turned_by(name)) {
        Some(name.to_owned())
    } else {
        of_route().map(|r| r.knob_name().to_owned())
    };
    if let Some(knob) = knob {
        for route in body.routes.iter_mut().filter(|r| r.is_turned_by(&knob)) {
            route.switch = if on { Switch::On } else { Switch::Off };
        }
        return Ok(());
    }
    if let Some(bank) = body.banks.iter_mut().find(|b| crate::same_name(&b.name, name)) {
        bank.on = on;
        return Ok(());
    }
    let mut names: Vec<String> = Vec::new();
    let routes = body.routes.iter().filter(|r| r.switch != Switch::Fixed).map(|r| r.knob_name().to_owned());
    for knob in routes.chain(body.banks.iter().map(|b| b.name.clone())) {
        if !names.contains(&knob) {
            names.push(knob);
        }
    }
    Err(Unfound { message: format!("{gear} has no switch \"{name}\""), typed: name.to_owned(), names })
}

fn take_away(thing: Thing, name: &str, gear: &str, body: &mut Body) -> Result<(), Unfound> {
    fn drop_one<T>(list: &mut Vec<T>, name: &str, of: impl Fn(&T) -> &String) -> Result<(), Vec<String>> {
        let names: Vec<String> = list.iter().map(|x| of(x).clone()).collect();
        let before = list.len();
        list.retain(|x| !crate::same_name(of(x), name));
        if list.len() < before { Ok(()) } else { Err(names) }
    }
    let result = match thing {
        Thing::Socket => {
            let result = drop_one(&mut body.sockets, name, |s| &s.name);
            let here = |n: &str| crate::same_name(n, name);
            // Nothing may go on pointing at a socket that is not there.
            body.makes.retain(|m| !here(&m.socket));
            body.sounds.retain(|s| !here(s));
            body.routes.retain(|r| !here(&r.from));
            for r in &mut body.routes {
                r.to.retain(|t| !here(t));
            }
            body.routes.retain(|r| !r.to.is_empty());
            result
        }
        Thing::Route => drop_one(&mut body.routes, name, |r| &r.name),
        Thing::Placement => drop_one(&mut body.placements, name, |p| &p.name),
        Thing::Mode => drop_one(&mut body.modes, name, |m| &m.name),
        Thing::Look => drop_one(&mut body.looks, name, |l| &l.ask),
        Thing::Mend => drop_one(&mut body.mends, name, |m| &m.name),
        Thing::Bank => drop_one(&mut body.banks, name, |b| &b.name),
        Thing::Wear => drop_one(&mut body.wear, name, |w| &w.what),
        Thing::Cautions => {
            body.cautions.clear();
            Ok(())
        }
    };
    let word = THINGS.iter().find(|(_, t)| *t == thing).map_or("thing", |(w, _)| *w);
    result.map_err(|names| Unfound {
        message: format!("{gear} has no {word} \"{name}\""),
        typed: name.to_owned(),
        names,
    })
}
