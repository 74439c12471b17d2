//! One line of a rig file, as typed: before anything is looked up.

use super::detail::{self, Detail};
use super::figure::{self, AMPS, CUBIC_METRES, DB, METRES, OHMS, PICOFARADS, Print, SECONDS, SPEED};
use super::items;
use super::plug;
use super::route::{flag, free, print_flag};
use super::scan::{Piece, Slips};
use super::suggest;
use crate::{
    AUDIENCE, Class, Figure, Half, Hand, LeadKind, Origin, Rank, STEP_NAMES, Spot, Trial, TrialHow, Wiring,
};
use std::fmt::Write as _;
use std::ops::Range;

/// One line as typed.
#[derive(Clone, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "lives only while a file is read")]
pub(crate) enum Statement {
    /// Nothing, or a comment alone.
    Empty,
    Rig(String),
    Home(Spot),
    Listener {
        name: String,
        need: Option<Figure<f64>>,
        at: Option<Spot>,
    },
    Source {
        name: String,
        unplugged_to: Option<Figure<f64>>,
        played_by: Option<String>,
    },
    Gear {
        name: String,
        name_span: Range<usize>,
        kind: String,
        kind_span: Range<usize>,
        details: Vec<(Detail, Range<usize>)>,
    },
    /// Go on about a piece named before.
    About(String, Range<usize>),
    Detail(Detail),
    LeadKind(LeadKind),
    Lead {
        name: String,
        what: String,
        name_span: Range<usize>,
        owned: Option<Figure<u32>>,
        in_case: u32,
        bag: Option<String>,
    },
    /// Everything between the `>`s.
    Link(Vec<(String, Range<usize>)>),
    Parts {
        rank: Rank,
        weight: u32,
        sources: Vec<String>,
        listeners: Vec<String>,
        only_in: Vec<String>,
    },
    Bag(Vec<(String, u32, Range<usize>)>),
    Stage(Vec<(String, u32, Range<usize>)>),
    Time(usize, Figure<f64>),
    Room {
        name: String,
        volume: Option<Figure<f64>>,
        reverberation: Option<Figure<f64>>,
        back_row: Option<Figure<f64>>,
        noise: Option<Figure<f64>>,
        ask: Option<String>,
    },
    Breaker {
        name: String,
        amps: Figure<f64>,
        residual: Option<Figure<bool>>,
        feeds: Vec<(String, Range<usize>)>,
    },
    Hand(Hand),
    Show {
        name: String,
        date: Option<String>,
    },
    Break(Figure<f64>),
    NextBreak(Figure<f64>),
    Song(Figure<f64>),
    Songs(Vec<String>),
    Quiet(Vec<String>),
    Tried(Trial),
    Note(String),
    /// Not understood; kept as it is.
    Unread,
}

/// First words of every line that is not about one piece.
pub(crate) const WORDS: [&str; 24] = [
    "rig",
    "home",
    "listener",
    "source",
    "gear",
    "about",
    "lead kind",
    "lead",
    "must",
    "should",
    "nice",
    "never",
    "bag",
    "stage",
    "time",
    "room",
    "breaker",
    "hand",
    "show",
    "break",
    "next break",
    "song",
    "quiet",
    "note",
];

/// Reads one line without its comment. Never fails: what is not understood is [`Statement::Unread`].
pub(crate) fn read(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Statement {
    let line = line.trim();
    if line.is_empty() {
        return Statement::Empty;
    }
    if is_link(line) {
        return link(line);
    }
    known(line, default, slips).unwrap_or(Statement::Unread)
}

/// A line with `>` before any colon is a link, whatever its first word: gear may be called MUST.
fn is_link(line: Piece<'_>) -> bool {
    let arrow = arrows(line).first().map(|r| r.start);
    let colon = line.text.find(':').unwrap_or(usize::MAX);
    let quote = line.text.find('"').unwrap_or(usize::MAX);
    let bracket = line.text.find('(').unwrap_or(usize::MAX);
    arrow.is_some_and(|at| at < colon && at < quote && at < bracket)
}

/// Every arrow in a line: `>`, `->`, `→`.
fn arrows(line: Piece<'_>) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    for (at, c) in line.text.char_indices() {
        if c == '>' || c == '→' {
            let start = if line.text.get(..at).is_some_and(|t| t.ends_with('-')) { at - 1 } else { at };
            found.push(start..at + c.len_utf8());
        }
    }
    found
}

