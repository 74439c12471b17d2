//! Which piece a few words mean: one that is there already, or a new one and its kind.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use super::sockets::{End, named};
use super::words::{Word, phrase, take_count, typed, words};
use super::{NotQuick, Quick, Read, own};
use crate::{Direction, Kind, LeadKind, shelf};

/// Words for kinds, beside the shelf's own: the first of the right side that the shelf has.
const MEANT: [(&str, &[&str]); 49] = [
    ("vocal", &["vocal mic"]),
    ("voice mic", &["vocal mic"]),
    ("voice", &["vocal mic"]),
    ("singer", &["vocal mic"]),
    ("mic", &["vocal mic"]),
    ("violin pickup", &["violin", "passive piezo pickup"]),
    ("pickup", &["violin", "passive piezo pickup"]),
    ("guitar pickup", &["guitar"]),
    ("acoustic", &["acoustic guitar", "guitar"]),
    ("pedal", &["acoustic preamp pedal"]),
    ("preamp", &["acoustic preamp pedal"]),
    ("di", &["passive DI"]),
    ("direct box", &["passive DI"]),
    ("keys", &["stage piano"]),
    ("keyboard", &["stage piano"]),
    ("track", &["laptop"]),
    ("tracks", &["laptop"]),
    ("backing track", &["laptop"]),
    ("split", &["split lead"]),
    ("split lead", &["split lead"]),
    ("mini to 2 jack", &["split lead"]),
    ("mini to jack split", &["split lead"]),
    ("mixer", &["small analogue mixer", "mixer"]),
    ("mixing mixer", &["small analogue mixer"]),
    ("speaker", &["powered speaker"]),
    ("powered speaker", &["powered speaker"]),
    ("main speaker", &["powered speaker"]),
    ("monitor", &["small powered monitor"]),
    ("wedge", &["wedge monitor"]),
    ("headphone amp", &["headphone amplifier"]),
    ("ear amp", &["headphone amplifier"]),
    ("ear-pieces amp", &["headphone amplifier"]),
    ("in ear", &["ear-pieces"]),
    ("in-ear", &["ear-pieces"]),
    ("ear-pieces", &["ear-pieces"]),
    ("headphone", &["headphones"]),
    ("strip", &["power strip 6-way"]),
    ("power strip", &["power strip 6-way"]),
    ("extension", &["extension 10 m"]),
    ("outlet", &["wall outlet"]),
    ("wall", &["wall outlet"]),
    ("amp", &["power amplifier"]),
    ("radio mic", &["radio hand-held", "radio microphone", "hand-held radio"]),
    ("radio hand-held", &["radio hand-held", "radio microphone", "hand-held radio"]),
    ("radio receiver", &["radio receiver", "receiver", "radio hand-held receiver"]),
    ("receiver", &["radio receiver", "receiver"]),
    ("power amp", &["power amplifier"]),
    ("passive speaker", &["passive speaker"]),
    ("guitar amp", &["guitar amp", "guitar combo", "solid-state guitar combo"]),
];

/// Every word of the shelf in the house spelling.
static KINDS: LazyLock<Vec<(String, &'static Kind)>> = LazyLock::new(|| {
    let all = |k: &'static Kind| std::iter::once(&k.name).chain(&k.also).map(move |n| (house(n), k));
    shelf::kinds().iter().filter(|k| k.name != "other").flat_map(all).collect()
});

/// Every word of the shelf's leads in the house spelling, without "lead".
static LEADS: LazyLock<Vec<(String, &'static LeadKind)>> = LazyLock::new(|| {
    let all = |k: &'static LeadKind| {
        std::iter::once(&k.name).chain(&k.also).map(move |n| (bare(&words(n, &[])), k))
    };
    shelf::lead_kinds().iter().flat_map(all).collect()
});

fn house(name: &str) -> String {
    phrase(&words(name, &[]))
}

fn bare(words: &[Word]) -> String {
    let kept: Vec<Word> = words.iter().filter(|w| !w.is("lead")).cloned().collect();
    phrase(&kept)
}

