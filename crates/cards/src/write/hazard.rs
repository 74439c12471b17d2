//! A hazard of the rig as it stands, in words a performer reads before anything else: what it is, how to be rid of it.
//!
//! `check` says both in the owner's labels, for a terminal. Here names become tape, long sentences are cut, and the way
//! out of each known hazard is said in words that a card may use.

use check::compile::Compiled;
use check::{Remark, remarks};

use super::say;
use crate::deck::Hazard;
use crate::line::{Line, Run, printed, tape, text};
use crate::words;

/// The hazards of the rig as it normally stands. With any, there are no cards.
pub fn hazards(c: &Compiled) -> Vec<Hazard> {
    let all = remarks(c);
    check::hazards(&all).into_iter().map(|r| said(c, r)).collect()
}

fn said(c: &Compiled, remark: &Remark) -> Hazard {
    let names = names(c);
    let cure = match (cure(remark.check), &remark.help) {
        (Some(words), _) => Line::text(words),
        (None, Some(help)) => in_words(&names, help),
        (None, None) => Line::text("Pull it out, speakers at 0 and power off first."),
    };
    Hazard { what: in_words(&names, &remark.message), cure }
}

/// How to be rid of a hazard, by the check that found it. The helps of `check` speak of more than a card may.
fn cure(check: &str) -> Option<&'static str> {
    Some(match check {
        "sound-loop" => "Speakers at 0. Pull one of these leads, or turn that level down.",
        "must-not-hear" => "Speakers at 0. Turn it off on the way. Or send it another way.",
        "phantom-harms" => "Mute. Switch phantom off, wait 5 s. Or use an input without it.",
        "phantom-too-weak" => "Pull it out. Use its own supply.",
        "no-load" => "Leave it off until its loudspeaker is plugged in.",
        "supply-ring" => "Power off first. Plug one of the strips into a wall outlet.",
        "overload" => "Power off first. Move something to another outlet.",
        "breaker-overload" => "Power off first. Move something to another breaker.",
        "thin-lead-to-speaker" => "Power off first. Use a speaker lead: thick, without a screen.",
        "speaker-into-input" => "Power off first. Pull it out. Take the sound from a line output.",
        "wrong-signal" => "Power off first. Pull it out. It belongs somewhere else.",
        "supply-does-not-match" => "Pull it out. Use the supply with these volts and this polarity.",
        "lead-not-for-it" => "Power off first. Pull it out. Use a mains lead.",
        _ => return None,
    })
}

/// Names in the rig as they may stand in a message, the longest first, with their runs.
fn names(c: &Compiled) -> Vec<(String, Vec<Run>)> {
    let mut out: Vec<(String, Vec<Run>)> = Vec::new();
    for gear in &c.rig.gear {
        out.push((gear.name.clone(), vec![tape(&gear.name)]));
        for socket in gear.body.sockets.iter().filter(|s| !s.name.trim().is_empty()) {
            let both = format!("{} {}", gear.name, socket.name);
            out.push((both, vec![tape(&gear.name), printed(&socket.name)]));
        }
    }
    out.extend(c.rig.leads.iter().map(|l| (l.name.clone(), vec![printed(&l.name)])));
    out.retain(|(name, _)| !name.trim().is_empty());
    out.sort_by(|a, b| (b.0.len(), &a.0).cmp(&(a.0.len(), &b.0)));
    out
}

/// A message in sentences that a card may show: cut at its colons, semicolons and, where still too long, its commas.
fn in_words(names: &[(String, Vec<Run>)], message: &str) -> Line {
    let mut runs = Vec::new();
    for part in message.split([';', ':']).map(str::trim).filter(|s| !s.is_empty()) {
        let whole = sentence(names, part);
        if words::check(&whole).is_empty() {
            runs.extend(whole.stopped().0);
            continue;
        }
        for piece in part.split(", ") {
            let cut = sentence(names, piece);
            let fine = words::check(&cut).is_empty();
            // What still may not stand as the card's own words is the rig's own: a label.
            let line = if fine { cut } else { Line(vec![printed(say::capital(piece))]) };
            runs.extend(line.stopped().0);
        }
    }
    runs.into()
}

