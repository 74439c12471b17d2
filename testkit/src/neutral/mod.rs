//! The neutral form of a cover problem, as plain numbers and indices.
//!
//! The layout is written down in `data/covers/README.md`. This reader belongs to the second way alone: the
//! product reads the same files with its own reader, so that a misreading of one of them shows up as a
//! disagreement. Everything named in the file becomes an index here; sockets and routes lie in one flat list
//! each, because nearly every rule asks about a socket, not about its gear.

mod fault;
mod gear;
mod read;
mod rig;

use serde_json::Value;

/// A level window or range, in dBu (or a gain range in dB), least and most included.
pub type Span = (i64, i64);

/// One rig, what has stopped working, and what could be mended.
#[derive(Clone, Debug)]
pub struct Problem {
    /// What is owned and how it is plugged.
    pub rig: Rig,
    /// The lost functions.
    pub lost: Vec<Loss>,
    /// Acts that give one lost function back.
    pub mends: Vec<Mend>,
}

impl Problem {
    /// Reads a problem `{rig, lost, mends?}` from JSON.
    ///
    /// # Errors
    /// A sentence saying where in the JSON, what was expected and what was found.
    pub fn from_value(value: &Value) -> Result<Problem, String> {
        rig::problem(value)
    }

    /// Reads a problem from the text of a file.
    ///
    /// # Errors
    /// As [`Problem::from_value`]; also when the text is no JSON.
    pub fn from_text(text: &str) -> Result<Problem, String> {
        let value: Value = serde_json::from_str(text).map_err(|error| format!("not JSON: {error}"))?;
        Problem::from_value(&value)
    }
}

/// What is owned, where it stands and how it is plugged.
#[derive(Clone, Debug)]
pub struct Rig {
    /// Where the performer stands, decimetres.
    pub home: (i64, i64),
    /// Most seconds of a cover in the break.
    pub break_limit: i64,
    /// How long each act takes.
    pub steps: Steps,
    /// Walking speed, decimetres a second.
    pub walk: i64,
    /// A tail's own end is neither pulled nor plugged.
    pub tail_kept: bool,
    /// Who listens.
    pub listeners: Vec<Listener>,
    /// What must, should, may or must never be heard.
    pub parts: Vec<Part>,
    /// Lead and adapter types.
    pub leads: Vec<Lead>,
    /// Consumables for mends.
    pub wear: Vec<Wear>,
    /// The gear.
    pub gear: Vec<Gear>,
    /// All sockets of all gear.
    pub sockets: Vec<Socket>,
    /// All routes of all gear.
    pub routes: Vec<Route>,
    /// All makings of all gear.
    pub makes: Vec<Make>,
    /// All banks of all gear.
    pub banks: Vec<Bank>,
    /// All mutes of all gear.
    pub mutes: Vec<Mute>,
    /// Facts that nobody has checked, by name; a fact is an index here.
    pub facts: Vec<String>,
    /// The normal patch.
    pub patch: Vec<Link>,
    /// Names of sources; a source is an index here.
    pub sources: Vec<String>,
    /// Names of signal and supply classes; a class is an index here.
    pub classes: Vec<String>,
    /// Names of connector forms; a form is an index here.
    pub forms: Vec<String>,
}

/// Seconds of each act.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Steps {
    pub plug: i64,
    pub plug_mains: i64,
    pub plug_speaker: i64,
    pub unplug: i64,
    pub join: i64,
    pub level: i64,
    pub knob: i64,
    pub start: i64,
    pub item_stage: i64,
    pub item_case: i64,
    pub open_case: i64,
    pub quiet: i64,
    pub place: i64,
}

/// Somebody who listens, and the least level that counts as hearing, dB.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Listener {
    pub id: String,
    pub need: i64,
}

/// How much a part matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the four ranks of the definition")]
pub enum Rank {
    Must,
    Should,
    Nice,
    Never,
}

/// A source that a listener is meant to hear, or never to hear.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Part {
    pub id: String,
    pub source: usize,
    pub listener: usize,
    pub rank: Rank,
    pub weight: i64,
}

/// A connector: its form, and whether it is the plug of that form (else the socket).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "explained above")]
pub struct Connector {
    pub form: usize,
    pub plug: bool,
}

impl Connector {
    /// Same form, opposite gender.
    pub fn mates(self, other: Connector) -> bool {
        self.form == other.form && self.plug != other.plug
    }
}

/// How a lead is wired inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the four words of the file; `Bal` also for supply leads")]
pub enum Wiring {
    Bal,
    Ts,
    Sum,
    Dup,
}

/// A lead or adapter type.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file; lengths in decimetres")]
pub struct Lead {
    pub id: String,
    pub ends: [Connector; 2],
    pub wiring: Wiring,
    pub classes: Vec<usize>,
    pub length: i64,
    pub owned: i64,
    pub case: i64,
    pub pts: i64,
}

/// A consumable: how many are owned, and how many of those are in the case.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Wear {
    pub id: String,
    pub owned: i64,
    pub case: i64,
}

