//! A physical thing with sockets: what the owner taped on it, and everything known about it.

use crate::{Bank, Battery, Caution, Figure, Guard, Look, Mend, Mode, Placement, Route, Socket, Spot, Wear};

/// One piece that somebody owns, borrows, or finds in the room.
#[derive(Clone, Debug, PartialEq)]
pub struct Gear {
    /// What is taped on it: unique in the rig, the name on every card.
    pub name: String,
    /// The shelf's name for its kind; `None` when the kind is not known.
    pub kind: Option<String>,
    /// Where it stands, metres; `None` until the owner says.
    pub at: Option<Spot>,
    /// What it stands on, which sets how far its leads hang.
    pub stands: Figure<Stand>,
    /// Where it is now: one of its placements, or packed away.
    pub placed: Placed,
    /// It lies there switched off, and must be switched on before it works.
    pub off: bool,
    /// Whose it is.
    pub owner: Owner,
    /// Photo file, if there is one.
    pub photo: Option<String>,
    /// Everything else: the kind's, with the owner's changes.
    pub body: Body,
}

/// What kind and piece have in common.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// In the order of the file.
    pub sockets: Vec<Socket>,
    /// In the order of the file.
    pub routes: Vec<Route>,
    /// What it makes, at which out-socket.
    pub makes: Vec<Makes>,
    /// In-sockets, by name, that drive its loudspeaker.
    pub sounds: Vec<String>,
    /// They do so only while this holds: a headphone plug may cut the loudspeaker.
    pub sounds_while: Option<Guard>,
    /// Where it may stand or be worn. Empty: one placement that nobody hears.
    pub placements: Vec<Placement>,
    /// Power drawn, watts.
    pub watts: Figure<f64>,
    /// Watts it may feed (strips, supplies, outlets); `None`: no limit known.
    pub rating: Option<Figure<f64>>,
    /// Seconds from switch-on to sound.
    pub boot: Figure<f64>,
    /// Comes on by itself when fed: strips, plug-in supplies, most pedals.
    pub starts_itself: bool,
    /// An outlet: live without being fed.
    pub live: bool,
    /// Its battery.
    pub battery: Option<Battery>,
    /// A speaker: turned down before its plugs are touched.
    pub loud: bool,
    /// One switch with several effects.
    pub banks: Vec<Bank>,
    /// How it fails.
    pub modes: Vec<Mode>,
    /// What can be set wrong, and how to see it.
    pub looks: Vec<Look>,
    /// What gives a lost function back at the place.
    pub mends: Vec<Mend>,
    /// What can hurt somebody.
    pub cautions: Vec<Caution>,
    /// What wears out.
    pub wear: Vec<Wear>,
    /// Points of sound difference when it makes or sounds a part (definition, section 8).
    pub points: u32,
    /// Kilograms.
    pub weight: Option<Figure<f64>>,
    /// Width, depth, height in centimetres.
    pub size: Option<[Figure<f64>; 3]>,
}

impl Default for Body {
    fn default() -> Self {
        Body {
            sockets: Vec::new(),
            routes: Vec::new(),
            makes: Vec::new(),
            sounds: Vec::new(),
            sounds_while: None,
            placements: Vec::new(),
            watts: Figure::typical(0.0),
            rating: None,
            boot: Figure::typical(0.0),
            starts_itself: false,
            live: false,
            battery: None,
            loud: false,
            banks: Vec::new(),
            modes: Vec::new(),
            looks: Vec::new(),
            mends: Vec::new(),
            cautions: Vec::new(),
            wear: Vec::new(),
            points: 0,
            weight: None,
            size: None,
        }
    }
}

/// A source made at an out-socket.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Makes {
    /// The source's name: `voice`, `keys`, `keys right`.
    pub source: String,
    /// Out-socket by name.
    pub socket: String,
    /// At a stereo socket, which side carries it; `None`: both.
    pub side: Option<Stereo>,
    /// Made there only while this holds: a left-or-mono socket makes the whole while its neighbour is empty.
    pub guard: Option<Guard>,
}

/// Left or right of a stereo socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stereo {
    /// Left: tip of a jack.
    Left,
    /// Right: ring of a jack.
    Right,
}

/// What a piece stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stand {
    /// On the floor: leads lie flat.
    Floor,
    /// On a table or keyboard stand.
    Table,
    /// Worn or held.
    Worn,
    /// A microphone stand.
    MicStand,
    /// A loudspeaker stand.
    SpeakerStand,
}

impl Stand {
    /// How far a lead hangs to the floor, metres. Source: the definition, section 2 rule 3 (common practice).
    pub fn rise(self) -> f64 {
        match self {
            Stand::Floor => 0.0,
            Stand::Table | Stand::Worn => 1.0,
            Stand::MicStand => 1.5,
            Stand::SpeakerStand => 1.3,
        }
    }
}

/// Where a piece is now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Placed {
    /// At one of its placements, by name; the empty name means its only, unnamed one.
    At(String),
    /// Packed away in the spare bag.
    InCase,
}

/// Whose a piece is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Owner {
    /// The performer's.
    Mine,
    /// Lent to the performer by somebody.
    Borrowed(String),
    /// The room's; whom to ask before it is changed.
    House {
        /// Whom to ask.
        ask: String,
        /// May it be changed? `None`: not asked yet.
        may_change: Option<bool>,
    },
}

impl Gear {
    /// A piece with nothing known but its name.
    pub fn bare(name: &str) -> Self {
        Gear {
            name: name.to_owned(),
            kind: None,
            at: None,
            stands: Figure::guessed(Stand::Table, "usual"),
            placed: Placed::At(String::new()),
            off: false,
            owner: Owner::Mine,
            photo: None,
            body: Body::default(),
        }
    }

    /// How far a lead hangs from socket `socket` to the floor, metres: the socket's own figure, else by what
    /// the piece stands on.
    pub fn rise(&self, socket: &Socket) -> f64 {
        socket.rise.as_ref().map_or_else(|| self.stands.value.rise(), |r| r.value)
    }

    /// The current placement, when the kind or the owner describes it.
    pub fn placement(&self) -> Option<&Placement> {
        match &self.placed {
            Placed::At(name) => self.body.placements.iter().find(|p| &p.name == name),
            Placed::InCase => None,
        }
    }

    /// Does it need power: has it a supply input, or a battery?
    pub fn needs_power(&self) -> bool {
        let fed = self.body.sockets.iter().any(|s| s.input().is_some() && s.is_supply());
        !self.body.live && (fed || self.body.battery.is_some())
    }
}

impl Body {
    /// Socket by its printed name, upper and lower case alike.
    pub fn socket(&self, name: &str) -> Option<usize> {
        self.sockets.iter().position(|s| crate::same_name(&s.name, name))
    }

    /// Route by name, upper and lower case alike.
    pub fn route(&self, name: &str) -> Option<usize> {
        self.routes.iter().position(|r| crate::same_name(&r.name, name))
    }
}
