//! A room: outlets, breakers, size, and whom to ask.

use crate::{Figure, GearId};

/// Where a show takes place. Outlets are gear of the kind `outlet`; the room says which breaker each hangs on.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// Cubic metres.
    pub volume: Option<Figure<f64>>,
    /// Reverberation time, seconds.
    pub reverberation: Option<Figure<f64>>,
    /// From the speakers to the last row, metres.
    pub back_row: Option<Figure<f64>>,
    /// Level of the room with people in it, dB.
    pub noise: Option<Figure<f64>>,
    /// Breakers.
    pub breakers: Vec<Breaker>,
    /// Whom to ask about house gear and breakers.
    pub ask: Option<String>,
}

/// A breaker and the outlets on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Breaker {
    /// Its name: `bar`.
    pub name: String,
    /// Amperes.
    pub amps: Figure<f64>,
    /// Behind a residual-current device?
    pub residual: Option<Figure<bool>>,
    /// The outlets.
    pub outlets: Vec<GearId>,
}
