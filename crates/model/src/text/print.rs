//! Lines as printed: each reads back as the statement it was printed from.

use std::fmt::Write as _;
use std::ops::Range;

use super::figure::Print;
use super::plain::RANKS;
use super::route::print_flag;
use super::scan::{Piece, Slips};
use super::statement::Statement;
use super::{detail, items, plug};
use crate::{LeadKind, Origin, STEP_NAMES, TrialHow};

/// The statement as printed, one line without its end.
pub(crate) fn statement(statement: &Statement, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut notes: Vec<String> = Vec::new();
    let mut note = |text: String| notes.push(text);
    let title = match statement {
        Statement::Empty | Statement::Unread => String::new(),
        Statement::Rig(name) => format!("rig \"{name}\""),
        Statement::Home(at) => format!("home {} {}", at.x, at.y),
        Statement::Listener { name, need, at } => {
            if let Some(at) = at {
                note(format!("at {} {}", at.x, at.y));
            }
            if let Some(need) = need {
                note(format!("needs {}", fig(need, "dB")));
            }
            format!("listener {name}")
        }
        Statement::Source { name, unplugged_to, played_by } => {
            if let Some(reach) = unplugged_to {
                note(format!("unplugged to {}", fig(reach, "m")));
            }
            if let Some(by) = played_by {
                note(format!("played by {by}"));
            }
            format!("source {name}")
        }
        Statement::Gear { name, kind, details, .. } => {
            let mut out = format!("gear {name} = {kind}");
            for (d, _) in details {
                let _ = write!(out, ", {}", detail::print(d, default));
            }
            return out;
        }
        Statement::Answer(a, _) => return format!("answer {} {}: {}", a.about, a.asks, a.says),
        Statement::About(name, _) => format!("about {name}"),
        Statement::Detail(d) => format!("  {}", detail::print(d, default)),
        Statement::LeadKind(kind) => return print_lead_kind(kind, default),
        Statement::Lead { name, what, owned, in_case, bag, .. } => {
            if let Some(owned) = owned {
                let origin =
                    if owned.origin == *default { String::new() } else { format!(" ({})", owned.origin) };
                note(format!("own {}{origin}", owned.value));
            }
            if *in_case > 0 {
                note(format!("{in_case} in the bag"));
            }
            if let Some(bag) = bag {
                note(format!("in bag {bag}"));
            }
            if name == what { format!("lead {name}") } else { format!("lead {name} = {what}") }
        }
        Statement::Link(segments) => plug::join(segments, " > ", |(s, _)| s.clone()),
        Statement::Parts { rank, weight, sources, listeners, only_in } => {
            let word = RANKS.iter().find(|(_, r)| r == rank).map_or("nice", |(w, _)| *w);
            let weight = if *weight == 1 { String::new() } else { format!(" {weight}") };
            let mut out = format!("{word}{weight}: {} for {}", sources.join(", "), listeners.join(" + "));
            if !only_in.is_empty() {
                let _ = write!(out, " only in {}", plug::join(only_in, " + ", |s| format!("\"{s}\"")));
            }
            return out;
        }
        Statement::Bag(items) => return format!("bag: {}", print_counted(items)),
        Statement::Stage(items) => return format!("stage: {}", print_counted(items)),
        Statement::Time(index, figure) => {
            let name = STEP_NAMES.get(*index).map_or("plug", |(n, _)| *n);
            let unit = if name == "walk" { "m/s" } else { "s" };
            format!("time {name} {}", fig(figure, unit))
        }
        Statement::Room { name, volume, reverberation, back_row, noise, ask } => {
            for (word, figure, unit) in [
                ("volume", volume, "m3"),
                ("reverberation", reverberation, "s"),
                ("back row", back_row, "m"),
                ("noise", noise, "dB"),
            ] {
                if let Some(figure) = figure {
                    note(format!("{word} {}", fig(figure, unit)));
                }
            }
            if let Some(ask) = ask {
                note(format!("ask {ask}"));
            }
            format!("room \"{name}\"")
        }
        Statement::Breaker { name, amps, residual, feeds } => {
            note(fig(amps, "A"));
            if let Some(residual) = residual {
                note(print_flag(residual, "residual device", default));
            }
            if !feeds.is_empty() {
                note(format!("feeds {}", plug::join(feeds, " + ", |(n, _)| n.clone())));
            }
            format!("breaker {name}")
        }
        Statement::Hand(hand) => {
            note(format!("at {} {}", hand.at.x, hand.at.y));
            note(if hand.mains { "may touch mains" } else { "no mains" }.to_owned());
            if hand.keeps_playing {
                note("keeps playing".to_owned());
            }
            format!("hand {}", hand.name)
        }
        Statement::Show { name, date } => {
            if let Some(date) = date {
                note(format!("date \"{date}\""));
            }
            format!("show \"{name}\"")
        }
        Statement::Break(f) => format!("break {}", fig(f, "s")),
        Statement::NextBreak(f) => format!("next break in {}", fig(f, "s")),
        Statement::Song(f) => format!("song length {}", fig(f, "s")),
        Statement::Songs(songs) => {
            return format!("songs: {}", plug::join(songs, ", ", |s| format!("\"{s}\"")));
        }
        Statement::Quiet(moments) => {
            return format!("quiet: {}", plug::join(moments, ", ", |s| format!("\"{s}\"")));
        }
        Statement::Tried(t) => {
            note(if t.date.is_empty() { String::new() } else { format!("\"{}\"", t.date) });
            if let Some(seconds) = t.seconds {
                note(format!("{seconds} s"));
            }
            note(match t.how {
                TrialHow::Sound => "with sound".to_owned(),
                TrialHow::Dry => "dry".to_owned(),
            });
            note(if t.worked { "worked" } else { "failed" }.to_owned());
            if !t.by.is_empty() {
                note(format!("by \"{}\"", t.by));
            }
            if !t.note.is_empty() {
                note(format!("note \"{}\"", t.note));
            }
            format!("tried \"{}\"", t.fault)
        }
        Statement::Note(words) => format!("note {words}"),
    };
    let notes: Vec<String> = notes.into_iter().filter(|n| !n.is_empty()).collect();
    if notes.is_empty() { title } else { format!("{title}: {}", notes.join(", ")) }
}

