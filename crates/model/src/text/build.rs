//! From lines as typed to a rig as meant: kinds looked up, owner's lines laid over them, names resolved.

use std::collections::BTreeSet;
use std::ops::Range;

use super::detail::Detail;
use super::lay;
use super::leads;
use super::links;
use super::names::Index;
use super::plug::shorten;
use super::read::{Line, MOST_PROBLEMS};
use super::statement::Statement;
use super::suggest::{did_you_mean, nearest, or};
use crate::{
    AUDIENCE, Answer, Breaker, Figure, Gear, GearId, LeadKind, Listener, ListenerId, Part, Placed, Problem,
    Rank, Rig, Source, SourceId, StepTimes, WearStock, Who, shelf, validate,
};

/// Most pieces of gear that are read: no stage holds more.
const MOST_PIECES: usize = 2_000;

/// Builds the rig from its lines.
pub(crate) struct Builder<'a> {
    pub(crate) lines: &'a [Line],
    pub(crate) rig: Rig,
    pub(crate) problems: Vec<Problem>,
    /// Pieces by name.
    pub(crate) pieces: Index,
    /// Where each piece was named.
    pub(crate) named_at: Vec<(usize, Range<usize>)>,
    /// The owner's own kinds of lead.
    pub(crate) lead_kinds: Vec<LeadKind>,
    /// Lead types whose count nobody gave.
    pub(crate) guessed_counts: BTreeSet<usize>,
    sources: Index,
    listeners: Index,
}

/// Which piece the detail lines belong to.
#[derive(Clone, Copy)]
enum Current {
    None,
    Piece(usize),
    /// The `gear` line above was not understood; its details are passed over in silence.
    Lost,
}

impl<'a> Builder<'a> {
    pub(crate) fn new(lines: &'a [Line]) -> Self {
        Builder {
            lines,
            rig: Rig::default(),
            problems: Vec::new(),
            pieces: Index::default(),
            named_at: Vec::new(),
            lead_kinds: Vec::new(),
            guessed_counts: BTreeSet::new(),
            sources: Index::default(),
            listeners: Index::default(),
        }
    }

    pub(crate) fn build(mut self) -> (Rig, Vec<Problem>) {
        self.listener(AUDIENCE);
        self.plain();
        self.gear();
        self.parts();
        leads::leads(&mut self);
        links::links(&mut self);
        self.bag();
        leads::count(&mut self);
        self.hears();
        validate::rig(&self.rig, &self.named_at, &mut self.problems);
        (self.rig, self.problems)
    }

    pub(crate) fn problem(
        &mut self,
        code: &'static str,
        line: usize,
        span: Range<usize>,
        message: String,
        help: String,
    ) {
        // Suggestions cost time; a file of nonsense has more lines than anyone reads.
        if self.problems.len() <= MOST_PROBLEMS {
            self.problems.push(Problem::new(code, line, span, message).with_help(help));
        }
    }

