//! The mains: what a circuit carries, what gear draws, and what a long lead loses.
//!
//! Caution: these figures plan a small stage, they approve nothing. Local wiring rules and a licensed electrician decide;
//! a breaker that trips is right until someone has found out why.

use crate::conductor::{out_and_back, warm_factor};
use crate::{
    Amps, Kelvin, Metres, OhmsPerKilometre, OutOfRange, PowerFactor, VoltAmps, Volts, Watts, range::within,
};

/// Volts of a mains supply, 50 to 500 V: what the formulas here are meant for.
fn mains_volts(volts: Volts) -> Result<f64, OutOfRange> {
    within("mains voltage", "V", 50.0, 500.0, volts.get())
}

/// What a circuit carries: `S = U I`, VA.
///
/// Valid from 50 to 500 V. Source: definition of apparent power.
///
/// # Errors
/// [`OutOfRange`] for another voltage.
pub fn capacity(volts: Volts, breaker: Amps) -> Result<VoltAmps, OutOfRange> {
    Ok(VoltAmps::computed(mains_volts(volts)? * breaker.get()))
}

/// What it may carry for three hours or more in the United States: 80 % of [`capacity`], VA.
///
/// Valid as there. Source: NEC (NFPA 70) 210.19(A)(1), the circuit sized for 125 % of a continuous load.
///
/// # Errors
/// As [`capacity`].
pub fn continuous_capacity(volts: Volts, breaker: Amps) -> Result<VoltAmps, OutOfRange> {
    Ok(VoltAmps::computed(0.8 * capacity(volts, breaker)?.get()))
}

/// What a load asks of its outlet: `S = P / pf`, VA. Valid over the whole range. Source: definition of the power factor.
pub fn apparent_power(power: Watts, factor: PowerFactor) -> VoltAmps {
    VoltAmps::computed(power.get() / factor.get())
}

/// Current of a load: `I = P / (U pf)`, A.
///
/// Valid from 50 to 500 V. For several loads add the currents as if in phase: never too low. Source: definition.
///
/// # Errors
/// [`OutOfRange`] for another voltage.
pub fn current(power: Watts, factor: PowerFactor, volts: Volts) -> Result<Amps, OutOfRange> {
    Ok(Amps::computed(apparent_power(power, factor).get() / mains_volts(volts)?))
}

/// What a lead loses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drop {
    /// Volts lost along both conductors, V.
    pub volts: Volts,
    /// The same in per cent of the supply.
    pub percent: f64,
}

/// The usual planning limit for [`Drop::percent`]; 3 for lighting. Source: BS 7671 and notes of the NEC, from memory.
pub const USUAL_DROP_PERCENT: f64 = 5.0;

/// How warm a loaded lead is taken to be: 70 °C, the usual limit of its jacket (common practice).
pub const WARM_LEAD: Kelvin = Kelvin::computed(343.15);

