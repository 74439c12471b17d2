use super::*;
use crate::testing::{exact, lg, power, printed, t0};
use proptest::prelude::*;

fn dbu(level: f64) -> Dbu {
    Dbu::new(level).unwrap()
}
fn volts(figure: f64) -> Volts {
    Volts::new(figure).unwrap()
}
fn spl(level: f64) -> DbSpl {
    DbSpl::new(level).unwrap()
}

/// P-LVL-01. Definition of dBu: ITU-R V.574, ITU-T G.100.1, from memory.
#[test]
fn p_lvl_01_dbu_and_volts() {
    for (level, figure) in [(0.0, "0.774597"), (4.0, "1.227653"), (-20.0, "0.0774597"), (24.0, "12.27653")] {
        t0(volts_of(dbu(level)).get(), 0.6_f64.sqrt() * power(10.0, level / 20.0), figure);
    }
    for (u, figure) in [(1.0, "2.2185"), (2.0, "8.2391")] {
        t0(dbu_of(volts(u)).unwrap().get(), 20.0 * lg(u / 0.6_f64.sqrt()), figure);
    }
    // 1 mW in 600 ohm.
    exact(
        amplifier_volts(Watts::new(0.001).unwrap(), Ohms::new(600.0).unwrap()).get(),
        volts_of(dbu(0.0)).get(),
    );
    assert!(dbu_of(volts(0.0)).is_err());
    assert!(Volts::new(-1.0).is_err());
}

/// P-LVL-02. Definition; the pair -130.9 dBu and -133 dBV for one noise voltage is in a trade article,
/// "Why the Noise on Microphone Preamplifiers?".
#[test]
fn p_lvl_02_dbv_and_dbu() {
    let offset = 20.0 * lg(0.6_f64.sqrt());
    t0(dbv_of(dbu(0.0)).get(), offset, "-2.2185");
    t0(dbu_of_dbv(Dbv::new(0.0).unwrap()).get(), -offset, "2.2185");
    let consumer = dbu_of_dbv(Dbv::new(-10.0).unwrap());
    t0(consumer.get(), -10.0 - offset, "-7.7815");
    printed(volts_of(consumer).get(), "0.316228");
    printed(dbv_of(dbu(-130.9)).get(), "-133");
}

/// P-LVL-03. Nominal levels: common practice; arithmetic from P-LVL-02.
#[test]
fn p_lvl_03_the_two_line_levels() {
    let consumer = dbu_of_dbv(Dbv::new(-10.0).unwrap());
    t0((dbu(4.0) - consumer).get(), 14.0 + 20.0 * lg(0.6_f64.sqrt()), "11.78151");
    printed((dbu(4.0) - consumer).get(), "11.7815");
}

/// P-LVL-04. Mathematics.
#[test]
fn p_lvl_04_peak_and_crest() {
    t0(crest(volts(SQRT_2), volts(1.0)).unwrap().get(), 20.0 * lg(SQRT_2), "3.0103");
    printed(crest(volts(3.0), volts(3.0)).unwrap().get(), "0");
    t0(sine_peak_to_peak(dbu(4.0)).get(), 2.0 * SQRT_2 * 0.6_f64.sqrt() * power(10.0, 0.2), "3.47233");
    t0(sine_from_peak(dbu(22.0)).get(), 22.0 - 20.0 * lg(SQRT_2), "18.9897");
    assert!(crest(volts(1.0), volts(0.0)).is_err());
    assert!(crest(volts(0.5), volts(1.0)).is_err());
}

/// P-LVL-05. Definition.
#[test]
fn p_lvl_05_headroom_and_signal_to_noise() {
    exact(headroom(dbu(24.0), dbu(4.0)).get(), 20.0);
    let consumer = dbu_of_dbv(Dbv::new(-10.0).unwrap());
    t0(headroom(dbu(24.0), consumer).get(), 34.0 + 20.0 * lg(0.6_f64.sqrt()), "31.7815");
    t0(signal_to_noise(dbu(0.0), dbu(-85.8756)).get(), 85.8756, "85.8756");
    for (bits, figure) in [(16, "98.091"), (24, "146.255")] {
        let formula = 20.0 * lg(power(2.0, f64::from(bits))) + 10.0 * lg(1.5);
        t0(quantising_signal_to_noise(bits).unwrap().get(), formula, figure);
    }
    assert!(quantising_signal_to_noise(0).is_err());
}