    /// Lines that need nothing looked up.
    fn plain(&mut self) {
        let lines = self.lines;
        for line in lines {
            match &line.statement {
                Statement::Rig(name) => self.rig.name = name.clone(),
                Statement::Home(at) => self.rig.home = *at,
                Statement::Listener { name, need, at } => {
                    let ListenerId(i) = self.listener(name);
                    if let Some(l) = self.rig.listeners.get_mut(i) {
                        l.at = at.or(l.at);
                        if let Some(need) = need {
                            l.need = need.clone();
                        }
                    }
                }
                Statement::Source { name, unplugged_to, played_by } => {
                    let SourceId(i) = self.source(name);
                    if let Some(s) = self.rig.sources.get_mut(i) {
                        s.unplugged_to = unplugged_to.clone();
                        s.played_by = played_by.clone();
                    }
                }
                Statement::LeadKind(kind) => self.lead_kinds.push(kind.clone()),
                Statement::Time(index, figure) => set_time(&mut self.rig.times, *index, figure),
                Statement::Room { name, volume, reverberation, back_row, noise, ask } => {
                    let room = &mut self.rig.room;
                    room.name = name.clone();
                    room.volume = volume.clone();
                    room.reverberation = reverberation.clone();
                    room.back_row = back_row.clone();
                    room.noise = noise.clone();
                    room.ask = ask.clone();
                }
                Statement::Hand(hand) => {
                    if self.rig.hands.iter().any(|h| crate::same_name(&h.name, &hand.name)) {
                        self.problem(
                            "same-name-twice",
                            line.number,
                            line.start..line.start + line.len,
                            format!("there is a hand called {} already; the first line counts", hand.name),
                            "write it once".to_owned(),
                        );
                    } else {
                        self.rig.hands.push(hand.clone());
                    }
                }
                Statement::Show { name, date } => {
                    self.rig.show.name = name.clone();
                    self.rig.show.date = date.clone();
                }
                Statement::Break(f) => self.rig.show.break_length = f.clone(),
                Statement::NextBreak(f) => self.rig.show.to_next_break = f.clone(),
                Statement::Song(f) => self.rig.show.song = f.clone(),
                Statement::Songs(songs) => self.rig.show.songs = songs.clone(),
                Statement::Quiet(moments) => self.rig.show.quiet = moments.clone(),
                Statement::Tried(trial) => self.rig.trials.push(trial.clone()),
                Statement::Answer(answer, _) => self.answer(answer),
                Statement::Note(words) => self.rig.notes.push(words.clone()),
                _ => {}
            }
        }
    }

    /// The last answer to a question counts; an open one never takes an answer away.
    fn answer(&mut self, answer: &Answer) {
        let same = |a: &&mut Answer| crate::same_name(&a.about, &answer.about) && a.asks == answer.asks;
        match self.rig.answers.iter_mut().find(same) {
            Some(old) if answer.is_open() => _ = old,
            Some(old) => old.says.clone_from(&answer.says),
            None => self.rig.answers.push(answer.clone()),
        }
    }

    /// Gear and the lines under each.
    fn gear(&mut self) {
        let lines = self.lines;
        let mut current = Current::None;
        let mut own_makes: BTreeSet<usize> = BTreeSet::new();
        for line in lines {
            match &line.statement {
                Statement::Empty => {}
                Statement::Gear { name, name_span, kind, kind_span, details } => {
                    if self.rig.gear.len() >= MOST_PIECES {
                        self.problem(
                            "too-many-pieces",
                            line.number,
                            name_span.clone(),
                            format!("there are more than {MOST_PIECES} pieces; the rest was not read"),
                            "check that it is a rig file".to_owned(),
                        );
                        return;
                    }
                    let piece = self.add_piece(line.number, name, name_span, kind, kind_span);
                    current = Current::Piece(piece);
                    for (detail, span) in details {
                        self.lay(piece, detail, line.number, span, &mut own_makes);
                    }
                }
                Statement::About(name, span) => match self.pieces.get(name) {
                    Some(piece) => current = Current::Piece(piece),
                    None => {
                        current = Current::Lost;
                        self.unknown_piece(name, line.number, span.clone());
                    }
                },
                Statement::Detail(detail) => {
                    let span = line.start..line.start + line.len;
                    match current {
                        Current::Piece(piece) => self.lay(piece, detail, line.number, &span, &mut own_makes),
                        Current::Lost => {}
                        Current::None => self.problem(
                            "detail-without-gear",
                            line.number,
                            span,
                            "this line is about a piece of gear, but no gear line stands above it".to_owned(),
                            "put it under its gear line, or write \"about NAME\" above it".to_owned(),
                        ),
                    }
                }
                Statement::Unread => {
                    if !matches!(current, Current::Piece(_)) {
                        current = Current::Lost;
                    }
                }
                _ => current = Current::None,
            }
        }
    }