/// The kind that words mean.
pub(super) fn kind_of(said: &str) -> Option<&'static Kind> {
    let listed = MEANT.iter().find(|(w, _)| *w == said).map_or(&[] as &[&str], |(_, names)| names);
    // The list goes first: "mixer" must mean the same mixer whatever the shelf calls its others.
    listed
        .iter()
        .find_map(|n| shelf::kind(n).or_else(|| shelf::kinds().iter().find(|k| k.name.starts_with(n))))
        .or_else(|| KINDS.iter().find(|(w, _)| w == said).map(|(_, k)| *k))
        .or_else(|| listed.iter().find_map(|n| own::find(n)))
}

/// Words of the trade and of the grammar: the readers of lines answer for these.
static KNOWN: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let phrases = KINDS.iter().map(|(w, _)| w.as_str()).chain(LEADS.iter().map(|(w, _)| w.as_str()));
    let meant = MEANT.iter().map(|(w, _)| *w);
    let mut known: BTreeSet<String> =
        phrases.chain(meant).flat_map(|p| p.split(' ')).map(str::to_owned).collect();
    let grammar = "lead channel in out and of from to into off on with but same as like without no plus extra \
                   another more only just apart left right front behind before beside next near back away aux \
                   main mains phones line mic inst thru spare bag must should nice never not have house m ft cm v \
                   socket number patch block cell battery aa aaa good fresh new for audience";
    known.extend(grammar.split_whitespace().map(str::to_owned));
    known.retain(|w| w.parse::<f64>().is_err());
    known
});

/// Is it a word that lines are made of, or one of a declared name?
pub(super) fn is_known(word: &Word, declared: &[crate::Gear]) -> bool {
    KNOWN.contains(&word.house)
        || word.house.strip_prefix('x').is_some_and(|n| n.parse::<u32>().is_ok())
        || declared.iter().any(|g| house(&g.name).split(' ').any(|w| w == word.house))
}

/// A lead among the segments of a line.
#[derive(Clone, Debug)]
pub(super) struct LeadSaid {
    /// Its kind; `None`: "lead" alone.
    pub(super) kind: Option<LeadKind>,
    pub(super) metres: Option<f64>,
    pub(super) count: Option<u32>,
}

/// Are these words a lead? Count and length are taken out already.
pub(super) fn lead_of(q: &Quick<'_>, said: &[Word]) -> Option<Option<LeadKind>> {
    if said.is_empty() {
        return None;
    }
    let whole = phrase(said);
    let says_lead = said.iter().any(|w| w.is("lead"));
    if kind_of(&whole).is_some() && (!says_lead || whole.starts_with("split")) {
        return None;
    }
    let short = bare(&said.iter().filter(|w| !w.is("patch")).cloned().collect::<Vec<_>>());
    if short.is_empty() {
        return Some(None);
    }
    let own = q.lead_kinds.iter().find(|k| bare(&words(&k.name, &[])) == short);
    own.cloned().or_else(|| LEADS.iter().find(|(w, _)| *w == short).map(|(_, k)| (*k).clone())).map(Some)
}

/// Pieces that are there already and that words at the start of `said` mean: piece, and how many words it took.
fn by_name(q: &Quick<'_>, said: &[Word]) -> Option<(usize, usize)> {
    q.name_pieces();
    let names = q.names.borrow();
    for n in (1..=said.len()).rev() {
        let part = said.get(..n)?;
        let (as_typed, as_house) = (crate::fold(&typed(part)), phrase(part));
        let place = names
            .iter()
            .position(|(name, _)| *name == as_typed)
            .or_else(|| names.iter().position(|(_, name)| *name == as_house));
        if let Some(place) = place {
            return Some((place, n));
        }
    }
    None
}

