//! Resistors that take level away: pads between equal impedances, and the bridged U in a microphone lead.

use crate::loading::split_load;
use crate::{Db, Ohms, OutOfRange, math, range::within};

/// A T pad: a resistor in each series arm and one across the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tee {
    /// Each of the two series arms, ohm.
    pub series: Ohms,
    /// The shunt, ohm.
    pub shunt: Ohms,
}

/// A pi pad: a resistor across each end and one in series.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pi {
    /// Each of the two shunts, ohm.
    pub shunt: Ohms,
    /// The series arm, ohm.
    pub series: Ohms,
}

/// Voltage ratio of a pad, above 1.
fn ratio(attenuation: Db) -> Result<f64, OutOfRange> {
    // Below a hundredth of a dB the shunt is an open circuit; above 120 dB the leads leak more than the pad passes.
    let attenuation = within("attenuation of a pad", "dB", 0.01, 120.0, attenuation.get())?;
    Ok(math::ten_to(attenuation / 20.0))
}

/// The T pad for this attenuation (above 0) between equal impedances: `R1 = Z (K − 1)/(K + 1)`, `R2 = 2 Z K/(K² − 1)`,
/// `K = 10^(A/20)`; ohm.
///
/// Valid from 0.01 to 120 dB. In a balanced line halve each series arm into the two legs ([`Tee::leg`]).
/// Source: T. R. Kuphaldt, Lessons In Electric Circuits, volume III, "Attenuators".
///
/// # Errors
/// [`OutOfRange`] for an attenuation outside that, or resistors that cannot be made.
pub fn tee(attenuation: Db, impedance: Ohms) -> Result<Tee, OutOfRange> {
    let (k, z) = (ratio(attenuation)?, impedance.get());
    Ok(Tee { series: Ohms::new(z * (k - 1.0) / (k + 1.0))?, shunt: Ohms::new(2.0 * z * k / (k * k - 1.0))? })
}

/// The pi pad for this attenuation between equal impedances: shunts `Z (K + 1)/(K − 1)`, series `Z (K² − 1)/(2K)`; ohm.
///
/// Valid range, balanced form and source as [`tee`].
///
/// # Errors
/// As [`tee`].
pub fn pi(attenuation: Db, impedance: Ohms) -> Result<Pi, OutOfRange> {
    let (k, z) = (ratio(attenuation)?, impedance.get());
    Ok(Pi { shunt: Ohms::new(z * (k + 1.0) / (k - 1.0))?, series: Ohms::new(z * (k * k - 1.0) / (2.0 * k))? })
}

impl Tee {
    /// The resistor in each leg of each arm when the line is balanced (an H pad): half of the series arm, ohm.
    pub fn leg(&self) -> Ohms {
        Ohms::computed(self.series.get() / 2.0)
    }
}

impl Pi {
    /// The resistor in each leg when the line is balanced (an O pad): half of the series arm, ohm.
    pub fn leg(&self) -> Ohms {
        Ohms::computed(self.series.get() / 2.0)
    }
}

