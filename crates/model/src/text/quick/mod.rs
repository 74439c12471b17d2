//! Quick lines: what people really type. Each becomes full lines, with every guess marked.
//!
//! A line that is no full line is tried here. It yields statements as if they had been typed in full, so all that
//! follows, problems and printing included, has one meaning for both. What is not understood is kept as it was.

mod answer;
mod ask;
mod chain;
mod lists;
mod mixer;
mod name;
mod own;
mod place;
mod power;
mod same;
mod sockets;
mod special;
mod words;

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ops::Range;

use super::build::Builder;
use super::detail::Detail;
use super::figure;
use super::names;
use super::print;
use super::read::Line;
use super::scan::{Piece, Slips};
use super::statement::{self, Statement};
use crate::{Gear, Guess, Lead, LeadKind, Matters, Origin, Problem, Rig, Spot, shelf};

pub(crate) use answer::apply as apply_answers;
pub(crate) use ask::questions;

/// Another rig by its name: the text of its file.
pub type Others<'a> = &'a dyn Fn(&str) -> Option<String>;

/// A file whose quick lines have become full ones.
pub(crate) struct Expanded {
    pub(crate) lines: Vec<Line>,
    /// Lines that were understood as quick lines.
    pub(crate) understood: Vec<usize>,
    pub(crate) guesses: Vec<Guess>,
    pub(crate) problems: Vec<Problem>,
}

/// Most quick lines that are tried in one file: each costs more than a full one.
const MOST_QUICK: usize = 400;

/// What is known while quick lines are read, from the first to the last.
struct Quick<'a> {
    others: Others<'a>,
    depth: usize,
    /// Every piece: declared ones first, then those that quick lines bring.
    pieces: Vec<Gear>,
    /// How many of them are declared in full lines.
    declared: usize,
    /// Sockets with a plug in them: piece, and socket by place.
    used: BTreeSet<(usize, usize)>,
    /// Those that quick lines have filled, in order.
    plugged: Vec<(usize, usize)>,
    /// Names of pieces as they are looked up.
    names: RefCell<Vec<(String, String)>>,
    leads: Vec<Lead>,
    lead_kinds: Vec<LeadKind>,
    /// Words of declared names, for slips.
    name_words: Vec<String>,
    /// Channels that quick lines name at a mixer: its kind must have them.
    channels: u32,
    has_name: bool,
    home: Spot,
    /// Somewhere the file says itself that the click must not be heard.
    click_is_said: bool,
    /// A quick line has said so.
    click_is_kept: bool,
    /// Speakers that the owner calls passive, by their folded names.
    passive: Vec<String>,
    /// Places that full lines say of pieces which quick lines bring.
    fixed: Vec<(String, Spot)>,
    /// The speaker at hand hangs on a passive one.
    passive_next: bool,
    /// Numbers of the part at hand that were used in another shape.
    kept: Vec<String>,
    /// All other lines have been read.
    last: bool,
    /// At least one thing on the line is known.
    known: bool,
    /// The line was understood, although it adds nothing.
    heard: bool,
    guesses: Vec<Guess>,
    problems: Vec<Problem>,
    /// The line at hand.
    number: usize,
    span: Range<usize>,
    out: Vec<Statement>,
}

/// The line could not be read as a quick line.
struct NotQuick;

type Read<T> = Result<T, NotQuick>;