/// Pieces that a kind's bare word may mean: of that kind, or with the word in their name or their kind's.
pub(super) fn alike(q: &Quick<'_>, said: &str, kind: &Kind) -> Vec<usize> {
    let bare = !said.contains(' ');
    let head = said.rsplit(' ').next().unwrap_or(said).to_owned();
    q.name_pieces();
    let names = q.names.borrow();
    let word = |text: &str| text.split(' ').any(|w| w == head);
    let has = |text: &str| KINDS.iter().find(|(_, k)| k.name == text).is_some_and(|(w, _)| word(w));
    let packed = |i: &usize| q.pieces.get(*i).is_some_and(|g| g.placed == crate::Placed::InCase);
    (0..q.pieces.len())
        .filter(|i| !packed(i))
        .filter(|i| {
            q.pieces.get(*i).is_some_and(|g| {
                let of_kind = g.kind.as_deref() == Some(kind.name.as_str());
                // Supplies are called after what they feed.
                let name = names.get(*i).map_or("", |(_, house)| house.as_str());
                let other = head == "supply" || name.contains("supply");
                // Own boxes have no kind: their name says what they are.
                let by_name = g.kind.as_deref() == Some("other") && word(name);
                of_kind
                    || (bare && by_name)
                    || (bare && !other && g.kind.as_deref().is_some_and(has) && word(name))
            })
        })
        .collect()
}

/// What some words of a segment mean.
pub(super) struct Meant {
    pub(super) kind: &'static Kind,
    /// Words before and of the kind, as its name.
    pub(super) name: Vec<Word>,
    /// Words of the kind alone.
    pub(super) said: String,
    /// Words behind it.
    pub(super) rest: Vec<Word>,
    pub(super) plural: bool,
}

/// The kind among the words: the first whose following words are its sockets or a number, else the last.
pub(super) fn meant(said: &[Word], way: Option<Direction>) -> Option<Meant> {
    let found = |start: usize, len: usize| -> Option<Meant> {
        let part = said.get(start..start + len)?;
        let kind = kind_of(&phrase(part))?;
        Some(Meant {
            kind,
            name: said.get(..start + len)?.to_vec(),
            said: phrase(part),
            rest: said.get(start + len..)?.to_vec(),
            // The 2 of `mini to 2 jacks` counts plugs, not pieces.
            plural: part.last().is_some_and(|w| w.plural) && part.iter().all(|w| w.number().is_none()),
        })
    };
    let fits = |m: &Meant| {
        m.rest.is_empty()
            || m.rest.iter().all(|w| w.number().is_some() || w.is("channel") || w.is("in") || w.is("and"))
            || [Direction::In, Direction::Out]
                .into_iter()
                .filter(|d| way.is_none_or(|w| w == *d))
                .any(|d| named(&m.kind.body, &m.rest, d).is_some())
    };
    let mut last = None;
    for start in 0..said.len() {
        for len in (1..=(said.len() - start).min(5)).rev() {
            if let Some(m) = found(start, len) {
                if fits(&m) {
                    return Some(m);
                }
                last = Some(m);
                break;
            }
        }
    }
    last
}

/// The ends of links that a segment means; new pieces are brought in.
pub(super) fn ends(q: &mut Quick<'_>, said: &[Word], way: Direction) -> Read<Vec<End>> {
    let mut said = said.to_vec();
    if let Some(found) = behind(q, &said, way) {
        return found;
    }
    said.retain(|w| !w.is("of"));
    if let Some((piece, n)) = by_name(q, &said) {
        let rest = said.get(n..).unwrap_or_default().to_vec();
        let body = q.pieces.get(piece).map(|g| g.body.clone()).unwrap_or_default();
        // A microphone that is plugged in is not plugged in twice: a quick line means another one.
        let another = way == Direction::Out && piece >= q.declared && q.is_spent(piece);
        if rest.is_empty() && !(another && meant(&said, Some(way)).is_some_and(|m| m.rest.is_empty())) {
            return Ok(vec![End { piece, named: None }]);
        }
        if let Some(named) = named(&body, &rest, way) {
            return Ok(vec![End { piece, named: Some(named) }]);
        }
        if rest.is_empty() {
            let m = meant(&said, Some(way)).ok_or(NotQuick)?;
            return of_kind(q, &m, None, way);
        }
        // More words than a name and a socket: another piece, unless its kind is not to be seen in them.
        if meant(&said, Some(way)).is_none_or(|m| m.name.len() <= n) {
            let words = phrase(&rest);
            let name = q.name_of(piece);
            let there: Vec<String> =
                body.sockets.iter().filter(|s| s.direction() == way).map(|s| s.name.clone()).collect();
            q.problem(
                "unknown-socket",
                format!("{name} has no socket \"{words}\""),
                format!("there are: {}", there.iter().take(12).cloned().collect::<Vec<_>>().join(", ")),
            );
            return Ok(Vec::new());
        }
    }
    let count = take_count(&mut said);
    if let Some(m) = meant(&said, Some(way)) {
        return of_kind(q, &m, count, way);
    }
    if is_socket_words(&said) {
        return at_the_mixer(q, &said, way);
    }
    Err(NotQuick)
}

