//! One line about a piece of gear, typed under its `gear` line. The shelf is written in the same lines.

use super::figure::{self, CENTIMETRES, KILOGRAMS, Print, SECONDS, WATTS};
use super::items::{self, MakesTyped};
use super::plug;
use super::route;
use super::scan::{Piece, Slips};
use super::socket;
use super::suggest;
use crate::{
    Bank, Battery, Caution, Figure, Guard, Look, Mend, Mode, Origin, Owner, Placed, Placement, Route, Socket,
    Spot, Stand, Wear,
};

/// One line about a piece.
#[derive(Clone, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "lives only while a file is read")]
pub(crate) enum Detail {
    Socket(Socket),
    Route(Route),
    Makes(Option<MakesTyped>),
    Sounds(Vec<String>, Option<Guard>),
    Placement(Placement),
    Placed(Placed),
    At(Spot),
    Stands(Figure<Stand>),
    /// `None`: don't know.
    Amount(Amount, Option<Figure<f64>>),
    StartsItself(bool),
    Live,
    Off,
    Loud(bool),
    Battery(Option<Battery>),
    Bank(Bank),
    Switch(String, bool),
    Mode(Mode),
    Look(Look),
    Mend(Mend),
    Caution(Caution),
    Wear(Wear),
    Points(u32),
    Size([Figure<f64>; 3]),
    Owner(Owner),
    Photo(String),
    /// Whoever wears it or is faced by it: stands for "performers" in its placements.
    For(String),
    Without(Thing, String),
}

/// A plain figure of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Amount {
    Draws,
    Feeds,
    Starts,
    Weighs,
}

/// What `without` may take away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Thing {
    Socket,
    Route,
    Placement,
    Mode,
    Look,
    Mend,
    Bank,
    Wear,
    Cautions,
}

pub(crate) const THINGS: [(&str, Thing); 9] = [
    ("socket", Thing::Socket),
    ("route", Thing::Route),
    ("placement", Thing::Placement),
    ("mode", Thing::Mode),
    ("look", Thing::Look),
    ("mend", Thing::Mend),
    ("bank", Thing::Bank),
    ("uses", Thing::Wear),
    ("cautions", Thing::Cautions),
];

/// What gear stands on, in words.
pub(crate) const STANDS: [(&str, Stand); 5] = [
    ("floor", Stand::Floor),
    ("table", Stand::Table),
    ("body", Stand::Worn),
    ("microphone stand", Stand::MicStand),
    ("speaker stand", Stand::SpeakerStand),
];

/// First words of every detail line, for recognising and suggesting.
pub(crate) const WORDS: [&str; 29] = [
    "socket",
    "route",
    "makes",
    "sounds",
    "placement",
    "placed",
    "at",
    "on",
    "in the bag",
    "draws",
    "feeds",
    "starts",
    "live",
    "off",
    "loud",
    "not loud",
    "battery",
    "no battery",
    "bank",
    "switch",
    "mode",
    "look",
    "mend",
    "caution",
    "uses",
    "points",
    "weighs",
    "without",
    "for",
];

/// Is this the start of a detail line?
pub(crate) fn is_detail(line: Piece<'_>) -> bool {
    WORDS.iter().chain(["size", "owner", "photo"].iter()).any(|w| line.after(w).is_some())
}

