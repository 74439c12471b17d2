//! Leads: kinds looked up, counts, and guesses of length where a line leaves it open.

use std::ops::Range;

use super::build::Builder;
use super::figure::{self, METRES, Print};
use super::names;
use super::plug::shorten;
use super::scan::{Piece, Slips};
use super::statement::Statement;
use super::suggest::did_you_mean;
use crate::{Figure, Lead, LeadId, LeadKind, Origin, SocketRef, shelf};

/// Every kind of lead: the owner's own first.
pub(crate) fn kinds<'b>(b: &'b Builder<'_>) -> impl Iterator<Item = &'b LeadKind> + Clone {
    b.lead_kinds.iter().chain(shelf::lead_kinds())
}

/// The lead type of this name, or of this kind and length.
pub(crate) fn find_lead(b: &Builder<'_>, what: &str) -> Option<LeadId> {
    if let Some(id) = b.rig.find_lead(what) {
        return Some(id);
    }
    let (name, metres) = names::length(Piece::new(what, 0));
    let kind = names::lead_kind(kinds(b), &name)?;
    let length = match metres {
        Some(m) => METRES.figure(m, &Origin::Yours, &mut Slips::default())?.value,
        None if kind.adapter => 0.0,
        None => return None,
    };
    let same = |l: &Lead| l.kind.name == kind.name && (l.length.value - length).abs() < 1e-9;
    b.rig.leads.iter().position(same).map(LeadId)
}

/// A lead named for the first time in a `bag` or `stage` line; `None` when the words are no lead with its length.
pub(crate) fn new_lead(b: &mut Builder<'_>, what: &str) -> Option<LeadId> {
    let (name, metres) = names::length(Piece::new(what, 0));
    let kind = names::lead_kind(kinds(b), &name)?.clone();
    let length = match metres {
        Some(m) => METRES.figure(m, &Origin::Yours, &mut Slips::default())?,
        None if kind.adapter => Figure::typical(0.0),
        None => return None,
    };
    b.guessed_counts.insert(b.rig.leads.len());
    let (name, owned) = (what.to_owned(), Figure::guessed(0, COUNT_GUESS));
    b.rig.leads.push(Lead { name, kind, length, owned, in_case: 0, bag: None });
    Some(LeadId(b.rig.leads.len() - 1))
}

/// Declared leads.
pub(crate) fn leads(b: &mut Builder<'_>) {
    let lines = b.lines;
    for line in lines {
        let Statement::Lead { name, what, name_span, owned, in_case, bag } = &line.statement else {
            continue;
        };
        if b.rig.find_lead(name).is_some() {
            b.problem(
                "same-name-twice",
                line.number,
                name_span.clone(),
                format!("{name} is counted on an earlier line already; the first line counts"),
                "put the counts together on one line".to_owned(),
            );
            continue;
        }
        let Some((kind, length)) = kind_and_length(b, what, line.number, name_span.clone()) else { continue };
        let length = length.unwrap_or_else(|| {
            let usual = kind.lengths.first().copied().unwrap_or(3.0);
            Figure::guessed(
                if kind.adapter { 0.0 } else { usual },
                if kind.adapter { "an adapter" } else { "no length given" },
            )
        });
        let length = if kind.adapter { Figure::typical(0.0) } else { length };
        let owned = owned.clone().unwrap_or_else(|| {
            b.guessed_counts.insert(b.rig.leads.len());
            Figure::guessed(0, COUNT_GUESS)
        });
        b.rig.leads.push(Lead {
            name: name.clone(),
            kind,
            length,
            owned,
            in_case: *in_case,
            bag: bag.clone(),
        });
    }
}

/// Why a length is a guess.
const LENGTH_GUESS: &str = "the shortest usual one that reaches";
/// Why a count is a guess.
const COUNT_GUESS: &str = "as many as are plugged";

pub(crate) fn kind_and_length(
    b: &mut Builder<'_>,
    what: &str,
    line: usize,
    span: Range<usize>,
) -> Option<(LeadKind, Option<Figure<f64>>)> {
    // Spans inside the words are not worth keeping: the whole lead is marked.
    let (head, note) = Piece::new(what, span.start).bracket();
    let (name, metres) = names::length(head);
    let Some(kind) = names::lead_kind(kinds(b), &name).cloned() else {
        let all: Vec<String> =
            kinds(b).flat_map(|k| std::iter::once(&k.name).chain(&k.also)).cloned().collect();
        let help = did_you_mean(
            &name,
            all.iter().map(String::as_str),
            "docs/shelf.md lists leads and adapters; or say what it is: lead kind NAME: jack plug to XLR-M, ts, carries line",
        );
        b.problem(
            "unknown-lead",
            line,
            span,
            format!("\"{}\" is not a kind of lead or adapter", shorten(&name)),
            help,
        );
        return None;
    };
    let mut slips = Slips::default();
    let origin = note.and_then(figure::origin).unwrap_or(Origin::Yours);
    let length = metres.and_then(|m| METRES.figure(m, &origin, &mut slips));
    for slip in slips.0 {
        b.problem(slip.code, line, span.clone(), slip.message, slip.help.unwrap_or_default());
    }
    Some((kind, length))
}