fn link(line: Piece<'_>) -> Statement {
    let mut segments = Vec::new();
    let mut from = 0;
    let mut push = |piece: Piece<'_>| {
        let piece = piece.trim();
        segments.push((piece.text.to_owned(), piece.span()));
    };
    for arrow in arrows(line) {
        push(line.to(arrow.start).from(from));
        from = arrow.end;
    }
    push(line.from(from));
    Statement::Link(segments)
}

fn known(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let first = |word: &str| line.after(word);
    if let Some(rest) = first("rig") {
        return Some(Statement::Rig(free(rest)));
    }
    if let Some(rest) = first("home") {
        return figure::spot(rest, slips).map(Statement::Home);
    }
    if let Some(rest) = first("listener") {
        return listener(rest, default, slips);
    }
    if let Some(rest) = first("source") {
        return source(rest, default, slips);
    }
    if let Some(rest) = first("gear") {
        return gear(rest, default, slips);
    }
    if let Some(rest) = first("about") {
        return plug::want_name(rest, "piece", slips).map(|n| Statement::About(n, rest.span()));
    }
    if let Some(rest) = first("lead kind") {
        return lead_kind(rest, default, slips).map(Statement::LeadKind);
    }
    if let Some(rest) = first("lead") {
        return lead(rest, default, slips);
    }
    for (word, rank) in RANKS {
        if let Some(rest) = first(word) {
            return parts(rank, rest, slips);
        }
    }
    if let Some(rest) = first("bag") {
        return counted_list(rest, slips).map(Statement::Bag);
    }
    if let Some(rest) = first("stage") {
        return counted_list(rest, slips).map(Statement::Stage);
    }
    if let Some(rest) = first("time") {
        return time(rest, default, slips);
    }
    if let Some(rest) = first("room") {
        return room(rest, default, slips);
    }
    if let Some(rest) = first("breaker") {
        return breaker(rest, default, slips);
    }
    if let Some(rest) = first("hand") {
        return hand(rest, slips).map(Statement::Hand);
    }
    if let Some(rest) = first("show") {
        let (name, date) = match rest.split_once(':') {
            Some((name, rest)) => (name, rest.after("date").map(free)),
            None => (rest, None),
        };
        return Some(Statement::Show { name: free(name), date });
    }
    if let Some(rest) = first("break") {
        return SECONDS.figure(rest, default, slips).map(Statement::Break);
    }
    if let Some(rest) = first("next break in") {
        return SECONDS.figure(rest, default, slips).map(Statement::NextBreak);
    }
    if let Some(rest) = first("song length") {
        return SECONDS.figure(rest, default, slips).map(Statement::Song);
    }
    if let Some(rest) = line.text.strip_prefix("songs:").map(|_| line.from(6).trim()) {
        return Some(Statement::Songs(rest.split(',').into_iter().map(free).collect()));
    }
    if let Some(rest) = line.text.strip_prefix("quiet:").map(|_| line.from(6).trim()) {
        return Some(Statement::Quiet(rest.split(',').into_iter().map(free).collect()));
    }
    if let Some(rest) = first("tried") {
        return tried(rest, slips).map(Statement::Tried);
    }
    if let Some(rest) = first("note") {
        return Some(Statement::Note(figure::words(rest.text)));
    }
    if detail::is_detail(line) {
        return detail::read(line, default, slips).map(Statement::Detail);
    }
    let (word, _) = line.first_word();
    let words = WORDS.into_iter().chain(detail::WORDS);
    slips.add(
        "unknown-line",
        line,
        format!("\"{}\" is not understood", plug::shorten(line.text)),
        suggest::did_you_mean(
            word.text,
            words,
            "start with gear, lead, must, bag or another word of docs/formats.md; say what is plugged with >; put # before a note",
        ),
    );
    None
}

const RANKS: [(&str, Rank); 4] =
    [("must", Rank::Must), ("should", Rank::Should), ("nice", Rank::Nice), ("never", Rank::Never)];

/// Cuts `NAME: a, b` into name and attributes; no colon, no attributes.
fn head(rest: Piece<'_>) -> (Piece<'_>, Vec<Piece<'_>>) {
    match rest.split_once(':') {
        Some((name, rest)) => (name, rest.split(',')),
        None => (rest, Vec::new()),
    }
}

