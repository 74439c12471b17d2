//! Rounding once, when a rig becomes whole numbers, always in the direction that is safe.
//!
//! Level windows and ratings shrink, loads and times grow, positions go to the nearest with halves upwards. A written
//! 0.07 W is 70.00000000000001 mW in binary, so a figure within a thousand-millionth of a whole number *is* that number:
//! without this, outward rounding would add one to what the owner wrote.

use crate::{OutOfRange, range::within};

/// How near to a whole number (or a half) counts as being it; grows with the figure, as binary noise does.
fn slack(value: f64) -> f64 {
    (1e-12 * value.abs()).max(1e-9)
}

/// The least whole number not below `value`: for loads and times, which round outward.
///
/// Range: that of a 32-bit integer. Source: the definition of the cover, "round once".
///
/// # Errors
/// [`OutOfRange`] when not a number, or too large for 32 bits.
pub fn ceil_i32(value: f64) -> Result<i32, OutOfRange> {
    to_i32((value - slack(value)).ceil(), value)
}

/// The greatest whole number not above `value`: for ratings and lengths owned, which round inward.
///
/// Range and source as [`ceil_i32`].
///
/// # Errors
/// [`OutOfRange`] when not a number, or too large for 32 bits.
pub fn floor_i32(value: f64) -> Result<i32, OutOfRange> {
    to_i32((value + slack(value)).floor(), value)
}

/// The nearest whole number, halves upwards (−0.5 becomes 0): for positions.
///
/// Range and source as [`ceil_i32`].
///
/// # Errors
/// [`OutOfRange`] when not a number, or too large for 32 bits.
pub fn round_half_up(value: f64) -> Result<i32, OutOfRange> {
    to_i32((value + 0.5 + slack(value)).floor(), value)
}

/// A window pulled in to whole numbers, or `None` when none is left inside it.
///
/// # Errors
/// As [`ceil_i32`].
pub fn inward(least: f64, most: f64) -> Result<Option<(i32, i32)>, OutOfRange> {
    let (least, most) = (ceil_i32(least)?, floor_i32(most)?);
    Ok((least <= most).then_some((least, most)))
}

/// A range pushed out to whole numbers.
///
/// # Errors
/// As [`ceil_i32`].
pub fn outward(least: f64, most: f64) -> Result<(i32, i32), OutOfRange> {
    Ok((floor_i32(least)?, ceil_i32(most)?))
}

#[expect(clippy::cast_possible_truncation, reason = "checked to lie within 32 bits, and whole already")]
fn to_i32(rounded: f64, found: f64) -> Result<i32, OutOfRange> {
    let (least, most) = (f64::from(i32::MIN), f64::from(i32::MAX));
    match within("figure", "when rounded", least, most, rounded) {
        Ok(rounded) => Ok(rounded as i32),
        Err(problem) => Err(OutOfRange { found, ..problem }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_the_owner_wrote_does_not_grow() {
        assert_eq!(ceil_i32(0.07 * 1000.0), Ok(70));
        assert_eq!(ceil_i32(0.1 + 0.2 - 0.3), Ok(0)); // 0.00000000000000006 in binary
        assert_eq!(ceil_i32(1_000_000_000.000_000_2), Ok(1_000_000_000)); // one binary digit too many
        assert_eq!(floor_i32(0.29 * 100.0), Ok(29)); // 28.999999999999996 in binary
        assert_eq!(round_half_up(1.005 * 100.0), Ok(101)); // 100.49999999999999 in binary
    }

    #[test]
    fn a_real_excess_counts() {
        assert_eq!(ceil_i32(70.001), Ok(71));
        assert_eq!(floor_i32(69.999), Ok(69));
        assert_eq!(round_half_up(-0.5), Ok(0));
        assert_eq!(round_half_up(-0.51), Ok(-1));
    }

    #[test]
    fn a_window_shrinks_and_may_vanish() {
        assert_eq!(inward(-60.3, -10.2), Ok(Some((-60, -11))));
        assert_eq!(inward(0.2, 0.8), Ok(None));
        assert_eq!(inward(3.0, 3.0), Ok(Some((3, 3))));
        assert_eq!(outward(1.2, 3.4), Ok((1, 4)));
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        for bad in [f64::NAN, f64::INFINITY, -1e12, 2_147_483_648.5] {
            assert!(
                ceil_i32(bad).is_err() && floor_i32(bad).is_err() && round_half_up(bad).is_err(),
                "{bad}"
            );
        }
    }

    proptest! {
        #[test]
        fn the_directions_enclose_the_figure(x in -1e6..1e6) {
            let (low, near, high) = (floor_i32(x).unwrap(), round_half_up(x).unwrap(), ceil_i32(x).unwrap());
            prop_assert!(low <= near && near <= high && high - low <= 1);
            prop_assert!(f64::from(low) <= x + 2e-3 && x <= f64::from(high) + 2e-3);
        }

        #[test]
        fn whole_numbers_are_left_alone(n in any::<i32>()) {
            let x = f64::from(n);
            prop_assert_eq!((floor_i32(x), round_half_up(x), ceil_i32(x)), (Ok(n), Ok(n), Ok(n)));
        }

        #[test]
        fn a_window_never_grows(a in -1e3..1e3, width in 0.0..50.0) {
            if let Some((least, most)) = inward(a, a + width).unwrap() {
                prop_assert!(f64::from(least) >= a - 1e-5 && f64::from(most) <= a + width + 1e-5);
            }
        }
    }
}
