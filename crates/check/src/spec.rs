//! The integer rig: what the definition of a cover is given (docs/cover.md, section 1).
//!
//! All figures are whole: decimetres, dBu, watts, seconds, points. A rig is rounded once, when it is compiled into this
//! form; nothing later looks back. A [`Spec`] is plain data and may be nonsense; [`Problem::new`](crate::Problem::new)
//! refuses what cannot be judged.

use crate::ids::{ClassId, FactId, GearId, KnobId, LeadId, ListenerId, SocketId, SourceId};

/// A place on the floor, in decimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Spot {
    /// To the audience's right.
    pub x: i32,
    /// Towards the audience.
    pub y: i32,
}

/// What a plug has to fit: a form ("jack", "xlr") and a gender.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Connector {
    /// Index into [`Spec::forms`].
    pub form: u16,
    /// A plug goes into a sock; two of one gender never mate.
    pub plug: bool,
}

impl Connector {
    /// Same form, opposite gender.
    pub fn mates(self, other: Connector) -> bool {
        self.form == other.form && self.plug != other.plug
    }
}

/// Which plug time an end of this class costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlugTime {
    /// Sound and low-voltage supplies.
    Light,
    /// Mains.
    Mains,
    /// From an amplifier to a passive loudspeaker.
    Speaker,
}

/// A kind of signal or supply.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Class {
    /// Its name, for messages.
    pub name: String,
    /// Feeds gear; levels, sides and phantom do not apply.
    pub supply: bool,
    /// What plugging one end costs.
    pub plug: PlugTime,
    /// A microphone-level class: the only one that can pass phantom.
    pub mic: bool,
}

/// What is wired inside a socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SocketWire {
    /// One signal and its return.
    Ts,
    /// One balanced signal.
    Bal,
    /// Left and right.
    Stereo,
}

/// What is wired inside a lead or adapter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeadWire {
    /// Three conductors: balanced, or both sides of a stereo signal.
    Bal,
    /// Two conductors.
    Ts,
    /// Stereo to mono through resistors.
    Sum,
    /// Mono to both sides.
    Dup,
}

/// Levels from `lo` to `hi`, dBu. Empty when `lo > hi`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Levels {
    /// Least.
    pub lo: i32,
    /// Most.
    pub hi: i32,
}

impl Levels {
    /// What both hold; `None` when they do not meet.
    pub fn meet(self, other: Levels) -> Option<Levels> {
        let both = Levels { lo: self.lo.max(other.lo), hi: self.hi.min(other.hi) };
        (both.lo <= both.hi).then_some(both)
    }

    /// Every level of `other` is also in `self`.
    pub fn holds(self, other: Levels) -> bool {
        self.lo <= other.lo && other.hi <= self.hi
    }
}

/// One side of a stereo socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Tip.
    Left,
    /// Ring.
    Right,
}

/// When something works, by what is plugged in the resulting patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Guard {
    /// Only while nothing is in this socket.
    Empty(SocketId),
    /// Only while something is in this socket; a plug left hanging counts.
    Filled(SocketId),
}

/// Does a route pass without power?
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Passive {
    /// Only while its piece is live.
    #[default]
    No,
    /// With and without.
    Yes,
    /// With and without, if this holds; else only while its piece is live.
    If(FactId),
}

/// What an out-socket does with phantom.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhantomOut {
    /// Harmless.
    Fine,
    /// Makes nothing without it.
    Needs,
    /// Damaged by it.
    Harmed,
}

/// What an in-socket offers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PhantomIn {
    /// None.
    No,
    /// Can be on or off for this socket alone, without a charge.
    Switchable,
    /// On or off together with the other sockets of its bank.
    Bank(KnobId),
    /// Cannot be switched off.
    Always,
}

