//! Figures that know their unit.
//!
//! `new` is the gate: a figure from a rig or a label is finite and within what such a thing can be, or it is refused
//! with an [`OutOfRange`](crate::OutOfRange). What a formula here works out from such figures is finite too, but may lie outside the gate.
//! Because nothing is ever "not a number", quantities are totally ordered and `max` and `sort` work on them.

mod acoustic;
mod electric;
mod levels;
mod place;
mod time;

pub use acoustic::{CubicMetres, DbSpl, Pascals, Percent, SquareMetres};
pub use electric::{
    Amps, Farads, Henries, LeadOhms, Ohms, OhmsPerKilometre, PowerFactor, SquareMillimetres, TurnsRatio,
    VoltAmps, Volts, Watts,
};
pub(crate) use levels::sealed;
pub use levels::{Db, Dbu, Dbv, Level};
pub use place::{Decimetres, Kilograms, Metres};
pub use time::{AmpHours, Hertz, Hours, Kelvin, Seconds};

/// One quantity: what it is called, its unit, and the least and greatest figure that make sense.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $unit:literal, $least:expr, $most:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub struct $name(f64);

        impl $name {
            /// The least figure that [`new`](Self::new) accepts.
            pub const LEAST: f64 = $least;
            /// The greatest figure that [`new`](Self::new) accepts.
            pub const MOST: f64 = $most;
            /// The unit, as printed.
            pub const UNIT: &'static str = $unit;

            /// A figure in this unit.
            ///
            /// # Errors
            /// [`OutOfRange`](crate::OutOfRange) when the figure is not a number, infinite, or outside
            /// [`LEAST`](Self::LEAST) to [`MOST`](Self::MOST).
            pub fn new(value: f64) -> Result<Self, crate::OutOfRange> {
                crate::range::within($what, $unit, $least, $most, value).map(Self::computed)
            }

            /// The plain figure, in the unit of the type.
            pub const fn get(self) -> f64 {
                self.0
            }

            /// A result of a formula, or a row of a table in this crate: finite because what went in was.
            #[allow(dead_code, reason = "some units only ever come from outside")]
            pub(crate) const fn computed(value: f64) -> Self {
                debug_assert!(value.is_finite());
                // Adding zero turns minus zero into zero, so that equal figures also compare equal in order.
                Self(value + 0.0)
            }
        }

        impl Eq for $name {}

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
                Some(self.cmp(other))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)?;
                if Self::UNIT.is_empty() { Ok(()) } else { write!(f, " {}", Self::UNIT) }
            }
        }
    };
}
pub(crate) use quantity;

/// Quantities whose sum means something: currents into one supply, loads on one outlet.
macro_rules! adds_up {
    ($($name:ident),+) => { $(
        impl std::ops::Add for $name {
            type Output = $name;
            fn add(self, other: $name) -> $name {
                $name::computed(self.get() + other.get())
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = $name>>(all: I) -> $name {
                all.fold($name::computed(0.0), |sum, one| sum + one)
            }
        }
    )+ };
}
pub(crate) use adds_up;