/// Turns quick lines into full ones.
pub(crate) fn expand(text: &str, lines: Vec<Line>, others: Others<'_>, depth: usize) -> Expanded {
    // Which names there are is known from the lines that declare them, wherever they stand.
    let full: Vec<Line> = lines
        .iter()
        .filter(|l| !matches!(l.statement, Statement::Link(_) | Statement::Unread))
        .cloned()
        .collect();
    let any = lines.iter().any(|l| is_candidate(l, text));
    if !any {
        return Expanded { lines, understood: Vec::new(), guesses: Vec::new(), problems: Vec::new() };
    }
    let (base, _) = Builder::new(&full).build();
    let tried: Vec<bool> = lines.iter().map(|l| is_candidate(l, text) && !is_full_link(l, &base)).collect();
    if !tried.contains(&true) {
        return Expanded { lines, understood: Vec::new(), guesses: Vec::new(), problems: Vec::new() };
    }
    let full: Vec<Line> = lines.iter().zip(&tried).filter(|(_, t)| !**t).map(|(l, _)| l.clone()).collect();
    let (base, _) = Builder::new(&full).build();
    let mut quick = Quick::new(base, others, depth);
    quick.lead_kinds = full
        .iter()
        .filter_map(|l| match &l.statement {
            Statement::LeadKind(kind) => Some(kind.clone()),
            _ => None,
        })
        .collect();
    let body = |l: &Line| text.get(l.start..l.start + l.len).unwrap_or("").to_owned();
    quick.channels = lines
        .iter()
        .zip(&tried)
        .filter(|(_, t)| **t)
        .map(|(l, _)| mixer::highest_channel(&body(l)))
        .max()
        .unwrap_or(0);
    quick.click_is_said = lines.iter().any(|l| {
        let typed = body(l).to_lowercase();
        typed.contains("click") && (typed.contains("never") || typed.contains("not "))
    });
    quick.fixed = fixed(&lines);
    quick.passive = lines
        .iter()
        .filter_map(|l| match &l.statement {
            Statement::Answer(a, _) if a.asks == "powered" && a.says == "passive" => {
                Some(crate::fold(&a.about))
            }
            _ => None,
        })
        .collect();
    let (mut out, mut understood) = (Vec::new(), Vec::new());
    let mut later = Vec::new();
    let mut left = MOST_QUICK;
    for (line, tried) in lines.into_iter().zip(tried) {
        if !tried {
            out.push(line);
            continue;
        }
        if left == 0 {
            quick.number = line.number;
            quick.span = line.start..line.start + line.len;
            if quick.problems.last().is_none_or(|p| p.code != "too-many-quick") {
                quick.problem(
                    "too-many-quick",
                    format!(
                        "there are more than {MOST_QUICK} quick lines; from here on only full lines are read"
                    ),
                    "keep what secondstring read prints, and go on from there".to_owned(),
                );
            }
            out.push(line);
            continue;
        }
        left -= 1;
        let typed = body(&line);
        match quick.line(&typed, &line) {
            Some(statements) => {
                understood.push(line.number);
                out.extend(statements.into_iter().map(|statement| Line { statement, ..line.clone() }));
            }
            // Where a thing stands may be said before the line that brings it.
            None => {
                if place::is_place(&quick, &typed) {
                    later.push((out.len(), typed));
                }
                out.push(line);
            }
        }
    }
    quick.last = true;
    for (at, typed) in later {
        let Some(line) = out.get(at).cloned() else { continue };
        if let Some(statements) = quick.line(&typed, &line) {
            understood.push(line.number);
            if let Some(old) = out.get_mut(at) {
                old.statement = Statement::Empty;
            }
            out.extend(statements.into_iter().map(|statement| Line { statement, ..line.clone() }));
        }
    }
    understood.sort_unstable();
    Expanded { lines: out, understood, guesses: quick.guesses, problems: quick.problems }
}

/// Pieces whose place a full line says, under `about`: that goes before what a quick line says.
fn fixed(lines: &[Line]) -> Vec<(String, Spot)> {
    let mut found = Vec::new();
    let mut about: Option<String> = None;
    for line in lines {
        match &line.statement {
            Statement::About(name, _) => about = Some(crate::fold(name)),
            Statement::Detail(Detail::At(at)) => found.extend(about.clone().map(|name| (name, *at))),
            Statement::Detail(_) | Statement::Empty => {}
            _ => about = None,
        }
    }
    found
}