impl Quick<'_> {
    /// Names as they are looked up, one for each piece: made once, for they are looked up with every word.
    fn name_pieces(&self) {
        let mut names = self.names.borrow_mut();
        names.truncate(self.pieces.len());
        let more = self.pieces.get(names.len()..).unwrap_or_default();
        names.extend(more.iter().map(|g| (crate::fold(&g.name), house(&g.name))));
    }

    /// Has the piece one out-socket for sound, with a plug in it?
    fn is_spent(&self, piece: usize) -> bool {
        let Some(gear) = self.pieces.get(piece) else { return false };
        let mut outs = (0..gear.body.sockets.len()).filter(|i| {
            gear.body.sockets.get(*i).and_then(crate::Socket::output).is_some_and(|o| o.class.is_sound())
        });
        matches!((outs.next(), outs.next()), (Some(one), None) if self.used.contains(&(piece, one)))
    }
}

/// `speaker out of amp`: the piece stands behind, its socket before.
fn behind(q: &mut Quick<'_>, said: &[Word], way: Direction) -> Option<Read<Vec<End>>> {
    let at = said.iter().position(|w| w.is("of"))?;
    let (socket, piece) = (said.get(..at)?.to_vec(), said.get(at + 1..)?.to_vec());
    if socket.is_empty() || piece.is_empty() || socket.first().is_some_and(|w| w.number().is_some()) {
        return None;
    }
    let kept = q.pieces.len();
    let Ok(found) = ends(q, &piece, way) else { return Some(Err(NotQuick)) };
    let [one] = found.as_slice() else { return Some(Err(NotQuick)) };
    let body = q.pieces.get(one.piece).map(|g| g.body.clone()).unwrap_or_default();
    match named(&body, &socket, way) {
        Some(named) => Some(Ok(vec![End { piece: one.piece, named: Some(named) }])),
        // "box of tricks" is a name.
        None if q.pieces.len() > kept => Some(Err(NotQuick)),
        None => None,
    }
}

/// Words that are sockets of a mixer and nothing else.
fn is_socket_words(said: &[Word]) -> bool {
    let fine = [
        "aux",
        "main",
        "mains",
        "phones",
        "headphone",
        "left",
        "right",
        "channel",
        "in",
        "out",
        "mic",
        "line",
        "and",
    ];
    !said.is_empty() && said.iter().all(|w| w.number().is_some() || fine.contains(&w.house.as_str()))
}

/// A socket alone belongs to the only mixer.
fn at_the_mixer(q: &mut Quick<'_>, said: &[Word], way: Direction) -> Read<Vec<End>> {
    let kind = super::mixer::mixer_for(q.channels).ok_or(NotQuick)?;
    let there = alike(q, "mixer", kind);
    let piece = match there.as_slice() {
        [] => {
            let why = format!("\"{}\" is a socket of a mixer", typed(said));
            super::mixer::bring_mixer(q, "MIXER", &why)?
        }
        [one] => *one,
        [first, ..] => {
            let (name, words) = (q.name_of(*first), typed(said));
            q.guess(
                crate::Matters::Must,
                format!("\"{words}\" is a socket of {name}"),
                "the first of the mixers",
            );
            *first
        }
    };
    let body = q.pieces.get(piece).map(|g| g.body.clone()).unwrap_or_default();
    let said: Vec<Word> = said
        .iter()
        .map(|w| if w.is("mains") { Word { house: "main".into(), ..w.clone() } } else { w.clone() })
        .collect();
    let named = named(&body, &said, way).ok_or(NotQuick)?;
    Ok(vec![End { piece, named: Some(named) }])
}

