//! What a transformer does to level and impedance: the passive direct box.
//!
//! A direct box has no one figure in dB. The level depends on the turns ratio *and* on what loads it from both sides, so
//! each function takes the ratio. Take the turns ratio from the label, never from a printed pair of impedances: such a
//! pair quotes the input loaded by a typical microphone input, and its root is not the ratio.

use crate::{Db, Ohms, OutOfRange, TurnsRatio, loading::bridging_loss, math};

/// Level across an unloaded transformer: `−20 lg n`, dB; below 0 for a step-down.
///
/// Valid for an ideal transformer in the middle of its band. Source: circuit theory; direct boxes have 10:1 to 20:1 by
/// the encyclopedia article "DI unit".
pub fn level_change(ratio: TurnsRatio) -> Db {
    Db::computed(-20.0 * math::log10(ratio.get()))
}

/// What the source sees of a load: `n² Zl`, ohm. Valid and source as [`level_change`].
///
/// # Errors
/// [`OutOfRange`] when the result is no impedance that exists.
pub fn load_seen_by_source(ratio: TurnsRatio, load: Ohms) -> Result<Ohms, OutOfRange> {
    Ohms::new(ratio.get() * ratio.get() * load.get())
}

/// What the load sees of a source: `Zs / n²`, ohm, to which the windings' own resistance adds. Valid as [`level_change`].
///
/// # Errors
/// [`OutOfRange`] when the result is no impedance that exists.
pub fn source_seen_by_load(ratio: TurnsRatio, source: Ohms) -> Result<Ohms, OutOfRange> {
    Ohms::new(source.get() / (ratio.get() * ratio.get()))
}

/// Level from the open-circuit source to the load: `20 lg((1/n) · n² Zl / (n² Zl + Zs))`, dB.
///
/// Valid for a resistive source and load; a piezo pickup is neither. Source: circuit theory.
///
/// # Errors
/// As [`load_seen_by_source`].
pub fn loaded_level(ratio: TurnsRatio, source: Ohms, load: Ohms) -> Result<Db, OutOfRange> {
    Ok(level_change(ratio) + bridging_loss(source, load_seen_by_source(ratio, load)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, t0};
    use proptest::prelude::*;

    fn turns(figure: f64) -> TurnsRatio {
        TurnsRatio::new(figure).unwrap()
    }
    fn ohms(figure: f64) -> Ohms {
        Ohms::new(figure).unwrap()
    }

    /// P-LNK-07. Circuit theory; typical ratios: encyclopedia article "DI unit"; the pair that is not n squared (932
    /// against 132): an electronics question thread.
    #[test]
    fn p_lnk_07_transformer() {
        let table = [
            (10.0, "-20.0000", "100.00", "150.000", "-20.5606"),
            (11.5, "-21.2140", "132.25", "198.375", "-21.6411"),
            (12.0, "-21.5836", "144.00", "216.000", "-21.9767"),
            (20.0, "-26.0206", "400.00", "600.000", "-26.1642"),
        ];
        for (n, level, one_k, one_and_a_half_k, loaded) in table {
            t0(level_change(turns(n)).get(), -20.0 * lg(n), level);
            let seen = |load| load_seen_by_source(turns(n), ohms(load)).unwrap().get() / 1e3;
            t0(seen(1e3), n * n, one_k);
            t0(seen(1.5e3), 1.5 * n * n, one_and_a_half_k);
            let formula = 20.0 * lg(n * 1.5e3 / (n * n * 1.5e3 + 10e3));
            t0(loaded_level(turns(n), ohms(10e3), ohms(1.5e3)).unwrap().get(), formula, loaded);
        }
    }

    #[test]
    fn an_impossible_impedance_is_refused() {
        assert!(load_seen_by_source(turns(1000.0), ohms(1e12)).is_err());
        assert!(source_seen_by_load(turns(1000.0), ohms(0.01)).is_err());
    }

    proptest! {
        #[test]
        fn turned_round_it_undoes_itself(n in 0.05..20.0, z in 1.0..1e6) {
            exact((level_change(turns(n)) + level_change(turns(1.0 / n))).get() + 1.0, 1.0);
            let there = load_seen_by_source(turns(n), ohms(z)).unwrap();
            exact(source_seen_by_load(turns(n), there).unwrap().get(), z);
        }

        /// The same level whether the load is brought to the source's side or the source to the load's.
        #[test]
        fn both_sides_agree(n in 1.0..20.0, zs in 1.0..1e5, zl in 100.0..1e5) {
            let at_load = bridging_loss(source_seen_by_load(turns(n), ohms(zs)).unwrap(), ohms(zl));
            let found = loaded_level(turns(n), ohms(zs), ohms(zl)).unwrap();
            prop_assert!((found - (level_change(turns(n)) + at_load)).get().abs() < 1e-9);
        }

        #[test]
        fn loading_only_ever_costs(n in 1.0..20.0, zs in 1.0..1e5, zl in 100.0..1e5, more in 1.0..100.0) {
            let at = |zl| loaded_level(turns(n), ohms(zs), ohms(zl)).unwrap();
            prop_assert!(at(zl) <= at(zl * more) && at(zl) <= level_change(turns(n)));
        }
    }
}
