use super::*;
use crate::testing::{exact, lg, power, printed, t0};
use proptest::prelude::*;

fn db(figure: f64) -> Db {
    Db::new(figure).unwrap()
}
fn ohms(figure: f64) -> Ohms {
    Ohms::new(figure).unwrap()
}

/// P-BAL-01. Definition of the differential input; the effect: "TRS, stereo, balanced audio", an essay.
#[test]
fn p_bal_01_stereo_plug_in_a_balanced_input() {
    let heard = |left, right| left_minus_right(left, right).unwrap();
    printed(heard(1.0, 0.0).unwrap().get(), "0");
    assert_eq!(heard(1.0, 1.0), None);
    for (apart, figure) in [(0.1, "-38.8262"), (0.5, "-25.0457"), (1.0, "-19.2715")] {
        let lower = power(10.0, -apart / 20.0);
        let formula = 20.0 * lg(1.0 - lower);
        t0(heard(1.0, lower).unwrap().get(), formula, figure);
        t0(middle_left_over(db(apart)).unwrap().get(), formula, figure);
        t0(middle_left_over(db(-apart)).unwrap().get(), formula, figure);
    }
    assert_eq!(middle_left_over(db(0.0)), None);
    t0(heard(1.0, -1.0).unwrap().get(), 20.0 * lg(2.0), "6.0206");
}

/// P-BAL-02. Circuit theory; servo and transformer with the cold leg open: common practice.
#[test]
fn p_bal_02_balanced_output_into_an_unbalanced_input() {
    let open = balanced_into_unbalanced(Output::Symmetrical, ColdLeg::Open);
    t0(open.change.unwrap().get(), -20.0 * lg(2.0), "-6.0206");
    assert!(!open.may_fault);
    assert!(balanced_into_unbalanced(Output::Symmetrical, ColdLeg::Grounded).may_fault);
    for output in [Output::Servo, Output::Transformer, Output::GroundSensing, Output::ImpedanceBalanced] {
        let found = balanced_into_unbalanced(output, ColdLeg::Grounded);
        assert_eq!(found, Unbalanced { change: Some(db(0.0)), may_fault: false }, "{output:?}");
    }
    assert_eq!(balanced_into_unbalanced(Output::ImpedanceBalanced, ColdLeg::Open).change, Some(db(0.0)));
    assert_eq!(balanced_into_unbalanced(Output::Transformer, ColdLeg::Open).change, None);
    assert_eq!(unbalanced_into_balanced(), db(0.0));
}

/// P-BAL-03. "Why Not Wye?", D. Bohn, application note 109, 1991, rev. April 2004.
#[test]
fn p_bal_03_two_outputs_tied_together() {
    let table = [
        (50.0, 10e3, "-6.0423", "-0.0217", "-3.0320"),
        (475.0, 20e3, "-6.1231", "-0.1025", "-3.1128"),
        (1e3, 10e3, "-6.4444", "-0.4238", "-3.4341"),
        (10e3, 10e3, "-9.5424", "-3.5218", "-6.5321"),
    ];
    for (r, zl, one, same, unrelated) in table {
        let found = tied(2, ohms(r), ohms(zl)).unwrap();
        let formula = 20.0 * lg((1.0 / r) / (2.0 / r + 1.0 / zl));
        t0(found.one.get(), formula, one);
        t0(found.same.get(), formula + 20.0 * lg(2.0), same);
        t0(found.unrelated.get(), formula + 10.0 * lg(2.0), unrelated);
        let volts = tied_volts(&[(1.0, ohms(r)), (0.0, ohms(r))], ohms(zl)).unwrap();
        t0(20.0 * lg(volts), formula, one);
    }
    let per_volt = tied_current(Volts::new(1.0).unwrap(), ohms(50.0), ohms(50.0));
    exact(1e3 * per_volt.get(), 10.0);
    assert!(tied(0, ohms(50.0), ohms(10e3)).is_err());
}

proptest! {
    #[test]
    fn swapping_left_and_right_changes_nothing(left in -10.0..10.0, right in -10.0..10.0) {
        prop_assert_eq!(left_minus_right(left, right), left_minus_right(right, left));
    }

    #[test]
    fn a_worse_match_leaves_more(apart in 0.001..60.0, more in 1.01..10.0) {
        prop_assert!(middle_left_over(db(apart * more)) > middle_left_over(db(apart)));
        prop_assert!(middle_left_over(db(apart)).unwrap().get() < 0.0);
    }

    /// One output alone is the voltage divider: the same as [`crate::loading::bridging_loss`].
    #[test]
    fn one_output_tied_to_nothing_only_bridges(r in 1.0..1e5, zl in 10.0..1e6) {
        let found = tied(1, ohms(r), ohms(zl)).unwrap();
        let bridged = crate::loading::bridging_loss(ohms(r), ohms(zl));
        prop_assert!((found.one - bridged).get().abs() < 1e-9);
        prop_assert!((found.same - found.one).get().abs() < 1e-9);
    }

    #[test]
    fn each_further_output_costs_the_driven_one(r in 1.0..1e5, zl in 10.0..1e6, n in 1_u32..63) {
        let at = |n| tied(n, ohms(r), ohms(zl)).unwrap();
        prop_assert!(at(n + 1).one < at(n).one && at(n).one <= at(n).unrelated && at(n).unrelated <= at(n).same);
    }

    /// The sum is linear: both at once is each alone, added; one reversed against an equal one cancels.
    #[test]
    fn tied_outputs_add_and_cancel(u in -10.0..10.0, w in -10.0..10.0, r in 1.0..1e4, s in 1.0..1e4) {
        let at = |u: f64, w: f64| tied_volts(&[(u, ohms(r)), (w, ohms(s))], ohms(1e4)).unwrap();
        prop_assert!((at(u, w) - at(u, 0.0) - at(0.0, w)).abs() < 1e-9);
        let equal = tied_volts(&[(u, ohms(r)), (-u, ohms(r))], ohms(1e4)).unwrap();
        prop_assert!(equal.abs() < 1e-12);
    }

    #[test]
    fn series_resistors_tame_the_current(u in 0.1..20.0, r in 10.0..1e3, more in 1.01..100.0) {
        let volts = Volts::new(u).unwrap();
        prop_assert!(tied_current(volts, ohms(r * more), ohms(r)) < tied_current(volts, ohms(r), ohms(r)));
    }
}
