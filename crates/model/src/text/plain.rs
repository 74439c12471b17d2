//! One reader for each kind of line that is not about a single piece.

use std::ops::Range;

use super::figure::{self, AMPS, CUBIC_METRES, DB, METRES, OHMS, PICOFARADS, SECONDS, SPEED};
use super::route::{flag, free};
use super::scan::{Piece, Slips};
use super::statement::Statement;
use super::{detail, items, plug, suggest};
use crate::{
    AUDIENCE, Answer, Class, Figure, Half, Hand, LeadKind, Origin, Rank, STEP_NAMES, Spot, Trial, TrialHow,
    Wiring,
};

pub(crate) const RANKS: [(&str, Rank); 4] =
    [("must", Rank::Must), ("should", Rank::Should), ("nice", Rank::Nice), ("never", Rank::Never)];

/// Cuts `NAME: a, b` into name and attributes; no colon, no attributes.
fn head(rest: Piece<'_>) -> (Piece<'_>, Vec<Piece<'_>>) {
    match rest.split_once(':') {
        Some((name, rest)) => (name, rest.split(',')),
        None => (rest, Vec::new()),
    }
}

pub(crate) fn listener(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn source(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn gear(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn lead(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn lead_kind(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<LeadKind> {
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

pub(crate) fn parts(rank: Rank, rest: Piece<'_>, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn counted_list(rest: Piece<'_>, slips: &mut Slips) -> Option<Vec<(String, u32, Range<usize>)>> {
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

pub(crate) fn time(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn room(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn breaker(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Statement> {
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

pub(crate) fn hand(rest: Piece<'_>, slips: &mut Slips) -> Option<Hand> {
    let (name, attributes) = head(rest);
    let mut hand = Hand {
        name: plug::want_name(name, "listener", slips)?,
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

pub(crate) fn tried(rest: Piece<'_>, slips: &mut Slips) -> Option<Trial> {
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

/// `SPLIT click: left`: the piece, the last word before the colon is the question.
pub(crate) fn answer(rest: Piece<'_>, slips: &mut Slips) -> Option<Answer> {
    let said = rest.split_once(':').and_then(|(head, says)| {
        let (about, asks) = head.text.rsplit_once(char::is_whitespace)?;
        let about = plug::name(about)?;
        let says = figure::words(says.text);
        let fine = !says.is_empty() && says.chars().count() <= 60;
        fine.then(|| Answer { about, asks: asks.to_lowercase(), says: says.to_lowercase() })
    });
    if said.is_none() {
        slips.add(
            "bad-answer",
            rest,
            format!("\"answer {}\" is no answer to a question", plug::shorten(rest.text)),
            "write the piece, the question's word, a colon and the answer: answer SPLIT LEAD click: left",
        );
    }
    said
}
