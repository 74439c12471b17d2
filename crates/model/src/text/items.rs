//! The smaller lines about a piece: what it makes, placements, batteries, failure modes, looks, mends.

use std::fmt::Write as _;

use super::figure::{self, DB, HOURS, PERCENT, Print, SECONDS};
use super::plug;
use super::route::{flag, free, print_flag};
use super::scan::{Piece, Slips};
use super::socket::{guard, print_guard};
use crate::{
    AUDIENCE, Act, Bank, BankEffect, Battery, Caution, Figure, Guard, Hears, Look, Lost, Mend, Mode, Origin,
    Placement, Stereo, Wear, Who,
};

/// What a piece makes, as typed: the socket may be left to the kind.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MakesTyped {
    pub(crate) source: String,
    pub(crate) socket: Option<String>,
    pub(crate) side: Option<Stereo>,
    pub(crate) guard: Option<Guard>,
}

/// `keys at LEFT/MONO left, while RIGHT empty`
pub(crate) fn makes(line: Piece<'_>, slips: &mut Slips) -> Option<MakesTyped> {
    let mut attributes = line.split(',').into_iter();
    let head = attributes.next()?;
    let (source, socket) = match head.split_word("at") {
        Some((source, socket)) => (source, Some(socket)),
        None => (head, None),
    };
    let mut made = MakesTyped {
        source: plug::want_name(source, "source", slips)?,
        socket: match socket {
            Some(socket) => Some(plug::want_name(socket, "socket", slips)?),
            None => None,
        },
        side: None,
        guard: None,
    };
    for a in attributes {
        if let Some(side) = a.after("side").and_then(plug::stereo) {
            made.side = Some(side);
        } else if let Some(rest) = a.after("while") {
            made.guard = guard(rest, slips);
        } else {
            unknown(a, "what a piece makes", "write side left, side right, or while SOCKET empty", slips);
        }
    }
    Some(made)
}

pub(crate) fn print_makes(m: &MakesTyped) -> String {
    let mut out = m.source.clone();
    if let Some(socket) = &m.socket {
        let _ = write!(out, " at {socket}");
    }
    if let Some(side) = m.side {
        let _ = write!(out, ", side {}", plug::print_stereo(side));
    }
    if let Some(g) = &m.guard {
        let _ = write!(out, ", {}", print_guard(g));
    }
    out
}

