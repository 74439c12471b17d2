use super::*;
use crate::testing::{exact, printed, t0};
use proptest::prelude::*;

fn volts(figure: f64) -> Volts {
    Volts::new(figure).unwrap()
}
fn ohms(figure: f64) -> Ohms {
    Ohms::new(figure).unwrap()
}
fn milliamps(figure: f64) -> Amps {
    Amps::new(figure / 1000.0).unwrap()
}

/// P-PHA-01. IEC 61938:2018, by the encyclopedia article "Phantom power", a microphone manual and a design note;
/// P12 and P24 tolerances and P24 current from memory.
#[test]
fn p_pha_01_variants() {
    let table = [
        ("P12", 12.0, (11.0, 13.0), 680.0, 15.0),
        ("P24", 24.0, (20.0, 28.0), 1200.0, 10.0),
        ("P48", 48.0, (44.0, 52.0), 6800.0, 10.0),
        ("P12L", 12.0, (12.0, 12.0), 3300.0, 4.0),
        ("SP48", 48.0, (48.0, 48.0), 2200.0, 22.0),
    ];
    for (found, (name, nominal, (least, most), leg, current)) in VARIANTS.iter().zip(table) {
        assert_eq!(found.name, name);
        exact(found.nominal.get(), nominal);
        exact(found.supply.least().get(), least);
        exact(found.supply.most().get(), most);
        exact(found.leg.get(), leg);
        exact(found.most_current.get(), current / 1000.0);
        assert!(found.supply.least() <= found.supply.most(), "a table row is in order");
    }
}

/// P-PHA-02. Ohm's law; resistors from IEC 61938:2018.
#[test]
fn p_pha_02_volts_at_the_microphone() {
    let cases = [
        (48.0, 6800.0, 0.7, "45.620"),
        (48.0, 6800.0, 2.0, "41.200"),
        (48.0, 6800.0, 3.0, "37.800"),
        (48.0, 6800.0, 5.0, "31.000"),
        (48.0, 6800.0, 7.0, "24.200"),
        (48.0, 6800.0, 10.0, "14.000"),
        (48.0, 6810.0, 10.0, "13.950"),
        (44.0, 6800.0, 5.0, "27.000"),
        (52.0, 6800.0, 5.0, "35.000"),
        (12.0, 680.0, 15.0, "6.900"),
        (12.0, 680.0, 3.0, "10.980"),
    ];
    for (u, r, i, figure) in cases {
        let found = volts_at_microphone(volts(u), ohms(r), milliamps(i)).unwrap();
        t0(found.get(), u - i * 0.001 * r / 2.0, figure);
    }
    let range = volts_from(&P48, milliamps(5.0)).unwrap();
    printed(range.least().get(), "27.000");
    printed(range.most().get(), "35.000");
    assert!(volts_from(&P48, milliamps(10.1)).is_err());
    assert!(volts_at_microphone(volts(48.0), ohms(6800.0), milliamps(14.2)).is_err());
}

/// P-PHA-03. A wiki's article "phantom power" prints 170 mW (P48) and 22 mW (P12L); a design manual prints about 14 mA
/// short circuit and 10.2 mA for the last case. The other figures are computed from the formulas.
#[test]
fn p_pha_03_most_power_and_fault_currents() {
    let cases = [
        (P12, "105.882", "35.2941", "17.6471"),
        (P48, "169.412", "14.1176", "7.0588"),
        (P12L, "21.818", "7.2727", "3.6364"),
    ];
    for (variant, power, both, one) in cases {
        let (u, r) = (variant.nominal.get(), variant.leg.get());
        t0(1e3 * most_power(variant.nominal, variant.leg).get(), 1e3 * u * u / (2.0 * r), power);
        t0(1e3 * both_legs_shorted(variant.nominal, variant.leg).get(), 2e3 * u / r, both);
        t0(1e3 * one_leg_shorted(variant.nominal, variant.leg).get(), 1e3 * u / r, one);
    }
    // The published figures, each to half of its last digit (two digits: 170 stands for 165 to 175).
    printed(100.0 * most_power(P48.nominal, P48.leg).get(), "17");
    printed(1e3 * most_power(P12L.nominal, P12L.leg).get(), "22");
    printed(1e3 * both_legs_shorted(P48.nominal, P48.leg).get(), "14");
    let held = current_into(volts(48.0), ohms(6810.0), ohms(220.0), volts(12.0)).unwrap();
    t0(1e3 * held.get(), 36.0 / 7030.0 * 2e3, "10.2418");
    printed(1e3 * held.get(), "10.2");
    assert!(current_into(volts(48.0), ohms(6810.0), ohms(220.0), volts(49.0)).is_err());
}