/// Volts lost along a two-core lead: `2 l r(t) I`, V; both conductors, at the temperature they reach.
///
/// `conductor` is at 20 °C. Valid from 0 to 32 A, to 100 m, from 50 to 500 V and −40 to 160 °C; more is an installation
/// and not a lead. Judge with [`WARM_LEAD`]: a cold figure is too kind. Source: Ohm's law with IEC 60228:2004.
///
/// # Errors
/// [`OutOfRange`] outside any of those.
pub fn drop(
    length: Metres,
    conductor: OhmsPerKilometre,
    current: Amps,
    supply: Volts,
    temperature: Kelvin,
) -> Result<Drop, OutOfRange> {
    within("length of a mains lead", "m", 0.0, 100.0, length.get())?;
    let amps = within("current in a mains lead", "A", 0.0, 32.0, current.get())?;
    let supply = mains_volts(supply)?;
    let volts = out_and_back(length, conductor).get() * warm_factor(temperature)? * amps;
    Ok(Drop { volts: Volts::computed(volts), percent: 100.0 * volts / supply })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Gauge, Section};
    use crate::testing::{exact, printed, t0};
    use proptest::prelude::*;

    fn volts(figure: f64) -> Volts {
        Volts::new(figure).unwrap()
    }
    fn amps(figure: f64) -> Amps {
        Amps::new(figure).unwrap()
    }
    fn watts(figure: f64) -> Watts {
        Watts::new(figure).unwrap()
    }
    fn metres(figure: f64) -> Metres {
        Metres::new(figure).unwrap()
    }
    fn celsius(degrees: f64) -> Kelvin {
        Kelvin::from_celsius(degrees).unwrap()
    }

    /// P-PWR-01. NEC (NFPA 70) 210.19(A)(1), quoted on an electricians' forum; a hobby electrical guide quoting the NEC.
    #[test]
    fn p_pwr_01_circuit_capacity() {
        for (i, u, expected) in [(16.0, 230.0, 3680.0), (13.0, 230.0, 2990.0), (10.0, 230.0, 2300.0)] {
            exact(capacity(volts(u), amps(i)).unwrap().get(), expected);
        }
        for (i, whole, continuous) in [(15.0, 1800.0, 1440.0), (20.0, 2400.0, 1920.0)] {
            exact(capacity(volts(120.0), amps(i)).unwrap().get(), whole);
            exact(continuous_capacity(volts(120.0), amps(i)).unwrap().get(), continuous);
        }
        let factor = PowerFactor::new(0.6).unwrap();
        t0(apparent_power(watts(1000.0), factor).get(), 1000.0 / 0.6, "1666.667");
        t0(current(watts(1000.0), factor, volts(230.0)).unwrap().get(), 1000.0 / 138.0, "7.2464");
        t0(current(watts(600.0), factor, volts(120.0)).unwrap().get(), 600.0 / 72.0, "8.3333");
        // Loads add as if in phase.
        let sum: Amps = [amps(7.0), amps(3.5)].into_iter().sum();
        exact(sum.get(), 10.5);
        assert!(capacity(volts(12.0), amps(16.0)).is_err());
    }

    /// P-PWR-04. Ohm's law with IEC 60228:2004 Table 3 (P-PWR-02).
    #[test]
    fn p_pwr_04_voltage_drop() {
        let table = [
            (Section::OneAndAHalf, 25.0, 10.0, "0.6650", "6.6500", "2.8913", "7.9565"),
            (Section::ThreeQuarters, 10.0, 6.0, "0.5200", "3.1200", "1.3565", "3.7330"),
            (Section::One, 10.0, 10.0, "0.3900", "3.9000", "1.6957", "4.6662"),
            (Section::TwoAndAHalf, 50.0, 10.0, "0.7980", "7.9800", "3.4696", "9.5478"),
            (Section::OneAndAHalf, 50.0, 10.0, "1.3300", "13.3000", "5.7826", "15.9130"),
        ];
        for (section, length, i, ohm, cold, percent, warm) in table {
            let r = section.flexible();
            let lead = 2.0 * length * r.get() / 1000.0;
            t0(out_and_back(metres(length), r).get(), lead, ohm);
            let at = |t| drop(metres(length), r, amps(i), volts(230.0), t).unwrap();
            t0(at(celsius(20.0)).volts.get(), lead * i, cold);
            t0(at(celsius(20.0)).percent, 100.0 * lead * i / 230.0, percent);
            t0(at(WARM_LEAD).volts.get(), lead * i * (234.5 + 70.0) / 254.5, warm);
        }
        assert!(drop(metres(101.0), Section::One.flexible(), amps(1.0), volts(230.0), WARM_LEAD).is_err());
        assert!(drop(metres(10.0), Section::One.flexible(), amps(33.0), volts(230.0), WARM_LEAD).is_err());
    }

    /// P-PWR-05, the leads. Wire tables: `HyperPhysics` "Common wire gauges"; cases computed.
    #[test]
    fn p_pwr_05_drop_along_gauged_leads() {
        for (number, lost, percent) in [(16, "4.8186", "4.0155"), (14, "3.0304", "2.5254")] {
            let r = Gauge::new(number).unwrap().resistance();
            let found = drop(metres(15.24), r, amps(12.0), volts(120.0), celsius(20.0)).unwrap();
            printed(found.volts.get(), lost);
            printed(found.percent, percent);
        }
    }

    proptest! {
        #[test]
        fn drop_grows_with_length_current_and_warmth(l in 0.1..50.0, i in 0.1..16.0, t in -20.0..80.0, more in 1.01..2.0) {
            let r = Section::One.flexible();
            let at = |l, i, t| drop(metres(l), r, amps(i), volts(230.0), celsius(t)).unwrap().volts;
            let least = at(l, i, t);
            prop_assert!(at(l * more, i, t) > least && at(l, i * more, t) > least && at(l, i, t + more) > least);
        }

        /// Dimension: per cent is volts over supply, and half the supply doubles it.
        #[test]
        fn percent_follows_the_supply(l in 0.1..50.0, i in 0.1..16.0) {
            let at = |u| drop(metres(l), Section::One.flexible(), amps(i), volts(u), WARM_LEAD).unwrap();
            exact(at(115.0).percent, 2.0 * at(230.0).percent);
            exact(at(230.0).volts.get(), at(230.0).percent * 2.3);
        }

        /// A load just at a circuit's capacity draws the breaker's current.
        #[test]
        fn capacity_and_current_undo_each_other(i in 0.1..63.0, u in 50.0..500.0) {
            let whole = capacity(volts(u), amps(i)).unwrap();
            let drawn = current(watts(whole.get()), PowerFactor::new(1.0).unwrap(), volts(u)).unwrap();
            exact(drawn.get(), i);
            prop_assert!(continuous_capacity(volts(u), amps(i)).unwrap() < whole);
        }

        #[test]
        fn a_worse_factor_draws_more(p in 1.0..3000.0, factor in 0.06..1.0) {
            let at = |f| apparent_power(watts(p), PowerFactor::new(f).unwrap());
            prop_assert!(at(factor) >= at(1.0) && at(factor - 0.01) > at(factor));
        }
    }
}
