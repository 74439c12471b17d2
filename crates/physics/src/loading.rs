//! How much level a link loses because the input loads the output.
//!
//! Resistive only. A piezo pickup is a capacitor, a magnetic one a coil: [`corner`](crate::corner) has those.

use crate::{Db, Ohms, math};

/// The change of level when `load` is plugged into `source`: `20 lg(Zl / (Zl + Zs))`, in dB, never above 0.
///
/// Valid for resistive impedances, over the whole range of [`Ohms`]. Source: the voltage divider (derived). The rule of
/// thumb "load at least ten times the source", 0.83 dB, is common practice, so falling short of it is no error.
pub fn bridging_loss(source: Ohms, load: Ohms) -> Db {
    Db::computed(20.0 * math::log10(load.get() / (load.get() + source.get())))
}

/// What one output sees when it feeds several inputs: `1 / Σ(1/Zi)`, ohm. `None` for no input.
///
/// Valid over the whole range of [`Ohms`]. Source: circuit theory.
pub fn split_load(inputs: &[Ohms]) -> Option<Ohms> {
    let admittance: f64 = inputs.iter().map(|input| 1.0 / input.get()).sum();
    (admittance > 0.0).then(|| Ohms::computed(1.0 / admittance))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, t0};
    use proptest::prelude::*;

    fn ohms(figure: f64) -> Ohms {
        Ohms::new(figure).unwrap()
    }

    /// P-LNK-01. Circuit theory.
    #[test]
    fn p_lnk_01_bridging_loss() {
        let cases = [
            (150.0, 1500.0, "-0.8279"),
            (150.0, 3000.0, "-0.4238"),
            (150.0, 150.0, "-6.0206"),
            (600.0, 600.0, "-6.0206"),
            (100.0, 10e3, "-0.0864"),
            (600.0, 10e3, "-0.5061"),
            (1e6, 10e3, "-40.0864"),
        ];
        for (source, load, figure) in cases {
            t0(bridging_loss(ohms(source), ohms(load)).get(), 20.0 * lg(load / (load + source)), figure);
        }
        let both = split_load(&[ohms(1500.0), ohms(1500.0)]).unwrap();
        t0(bridging_loss(ohms(150.0), both).get(), 20.0 * lg(750.0 / 900.0), "-1.5836");
    }

    /// P-LNK-02. Circuit theory.
    #[test]
    fn p_lnk_02_load_of_a_split() {
        exact(split_load(&[ohms(10e3), ohms(10e3)]).unwrap().get(), 5e3);
        t0(split_load(&[ohms(1500.0), ohms(10e3)]).unwrap().get(), 1500.0 * 10e3 / 11.5e3, "1304.348");
        exact(split_load(&[ohms(1500.0); 3]).unwrap().get(), 500.0);
        assert_eq!(split_load(&[]), None);
    }

    proptest! {
        /// What bridging means. Catches source and load swapped.
        #[test]
        fn loss_shrinks_as_the_load_rises(zs in 1.0..1e5, zl in 1.0..1e7, more in 1.0..1e3) {
            let loss = |load| bridging_loss(ohms(zs), ohms(load));
            prop_assert!(loss(zl * more) >= loss(zl));
            prop_assert!(loss(zl).get() <= 0.0);
        }

        /// Dimension: only the ratio of the two counts.
        #[test]
        fn scaling_both_changes_nothing(zs in 1.0..1e5, zl in 1.0..1e7, by in 0.1..10.0) {
            let change = bridging_loss(ohms(zs * by), ohms(zl * by)) - bridging_loss(ohms(zs), ohms(zl));
            prop_assert!(change.get().abs() < 1e-9);
        }

        #[test]
        fn one_more_input_loads_more(a in 1.0..1e7, b in 1.0..1e7, c in 1.0..1e7) {
            let two = split_load(&[ohms(a), ohms(b)]).unwrap();
            let three = split_load(&[ohms(a), ohms(b), ohms(c)]).unwrap();
            prop_assert!(three < two && two < ohms(a.min(b)));
        }
    }
}
