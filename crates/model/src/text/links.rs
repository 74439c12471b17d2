//! Leads and links: what is plugged into what, with guesses where the line leaves something open.

use std::ops::Range;

use super::build::Builder;
use super::leads::{find_lead, kind_and_length, kinds, stocked};
use super::names::{self, Found};
use super::plug::{self, shorten};
use super::scan::Piece;
use super::statement::Statement;
use super::suggest::did_you_mean;
use crate::{Class, Connector, Direction, Form, GearId, LeadId, LeadKind, Link, Socket, SocketRef};

/// Every link line.
pub(crate) fn links(b: &mut Builder<'_>) {
    let lines = b.lines;
    for line in lines {
        let Statement::Link(segments) = &line.statement else { continue };
        link(b, segments, line.number, line.start..line.start + line.len);
    }
}

/// One end of a link line.
struct EndOf {
    piece: usize,
    /// What was typed after the piece's name.
    words: String,
    span: Range<usize>,
}

fn link(b: &mut Builder<'_>, segments: &[(String, Range<usize>)], line: usize, whole: Range<usize>) {
    let (Some(first), Some(last)) = (segments.first(), segments.last()) else { return };
    for (segment, span) in [first, last] {
        if segment.is_empty() {
            b.problem(
                "other-end",
                line,
                span.clone(),
                "this lead has nothing at one end: other end?".to_owned(),
                "write where it goes: GEAR SOCKET > LEAD > GEAR SOCKET".to_owned(),
            );
            return;
        }
    }
    let (from, to) = (end_of(b, first, line), end_of(b, last, line));
    let (Some(from), Some(to)) = (from, to) else { return };
    let pieces = [from.piece, to.piece];
    let unknown = pieces
        .iter()
        .any(|p| b.rig.gear.get(*p).is_none_or(|g| g.kind.is_none() && g.body.sockets.is_empty()));
    if unknown {
        // Said already: the kind is not known, so neither are its sockets.
        return;
    }
    if from.piece == to.piece {
        let name = b.rig.gear.get(from.piece).map_or(String::new(), |g| g.name.clone());
        b.problem(
            "own-tail",
            line,
            whole,
            format!("{name} is plugged into itself"),
            "check the names at both ends".to_owned(),
        );
        return;
    }
    if is_backwards(b, &from, &to) {
        let turned: Vec<&str> = segments.iter().rev().map(|(s, _)| s.as_str()).collect();
        b.problem(
            "wrong-way",
            line,
            whole,
            "sound or power runs the other way here".to_owned(),
            format!("write {}", turned.join(" > ")),
        );
        return;
    }
    let (Some(out), Some(into)) =
        (sockets_of(b, &from, Direction::Out, line), sockets_of(b, &to, Direction::In, line))
    else {
        return;
    };
    let Some((out, into)) = choose(b, &from, &to, &out, &into, line) else { return };
    if !both_empty(b, out, into, line, &whole) {
        return;
    }
    let Some(mut via) = chain(b, segments, out, into, line) else { return };
    if via.is_empty() && !fits(b, out, &via, into) {
        match guess_lead(b, out, into) {
            Some(lead) => via.push(lead),
            None => does_not_fit(b, out, &via, into, line, &whole),
        }
    } else if !fits(b, out, &via, into) {
        does_not_fit(b, out, &via, into, line, &whole);
    }
    b.rig.links.push(Link { from: out, via, to: into, span: whole });
}

fn end_of(b: &mut Builder<'_>, (text, span): &(String, Range<usize>), line: usize) -> Option<EndOf> {
    let piece = Piece::new(text, span.start);
    match b.pieces.longest(piece) {
        Some((piece, rest)) => Some(EndOf { piece, words: rest.text.to_owned(), span: span.clone() }),
        None => {
            if names::lead_kind(kinds(b), &names::length(piece).0).is_some() {
                b.problem(
                    "other-end",
                    line,
                    span.clone(),
                    format!("\"{}\" is a lead with nothing at one end: other end?", shorten(text)),
                    "write where it goes: GEAR SOCKET > LEAD > GEAR SOCKET".to_owned(),
                );
            } else {
                b.unknown_piece(text, line, span.clone());
            }
            None
        }
    }
}

