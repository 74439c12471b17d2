//! What stands under the steps: the break, guesses, what would be a way, who may do it.

use check::Judge;
use check::compile::{About, Named};
use check::fault::{Loss, Mend};
use check::ids::PartId;
use check::plan::Plan;
use engine::{Answer, Do, Proved, Way};
use model::Rank;

use super::book::Book;
use super::group::{Group, waits};
use super::mouth::is_voice;
use super::say::{capital, chunks, is, list, owner};
use crate::card::{CarryOn, CarryOnKind, Proof, Who};
use crate::line::{Line, Run, printed, tape, text};

/// Most guesses on a card.
const GUESSES: usize = 4;
/// Most new leads told one by one.
const LINKS: usize = 3;

/// The better way for the pause or the break, in a few lines.
pub(super) fn in_break(book: Book<'_>, answer: &Answer) -> Vec<Line> {
    let mut out = Vec::new();
    let full = answer.full.as_ref().filter(|_| !waits(answer));
    for (way, when) in [(full, "at the next pause"), (answer.in_break.as_ref(), "in the break")] {
        let Some(way) = way.filter(|w| !w.cover.plan.is_empty()) else { continue };
        let base = &super::group::main_way(answer).verdict.carried;
        let more: Vec<PartId> = way.verdict.carried.iter().copied().filter(|p| !base.contains(p)).collect();
        let names = book.parts(&more);
        match chunks(&names, 5).first() {
            Some(some) => {
                out.push(Line::text(capital(&format!("{} {} back too {when}.", list(some), come(some)))))
            }
            // A better sound is only promised where no better way was left unlooked at.
            None if way.cover.proved == Proved::No => continue,
            None => out.push(Line::text(format!("It can sound better {when}."))),
        }
        // Some of many plugs would mislead: then only how many there are.
        let links = links(book, &way.cover.plan, &super::group::main_way(answer).cover.plan);
        match links.len() {
            0 => {}
            1..=LINKS => out.extend(links),
            many => out.push(Line::text(format!("That takes {many} more leads."))),
        }
    }
    out
}

fn come(names: &[String]) -> &'static str {
    if is(names) == "are" { "come" } else { "comes" }
}

/// "KEYS L from PIANO L into RIGHT SPEAKER B." for each link that is new even after `done`.
fn links(book: Book<'_>, plan: &Plan, done: &Plan) -> Vec<Line> {
    let new = plan.new.iter().filter(|n| done.new.iter().all(|d| d.pair != n.pair));
    let pairs = &book.c.problem.pairs;
    let told = new.filter_map(|n| Some((pairs.pairs.get(n.pair)?, pairs.chains.get(n.chain)?)));
    told.map(|(pair, chain)| {
        let mut runs = book.main_lead(&chain.via).map(|l| book.the_lead(l)).unwrap_or_default();
        if let Some(crate::line::Run::Text(the)) = runs.first_mut() {
            *the = capital(the);
        }
        runs.extend((!runs.is_empty()).then(|| text("from")));
        runs.extend(book.place(pair.from));
        runs.push(text("into"));
        runs.extend(book.place(pair.to));
        runs.push(text("."));
        runs.into()
    })
    .collect()
}

/// When there is nothing more to try.
pub(super) fn last_words(book: Book<'_>) -> Line {
    instead(book, "Nothing more to try here.")
}

/// When what is left takes too long.
pub(super) fn nothing_quick(book: Book<'_>) -> Line {
    instead(book, "Nothing quick is left.")
}

fn instead(book: Book<'_>, first: &str) -> Line {
    let rig = &book.c.rig;
    let unplugged = rig.sources.iter().any(|s| s.unplugged_to.as_ref().is_some_and(|m| m.value >= 1.0));
    let mut runs = vec![text(first)];
    runs.push(text(if unplugged { "Play unplugged." } else { "Talk to them until the break." }));
    if let Some(ask) = rig.room.ask.as_deref().filter(|a| !a.trim().is_empty()) {
        runs.extend([text("Ask"), owner(ask, 2), text("what the room has.")]);
    }
    runs.into()
}

