//! One line of a rig file, as typed: before anything is looked up.

use std::ops::Range;

use super::detail::{self, Detail};
use super::figure::{self, SECONDS};
use super::plain::{
    self, RANKS, breaker, counted_list, gear, hand, lead, lead_kind, listener, parts, room, source, time,
    tried,
};
use super::plug;
use super::route::free;
use super::scan::{Piece, Slips};
use super::suggest;
use crate::{Answer, Figure, Hand, LeadKind, Origin, Rank, Spot, Trial};

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
    /// What was answered to a question, or `?` while it is open.
    Answer(Answer, Range<usize>),
    /// Not understood; kept as it is.
    Unread,
}

/// First words of every line that is not about one piece.
pub(crate) const WORDS: [&str; 25] = [
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
    "answer",
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
    if let Some(rest) = first("answer") {
        return plain::answer(rest, slips).map(|a| Statement::Answer(a, rest.span()));
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