/// Would the line be right the other way round, and only so?
fn is_backwards(b: &Builder<'_>, from: &EndOf, to: &EndOf) -> bool {
    let has = |end: &EndOf, direction: Direction| {
        let Some(gear) = b.rig.gear.get(end.piece) else { return false };
        let right = |i: usize| gear.body.sockets.get(i).is_some_and(|s| s.direction() == direction);
        if end.words.is_empty() {
            return (0..gear.body.sockets.len()).any(right);
        }
        match names::socket(&gear.body, &end.words, direction) {
            Found::One(i) => right(i),
            Found::Several(all) => all.into_iter().any(right),
            Found::None => false,
        }
    };
    let here = has(from, Direction::Out) && has(to, Direction::In);
    !here && has(from, Direction::In) && has(to, Direction::Out)
}

/// Sockets that the words may mean, in order; `None` when that is a problem, which is then told.
fn sockets_of(b: &mut Builder<'_>, end: &EndOf, direction: Direction, line: usize) -> Option<Vec<usize>> {
    let gear = b.rig.gear.get(end.piece)?;
    let name = gear.name.clone();
    let is_right = |i: &usize| gear.body.sockets.get(*i).is_some_and(|s| s.direction() == direction);
    let listed: Vec<String> =
        gear.body.sockets.iter().filter(|s| s.direction() == direction).map(|s| s.name.clone()).collect();
    let way = if direction == Direction::Out { "gives" } else { "takes" };
    if end.words.is_empty() {
        let all: Vec<usize> = (0..gear.body.sockets.len()).filter(is_right).collect();
        if all.is_empty() {
            b.problem(
                "wrong-way",
                line,
                end.span.clone(),
                format!("{name} has no socket that {way} anything"),
                "write the piece that sound or power comes from on the left".to_owned(),
            );
            return None;
        }
        return Some(all);
    }
    match names::socket(&gear.body, &end.words, direction) {
        Found::One(i) if is_right(&i) => Some(vec![i]),
        Found::One(i) => {
            let socket = gear.body.sockets.get(i).map_or("", |s| s.name.as_str()).to_owned();
            b.problem(
                "wrong-way",
                line,
                end.span.clone(),
                format!("{name} {socket} is no socket that {way} sound or power"),
                "write the piece that sound or power comes from on the left".to_owned(),
            );
            None
        }
        Found::Several(all) => {
            let fitting: Vec<String> =
                all.iter().filter_map(|i| gear.body.sockets.get(*i)).map(|s| s.name.clone()).collect();
            b.problem(
                "which-socket",
                line,
                end.span.clone(),
                format!("\"{}\" fits more than one socket of {name}", end.words),
                format!("write one of: {}", fitting.join(", ")),
            );
            None
        }
        Found::None => {
            let help = did_you_mean(
                &end.words,
                listed.iter().map(String::as_str),
                "docs/shelf.md lists the sockets of each kind",
            );
            b.problem(
                "unknown-socket",
                line,
                end.span.clone(),
                format!("{name} has no socket \"{}\"", shorten(&end.words)),
                help,
            );
            None
        }
    }
}

/// The first free pair whose classes agree; where both were named, just these.
fn choose(
    b: &mut Builder<'_>,
    from: &EndOf,
    to: &EndOf,
    outs: &[usize],
    ins: &[usize],
    line: usize,
) -> Option<(SocketRef, SocketRef)> {
    let at = |end: &EndOf, socket: usize| SocketRef { gear: GearId(end.piece), socket };
    if let ([out], [into]) = (outs, ins) {
        return Some((at(from, *out), at(to, *into)));
    }
    let free = |b: &Builder<'_>, s: SocketRef| !b.rig.links.iter().any(|l| l.from == s || l.to == s);
    // A named socket may be full: then that is said, and not another one taken.
    let (named_out, named_in) = (!from.words.is_empty(), !to.words.is_empty());
    for out in outs {
        for into in ins {
            let pair = (at(from, *out), at(to, *into));
            let empty = (named_out || free(b, pair.0)) && (named_in || free(b, pair.1));
            if empty && agree(b, pair.0, pair.1) {
                return Some(pair);
            }
        }
    }
    let (a, z) = (piece_name(b, from.piece), piece_name(b, to.piece));
    b.problem(
        "no-free-socket",
        line,
        from.span.start..to.span.end,
        format!("no free socket of {z} takes what a free socket of {a} gives"),
        format!("name both sockets, for example: {a} SOCKET > LEAD > {z} SOCKET"),
    );
    None
}

