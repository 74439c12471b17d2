//! What will sound different, the worst first: what is gone, who hears less, which speakers are left, how much quieter.
//!
//! `check` says what changes and by how many dB; here it gets words.

use std::collections::BTreeMap;

use check::fault::Fault;
use check::ids::{GearId, ListenerId, PartId};
use check::plan::Plan;
use check::{Change, Culprit, Difference, Judge, Sound};

use super::book::Book;
use super::say::{capital, chunks, list};
use crate::line::{Line, Run, text};

/// Most sentences that are read at once; the rest stand one step deeper.
const FIRST: usize = 3;
/// Points of sound difference from which a change is clear, not slight (docs/cover.md, section 8).
const CLEAR: i32 = 2;

/// Sentences on what differs from the normal way: the three that matter most, and the rest.
pub(super) fn different(book: Book<'_>, fault: &Fault, plan: &Plan) -> (Vec<Line>, Vec<Line>) {
    let all = check::differences(book.c, fault, plan);
    let mut after = Judge::new(&book.c.problem, fault);
    let _broken = after.look(plan);
    let (heard, monitors): (Vec<&Difference>, Vec<&Difference>) =
        all.iter().partition(|d| book.for_audience(d.part));
    let mut out = Vec::new();
    let nothing = book.c.problem.counted.iter().all(|p| !book.for_audience(*p) || !sounds(&after, *p));
    if !nothing {
        let gone: Vec<PartId> = heard.iter().filter(|d| d.what == Change::Lost).map(|d| d.part).collect();
        out.extend(
            chunks(&book.parts(&gone), LOST).iter().map(|n| Line::text(format!("No {}.", n.join(", no ")))),
        );
    }
    out.extend(performers(book, &after, &monitors));
    out.extend(speakers(book, &after, &heard));
    out.extend(quieter_near(book, &after));
    out.extend(same_both_sides(&heard));
    out.extend(tone(book, &heard));
    let rest = out.split_off(out.len().min(FIRST));
    (out, rest)
}

/// Words of names in "No keys, no tracks": each name has a "no" of its own.
const LOST: usize = 6;

fn sounds(after: &Judge<'_>, part: PartId) -> bool {
    !after.speakers_of(part).is_empty()
}

/// "No monitor for YRSA.", or what YRSA no longer hears.
fn performers(book: Book<'_>, after: &Judge<'_>, all: &[&Difference]) -> Vec<Line> {
    let mut by: BTreeMap<ListenerId, Vec<PartId>> = BTreeMap::new();
    for d in all.iter().filter(|d| d.what == Change::MonitorLost) {
        if let Some(part) = book.c.problem.spec.parts.get(d.part.ix()) {
            by.entry(part.listener).or_default().push(d.part);
        }
    }
    let mut out = Vec::new();
    for (listener, gone) in by {
        let name = book.listener(listener);
        let left = book.c.problem.counted.iter().any(|p| {
            book.c.problem.spec.parts.get(p.ix()).is_some_and(|part| part.listener == listener)
                && sounds(after, *p)
        });
        if !left {
            out.push(Line::text(format!("No monitor for {name}.")));
            continue;
        }
        let sources: Vec<String> = gone
            .iter()
            .filter_map(|p| book.c.problem.spec.parts.get(p.ix()))
            .map(|p| book.source(p.source.ix()))
            .collect();
        for some in chunks(&sources, 4) {
            out.push(Line::text(format!("No {} for {name}.", some.join(", no "))));
        }
    }
    out
}

/// Which speakers are left, or stand in, and how much less that is: "Voice from `RIGHT SPEAKER` only, 3 to 6 dB less."
fn speakers(book: Book<'_>, after: &Judge<'_>, all: &[&Difference]) -> Vec<Line> {
    let mut by: Vec<(u8, Vec<GearId>, String, Vec<PartId>)> = Vec::new();
    for d in all {
        let (class, at) = match &d.what {
            // Those that still play count as well as those that stand in.
            Change::OtherSpeaker { .. } => (0, after.speakers_of(d.part)),
            Change::FewerSpeakers { .. } => (1, after.speakers_of(d.part)),
            Change::Moved(g) => (2, vec![*g]),
            Change::MoreSpeakers(at) => (3, at.clone()),
            Change::Lost | Change::MonitorLost | Change::Mono | Change::Tone(_) => continue,
        };
        let how_much = d.db.map(decibels).unwrap_or_default();
        match by.iter_mut().find(|(c, a, h, _)| (*c, a, h) == (class, &at, &how_much)) {
            Some((.., parts)) => parts.push(d.part),
            None => by.push((class, at, how_much, vec![d.part])),
        }
    }
    by.sort_by_key(|(class, ..)| *class);
    let mut out = Vec::new();
    for (class, at, how_much, parts) in by {
        for names in chunks(&book.parts(&parts), 4) {
            let through = if class == 3 { "also from" } else { "from" };
            let mut runs = vec![text(format!("{} {through}", capital(&list(&names))))];
            for (i, g) in at.iter().take(2).enumerate() {
                runs.extend((i > 0).then(|| text("and")));
                runs.push(book.name(*g));
            }
            runs.extend((class < 2).then(|| text("only")));
            runs.extend((!how_much.is_empty()).then(|| text(format!(", {how_much}"))));
            runs.push(text("."));
            out.push(runs.into());
        }
    }
    out
}

