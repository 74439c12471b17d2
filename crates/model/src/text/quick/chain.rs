//! `vocal mic > 6 m XLR > mixer 1`: what goes into what, through as many pieces as are typed.

use super::name::{self, LeadSaid};
use super::sockets::{End, Named, choose};
use super::words::{Word, take_count, take_length, typed, words};
use super::{NotQuick, Quick, Read, mixer, special};
use crate::{Class, Direction, LeadKind, Matters, shelf};

/// Most segments of one quick line.
const MOST: usize = 30;

/// What stands between two arrows.
enum Node {
    Lead(Box<LeadSaid>),
    /// Words of pieces, joined by `+` or "and".
    Gear(Vec<Vec<Word>>),
    Nothing,
}

/// A line with arrows.
pub(super) fn read(q: &mut Quick<'_>, text: &str) -> Read<()> {
    let plain = text.replace("-->", ">").replace("->", ">").replace('→', ">");
    let segments: Vec<&str> = plain.split('>').collect();
    if segments.len() < 2 || segments.len() > MOST {
        return Err(NotQuick);
    }
    let mut nodes: Vec<Node> = Vec::new();
    for segment in segments {
        nodes.push(node(q, segment)?);
    }
    q.slips(&plain.replace('>', " "));
    walk(q, nodes)
}

/// A line without arrows: `monitor from aux 1`, `mixer 1 piano`, or a piece alone.
pub(super) fn without_arrow(q: &mut Quick<'_>, text: &str) -> Read<()> {
    let said = words(text, &q.name_words);
    if let Some(at) = said.iter().position(|w| w.is("from") || w.is("off")) {
        let (to, from) = (said.get(..at).unwrap_or_default(), said.get(at + 1..).unwrap_or_default());
        return walk(q, vec![gear(from)?, gear(to)?]);
    }
    if let Some(at) = said.iter().position(|w| w.is("into") || w.is("to")) {
        let (from, to) = (said.get(..at).unwrap_or_default(), said.get(at + 1..).unwrap_or_default());
        if name::lead_of(q, &said).is_none() && !from.is_empty() && !to.is_empty() {
            return walk(q, vec![gear(from)?, gear(to)?]);
        }
    }
    // `mixer 1 mic`: what is behind the channel goes into it.
    let channel = said.iter().position(|w| w.number().is_some());
    if let Some(at) = channel
        && let (Some(to), Some(from)) = (said.get(..=at), said.get(at + 1..))
        && !from.is_empty()
        && name::meant(to.get(..at).unwrap_or_default(), None)
            .is_some_and(|m| mixer::is_mixer(m.kind) && m.rest.iter().all(|w| w.is("channel") || w.is("in")))
        && name::meant(from, None).is_some()
    {
        return walk(q, vec![gear(from)?, gear(to)?]);
    }
    Err(NotQuick)
}

fn gear(said: &[Word]) -> Read<Node> {
    if said.is_empty() { Err(NotQuick) } else { Ok(Node::Gear(vec![said.to_vec()])) }
}

fn node(q: &Quick<'_>, segment: &str) -> Read<Node> {
    let said = words(segment, &q.name_words);
    if said.is_empty() {
        return if segment.trim().is_empty() { Ok(Node::Nothing) } else { Err(NotQuick) };
    }
    let mut left = said.clone();
    let metres = take_length(&mut left);
    let count = take_count(&mut left);
    if let Some(kind) = name::lead_of(q, &left) {
        return Ok(Node::Lead(Box::new(LeadSaid { kind, metres, count })));
    }
    if metres.is_some() && name::meant(&left, None).is_none() {
        // Something with a length is a lead, of a kind that nobody knows.
        return Err(NotQuick);
    }
    let parts: Vec<Vec<Word>> =
        said.split(|w| w.is("and")).map(<[Word]>::to_vec).filter(|p| !p.is_empty()).collect();
    // `mixer 5+6` are two sockets of one piece.
    let mut groups: Vec<Vec<Word>> = Vec::new();
    for part in parts {
        let sockets = part.iter().all(|w| w.number().is_some() || w.is("left") || w.is("right"));
        match groups.last_mut() {
            Some(before) if sockets => before.extend(part),
            _ => groups.push(part),
        }
    }
    Ok(Node::Gear(groups))
}