fn piece_name(b: &Builder<'_>, piece: usize) -> String {
    b.rig.gear.get(piece).map_or(String::new(), |g| g.name.clone())
}

/// May this output's class go into this input, as far as its class says? A headphone output serves as line.
fn agree(b: &Builder<'_>, out: SocketRef, into: SocketRef) -> bool {
    let (Some(out), Some(into)) = (b.rig.socket(out), b.rig.socket(into)) else { return false };
    let Some(output) = out.output() else { return false };
    into.takes(&output.class) || (output.class == Class::Phones && into.takes(&Class::Line))
}

fn both_empty(
    b: &mut Builder<'_>,
    out: SocketRef,
    into: SocketRef,
    line: usize,
    whole: &Range<usize>,
) -> bool {
    for socket in [out, into] {
        let held = b.rig.links.iter().find(|l| l.from == socket || l.to == socket);
        let Some(held) = held.map(|l| l.span.start) else { continue };
        let other = b.lines.iter().find(|l| l.start == held).map_or(0, |l| l.number);
        let direction = b.rig.socket(socket).map(Socket::direction);
        let taken = |s: usize| {
            b.rig.links.iter().any(|l| [l.from, l.to].contains(&SocketRef { gear: socket.gear, socket: s }))
        };
        let like = b.rig.socket(socket).map(|s| s.classes().into_iter().cloned().collect::<Vec<_>>());
        let free: Vec<String> = b
            .rig
            .piece(socket.gear)
            .into_iter()
            .flat_map(|g| g.body.sockets.iter().enumerate())
            .filter(|(i, s)| Some(s.direction()) == direction && !taken(*i))
            .filter(|(_, s)| like.as_ref().is_some_and(|c| s.classes().iter().any(|x| c.contains(*x))))
            .map(|(_, s)| s.name.clone())
            .take(6)
            .collect();
        let help = if free.is_empty() {
            "pull one of the two out".to_owned()
        } else {
            format!("free there: {}", free.join(", "))
        };
        let label = b.rig.label(socket);
        b.problem(
            "two-plugs",
            line,
            whole.clone(),
            format!("two plugs in one socket: {label} holds the plug of line {other} already"),
            help,
        );
        return false;
    }
    true
}

/// The leads between the two ends.
fn chain(
    b: &mut Builder<'_>,
    segments: &[(String, Range<usize>)],
    out: SocketRef,
    into: SocketRef,
    line: usize,
) -> Option<Vec<LeadId>> {
    let middle = segments.get(1..segments.len().saturating_sub(1)).unwrap_or_default();
    let mut via = Vec::new();
    for (text, span) in middle {
        if text.is_empty() {
            b.problem(
                "other-end",
                line,
                span.clone(),
                "two arrows with nothing between".to_owned(),
                "write the lead between them, or take one out".to_owned(),
            );
            return None;
        }
        if let Some(id) = find_lead(b, text) {
            via.push(id);
            continue;
        }
        let words = names::length(Piece::new(text, span.start)).0;
        let says_lead = ["lead", "leads", "cable", "cables"].iter().any(|w| crate::fold(&words).ends_with(w));
        let is_lead = says_lead && names::lead_kind(kinds(b), &words).is_some();
        if !is_lead && b.pieces.longest(Piece::new(text, span.start)).is_some() {
            b.problem(
                "gear-between",
                line,
                span.clone(),
                format!("\"{}\" is gear, not a lead", shorten(text)),
                "write two lines: one into it, one out of it".to_owned(),
            );
            return None;
        }
        let (kind, length) = kind_and_length(b, text, line, span.clone())?;
        via.push(stocked(b, kind, length, out, into));
    }
    Some(via)
}

