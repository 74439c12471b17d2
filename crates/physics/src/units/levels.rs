//! Levels, which are measured from a reference, and the differences between them, which are not.
//!
//! Two levels subtract to a [`Db`], and a level plus a `Db` is a level. Two levels have no sum: 4 dBu and 4 dBu are
//! 7 dBu or 10 dBu or silence, according to what they carry (see [`crate::levels`]), so the operator is left out.
//!
//! ```compile_fail
//! use physics::Dbu;
//! # fn main() -> Result<(), physics::OutOfRange> {
//! let sum = Dbu::new(4.0)? + Dbu::new(4.0)?; // no such operator
//! # Ok(())
//! # }
//! ```

use super::quantity;
use std::ops::{Add, Neg, Sub};

quantity! {
    /// A ratio in decibels: a gain above zero, a loss below.
    Db, "change of level", "dB", -1000.0, 1000.0
}

quantity! {
    /// A level against the square root of 0.6 V, root mean square.
    Dbu, "level", "dBu", -200.0, 100.0
}

quantity! {
    /// A level against 1 V, root mean square: how consumer gear is quoted.
    Dbv, "level", "dBV", -200.0, 100.0
}

/// A level against some reference: [`Dbu`], [`Dbv`] or [`DbSpl`](crate::DbSpl). Others cannot be added from outside.
pub trait Level: sealed::Decibels {}

pub(crate) mod sealed {
    /// What summing needs of a level; kept here so that no one else can make an unchecked one.
    pub trait Decibels: Copy + Ord {
        /// Decibels above the reference.
        fn decibels(self) -> f64;
        /// A level so many decibels above the reference.
        fn at(decibels: f64) -> Self;
    }
}

/// Level ± difference is a level; level − level is a difference.
macro_rules! level {
    ($($name:ident),+) => { $(
        impl crate::units::Level for $name {}

        impl crate::units::sealed::Decibels for $name {
            fn decibels(self) -> f64 {
                self.get()
            }
            fn at(decibels: f64) -> Self {
                $name::computed(decibels)
            }
        }

        impl std::ops::Add<crate::Db> for $name {
            type Output = $name;
            fn add(self, change: crate::Db) -> $name {
                $name::computed(self.get() + change.get())
            }
        }

        impl std::ops::Sub<crate::Db> for $name {
            type Output = $name;
            fn sub(self, change: crate::Db) -> $name {
                $name::computed(self.get() - change.get())
            }
        }

        impl std::ops::Sub for $name {
            type Output = crate::Db;
            fn sub(self, other: $name) -> crate::Db {
                crate::Db::computed(self.get() - other.get())
            }
        }
    )+ };
}
pub(crate) use level;

level!(Dbu, Dbv);

impl Add for Db {
    type Output = Db;
    fn add(self, other: Db) -> Db {
        Db::computed(self.get() + other.get())
    }
}

impl Sub for Db {
    type Output = Db;
    fn sub(self, other: Db) -> Db {
        Db::computed(self.get() - other.get())
    }
}

impl Neg for Db {
    type Output = Db;
    fn neg(self) -> Db {
        Db::computed(-self.get())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// The difference of two levels brings one to the other.
        #[test]
        fn a_difference_undoes_itself(a in -200.0..100.0, b in -200.0..100.0) {
            let (a, b) = (Dbu::new(a).unwrap(), Dbu::new(b).unwrap());
            prop_assert!(((b + (a - b)).get() - a.get()).abs() < 1e-9);
            prop_assert!(((a - (a - b)).get() - b.get()).abs() < 1e-9);
            prop_assert_eq!(a - b, -(b - a));
        }

        #[test]
        fn changes_of_level_add_in_any_order(a in -100.0..100.0, b in -100.0..100.0) {
            let (a, b) = (Db::new(a).unwrap(), Db::new(b).unwrap());
            prop_assert_eq!(a + b, b + a);
            prop_assert_eq!(a - b, a + -b);
        }
    }
}