/// "3 to 6 dB less"; nothing where it is about as loud as before.
fn decibels((least, most): (f64, f64)) -> String {
    let (near, far) = if most <= 0.0 { (-most, -least) } else { (least, most) };
    let word = if most <= 0.0 { "less" } else { "more" };
    // To the nearest whole decibel: nobody hears less.
    let (Ok(near), Ok(far)) = (physics::whole::floor_i32(near + 0.5), physics::whole::floor_i32(far + 0.5))
    else {
        return String::new();
    };
    match (near, far) {
        (_, 0) => String::new(),
        (a, b) if a == b => format!("{b} dB {word}"),
        (a, b) => format!("{a} to {b} dB {word}"),
    }
}

/// Who sits at a speaker that is silent now misses more than the room does; nobody can say how much.
fn quieter_near<'a>(book: Book<'a>, after: &Judge<'_>) -> Vec<Line> {
    let audience: Vec<PartId> =
        book.c.problem.counted.iter().copied().filter(|p| book.for_audience(*p)).collect();
    let before = |p: &PartId| book.c.problem.speakers.get(p.ix()).cloned().unwrap_or_default();
    let all = |at: &dyn Fn(&PartId) -> Vec<GearId>| {
        let mut all: Vec<GearId> = audience.iter().flat_map(at).collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    let (had, has) = (all(&before), all(&|p| after.speakers_of(*p)));
    let silent = had.iter().filter(|g| !has.is_empty() && !has.contains(g));
    silent.map(|g| Line::from([text("Quieter near"), book.name(*g), text(".")])).collect()
}

fn same_both_sides(all: &[&Difference]) -> Option<Line> {
    all.iter().any(|d| d.what == Change::Mono).then(|| Line::text("Left and right are the same."))
}

/// "Violin sounds thin, by `DI`."; without a known cause "Violin sounds clearly different."
fn tone(book: Book<'_>, all: &[&Difference]) -> Vec<Line> {
    let mut by: Vec<(bool, &str, Option<Culprit>, Vec<PartId>)> = Vec::new();
    for d in all {
        let Change::Tone(points) = d.what else { continue };
        // What makes most of it is named; more than one thing would be a list that helps nobody at a gig.
        let most = d.causes.first();
        let (clear, word) = (points >= CLEAR, sound(most.map(|c| c.sound)));
        let culprit = most.map(|c| c.by);
        match by.iter_mut().find(|(c, w, b, _)| (*c, *w, *b) == (clear, word, culprit)) {
            Some((.., parts)) => parts.push(d.part),
            None => by.push((clear, word, culprit, vec![d.part])),
        }
    }
    by.sort_by_key(|(clear, ..)| !clear);
    let mut out = Vec::new();
    for (clear, word, culprit, parts) in by {
        let how = match (clear, word) {
            (true, DIFFERENT) => "clearly different".to_owned(),
            (true, word) => word.to_owned(),
            (false, word) => format!("slightly {word}"),
        };
        for names in chunks(&book.parts(&parts), 5) {
            let sound = if super::say::many(&names) { "sound" } else { "sounds" };
            let mut runs: Vec<Run> = vec![text(format!("{} {sound} {how}", capital(&list(&names))))];
            if let Some(culprit) = culprit {
                runs.push(text(", by"));
                match culprit {
                    Culprit::Gear(g) => runs.push(book.name(g)),
                    Culprit::Lead(l) => runs.extend(book.the_lead(l)),
                }
            }
            runs.push(text("."));
            out.push(runs.into());
        }
    }
    out
}

/// Where it is not told how it sounds.
const DIFFERENT: &str = "different";

fn sound(how: Option<Sound>) -> &'static str {
    match how {
        Some(Sound::Thin) => "thin",
        Some(Sound::Dull) => "dull",
        Some(Sound::Weak) => "weak",
        Some(Sound::Other) | None => DIFFERENT,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_of_level_are_whole_decibels() {
        assert_eq!(decibels((-6.02, -3.01)), "3 to 6 dB less");
        assert_eq!(decibels((-8.0, -8.0)), "8 dB less");
        assert_eq!(decibels((2.0, 2.0)), "2 dB more");
        assert_eq!(decibels((0.0, 0.0)), "");
    }
}