    fn add_piece(
        &mut self,
        line: usize,
        name: &str,
        name_span: &Range<usize>,
        kind: &str,
        kind_span: &Range<usize>,
    ) -> usize {
        let mut gear = Gear::bare(name);
        if let Some(found) = shelf::kind(kind) {
            gear.kind = Some(found.name.clone());
            gear.stands = found.stands();
            gear.body = found.body.clone();
            gear.placed = Placed::At(found.usual_placement.clone());
        } else if !kind.is_empty() {
            self.unknown_kind(kind, line, kind_span.clone());
        }
        let place = self.rig.gear.len();
        if let Some(old) = self.pieces.add(name, place) {
            let mut n = 2;
            // Not "MIXER 2", which is socket 2 of MIXER. A long name is cut, so that the number fits in 60.
            let stem: String = name.chars().take(50).collect();
            let stem = stem.trim_end();
            while self.pieces.get(&format!("{stem} no {n}")).is_some() {
                n += 1;
            }
            gear.name = format!("{stem} no {n}");
            self.pieces.add(&gear.name, place);
            let first = self.named_at.get(old).map_or(0, |(l, _)| *l);
            self.problem(
                "same-name-twice",
                line,
                name_span.clone(),
                format!(
                    "{name} is already the name of the piece on line {first}; here it is read as {}",
                    gear.name
                ),
                format!("tape another name on one of them, for example {}", gear.name),
            );
        }
        self.rig.gear.push(gear);
        self.named_at.push((line, name_span.clone()));
        place
    }

    fn unknown_kind(&mut self, kind: &str, line: usize, span: Range<usize>) {
        // One word for each kind: the one nearest to what was typed.
        let mut words: Vec<&str> = Vec::new();
        for k in shelf::kinds() {
            let own = std::iter::once(k.name.as_str()).chain(k.also.iter().map(String::as_str));
            words.extend(nearest(kind, own).first());
        }
        let near = nearest(kind, words.into_iter());
        let help = if near.is_empty() {
            "write = other, and its sockets on lines below; docs/shelf.md lists the kinds".to_owned()
        } else {
            format!("write {}, or = other and its sockets on lines below", or(&near))
        };
        self.problem(
            "unknown-kind",
            line,
            span,
            format!("\"{}\" is not on the shelf of kinds", shorten(kind)),
            help,
        );
    }

    pub(crate) fn unknown_piece(&mut self, name: &str, line: usize, span: Range<usize>) {
        let names: Vec<&str> = self.rig.gear.iter().map(|g| g.name.as_str()).collect();
        // The words may end in a socket: fewer and fewer of them are tried.
        let mut typed = name;
        let mut near = nearest(typed, names.iter().copied());
        while let (true, Some((fewer, _))) = (near.is_empty() && typed.len() < 100, typed.rsplit_once(' ')) {
            typed = fewer;
            near = nearest(typed, names.iter().copied());
        }
        let help = did_you_mean(typed, names.into_iter(), "name it first: gear NAME = KIND");
        self.problem("unknown-gear", line, span, format!("no piece is called \"{}\"", shorten(name)), help);
    }

    fn lay(
        &mut self,
        piece: usize,
        detail: &Detail,
        line: usize,
        span: &Range<usize>,
        own_makes: &mut BTreeSet<usize>,
    ) {
        let Some(gear) = self.rig.gear.get_mut(piece) else { return };
        if let Detail::Makes(Some(made)) = detail
            && made.socket.is_some()
            && own_makes.insert(piece)
        {
            // The first line that says where replaces what the kind makes.
            gear.body.makes.clear();
        }
        if gear.kind.is_none()
            && matches!(
                detail,
                Detail::Makes(_) | Detail::Placed(_) | Detail::Switch(..) | Detail::Without(..)
            )
        {
            // Its kind is not known, which has been said: what it has cannot be checked.
            lay::apply(detail, gear).ok();
            return;
        }
        if let Err(unfound) = lay::apply(detail, gear) {
            let help = did_you_mean(
                &unfound.typed,
                unfound.names.iter().map(String::as_str),
                "see docs/shelf.md for what this kind has",
            );
            self.problem("unknown-name", line, span.clone(), unfound.message, help);
        }
    }