/// One sentence with its names as tape.
fn sentence(names: &[(String, Vec<Run>)], said: &str) -> Line {
    let mut runs: Vec<Run> = Vec::new();
    let mut own = String::new();
    let mut rest = said;
    let mut fresh = true;
    while let Some(first) = rest.chars().next() {
        let found = names.iter().filter(|_| fresh).find(|(name, _)| {
            rest.strip_prefix(name.as_str())
                .is_some_and(|after| after.chars().next().is_none_or(|c| !c.is_alphanumeric()))
        });
        if let Some((name, shown)) = found {
            flush(&mut runs, &mut own);
            runs.extend(shown.iter().cloned());
            rest = rest.get(name.len()..).unwrap_or_default();
            fresh = false;
            continue;
        }
        fresh = !first.is_alphanumeric();
        own.push(first);
        rest = rest.get(first.len_utf8()..).unwrap_or_default();
    }
    flush(&mut runs, &mut own);
    if let Some(Run::Text(first)) = runs.first_mut() {
        *first = say::capital(first);
    }
    runs.into()
}

/// The words between two names; an arrow is read as "to".
fn flush(runs: &mut Vec<Run>, own: &mut String) {
    let words = own.replace('>', "to");
    if !words.trim().is_empty() {
        runs.push(text(words.trim()));
    }
    own.clear();
}

#[cfg(test)]
mod tests {
    use super::*;

    fn some_names() -> Vec<(String, Vec<Run>)> {
        let name = |n: &str| (n.to_owned(), vec![tape(n)]);
        let both = |g: &str, s: &str| (format!("{g} {s}"), vec![tape(g), printed(s)]);
        vec![
            both("STRIP A", "IN"),
            both("PEDAL", "DC 9V"),
            both("MIXER", "MAIN"),
            both("MIXER", "3"),
            name("SPEAKER"),
            name("STRIP A"),
            name("PIANO"),
            name("PEDAL"),
            name("MIXER"),
            name("jack 6 m"),
        ]
    }

    /// What each check that can find a hazard says, as `check` words it.
    const MESSAGES: [&str; 13] = [
        "sound feeds itself: MIXER > SPEAKER > MIXER 3",
        "keys would reach the audience: PIANO > MIXER 3 > SPEAKER",
        "PIANO to MIXER 3: phantom is always on there and may harm PIANO",
        "MIXER 3: 48V is on and may harm PIANO",
        "PIANO to MIXER 3: a 48 V phantom supply, and it is made for at most 12 V",
        "MIXER MAIN has no loudspeaker; a valve amplifier must never run so",
        "STRIP A feeds itself in a ring",
        "STRIP A feeds 2600 W of 2300 W: too much",
        "breaker BAR carries 3800 W of 3680 W at 230 V: too much",
        "MIXER MAIN to SPEAKER: jack 6 m is no speaker lead; it may get hot",
        "MIXER MAIN to PEDAL: loudspeaker power into an input; it may destroy the input",
        "STRIP A to PEDAL: gives mains, the input takes instrument level, line level",
        "PIANO to PEDAL DC 9V: gives 12 V centre positive, wants 9 V centre negative; it may be destroyed",
    ];

    #[test]
    fn every_hazard_is_told_in_words_a_card_may_use() {
        for message in MESSAGES {
            let line = in_words(&some_names(), message);
            assert_eq!(words::check(&line), [], "{line}");
            // None of it hides in a label: labels are only what names are made of.
            let labels: Vec<&str> = line
                .0
                .iter()
                .filter_map(|r| if let Run::Printed(s) = r { Some(s.as_str()) } else { None })
                .collect();
            assert!(labels.iter().all(|l| ["3", "MAIN", "DC 9V", "IN"].contains(l)), "{labels:?}");
        }
        let loop_of = in_words(&some_names(), MESSAGES[0]);
        assert_eq!(loop_of.plain(), "Sound feeds itself. MIXER to SPEAKER to MIXER 3.");
    }

    #[test]
    fn every_cure_may_stand_on_a_card() {
        let mut known = 0;
        for check in check::CHECKS.iter().map(|c| c.name).chain([
            "sound-loop",
            "must-not-hear",
            "no-load",
            "supply-ring",
            "overload",
            "breaker-overload",
        ]) {
            if let Some(words) = cure(check) {
                assert_eq!(words::check(&Line::text(words)), [], "{check}");
                known += 1;
            }
        }
        assert_eq!(known, 13);
    }
}
