//! `strip: mixer, piano` and `pedal 9v battery`: what hangs on mains, and what runs on cells.

use super::super::detail::Detail;
use super::name;
use super::sockets::{End, Named, choose};
use super::words::{Word, phrase, typed, words};
use super::{NotQuick, Quick, Read};
use crate::{Body, Class, Direction, Figure, Kind, Matters, Origin, shelf};

/// A line about power; `None` when it is none.
pub(super) fn read(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    match text.split_once(':') {
        Some((head, list)) => strip(q, head, list),
        None => battery(q, text),
    }
}

fn strip(q: &mut Quick<'_>, head: &str, list: &str) -> Option<Read<()>> {
    let said = words(head, &q.name_words);
    let declared = q.pieces.iter().position(|g| crate::same_name(&g.name, head.trim()));
    let gives_mains = |body: &Body| {
        body.sockets.iter().filter(|s| s.output().is_some_and(|o| o.class == Class::Mains)).count() > 0
    };
    let kind = name::meant(&said, None).map(|m| m.kind);
    let fits = match declared {
        Some(piece) => q.pieces.get(piece).is_some_and(|g| gives_mains(&g.body)),
        None => kind.is_some_and(|k| gives_mains(&k.body)),
    };
    let items: Vec<&str> =
        list.split(',').flat_map(|p| p.split(" and ")).map(str::trim).filter(|p| !p.is_empty()).collect();
    if !fits || items.is_empty() || items.len() > 40 {
        return None;
    }
    Some(hang(q, &said, declared, &items))
}

fn hang(q: &mut Quick<'_>, said: &[Word], declared: Option<usize>, items: &[&str]) -> Read<()> {
    let strip = match declared {
        Some(piece) => piece,
        None => name::ends(q, said, Direction::Out)?.first().map(|e| e.piece).ok_or(NotQuick)?,
    };
    outlet_for(q, strip)?;
    let mut strip = strip;
    for item in items {
        let said = words(item, &q.name_words);
        let ends = name::ends(q, &said, Direction::In).or_else(|_| {
            q.problem(
                "unknown-thing",
                format!("\"{item}\" is not known: what feeds it?"),
                "write its kind: gear NAME = KIND".to_owned(),
            );
            Ok(Vec::new())
        })?;
        for end in ends {
            if !has_free(q, strip) {
                strip = another(q, strip)?;
            }
            feed(q, strip, end.piece)?;
        }
    }
    q.heard = true;
    Ok(())
}

fn has_free(q: &Quick<'_>, strip: usize) -> bool {
    q.pieces.get(strip).is_some_and(|g| {
        g.body.sockets.iter().enumerate().any(|(i, s)| {
            s.output().is_some_and(|o| o.class == Class::Mains) && !q.used.contains(&(strip, i))
        })
    })
}

/// A full strip gets a second one beside it.
fn another(q: &mut Quick<'_>, strip: usize) -> Read<usize> {
    let Some(gear) = q.pieces.get(strip).cloned() else { return Err(NotQuick) };
    let kind = gear.kind.as_deref().and_then(shelf::kind).ok_or(NotQuick)?;
    let second = q.bring(&format!("{} B", gear.name), kind, "the other one is full", "")?;
    outlet_for(q, second)?;
    Ok(second)
}

/// An outlet in the wall feeds a strip that nothing feeds yet.
fn outlet_for(q: &mut Quick<'_>, strip: usize) -> Read<()> {
    let Some(gear) = q.pieces.get(strip).cloned() else { return Ok(()) };
    let fed = gear.body.live
        || gear
            .body
            .sockets
            .iter()
            .enumerate()
            .all(|(i, s)| s.input().is_none() || q.used.contains(&(strip, i)));
    if fed {
        return Ok(());
    }
    let there = (0..q.pieces.len())
        .find(|p| *p != strip && q.pieces.get(*p).is_some_and(|g| g.body.live) && has_free(q, *p));
    let wall = match there {
        Some(wall) => wall,
        None => {
            let kind = name::kind_of("outlet").ok_or(NotQuick)?;
            q.bring("WALL", kind, "a strip is plugged into the wall", "")?
        }
    };
    join(q, wall, strip).map(|_| ())
}

