//! Batteries, and switches that do several things at once.

use crate::{Figure, Guard};

/// A battery that keeps a piece running.
#[derive(Clone, Debug, PartialEq)]
pub struct Battery {
    /// Hours it lasts; a piece counts as having enough left when this exceeds the show.
    pub hours: Figure<f64>,
    /// It works only while this holds: a DC plug in the socket cuts it off.
    pub guard: Option<Guard>,
    /// Is there a charged one in it now?
    pub present: Figure<bool>,
}

/// One switch with several effects.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bank {
    /// What is printed on the switch: `48V`.
    pub name: String,
    /// What it does.
    pub effect: BankEffect,
    /// Is it on in the normal patch?
    pub on: bool,
    /// Off once its piece has lost its power: phantom of some digital mixers.
    pub forgets: bool,
}

/// What a bank switch does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BankEffect {
    /// Phantom volts on every socket that names this bank.
    Phantom,
    /// Mutes these routes while on.
    Mute(Vec<String>),
}
