//! An answer that is honest only as a range: from a least to a greatest figure.

use std::fmt;

/// From `least` to `most`, both included. Invariant: `least` ≤ `most`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Between<T> {
    least: T,
    most: T,
}

impl<T: Ord + Copy> Between<T> {
    /// The range between two figures, given either way round.
    pub fn new(one: T, other: T) -> Self {
        Self { least: one.min(other), most: one.max(other) }
    }

    /// A range that is one figure.
    pub fn exactly(figure: T) -> Self {
        Self { least: figure, most: figure }
    }

    /// The least figure.
    pub fn least(self) -> T {
        self.least
    }

    /// The greatest figure.
    pub fn most(self) -> T {
        self.most
    }

    /// Does the range hold this figure? Both ends belong to it.
    pub fn holds(self, figure: T) -> bool {
        self.least <= figure && figure <= self.most
    }

    /// What two ranges have in common, if anything.
    pub fn common(self, other: Self) -> Option<Self> {
        let (least, most) = (self.least.max(other.least), self.most.min(other.most));
        (least <= most).then_some(Self { least, most })
    }
}

impl<T> Between<T> {
    /// For tables in this crate, whose rows are in order (a test looks at each).
    pub(crate) const fn table_row(least: T, most: T) -> Self {
        Self { least, most }
    }
}

impl<T: fmt::Display + PartialEq> fmt::Display for Between<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.least == self.most {
            return self.least.fmt(f);
        }
        self.least.fmt(f)?;
        f.write_str(" to ")?;
        self.most.fmt(f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Volts;
    use proptest::prelude::*;

    #[test]
    fn prints_both_ends_with_their_unit_and_one_figure_once() {
        let nine = Volts::new(9.0).unwrap();
        assert_eq!(Between::new(nine, Volts::new(12.0).unwrap()).to_string(), "9 V to 12 V");
        assert_eq!(Between::exactly(nine).to_string(), "9 V");
        assert_eq!(format!("{:.1}", Between::exactly(nine)), "9.0 V");
    }

    proptest! {
        #[test]
        fn the_ends_come_in_order_whichever_way_given(a in any::<i32>(), b in any::<i32>()) {
            let range = Between::new(a, b);
            prop_assert!(range.least() <= range.most() && range.holds(a) && range.holds(b));
            prop_assert_eq!(range, Between::new(b, a));
        }

        #[test]
        fn the_common_part_is_what_both_hold(a in -9..9, b in -9..9, c in -9..9, d in -9..9, x in -9..9) {
            let (one, other) = (Between::new(a, b), Between::new(c, d));
            let both = one.holds(x) && other.holds(x);
            prop_assert_eq!(one.common(other).is_some_and(|range| range.holds(x)), both);
        }
    }
}
