//! What gives a lost function back at the place: fresh cells, a push on a plug, a restart.

use crate::Figure;

/// One act that undoes a failure mode.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// In a performer's words: `swap the 9 V block`.
    pub name: String,
    /// The failure modes it undoes, by name; what they take away comes back.
    pub modes: Vec<String>,
    /// Seconds it takes, without walking there.
    pub seconds: Figure<f64>,
    /// What it uses up, and how many.
    pub uses: Option<(String, u32)>,
    /// Chance in percent that it helps, given that mode.
    pub helps: Figure<f64>,
    /// What may hurt.
    pub caution: Option<String>,
}

/// What can hurt somebody, and when to say it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// When it is said.
    pub when: Act,
    /// The words, short.
    pub words: String,
}

/// The act that a caution belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Act {
    /// Always, when the piece is touched.
    Touch,
    /// A plug is pulled or pushed.
    Plug,
    /// Mains is plugged or switched.
    Mains,
    /// Phantom volts are switched.
    Phantom,
    /// It is switched on or off.
    Switch,
    /// It is lifted, carried or turned.
    Lift,
    /// Its level comes up.
    Level,
    /// Batteries are handled.
    Battery,
    /// It is used outdoors.
    Outdoors,
}
