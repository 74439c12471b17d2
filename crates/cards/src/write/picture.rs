//! What changes, drawn: the pieces touched, their neighbours, and the leads between them.

use check::compile::{About, Named};
use check::ids::{GearId, LeadId, LinkId, PartId, SocketId};
use check::plan::{End as PlanEnd, Plan};
use check::{Judge, Problem};

use super::book::Book;
use super::group::{Group, is_whole};
use crate::line::Line;
use crate::picture::{End, Lead, LeadKind, LeadState, Picture, Piece, Role};

/// Boxes that still fit beside eight steps.
const PIECES: usize = 8;

/// The picture of a plan; `None` when nothing is moved. `makes` says which step makes which new link.
pub(super) fn picture(
    book: Book<'_>,
    group: &Group<'_>,
    plan: &Plan,
    judge: &Judge<'_>,
    makes: &[(SocketId, SocketId, u32)],
) -> Option<Picture> {
    let problem = &book.c.problem;
    if plan.new.is_empty() && plan.pulls.is_empty() && plan.places.is_empty() {
        return None;
    }
    let faults = group.faults();
    let dead_links: Vec<usize> = faults
        .iter()
        .filter_map(|f| if let About::Lead { link, .. } = f.about { Some(link) } else { None })
        .collect();
    let dead_gear: Vec<GearId> = faults
        .iter()
        .filter_map(|f| if let About::Mode { gear, .. } = f.about { Some(GearId::at(gear)) } else { None })
        .collect();
    let wholly = |g: GearId| faults.iter().any(|f| is_gear(f, g) && is_whole(f));
    let chosen = pieces(book, plan, &dead_gear, &dead_links, &wholly);
    let mut it = Picture::default();
    for g in &chosen {
        it.pieces.push(Piece {
            name: book.gear(*g).map_or_else(|| "?".into(), |g| g.name.clone()),
            role: role(book, *g, judge),
            dead: wholly(*g),
            house: book.gear(*g).is_some_and(|g| matches!(g.owner, model::Owner::House { .. })),
        });
    }
    let end = |s: SocketId| {
        let piece = chosen.iter().position(|g| *g == book.gear_of(s))?;
        Some(End { piece, label: book.print_of(s).unwrap_or_default().to_owned() })
    };
    for (i, link) in problem.spec.patch.iter().enumerate() {
        let l = LinkId::at(i);
        let out = plan.pulls(l, PlanEnd::From) || plan.pulls(l, PlanEnd::To) || taken_over(problem, plan, l);
        let dead = dead_links.contains(&i);
        if book.is_supply(link.from) && !out && !dead {
            continue;
        }
        let (Some(from), Some(to)) = (end(link.from), end(link.to)) else { continue };
        let state = match (dead, out) {
            (true, _) => LeadState::Dead,
            (false, true) => LeadState::Out,
            (false, false) => LeadState::Kept,
        };
        it.leads.push(Lead { name: name(book, &link.via), from, to, state, kind: kind(book, link.from) });
    }
    for n in &plan.new {
        let Some(pair) = problem.pairs.pairs.get(n.pair) else { continue };
        let (Some(from), Some(to)) = (end(pair.from), end(pair.to)) else { continue };
        let made = makes.iter().find(|(f, t, _)| (*f, *t) == (pair.from, pair.to));
        // Without a step of its own it cannot carry a number; then it is shown as it stands at the end.
        let state = made.map_or(LeadState::Kept, |(_, _, step)| LeadState::New(*step));
        let via = problem.pairs.chains.get(n.chain).map(|c| c.via.as_slice()).unwrap_or_default();
        it.leads.push(Lead { name: name(book, via), from, to, state, kind: kind(book, pair.from) });
    }
    it.audience = it.pieces.iter().any(|p| p.role == Role::HeardByAudience);
    Some(it)
}

fn is_gear(named: &Named, g: GearId) -> bool {
    matches!(named.about, About::Mode { gear, .. } if gear == g.ix())
}

/// Does a new link keep an end of this one?
fn taken_over(problem: &Problem, plan: &Plan, l: LinkId) -> bool {
    plan.new.iter().any(|n| n.kept.and_then(|end| problem.kept_link(n.pair, end)) == Some(l))
}

/// Pieces touched first, then neighbours by sound, as long as there is room.
fn pieces(
    book: Book<'_>,
    plan: &Plan,
    dead_gear: &[GearId],
    dead_links: &[usize],
    wholly: &dyn Fn(GearId) -> bool,
) -> Vec<GearId> {
    let problem = &book.c.problem;
    let mut out: Vec<GearId> = Vec::new();
    let mut add = |g: GearId| {
        if out.len() < PIECES && !out.contains(&g) {
            out.push(g);
        }
    };
    dead_gear.iter().copied().for_each(&mut add);
    for link in dead_links.iter().filter_map(|l| problem.spec.patch.get(*l)) {
        add(book.gear_of(link.from));
        add(book.gear_of(link.to));
    }
    for pair in plan.new.iter().filter_map(|n| problem.pairs.pairs.get(n.pair)) {
        add(book.gear_of(pair.from));
        add(book.gear_of(pair.to));
    }
    plan.places.iter().map(|(g, _)| *g).for_each(&mut add);
    for link in plan.pulls.iter().filter_map(|(l, _)| problem.spec.patch.get(l.ix())) {
        add(book.gear_of(link.from));
        add(book.gear_of(link.to));
    }
    plan.starts.iter().copied().for_each(&mut add);
    let touched: Vec<GearId> =
        plan.places.iter().map(|(g, _)| *g).chain(dead_gear.iter().copied().filter(|g| wholly(*g))).collect();
    for link in problem.spec.patch.iter().filter(|l| !book.is_supply(l.from)) {
        let (from, to) = (book.gear_of(link.from), book.gear_of(link.to));
        if touched.contains(&from) || touched.contains(&to) {
            add(from);
            add(to);
        }
    }
    out
}

fn role(book: Book<'_>, g: GearId, judge: &Judge<'_>) -> Role {
    let Some(gear) = book.gear(g) else { return Role::Passes };
    if !gear.body.sounds.is_empty() {
        let spec = &book.c.problem.spec;
        let place = match judge.place(g) {
            check::spec::Place::At(n) => spec.gear.get(g.ix()).and_then(|s| s.placements.get(n)),
            check::spec::Place::Case => None,
        };
        let audience = place.is_none_or(|p| p.hears.iter().any(|(l, _)| book.is_audience(*l)))
            || book
                .c
                .problem
                .speakers
                .iter()
                .enumerate()
                .any(|(p, at)| at.contains(&g) && book.for_audience(PartId::at(p)));
        return if audience { Role::HeardByAudience } else { Role::HeardByPerformer };
    }
    if !gear.body.makes.is_empty() {
        return Role::Source;
    }
    let supplies = gear.body.sockets.iter().all(model::Socket::is_supply) && !gear.body.sockets.is_empty();
    if supplies { Role::Supply } else { Role::Passes }
}

/// What a performer calls the chain.
fn name(book: Book<'_>, via: &[LeadId]) -> Line {
    book.main_lead(via).map(|l| book.the_lead(l)).unwrap_or_default().into()
}

fn kind(book: Book<'_>, from: SocketId) -> LeadKind {
    let class = book.socket(from).and_then(|s| s.output()).map(|o| o.class.clone());
    match class {
        Some(model::Class::Mains) => LeadKind::Mains,
        Some(model::Class::Speaker) => LeadKind::Speaker,
        Some(c) if c.is_supply() => LeadKind::LowVoltage,
        _ => LeadKind::Sound,
    }
}
