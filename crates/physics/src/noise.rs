//! The noise that no gear can be quieter than, and noise along a path.
//!
//! Every answer depends on temperature and bandwidth, so both are arguments and neither has a default.

use crate::levels::unrelated_sum;
use crate::{Db, Dbu, Hertz, Kelvin, Ohms, Volts, math};

/// Boltzmann's constant, J/K. Source: the SI of 2019, exact.
const BOLTZMANN: f64 = 1.380_649e-23;

/// A noise quoted lower than physics allows: a shorted input, a weighting or another bandwidth was used.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "a noise of {found:.1} is below the {limit:.1} of the source itself; was it weighted or measured shorted?"
)]
pub struct BelowThermal {
    /// The noise that was quoted.
    pub found: Dbu,
    /// The noise of the source's own resistance.
    pub limit: Dbu,
}

/// Thermal noise of a resistance: `√(4 k T R B)`, V root mean square; R in ohm, T in kelvin, B in hertz.
///
/// Valid while `B` is far below 10¹² Hz at room temperature. With `B` of 1 Hz it is the density, volts per root hertz.
/// Source: J. B. Johnson and H. Nyquist, Physical Review 32, 1928.
pub fn thermal_noise(resistance: Ohms, temperature: Kelvin, band: Hertz) -> Volts {
    Volts::computed(math::sqrt(4.0 * BOLTZMANN * temperature.get() * resistance.get() * band.get()))
}

/// The same as a level: `10 lg(4 k T R B / 0.6)`, dBu. Valid range and source as [`thermal_noise`].
pub fn thermal_noise_level(resistance: Ohms, temperature: Kelvin, band: Hertz) -> Dbu {
    let squared = 4.0 * BOLTZMANN * temperature.get() * resistance.get() * band.get();
    Dbu::computed(10.0 * math::log10(squared / 0.6))
}

/// How much noisier an input is than its source: `NF = EIN − Lthermal(R, T, B)`, dB, never below 0.
///
/// `input_noise` is the equivalent input noise, unweighted, in the same band. Source: application note "Measuring
/// Mic-Preamp Noise".
///
/// # Errors
/// [`BelowThermal`] when the input claims to be quieter than its source can be.
pub fn noise_figure(
    input_noise: Dbu,
    source: Ohms,
    temperature: Kelvin,
    band: Hertz,
) -> Result<Db, BelowThermal> {
    let limit = thermal_noise_level(source, temperature, band);
    if input_noise < limit {
        Err(BelowThermal { found: input_noise, limit })
    } else {
        Ok(input_noise - limit)
    }
}

/// Noise at an output: `Lthermal + gain + NF`, dBu. Valid range and source as [`noise_figure`].
pub fn output_noise(source_noise: Dbu, gain: Db, noise_figure: Db) -> Dbu {
    source_noise + gain + noise_figure
}

/// One stage of a chain of matched stages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stage {
    /// Noise figure, dB.
    pub noise_figure: Db,
    /// Power gain, dB; below 0 for a loss. The last stage's does not matter.
    pub gain: Db,
}

/// Noise figure of matched stages one after another: `F = F1 + (F2 − 1)/G1 + (F3 − 1)/(G1 G2) + …`, power ratios, to dB.
///
/// `None` for no stage. Valid for matched stages only; an audio path is not matched: use [`path_noise`] there.
/// Source: H. T. Friis, Proceedings of the IRE 32, 1944.
pub fn matched_chain(stages: &[Stage]) -> Option<Db> {
    let (first, rest) = stages.split_first()?;
    let ratio = |db: Db| math::ten_to(db.get() / 10.0);
    let (mut factor, mut gain) = (ratio(first.noise_figure), ratio(first.gain));
    for stage in rest {
        factor += (ratio(stage.noise_figure) - 1.0) / gain;
        gain *= ratio(stage.gain);
    }
    Some(Db::computed(10.0 * math::log10(factor)))
}