fn listener(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let (name, attributes) = head(rest);
    let name = plug::want_name(name, "listener", slips)?;
    let (mut need, mut at) = (None, None);
    for a in attributes {
        if let Some(rest) = a.after("needs") {
            need = DB.figure(rest, default, slips);
        } else if let Some(rest) = a.after("at") {
            at = figure::spot(rest, slips);
        } else {
            items::unknown(a, "a listener", "write at X Y, or needs 85 dB", slips);
        }
    }
    Some(Statement::Listener { name, need, at })
}

fn source(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let (name, attributes) = head(rest);
    let name = plug::want_name(name, "source", slips)?;
    let (mut unplugged_to, mut played_by) = (None, None);
    for a in attributes {
        if let Some(rest) = a.after("unplugged to") {
            unplugged_to = METRES.figure(rest, default, slips);
        } else if let Some(rest) = a.after("played by") {
            played_by = plug::want_name(rest, "player", slips);
        } else {
            items::unknown(a, "a source", "write unplugged to 8 m, or played by NAME", slips);
        }
    }
    Some(Statement::Source { name, unplugged_to, played_by })
}

fn gear(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let mut attributes = rest.split(',').into_iter();
    let head = attributes.next()?;
    let Some((name, kind)) = head.split_once('=') else {
        slips.add(
            "gear-needs-kind",
            head,
            format!("\"gear {}\" does not say what kind it is", plug::shorten(head.text)),
            "write the name taped on it, =, and its kind: gear MIXER = small analogue mixer",
        );
        return None;
    };
    let (name_span, kind_span) = (name.span(), kind.span());
    // Half a name is better than half a rig: the marks are left out and the piece is kept.
    let name = plug::want_name(name, "piece", slips).or_else(|| {
        let plain: String =
            name.text.chars().map(|c| if plug::is_mark(c) { ' ' } else { c }).take(60).collect();
        plug::name(&plain)
    })?;
    let kind = plug::want_name(kind, "kind", slips).unwrap_or_default();
    let details = attributes.filter_map(|a| detail::read(a, default, slips).map(|d| (d, a.span()))).collect();
    Some(Statement::Gear { name, name_span, kind, kind_span, details })
}

fn lead(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let (title, attributes) = head(rest);
    let (name, what) = match title.split_once('=') {
        Some((name, what)) => (name, what),
        None => (title, title),
    };
    let name_span = name.span();
    let name = plug::want_name(name, "lead", slips)?;
    let (mut owned, mut in_case, mut bag) = (None, 0, None);
    for a in attributes {
        if let Some(rest) = a.after("own") {
            let (number, note) = rest.bracket();
            let origin = note.and_then(figure::origin).unwrap_or_else(|| default.clone());
            owned = figure::count(number, slips).map(|n| Figure::new(n, origin));
        } else if let Some((n, _)) = a.split_word("in the bag") {
            in_case = figure::count(n, slips).unwrap_or(0);
        } else if let Some(rest) = a.after("in bag") {
            bag = plug::want_name(rest, "bag", slips);
        } else {
            items::unknown(a, "a lead", "write own 5, 2 in the bag, or in bag NAME", slips);
        }
    }
    Some(Statement::Lead { name, what: what.text.to_owned(), name_span, owned, in_case, bag })
}