/// How sure it is that nothing quicker exists.
pub(super) fn proof(answer: &Answer, way: &Way) -> Option<Proof> {
    match (way.cover.plan.is_empty(), way.cover.proved) {
        (true, Proved::Seconds | Proved::Order) if !answer.gaps.is_empty() => Some(Proof::NoWay),
        (true, _) => None,
        (false, Proved::No) => Some(Proof::BestFound),
        (false, Proved::Seconds | Proved::Order) => Some(Proof::NoQuicker),
    }
}

/// The nearest thing that would be a way: a second one of what died, where that is a small thing to carry.
pub(super) fn would_do(book: Book<'_>, group: &Group<'_>) -> Vec<Line> {
    let mut out: Vec<Line> = Vec::new();
    for line in group.faults().into_iter().flat_map(|named| second_one(book, named)) {
        if !out.contains(&line) {
            out.push(line);
        }
    }
    out
}

fn second_one(book: Book<'_>, named: &Named) -> Option<Line> {
    match named.about {
        About::Lead { link, piece } => {
            let lead = *book.c.problem.spec.patch.get(link)?.via.get(piece)?;
            let kind = book.c.rig.leads.get(lead.ix())?;
            let metres = physics::whole::ceil_i32(kind.length.value).unwrap_or(0);
            let name = if kind.kind.adapter {
                kind.kind.name.clone()
            } else {
                format!("{} {metres} m", kind.kind.name)
            };
            Some([text("A spare"), printed(name), text("would be one.")].into())
        }
        About::Mode { gear, .. } => {
            let piece = book.c.rig.gear.get(gear)?;
            let supply = !piece.body.sockets.is_empty()
                && piece.body.sockets.iter().all(model::Socket::is_supply)
                && !piece.body.live;
            let microphone = piece.kind.as_deref().is_some_and(|k| k.contains("microphone"));
            let whole = named.fault.lost.iter().any(|l| matches!(l, Loss::Gear(_) | Loss::Make(_)));
            let kind = piece.kind.as_ref().filter(|_| (supply || microphone) && whole)?;
            Some([text("A second"), owner(kind, 6), text("would be one.")].into())
        }
        About::Spare { .. } => None,
    }
}

/// Figures the way rests on that nobody has checked.
pub(super) fn guessed(book: Book<'_>, way: &Way, judge: &Judge<'_>) -> Vec<Line> {
    let plan = &way.cover.plan;
    let problem = &book.c.problem;
    let rig = &book.c.rig;
    let mut out: Vec<Line> = Vec::new();
    let mut add = |runs: Vec<Run>| {
        let line = Line::from(runs);
        if !out.contains(&line) {
            out.push(line);
        }
    };
    for (gear, route) in way.cover.relies.iter().filter_map(|f| book.c.asked(*f)) {
        let Some(piece) = rig.gear.get(gear.0) else { continue };
        let mut runs = vec![tape(&piece.name)];
        runs.extend(route.to.first().map(printed));
        runs.push(text("passes sound with the power off. Check it once: 1 minute."));
        add(runs);
    }
    for n in &plan.new {
        let (Some(pair), Some(chain)) = (problem.pairs.pairs.get(n.pair), problem.pairs.chains.get(n.chain))
        else {
            continue;
        };
        if let (Some(to), Some(gear)) = (book.socket(pair.to), book.gear(book.gear_of(pair.to))) {
            let dark = !judge.is_live(book.gear_of(pair.to));
            let routes = gear.body.routes.iter().filter(|r| model::same_name(&r.from, &to.name));
            for _ in routes.filter(|r| dark && r.passive.is_doubtful() && r.passive.value) {
                let mut runs = book.place(pair.to);
                runs.push(text("passes sound with the power off."));
                add(runs);
            }
            let doubt = to.input().is_some_and(|i| {
                i.accepts
                    .iter()
                    .any(|a| a.class.is_sound() && (a.least.is_doubtful() || a.most.is_doubtful()))
            });
            if doubt {
                let mut runs = book.place(pair.to);
                runs.push(text("takes this level."));
                add(runs);
            }
        }
        for l in &chain.via {
            let Some(lead) = rig.leads.get(l.ix()) else { continue };
            if lead.length.is_doubtful() {
                add(vec![book.lead(*l), text("is as long as its name says.")]);
            }
        }
    }
    for step in &way.order.steps {
        let Do::Plug { takes, .. } = &step.does else { continue };
        for (l, _) in takes.iter().filter(|(_, take)| *take != engine::Take::Freed) {
            if rig.leads.get(l.ix()).is_some_and(|lead| lead.owned.is_doubtful()) {
                add(vec![book.lead(*l), text("is really there.")]);
            }
        }
    }
    for (g, n) in &plan.places {
        let place = book.gear(*g).and_then(|p| p.body.placements.get(*n));
        if place.is_some_and(|p| p.hears.iter().any(|h| h.level.is_doubtful())) {
            add(vec![book.name(*g), text("is loud enough there.")]);
        }
    }
    for g in &plan.starts {
        if book.gear(*g).is_some_and(|p| p.body.boot.is_doubtful()) {
            add(vec![book.name(*g), text("starts in the time said.")]);
        }
    }
    out.truncate(GUESSES);
    out
}

