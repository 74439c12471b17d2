//! A way through gear, from one in-socket to one or more out-sockets.

use crate::{Figure, Guard, Stereo};

/// A way through a piece of gear.
#[derive(Clone, Debug, PartialEq)]
pub struct Route {
    /// Unique within the piece; for a switchable route what is printed on its knob: `FADER 1`.
    pub name: String,
    /// What is printed on its knob, where one knob turns several routes: `LEVEL 3/4` of a pair of jacks. `None`: its name.
    pub knob: Option<String>,
    /// In-socket by name.
    pub from: String,
    /// Out-sockets by name.
    pub to: Vec<String>,
    /// What it does to the level.
    pub gain: Gain,
    /// Fixed, or a knob that may be off.
    pub switch: Switch,
    /// From a stereo in-socket it takes this side only; `None`: all.
    pub takes: Option<Stereo>,
    /// It passes only while this holds.
    pub guard: Option<Guard>,
    /// Passes with and without power. "Don't know" is common for a *through* socket.
    pub passive: Figure<bool>,
    /// The question that settles a doubtful route, in the owner's words.
    pub question: Option<String>,
    /// Points of sound difference when a part goes this way (definition, section 8).
    pub points: u32,
}

/// What a route does to the level.
#[derive(Clone, Debug, PartialEq)]
pub enum Gain {
    /// Brings whatever its input accepts to its own output range.
    Levelled,
    /// Between these two, dB.
    Db(Figure<f64>, Figure<f64>),
    /// A copy: class and level pass unchanged (a passive through, a splitter).
    Copy,
    /// A transformer with this turns ratio, primary to secondary: level, class and impedance follow from it.
    Turns(Figure<f64>),
}

/// Can a route be switched, and how does it normally stand?
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Switch {
    /// No knob: always on.
    Fixed,
    /// A knob, normally on.
    On,
    /// A knob, normally off.
    Off,
}

impl Route {
    /// What is printed on its knob. Routes of a piece that have the same knob are turned together.
    pub fn knob_name(&self) -> &str {
        self.knob.as_deref().unwrap_or(&self.name)
    }

    /// Is it turned by the knob with this name?
    pub fn is_turned_by(&self, knob: &str) -> bool {
        self.switch != Switch::Fixed && crate::same_name(self.knob_name(), knob)
    }
}

impl Switch {
    /// Is the route on in the normal patch?
    pub fn is_on(self) -> bool {
        match self {
            Switch::Fixed | Switch::On => true,
            Switch::Off => false,
        }
    }
}