/// P-LVL-06. Handbooks of acoustics, from memory; 3 dB per doubling confirmed by P-ROOM-11, 6 dB by P-ROOM-01.
#[test]
fn p_lvl_06_adding_levels() {
    let table = [
        (0.0, "3.0103", "6.0206"),
        (1.0, "2.5390", "5.5350"),
        (2.0, "2.1244", "5.0780"),
        (3.0, "1.7643", "4.6495"),
        (4.0, "1.4554", "4.2489"),
        (5.0, "1.1933", "3.8755"),
        (6.0, "0.9732", "3.5287"),
        (8.0, "0.6389", "2.9108"),
        (10.0, "0.4139", "2.3866"),
        (15.0, "0.1352", "1.4216"),
        (20.0, "0.0432", "0.8279"),
    ];
    for (apart, unrelated, in_step) in table {
        let pair = [dbu(0.0), dbu(-apart)];
        let formula = |per| per * lg(1.0 + power(10.0, -apart / per));
        t0(unrelated_sum(&pair).unwrap().get(), formula(10.0), unrelated);
        t0(in_step_sum(&pair).unwrap().get(), formula(20.0), in_step);
    }
    t0(unrelated_sum(&[spl(90.0); 3]).unwrap().get(), 90.0 + 10.0 * lg(3.0), "94.7712");
    let three = [spl(80.0), spl(85.0), spl(90.0)];
    let formula = 10.0 * lg(power(10.0, 8.0) + power(10.0, 8.5) + power(10.0, 9.0));
    t0(unrelated_sum(&three).unwrap().get(), formula, "91.5113");
    printed(tone_sum(dbu(0.0), dbu(0.0), 90.0).unwrap().get(), "3.0103");
    printed(tone_sum(dbu(0.0), dbu(0.0), 120.0).unwrap().get(), "0.0000");
    assert_eq!(tone_sum(dbu(0.0), dbu(0.0), 180.0), None);
    let formula = 10.0 * lg(power(10.0, 6.0) - power(10.0, 5.3));
    t0(without_background(spl(60.0), spl(53.0)).unwrap().get(), formula, "59.0335");
    assert_eq!(without_background(spl(53.0), spl(53.0)), None);
    assert_eq!(unrelated_sum::<Dbu>(&[]), None);
}

/// P-LVL-07. Mathematics; 2.83 V for 1 W in 8 ohm is usual in loudspeaker data.
#[test]
fn p_lvl_07_amplifier_output_as_a_line_level() {
    let eight = Ohms::new(8.0).unwrap();
    for (watts, u, level) in [(1.0, "2.82843", "11.2494"), (100.0, "28.28427", "31.2494")] {
        let output = amplifier_volts(Watts::new(watts).unwrap(), eight);
        t0(output.get(), (watts * 8.0).sqrt(), u);
        t0(dbu_of(output).unwrap().get(), 20.0 * lg((watts * 8.0 / 0.6).sqrt()), level);
    }
    let power = power_into(Ohms::new(4.0).unwrap(), volts(2.83));
    t0(power.get(), 2.83 * 2.83 / 4.0, "2.00223");
    // "86 dB at 2.83 V" on 4 ohm is 86 dB at 2 W, so 82.99 dB at 1 W.
    let at_two_watts =
        crate::room::on_axis(spl(82.99), Watts::new(2.0).unwrap(), crate::Metres::new(1.0).unwrap());
    printed(at_two_watts.unwrap().get(), "86.00");
    printed(power.get(), "2");
}

/// P-LVL-08. IEC 61672-1; the peak action values of Directive 2003/10/EC agree.
#[test]
fn p_lvl_08_spl_and_pascals() {
    for (pascals, figure) in [(1.0, "93.9794"), (20.0, "120.0000"), (200.0, "140.0000")] {
        let found = spl_of(Pascals::new(pascals).unwrap()).unwrap();
        t0(found.get(), 20.0 * lg(pascals / 20e-6), figure);
    }
    assert!(spl_of(Pascals::new(0.0).unwrap()).is_err());
    assert!(spl_of(Pascals::new(1e6).unwrap()).is_err(), "214 dB is no sound");
}