    /// Sources that gear makes, then parts.
    fn parts(&mut self) {
        let made: Vec<String> =
            self.rig.gear.iter().flat_map(|g| &g.body.makes).map(|m| m.source.clone()).collect();
        let makes: BTreeSet<String> = made.iter().map(|m| crate::fold(m)).collect();
        let hands: Vec<String> = self.rig.hands.iter().map(|h| h.name.clone()).collect();
        for name in &hands {
            self.listener(name);
        }
        for name in &made {
            self.source(name);
        }
        let lines = self.lines;
        for line in lines {
            let Statement::Parts { rank, weight, sources, listeners, only_in } = &line.statement else {
                continue;
            };
            let span = line.start..line.start + line.len;
            for name in sources {
                if !makes.contains(&crate::fold(name)) {
                    let unique: BTreeSet<&str> = made.iter().map(String::as_str).collect();
                    let unique: Vec<&str> = unique.into_iter().collect();
                    let help = did_you_mean(
                        name,
                        unique.into_iter(),
                        "write \"makes NAME\" under the gear that makes it",
                    );
                    self.problem(
                        "nobody-makes",
                        line.number,
                        span.clone(),
                        format!("no gear makes \"{name}\""),
                        help,
                    );
                }
                for who in listeners {
                    if self.listeners.get(who).is_none() {
                        let names: Vec<&str> = self.rig.listeners.iter().map(|l| l.name.as_str()).collect();
                        let help = format!(
                            "{}, or add a line: listener {who}",
                            did_you_mean(who, names.into_iter(), "name an existing listener")
                        );
                        self.problem(
                            "unknown-listener",
                            line.number,
                            span.clone(),
                            format!("no listener is called \"{who}\""),
                            help,
                        );
                    }
                    let part = Part {
                        source: self.source(name),
                        listener: self.listener(who),
                        rank: *rank,
                        weight: *weight,
                        only_in: only_in.clone(),
                    };
                    self.add_part(part, line.number, span.clone());
                }
            }
        }
    }

    fn add_part(&mut self, part: Part, line: usize, span: Range<usize>) {
        let same =
            |p: &Part| p.source == part.source && p.listener == part.listener && p.only_in == part.only_in;
        if self.rig.parts.iter().any(same) {
            let label = self.rig.sources.get(part.source.0).map_or("", |s| s.name.as_str()).to_owned();
            self.problem(
                "part-twice",
                line,
                span,
                format!("how much {label} matters to this listener is said twice; the first line counts"),
                "take one of the two out".to_owned(),
            );
        } else if part.weight == 0 && part.rank != Rank::Never {
            self.problem(
                "impossible-figure",
                line,
                span,
                "a weight of 0 means it does not matter; expected 1 or more".to_owned(),
                "take the line out, or write a weight from 1".to_owned(),
            );
        } else {
            self.rig.parts.push(part);
        }
    }

    /// What lies in the spare bag and on stage.
    fn bag(&mut self) {
        let lines = self.lines;
        for line in lines {
            let (items, in_bag) = match &line.statement {
                Statement::Bag(items) => (items, true),
                Statement::Stage(items) => (items, false),
                _ => continue,
            };
            for (what, n, span) in items {
                if let Some(piece) = self.pieces.get(what).and_then(|p| self.rig.gear.get_mut(p)) {
                    if in_bag {
                        piece.placed = Placed::InCase;
                    }
                } else if let Some(lead) =
                    leads::find_lead(self, what).or_else(|| leads::new_lead(self, what))
                {
                    leads::put_in_bag(self, lead, *n, in_bag);
                } else {
                    self.consumable(what, *n, in_bag, line.number, span.clone());
                }
            }
        }
    }

