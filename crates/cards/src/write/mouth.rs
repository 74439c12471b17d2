//! What to do with the mouth, and who is still heard.

use check::ids::PartId;
use check::spec::Rank;
use engine::{Answer, Way};

use super::book::Book;
use super::group::main_way;
use super::say::{self, capital, chunks, is, list, owner};
use crate::card::{Mouth, MouthWord};
use crate::line::{Line, Run, text};
use crate::seconds::Seconds;

/// The mouth line of an answer, on the card of its main way.
pub(super) fn mouth(book: Book<'_>, answer: &Answer) -> Mouth {
    Mouth { word: word(book, answer), heard: heard(book, answer, main_way(answer), perhaps(book, answer)) }
}

/// The same on the card of the next way: what might have played on by itself was listened for, and does not.
pub(super) fn of_next(book: Book<'_>, answer: &Answer, next: &Way) -> Mouth {
    Mouth { word: word(book, answer), heard: heard(book, answer, next, None) }
}

fn word(book: Book<'_>, answer: &Answer) -> MouthWord {
    let must = |p: &&PartId| book.for_audience(**p) && book.c.problem.part(**p).rank == Rank::Must;
    let musts_silent = answer.silent.iter().any(|p| must(&p));
    let sounding: Vec<usize> = book.heard(&answer.sounding);
    if sounding.is_empty() {
        return if sings_alone(book) { MouthWord::KeepSinging } else { MouthWord::Talk };
    }
    if !musts_silent {
        return MouthWord::FinishTheSong;
    }
    let musts: Vec<PartId> = answer.sounding.iter().filter(must).copied().collect();
    let left = book.heard(&musts);
    if left.is_empty() {
        if sings_alone(book) { MouthWord::KeepSinging } else { MouthWord::Talk }
    } else if left.iter().any(|s| is_voice(book, *s)) {
        MouthWord::KeepSinging
    } else {
        MouthWord::KeepPlaying
    }
}

/// Is there one performer, who is heard singing without any gear? Then nobody waits for another, and the song goes on.
fn sings_alone(book: Book<'_>) -> bool {
    let sources = &book.c.rig.sources;
    let mut who: Vec<&str> = sources.iter().filter_map(|s| s.played_by.as_deref()).collect();
    who.sort_unstable();
    who.dedup();
    let sung = |(i, s): (usize, &model::Source)| {
        is_voice(book, i) && s.unplugged_to.as_ref().is_some_and(|m| m.value >= UNPLUGGED)
    };
    who.len() == 1 && sources.iter().enumerate().any(sung)
}

/// Metres from which somebody is heard without any gear.
const UNPLUGGED: f64 = 0.5;

/// Is it somebody's voice, by its name?
pub(super) fn is_voice(book: Book<'_>, source: usize) -> bool {
    let name = book.c.rig.sources.get(source).map_or(String::new(), |s| s.name.to_lowercase());
    ["voice", "vocal", "singer", "singing", "choir", "vox"].iter().any(|w| name.contains(w))
}

/// Who **is** heard: through the speakers, and by itself.
fn heard(book: Book<'_>, answer: &Answer, way: &Way, perhaps: Option<Run>) -> Line {
    let through = book.heard(&answer.sounding);
    let names: Vec<String> = through.iter().map(|s| book.source(*s)).collect();
    let mut runs: Vec<Run> = chunks(&names, 8)
        .iter()
        .map(|some| text(format!("{} {} heard.", capital(&list(some)), is(some))))
        .collect();
    runs.extend(perhaps);
    runs.extend(unplugged(book, &through));
    if !runs.is_empty() {
        return runs.into();
    }
    // The first sound ends the silence, though its speaker may go down once more.
    let back = way.order.back.iter().filter_map(|(p, at)| at.map(|at| (*p, at)));
    let heard = way.order.steps.iter().flat_map(|s| s.first_heard.iter().copied());
    let first = back.chain(heard).filter(|(p, _)| book.for_audience(*p)).map(|(_, at)| at).min();
    match first {
        Some(at) if !way.order.steps.is_empty() => Line::text(format!(
            "Nothing is heard, {}.",
            Seconds::untried(say::whole(at)).said().replacen("about", "for about", 1)
        )),
        _ => Line::text("Nothing is heard."),
    }
}

/// "Voice may still be heard: listen." What plays on by itself if what nobody has checked is so.
fn perhaps(book: Book<'_>, answer: &Answer) -> Option<Run> {
    let now = &answer.now;
    let silent: Vec<PartId> =
        answer.silent.iter().copied().filter(|p| now.verdict.carried.contains(p)).collect();
    if !now.cover.plan.is_empty() || silent.is_empty() {
        return None;
    }
    let names: Vec<String> = book.heard(&silent).iter().map(|s| book.source(*s)).collect();
    (!names.is_empty()).then(|| text(format!("{} may still be heard: listen.", capital(&list(&names)))))
}

/// Whoever is heard without any gear: not those who are heard through it anyway.
fn unplugged(book: Book<'_>, through: &[usize]) -> Vec<Run> {
    let mut out = Vec::new();
    let mut told: Vec<&str> = Vec::new();
    for (i, source) in book.c.rig.sources.iter().enumerate() {
        let (Some(reach), false) = (&source.unplugged_to, through.contains(&i)) else { continue };
        // One who sings and plays is named once, by the first of the two.
        let twice = source.played_by.as_deref().is_some_and(|who| told.contains(&who));
        if reach.value < UNPLUGGED || twice {
            continue;
        }
        told.extend(source.played_by.as_deref());
        let who = match &source.played_by {
            Some(who) => vec![owner(who, 2), text("plays on, heard unplugged")],
            None => vec![text(capital(&book.source(i))), text("plays on, heard unplugged")],
        };
        out.extend(if is_voice(book, i) { sung(book, i, source.played_by.as_deref()) } else { who });
        let fills = book.c.rig.room.back_row.as_ref().is_some_and(|row| reach.value >= row.value)
            && book.c.rig.room.noise.as_ref().is_none_or(|n| n.value <= QUIET);
        if !fills {
            let metres = physics::whole::floor_i32(reach.value).unwrap_or(0);
            if metres >= 1 {
                out.push(text(format!("to {metres} m")));
            }
        }
        out.push(text("."));
    }
    out
}

/// Room noise in dB up to which the distances for unplugged sounds hold. Common practice: people listening, no machines.
const QUIET: f64 = 55.0;

fn sung(book: Book<'_>, source: usize, by: Option<&str>) -> Vec<Run> {
    match by {
        Some(who) => vec![owner(who, 2), text("is heard unplugged")],
        None => vec![text(capital(&book.source(source))), text("is heard unplugged")],
    }
}