/// Level through a bridged U: two series arms, one shunt across the load: `20 lg(P / (P + Zs + 2 Rs))`, dB, with
/// `P` the shunt and the load in parallel; from the source's open-circuit voltage.
///
/// Valid for resistive impedances. Source: circuit theory.
pub fn bridged_u(source: Ohms, each_series: Ohms, shunt: Ohms, load: Ohms) -> Db {
    let across = split_load(&[shunt, load]).map_or(0.0, Ohms::get);
    let through = across + source.get() + 2.0 * each_series.get();
    Db::computed(20.0 * (math::log10(across) - math::log10(through)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, power, printed, t0};
    use proptest::prelude::*;

    fn db(figure: f64) -> Db {
        Db::new(figure).unwrap()
    }
    fn ohms(figure: f64) -> Ohms {
        Ohms::new(figure).unwrap()
    }

    /// P-LNK-08. T. R. Kuphaldt, Lessons In Electric Circuits vol. III, "Attenuators" (10 dB, 50 ohm: 25.97 and 35.14);
    /// attenuator calculator and value-table pages (1 dB, 50 ohm: T 2.88 and 433.34, pi 869.55 and 5.77).
    #[test]
    fn p_lnk_08_pads_between_equal_impedances() {
        let table = [
            (1.0, 50.0, "2.875", "433.337", "869.548", "5.769"),
            (3.0, 50.0, "8.550", "141.926", "292.402", "17.615"),
            (6.0, 50.0, "16.614", "66.931", "150.476", "37.352"),
            (10.0, 50.0, "25.975", "35.136", "96.248", "71.151"),
            (20.0, 50.0, "40.909", "10.101", "61.111", "247.500"),
            (10.0, 600.0, "311.696", "421.637", "1154.970", "853.815"),
            (20.0, 600.0, "490.909", "121.212", "733.333", "2970.000"),
            (20.0, 150.0, "122.727", "30.303", "183.333", "742.500"),
        ];
        for (a, z, series, shunt, pi_shunt, pi_series) in table {
            let k = power(10.0, a / 20.0);
            let found = tee(db(a), ohms(z)).unwrap();
            t0(found.series.get(), z * (k - 1.0) / (k + 1.0), series);
            t0(found.shunt.get(), 2.0 * z * k / (k * k - 1.0), shunt);
            exact(2.0 * found.leg().get(), found.series.get());
            let found = pi(db(a), ohms(z)).unwrap();
            t0(found.shunt.get(), z * (k + 1.0) / (k - 1.0), pi_shunt);
            t0(found.series.get(), z * (k * k - 1.0) / (2.0 * k), pi_series);
            exact(2.0 * found.leg().get(), found.series.get());
        }
        let published = tee(db(10.0), ohms(50.0)).unwrap();
        printed(published.series.get(), "25.97");
        printed(published.shunt.get(), "35.14");
        let published = (tee(db(1.0), ohms(50.0)).unwrap(), pi(db(1.0), ohms(50.0)).unwrap());
        printed(published.0.series.get(), "2.88");
        printed(published.0.shunt.get(), "433.34");
        printed(published.1.shunt.get(), "869.55");
        printed(published.1.series.get(), "5.77");
    }

    /// P-LNK-09. Circuit theory.
    #[test]
    fn p_lnk_09_bridged_u() {
        let cases = [
            (150.0, 680.0, 150.0, 1500.0, "-21.6365"),
            (150.0, 750.0, 200.0, 10e3, "-19.4764"),
            (100.0, 4700.0, 1000.0, 10e3, "-21.1761"),
        ];
        for (zs, rs, rp, zl, figure) in cases {
            let p = rp * zl / (rp + zl);
            let found = bridged_u(ohms(zs), ohms(rs), ohms(rp), ohms(zl));
            t0(found.get(), 20.0 * lg(p / (p + zs + 2.0 * rs)), figure);
        }
    }

    #[test]
    fn a_pad_that_amplifies_is_refused() {
        assert_eq!(
            tee(db(-20.0), ohms(150.0)).unwrap_err().to_string(),
            "attenuation of a pad must be 0.01 to 120 dB, found -20"
        );
        assert!(pi(db(0.0), ohms(150.0)).is_err());
    }

    proptest! {
        /// What a pad promises: closed with its own impedance it shows that impedance, and loses what it says.
        #[test]
        fn a_pad_matches_both_ways(a in 0.1..60.0, z in 10.0..1e4) {
            let pad = tee(db(a), ohms(z)).unwrap();
            let (r1, r2) = (pad.series.get(), pad.shunt.get());
            let middle = r2 * (r1 + z) / (r2 + r1 + z);
            exact(r1 + middle, z);
            exact(-20.0 * lg(middle / (r1 + middle) * z / (r1 + z)), a);

            let pad = pi(db(a), ohms(z)).unwrap();
            let (shunt, series) = (pad.shunt.get(), pad.series.get());
            let far = shunt * z / (shunt + z);
            exact(shunt * (series + far) / (shunt + series + far), z);
            exact(-20.0 * lg(far / (series + far)), a);
        }

        /// T and pi of one pad are each other's mirror in the impedance.
        #[test]
        fn tee_and_pi_are_dual(a in 0.1..60.0, z in 10.0..1e4) {
            let (tee, pi) = (tee(db(a), ohms(z)).unwrap(), pi(db(a), ohms(z)).unwrap());
            exact(tee.series.get() * pi.shunt.get(), z * z);
            exact(tee.shunt.get() * pi.series.get(), z * z);
        }

        #[test]
        fn more_series_or_less_shunt_takes_more(rs in 1.0..1e4, rp in 10.0..1e4, more in 1.01..10.0) {
            let at = |rs, rp| bridged_u(ohms(150.0), ohms(rs), ohms(rp), ohms(10e3));
            prop_assert!(at(rs * more, rp) < at(rs, rp) && at(rs, rp) < at(rs, rp * more));
        }
    }
}