fn walk(q: &mut Quick<'_>, nodes: Vec<Node>) -> Read<()> {
    let pieces = nodes.iter().filter(|n| matches!(n, Node::Gear(_))).count();
    if pieces == 0 {
        return Err(NotQuick);
    }
    let last = nodes.len() - 1;
    q.known = false;
    let mut before: Option<Vec<End>> = None;
    let mut leads: Vec<LeadSaid> = Vec::new();
    let mut open_end = false;
    for (i, node) in nodes.into_iter().enumerate() {
        if let Node::Lead(lead) = &node {
            if lead.count.is_some_and(|n| n > 20) {
                return Err(NotQuick);
            }
            q.kept.extend(lead.count.map(|n| n.to_string()));
            q.kept.extend(lead.metres.map(|m| m.to_string()));
            // Feet are kept as metres.
            q.kept.extend(lead.metres.map(|m| (m / 0.3048).to_string()));
        }
        match node {
            Node::Nothing if i == 0 || i == last => open_end = true,
            Node::Nothing => return Err(NotQuick),
            Node::Lead(lead) => {
                open_end |= i == 0 || i == last;
                leads.push(*lead);
            }
            Node::Gear(groups) => {
                let fed = before.is_some() || !leads.is_empty() || open_end;
                let ins = gear_ends(
                    q,
                    &groups,
                    if fed { Direction::In } else { Direction::Out },
                    before.as_deref(),
                )?;
                match before.take() {
                    Some(from) => connect(q, &from, &ins, &leads)?,
                    None if !leads.is_empty() => q.keep_loose(&leads)?,
                    None => {}
                }
                leads.clear();
                // What was said of its inputs says nothing of its outputs.
                before =
                    Some(ins.into_iter().map(|e| if fed { End { named: None, ..e } } else { e }).collect());
            }
        }
    }
    if !q.known {
        // Not one thing is known: this is no line about plugs.
        return Err(NotQuick);
    }
    if open_end {
        q.keep_loose(&leads)?;
        q.problem(
            "other-end",
            "this lead has nothing at one end: other end?".to_owned(),
            "write where it goes: GEAR SOCKET > LEAD > GEAR SOCKET".to_owned(),
        );
    }
    Ok(())
}

/// The ends that one segment means.
fn gear_ends(
    q: &mut Quick<'_>,
    groups: &[Vec<Word>],
    way: Direction,
    before: Option<&[End]>,
) -> Read<Vec<End>> {
    let mut found = Vec::new();
    for said in groups {
        let mut said = said.clone();
        // `pedal` behind a violin is another one than behind a guitar amplifier: the word alone says little.
        if let (Some(first), [one]) = (before.and_then(<[End]>::first), said.as_slice())
            && one.is("pedal")
            && let Some(kind) = q.pieces.get(first.piece).and_then(|g| g.kind.clone())
        {
            let text = format!("the pedal behind {} is a preamp pedal", q.name_of(first.piece));
            if kind.contains("violin") || kind.contains("guitar") {
                q.guess(Matters::Later, text, "what such a pickup needs");
            }
        }
        if said.len() > 12 {
            return Err(NotQuick);
        }
        let fed_by = before.and_then(<[End]>::first).and_then(|e| q.pieces.get(e.piece));
        q.passive_next = fed_by.is_some_and(|g| g.body.sockets.iter().any(|s| s.takes(&Class::Speaker)));
        if let Some(found_radio) = special::radio(q, &said, way) {
            q.known = true;
            found.push(End { piece: found_radio?, named: None });
            continue;
        }
        match name::ends(q, &said, way) {
            Ok(ends) => {
                q.known = true;
                found.extend(ends);
            }
            Err(NotQuick) => {
                let count = take_count(&mut said);
                if count.is_some_and(|n| n > 1) || said.is_empty() {
                    return Err(NotQuick);
                }
                q.unknown_thing(&said)?;
            }
        }
    }
    q.passive_next = false;
    Ok(found)
}

/// Links from these ends to those, through the leads that were typed.
fn connect(q: &mut Quick<'_>, from: &[End], to: &[End], leads: &[LeadSaid]) -> Read<()> {
    let (Some(_), Some(_)) = (from.first(), to.first()) else { return Ok(()) };
    let (outs, ins) = (spread(from), spread(to));
    let typed_count = leads.iter().filter_map(|l| l.count).max().unwrap_or(1) as usize;
    let n = outs.len().max(ins.len()).max(typed_count).clamp(1, 20);
    let stereo_pair = n == 2;
    for i in 0..n {
        let (Some(a), Some(z)) = (outs.get(i.min(outs.len() - 1)), ins.get(i.min(ins.len() - 1))) else {
            continue;
        };
        link(q, a, z, leads, stereo_pair)?;
    }
    if let ([a], [z]) = (from, to) {
        special::two_speakers(q, a.piece, z.piece)?;
    }
    if let (2, [split]) = (n, from)
        && to.len() == 2
    {
        special::click(q, split.piece, to)?;
    }
    Ok(())
}

/// One end for each socket that is meant by itself.
fn spread(ends: &[End]) -> Vec<End> {
    let mut out = Vec::new();
    for end in ends {
        match &end.named {
            Some(n) if !n.any && n.sockets.len() > 1 => {
                out.extend(n.sockets.iter().map(|s| End {
                    piece: end.piece,
                    named: Some(Named { sockets: vec![*s], any: false, form: n.form.clone() }),
                }));
            }
            _ => out.push(end.clone()),
        }
    }
    out
}