/// Who may do it: mains only by those the rig names for it.
pub(super) fn who(book: Book<'_>, way: &Way, mends: &[Mend]) -> Who {
    let mains = way.order.steps.iter().any(|s| match &s.does {
        Do::Pull { from, .. } => book.is_mains(*from),
        Do::Plug { from, to, .. } => book.is_mains(*from) || book.is_mains(*to),
        Do::Mend { mend } => mends.get(*mend).is_some_and(|m| {
            let name = m.name.to_lowercase();
            name.contains("mains") || name.contains("fuse") || name.contains("breaker")
        }),
        _ => false,
    });
    if !mains {
        return Who::Anyone;
    }
    let names: Vec<String> = book
        .c
        .rig
        .hands
        .iter()
        .filter(|h| h.mains && !h.name.trim().is_empty())
        .map(|h| h.name.clone())
        .collect();
    if names.is_empty() { Who::Only(vec!["somebody used to mains".into()]) } else { Who::Only(names) }
}

/// Answers that need no plug: finish the song, play unplugged.
pub(super) fn carry_on(book: Book<'_>, answer: &Answer, word: crate::card::MouthWord) -> Vec<CarryOn> {
    let mut out = Vec::new();
    if word == crate::card::MouthWord::FinishTheSong || waits(answer) {
        let names: Vec<String> = book.heard(&answer.sounding).iter().map(|s| book.source(*s)).collect();
        let words = chunks(&names, 6).first().map_or_else(Line::default, |some| {
            let carry = if is(some) == "are" { "carry" } else { "carries" };
            Line::text(format!("{} {carry} it.", capital(&list(some))))
        });
        out.push(CarryOn { kind: CarryOnKind::FinishTheSong, words, first: true });
    }
    let rig = &book.c.rig;
    let fills = |i: usize| {
        let reach = rig.sources.get(i).and_then(|s| s.unplugged_to.as_ref()).map_or(0.0, |m| m.value);
        rig.room.back_row.as_ref().is_some_and(|row| reach >= row.value)
    };
    let silent: Vec<usize> = book
        .heard(&answer.silent)
        .into_iter()
        .filter(|s| rig.parts.iter().any(|p| p.source.0 == *s && matches!(p.rank, Rank::Must | Rank::Should)))
        .collect();
    if !silent.is_empty() && silent.iter().all(|s| fills(*s)) {
        let words = if silent.iter().any(|s| is_voice(book, *s)) {
            "Sing without a mic. This room is small enough."
        } else {
            "This room is small enough."
        };
        out.push(CarryOn { kind: CarryOnKind::PlayUnplugged, words: Line::text(words), first: false });
    }
    out
}

/// Leads and pieces that the steps take: "the XLR 6 m".
pub(super) fn taken(book: Book<'_>, way: &Way) -> Vec<Line> {
    let mut out: Vec<Line> = Vec::new();
    for step in &way.order.steps {
        match &step.does {
            Do::Plug { takes, .. } => {
                for (lead, take) in takes {
                    let line = Line::from(book.the_lead(*lead));
                    if *take != engine::Take::Freed && !out.contains(&line) {
                        out.push(line);
                    }
                }
            }
            Do::Place { gear, from_bag: true, .. } => {
                let line = Line::from([tape(book.gear(*gear).map_or("?", |g| g.name.as_str()))]);
                if !out.contains(&line) {
                    out.push(line);
                }
            }
            _ => {}
        }
    }
    out
}
