//! `same as café but 2 speakers`: another rig with a change.

use super::super::read::read_at;
use super::super::scan::{Piece, Slips};
use super::super::statement::{self, Statement};
use super::name::{self, Meant};
use super::sockets::{End, Pair, choose};
use super::words::{Word, take_count, words};
use super::{Quick, Read, at_span};
use crate::{Matters, Origin, Placed, Rig};

/// Rigs that are like rigs that are like rigs: no deeper.
const DEEPEST: usize = 3;

/// A line that takes another rig over; `None` when it is none.
pub(super) fn read(q: &mut Quick<'_>, text: &str) -> Option<Read<()>> {
    let lower = text.to_lowercase();
    let start = ["same as ", "like "].into_iter().find(|w| lower.starts_with(w))?.len();
    let rest = text.get(start..)?.trim();
    let cut = [" but ", " with ", " without ", ","]
        .into_iter()
        .filter_map(|w| rest.to_lowercase().find(w).map(|at| (at, w)))
        .min()?;
    let (at, word) = cut;
    let (other, mut changes) = (rest.get(..at)?.trim(), rest.get(at + word.len()..)?.trim().to_owned());
    if word == " without " {
        changes = format!("without {changes}");
    }
    Some(take_over(q, other.trim_matches('"'), &changes))
}

fn take_over(q: &mut Quick<'_>, other: &str, changes: &str) -> Read<()> {
    q.heard = true;
    let found = if q.depth >= DEEPEST { None } else { (q.others)(other) };
    let Some(text) = found else {
        q.problem(
            "no-such-rig",
            format!("there is no rig \"{other}\" beside this one"),
            "put its file into the same folder, and write the name that its rig line or its file has"
                .to_owned(),
        );
        return Ok(());
    };
    let (rig, problems, guesses) = read_at(&text, q.others, q.depth + 1);
    if let Some(first) = problems.first() {
        q.problem(
            "other-rig-has-problems",
            format!("\"{other}\" was not wholly understood: {}", first.message),
            "put that file right first".to_owned(),
        );
    }
    for g in guesses {
        q.guess(g.matters, g.text, g.why);
    }
    let mut plan: Vec<Change> = Vec::new();
    for part in changes.split(',').flat_map(|p| p.split(" and ")).map(str::trim).filter(|p| !p.is_empty()) {
        match change(&rig, part) {
            Some(change) => plan.push(change),
            None => q.problem(
                "unknown-change",
                format!("\"{part}\" is no change that is understood"),
                "write how many there are, such as 2 speakers; or without wedge".to_owned(),
            ),
        }
    }
    let gone: Vec<String> = plan.iter().flat_map(|c| c.gone.clone()).collect();
    bring_all(q, &rig, &gone)?;
    for c in &plan {
        for n in 0..c.more {
            add(q, &c.meant, n)?;
        }
        if c.more == 0 && c.gone.is_empty() {
            q.guess(Matters::Later, format!("\"{other}\" has that many already"), "it was counted");
        }
    }
    for name in &gone {
        q.guess(Matters::Later, format!("{name} stays at home, and its leads"), "there are fewer here");
    }
    Ok(())
}

struct Change {
    meant: Meant,
    gone: Vec<String>,
    more: usize,
}

fn change(rig: &Rig, text: &str) -> Option<Change> {
    let mut said = words(text, &[]);
    let takes = said.first().is_some_and(|w| w.is("without") || w.is("no"));
    let adds = said
        .first()
        .is_some_and(|w| ["with", "plus", "extra", "another", "more"].contains(&w.house.as_str()));
    if takes || adds {
        said.remove(0);
    }
    while said.first().is_some_and(|w| w.is("only") || w.is("just")) {
        said.remove(0);
    }
    let count = take_count(&mut said);
    let named: Vec<String> =
        rig.gear.iter().filter(|g| words_alike(&g.name, &said)).map(|g| g.name.clone()).collect();
    let meant = name::meant(&said, None)?;
    let head = meant.said.rsplit(' ').next().unwrap_or("").to_owned();
    let here: Vec<String> = rig
        .gear
        .iter()
        .filter(|g| g.placed != Placed::InCase)
        .filter(|g| {
            g.kind.as_deref().is_some_and(|k| {
                k == meant.kind.name || words(k, &[]).iter().any(|w| w.is(&head)) && !k.contains("supply")
            })
        })
        .map(|g| g.name.clone())
        .collect();
    let here = if named.is_empty() { here } else { named };
    let wanted = match (takes, adds, count) {
        (true, _, None) => 0,
        (true, _, Some(n)) => here.len().saturating_sub(n as usize),
        (_, true, n) => here.len() + n.unwrap_or(1) as usize,
        (_, _, n) => n.unwrap_or(1) as usize,
    };
    Some(Change {
        meant,
        gone: here.iter().skip(wanted).cloned().collect(),
        more: wanted.saturating_sub(here.len()).min(20),
    })
}

fn words_alike(name: &str, said: &[Word]) -> bool {
    crate::same_name(name, &super::words::typed(said))
}