pub(super) fn link(
    q: &mut Quick<'_>,
    from: &End,
    to: &End,
    leads: &[LeadSaid],
    both_sides: bool,
) -> Read<()> {
    let (a, z) = (q.name_of(from.piece), q.name_of(to.piece));
    if from.piece == to.piece {
        q.problem(
            "own-tail",
            format!("{a} is plugged into itself"),
            "check the names at both ends".to_owned(),
        );
        return Ok(());
    }
    let kinds: Vec<LeadKind> = leads.iter().filter_map(|l| l.kind.clone()).collect();
    let Some(pair) = choose(q, from, to, &kinds) else {
        let backwards = choose(q, to, from, &kinds).is_some();
        let help = if backwards {
            format!("sound or power runs the other way: write {z} > {a}")
        } else {
            format!("name both sockets, for example: {a} SOCKET > LEAD > {z} SOCKET")
        };
        q.problem(
            "no-free-socket",
            format!("no free socket of {z} takes what a free socket of {a} gives"),
            help,
        );
        return Ok(());
    };
    let socket = |q: &Quick<'_>, piece: usize, at: usize| {
        q.pieces.get(piece).and_then(|g| g.body.sockets.get(at)).map_or(String::new(), |s| s.name.clone())
    };
    let (out, into) = (socket(q, from.piece, pair.out), socket(q, to.piece, pair.into));
    let mut line = format!("{a} {out}");
    // Lengths stand with the leads that were typed, in their order; adapters have none.
    let mut lengths = leads.iter().map(|l| l.metres);
    for kind in &pair.leads {
        let adapter = q.lead_kind_list().iter().any(|k| k.name == *kind && k.adapter);
        let metres = if adapter { None } else { lengths.next().flatten() };
        // A piece may be called like a kind of lead.
        let kind = if !adapter && !kind.ends_with("lead") { format!("{kind} lead") } else { kind.clone() };
        line.push_str(&match metres {
            Some(m) => format!(" > {kind} {m} m"),
            None => format!(" > {kind}"),
        });
    }
    line.push_str(&format!(" > {z} {into}"));
    q.push(&line)?;
    for (piece, at) in [(from.piece, pair.out), (to.piece, pair.into)] {
        q.fill(piece, at);
    }
    let named = |e: &End| e.named.as_ref().is_some_and(|n| !n.any && n.sockets.len() == 1);
    let several = |q: &Quick<'_>, piece: usize, way: Direction| {
        let sound = |s: &&crate::Socket| s.direction() == way && s.classes().iter().any(|c| c.is_sound());
        q.pieces.get(piece).is_some_and(|g| g.body.sockets.iter().filter(sound).count() > 1)
    };
    let open = (!named(to) && several(q, to.piece, Direction::In))
        || (!named(from) && !both_sides && several(q, from.piece, Direction::Out));
    // A lead and a socket that somebody named are no guess.
    let why = match (&pair.guessed, open) {
        (Some(_), true) => "usual; neither lead nor sockets were typed",
        (Some(_), false) => "the usual lead between such sockets",
        (None, true) => "the usual sockets for it",
        (None, false) => return Ok(()),
    };
    let by = pair.guessed.map_or(String::new(), |lead| format!(" by {lead}"));
    q.guess(Matters::Later, format!("{a} {out} goes into {z} {into}{by}"), why);
    Ok(())
}

impl Quick<'_> {
    /// Words that were put right are guesses.
    pub(super) fn slips(&mut self, text: &str) {
        for word in words(text, &self.name_words).into_iter().filter(|w| w.slip) {
            let text = format!("\"{}\" is read as {}", word.typed, word.house);
            self.guess(Matters::Must, text, "a slip of the pen");
        }
    }

    /// Leads that nothing is known of but that they are there.
    fn keep_loose(&mut self, leads: &[LeadSaid]) -> Read<()> {
        for lead in leads {
            let Some(kind) = &lead.kind else { continue };
            let metres = lead.metres.or(kind.lengths.first().copied().filter(|_| !kind.adapter));
            let name = metres.map_or(kind.name.clone(), |m| format!("{} {m} m", kind.name));
            if !self.leads.iter().any(|l| crate::same_name(&l.name, &name)) {
                let own = lead.count.unwrap_or(1);
                self.push(&format!("lead {name}: own {own} (guessed: typed once)"))?;
            }
        }
        Ok(())
    }

    /// A thing nobody knows: it is kept by its name, and its plugs are asked.
    fn unknown_thing(&mut self, said: &[Word]) -> Read<()> {
        let name = said.iter().map(Word::in_name).collect::<Vec<_>>().join(" ");
        if name.chars().count() > 40 || said.iter().all(|w| w.number().is_some()) {
            return Err(NotQuick);
        }
        let there = self.pieces.iter().any(|g| crate::same_name(&g.name, &name));
        if !there {
            let Some(other) = shelf::kind("other") else { return Err(NotQuick) };
            self.push(&format!("gear {name} = other"))?;
            let mut gear = crate::Gear::bare(&name);
            gear.kind = Some(other.name.clone());
            gear.body = other.body.clone();
            self.pieces.push(gear);
        }
        self.problem(
            "unknown-thing",
            format!("\"{}\" is not known: what plugs go in and out of it?", typed(said)),
            format!(
                "write its kind, gear {name} = KIND; or gear {name} = other, and its sockets on lines below"
            ),
        );
        Ok(())
    }
}