/// Pieces of a kind: the one there is, the nth, several, or new ones.
fn of_kind(q: &mut Quick<'_>, m: &Meant, count: Option<u32>, way: Direction) -> Read<Vec<End>> {
    let is_mixer = super::mixer::is_mixer(m.kind);
    let kind = if is_mixer { super::mixer::mixer_for(q.channels).unwrap_or(m.kind) } else { m.kind };
    let is_bare = m.name.len() == m.said.split(' ').count();
    let there = if is_bare { alike(q, &m.said, kind) } else { Vec::new() };
    // `mini to 2 jacks` is called by its kind: the 2 would look like a number.
    let name = if is_bare && m.name.iter().any(|w| w.number().is_some()) {
        kind.name.to_uppercase()
    } else {
        m.name.iter().map(Word::in_name).collect::<Vec<_>>().join(" ")
    };
    let why = format!("from \"{}\"", typed(&m.name));
    let number = match m.rest.as_slice() {
        [w] => w.number().filter(|_| !is_mixer && named(&kind.body, &m.rest, way).is_none()),
        _ => None,
    };
    if let Some(n) = number {
        // By number: that one of those there are, or a new one with the number in its name.
        let nth = usize::try_from(n).ok().and_then(|n| n.checked_sub(1)).and_then(|n| there.get(n)).copied();
        let numbered = format!("{name} {n}");
        let known = q.pieces.iter().position(|g| crate::same_name(&g.name, &numbered));
        let piece = match known.or(nth) {
            Some(piece) => piece,
            None => q.bring(&numbered, kind, &why, "")?,
        };
        return Ok(vec![End { piece, named: None }]);
    }
    if count.is_some_and(|n| n > 20) {
        return Err(NotQuick);
    }
    q.kept.extend(count.map(|n| n.to_string()));
    // What stands in the words of a kind is in the kind.
    q.kept.extend(m.name.iter().map(|w| w.house.clone()));
    let wanted = count.map_or(if m.plural { there.len().max(2) } else { 1 }, |n| n as usize).clamp(1, 20);
    let mut ends = Vec::new();
    if wanted == 1 {
        let free = |i: &&usize| {
            !q.used.iter().any(|(p, s)| {
                p == *i
                    && q.pieces
                        .get(*p)
                        .and_then(|g| g.body.sockets.get(*s))
                        .is_some_and(|s| s.direction() == way)
            })
        };
        let piece = match there.as_slice() {
            [] if is_mixer => super::mixer::bring_mixer(q, &name, &why)?,
            [] => q.bring(&name, kind, &why, "")?,
            all if way == Direction::Out && all.iter().all(|p| q.is_spent(*p)) => {
                let numbered = format!("{name} {}", all.len() + 1);
                q.bring(&numbered, kind, "the other one is plugged in already", "")?
            }
            [one] => *one,
            [first, ..] => {
                let one = there.iter().find(free).copied().unwrap_or(*first);
                let text = format!("\"{}\" is {}", typed(&m.name), q.name_of(one));
                q.guess(crate::Matters::Must, text, "the first that is free");
                one
            }
        };
        ends.push(piece);
    } else {
        // A microphone that is plugged in already is not one of two that are plugged in now.
        let spent = |p: &usize| way == Direction::Out && q.is_spent(*p);
        ends.extend(there.iter().copied().filter(|p| !spent(p)).take(wanted));
        for n in ends.len() + 1..=wanted {
            let side = if n == 1 { "LEFT" } else { "RIGHT" };
            let numbered =
                if wanted == 2 && kind.body.loud { format!("{side} {name}") } else { format!("{name} {n}") };
            ends.push(q.bring(&numbered, kind, &why, "")?);
        }
    }
    let mut out = Vec::new();
    for piece in ends {
        let body = q.pieces.get(piece).map(|g| g.body.clone()).unwrap_or_default();
        let named = if m.rest.is_empty() { None } else { named(&body, &m.rest, way) };
        if named.is_none() && !m.rest.is_empty() {
            let (name, words) = (q.name_of(piece), phrase(&m.rest));
            q.problem(
                "unknown-socket",
                format!("{name} has no socket \"{words}\""),
                "docs/shelf.md lists the sockets of each kind".to_owned(),
            );
            return Ok(Vec::new());
        }
        out.push(End { piece, named });
    }
    Ok(out)
}
