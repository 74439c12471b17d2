//! Hours, charge, frequency and temperature.

use super::{adds_up, quantity};
use crate::OutOfRange;

quantity! {
    /// How long something lasts.
    Hours, "time", "h", 0.0, 1e9
}

quantity! {
    /// A short time: a delay, a decay, how fast a switch opens.
    Seconds, "time", "s", 0.0, 1e6
}

quantity! {
    /// The charge a battery gives.
    AmpHours, "capacity", "Ah", 1e-6, 1e6
}

quantity! {
    /// A frequency, or the width of a band.
    Hertz, "frequency", "Hz", 1e-6, 1e12
}

quantity! {
    /// An absolute temperature.
    Kelvin, "temperature", "K", 1.0, 2000.0
}

impl Kelvin {
    /// A temperature in degrees Celsius: `T = t + 273.15`. Source: definition of the Celsius scale.
    ///
    /// # Errors
    /// [`OutOfRange`] below 1 K or above 2000 K.
    pub fn from_celsius(degrees: f64) -> Result<Self, OutOfRange> {
        Self::new(degrees + 273.15)
    }

    /// The same temperature in degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.get() - 273.15
    }
}

adds_up!(Hours, AmpHours);

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn celsius_and_back(degrees in -270.0..1700.0) {
            prop_assert!((Kelvin::from_celsius(degrees).unwrap().celsius() - degrees).abs() < 1e-9);
        }
    }
}