fn lead_kind(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<LeadKind> {
    let (name, attributes) = head(rest);
    let name = plug::want_name(name, "kind of lead", slips)?;
    let mut ends = None;
    let mut kind = LeadKind {
        name,
        also: Vec::new(),
        ends: [
            crate::Connector { form: crate::Form::Xlr, half: Half::Sock },
            crate::Connector { form: crate::Form::Xlr, half: Half::Plug },
        ],
        wiring: Wiring::Bal,
        carries: Vec::new(),
        adapter: false,
        lengths: Vec::new(),
        points: 0,
        pf_per_metre: None,
        ohms_per_metre: None,
        cautions: Vec::new(),
    };
    for a in attributes {
        if let Some((from, to)) = a.split_word("to")
            && let (Some(from), Some(to)) =
                (plug::connector(from, |_| Half::Plug), plug::connector(to, |_| Half::Plug))
        {
            ends = Some([from, to]);
        } else if let Some((_, w)) = plug::WIRINGS.iter().find(|(word, _)| a.is(word)) {
            kind.wiring = *w;
        } else if let Some(rest) = a.after("carries") {
            kind.carries = carries(rest, slips);
        } else if a.is("adapter") {
            kind.adapter = true;
        } else if let Some(rest) = a.after("lengths") {
            kind.lengths = rest
                .split('+')
                .into_iter()
                .filter_map(|l| METRES.figure(l, default, slips))
                .map(|f| f.value)
                .collect();
        } else if let Some(rest) = a.after("also") {
            kind.also = plug::names(rest, "lead", slips);
        } else if let Some(rest) = a.after("points") {
            kind.points = figure::count(rest, slips).unwrap_or(0);
        } else if let Some(rest) = a.after("caution") {
            kind.cautions.push(free(rest));
        } else if let Some(rest) = a.after("capacitance a metre") {
            kind.pf_per_metre = PICOFARADS.figure(rest, default, slips);
        } else if let Some(rest) = a.after("resistance a metre") {
            kind.ohms_per_metre = OHMS.figure(rest, default, slips);
        } else {
            items::unknown(
                a,
                "a kind of lead",
                "write its ends (XLR-F to XLR-M), bal, ts, sum, dup or power, carries mic + line, adapter, or lengths 3 + 6 m",
                slips,
            );
        }
    }
    match ends {
        Some(ends) => {
            kind.ends = ends;
            Some(kind)
        }
        None => {
            slips.add(
                "lead-needs-ends",
                rest,
                format!("the kind of lead {} does not say what its two ends are", kind.name),
                format!(
                    "write for example: lead kind {}: XLR-F to jack plug, bal, carries mic + line",
                    kind.name
                ),
            );
            None
        }
    }
}

fn carries(rest: Piece<'_>, slips: &mut Slips) -> Vec<Class> {
    // `12 V c+` holds the joining mark itself, so it is read whole first.
    let mut found = Vec::new();
    for p in rest.text.split(" + ") {
        let piece = Piece::new(p, rest.start);
        match plug::class(piece.trim()) {
            Some(class) => found.push(class),
            None => slips.add(
                "unknown-class",
                rest,
                format!("\"{}\" is not something a lead can carry", plug::shorten(p)),
                "write mic, inst, line, phones, speaker, mains, 9 V c-, 12 V c+, 5 V usb, or own supply NAME, joined by +",
            ),
        }
    }
    found
}

fn parts(rank: Rank, rest: Piece<'_>, slips: &mut Slips) -> Option<Statement> {
    let Some((weight, list)) = rest.split_once(':') else {
        slips.add(
            "needs-colon",
            rest,
            "expected a colon and what must be heard".to_owned(),
            "write for example: must 3: voice for audience",
        );
        return None;
    };
    let weight = if weight.is_empty() { 1 } else { figure::count(weight, slips)? };
    let (list, only_in) = match list.split_word("only in") {
        Some((list, songs)) => (list, songs.split('+').into_iter().map(free).collect()),
        None => (list, Vec::new()),
    };
    let (sources, listeners) = match list.split_word("for") {
        Some((sources, who)) => (sources, plug::names(who, "listener", slips)),
        None => (list, vec![AUDIENCE.to_owned()]),
    };
    let sources =
        sources.split(',').into_iter().filter_map(|s| plug::want_name(s, "source", slips)).collect();
    Some(Statement::Parts { rank, weight, sources, listeners, only_in })
}

fn counted_list(rest: Piece<'_>, slips: &mut Slips) -> Option<Vec<(String, u32, Range<usize>)>> {
    let Some(list) = rest.text.strip_prefix(':').map(|_| rest.from(1).trim()) else {
        slips.add(
            "needs-colon",
            rest,
            "expected a colon and what is there".to_owned(),
            "write for example: bag: SPARE MIC, AA cell x4",
        );
        return None;
    };
    let read = |p: Piece<'_>| items::counted(p, slips).map(|(what, n)| (what, n, p.span()));
    Some(list.split(',').into_iter().filter(|p| !p.is_empty()).filter_map(read).collect())
}

fn time(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    // The longest name first: "plug mains" before "plug".
    let mut names: Vec<(usize, &str)> = STEP_NAMES.iter().map(|(n, _)| *n).enumerate().collect();
    names.sort_by_key(|(_, n)| usize::MAX - n.len());
    for (index, name) in names {
        if let Some(value) = rest.after(name) {
            let quantity = if name == "walk" { SPEED } else { SECONDS };
            return quantity.figure(value, default, slips).map(|f| Statement::Time(index, f));
        }
    }
    slips.add(
        "unknown-time",
        rest,
        format!("\"time {}\" is not an act with a time", plug::shorten(rest.text)),
        suggest::did_you_mean(
            rest.first_word().0.text,
            STEP_NAMES.iter().map(|(n, _)| *n),
            "write for example: time plug 5 s",
        ),
    );
    None
}

fn room(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let (name, attributes) = head(rest);
    let (mut volume, mut reverberation, mut back_row, mut noise, mut ask) = (None, None, None, None, None);
    for a in attributes {
        if let Some(rest) = a.after("volume") {
            volume = CUBIC_METRES.figure(rest, default, slips);
        } else if let Some(rest) = a.after("reverberation") {
            reverberation = SECONDS.figure(rest, default, slips);
        } else if let Some(rest) = a.after("back row") {
            back_row = METRES.figure(rest, default, slips);
        } else if let Some(rest) = a.after("noise") {
            noise = DB.figure(rest, default, slips);
        } else if let Some(rest) = a.after("ask") {
            ask = plug::want_name(rest, "person", slips);
        } else {
            items::unknown(
                a,
                "a room",
                "write volume 300 m3, reverberation 0.8 s, back row 12 m, noise 60 dB, or ask NAME",
                slips,
            );
        }
    }
    Some(Statement::Room { name: free(name), volume, reverberation, back_row, noise, ask })
}

fn breaker(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
    let (name, attributes) = head(rest);
    let name = plug::want_name(name, "breaker", slips)?;
    let mut amps = Figure::guessed(16.0, "usual");
    let (mut residual, mut feeds) = (None, Vec::new());
    for a in attributes {
        if let Some(rest) = a.after("feeds") {
            for p in rest.split('+') {
                feeds.extend(plug::want_name(p, "outlet", slips).map(|n| (n, p.span())));
            }
        } else if let Some(f) = flag(a, "residual device", default, slips) {
            residual = Some(f);
        } else if figure::number(a).is_some() {
            if let Some(f) = AMPS.figure(a, default, slips) {
                amps = f;
            }
        } else {
            items::unknown(a, "a breaker", "write 16 A, residual device, or feeds OUTLET + OUTLET", slips);
        }
    }
    Some(Statement::Breaker { name, amps, residual, feeds })
}

fn hand(rest: Piece<'_>, slips: &mut Slips) -> Option<Hand> {
    let (name, attributes) = head(rest);
    let mut hand = Hand {
        name: plug::want_name(name, "person", slips)?,
        at: Spot::default(),
        mains: true,
        keeps_playing: false,
    };
    for a in attributes {
        if let Some(rest) = a.after("at") {
            hand.at = figure::spot(rest, slips).unwrap_or_default();
        } else if a.is("may touch mains") || a.is("no mains") {
            hand.mains = a.is("may touch mains");
        } else if a.is("keeps playing") {
            hand.keeps_playing = true;
        } else {
            items::unknown(a, "a hand", "write at X Y, may touch mains, no mains, or keeps playing", slips);
        }
    }
    Some(hand)
}

fn tried(rest: Piece<'_>, slips: &mut Slips) -> Option<Trial> {
    let parts = rest
        .quoted()
        .and_then(|(fault, rest)| rest.text.starts_with(':').then(|| (fault, rest.from(1).trim())));
    let Some((fault, rest)) = parts else {
        slips.add(
            "bad-trial",
            rest,
            "expected what was dead in quotes, then a colon".to_owned(),
            "write for example: tried \"MIXER supply\": 2026-05-12, 38 s, with sound, worked, by YRSA",
        );
        return None;
    };
    let mut trial = Trial {
        fault: figure::words(fault.text),
        date: String::new(),
        seconds: None,
        how: TrialHow::Sound,
        worked: true,
        by: String::new(),
        note: String::new(),
    };
    for a in rest.split(',') {
        if a.is("dry") {
            trial.how = TrialHow::Dry;
        } else if a.is("with sound") {
            trial.how = TrialHow::Sound;
        } else if a.is("worked") || a.is("failed") {
            trial.worked = a.is("worked");
        } else if let Some(rest) = a.after("by") {
            trial.by = free(rest);
        } else if let Some((note, _)) = a.after("note").and_then(Piece::quoted) {
            trial.note = figure::words(note.text);
        } else if let Some(n) = a.text.strip_suffix('s').map(str::trim).and_then(|n| n.parse().ok()) {
            trial.seconds = Some(n);
        } else {
            trial.date = free(a);
        }
    }
    Some(trial)
}

/// The statement as printed, one line without its end.
pub(crate) fn print(statement: &Statement, default: &Origin) -> String {
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