/// All lines of the other rig, without those of the pieces that stay at home.
fn bring_all(q: &mut Quick<'_>, rig: &Rig, gone: &[String]) -> Read<()> {
    let is_gone = |name: &str| gone.iter().any(|g| crate::same_name(g, name));
    let touches = |label: &str| {
        // `SPEAKER 2 A` is no socket of SPEAKER when there is a SPEAKER 2.
        let mut best = "";
        for g in &rig.gear {
            let fits = crate::same_name(&g.name, label)
                || crate::fold(label).starts_with(&format!("{} ", crate::fold(&g.name)));
            if fits && g.name.len() > best.len() {
                best = &g.name;
            }
        }
        is_gone(best)
    };
    let mut skip = false;
    for line in super::super::write(rig).lines() {
        let mut slips = Slips::default();
        let mut statement = statement::read(Piece::new(line, 0), &Origin::Yours, &mut slips);
        match &mut statement {
            Statement::Rig(_) if q.has_name => continue,
            Statement::Gear { name, .. } => skip = is_gone(name),
            Statement::Detail(_) => {}
            Statement::Link(ends) => {
                skip = false;
                let ends: Vec<&str> =
                    [ends.first(), ends.last()].into_iter().flatten().map(|(t, _)| t.as_str()).collect();
                if ends.into_iter().any(touches) {
                    continue;
                }
            }
            Statement::Breaker { feeds, .. } => {
                skip = false;
                feeds.retain(|(name, _)| !is_gone(name));
            }
            Statement::Answer(a, _) if is_gone(&a.about) => continue,
            _ => skip = false,
        }
        if !skip {
            q.out.push(at_span(statement, &q.span));
        }
    }
    let mut place: Vec<Option<usize>> = Vec::new();
    for gear in &rig.gear {
        if is_gone(&gear.name) {
            place.push(None);
        } else {
            place.push(Some(q.pieces.len()));
            q.pieces.push(gear.clone());
        }
    }
    for link in &rig.links {
        let ends =
            [link.from, link.to].map(|s| place.get(s.gear.0).copied().flatten().map(|p| (p, s.socket)));
        if let [Some(a), Some(z)] = ends {
            q.fill(a.0, a.1);
            q.fill(z.0, z.1);
        }
    }
    q.leads.extend(rig.leads.iter().cloned());
    q.home = rig.home;
    Ok(())
}

/// One more piece of a kind, fed from the mixer, or from the through socket of one like it.
fn add(q: &mut Quick<'_>, m: &Meant, n: usize) -> Read<()> {
    let name = m.name.iter().map(Word::in_name).collect::<Vec<_>>().join(" ");
    let why = "the other rig has one fewer";
    let there = name::alike(q, &m.said, m.kind);
    let name = if there.is_empty() { name } else { format!("{name} {}", there.len() + 1) };
    let piece = q.bring(&name, m.kind, why, "")?;
    if !m.kind.body.loud {
        return Ok(());
    }
    let mixers: Vec<usize> = name::kind_of("mixer").map(|k| name::alike(q, "mixer", k)).unwrap_or_default();
    let plain = |piece: usize| End { piece, named: None };
    for from in mixers.into_iter().chain(there) {
        let Some(pair) = choose(q, &plain(from), &plain(piece), &[]) else { continue };
        let socket = q
            .pieces
            .get(from)
            .and_then(|g| g.body.sockets.get(pair.out))
            .map_or(String::new(), |s| s.name.clone());
        let main = socket.to_uppercase().starts_with("MAIN") || socket.eq_ignore_ascii_case("THRU");
        if !main || n > 20 {
            continue;
        }
        own_lead(q, from, piece, &pair)?;
        let text = format!("{} is fed from {} {socket}", q.name_of(piece), q.name_of(from));
        q.guess(Matters::Must, text, "the first main socket that is free");
        return power(q, piece);
    }
    power(q, piece)
}

/// Mains from the first strip or outlet on stage that has a place free.
fn power(q: &mut Quick<'_>, piece: usize) -> Read<()> {
    let gives = |g: &crate::Gear| {
        g.placed != Placed::InCase
            && g.body.sockets.iter().any(|s| s.output().is_some_and(|o| o.class == crate::Class::Mains))
    };
    let strips: Vec<usize> = (0..q.pieces.len()).filter(|p| q.pieces.get(*p).is_some_and(gives)).collect();
    for strip in strips {
        let plain = |piece: usize| End { piece, named: None };
        let Some(pair) = choose(q, &plain(strip), &plain(piece), &[]) else { continue };
        let mains = q
            .pieces
            .get(strip)
            .and_then(|g| g.body.sockets.get(pair.out))
            .is_some_and(crate::Socket::is_supply);
        if mains {
            return own_lead(q, strip, piece, &pair);
        }
    }
    Ok(())
}

/// A link over a lead that comes with the new piece: the other rig's leads are counted and in use.
fn own_lead(q: &mut Quick<'_>, from: usize, to: usize, pair: &Pair) -> Read<()> {
    let label = |q: &Quick<'_>, piece: usize, at: usize| {
        let socket = q
            .pieces
            .get(piece)
            .and_then(|g| g.body.sockets.get(at))
            .map_or("", |s| s.name.as_str())
            .to_owned();
        format!("{} {socket}", q.name_of(piece))
    };
    let mut line = label(q, from, pair.out);
    for kind in &pair.leads {
        let lead = format!("{kind} OF {}", q.name_of(to));
        let metres = q
            .lead_kind_list()
            .iter()
            .find(|k| k.name == *kind)
            .and_then(|k| k.lengths.iter().copied().find(|l| *l >= 5.0).or(k.lengths.last().copied()));
        let length = metres.map_or(String::new(), |m| format!(" {m} m (guessed: a usual length)"));
        q.push(&format!("lead {lead} = {kind}{length}: own 1 (guessed: it comes with the piece)"))?;
        line.push_str(&format!(" > {lead}"));
    }
    line.push_str(&format!(" > {}", label(q, to, pair.into)));
    q.push(&line)?;
    q.fill(from, pair.out);
    q.fill(to, pair.into);
    Ok(())
}