/// Noise of an unmatched path at one point: each noise with its gain from where it arises to there, added as powers.
///
/// Formula: `10 lg Σ 10^((Ni + Gi)/10)`, dBu. `None` for no noise. Valid for unrelated noises in one band, unweighted.
/// To refer noise to the source instead, give the gains below zero. Source: [`unrelated_sum`].
pub fn path_noise(noises: &[(Dbu, Db)]) -> Option<Dbu> {
    let arrived: Vec<Dbu> = noises.iter().map(|&(noise, gain)| noise + gain).collect();
    unrelated_sum(&arrived)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::levels::dbv_of;
    use crate::testing::{exact, lg, power, printed, t0};
    use crate::transformer;
    use proptest::prelude::*;

    fn dbu(level: f64) -> Dbu {
        Dbu::new(level).unwrap()
    }
    fn db(change: f64) -> Db {
        Db::new(change).unwrap()
    }
    fn conditions(r: f64, t: f64, b: f64) -> (Ohms, Kelvin, Hertz) {
        (Ohms::new(r).unwrap(), Kelvin::new(t).unwrap(), Hertz::new(b).unwrap())
    }

    /// P-LNK-03. J. B. Johnson and H. Nyquist, Phys. Rev. 32 (1928); published levels: application note "Measuring
    /// Mic-Preamp Noise" (-130.82 dBu, 300 K), a mailing list post and a trade article (0.22 uV, -133 dBV).
    #[test]
    fn p_lnk_03_thermal_noise() {
        let table = [
            (150.0, 290.0, 20e3, "1.5499", "0.21920", "-130.9649", "-133.1834"),
            (150.0, 293.15, 20e3, "1.5583", "0.22038", "-130.9180", "-133.1365"),
            (150.0, 300.0, 20e3, "1.5764", "0.22294", "-130.8177", "-133.0361"),
            (200.0, 293.15, 20e3, "1.7994", "0.25448", "-129.6686", "-131.8871"),
            (200.0, 300.0, 20e3, "1.8203", "0.25743", "-129.5683", "-131.7868"),
            (600.0, 293.15, 20e3, "3.1167", "0.44077", "-124.8974", "-127.1159"),
            (10e3, 293.15, 20e3, "12.7238", "1.79942", "-112.6789", "-114.8974"),
            (150.0, 293.15, 19980.0, "1.5583", "0.22027", "-130.9223", "-133.1408"),
        ];
        for (r, t, b, density, microvolts, level, consumer) in table {
            let (resistance, temperature, band) = conditions(r, t, b);
            let squared = 4.0 * 1.380649e-23 * t * r * b;
            let one_hertz = Hertz::new(1.0).unwrap();
            let found = thermal_noise(resistance, temperature, one_hertz).get();
            t0(1e9 * found, 1e9 * (squared / b).sqrt(), density);
            t0(1e6 * thermal_noise(resistance, temperature, band).get(), 1e6 * squared.sqrt(), microvolts);
            let found = thermal_noise_level(resistance, temperature, band);
            t0(found.get(), 20.0 * lg((squared / 0.6).sqrt()), level);
            t0(dbv_of(found).get(), 20.0 * lg(squared.sqrt()), consumer);
        }
        let (r, t, b) = conditions(150.0, 300.0, 20e3);
        printed(thermal_noise_level(r, t, b).get(), "-130.82");
        let (r, t, b) = conditions(150.0, 293.15, 20e3);
        printed(thermal_noise_level(r, t, b).get(), "-130.9");
        printed(1e6 * thermal_noise(r, t, b).get(), "0.22");
        printed(dbv_of(thermal_noise_level(r, t, b)).get(), "-133");
    }

    /// P-LNK-04. Application note "Measuring Mic-Preamp Noise".
    #[test]
    fn p_lnk_04_noise_figure() {
        let (r, t, b) = conditions(150.0, 300.0, 20e3);
        let limit = 10.0 * lg(4.0 * 1.380649e-23 * 300.0 * 150.0 * 20e3 / 0.6);
        t0(noise_figure(dbu(-128.0), r, t, b).unwrap().get(), -128.0 - limit, "2.8177");
        let found = output_noise(thermal_noise_level(r, t, b), db(50.0), db(2.0));
        t0(found.get(), limit + 52.0, "-78.8177");
        let refused = noise_figure(dbu(-133.0), r, t, b).unwrap_err();
        assert_eq!(
            refused.to_string(),
            "a noise of -133.0 dBu is below the -130.8 dBu of the source itself; was it weighted or measured shorted?"
        );
    }

    /// P-LNK-05. H. T. Friis, Proc. IRE 32 (1944); worked examples as published on two calculator pages (1.62 and
    /// 3.83 dB). The second page's 1.76 dB for its filter moved is wrong; the formula gives 2.0309 dB.
    #[test]
    fn p_lnk_05_matched_chain() {
        let chain = |stages: &[(f64, f64)]| {
            let stages: Vec<Stage> =
                stages.iter().map(|&(nf, gain)| Stage { noise_figure: db(nf), gain: db(gain) }).collect();
            matched_chain(&stages).unwrap().get()
        };
        let receiver = chain(&[(1.5, 20.0), (6.0, 10.0), (10.0, 0.0)]);
        printed(receiver, "1.6177");
        printed(receiver, "1.62");
        printed(power(10.0, receiver / 10.0), "1.451348");
        let filter_first = chain(&[(2.0, -2.0), (1.5, 18.0), (1.0, -1.0), (8.0, -6.0)]);
        printed(filter_first, "3.8258");
        printed(filter_first, "3.83");
        printed(power(10.0, filter_first / 10.0), "2.413129");
        exact(chain(&[(3.0, 0.0)]), 3.0);
        printed(power(10.0, 0.3), "1.995262");
        printed(chain(&[(1.5, 18.0), (2.0, -2.0), (1.0, -1.0), (8.0, -6.0)]), "2.0309");
        assert_eq!(matched_chain(&[]), None);
    }

    /// P-LNK-06. Computed from P-LVL-06 and P-LNK-03.
    #[test]
    fn p_lnk_06_noise_along_a_path() {
        let gain = db(40.0);
        exact((dbu(-40.0) + gain).get() + 1.0, 1.0); // the signal arrives at 0 dBu
        let noise = path_noise(&[(dbu(-128.0), gain), (dbu(-90.0), db(0.0))]).unwrap();
        t0(noise.get(), 10.0 * lg(power(10.0, -8.8) + power(10.0, -9.0)), "-85.8756");
        t0((dbu(-40.0) + gain - noise).get(), -noise.get(), "85.8756");

        let step_down = transformer::level_change(crate::TurnsRatio::new(12.0).unwrap());
        let preamp = dbu(-128.0) - step_down;
        t0(preamp.get(), -128.0 + 20.0 * lg(12.0), "-106.4164");
        let (r, t, b) = conditions(10e3, 293.15, 20e3);
        let thermal = thermal_noise_level(r, t, b);
        printed(thermal.get(), "-112.6789");
        let together = path_noise(&[(dbu(-128.0), -step_down), (thermal, db(0.0))]).unwrap();
        printed(together.get(), "-105.4946");

        // A 20 dB pad before the same input: its noise, seen from the source, rises by as much.
        exact(path_noise(&[(dbu(-128.0), db(20.0))]).unwrap().get(), -108.0);
    }

    proptest! {
        /// Dimension: noise power goes with resistance, temperature and band alike.
        #[test]
        fn four_times_any_of_the_three_doubles_the_volts(r in 1.0..1e6, t in 100.0..400.0, b in 1.0..1e5) {
            let volts = |r, t, b| { let (r, t, b) = conditions(r, t, b); thermal_noise(r, t, b).get() };
            let twice = 2.0 * volts(r, t, b);
            for found in [volts(4.0 * r, t, b), volts(r, 4.0 * t, b), volts(r, t, 4.0 * b)] {
                prop_assert!((found / twice - 1.0).abs() < 1e-9);
            }
        }

        #[test]
        fn volts_and_level_agree(r in 1.0..1e6, t in 100.0..400.0, b in 1.0..1e5) {
            let (r, t, b) = conditions(r, t, b);
            let level = crate::levels::dbu_of(thermal_noise(r, t, b)).unwrap();
            prop_assert!((level - thermal_noise_level(r, t, b)).get().abs() < 1e-9);
        }

        /// More gain in front hides what follows, and no chain beats its first stage.
        #[test]
        fn gain_in_front_helps(nf in 0.0..10.0, gain in -10.0..30.0, more in 0.0..20.0, next in 0.0..20.0) {
            let chain = |gain| matched_chain(&[
                Stage { noise_figure: db(nf), gain: db(gain) },
                Stage { noise_figure: db(next), gain: db(0.0) },
            ]).unwrap().get();
            prop_assert!(chain(gain + more) <= chain(gain) + 1e-9);
            prop_assert!(chain(gain) >= nf - 1e-9);
        }

        #[test]
        fn a_noise_figure_is_undone_by_the_output_noise(excess in 0.0..60.0, gain in -20.0..60.0, r in 10.0..1e5) {
            let (r, t, b) = conditions(r, 293.15, 20e3);
            let input = thermal_noise_level(r, t, b) + db(excess);
            let figure = noise_figure(input, r, t, b).unwrap();
            let output = output_noise(thermal_noise_level(r, t, b), db(gain), figure);
            prop_assert!((output - (input + db(gain))).get().abs() < 1e-9);
        }

        #[test]
        fn another_noise_never_lowers_the_sum(a in -140.0..0.0, b in -140.0..0.0) {
            let one = path_noise(&[(dbu(a), db(0.0))]).unwrap();
            let two = path_noise(&[(dbu(a), db(0.0)), (dbu(b), db(0.0))]).unwrap();
            prop_assert!(two >= one);
        }
    }
}