fn print_counted(items: &[(String, u32, Range<usize>)]) -> String {
    plug::join(items, ", ", |(what, n, _)| {
        // A name that ends like a count needs one.
        let alone = items::counted(Piece::new(what, 0), &mut Slips::default()) == Some((what.clone(), 1));
        if *n == 1 && alone { what.clone() } else { format!("{what} x{n}") }
    })
}

fn print_lead_kind(kind: &LeadKind, default: &Origin) -> String {
    let [from, to] = &kind.ends;
    let wiring = plug::WIRINGS.iter().find(|(_, w)| *w == kind.wiring).map_or("bal", |(w, _)| *w);
    let mut out = format!("lead kind {}: {} to {}, {wiring}", kind.name, plug::print(from), plug::print(to));
    if !kind.carries.is_empty() {
        let _ = write!(out, ", carries {}", plug::join(&kind.carries, " + ", ToString::to_string));
    }
    if kind.adapter {
        out.push_str(", adapter");
    }
    if !kind.lengths.is_empty() {
        let _ = write!(out, ", lengths {}", plug::join(&kind.lengths, " + ", |l| format!("{l} m")));
    }
    if !kind.also.is_empty() {
        let _ = write!(out, ", also {}", kind.also.join(" + "));
    }
    if kind.points > 0 {
        let _ = write!(out, ", points {}", kind.points);
    }
    for (word, figure, unit) in [
        ("capacitance a metre", &kind.pf_per_metre, "pF"),
        ("resistance a metre", &kind.ohms_per_metre, "ohm"),
    ] {
        if let Some(figure) = figure {
            let _ = write!(out, ", {word} {}", Print { figure, unit, default });
        }
    }
    for caution in &kind.cautions {
        let _ = write!(out, ", caution \"{caution}\"");
    }
    out
}