/// `out front: 8 s, hears audience 100 dB, picks up voice, at 1 2, points 5`
pub(crate) fn placement(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Placement> {
    let (name, rest) = colon(line, "placement", "placement out front: 8 s, hears audience 100 dB", slips)?;
    let mut place = Placement {
        name,
        seconds: Figure::guessed(8.0, "usual"),
        from_bag: None,
        hears: Vec::new(),
        sources: None,
        at: None,
        points: 0,
    };
    for a in rest.split(',') {
        if let Some(rest) = a.after("hears") {
            place.hears.extend(hears(rest, default, slips));
        } else if let Some(rest) = a.after("picks up") {
            place.sources =
                Some(if rest.is("nothing") { Vec::new() } else { plug::names(rest, "source", slips) });
        } else if let Some(rest) = a.after("from the bag") {
            place.from_bag = SECONDS.figure(rest, default, slips);
        } else if let Some(rest) = a.after("at") {
            place.at = figure::spot(rest, slips);
        } else if let Some(rest) = a.after("points") {
            place.points = figure::count(rest, slips).unwrap_or(0);
        } else if figure::number(a).is_some() {
            if let Some(seconds) = SECONDS.figure(a, default, slips) {
                place.seconds = seconds;
            }
        } else {
            unknown(
                a,
                "a placement",
                "write seconds, from the bag 60 s, hears LISTENER 95 dB, picks up SOURCE, picks up nothing, at X Y, or points 2",
                slips,
            );
        }
    }
    Some(place)
}

fn hears(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Hears> {
    // The last number is the level: listeners may have numbers in their names.
    let head = rest.bracket().0.text;
    let digit = head.char_indices().rfind(|(at, c)| {
        let starts_word = head.get(..*at).is_some_and(|t| t.ends_with(' '));
        starts_word && (c.is_ascii_digit() || *c == '-')
    });
    let Some((at, _)) = digit else {
        slips.add(
            "bad-hears",
            rest,
            format!("\"hears {}\" needs who and how loud", rest.text),
            "write for example: hears audience 95 dB",
        );
        return None;
    };
    let (who, level) = (rest.to(at).trim(), rest.from(at));
    let level = DB.figure(level, default, slips)?;
    let who = if who.is(AUDIENCE) {
        Who::Audience
    } else if who.is("performers") {
        Who::Performers
    } else {
        Who::Named(plug::want_name(who, "listener", slips)?)
    };
    Some(Hears { who, level })
}

pub(crate) fn print_placement(p: &Placement, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut out = format!("{}: {}", p.name, fig(&p.seconds, "s"));
    if let Some(from_bag) = &p.from_bag {
        let _ = write!(out, ", from the bag {}", fig(from_bag, "s"));
    }
    for h in &p.hears {
        let who = match &h.who {
            Who::Audience => AUDIENCE,
            Who::Performers => "performers",
            Who::Named(name) => name,
        };
        let _ = write!(out, ", hears {who} {}", fig(&h.level, "dB"));
    }
    if let Some(sources) = &p.sources {
        let sources = if sources.is_empty() { "nothing".to_owned() } else { sources.join(" + ") };
        let _ = write!(out, ", picks up {sources}");
    }
    if let Some(at) = &p.at {
        let _ = write!(out, ", at {} {}", at.x, at.y);
    }
    if p.points > 0 {
        let _ = write!(out, ", points {}", p.points);
    }
    out
}

/// `20 h (10..30), while DC 9V empty, present (don't know)`
pub(crate) fn battery(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Battery> {
    let mut hours = None;
    let mut present = Figure::new(true, default.clone());
    let mut condition = None;
    for a in line.split(',') {
        if let Some(rest) = a.after("while") {
            condition = guard(rest, slips);
        } else if let Some(flag) = flag(a, "present", default, slips) {
            present = flag;
        } else if figure::number(a).is_some() {
            hours = HOURS.figure(a, default, slips);
        } else {
            unknown(a, "a battery", "write its hours, present, not present, or while SOCKET empty", slips);
        }
    }
    let hours = hours.unwrap_or_else(|| Figure::guessed(4.0, "one show"));
    Some(Battery { hours, guard: condition, present })
}

pub(crate) fn print_battery(b: &Battery, default: &Origin) -> String {
    let mut out = Print { figure: &b.hours, unit: "h", default }.to_string();
    if let Some(g) = &b.guard {
        let _ = write!(out, ", {}", print_guard(g));
    }
    if !b.present.value || b.present.origin != *default {
        let _ = write!(out, ", {}", print_flag(&b.present, "present", default));
    }
    out
}

/// `48V: phantom, off` or `MUTE A: mutes FADER 1 + FADER 2, off`
pub(crate) fn bank(line: Piece<'_>, slips: &mut Slips) -> Option<Bank> {
    let (name, rest) = colon(line, "bank", "bank 48V: phantom, off", slips)?;
    let mut bank = Bank { name, effect: BankEffect::Phantom, on: false, forgets: false };
    for a in rest.split(',') {
        if a.is("phantom") {
            bank.effect = BankEffect::Phantom;
        } else if let Some(rest) = a.after("mutes") {
            bank.effect = BankEffect::Mute(plug::names(rest, "route", slips));
        } else if a.is("on") || a.is("off") {
            bank.on = a.is("on");
        } else if a.is("off after a restart") {
            bank.forgets = true;
        } else {
            unknown(
                a,
                "a bank",
                "write phantom, mutes ROUTE + ROUTE, on, off, or off after a restart",
                slips,
            );
        }
    }
    Some(bank)
}

pub(crate) fn print_bank(b: &Bank) -> String {
    let effect = match &b.effect {
        BankEffect::Phantom => "phantom".to_owned(),
        BankEffect::Mute(routes) => format!("mutes {}", routes.join(" + ")),
    };
    let forgets = if b.forgets { ", off after a restart" } else { "" };
    format!("{}: {effect}, {}{forgets}", b.name, on_off(b.on))
}

/// `on` or `off`.
pub(crate) fn on_off(on: bool) -> &'static str {
    if on { "on" } else { "off" }
}

fn lost(piece: Piece<'_>, slips: &mut Slips) -> Vec<Lost> {
    let mut found = Vec::new();
    for p in piece.split('+') {
        if p.is("everything") {
            found.push(Lost::All);
        } else if p.is("sound") {
            found.push(Lost::Sounding);
        } else if p.is("making") {
            found.push(Lost::Making);
        } else if p.is("supply") {
            found.push(Lost::Supply);
        } else if let Some(rest) = p.after("route") {
            found.extend(plug::want_name(rest, "route", slips).map(Lost::Route));
        } else if let Some(rest) = p.after("socket") {
            found.extend(plug::want_name(rest, "socket", slips).map(Lost::Socket));
        } else {
            unknown(
                p,
                "what is lost",
                "write everything, sound, making, supply, route NAME, or socket NAME",
                slips,
            );
        }
    }
    found
}

pub(crate) fn print_lost(lost: &[Lost]) -> String {
    plug::join(lost, " + ", |l| match l {
        Lost::All => "everything".to_owned(),
        Lost::Sounding => "sound".to_owned(),
        Lost::Making => "making".to_owned(),
        Lost::Supply => "supply".to_owned(),
        Lost::Route(name) => format!("route {name}"),
        Lost::Socket(name) => format!("socket {name}"),
    })
}

/// `supply: 50 %, loses supply, shows "all dark", still "speakers", test "lamp" 1 s`
pub(crate) fn mode(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Mode> {
    let (name, rest) = colon(line, "mode", "mode supply: 50 %, loses supply, shows \"all dark\"", slips)?;
    let mut mode = Mode {
        name,
        lost: Vec::new(),
        share: Figure::guessed(0.0, "not known"),
        shows: String::new(),
        still_works: String::new(),
        test: None,
    };
    for a in rest.split(',') {
        if let Some(rest) = a.after("loses") {
            mode.lost = if rest.is("nothing") { Vec::new() } else { lost(rest, slips) };
        } else if let Some(rest) = a.after("shows") {
            mode.shows = free(rest);
        } else if let Some(rest) = a.after("still") {
            mode.still_works = free(rest);
        } else if let Some((words, seconds)) = a.after("test").and_then(Piece::quoted) {
            if let Some(seconds) = SECONDS.figure(seconds, default, slips) {
                mode.test = Some((figure::words(words.text), seconds));
            }
        } else if figure::number(a).is_some() {
            if let Some(share) = PERCENT.figure(a, default, slips) {
                mode.share = share;
            }
        } else {
            unknown(
                a,
                "a failure mode",
                "write 50 %, loses supply, shows \"...\", still \"...\", or test \"...\" 2 s",
                slips,
            );
        }
    }
    Some(mode)
}

pub(crate) fn print_mode(m: &Mode, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let lost = if m.lost.is_empty() { "nothing".to_owned() } else { print_lost(&m.lost) };
    let mut out = format!("{}: {}, loses {lost}", m.name, fig(&m.share, "%"));
    for (word, text) in [("shows", &m.shows), ("still", &m.still_works)] {
        if !text.is_empty() {
            let _ = write!(out, ", {word} \"{text}\"");
        }
    }
    if let Some((words, seconds)) = &m.test {
        let _ = write!(out, ", test \"{words}\" {}", fig(seconds, "s"));
    }
    out
}

/// `"MUTE lit?": 2 s, right in 2 s, state "channel muted", shows "...", loses route FADER 1, tells supply, 20 %`
pub(crate) fn look(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Look> {
    let example = "write for example: look \"MUTE lit?\": 2 s, right in 2 s, state \"muted\", loses route FADER 1, 20 %";
    let asked = line.quoted().and_then(|(ask, rest)| {
        Some((ask, rest.after(":").or(rest.text.strip_prefix(':').map(|_| rest.from(1).trim()))?))
    });
    let Some((ask, rest)) = asked else {
        slips.add("bad-look", line, "a look needs its question in quotes, then a colon".to_owned(), example);
        return None;
    };
    let mut look = Look {
        ask: figure::words(ask.text),
        seconds: Figure::guessed(2.0, "usual"),
        state: String::new(),
        shows: String::new(),
        takes: Vec::new(),
        tells: Vec::new(),
        right_in: Figure::guessed(2.0, "usual"),
        share: Figure::guessed(0.0, "not known"),
    };
    if look.ask.split(' ').count() > 5 {
        slips.add(
            "look-too-long",
            ask,
            format!("\"{}\" is too long to read on stage; expected at most five words", look.ask),
            "write what to look at, for example: MUTE lit?",
        );
    }
    for a in rest.split(',') {
        if let Some(rest) = a.after("right in") {
            if let Some(f) = SECONDS.figure(rest, default, slips) {
                look.right_in = f;
            }
        } else if let Some(rest) = a.after("state") {
            look.state = free(rest);
        } else if let Some(rest) = a.after("shows") {
            look.shows = free(rest);
        } else if let Some(rest) = a.after("loses") {
            look.takes = lost(rest, slips);
        } else if let Some(rest) = a.after("tells") {
            look.tells = plug::names(rest, "mode", slips);
        } else if a.bracket().0.text.ends_with('%') {
            if let Some(f) = PERCENT.figure(a, default, slips) {
                look.share = f;
            }
        } else if figure::number(a).is_some() {
            if let Some(f) = SECONDS.figure(a, default, slips) {
                look.seconds = f;
            }
        } else {
            unknown(a, "a look", example, slips);
        }
    }
    Some(look)
}

pub(crate) fn print_look(l: &Look, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut out = format!("\"{}\": {}, right in {}", l.ask, fig(&l.seconds, "s"), fig(&l.right_in, "s"));
    for (word, text) in [("state", &l.state), ("shows", &l.shows)] {
        if !text.is_empty() {
            let _ = write!(out, ", {word} \"{text}\"");
        }
    }
    if !l.takes.is_empty() {
        let _ = write!(out, ", loses {}", print_lost(&l.takes));
    }
    if !l.tells.is_empty() {
        let _ = write!(out, ", tells {}", l.tells.join(" + "));
    }
    let _ = write!(out, ", {}", fig(&l.share, "%"));
    out
}

/// `swap the 9 V block: 30 s, undoes battery, uses 9 V block x1, helps 80 %, caution "..."`
pub(crate) fn mend(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Mend> {
    let (name, rest) =
        colon(line, "mend", "mend swap the cells: 30 s, undoes battery, uses AA cell x2", slips)?;
    let mut mend = Mend {
        name,
        modes: Vec::new(),
        seconds: Figure::guessed(30.0, "usual"),
        uses: None,
        helps: Figure::guessed(100.0, "nothing said"),
        caution: None,
    };
    for a in rest.split(',') {
        if let Some(rest) = a.after("undoes") {
            mend.modes = plug::names(rest, "mode", slips);
        } else if let Some(rest) = a.after("uses") {
            mend.uses = counted(rest, slips);
        } else if let Some(rest) = a.after("helps") {
            if let Some(f) = PERCENT.figure(rest, default, slips) {
                mend.helps = f;
            }
        } else if let Some(rest) = a.after("caution") {
            mend.caution = Some(free(rest));
        } else if figure::number(a).is_some() {
            if let Some(f) = SECONDS.figure(a, default, slips) {
                mend.seconds = f;
            }
        } else {
            unknown(
                a,
                "a mend",
                "write seconds, undoes MODE, uses THING x1, helps 80 %, or caution \"...\"",
                slips,
            );
        }
    }
    Some(mend)
}

pub(crate) fn print_mend(m: &Mend, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut out = format!("{}: {}", m.name, fig(&m.seconds, "s"));
    if !m.modes.is_empty() {
        let _ = write!(out, ", undoes {}", m.modes.join(" + "));
    }
    if let Some((what, n)) = &m.uses {
        let _ = write!(out, ", uses {what} x{n}");
    }
    let _ = write!(out, ", helps {}", fig(&m.helps, "%"));
    if let Some(caution) = &m.caution {
        let _ = write!(out, ", caution \"{caution}\"");
    }
    out
}

/// `THING x2`; without a count, one.
pub(crate) fn counted(piece: Piece<'_>, slips: &mut Slips) -> Option<(String, u32)> {
    if let Some(at) = piece.text.rfind(' ') {
        let last = piece.from(at + 1);
        let digits = last.text.trim_start_matches(['x', '×']);
        if last.text != digits && !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit()) {
            let n = figure::count(last, slips)?;
            return Some((plug::want_name(piece.to(at).trim(), "thing", slips)?, n));
        }
    }
    Some((plug::want_name(piece, "thing", slips)?, 1))
}

/// Words for the act that a caution belongs to.
const ACTS: [(&str, Act); 9] = [
    ("touch", Act::Touch),
    ("plug", Act::Plug),
    ("mains", Act::Mains),
    ("phantom", Act::Phantom),
    ("switch", Act::Switch),
    ("lift", Act::Lift),
    ("level", Act::Level),
    ("battery", Act::Battery),
    ("outdoors", Act::Outdoors),
];

/// `plug "faders down first"`
pub(crate) fn caution(line: Piece<'_>, slips: &mut Slips) -> Option<Caution> {
    let (word, rest) = line.first_word();
    let Some((_, when)) = ACTS.iter().find(|(w, _)| word.is(w)) else {
        unknown(
            word,
            "when a caution is said",
            "write touch, plug, mains, phantom, switch, lift, level, battery or outdoors, then the words in quotes",
            slips,
        );
        return None;
    };
    Some(Caution { when: *when, words: free(rest) })
}

pub(crate) fn print_caution(c: &Caution) -> String {
    let word = ACTS.iter().find(|(_, a)| *a == c.when).map_or("touch", |(w, _)| *w);
    format!("{word} \"{}\"", c.words)
}

/// `AA cell x2, lasts 8 h, 30 s`
pub(crate) fn wear(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Wear> {
    let mut attributes = line.split(',').into_iter();
    let (what, in_use) = counted(attributes.next()?, slips)?;
    let mut wear = Wear { what, in_use, hours: None, seconds: Figure::guessed(30.0, "usual") };
    for a in attributes {
        if let Some(rest) = a.after("lasts") {
            wear.hours = HOURS.figure(rest, default, slips);
        } else if figure::number(a).is_some() {
            if let Some(f) = SECONDS.figure(a, default, slips) {
                wear.seconds = f;
            }
        } else {
            unknown(a, "what wears out", "write lasts 8 h, or the seconds to replace it", slips);
        }
    }
    Some(wear)
}

pub(crate) fn print_wear(w: &Wear, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut out = format!("{} x{}", w.what, w.in_use);
    if let Some(hours) = &w.hours {
        let _ = write!(out, ", lasts {}", fig(hours, "h"));
    }
    let _ = write!(out, ", {}", fig(&w.seconds, "s"));
    out
}

/// Name, colon, rest.
fn colon<'a>(line: Piece<'a>, what: &str, example: &str, slips: &mut Slips) -> Option<(String, Piece<'a>)> {
    let Some((name, rest)) = line.split_once(':') else {
        slips.add(
            "needs-colon",
            line,
            format!("a {what} needs a name, a colon, and the rest"),
            format!("write for example: {example}"),
        );
        return None;
    };
    Some((plug::want_name(name, what, slips)?, rest))
}

/// Something that is not known here.
pub(crate) fn unknown(a: Piece<'_>, about: &str, help: &str, slips: &mut Slips) {
    let message = if a.is_empty() {
        format!("something is missing about {about}")
    } else {
        format!("\"{}\" says nothing known about {about}", plug::shorten(a.text))
    };
    slips.add("unknown-attribute", a, message, help);
}