/// A condition on a socket of the resulting patch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Guard {
    /// The socket looked at.
    pub socket: usize,
    /// It must be filled (else: empty).
    pub filled: bool,
}

/// What a piece runs on when nothing feeds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the three cases of the file")]
pub enum Battery {
    None,
    Always,
    When(Guard),
}

/// One piece of gear.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file; positions in decimetres")]
pub struct Gear {
    pub id: String,
    pub pos: (i64, i64),
    pub root: bool,
    pub needs_power: bool,
    pub battery: Battery,
    pub auto: bool,
    pub watts: i64,
    pub cap: Option<i64>,
    pub boot: i64,
    pub loud: bool,
    pub pts: i64,
    /// The current placement; `None` is the case.
    pub place: Option<usize>,
    pub places: Vec<Place>,
    /// What drives its loudspeaker.
    pub sounds: Vec<Sound>,
}

/// An in-socket that drives the loudspeaker of its gear while the guard holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "explained above")]
pub struct Sound {
    pub socket: usize,
    pub guard: Option<Guard>,
}

/// One way a piece may stand.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Place {
    pub id: String,
    pub secs: i64,
    pub pts: i64,
    /// (listener, dB).
    pub hears: Vec<(usize, i64)>,
    /// `None`: every source that it makes.
    pub sources: Option<Vec<usize>>,
}

/// Which side of a stereo signal: a set of the two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sides {
    /// On the left.
    pub left: bool,
    /// On the right.
    pub right: bool,
}

impl Sides {
    /// Left and right.
    pub const BOTH: Sides = Sides { left: true, right: true };

    /// Do the two share a side?
    pub fn meets(self, other: Sides) -> bool {
        (self.left && other.left) || (self.right && other.right)
    }

    /// Is everything of `other` here too?
    pub fn contains(self, other: Sides) -> bool {
        (self.left || !other.left) && (self.right || !other.right)
    }
}

/// A source made at an out-socket, or at an in-socket (an instrument with a loudspeaker of its own).
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Make {
    pub gear: usize,
    pub socket: usize,
    pub source: usize,
    pub sides: Sides,
    pub guard: Option<Guard>,
}

/// Wires of a socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the three words of the file")]
pub enum Wires {
    Bal,
    Ts,
    Stereo,
}

/// What a socket does about phantom power: three words for outputs, three for inputs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the six words of the file")]
pub enum Phantom {
    Ok,
    Needs,
    Harmed,
    No,
    Switch,
    On,
}

/// A socket.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file; lengths in decimetres")]
pub struct Socket {
    pub gear: usize,
    pub id: String,
    pub out: bool,
    pub con: Vec<Connector>,
    pub wires: Wires,
    pub tail: i64,
    pub rise: i64,
    /// Classes with their windows; an out-socket has one, with its level range.
    pub classes: Vec<(usize, Span)>,
    pub phantom: Phantom,
    pub gain: bool,
    pub guard: Option<Guard>,
    pub bank: Option<usize>,
    /// An out-socket that must never be without a load.
    pub loaded: bool,
}

/// Does a route pass while its gear is not live?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passive {
    /// No.
    No,
    /// Yes.
    Always,
    /// If this fact holds.
    If(usize),
}

/// A way through a piece from one in-socket to out-sockets.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Route {
    pub gear: usize,
    pub id: String,
    pub from: usize,
    pub outs: Vec<usize>,
    /// `None`: levelled.
    pub gain: Option<Span>,
    pub switch: bool,
    pub on: bool,
    pub pts: i64,
    pub takes: Option<Sides>,
    pub guard: Option<Guard>,
    pub passive: Passive,
    /// It works only if this fact holds.
    pub only_if: Option<usize>,
    /// It passes while all of these are off.
    pub mutes: Vec<usize>,
}

/// One button that silences every route that names it.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Mute {
    pub gear: usize,
    pub id: String,
    pub on: bool,
}

/// One phantom knob for several in-sockets.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Bank {
    pub gear: usize,
    pub id: String,
    pub on: bool,
    pub wait: i64,
    /// It is off when its gear has started anew.
    pub forgets: bool,
}

/// A link of the normal patch: out-socket, in-socket, lead types in order from the out-socket.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "explained above")]
pub struct Link {
    pub from: usize,
    pub to: usize,
    pub via: Vec<usize>,
}

/// One lost function.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the words of the file")]
pub enum Loss {
    Gear(usize),
    Sound(usize),
    Make(usize),
    Supply(usize),
    Route(usize),
    Socket(usize),
    Piece { link: usize, piece: usize },
    Spare { lead: usize, count: i64, in_case: bool },
}

/// An act that gives back one lost function.
#[derive(Clone, Debug)]
#[expect(missing_docs, reason = "the names are those of the file")]
pub struct Mend {
    pub id: String,
    pub gives: Loss,
    pub at: usize,
    pub secs: i64,
    pub wear: Option<usize>,
}
