use super::*;
use crate::testing::{exact, lg, power, printed, t0};

fn spl(figure: f64) -> DbSpl {
    DbSpl::new(figure).unwrap()
}
fn hours(figure: f64) -> Hours {
    Hours::new(figure).unwrap()
}
fn spell(level: f64, minutes: f64) -> Spell {
    Spell { level: Some(spl(level)), lasting: hours(minutes / 60.0) }
}
fn silence(minutes: f64) -> Spell {
    Spell { level: None, lasting: hours(minutes / 60.0) }
}

/// P-EXP-01. NIOSH 98-126 (1998), chapter 1 and Table 1-1 as reprinted; within a second of the table.
#[test]
fn p_exp_01_niosh_recommended_limit() {
    let cases = [
        (82.0, "960.0000", 57600.0),
        (85.0, "480.0000", 28800.0),
        (86.0, "380.9763", 22859.0),
        (87.0, "302.3811", 18143.0),
        (88.0, "240.0000", 14400.0),
        (89.0, "190.4881", 11429.0),
        (90.0, "151.1905", 9071.0),
        (91.0, "120.0000", 7200.0),
        (92.0, "95.2441", 5715.0),
        (94.0, "60.0000", 3600.0),
        (95.0, "47.6220", 2857.0),
        (97.0, "30.0000", 1800.0),
        (100.0, "15.0000", 900.0),
        (103.0, "7.5000", 450.0),
        (105.0, "4.7247", 283.0),
        (110.0, "1.4882", 89.0),
        (115.0, "0.4688", 28.0),
    ];
    for (level, minutes, seconds) in cases {
        let found = allowed(Rule::Niosh, spl(level)).unwrap().get();
        t0(found * 60.0, 480.0 / power(2.0, (level - 85.0) / 3.0), minutes);
        assert!((found * 3600.0 - seconds).abs() <= 1.0, "{level} dB(A)");
    }
    let weighted = |percent| time_weighted(Rule::Niosh, Percent::new(percent).unwrap()).unwrap().get();
    t0(weighted(200.0), 85.0 + 10.0 * lg(2.0), "88.0103");
    t0(weighted(50.0), 85.0 - 10.0 * lg(2.0), "81.9897");
    let evening = [spell(100.0, 45.0), spell(80.0, 15.0), spell(100.0, 45.0), spell(80.0, 60.0)];
    printed(dose(Rule::Niosh, &evening).unwrap().get(), "604.9216");
    exact(dose(Rule::Niosh, &[spell(79.9, 600.0), spell(85.0, 240.0)]).unwrap().get(), 50.0);
    assert!(time_weighted(Rule::Niosh, Percent::new(0.0).unwrap()).is_err());
}

/// P-EXP-02. 29 CFR 1910.95 Table G-16 (rounded: within 1.1 %) and Table G-16a (half of its last digit).
#[test]
fn p_exp_02_osha_permissible_limit() {
    let cases = [
        (80.0, "32.0000", "32"),
        (81.0, "27.8576", "27.9"),
        (82.0, "24.2515", "24.3"),
        (83.0, "21.1121", "21.1"),
        (84.0, "18.3792", "18.4"),
        (85.0, "16.0000", "16"),
        (86.0, "13.9288", "13.9"),
    ];
    let time = |level| allowed(Rule::Osha, spl(level)).unwrap().get();
    for (level, figure, table) in cases {
        t0(time(level), 8.0 / power(2.0, (level - 90.0) / 5.0), figure);
        printed(time(level), table);
    }
    let rounded = [
        (90.0, "8.0000", 8.0),
        (92.0, "6.0629", 6.0),
        (95.0, "4.0000", 4.0),
        (97.0, "3.0314", 3.0),
        (100.0, "2.0000", 2.0),
        (102.0, "1.5157", 1.5),
        (105.0, "1.0000", 1.0),
        (110.0, "0.5000", 0.5),
        (115.0, "0.2500", 0.25),
    ];
    for (level, figure, table) in rounded {
        t0(time(level), 8.0 / power(2.0, (level - 90.0) / 5.0), figure);
        assert!((time(level) / table - 1.0).abs() <= 0.011, "{level} dB(A)");
    }
    let weighted = |percent| time_weighted(Rule::Osha, Percent::new(percent).unwrap()).unwrap().get();
    printed(weighted(50.0), "84.9999");
    printed(weighted(200.0), "95.0001");
    printed(dose(Rule::Osha, &[spell(92.0, 480.0)]).unwrap().get(), "131.9508");
    assert!(allowed(Rule::Osha, spl(115.1)).is_err());
    assert!(Rule::Osha.name().contains("OSHA") && Rule::Niosh.name().contains("NIOSH"));
}

