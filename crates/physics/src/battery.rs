//! How long a battery lasts: a range, never a point.
//!
//! Capacity falls with current, cold and age, and the label is the best case. An honest answer names both ends.
//!
//! Caution: a battery that is swollen, hot or damaged is not for use or for charging.

use crate::{AmpHours, Amps, Between, Hours, OutOfRange, math, range::within};

const fn cell(least: f64, most: f64) -> Between<AmpHours> {
    Between::table_row(AmpHours::computed(least), AmpHours::computed(most))
}

/// A 9 V alkaline block (6LR61), Ah, at light load. Source: three battery pages (typical 0.55).
pub const ALKALINE_BLOCK: Between<AmpHours> = cell(0.5, 0.6);
/// An alkaline AA (LR6), Ah. Source: encyclopedia article "AA battery".
pub const ALKALINE_AA: Between<AmpHours> = cell(1.7, 3.0);
/// A rechargeable nickel-metal AA (HR6), Ah. Source: encyclopedia article "AA battery".
pub const RECHARGEABLE_AA: Between<AmpHours> = cell(1.3, 2.85);

/// How long something runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lasts {
    /// It draws nothing: the battery does not limit it.
    NotLimited,
    /// Between these.
    Hours(Between<Hours>),
}

/// Hours of a battery: capacity over current, h, for both ends of the capacity.
///
/// Take the capacity *at about that current*; at several times the rated drain even the low end flatters. Valid for any
/// current; 0 A is not divided by. Source: definition; ranges as the constants say.
pub fn hours(capacity: Between<AmpHours>, current: Amps) -> Lasts {
    // Below a microampere the shelf life of the cell decides, and the quotient says nothing.
    if current.get() < 1e-6 {
        return Lasts::NotLimited;
    }
    let at = |capacity: AmpHours| Hours::computed(capacity.get() / current.get());
    Lasts::Hours(Between::new(at(capacity.least()), at(capacity.most())))
}

/// Peukert's exponent, checked: 1 (none) to 2.
fn exponent(k: f64) -> Result<f64, OutOfRange> {
    within("Peukert exponent", "", 1.0, 2.0, k)
}

/// Current of a load that empties a battery within its useful life.
fn drain(current: Amps) -> Result<f64, OutOfRange> {
    within("battery current", "A", 1e-3, 1e4, current.get())
}

/// Hours of a lead-acid battery from its rating: `t = H (C / (I H))^k`, h; C in Ah at the H hour rate, I in A.
///
/// At the rated current it gives H exactly. Valid from 1 mA to 10 kA, H from 0.1 to 200 h, k from 1 to 2.
/// Source: W. Peukert's law in the rated form, as written in a well-known note.
///
/// # Errors
/// [`OutOfRange`] outside any of those.
pub fn lead_acid_rated(capacity: AmpHours, rate: Hours, k: f64, current: Amps) -> Result<Hours, OutOfRange> {
    let (k, amps) = (exponent(k)?, drain(current)?);
    let rate = within("rated discharge time", "h", 0.1, 200.0, rate.get())?;
    Hours::new(rate * math::pow(capacity.get() / (amps * rate), k))
}

/// The old form: `t = Cp / I^k`, h, with Cp the capacity *at 1 A*. Never give it a rated capacity.
///
/// Valid range as [`lead_acid_rated`]. Source: electrotechnik.net.
///
/// # Errors
/// As [`lead_acid_rated`].
pub fn lead_acid_at_one_amp(capacity: AmpHours, k: f64, current: Amps) -> Result<Hours, OutOfRange> {
    Hours::new(capacity.get() / math::pow(drain(current)?, exponent(k)?))
}

