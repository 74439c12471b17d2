//! What to see or hear at a step's end.

use check::Judge;
use check::ids::{GearId, PartId};
use engine::Do;

use super::book::Book;
use super::leads::Plugged;
use super::say::{chunks, list};
use super::steps::switch;
use crate::card::Sign;
use crate::line::{Line, printed, text};

/// The sign of one act. `back`: parts that come back with it.
pub(super) fn sign(book: Book<'_>, judge: &Judge<'_>, does: &Do, gear: GearId, back: &[PartId]) -> Sign {
    let names = book.parts(&back.iter().copied().filter(|p| book.for_audience(*p)).collect::<Vec<_>>());
    if let Some(some) = chunks(&names, 6).first().filter(|n| !n.is_empty()) {
        return Sign::Hear(Line::text(format!("the {}", list(some))));
    }
    match does {
        Do::Quieten(_) => Sign::See(Line::text("its knob at 0")),
        Do::Pull { from, .. } => match book.print_of(*from) {
            Some(label) => Sign::See([printed(label), text("empty")].into()),
            None => Sign::See(Line::text("it free")),
        },
        Do::Place { gear, .. } if plays(book, *gear) => Sign::See(Line::text("it play")),
        Do::Place { .. } => Sign::See(Line::text("it in place")),
        Do::Mend { .. } | Do::Start { .. } => lamp(book, gear, "it start"),
        Do::Knob { knob, on } => match book.c.turn(*knob) {
            check::compile::Turn::Bank(..) => {
                Sign::See(Line::text(if *on { "its lamp lit" } else { "its lamp dark" }))
            }
            check::compile::Turn::Route(_) => Sign::See(Line::text(if *on { "it up" } else { "it at 0" })),
        },
        Do::Plug { to, .. } => {
            let g = book.gear_of(*to);
            // A lamp is lit by the plug alone only where nothing has to be switched on.
            if book.is_supply(*to) && book.gear(g).is_some_and(|g| g.body.starts_itself) {
                return lamp(book, g, "the plug go home");
            }
            match Plugged::of(does).and_then(|p| switch(book, &p)) {
                Some(class) => Sign::See([text("the switch on"), printed(class)].into()),
                None => Sign::Feel(Line::text("the plug go home")),
            }
        }
        Do::BringUp(g) => {
            let carried: Vec<PartId> =
                book.c.problem.counted.iter().copied().filter(|p| judge.sounds(*p, *g)).collect();
            let source = carried.first().and_then(|p| book.c.problem.spec.parts.get(p.ix()));
            match source.map(|p| book.source(p.source.ix())) {
                Some(name) => Sign::Hear(Line::text(format!("the {name}, soft"))),
                None => Sign::Hear(Line::text("no hum, no howl")),
            }
        }
    }
}

/// Does the piece play something by itself, once it is set going? A microphone or an instrument waits for somebody.
fn plays(book: Book<'_>, g: GearId) -> bool {
    let made = |source: &str| book.c.rig.sources.iter().find(|s| model::same_name(&s.name, source));
    book.gear(g).is_some_and(|g| {
        !g.body.makes.is_empty()
            && g.body.makes.iter().all(|m| made(&m.source).is_none_or(|s| s.played_by.is_none()))
            && g.body.placements.iter().any(|p| p.name.contains("play"))
    })
}

fn lamp(book: Book<'_>, g: GearId, without: &str) -> Sign {
    if book.has_lamp(g) { Sign::See(Line::text("its lamp lit")) } else { Sign::Feel(Line::text(without)) }
}