/// One direction of a socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Flow {
    /// Gives.
    Out {
        /// What it gives.
        class: ClassId,
        /// The range it can be set to. `[0, 0]` for a supply.
        levels: Levels,
        /// What phantom does to it.
        phantom: PhantomOut,
        /// Has to stay loaded: a valve amplifier's loudspeaker socket.
        loaded: bool,
    },
    /// Takes.
    In {
        /// Accepted classes with their level windows, in the order of the file; the first decides the plug time.
        accepts: Vec<(ClassId, Levels)>,
        /// Phantom offered.
        phantom: PhantomIn,
        /// A level must be set after plugging.
        gain: bool,
        /// For a supply: works only while this holds.
        guard: Option<Guard>,
    },
}

/// Where something plugs in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Socket {
    /// Its name within the piece.
    pub name: String,
    /// The piece it belongs to.
    pub gear: GearId,
    /// In or out.
    pub flow: Flow,
    /// What it mates with; a combined socket lists two.
    pub connectors: Vec<Connector>,
    /// What is wired inside.
    pub wire: SocketWire,
    /// Length of its own fixed cable, dm; 0 for none.
    pub tail: i32,
    /// How far a lead hangs from it to the floor, dm.
    pub rise: i32,
}

/// A way through a piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Route {
    /// Its name within the piece.
    pub name: String,
    /// The piece.
    pub gear: GearId,
    /// Where it starts.
    pub from: SocketId,
    /// Where it comes out.
    pub to: Vec<SocketId>,
    /// Gain range in dB; `None` brings any accepted level to the whole range of the out-socket.
    pub gain: Option<Levels>,
    /// The knob that turns it on and off.
    pub knob: Option<KnobId>,
    /// On in the normal patch.
    pub on: bool,
    /// Points.
    pub points: i32,
    /// Passes only this side of a stereo in-socket.
    pub takes: Option<Side>,
    /// Works only while this holds.
    pub guard: Option<Guard>,
    /// Passes with the power off, or not.
    pub passive: Passive,
    /// Works only if this holds, which nobody has checked.
    pub only_if: Option<FactId>,
    /// Buttons that mute it: it passes while all of them are off.
    pub mutes: Vec<KnobId>,
}

/// A switch a plan may turn over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Knob {
    /// Its name within the piece.
    pub name: String,
    /// The piece it is on.
    pub gear: GearId,
    /// On in the normal patch.
    pub on: bool,
    /// Seconds on top of the step `knob`: phantom needs a wait.
    pub wait: i32,
    /// A bank that is off when its piece has started anew.
    pub forgets: bool,
}

/// An in-socket that drives a loudspeaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sounding {
    /// Which.
    pub socket: SocketId,
    /// Only while this holds: a headphone plug may cut the loudspeaker.
    pub guard: Option<Guard>,
}

/// A making of a source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Making {
    /// At this out-socket; or at this in-socket, as if it had come over a link: an instrument with a loudspeaker.
    pub socket: SocketId,
    /// This source.
    pub source: SourceId,
    /// On this side only, where the socket is stereo.
    pub side: Option<Side>,
    /// Works only while this holds.
    pub guard: Option<Guard>,
}

/// A way a piece can stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Its name.
    pub name: String,
    /// Seconds to get there.
    pub seconds: i32,
    /// Points.
    pub points: i32,
    /// Who hears it there, and how loud (dB at that listener).
    pub hears: Vec<(ListenerId, i32)>,
    /// What it makes there; `None` for all it can.
    pub sources: Option<Vec<SourceId>>,
}

/// Where a piece stands in the normal patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// Packed in the spare bag: unusable until placed.
    Case,
    /// The placement with this number.
    At(usize),
}

/// A battery with enough left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Battery {
    /// Gives only while this holds.
    pub guard: Option<Guard>,
}