/// A supply link between two pieces, when their sockets allow one.
fn join(q: &mut Quick<'_>, from: usize, to: usize) -> Read<bool> {
    let supply = |q: &Quick<'_>, piece: usize, way: Direction| {
        let sockets: Vec<usize> = q.pieces.get(piece).map_or(Vec::new(), |g| {
            (0..g.body.sockets.len())
                .filter(|i| g.body.sockets.get(*i).is_some_and(|s| s.direction() == way && s.is_supply()))
                .filter(|i| !q.used.contains(&(piece, *i)))
                .collect()
        });
        End { piece, named: Some(Named { sockets, any: true, form: None }) }
    };
    let (a, z) = (supply(q, from, Direction::Out), supply(q, to, Direction::In));
    let Some(pair) = choose(q, &a, &z, &[]) else { return Ok(false) };
    let socket = |q: &Quick<'_>, piece: usize, at: usize| {
        q.pieces.get(piece).and_then(|g| g.body.sockets.get(at).cloned())
    };
    let (Some(out), Some(into)) = (socket(q, from, pair.out), socket(q, to, pair.into)) else {
        return Ok(false);
    };
    if !out.output().is_some_and(|o| into.takes(&o.class)) {
        return Ok(false);
    }
    let mut line = format!("{} {}", q.name_of(from), out.name);
    for lead in &pair.leads {
        line.push_str(&format!(" > {lead}"));
    }
    line.push_str(&format!(" > {} {}", q.name_of(to), into.name));
    q.push(&line)?;
    q.fill(from, pair.out);
    q.fill(to, pair.into);
    Ok(true)
}

/// Feeds a piece from a strip, through the supply that it needs.
fn feed(q: &mut Quick<'_>, strip: usize, piece: usize) -> Read<()> {
    let Some(gear) = q.pieces.get(piece).cloned() else { return Ok(()) };
    let name = gear.name.clone();
    let ins: Vec<usize> = (0..gear.body.sockets.len())
        .filter(|i| gear.body.sockets.get(*i).is_some_and(|s| s.input().is_some() && s.is_supply()))
        .collect();
    if ins.is_empty() {
        q.problem(
            "needs-no-power",
            format!("{name} has no socket for power"),
            format!("take {name} out of this list"),
        );
        return Ok(());
    }
    if ins.iter().any(|i| q.used.contains(&(piece, *i))) {
        // Its supply is there already, perhaps with its mains plug in the air.
        let wanted = format!("{name} SUPPLY");
        let supply = q.pieces.iter().position(|g| crate::same_name(&g.name, &wanted));
        return match supply.filter(|s| *s != piece) {
            Some(supply) => join(q, strip, supply).map(|_| ()),
            None => Ok(()),
        };
    }
    if join(q, strip, piece)? {
        return Ok(());
    }
    let Some(supply) = own_supply(q, piece)? else { return Ok(()) };
    join(q, strip, supply)?;
    join(q, supply, piece)?;
    Ok(())
}

/// The supply of a piece that cannot be plugged into mains itself: there already, or brought in.
fn own_supply(q: &mut Quick<'_>, piece: usize) -> Read<Option<usize>> {
    let Some(gear) = q.pieces.get(piece).cloned() else { return Ok(None) };
    let name = gear.name.clone();
    let Some(kind) = supply_for(&gear.body) else {
        let help = format!("name its supply: gear {name} SUPPLY = KIND");
        q.problem("no-supply-known", format!("no supply on the shelf fits {name}"), help);
        return Ok(None);
    };
    let wanted = format!("{name} SUPPLY");
    let there = q.pieces.iter().position(|g| crate::same_name(&g.name, &wanted));
    let supply = match there {
        Some(supply) => supply,
        None => q.bring(&wanted, kind, &format!("{name} cannot be plugged into mains"), "")?,
    };
    let class = kind.body.sockets.iter().find_map(|s| s.output().map(|o| o.class.clone()));
    if let Some(class @ Class::Dc { .. }) = class {
        let text = format!("{name} takes {class} from {wanted}");
        q.guess(Matters::Hurt, text, "usual for its kind; read both plates");
    }
    Ok(Some(supply))
}

/// A supply for a piece, plugged into it; what feeds the supply is not known yet.
pub(super) fn with_supply(q: &mut Quick<'_>, piece: usize) -> Read<()> {
    if let Some(supply) = own_supply(q, piece)? {
        join(q, supply, piece)?;
    }
    Ok(())
}

