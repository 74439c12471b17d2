//! Where something plugs in: direction, connectors, electrical side, height.

use std::fmt;

use crate::Figure;

/// One socket of a piece of gear, or the plug of its own fixed cable.
#[derive(Clone, Debug, PartialEq)]
pub struct Socket {
    /// What is printed beside it, unique within the piece: `1`, `LEFT/MONO`, `power`.
    pub name: String,
    /// What it mates with; a combined socket lists two, and takes one plug at a time.
    pub connectors: Vec<Connector>,
    /// Conductors behind the connector. Power sockets leave it at [`Wires::Bal`].
    pub wires: Wires,
    /// Length in metres of the piece's own fixed cable that ends in this plug; `None` for a socket.
    pub tail: Option<Figure<f64>>,
    /// How far a lead hangs from here to the floor, metres. `None`: by where the gear stands.
    pub rise: Option<Figure<f64>>,
    /// The electrical side.
    pub side: Side,
}

/// The electrical side of a socket, by its direction.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "a rig has a few hundred sockets; a box would only burden readers"
)]
pub enum Side {
    /// It gives sound or power.
    Out(Output),
    /// It takes sound or power.
    In(Input),
}

/// Which way sound or power flows through a socket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// Into the piece.
    In,
    /// Out of the piece.
    Out,
}

/// What an out-socket gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Output {
    /// One class of signal or supply.
    pub class: Class,
    /// Levels; `None` for supplies.
    pub level: Option<Level>,
    /// Source impedance in ohms; `None` for supplies.
    pub impedance: Option<Figure<f64>>,
    /// Piezo pickups are capacitive: farads in nanofarads, which sets the low corner with the load.
    pub capacitance_nf: Option<Figure<f64>>,
    /// What a microphone's supply voltage does to it.
    pub phantom: PhantomAtOutput,
    /// A valve amplifier's speaker socket: never on without its speaker.
    pub must_stay_loaded: bool,
    /// Supplies: what this one socket can give, milliamps. `None`: only the piece's rating counts.
    pub milliamps: Option<Figure<f64>>,
}

/// Level of an output, dBu rms.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// Usual level while playing.
    pub nominal: Figure<f64>,
    /// Loudest peaks.
    pub peak: Figure<f64>,
    /// The least that the nominal level can be turned down to by a knob of the piece; `None`: no knob.
    pub down_to: Option<Figure<f64>>,
}

/// What phantom volts on its pins do to an output.
#[derive(Clone, Debug, PartialEq)]
pub enum PhantomAtOutput {
    /// Nothing.
    Fine,
    /// It does not work without them.
    Needs {
        /// Least volts on the pins.
        volts: Figure<f64>,
        /// Current drawn, milliamps.
        milliamps: Figure<f64>,
    },
    /// They may damage it.
    Harmed,
}

/// What an in-socket takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// The windows, one a class (and connector, where the two of a combined socket differ).
    pub accepts: Vec<Accepts>,
    /// Phantom volts it can put on its pins.
    pub phantom: PhantomAtInput,
    /// A level must be set here by ear after plugging.
    pub set_level: bool,
    /// Milliamps drawn; for supply inputs where it is known.
    pub milliamps: Option<Figure<f64>>,
    /// It takes power only while this holds.
    pub guard: Option<Guard>,
}

/// One class that an in-socket takes, and between which levels.
#[derive(Clone, Debug, PartialEq)]
pub struct Accepts {
    /// The class.
    pub class: Class,
    /// On one connector of a combined socket only; `None`: on all.
    pub only_on: Option<Form>,
    /// Least useful nominal level, dBu; 0 for supplies.
    pub least: Figure<f64>,
    /// Most peak level before it distorts, dBu; 0 for supplies.
    pub most: Figure<f64>,
    /// Load impedance, ohms; `None` for supplies.
    pub load: Option<Figure<f64>>,
}

/// Phantom volts at an input.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PhantomAtInput {
    /// Gives none.
    No,
    /// Can be switched, by this bank (one switch may serve several sockets).
    Switched(String),
    /// Always on.
    Always,
}

/// A class of signal or supply. Supplies are told apart by everything that makes a wrong one harmful.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Class {
    /// Microphone level, low impedance.
    Mic,
    /// Instrument level: pickups and what imitates them; wants a high load.
    Inst,
    /// Line level.
    Line,
    /// A headphone output: drives ear-pieces, and serves as a line output.
    Phones,
    /// Amplifier to loudspeaker. Never into anything else.
    Speaker,
    /// Mains.
    Mains,
    /// A direct-current supply.
    Dc {
        /// Volts times ten, so that 4.5 V stays whole.
        decivolts: u32,
        /// What the inner contact carries.
        centre: Polarity,
    },
    /// USB power, 5 V.
    Usb,
    /// A supply made for one type of gear only (its own plug, alternating or two rails).
    Own(String),
    /// Data (control, USB audio): neither heard nor fed.
    Data(String),
}