/// A piece of gear.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "four independent facts about a piece, each from the definition"
)]
pub struct Gear {
    /// Its taped name.
    pub name: String,
    /// Where it stands.
    pub spot: Spot,
    /// An outlet: live without being fed.
    pub root: bool,
    /// Works only when fed.
    pub needs_power: bool,
    /// Has a battery with enough left.
    pub battery: Option<Battery>,
    /// Starts by itself when fed: strips, plug-in supplies, pedals.
    pub auto: bool,
    /// Off in the normal patch, though it has power: it has to be switched on.
    pub off: bool,
    /// What it draws, W.
    pub watts: i32,
    /// What it may feed, W; `None` for no limit.
    pub cap: Option<i32>,
    /// Seconds from switch-on to working.
    pub boot: i32,
    /// A loudspeaker: turned down before its plugs are touched.
    pub loud: bool,
    /// Points.
    pub points: i32,
    /// Where it stands in the normal patch.
    pub place: Place,
    /// How it can stand.
    pub placements: Vec<Placement>,
    /// What it makes.
    pub makes: Vec<Making>,
    /// In-sockets that drive its loudspeaker.
    pub sounds: Vec<Sounding>,
}

/// A lead or adapter type, counted and never named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// Its name.
    pub name: String,
    /// Its two ends.
    pub ends: [Connector; 2],
    /// What is wired to what; of no meaning for supplies.
    pub wire: LeadWire,
    /// The classes it may carry.
    pub carries: Vec<ClassId>,
    /// Decimetres; 0 for an adapter.
    pub length: i32,
    /// Points.
    pub points: i32,
    /// How many are owned.
    pub owned: i32,
    /// How many of those are in the spare bag.
    pub case: i32,
}

/// Something that is used up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wear {
    /// Its name.
    pub name: String,
    /// On stage.
    pub stage: i32,
    /// In the spare bag.
    pub case: i32,
}

/// How much a part matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rank {
    /// The show stops without it.
    Must,
    /// We'd miss it.
    Should,
    /// Nice.
    Nice,
    /// Must not be heard.
    Never,
}

/// A source that a listener must hear, or must not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// What.
    pub source: SourceId,
    /// By whom.
    pub listener: ListenerId,
    /// How much it matters.
    pub rank: Rank,
    /// Weight within its rank.
    pub weight: i32,
}

/// Who hears.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listener {
    /// Name.
    pub name: String,
    /// Least level from one speaker, dB.
    pub need: i32,
}

/// A connection of the normal patch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// From this out-socket.
    pub from: SocketId,
    /// To this in-socket.
    pub to: SocketId,
    /// Through these pieces, in order from `from`.
    pub via: Vec<LeadId>,
}

/// Seconds of each act. All estimates, common practice; the owner's own replace them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names are those of the step table in docs/cover.md")]
pub struct StepTimes {
    pub plug: i32,
    pub plug_mains: i32,
    pub plug_speaker: i32,
    pub unplug: i32,
    pub join: i32,
    pub level: i32,
    pub knob: i32,
    pub start: i32,
    pub item_stage: i32,
    pub item_case: i32,
    pub open_case: i32,
    pub quiet: i32,
    pub place: i32,
}

impl Default for StepTimes {
    fn default() -> Self {
        StepTimes {
            plug: 3,
            plug_mains: 4,
            plug_speaker: 4,
            unplug: 2,
            join: 3,
            level: 4,
            knob: 3,
            start: 3,
            item_stage: 2,
            item_case: 4,
            open_case: 15,
            quiet: 3,
            place: 8,
        }
    }
}

impl StepTimes {
    /// Seconds to plug one end of a class.
    pub fn plug_of(&self, time: PlugTime) -> i32 {
        match time {
            PlugTime::Light => self.plug,
            PlugTime::Mains => self.plug_mains,
            PlugTime::Speaker => self.plug_speaker,
        }
    }
}