    fn consumable(&mut self, what: &str, n: u32, in_bag: bool, line: usize, span: Range<usize>) {
        let used = self.rig.gear.iter().flat_map(|g| &g.body.wear).any(|w| crate::same_name(&w.what, what));
        let near =
            nearest(what, self.rig.gear.iter().map(|g| g.name.as_str())).first().map(|n| (*n).to_owned());
        if let (false, Some(near)) = (used, near) {
            self.problem(
                "unknown-gear",
                line,
                span,
                format!(
                    "no piece is called \"{}\"; it is counted as something that is used up",
                    shorten(what)
                ),
                format!("write \"{near}\" if you mean that piece"),
            );
        }
        let stock = match self.rig.wear.iter_mut().find(|w| crate::same_name(&w.what, what)) {
            Some(stock) => stock,
            None => {
                self.rig.wear.push(WearStock { what: what.to_owned(), on_stage: 0, in_case: 0 });
                let Some(stock) = self.rig.wear.last_mut() else { return };
                stock
            }
        };
        let count = if in_bag { &mut stock.in_case } else { &mut stock.on_stage };
        *count = count.saturating_add(n);
    }

    /// Breakers, and names in placements.
    fn hears(&mut self) {
        let lines = self.lines;
        for line in lines {
            let Statement::Breaker { name, amps, residual, feeds } = &line.statement else { continue };
            let mut outlets = Vec::new();
            for (outlet, span) in feeds {
                match self.pieces.get(outlet) {
                    Some(piece) => outlets.push(GearId(piece)),
                    None => self.unknown_piece(outlet, line.number, span.clone()),
                }
            }
            let breaker =
                Breaker { name: name.clone(), amps: amps.clone(), residual: residual.clone(), outlets };
            self.rig.room.breakers.push(breaker);
        }
        let mut unknown = Vec::new();
        for (piece, gear) in self.rig.gear.iter().enumerate() {
            for place in &gear.body.placements {
                for h in &place.hears {
                    if let Who::Named(name) = &h.who
                        && self.listeners.get(name).is_none()
                    {
                        unknown.push((piece, name.clone()));
                    }
                }
            }
        }
        unknown.dedup();
        for (piece, name) in unknown {
            let Some((line, span)) = self.named_at.get(piece).cloned() else { continue };
            let names: Vec<&str> = self.rig.listeners.iter().map(|l| l.name.as_str()).collect();
            let help = format!(
                "{}, or add a line: listener {name}",
                did_you_mean(&name, names.into_iter(), "name a listener")
            );
            self.problem("unknown-listener", line, span, format!("no listener is called \"{name}\""), help);
        }
    }

    fn source(&mut self, name: &str) -> SourceId {
        if let Some(i) = self.sources.get(name) {
            return SourceId(i);
        }
        let i = self.rig.sources.len();
        self.sources.add(name, i);
        self.rig.sources.push(Source { name: name.to_owned(), unplugged_to: None, played_by: None });
        SourceId(i)
    }

    fn listener(&mut self, name: &str) -> ListenerId {
        if let Some(i) = self.listeners.get(name) {
            return ListenerId(i);
        }
        let i = self.rig.listeners.len();
        self.listeners.add(name, i);
        let at = self.rig.hands.iter().find(|h| crate::same_name(&h.name, name)).map(|h| h.at);
        // Above the talk of a small room (common practice).
        let need = Figure::guessed(80.0, "above the talk of a small room");
        self.rig.listeners.push(Listener { name: name.to_owned(), need, at });
        ListenerId(i)
    }
}

fn set_time(times: &mut StepTimes, index: usize, figure: &Figure<f64>) {
    let name = crate::STEP_NAMES.get(index).map_or("", |(n, _)| *n);
    if let Some(time) = times.by_name(name) {
        *time = figure.clone();
    }
}
