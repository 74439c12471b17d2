//! Names of the things of a problem, as runs.

use check::compile::Compiled;
use check::ids::{GearId, LinkId, ListenerId, PartId, SocketId};
use check::plan::End;
use model::{Class, SocketRef};

use super::say;
use crate::line::{Run, printed, tape};

/// A compiled rig with a performer's names for what is in it.
#[derive(Clone, Copy)]
pub(super) struct Book<'a> {
    pub(super) c: &'a Compiled,
}

impl<'a> Book<'a> {
    pub(super) fn gear(self, g: GearId) -> Option<&'a model::Gear> {
        self.c.rig.gear.get(g.ix())
    }

    /// The taped name.
    pub(super) fn name(self, g: GearId) -> Run {
        tape(self.gear(g).map_or("?", |g| g.name.as_str()))
    }

    pub(super) fn gear_of(self, s: SocketId) -> GearId {
        self.c.problem.spec.gear_of(s)
    }

    pub(super) fn socket(self, s: SocketId) -> Option<&'a model::Socket> {
        self.c.rig.socket(self.c.socket(s))
    }

    /// What is printed beside it; nothing where the piece has no other socket to mix it up with, nor on the wall, where
    /// nothing is printed and any will do.
    pub(super) fn print_of(self, s: SocketId) -> Option<&'a str> {
        let only = self.gear(self.gear_of(s)).is_some_and(|g| {
            let wall = g.body.live && g.body.sockets.iter().all(|s| s.classes().contains(&&Class::Mains));
            g.body.sockets.len() == 1 || wall
        });
        self.socket(s).filter(|_| !only).map(|s| s.name.as_str()).filter(|n| !n.trim().is_empty())
    }

    /// `MIXER` `1`.
    pub(super) fn place(self, s: SocketId) -> Vec<Run> {
        let mut runs = vec![self.name(self.gear_of(s))];
        runs.extend(self.print_of(s).map(printed));
        runs
    }

    /// `MIXER`, or `PIANO` `L` where several leads hang on the piece.
    pub(super) fn lead_at(self, s: SocketId) -> Vec<Run> {
        let g = self.gear_of(s);
        let here = |at: SocketRef| at.gear.0 == g.ix();
        let hanging = self.c.rig.links.iter().filter(|l| here(l.from) || here(l.to)).count();
        if hanging > 1 { self.place(s) } else { vec![self.name(g)] }
    }

    pub(super) fn end(self, l: LinkId, end: End) -> Option<SocketId> {
        let link = self.c.problem.spec.patch.get(l.ix())?;
        Some(match end {
            End::From => link.from,
            End::To => link.to,
        })
    }

    /// What an output gives: `mic`, `line`.
    pub(super) fn class_of(self, from: SocketId) -> Option<String> {
        Some(self.socket(from)?.output()?.class.to_string())
    }

    pub(super) fn is_mains(self, s: SocketId) -> bool {
        self.socket(s).is_some_and(|s| s.classes().contains(&&Class::Mains))
    }

    pub(super) fn is_supply(self, s: SocketId) -> bool {
        self.socket(s).is_some_and(model::Socket::is_supply)
    }

    pub(super) fn has_tail(self, s: SocketId) -> bool {
        self.socket(s).is_some_and(|s| s.tail.is_some())
    }

    /// Is it the audience?
    pub(super) fn is_audience(self, l: ListenerId) -> bool {
        self.c.rig.listeners.get(l.ix()).is_some_and(|l| model::same_name(&l.name, model::AUDIENCE))
    }

    pub(super) fn for_audience(self, p: PartId) -> bool {
        self.c.problem.spec.parts.get(p.ix()).is_some_and(|p| self.is_audience(p.listener))
    }

    /// A source's name, or a stand-in where its own may not stand among a card's words.
    pub(super) fn source(self, source: usize) -> String {
        let own = self.c.rig.sources.get(source).map_or("", |s| s.name.as_str());
        if plain(own, 2) { own.to_owned() } else { format!("sound {}", source + 1) }
    }

    /// A performer's name, or a stand-in.
    pub(super) fn listener(self, l: ListenerId) -> String {
        let own = self.c.rig.listeners.get(l.ix()).map_or("", |l| l.name.as_str());
        if plain(own, 1) { own.to_owned() } else { format!("player {}", l.ix() + 1) }
    }

    /// Sources of these parts that the audience hears, each once, in the order of the file.
    pub(super) fn heard(self, parts: &[PartId]) -> Vec<usize> {
        let mut out: Vec<usize> = parts
            .iter()
            .filter(|p| self.for_audience(**p))
            .filter_map(|p| self.c.problem.spec.parts.get(p.ix()))
            .map(|p| p.source.ix())
            .collect();
        out.sort_unstable();
        out.dedup();
        out
    }

    /// Names of these parts, each once: what the audience hears by name, what a performer hears together: "YRSA’s voice and
    /// keys".
    pub(super) fn parts(self, parts: &[PartId]) -> Vec<String> {
        let mut out: Vec<String> = Vec::new();
        let mut others: Vec<(ListenerId, Vec<String>)> = Vec::new();
        for part in parts.iter().filter_map(|p| self.c.problem.spec.parts.get(p.ix())) {
            let source = self.source(part.source.ix());
            if !self.is_audience(part.listener) {
                match others.iter_mut().find(|(l, _)| *l == part.listener) {
                    Some((_, sources)) if !sources.contains(&source) => sources.push(source),
                    Some(_) => {}
                    None => others.push((part.listener, vec![source])),
                }
            } else if !out.contains(&source) {
                out.push(source);
            }
        }
        out.extend(
            others.iter().map(|(l, sources)| format!("{}’s {}", self.listener(*l), say::list(sources))),
        );
        out
    }

    /// Does one see on the piece whether it has power?
    pub(super) fn has_lamp(self, g: GearId) -> bool {
        self.gear(g).is_some_and(|g| g.body.looks.iter().any(|l| l.ask.to_lowercase().contains("lamp lit")))
    }
}

/// May this name stand inside a sentence of a card?
fn plain(name: &str, most: usize) -> bool {
    say::fits(name, most)
        && name.chars().next().is_some_and(char::is_alphabetic)
        && !name.contains(['.', '?', '!', ':', '\n'])
}