/// The line of the quick line that brings a piece, from 1.
pub(crate) fn line_of(text: &str, lines: Vec<Line>, name: &str) -> Option<usize> {
    let expanded = expand(text, lines, &|_| None, 0);
    let brings =
        |l: &&Line| matches!(&l.statement, Statement::Gear { name: n, .. } if crate::same_name(n, name));
    expanded.lines.iter().find(brings).map(|l| l.number)
}

/// May this line be a quick line at all?
fn is_candidate(line: &Line, text: &str) -> bool {
    match &line.statement {
        // A `gear` line with a slip in it is not what somebody says aloud: no name holds this mark.
        Statement::Link(_) => !text.get(line.start..line.start + line.len).is_some_and(|t| t.contains('=')),
        Statement::Unread => text.get(line.start..line.start + line.len).is_some_and(|t| t.len() <= 1_000),
        // `must: voice; should: tracks`: two lines in one.
        Statement::Parts { .. } | Statement::Bag(_) | Statement::Stage(_) => {
            text.get(line.start..line.start + line.len).is_some_and(|t| t.contains(';'))
        }
        _ => false,
    }
}

/// A link in which everything is named as the full form wants it; it is left as it is, right or wrong.
fn is_full_link(line: &Line, base: &Rig) -> bool {
    let Statement::Link(segments) = &line.statement else { return false };
    let piece = |text: &str| {
        let mut index = names::Index::default();
        base.gear.iter().enumerate().for_each(|(i, g)| {
            index.add(&g.name, i);
        });
        let (at, rest) = index.longest(Piece::new(text, 0))?;
        Some((base.gear.get(at)?.clone(), rest.text.to_owned()))
    };
    let (Some((first, _)), Some((last, _))) = (segments.first(), segments.last()) else { return true };
    if segments.len() > 60 || first.len() > 400 || last.len() > 400 {
        return true;
    }
    let ends_known =
        [(first, crate::Direction::Out), (last, crate::Direction::In)].into_iter().all(|(text, way)| {
            piece(text).is_some_and(|(gear, words)| {
                words.is_empty()
                    || names::socket(&gear.body, &words, way) != names::Found::None
                    || gear.kind.is_none()
                    || sockets::named(&gear.body, &words::words(&words, &[]), way).is_none()
            })
        });
    let kinds = || shelf::lead_kinds().iter();
    let own = base.leads.iter().map(|l| &l.kind).collect::<Vec<_>>();
    ends_known
        && segments.get(1..segments.len().saturating_sub(1)).unwrap_or_default().iter().all(|(text, _)| {
            let (name, _) = names::length(Piece::new(text, 0).bracket().0);
            base.find_lead(text).is_some()
                || (base.find_gear(&name).is_none() && names::lead_kind(kinds(), &name).is_some())
                || names::lead_kind(own.iter().copied(), &name).is_some()
        })
}

impl<'a> Quick<'a> {
    fn new(base: Rig, others: Others<'a>, depth: usize) -> Self {
        let mut name_words: Vec<String> = Vec::new();
        for gear in &base.gear {
            name_words.extend(gear.name.to_lowercase().split_whitespace().map(str::to_owned));
        }
        name_words.sort();
        name_words.dedup();
        let ends = |l: &crate::Link| [(l.from.gear.0, l.from.socket), (l.to.gear.0, l.to.socket)];
        let used = base.links.iter().flat_map(ends).collect();
        Quick {
            others,
            depth,
            declared: base.gear.len(),
            has_name: !base.name.is_empty(),
            home: base.home,
            click_is_said: false,
            click_is_kept: false,
            passive: Vec::new(),
            fixed: Vec::new(),
            passive_next: false,
            kept: Vec::new(),
            last: false,
            known: false,
            heard: false,
            pieces: base.gear,
            used,
            plugged: Vec::new(),
            names: RefCell::default(),
            leads: base.leads,
            lead_kinds: Vec::new(),
            name_words,
            channels: 0,
            guesses: Vec::new(),
            problems: Vec::new(),
            number: 0,
            span: 0..0,
            out: Vec::new(),
        }
    }

