//! A figure outside what a formula or a unit accepts: which figure, in what unit, between what limits, and what was found.

/// A figure that cannot be right. Not a number and the infinities are refused as well: they print as what they are.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{what} must be {least} to {most} {unit}, found {found}")]
pub struct OutOfRange {
    /// The quantity in words, such as "impedance".
    pub what: &'static str,
    /// The unit of the three figures that follow, such as "ohm".
    pub unit: &'static str,
    /// The least figure accepted.
    pub least: f64,
    /// The greatest figure accepted.
    pub most: f64,
    /// The figure that was given.
    pub found: f64,
}

/// `found` when it lies between `least` and `most`, both included.
pub(crate) fn within(
    what: &'static str,
    unit: &'static str,
    least: f64,
    most: f64,
    found: f64,
) -> Result<f64, OutOfRange> {
    // Written so that not-a-number, which compares with nothing, falls to the error.
    if found >= least && found <= most {
        Ok(found)
    } else {
        Err(OutOfRange { what, unit, least, most, found })
    }
}

/// Is `load` at most `limit`, forgiving the noise of binary fractions?
///
/// Three loads of 0.1 A sum to 0.30000000000000004 A; a supply of 0.3 A feeds them. One part in a thousand million is
/// far below any label's last digit.
pub(crate) fn at_most(load: f64, limit: f64) -> bool {
    load <= limit + 1e-9 * limit.abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_message_names_quantity_limits_unit_and_figure() {
        let problem = within("impedance", "ohm", 0.001, 1e12, 0.0).unwrap_err();
        assert_eq!(problem.to_string(), "impedance must be 0.001 to 1000000000000 ohm, found 0");
    }

    #[test]
    fn not_a_number_and_infinity_are_refused() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(within("level", "dBu", -200.0, 100.0, bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn three_loads_of_a_tenth_fit_three_tenths_and_a_real_excess_does_not() {
        assert!(at_most(0.1 + 0.1 + 0.1, 0.3));
        assert!(!at_most(0.301, 0.3));
        assert!(at_most(3_000.000_000_1, 3000.0), "noise grows with the figure");
        assert!(!at_most(2e-6, 1e-6), "and shrinks with it");
    }

    proptest! {
        #[test]
        fn exactly_the_figures_between_the_limits_pass(least in -1e6..1e6, width in 0.0..1e6, found in -3e6..3e6) {
            let most = least + width;
            prop_assert_eq!(within("x", "y", least, most, found).is_ok(), least <= found && found <= most);
        }
    }
}