proptest! {
    #[test]
    fn volts_and_dbu_undo_each_other(level in -200.0..100.0) {
        let back = dbu_of(volts_of(dbu(level))).unwrap().get();
        prop_assert!((back - level).abs() < 1e-9);
    }

    #[test]
    fn more_volts_are_a_higher_level(u in 1e-9..700.0, more in 1.000_001..100.0) {
        prop_assert!(dbu_of(volts(u * more)).unwrap() > dbu_of(volts(u)).unwrap());
    }

    #[test]
    fn the_references_stay_the_same_distance_apart(level in -190.0..90.0) {
        prop_assert!((dbu_of_dbv(dbv_of(dbu(level))).get() - level).abs() < 1e-9);
    }

    /// Dimension: ten times the volts are 20 dB, ten times the watts 10 dB.
    #[test]
    fn a_decade_of_power_is_ten_decibels(watts in 1e-3..1e4, r in 1.0..1e3) {
        let level = |w| dbu_of(amplifier_volts(Watts::new(w).unwrap(), Ohms::new(r).unwrap())).unwrap();
        prop_assert!(((level(10.0 * watts) - level(watts)).get() - 10.0).abs() < 1e-9);
    }

    #[test]
    fn power_and_volts_undo_each_other(watts in 1e-3..1e4, r in 0.1..1e4) {
        let load = Ohms::new(r).unwrap();
        let back = power_into(load, amplifier_volts(Watts::new(watts).unwrap(), load)).get();
        prop_assert!((back - watts).abs() < 1e-9 * watts);
    }

    /// A sum is never below the loudest, in step never below unrelated, and the order does not matter.
    #[test]
    fn sums_are_ordered_and_symmetric(a in -150.0..50.0, b in -150.0..50.0) {
        let (forth, back) = ([dbu(a), dbu(b)], [dbu(b), dbu(a)]);
        let (unrelated, in_step) = (unrelated_sum(&forth).unwrap(), in_step_sum(&forth).unwrap());
        prop_assert!(dbu(a.max(b)) <= unrelated && unrelated <= in_step);
        prop_assert!((unrelated - unrelated_sum(&back).unwrap()).get().abs() < 1e-9);
        prop_assert!((in_step - in_step_sum(&back).unwrap()).get().abs() < 1e-9);
    }

    /// A second way: the two as arrows laid end to end.
    #[test]
    fn a_tone_sum_is_the_length_of_two_arrows(a in -40.0..10.0, degrees in 0_i32..24) {
        let (long, short) = (1.0, power(10.0, a / 20.0));
        let angle = f64::from(degrees) * PI / 12.0;
        let length = ((long + short * math::cos(angle)).powi(2) + (short * math::cos(angle - PI / 2.0)).powi(2)).sqrt();
        if let Some(found) = tone_sum(dbu(0.0), dbu(a), f64::from(degrees) * 15.0) {
            prop_assert!((found.get() - 20.0 * lg(length)).abs() < 1e-6);
            prop_assert_eq!(Some(found), tone_sum(dbu(a), dbu(0.0), f64::from(degrees) * 15.0));
        }
    }

    /// The angle decides where between cancelling and in step a tone lands.
    #[test]
    fn a_tone_sum_lies_within_the_in_step_sum(a in -50.0..0.0, degrees in -720.0..720.0) {
        let (one, other) = (dbu(0.0), dbu(a));
        let most = in_step_sum(&[one, other]).unwrap().get();
        if let Some(found) = tone_sum(one, other, degrees) {
            prop_assert!(found.get() <= most + 1e-9);
            let turned = tone_sum(one, other, -degrees).unwrap();
            prop_assert!((turned - found).get().abs() < 1e-9);
        }
    }

    #[test]
    fn taking_the_background_out_undoes_adding_it(a in 0.0..100.0, apart in 0.0..40.0) {
        let (tone, background) = (spl(a), spl(a - apart));
        let total = unrelated_sum(&[tone, background]).unwrap();
        prop_assert!((without_background(total, background).unwrap() - tone).get().abs() < 1e-6);
    }
}