    /// One line as full statements; `None` when it is no quick line either. Then nothing has changed.
    fn line(&mut self, typed: &str, line: &Line) -> Option<Vec<Statement>> {
        self.number = line.number;
        self.span = line.start..line.start + line.len;
        let kept = (self.pieces.len(), self.plugged.len(), self.guesses.len(), self.problems.len());
        self.out.clear();
        self.heard = false;
        let mut fine = true;
        for part in Piece::new(typed, line.start).split(';') {
            if !part.is_empty() && self.part(part.text).is_err() {
                fine = false;
                break;
            }
        }
        if fine && (self.heard || !self.out.is_empty() || self.problems.len() > kept.3) {
            return Some(std::mem::take(&mut self.out));
        }
        self.pieces.truncate(kept.0);
        self.names.borrow_mut().truncate(kept.0);
        for socket in self.plugged.drain(kept.1..) {
            self.used.remove(&socket);
        }
        self.guesses.truncate(kept.2);
        self.problems.truncate(kept.3);
        None
    }

    /// What stands between two semicolons. A word that went nowhere keeps the whole as a note: nothing is dropped.
    fn part(&mut self, text: &str) -> Read<()> {
        let (problems, out) = (self.problems.len(), self.out.len());
        self.kept.clear();
        self.read_part(text.trim())?;
        if self.problems.len() > problems {
            // The problem points at the line.
            return Ok(());
        }
        let said: Vec<String> =
            self.out.iter().skip(out).map(|s| print::statement(s, &Origin::Yours).to_lowercase()).collect();
        let declared = self.pieces.get(..self.declared).unwrap_or_default();
        let is_lost = |w: &words::Word| {
            w.house.contains(char::is_alphanumeric)
                && !name::is_known(w, declared)
                && !self.kept.contains(&w.house)
                && !said.iter().any(|s| s.contains(&w.house) || s.contains(&w.typed))
        };
        let lost = words::words(text, &self.name_words).into_iter().find(is_lost);
        if let Some(first) = lost {
            self.guess(
                Matters::Later,
                format!("\"{}\" is kept in a note", first.typed),
                "it means nothing here",
            );
            // An arrow would make a link of the note.
            let plain = text.replace("->", " into ").replace(['>', '→'], " into ");
            self.out.push(Statement::Note(figure::words(&plain)));
        }
        Ok(())
    }

    fn read_part(&mut self, text: &str) -> Read<()> {
        if let Some(done) = lists::parts(self, text) {
            return done;
        }
        if text.contains(['>', '→']) {
            return chain::read(self, text);
        }
        if let Some(done) = lists::spare(self, text) {
            return done;
        }
        if let Some(done) = same::read(self, text) {
            return done;
        }
        if let Some(done) = power::read(self, text) {
            return done;
        }
        if let Some(done) = place::read(self, text) {
            return done;
        }
        chain::without_arrow(self, text)
    }

    /// Adds a full line. It is made here, so a slip in it is a name that the form cannot hold.
    fn push(&mut self, full: &str) -> Read<()> {
        let mut slips = Slips::default();
        let statement = statement::read(Piece::new(full, 0), &Origin::Yours, &mut slips);
        if !slips.0.is_empty() || matches!(statement, Statement::Unread | Statement::Empty) {
            return Err(NotQuick);
        }
        self.out.push(at_span(statement, &self.span));
        Ok(())
    }

    fn guess(&mut self, matters: Matters, text: String, why: impl Into<String>) {
        let guess = Guess { line: self.number, text, why: why.into(), matters };
        if !self.guesses.contains(&guess) {
            self.guesses.push(guess);
        }
    }

    fn problem(&mut self, code: &'static str, message: String, help: String) {
        self.problems.push(Problem::new(code, self.number, self.span.clone(), message).with_help(help));
    }

    fn name_of(&self, piece: usize) -> String {
        self.pieces.get(piece).map_or(String::new(), |g| g.name.clone())
    }