/// A detail line; `None` when it cannot be used at all (slips say why).
pub(crate) fn read(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Detail> {
    let first = |word: &str| line.after(word);
    if let Some(rest) = first("socket") {
        return socket::read(rest, default, slips).map(Detail::Socket);
    }
    if let Some(rest) = first("route") {
        return route::read(rest, default, slips).map(Detail::Route);
    }
    if let Some(rest) = first("makes") {
        return if rest.is("nothing") {
            Some(Detail::Makes(None))
        } else {
            items::makes(rest, slips).map(|m| Detail::Makes(Some(m)))
        };
    }
    if let Some(rest) = first("sounds") {
        if rest.is("nothing") {
            return Some(Detail::Sounds(Vec::new(), None));
        }
        let mut parts = rest.split(',').into_iter();
        let sockets = parts.next().map_or(Vec::new(), |list| plug::names(list, "socket", slips));
        let mut holds = None;
        for part in parts {
            match part.after("while") {
                Some(rest) => holds = socket::guard(rest, slips),
                None => {
                    items::unknown(part, "what it sounds", "write while SOCKET empty, or leave it out", slips)
                }
            }
        }
        return Some(Detail::Sounds(sockets, holds));
    }
    if let Some(rest) = first("placement") {
        return items::placement(rest, default, slips).map(Detail::Placement);
    }
    if line.is("in the bag") || line.is("placed in the bag") {
        return Some(Detail::Placed(Placed::InCase));
    }
    if let Some(rest) = first("placed") {
        return plug::want_name(rest, "placement", slips).map(|n| Detail::Placed(Placed::At(n)));
    }
    if let Some(rest) = first("at") {
        return figure::spot(rest, slips).map(Detail::At);
    }
    if let Some(rest) = first("on") {
        return stands(rest, default, slips);
    }
    if line.is("starts by itself") || line.is("starts by hand") {
        return Some(Detail::StartsItself(line.is("starts by itself")));
    }
    for (word, amount, quantity) in [
        ("draws", Amount::Draws, WATTS),
        ("feeds", Amount::Feeds, WATTS),
        ("starts in", Amount::Starts, SECONDS),
        ("weighs", Amount::Weighs, KILOGRAMS),
    ] {
        if let Some(rest) = first(word) {
            return if rest.is("don't know") || rest.is("?") {
                Some(Detail::Amount(amount, None))
            } else {
                quantity.figure(rest, default, slips).map(|f| Detail::Amount(amount, Some(f)))
            };
        }
    }
    if line.is("live") {
        return Some(Detail::Live);
    }
    if line.is("off") {
        return Some(Detail::Off);
    }
    if line.is("loud") || line.is("not loud") {
        return Some(Detail::Loud(line.is("loud")));
    }
    if line.is("no battery") {
        return Some(Detail::Battery(None));
    }
    if let Some(rest) = first("battery") {
        return items::battery(rest, default, slips).map(|b| Detail::Battery(Some(b)));
    }
    if let Some(rest) = first("bank") {
        return items::bank(rest, slips).map(Detail::Bank);
    }
    if let Some(rest) = first("switch") {
        return switch(rest, slips);
    }
    if let Some(rest) = first("mode") {
        return items::mode(rest, default, slips).map(Detail::Mode);
    }
    if let Some(rest) = first("look") {
        return items::look(rest, default, slips).map(Detail::Look);
    }
    if let Some(rest) = first("mend") {
        return items::mend(rest, default, slips).map(Detail::Mend);
    }
    if let Some(rest) = first("caution") {
        return items::caution(rest, slips).map(Detail::Caution);
    }
    if let Some(rest) = first("uses") {
        return items::wear(rest, default, slips).map(Detail::Wear);
    }
    if let Some(rest) = first("points") {
        return figure::count(rest, slips).map(Detail::Points);
    }
    if let Some(rest) = first("size") {
        return size(rest, default, slips);
    }
    if let Some(rest) = first("owner") {
        return owner(rest, slips);
    }
    if let Some(rest) = first("photo") {
        return Some(Detail::Photo(route::free(rest)));
    }
    if let Some(rest) = first("for") {
        return plug::want_name(rest, "listener", slips).map(Detail::For);
    }
    if let Some(rest) = first("without") {
        return without(rest, slips);
    }
    let (word, _) = line.first_word();
    slips.add(
        "unknown-line",
        line,
        format!("\"{}\" is not understood here", plug::shorten(line.text)),
        suggest::did_you_mean(word.text, WORDS.into_iter(), "put # before it to keep it as a note"),
    );
    None
}

fn stands(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Detail> {
    let (head, note) = rest.bracket();
    let origin = note.and_then(figure::origin).unwrap_or_else(|| default.clone());
    let head = head.after("the").or(head.after("a")).unwrap_or(head);
    match STANDS.iter().find(|(w, _)| head.is(w)) {
        Some((_, stand)) => Some(Detail::Stands(Figure::new(*stand, origin))),
        None => {
            let words: Vec<&str> = STANDS.iter().map(|(w, _)| *w).collect();
            slips.add(
                "unknown-stand",
                rest,
                format!("\"on {}\" is not a place to stand", rest.text),
                format!("write on {}", words.join(", on ")),
            );
            None
        }
    }
}

fn switch(rest: Piece<'_>, slips: &mut Slips) -> Option<Detail> {
    let (name, on) = match rest.text.rsplit_once(' ') {
        Some((name, w)) if w.eq_ignore_ascii_case("on") => (name, true),
        Some((name, w)) if w.eq_ignore_ascii_case("off") => (name, false),
        _ => {
            slips.add(
                "bad-switch",
                rest,
                format!("\"switch {}\" must end in on or off", rest.text),
                "write for example: switch 48V on",
            );
            return None;
        }
    };
    plug::want_name(Piece::new(name, rest.start).trim(), "switch", slips).map(|n| Detail::Switch(n, on))
}

fn size(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Detail> {
    let mut sides = Vec::new();
    for side in rest.split('x') {
        sides.push(CENTIMETRES.figure(side, default, slips)?);
    }
    match <[Figure<f64>; 3]>::try_from(sides) {
        Ok(sides) => Some(Detail::Size(sides)),
        Err(_) => {
            slips.add(
                "bad-size",
                rest,
                format!("\"{}\" is not a size; expected three sides", rest.text),
                "write width x depth x height, for example: size 25 x 24 x 7 cm",
            );
            None
        }
    }
}

fn owner(rest: Piece<'_>, slips: &mut Slips) -> Option<Detail> {
    let mut parts = rest.split(',').into_iter();
    let head = parts.next()?;
    if head.is("me") || head.is("mine") {
        return Some(Detail::Owner(Owner::Mine));
    }
    if let Some(from) = head.after("borrowed from") {
        return plug::want_name(from, "owner", slips).map(|n| Detail::Owner(Owner::Borrowed(n)));
    }
    if head.is("house") {
        let (mut ask, mut may_change) = (String::new(), None);
        for p in parts {
            if let Some(who) = p.after("ask") {
                ask = plug::want_name(who, "person", slips)?;
            } else if p.is("may change") || p.is("may not change") {
                may_change = Some(p.is("may change"));
            } else {
                items::unknown(p, "house gear", "write ask NAME, may change, or may not change", slips);
            }
        }
        return Some(Detail::Owner(Owner::House { ask, may_change }));
    }
    items::unknown(
        head,
        "an owner",
        "write owner me, owner borrowed from NAME, or owner house, ask NAME",
        slips,
    );
    None
}

fn without(rest: Piece<'_>, slips: &mut Slips) -> Option<Detail> {
    if rest.is("cautions") {
        return Some(Detail::Without(Thing::Cautions, String::new()));
    }
    for (word, thing) in THINGS {
        if let Some(name) = rest.after(word) {
            let name =
                if thing == Thing::Look { route::free(name) } else { plug::want_name(name, word, slips)? };
            return Some(Detail::Without(thing, name));
        }
    }
    let words: Vec<&str> = THINGS.iter().map(|(w, _)| *w).collect();
    items::unknown(
        rest,
        "what to leave out",
        &format!("write without, then one of: {}", words.join(", ")),
        slips,
    );
    None
}

/// The detail as printed.
pub(crate) fn print(detail: &Detail, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    match detail {
        Detail::Socket(s) => format!("socket {}", socket::print(s, default)),
        Detail::Route(r) => format!("route {}", route::print(r, default)),
        Detail::Makes(None) => "makes nothing".to_owned(),
        Detail::Makes(Some(m)) => format!("makes {}", items::print_makes(m)),
        Detail::Sounds(sockets, _) if sockets.is_empty() => "sounds nothing".to_owned(),
        Detail::Sounds(sockets, None) => format!("sounds {}", sockets.join(" + ")),
        Detail::Sounds(sockets, Some(g)) => {
            format!("sounds {}, {}", sockets.join(" + "), socket::print_guard(g))
        }
        Detail::Placement(p) => format!("placement {}", items::print_placement(p, default)),
        Detail::Placed(Placed::InCase) => "in the bag".to_owned(),
        Detail::Placed(Placed::At(name)) => format!("placed {name}"),
        Detail::At(spot) => format!("at {} {}", spot.x, spot.y),
        Detail::Stands(stand) => {
            let word = STANDS.iter().find(|(_, s)| *s == stand.value).map_or("table", |(w, _)| *w);
            let note = if stand.origin == *default { String::new() } else { format!(" ({})", stand.origin) };
            format!("on {word}{note}")
        }
        Detail::Amount(amount, figure) => {
            let (word, unit) = match amount {
                Amount::Draws => ("draws", "W"),
                Amount::Feeds => ("feeds", "W"),
                Amount::Starts => ("starts in", "s"),
                Amount::Weighs => ("weighs", "kg"),
            };
            match figure {
                Some(figure) => format!("{word} {}", fig(figure, unit)),
                None => format!("{word} don't know"),
            }
        }
        Detail::StartsItself(true) => "starts by itself".to_owned(),
        Detail::StartsItself(false) => "starts by hand".to_owned(),
        Detail::Live => "live".to_owned(),
        Detail::Off => "off".to_owned(),
        Detail::Loud(true) => "loud".to_owned(),
        Detail::Loud(false) => "not loud".to_owned(),
        Detail::Battery(None) => "no battery".to_owned(),
        Detail::Battery(Some(b)) => format!("battery {}", items::print_battery(b, default)),
        Detail::Bank(b) => format!("bank {}", items::print_bank(b)),
        Detail::Switch(name, on) => format!("switch {name} {}", items::on_off(*on)),
        Detail::Mode(m) => format!("mode {}", items::print_mode(m, default)),
        Detail::Look(l) => format!("look {}", items::print_look(l, default)),
        Detail::Mend(m) => format!("mend {}", items::print_mend(m, default)),
        Detail::Caution(c) => format!("caution {}", items::print_caution(c)),
        Detail::Wear(w) => format!("uses {}", items::print_wear(w, default)),
        Detail::Points(n) => format!("points {n}"),
        Detail::Size([w, d, h]) => format!("size {} x {} x {}", fig(w, "cm"), fig(d, "cm"), fig(h, "cm")),
        Detail::Owner(Owner::Mine) => "owner me".to_owned(),
        Detail::Owner(Owner::Borrowed(from)) => format!("owner borrowed from {from}"),
        Detail::Owner(Owner::House { ask, may_change }) => {
            let mut out = "owner house".to_owned();
            if !ask.is_empty() {
                out.push_str(&format!(", ask {ask}"));
            }
            match may_change {
                Some(true) => out.push_str(", may change"),
                Some(false) => out.push_str(", may not change"),
                None => {}
            }
            out
        }
        Detail::Photo(file) => format!("photo \"{file}\""),
        Detail::For(name) => format!("for {name}"),
        Detail::Without(Thing::Cautions, _) => "without cautions".to_owned(),
        Detail::Without(thing, name) => {
            let word = THINGS.iter().find(|(_, t)| t == thing).map_or("", |(w, _)| *w);
            if *thing == Thing::Look {
                format!("without look \"{name}\"")
            } else {
                format!("without {word} {name}")
            }
        }
    }
}
