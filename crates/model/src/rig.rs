//! All of it: everything one act owns, how it is plugged, and what must be heard.
//!
//! Ids are positions in these lists, so the order of the file is the order of everything, ties included.

use crate::{
    Answer, Gear, Hand, Lead, Link, Listener, Part, Room, Route, Show, Socket, Source, StepTimes, Trial,
    WearStock,
};

/// Everything one act owns, how it is plugged, and what must be heard.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Rig {
    /// What the act calls it.
    pub name: String,
    /// Where the performer stands who does the steps.
    pub home: Spot,
    /// Gear, in the order of the file.
    pub gear: Vec<Gear>,
    /// Lead types, in the order of the file.
    pub leads: Vec<Lead>,
    /// Links, in the order of the file.
    pub links: Vec<Link>,
    /// Sources, in the order they are first named.
    pub sources: Vec<Source>,
    /// Listeners; the audience is always there.
    pub listeners: Vec<Listener>,
    /// Parts, in the order of the file.
    pub parts: Vec<Part>,
    /// Consumables carried.
    pub wear: Vec<WearStock>,
    /// Seconds for each act.
    pub times: StepTimes,
    /// The room.
    pub room: Room,
    /// The show.
    pub show: Show,
    /// People who may act, in the order of the file; empty: one, at `home`.
    pub hands: Vec<Hand>,
    /// What was tried.
    pub trials: Vec<Trial>,
    /// Lines kept as notes.
    pub notes: Vec<String>,
    /// Answers to questions, and questions kept open.
    pub answers: Vec<Answer>,
}

/// A spot on stage, metres: x to the right as the audience sees it, y away from the players towards the audience.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Towards the audience.
    pub y: f64,
}

/// A piece of gear: its place in [`Rig::gear`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct GearId(pub usize);
/// A lead type: its place in [`Rig::leads`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct LeadId(pub usize);
/// A source: its place in [`Rig::sources`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SourceId(pub usize);
/// A listener: its place in [`Rig::listeners`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ListenerId(pub usize);
/// A part: its place in [`Rig::parts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PartId(pub usize);

/// A socket: piece, and place in its [`Body::sockets`](crate::Body::sockets).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SocketRef {
    /// The piece.
    pub gear: GearId,
    /// Which of its sockets.
    pub socket: usize,
}

/// A route: piece, and place in its [`Body::routes`](crate::Body::routes).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct RouteRef {
    /// The piece.
    pub gear: GearId,
    /// Which of its routes.
    pub route: usize,
}

impl Rig {
    /// The piece with this id.
    pub fn piece(&self, id: GearId) -> Option<&Gear> {
        self.gear.get(id.0)
    }

    /// The socket.
    pub fn socket(&self, at: SocketRef) -> Option<&Socket> {
        self.gear.get(at.gear.0)?.body.sockets.get(at.socket)
    }

    /// The route.
    pub fn route(&self, at: RouteRef) -> Option<&Route> {
        self.gear.get(at.gear.0)?.body.routes.get(at.route)
    }

    /// The lead type.
    pub fn lead(&self, id: LeadId) -> Option<&Lead> {
        self.leads.get(id.0)
    }

    /// Gear by its taped name, upper and lower case alike.
    pub fn find_gear(&self, name: &str) -> Option<GearId> {
        self.gear.iter().position(|g| crate::same_name(&g.name, name)).map(GearId)
    }

    /// Lead type by its name.
    pub fn find_lead(&self, name: &str) -> Option<LeadId> {
        self.leads.iter().position(|l| crate::same_name(&l.name, name)).map(LeadId)
    }

    /// Source by its name.
    pub fn find_source(&self, name: &str) -> Option<SourceId> {
        self.sources.iter().position(|s| crate::same_name(&s.name, name)).map(SourceId)
    }

    /// Listener by its name.
    pub fn find_listener(&self, name: &str) -> Option<ListenerId> {
        self.listeners.iter().position(|l| crate::same_name(&l.name, name)).map(ListenerId)
    }

    /// `MIXER 1`: the piece's taped name and what is printed beside the socket.
    pub fn label(&self, at: SocketRef) -> String {
        match (self.piece(at.gear), self.socket(at)) {
            (Some(gear), Some(socket)) => format!("{} {}", gear.name, socket.name),
            (Some(gear), None) => gear.name.clone(),
            (None, _) => String::new(),
        }
    }

    /// `voice for audience`.
    pub fn part_label(&self, id: PartId) -> String {
        let Some(part) = self.parts.get(id.0) else { return String::new() };
        let source = self.sources.get(part.source.0).map_or("", |s| s.name.as_str());
        let listener = self.listeners.get(part.listener.0).map_or("", |l| l.name.as_str());
        format!("{source} for {listener}")
    }

    /// How many leads of a type are in the normal patch.
    pub fn in_use(&self, lead: LeadId) -> usize {
        self.links.iter().flat_map(|l| &l.via).filter(|id| **id == lead).count()
    }
}