/// P-PHA-04. Encyclopedia article "Phantom power" for the grounded leg; the rest common practice.
#[test]
fn p_pha_04_what_phantom_must_not_meet() {
    for harmful in [Meets::GroundedLeg, Meets::UnguardedOutput, Meets::Ribbon, Meets::LivePlug] {
        assert_eq!(meeting(harmful), Meeting::Harmful, "{harmful:?}");
    }
    assert_eq!(meeting(Meets::IsolatedSide), Meeting::NoneArrives);
    assert_eq!(meeting(Meets::DirectLeg), Meeting::Fine);
    assert_eq!(meeting(Meets::MadeForIt), Meeting::Fine);
}

/// Data sheets name the supply, not the contacts: "44 to 52 V, 5 mA" is fed by P48 though only 31 V arrive.
#[test]
fn a_need_is_judged_by_supply_current_and_volts_left() {
    let need = |least, most, current, at_contacts: Option<f64>| Need {
        supply: Between::new(volts(least), volts(most)),
        current: milliamps(current),
        least_at_contacts: at_contacts.map(volts),
    };
    let arrives = volts_from(&P48, milliamps(5.0)).unwrap();
    assert_eq!(feed(&P48, &need(44.0, 52.0, 5.0, None)), Feed::Fed(arrives));
    assert_eq!(feed(&P12, &need(44.0, 52.0, 5.0, None)), Feed::SupplyTooLow);
    assert_eq!(feed(&P48, &need(9.0, 12.0, 5.0, None)), Feed::SupplyTooHigh);
    assert_eq!(feed(&P48, &need(44.0, 52.0, 12.0, None)), Feed::TooMuchCurrent);
    let left = arrives.least();
    assert_eq!(feed(&P48, &need(9.0, 52.0, 5.0, Some(30.0))), Feed::TooFewVoltsLeft(left));
    assert_eq!(feed(&P48, &need(9.0, 52.0, 5.0, Some(26.0))), Feed::Fed(arrives));
}

#[test]
fn a_bank_counts_every_microphone() {
    assert!(bank_carries(milliamps(30.0), &[milliamps(10.0); 3]));
    assert!(!bank_carries(milliamps(30.0), &[milliamps(10.1); 3]));
    assert!(bank_carries(milliamps(0.0), &[]));
}

proptest! {
    #[test]
    fn more_current_leaves_fewer_volts(u in 9.0..52.0, r in 600.0..7000.0, share in 0.0..0.9) {
        let most = both_legs_shorted(volts(u), ohms(r)).get();
        let at = |part: f64| volts_at_microphone(volts(u), ohms(r), Amps::new(most * part).unwrap()).unwrap();
        prop_assert!(at(share + 0.05) < at(share));
    }

    #[test]
    fn shorting_both_legs_leaves_nothing(u in 9.0..52.0, r in 600.0..7000.0) {
        let left = volts_at_microphone(volts(u), ohms(r), both_legs_shorted(volts(u), ohms(r))).unwrap();
        prop_assert!(left.get() < 1e-9);
    }

    /// Nothing that can be drawn exceeds the most power, and it is reached at half of the volts.
    #[test]
    fn most_power_is_the_most(u in 9.0..52.0, r in 600.0..7000.0, share in 0.0..1.0) {
        let current = Amps::new(both_legs_shorted(volts(u), ohms(r)).get() * share).unwrap();
        let drawn = volts_at_microphone(volts(u), ohms(r), current).unwrap().get() * current.get();
        prop_assert!(drawn <= most_power(volts(u), ohms(r)).get() * (1.0 + 1e-12));
        let best = one_leg_shorted(volts(u), ohms(r));
        let at_best = volts_at_microphone(volts(u), ohms(r), best).unwrap().get() * best.get();
        prop_assert!((at_best - most_power(volts(u), ohms(r)).get()).abs() < 1e-12);
    }

    /// A device that holds no voltage behind next to no resistance is the short circuit.
    #[test]
    fn a_device_holding_nothing_is_a_short(u in 9.0..52.0, r in 600.0..7000.0) {
        let through = current_into(volts(u), ohms(r), ohms(0.001), volts(0.0)).unwrap();
        prop_assert!((through.get() / both_legs_shorted(volts(u), ohms(r)).get() - 1.0).abs() < 1e-5);
    }
}