impl Class {
    /// Is it power rather than sound or data?
    pub fn is_supply(&self) -> bool {
        match self {
            Class::Mains | Class::Dc { .. } | Class::Usb | Class::Own(_) => true,
            Class::Mic | Class::Inst | Class::Line | Class::Phones | Class::Speaker | Class::Data(_) => false,
        }
    }

    /// Is it sound?
    pub fn is_sound(&self) -> bool {
        match self {
            Class::Mic | Class::Inst | Class::Line | Class::Phones | Class::Speaker => true,
            Class::Mains | Class::Dc { .. } | Class::Usb | Class::Own(_) | Class::Data(_) => false,
        }
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Class::Mic => f.write_str("mic"),
            Class::Inst => f.write_str("inst"),
            Class::Line => f.write_str("line"),
            Class::Phones => f.write_str("phones"),
            Class::Speaker => f.write_str("speaker"),
            Class::Mains => f.write_str("mains"),
            Class::Dc { decivolts, centre } => {
                let (whole, tenth) = (decivolts / 10, decivolts % 10);
                let sign = match centre {
                    Polarity::Negative => "c-",
                    Polarity::Positive => "c+",
                };
                if tenth == 0 { write!(f, "{whole} V {sign}") } else { write!(f, "{whole}.{tenth} V {sign}") }
            }
            Class::Usb => f.write_str("5 V usb"),
            Class::Own(name) => write!(f, "own supply {name}"),
            Class::Data(name) => write!(f, "data {name}"),
        }
    }
}

/// What the inner contact of a round DC plug carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Polarity {
    /// Centre negative.
    Negative,
    /// Centre positive.
    Positive,
}

/// A connector: its form and which half of the pair it is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Connector {
    /// The form; only equal forms mate.
    pub form: Form,
    /// The half; only opposite halves mate.
    pub half: Half,
}

impl Connector {
    /// Same form, other half.
    pub fn mates_with(&self, other: &Connector) -> bool {
        self.form == other.form && self.half != other.half
    }
}

/// Plug (pins) or socket (holes).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Half {
    /// Pins: a jack plug, a male XLR, an appliance inlet, a wall plug.
    Plug,
    /// Holes: a jack socket, a female XLR, the appliance end of a mains lead, a wall outlet.
    Sock,
}

/// The shape of a connector.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Form {
    /// Three-pin XLR.
    Xlr,
    /// 6.35 mm jack.
    Jack,
    /// 3.5 mm mini jack.
    Mini,
    /// Phono (cinch) plug.
    Phono,
    /// Loudspeaker twist connector.
    Twist,
    /// Wall plug and outlet of the country the rig is in.
    Wall,
    /// Appliance coupler with earth: lead end C13, inlet C14 (IEC 60320, from memory).
    Iec13,
    /// Appliance coupler without earth: lead end C7, inlet C8 (IEC 60320, from memory).
    Iec7,
    /// Round DC plug 5.5 mm outside, 2.1 mm pin.
    Barrel21,
    /// Round DC plug 5.5 mm outside, 2.5 mm pin.
    Barrel25,
    /// USB, type A.
    UsbA,
    /// USB, type B.
    UsbB,
    /// USB, type C.
    UsbC,
    /// Five-pin DIN.
    Din5,
    /// Network plug.
    Rj45,
    /// A plug of its own, by name.
    Own(String),
}

/// Conductors: what a socket offers or a plug carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wires {
    /// One signal, unbalanced.
    Ts,
    /// One signal, balanced.
    Bal,
    /// Two signals, left and right.
    Stereo,
}

/// A condition on another socket of the same piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guard {
    /// Name of the socket.
    pub socket: String,
    /// What must be so.
    pub when: Fill,
}

/// Is a plug in it?
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fill {
    /// No plug.
    Empty,
    /// A plug, even one left hanging.
    Filled,
}

impl Socket {
    /// Which way sound or power flows.
    pub fn direction(&self) -> Direction {
        match self.side {
            Side::In(_) => Direction::In,
            Side::Out(_) => Direction::Out,
        }
    }

    /// The input side, when it is one.
    pub fn input(&self) -> Option<&Input> {
        match &self.side {
            Side::In(input) => Some(input),
            Side::Out(_) => None,
        }
    }

    /// The output side, when it is one.
    pub fn output(&self) -> Option<&Output> {
        match &self.side {
            Side::Out(output) => Some(output),
            Side::In(_) => None,
        }
    }

    /// Every class it gives or takes.
    pub fn classes(&self) -> Vec<&Class> {
        match &self.side {
            Side::Out(output) => vec![&output.class],
            Side::In(input) => input.accepts.iter().map(|a| &a.class).collect(),
        }
    }

    /// Does power flow here?
    pub fn is_supply(&self) -> bool {
        self.classes().iter().any(|c| c.is_supply())
    }

    /// Does it take class `class`?
    pub fn takes(&self, class: &Class) -> bool {
        self.input().is_some_and(|i| i.accepts.iter().any(|a| &a.class == class))
    }
}