/// Where a line names no lead: the first on the shelf that fits both ends and may carry it.
fn guess_lead(b: &mut Builder<'_>, out: SocketRef, into: SocketRef) -> Option<LeadId> {
    let class = b.rig.socket(out)?.output()?.class.clone();
    let owned = b.rig.leads.iter().map(|l| l.kind.clone());
    let all: Vec<LeadKind> = owned.chain(kinds(b).cloned()).collect();
    let kind =
        all.into_iter().find(|k| !k.adapter && carries(k, &class) && fits_kinds(b, out, &[k], into))?;
    Some(stocked(b, kind, None, out, into))
}

fn carries(kind: &LeadKind, class: &Class) -> bool {
    kind.carries.contains(class) || (*class == Class::Phones && kind.carries.contains(&Class::Line))
}

fn fits(b: &Builder<'_>, out: SocketRef, via: &[LeadId], into: SocketRef) -> bool {
    let kinds: Vec<&LeadKind> = via.iter().filter_map(|id| b.rig.lead(*id)).map(|l| &l.kind).collect();
    fits_kinds(b, out, &kinds, into)
}

/// Do plugs and sockets mate all along, each piece either way round?
fn fits_kinds(b: &Builder<'_>, out: SocketRef, chain: &[&LeadKind], into: SocketRef) -> bool {
    let (Some(out), Some(into)) = (b.rig.socket(out), b.rig.socket(into)) else { return false };
    mates(out, chain, into, None)
}

/// Do plugs and sockets mate all along, each piece either way round? `form`: the plug that goes in.
pub(crate) fn mates(out: &Socket, chain: &[&LeadKind], into: &Socket, form: Option<&Form>) -> bool {
    if chain.is_empty() && out.tail.is_none() && into.tail.is_none() {
        // Plug and socket would mate, but both are on the gear.
        return false;
    }
    let mut open: Vec<&Connector> = out.connectors.iter().collect();
    for kind in chain {
        let [a, z] = &kind.ends;
        let mut next = Vec::new();
        for (near, far) in [(a, z), (z, a)] {
            if open.iter().any(|o| o.mates_with(near)) {
                next.push(far);
            }
        }
        open = next;
    }
    let goes_in = |c: &&Connector| form.is_none_or(|f| c.form == *f);
    open.iter().any(|o| into.connectors.iter().filter(goes_in).any(|c| c.mates_with(o)))
}

fn does_not_fit(
    b: &mut Builder<'_>,
    out: SocketRef,
    via: &[LeadId],
    into: SocketRef,
    line: usize,
    whole: &Range<usize>,
) {
    let (from, to) = (b.rig.label(out), b.rig.label(into));
    let plugs = |b: &Builder<'_>, s: SocketRef| {
        b.rig.socket(s).map_or(String::new(), |s| plug::join(&s.connectors, " or ", plug::print))
    };
    let (has_from, has_to) = (plugs(b, out), plugs(b, into));
    let class = b.rig.socket(out).and_then(Socket::output).map(|o| o.class.clone());
    let fitting: Vec<String> = kinds(b)
        .filter(|k| class.as_ref().is_none_or(|c| carries(k, c)) && fits_kinds(b, out, &[k], into))
        .map(|k| format!("\"{}\"", k.name))
        .take(3)
        .collect();
    let help = if fitting.is_empty() {
        "check the two sockets, or add an adapter between two arrows".to_owned()
    } else {
        format!("this fits: {}", fitting.join(" or "))
    };
    let named: Vec<String> = via.iter().filter_map(|id| b.rig.lead(*id)).map(|l| l.name.clone()).collect();
    let message = if named.is_empty() {
        format!("{from} ({has_from}) cannot be plugged straight into {to} ({has_to})")
    } else {
        let between = named.join(" and ");
        format!("{between} does not fit between {from} ({has_from}) and {to} ({has_to})")
    };
    b.problem("does-not-fit", line, whole.clone(), message, help);
}