/// The type of that kind and length, added when it was not counted.
pub(crate) fn stocked(
    b: &mut Builder<'_>,
    kind: LeadKind,
    length: Option<Figure<f64>>,
    out: SocketRef,
    into: SocketRef,
) -> LeadId {
    let wanted = span_of(b, out, into);
    if length.is_none() && !kind.adapter {
        let mut owned: Vec<(f64, usize)> = b
            .rig
            .leads
            .iter()
            .enumerate()
            // A type whose length was guessed for another place is no stock: this place gets its own guess.
            .filter(|(_, l)| {
                l.kind.name == kind.name && l.length.origin != Origin::Guessed(LENGTH_GUESS.to_owned())
            })
            .map(|(i, l)| (l.length.value, i))
            .collect();
        owned.sort_by(|a, z| a.0.total_cmp(&z.0));
        let reaching = owned.iter().find(|(l, _)| *l >= wanted).or(owned.last());
        if let Some((_, i)) = reaching {
            return LeadId(*i);
        }
    }
    let length = if kind.adapter {
        Figure::typical(0.0)
    } else {
        length.unwrap_or_else(|| {
            let metres =
                kind.lengths.iter().find(|l| **l >= wanted).or(kind.lengths.last()).copied().unwrap_or(3.0);
            Figure::guessed(metres, LENGTH_GUESS)
        })
    };
    let name = if kind.adapter {
        kind.name.clone()
    } else {
        format!(
            "{} {}",
            kind.name,
            Print { figure: &Figure::yours(length.value), unit: "m", default: &Origin::Yours }
        )
    };
    if let Some(id) = b.rig.find_lead(&name) {
        return id;
    }
    b.guessed_counts.insert(b.rig.leads.len());
    b.rig.leads.push(Lead {
        name,
        kind,
        length,
        owned: Figure::guessed(0, COUNT_GUESS),
        in_case: 0,
        bag: None,
    });
    LeadId(b.rig.leads.len() - 1)
}

/// How long a lead between the two must be, metres: 20 % for the way round, and both rises.
fn span_of(b: &Builder<'_>, out: SocketRef, into: SocketRef) -> f64 {
    let at = |s: SocketRef| {
        let gear = b.rig.piece(s.gear)?;
        let socket = b.rig.socket(s)?;
        let tail = socket.tail.as_ref().map_or(0.0, |t| t.value);
        Some((gear.at.unwrap_or(b.rig.home), gear.rise(socket) - tail))
    };
    let (Some((a, rise_a)), Some((z, rise_z))) = (at(out), at(into)) else { return 0.0 };
    let (dx, dy) = (a.x - z.x, a.y - z.y);
    1.2 * (dx * dx + dy * dy).sqrt() + rise_a + rise_z
}

/// `n` leads of a type in the bag, or spare on stage, by a `bag` or `stage` line.
pub(crate) fn put_in_bag(b: &mut Builder<'_>, lead: LeadId, n: u32, in_bag: bool) {
    let guessed = b.guessed_counts.contains(&lead.0);
    let Some(lead) = b.rig.leads.get_mut(lead.0) else { return };
    if in_bag {
        lead.in_case = lead.in_case.saturating_add(n);
    }
    if guessed {
        lead.owned.value = lead.owned.value.saturating_add(n);
    }
}

/// Counts checked against what is plugged; guessed counts filled in.
pub(crate) fn count(b: &mut Builder<'_>) {
    let lines = b.lines;
    for i in 0..b.rig.leads.len() {
        let used = u32::try_from(b.rig.in_use(LeadId(i))).unwrap_or(u32::MAX);
        let guessed = b.guessed_counts.contains(&i);
        let Some(lead) = b.rig.leads.get_mut(i) else { continue };
        if guessed {
            lead.owned.value = lead.owned.value.max(lead.in_case).saturating_add(used);
            continue;
        }
        let (name, owned, in_case) = (lead.name.clone(), lead.owned.value, lead.in_case);
        let declared = lines.iter().find_map(|l| match &l.statement {
            Statement::Lead { name: n, name_span, .. } if crate::same_name(n, &name) => {
                Some((l.number, name_span.clone()))
            }
            _ => None,
        });
        let (line, span) = declared.unwrap_or((1, 0..0));
        if used > owned {
            b.problem(
                "more-used-than-owned",
                line,
                span,
                format!("{used} of {name} are plugged, but you own {owned}"),
                format!("write own {}, or plug another lead", used.saturating_add(in_case)),
            );
        } else if used.saturating_add(in_case) > owned {
            b.problem(
                "more-used-than-owned",
                line,
                span,
                format!("{used} of {name} are plugged and {in_case} are in the bag, but you own {owned}"),
                format!("write own {}", used.saturating_add(in_case)),
            );
        }
    }
}
