//! Distances, and the whole decimetres that positions are rounded to once.

use super::quantity;
use crate::{OutOfRange, range::within, whole};
use std::fmt;

quantity! {
    /// A length or a distance.
    Metres, "length", "m", 0.0, 1e5
}

quantity! {
    /// A mass to lift or to carry.
    Kilograms, "mass", "kg", 0.0, 1e5
}

/// A whole number of decimetres: one coordinate of a spot, or a length. May be negative.
///
/// Distances are compared in exact integers, so the range keeps 36 times the square of a difference inside 64 bits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Decimetres(i32);

impl Decimetres {
    /// The greatest distance from the origin, either way: 100 km.
    pub const MOST: i32 = 1_000_000;

    /// So many decimetres.
    ///
    /// # Errors
    /// [`OutOfRange`] beyond 1 000 000 either way.
    pub fn new(decimetres: i32) -> Result<Self, OutOfRange> {
        let most = f64::from(Self::MOST);
        within("position", "dm", -most, most, f64::from(decimetres))?;
        Ok(Self(decimetres))
    }

    /// A position in metres, to the nearest whole decimetre, halves upwards.
    ///
    /// # Errors
    /// [`OutOfRange`] when not a number, or beyond 100 km either way.
    pub fn nearest(metres: f64) -> Result<Self, OutOfRange> {
        let most = f64::from(Self::MOST) / 10.0;
        within("position", "m", -most, most, metres)?;
        whole::round_half_up(metres * 10.0).and_then(Self::new)
    }

    /// The plain number of decimetres.
    pub const fn get(self) -> i32 {
        self.0
    }
}

impl fmt::Display for Decimetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} dm", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn halves_go_up_whatever_binary_makes_of_them() {
        for (metres, decimetres) in [(1.45, 15), (0.05, 1), (-0.05, 0), (-1.25, -12), (4.35, 44), (2.0, 20)] {
            assert_eq!(Decimetres::nearest(metres).unwrap().get(), decimetres, "{metres} m");
        }
    }

    #[test]
    fn a_position_beyond_reason_is_refused() {
        assert_eq!(
            Decimetres::nearest(f64::INFINITY).unwrap_err().to_string(),
            "position must be -100000 to 100000 m, found inf"
        );
        assert!(Decimetres::new(i32::MIN).is_err());
    }

    proptest! {
        #[test]
        fn whole_decimetres_stay_what_they_are(dm in -Decimetres::MOST..=Decimetres::MOST) {
            prop_assert_eq!(Decimetres::nearest(f64::from(dm) / 10.0), Decimetres::new(dm));
        }

        #[test]
        fn rounding_moves_a_spot_by_half_a_decimetre_at_most(metres in -1e4..1e4) {
            let dm = f64::from(Decimetres::nearest(metres).unwrap().get());
            prop_assert!((dm - metres * 10.0).abs() <= 0.5 + 1e-6);
        }
    }
}