/// The supply on the shelf that fits one of the supply sockets of a body, with enough current.
fn supply_for(body: &Body) -> Option<&'static Kind> {
    let fits = |kind: &&Kind| {
        let mains = kind.body.sockets.iter().any(|s| s.takes(&Class::Mains));
        mains
            && kind.body.sockets.iter().any(|out| {
                body.sockets.iter().any(|into| {
                    let given = out
                        .output()
                        .map(|o| (o.class.clone(), o.milliamps.as_ref().map_or(f64::MAX, |m| m.value)));
                    let draws = into.input().and_then(|i| i.milliamps.as_ref()).map_or(0.0, |m| m.value);
                    given.is_some_and(|(class, gives)| {
                        class.is_supply() && class != Class::Mains && into.takes(&class) && gives >= draws
                    }) && out.connectors.iter().any(|a| into.connectors.iter().any(|z| a.mates_with(z)))
                })
            })
    };
    shelf::kinds().iter().find(fits)
}

/// `pedal 9v battery`: it runs on cells, one set in use and none spare.
fn battery(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    let said = words(text, &q.name_words);
    let last = said.last()?;
    if !["battery", "cell", "block"].contains(&last.house.as_str()) || said.len() < 2 {
        return None;
    }
    let cells =
        ["9", "v", "aa", "aaa", "battery", "cell", "block", "on", "with", "pp3", "good", "fresh", "new"];
    let cut = said.iter().rposition(|w| {
        !cells.contains(&w.house.as_str()) && !w.house.starts_with('x') && w.number().is_none()
    })?;
    let (piece, with) = (said.get(..=cut)?, said.get(cut + 1..)?);
    name::meant(piece, None)?;
    let with: Vec<Word> = with
        .iter()
        .filter(|w| !["on", "with", "good", "fresh", "new"].contains(&w.house.as_str()))
        .cloned()
        .collect();
    Some(runs_on(q, piece, &with))
}

fn runs_on(q: &mut Quick<'_>, piece: &[Word], with: &[Word]) -> Read<()> {
    let mut with = with.to_vec();
    let count = super::words::take_count(&mut with);
    let ends = name::ends(q, piece, Direction::Out)?;
    if ends.is_empty() {
        return Err(NotQuick);
    }
    ends.into_iter().try_for_each(|e| one_runs_on(q, e.piece, &with, count))
}

fn one_runs_on(q: &mut Quick<'_>, piece: usize, with: &[Word], count: Option<u32>) -> Read<()> {
    let Some(gear) = q.pieces.get(piece).cloned() else { return Err(NotQuick) };
    let cell = super::lists::used_up(q, &phrase(with));
    let mut battery = gear.body.battery.clone().unwrap_or_else(|| crate::Battery {
        hours: Figure::guessed(4.0, "one show"),
        guard: None,
        present: Figure::yours(true),
    });
    battery.present = Figure::yours(true);
    q.push(&format!("about {}", gear.name))?;
    q.push(&format!("battery {}", super::super::items::print_battery(&battery, &Origin::Yours)))?;
    let used =
        gear.body.wear.iter().find(|w| cell.as_ref().is_none_or(|c| crate::same_name(&w.what, c))).cloned();
    let what = match (cell, used) {
        (_, Some(mut wear)) => {
            if let Some(n) = count {
                wear.in_use = n;
                q.push(&super::super::write::print_detail(&Detail::Wear(wear.clone())))?;
            }
            wear.what
        }
        (Some(cell), None) => {
            q.push(&format!("uses {cell} x{}, 30 s (guessed: usual)", count.unwrap_or(1)))?;
            cell
        }
        (None, None) => return Ok(()),
    };
    q.push(&format!("bag: {what} x0"))?;
    let one = match count {
        Some(n) if n > 1 => format!("{n} {what}"),
        _ => format!("one {what}"),
    };
    let text = format!("{one} in {}, and no spare is carried", gear.name);
    q.guess(Matters::Must, text, format!("\"{}\" says no more", typed(with)));
    if let Some(g) = q.pieces.get_mut(piece) {
        g.body.battery = Some(battery);
    }
    Ok(())
}
