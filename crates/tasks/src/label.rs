//! Things of a compiled rig in the performer's own labels.

use check::compile::{About, Compiled, Named, Turn};
use check::ids::{GearId, KnobId, PartId};
use check::spec::Rank;
use model::BankEffect;

use crate::view;

/// `voice for audience`.
pub(crate) fn part(c: &Compiled, p: PartId) -> String {
    c.problem.part(p).name.clone()
}

/// How much it matters.
pub(crate) fn rank(c: &Compiled, p: PartId) -> view::Matters {
    match c.problem.part(p).rank {
        Rank::Must => view::Matters::Must,
        Rank::Should => view::Matters::Should,
        Rank::Nice => view::Matters::Nice,
        Rank::Never => view::Matters::Never,
    }
}

/// The taped name.
pub(crate) fn gear(c: &Compiled, g: GearId) -> String {
    c.name(g).to_owned()
}

/// What is printed on a knob or switch.
pub(crate) fn knob(c: &Compiled, k: KnobId) -> String {
    match c.turn(k) {
        Turn::Route(at) => c.rig.route(at).map_or(String::new(), |r| r.knob_name().to_owned()),
        Turn::Bank(g, bank) => {
            let bank = c.rig.piece(g).and_then(|g| g.body.banks.get(bank));
            bank.map_or(String::new(), |b| match b.effect {
                BankEffect::Phantom | BankEffect::Mute(_) => b.name.clone(),
            })
        }
    }
}

/// Silent parts as people say it, the most important first: `everything` when the audience hears nothing that counts; else what
/// it no longer hears, and in brackets what each performer no longer does.
pub(crate) fn in_words(c: &Compiled, parts: &[PartId]) -> String {
    let spec = &c.problem.spec;
    let audience = |p: &PartId| {
        let listener = c.problem.part(*p).listener;
        spec.listeners.get(listener.ix()).is_some_and(|l| model::same_name(&l.name, model::AUDIENCE))
    };
    let source = |p: &PartId| spec.sources.get(c.problem.part(*p).source.ix()).map_or("it", String::as_str);
    let mut out: Vec<&PartId> = parts.iter().filter(|p| audience(p)).collect();
    // Stable: equals stay in the order of the file.
    out.sort_by_key(|p| rank(c, **p));
    let counted = c.problem.counted.iter().filter(|p| audience(p)).count();
    if counted > 1 && out.len() == counted {
        return "everything".to_owned();
    }
    let heard: Vec<&str> = out.iter().map(|p| source(p)).collect();
    let mut own: Vec<(usize, Vec<&str>)> = Vec::new();
    for p in parts.iter().filter(|p| !audience(p)) {
        let listener = c.problem.part(*p).listener.ix();
        match own.iter_mut().find(|(l, _)| *l == listener) {
            Some((_, sources)) => sources.push(source(p)),
            None => own.push((listener, vec![source(p)])),
        }
    }
    let own: Vec<String> = own
        .iter()
        .map(|(l, sources)| {
            format!("{}: {}", spec.listeners.get(*l).map_or("?", |l| l.name.as_str()), sources.join(", "))
        })
        .collect();
    match (heard.is_empty(), own.is_empty()) {
        (_, true) => heard.join(", "),
        (true, false) => format!("for {}", own.join("; ")),
        (false, false) => format!("{} ({})", heard.join(", "), own.join("; ")),
    }
}

/// A fault as a performer names it: a taped lead by its tape, everything else as `check` does. `--dead` takes it.
///
/// A tape that is also the name of a piece, or that two places share, would be taken for the other: then the long name
/// stands.
pub(crate) fn fault(c: &Compiled, named: &Named) -> String {
    match taped(c, named) {
        Some(tape) if clear(c, &tape) => tape,
        Some(_) | None => named.key.clone(),
    }
}

/// The fault of the lead with this tape.
pub(crate) fn by_tape<'c>(c: &'c Compiled, name: &str) -> Option<&'c Named> {
    let wanted = name.trim();
    let mut found = c.faults.iter().filter(|f| taped(c, f).is_some_and(|t| model::same_name(&t, wanted)));
    found.next().filter(|_| clear(c, wanted))
}

fn taped(c: &Compiled, named: &Named) -> Option<String> {
    let About::Lead { link, piece } = named.about else { return None };
    let lead = c.problem.spec.patch.get(link)?.via.get(piece)?;
    cards::write::is_taped(c, *lead).then(|| c.lead_name(*lead).to_owned())
}

fn clear(c: &Compiled, tape: &str) -> bool {
    let piece = |f: &Named| f.key.split(": ").next().is_some_and(|n| model::same_name(n, tape));
    let places = c.faults.iter().filter(|f| taped(c, f).is_some_and(|t| model::same_name(&t, tape))).count();
    places == 1 && !c.faults.iter().any(piece)
}