/// P-EXP-03. ISO 9612:2009 Annexes D and E; within 0.1 dB, because the standard rounds each step to 0.1.
#[test]
fn p_exp_03_equivalent_level_and_daily_exposure() {
    let mean = |readings: &[f64]| {
        energy_mean(&readings.iter().map(|&reading| spl(reading)).collect::<Vec<_>>()).unwrap().get()
    };
    let annex_d = [
        spell(70.0, 90.0),
        spell(mean(&[80.1, 82.2, 79.6]), 300.0),
        spell(mean(&[86.5, 92.4, 89.3, 93.2, 87.8, 86.2]), 90.0),
    ];
    let found = daily(&annex_d).unwrap().get();
    printed(found, "84.2940");
    assert!((found - 84.3).abs() <= 0.1);
    let annex_e = [spell(mean(&[88.1, 86.1, 89.7, 86.5, 91.1, 86.7]), 450.0)];
    let found = daily(&annex_e).unwrap().get();
    printed(found, "88.1593");
    assert!((found - 88.1).abs() <= 0.1);
    t0(daily(&[spell(95.0, 180.0)]).unwrap().get(), 95.0 + 10.0 * lg(3.0 / 8.0), "90.7403");
    printed(equivalent(&[spell(90.0, 60.0), spell(80.0, 60.0)]).unwrap().get(), "87.4036");
    let evening = [spell(100.0, 45.0), spell(70.0, 15.0), spell(100.0, 45.0), spell(80.0, 60.0)];
    printed(daily(&evening).unwrap().get(), "92.7596");
    assert_eq!(equivalent(&[silence(60.0)]), None);
    assert_eq!(energy_mean(&[]), None);
}

/// P-EXP-04. Directive 2003/10/EC, Article 3(1); SCENIHR 2008 opinion, table 3.
#[test]
fn p_exp_04_european_action_and_limit_values() {
    let printed_peaks = [("134.9638", 135.0), ("136.9020", 137.0), ("140.0000", 140.0)];
    for (value, (figure, called)) in EUROPEAN.iter().zip(printed_peaks) {
        let peak = crate::levels::spl_of(value.peak).unwrap().get();
        printed(peak, figure);
        assert!((peak - called).abs() <= 0.1 + 1e-9, "{}", value.name);
    }
    assert_eq!(EUROPEAN.map(|value| value.daily), [spl(80.0), spl(85.0), spl(87.0)]);
    let pairs = [
        (4.0, "88.0103", "88"),
        (2.0, "91.0206", "91"),
        (1.0, "94.0309", "94"),
        (0.5, "97.0412", "97"),
        (0.25, "100.0515", "100"),
        (1.0 / 12.0, "104.8227", "105"),
    ];
    for (time, figure, table) in pairs {
        let found = same_exposure(spl(85.0), hours(time)).unwrap().get();
        t0(found, 85.0 + 10.0 * lg(8.0 / time), figure);
        printed(found, table);
    }
}

/// P-EXP-05. WHO, *Global standard for safe listening venues and events* (2022), feature 1.
#[test]
fn p_exp_05_venues_and_events() {
    let quarter = |spells: &[Spell]| loudest_quarter(spells).unwrap().get();
    let inside = [spell(103.0, 5.0), spell(97.0, 10.0)];
    printed(quarter(&inside), "99.9966");
    assert!(venue_allows(&inside));
    printed(quarter(&[spell(104.7712, 5.0), silence(10.0)]), "100.0000");
    let above = [spell(90.0, 60.0), spell(101.0, 15.0), spell(90.0, 60.0)];
    exact(quarter(&above), 101.0);
    assert!(!venue_allows(&above));
    assert!(venue_allows(&[spell(100.0, 15.0)]) && venue_allows(&[silence(15.0)]));
    printed(pascal_squared_hours(spl(100.0), hours(0.25)), "1.000000");
    // The window lies across two spells, in the middle of an evening.
    let across = [spell(85.0, 30.0), spell(99.0, 10.0), spell(102.0, 5.0), spell(85.0, 30.0)];
    exact(quarter(&across), quarter(&[spell(99.0, 10.0), spell(102.0, 5.0)]));
}