    /// Brings a new piece in: its gear line, and the guess of its kind.
    fn bring(&mut self, name: &str, kind: &crate::Kind, why: &str, more: &str) -> Read<usize> {
        let name = self.free_name(name, kind);
        let is_speaker = kind.name == "powered speaker";
        let passive = is_speaker && (self.passive_next || self.passive.contains(&crate::fold(&name)));
        let kind = if passive { name::kind_of("passive speaker").unwrap_or(kind) } else { kind };
        let own = own::lines(kind);
        self.push(&format!("gear {name} = {}{more}", if own.is_some() { "other" } else { &kind.name }))?;
        for line in own.iter().flatten() {
            self.push(line)?;
        }
        let mut gear = Gear::bare(&name);
        gear.kind = Some(if own.is_some() { "other".to_owned() } else { kind.name.clone() });
        gear.body = kind.body.clone();
        gear.stands = kind.stands();
        gear.placed = crate::Placed::At(kind.usual_placement.clone());
        gear.at = self.fixed.iter().rev().find(|(n, _)| *n == crate::fold(&name)).map(|(_, at)| *at);
        self.pieces.push(gear);
        let article = if kind.name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        let what = match kind.name.as_str() {
            "ear-pieces" | "headphones" => format!("a pair of {}", kind.name),
            other => format!("{article} {other}"),
        };
        self.guess(Matters::Later, format!("{name} is {what}"), why);
        Ok(self.pieces.len() - 1)
    }

    /// A name that no piece has, and that is no socket of another.
    fn free_name(&self, wanted: &str, kind: &crate::Kind) -> String {
        let stem: String = wanted.chars().take(50).collect();
        let stem = stem.trim().to_owned();
        let taken: BTreeSet<String> = self.pieces.iter().map(|g| crate::fold(&g.name)).collect();
        let free = |name: &str| !taken.contains(&crate::fold(name)) && !self.is_a_socket(name, kind, &stem);
        if free(&stem) {
            return stem;
        }
        (2..).map(|n| format!("{stem} NO {n}")).find(|n| free(n)).unwrap_or(stem)
    }

    /// A plug goes into this socket.
    fn fill(&mut self, piece: usize, socket: usize) {
        if self.used.insert((piece, socket)) {
            self.plugged.push((piece, socket));
        }
    }

    fn is_a_socket(&self, name: &str, kind: &crate::Kind, stem: &str) -> bool {
        let name = crate::fold(name);
        let like = |piece: &str, body: &crate::Body| {
            name.strip_prefix(&crate::fold(piece)).is_some_and(|rest| {
                rest.strip_prefix(' ')
                    .is_some_and(|rest| body.sockets.iter().any(|s| crate::fold(&s.name) == rest))
            })
        };
        self.pieces.iter().any(|g| like(&g.name, &g.body))
            || (name != crate::fold(stem) && like(stem, &kind.body))
    }

    fn lead_kind_list(&self) -> Vec<LeadKind> {
        let owned = self.leads.iter().map(|l| l.kind.clone());
        self.lead_kinds.iter().cloned().chain(owned).chain(shelf::lead_kinds().iter().cloned()).collect()
    }
}

/// A statement made here stands where its quick line stands.
fn at_span(mut statement: Statement, span: &Range<usize>) -> Statement {
    match &mut statement {
        Statement::Gear { name_span, kind_span, details, .. } => {
            (*name_span, *kind_span) = (span.clone(), span.clone());
            details.iter_mut().for_each(|(_, s)| *s = span.clone());
        }
        Statement::About(_, s) | Statement::Lead { name_span: s, .. } | Statement::Answer(_, s) => {
            *s = span.clone()
        }
        Statement::Link(segments) => segments.iter_mut().for_each(|(_, s)| *s = span.clone()),
        Statement::Bag(items) | Statement::Stage(items) => {
            items.iter_mut().for_each(|(_, _, s)| *s = span.clone())
        }
        Statement::Breaker { feeds, .. } => feeds.iter_mut().for_each(|(_, s)| *s = span.clone()),
        _ => {}
    }
    statement
}