/// A whole integer rig.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spec {
    /// Its name.
    pub name: String,
    /// Where the performer stands.
    pub home: Spot,
    /// Seconds that a *break* cover may take.
    pub break_limit: i32,
    /// Seconds of each act.
    pub steps: StepTimes,
    /// Walking speed.
    pub walk_dm_per_s: i32,
    /// A socket's own fixed cable stays in it: that end is neither pulled nor plugged.
    pub tail_kept: bool,
    /// Forms of connectors.
    pub forms: Vec<String>,
    /// Kinds of signal and supply.
    pub classes: Vec<Class>,
    /// Sources.
    pub sources: Vec<String>,
    /// Listeners.
    pub listeners: Vec<Listener>,
    /// Parts.
    pub parts: Vec<Part>,
    /// Lead and adapter types.
    pub leads: Vec<Lead>,
    /// Things that are used up.
    pub wear: Vec<Wear>,
    /// Gear.
    pub gear: Vec<Gear>,
    /// Sockets, those of the first piece first.
    pub sockets: Vec<Socket>,
    /// Routes, those of the first piece first.
    pub routes: Vec<Route>,
    /// Knobs: those of routes first, in the order of the routes, then the banks, then the mutes.
    pub knobs: Vec<Knob>,
    /// What nobody has checked, by its question or name.
    pub facts: Vec<String>,
    /// The normal patch.
    pub patch: Vec<Link>,
}

impl Spec {
    /// A socket.
    pub fn socket(&self, s: SocketId) -> &Socket {
        &self.sockets[s.ix()]
    }

    /// The piece that a socket belongs to.
    pub fn gear_of(&self, s: SocketId) -> GearId {
        self.sockets[s.ix()].gear
    }

    /// The class of an out-socket.
    pub fn class_of(&self, s: SocketId) -> Option<ClassId> {
        match &self.sockets[s.ix()].flow {
            Flow::Out { class, .. } => Some(*class),
            Flow::In { .. } => None,
        }
    }

    /// The level window of an in-socket for a class.
    pub fn window(&self, s: SocketId, class: ClassId) -> Option<Levels> {
        match &self.sockets[s.ix()].flow {
            Flow::In { accepts, .. } => accepts.iter().find(|(c, _)| *c == class).map(|(_, w)| *w),
            Flow::Out { .. } => None,
        }
    }

    /// Must a level be set after plugging here?
    pub fn has_gain(&self, s: SocketId) -> bool {
        matches!(self.sockets[s.ix()].flow, Flow::In { gain: true, .. })
    }

    /// Seconds to push a plug into this socket.
    pub fn plug_seconds(&self, s: SocketId) -> i32 {
        let class = match &self.sockets[s.ix()].flow {
            Flow::Out { class, .. } => Some(*class),
            Flow::In { accepts, .. } => accepts.first().map(|(c, _)| *c),
        };
        class.map_or(self.steps.plug, |c| self.steps.plug_of(self.classes[c.ix()].plug))
    }

    /// Seconds to walk to a piece from the performer's place, rounded up.
    pub fn go_seconds(&self, g: GearId) -> i32 {
        let at = self.gear[g.ix()].spot;
        let (dx, dy) = (i64::from(at.x - self.home.x), i64::from(at.y - self.home.y));
        let d2 = dx * dx + dy * dy;
        let walk = i64::from(self.walk_dm_per_s.max(1));
        // Positions are within ±10 km (`Problem::new`), so this walk ends.
        let mut n = 0_i64;
        while walk * walk * n * n < d2 {
            n += 1;
        }
        i32::try_from(n).unwrap_or(i32::MAX)
    }

    /// Spare pieces of a lead type that lie on stage.
    pub fn on_stage(&self, t: LeadId) -> i32 {
        let used = self.patch.iter().flat_map(|l| &l.via).filter(|v| **v == t).count();
        let used = i32::try_from(used).unwrap_or(i32::MAX);
        self.leads[t.ix()].owned.saturating_sub(self.leads[t.ix()].case).saturating_sub(used)
    }
}