/// The exponent from two runs: `k = ln(t1/t2) / ln(I2/I1)`.
///
/// Valid for two different currents and times above 0. Source: [`lead_acid_rated`] solved for k.
///
/// # Errors
/// [`OutOfRange`] when the runs give no exponent from 1 to 2: then they are no runs of one lead-acid battery.
pub fn exponent_from_runs(one: (Amps, Hours), other: (Amps, Hours)) -> Result<f64, OutOfRange> {
    let time = |hours: Hours| within("discharge time", "h", 1e-3, 1e4, hours.get());
    exponent(math::ln(time(one.1)? / time(other.1)?) / math::ln(drain(other.0)? / drain(one.0)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, power, printed, t0};
    use proptest::prelude::*;

    fn amps(figure: f64) -> Amps {
        Amps::new(figure).unwrap()
    }
    fn amp_hours(figure: f64) -> AmpHours {
        AmpHours::new(figure).unwrap()
    }
    fn span(lasts: Lasts) -> Between<Hours> {
        match lasts {
            Lasts::Hours(range) => range,
            Lasts::NotLimited => panic!("expected a range"),
        }
    }

    /// P-PWR-09. 6LR61: three battery pages; LR6 and HR6: encyclopedia article "AA battery".
    #[test]
    fn p_pwr_09_small_cells() {
        let block = span(hours(ALKALINE_BLOCK, amps(0.025)));
        exact(block.least().get(), 20.0);
        exact(block.most().get(), 24.0);
        let typical = span(hours(Between::exactly(amp_hours(0.55)), amps(0.025)));
        exact(typical.least().get(), 22.0);
        assert!(block.holds(typical.least()));
        let plain_rule = span(hours(Between::exactly(amp_hours(2.5)), amps(0.25))).least();
        exact(plain_rule.get(), 10.0);
        assert!(span(hours(ALKALINE_AA, amps(0.25))).holds(plain_rule));
        let rechargeable = span(hours(Between::exactly(amp_hours(2.0)), amps(0.1))).least();
        exact(rechargeable.get(), 20.0);
        assert!(span(hours(RECHARGEABLE_AA, amps(0.1))).holds(rechargeable));
        assert_eq!(hours(ALKALINE_AA, amps(0.0)), Lasts::NotLimited);
    }

    #[test]
    fn table_rows_are_in_order() {
        for row in [ALKALINE_BLOCK, ALKALINE_AA, RECHARGEABLE_AA] {
            assert!(row.least() < row.most());
        }
    }

    /// P-PWR-10. electrotechnik.net (old form, published 14.5 h); rated form: a well-known note on Peukert's law.
    #[test]
    fn p_pwr_10_lead_acid() {
        let old = lead_acid_at_one_amp(amp_hours(100.0), 1.2, amps(5.0)).unwrap().get();
        t0(old, 100.0 / power(5.0, 1.2), "14.4956");
        printed(old, "14.5");
        let cases = [
            (100.0, 1.2, 5.0, "20.0000"),
            (100.0, 1.2, 10.0, "8.7055"),
            (100.0, 1.3, 25.0, "2.4681"),
            (7.0, 1.2, 1.0, "5.6743"),
        ];
        for (c, k, i, figure) in cases {
            let found = lead_acid_rated(amp_hours(c), Hours::new(20.0).unwrap(), k, amps(i)).unwrap();
            t0(found.get(), 20.0 * power(c / (i * 20.0), k), figure);
        }
        let runs = ((amps(5.0), Hours::new(20.0).unwrap()), (amps(24.0), Hours::new(3.0).unwrap()));
        let k = exponent_from_runs(runs.0, runs.1).unwrap();
        t0(k, crate::testing::lg(20.0 / 3.0) / crate::testing::lg(24.0 / 5.0), "1.2094");
    }

    #[test]
    fn runs_that_are_no_runs_are_refused() {
        let twice = (amps(5.0), Hours::new(20.0).unwrap());
        assert!(exponent_from_runs(twice, twice).is_err());
        assert!(lead_acid_rated(amp_hours(7.0), Hours::new(20.0).unwrap(), 3.0, amps(1.0)).is_err());
        assert!(lead_acid_rated(amp_hours(7.0), Hours::new(20.0).unwrap(), 1.2, amps(0.0)).is_err());
    }

    proptest! {
        #[test]
        fn more_current_never_lasts_longer(i in 0.001..10.0, more in 1.0..10.0) {
            let at = |i| span(hours(ALKALINE_AA, amps(i)));
            prop_assert!(at(i * more).most() <= at(i).most() && at(i * more).least() <= at(i).least());
        }

        /// At the rated current the rated time, whatever the exponent; above it, less than the plain rule.
        #[test]
        fn the_rating_is_met_exactly(c in 1.0..200.0, h in 1.0..100.0, k in 1.0..1.5, over in 1.0..20.0) {
            let rate = Hours::new(h).unwrap();
            let at = |i| lead_acid_rated(amp_hours(c), rate, k, amps(i)).unwrap().get();
            exact(at(c / h), h);
            prop_assert!(at(over * c / h) <= h / over * (1.0 + 1e-9));
        }

        #[test]
        fn two_runs_give_back_the_exponent(k in 1.05..1.95, i in 0.5..5.0, times in 1.5..10.0) {
            let run = |i| (amps(i), lead_acid_at_one_amp(amp_hours(100.0), k, amps(i)).unwrap());
            let found = exponent_from_runs(run(i), run(i * times)).unwrap();
            prop_assert!((found - k).abs() < 1e-9);
        }
    }
}
