//! Low-voltage supplies: volts, polarity, direct or alternating, and enough current.
//!
//! The plug fits many wrong supplies, so each of the four is asked. Too many volts, the wrong polarity or alternating
//! current can destroy the gear (and a battery behind a wrong supply can burn); too few volts or too little current only fail.

use crate::{Amps, Between, Volts, range::at_most};

/// Which contact of a barrel plug is positive.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Polarity {
    /// Centre negative: usual for pedals at 9 V (common practice).
    CentreNegative,
    /// Centre positive: usual for keyboards and much else (common practice).
    CentrePositive,
}

/// What comes out of the plug.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Direct current, with its polarity.
    Direct(Polarity),
    /// Direct current over a plug that fits one way round only (USB, a locking plug): polarity cannot be wrong.
    DirectKeyed,
    /// Alternating current.
    Alternating,
}

/// One outlet of a supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Outlet {
    /// Volts under load.
    pub volts: Volts,
    /// Direct or alternating, and the polarity.
    pub kind: Kind,
    /// Most current, A.
    pub most: Amps,
}

/// What a piece of gear asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// The volts it is made for; one figure for most gear.
    pub volts: Between<Volts>,
    /// Direct or alternating, and the polarity.
    pub kind: Kind,
    /// Most current it draws, A.
    pub current: Amps,
}

/// One reason why an outlet does not feed a need. The hazards come last, so the worst is `max`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Misfit {
    /// Short by this many amperes.
    TooLittleCurrent(Amps),
    /// Fewer volts than it is made for: fails or crackles, harms nothing.
    TooFewVolts,
    /// More volts than it is made for.
    TooManyVolts,
    /// Plus and minus the wrong way round.
    WrongPolarity,
    /// Alternating into direct, or the other way.
    WrongKind,
}

impl Misfit {
    /// Could it destroy gear or start a fire?
    pub fn is_hazard(self) -> bool {
        match self {
            Misfit::TooLittleCurrent(_) | Misfit::TooFewVolts => false,
            Misfit::TooManyVolts | Misfit::WrongPolarity | Misfit::WrongKind => true,
        }
    }
}

/// Everything wrong between an outlet and a need, worst last; empty when it feeds.
///
/// Source: common practice (9 V pedals: 2.1 × 5.5 mm, centre negative).
pub fn misfits(outlet: &Outlet, need: &Need) -> Vec<Misfit> {
    let mut found = Vec::new();
    if let Err(short) = spare(outlet.most, &[need.current]) {
        found.push(Misfit::TooLittleCurrent(short));
    }
    if outlet.volts < need.volts.least() {
        found.push(Misfit::TooFewVolts);
    }
    if outlet.volts > need.volts.most() {
        found.push(Misfit::TooManyVolts);
    }
    match (outlet.kind, need.kind) {
        (Kind::Direct(given), Kind::Direct(wanted)) if given != wanted => found.push(Misfit::WrongPolarity),
        (Kind::Alternating, Kind::Direct(_) | Kind::DirectKeyed)
        | (Kind::Direct(_) | Kind::DirectKeyed, Kind::Alternating) => found.push(Misfit::WrongKind),
        (Kind::Direct(_) | Kind::DirectKeyed, Kind::Direct(_) | Kind::DirectKeyed)
        | (Kind::Alternating, Kind::Alternating) => {}
    }
    found
}

/// What a supply has left after all these loads: `Imax − Σ I`, A. Ask for each outlet and for the whole supply.
///
/// Valid for any currents. Source: Kirchhoff; loads add, common practice.
///
/// # Errors
/// How many amperes are missing, when the loads are too much.
pub fn spare(most: Amps, loads: &[Amps]) -> Result<Amps, Amps> {
    let load: Amps = loads.iter().copied().sum();
    let left = most.get() - load.get();
    if at_most(load.get(), most.get()) {
        Ok(Amps::computed(left.max(0.0)))
    } else {
        Err(Amps::computed(-left))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::exact;
    use proptest::prelude::*;

    fn volts(figure: f64) -> Volts {
        Volts::new(figure).unwrap()
    }
    fn milliamps(figure: f64) -> Amps {
        Amps::new(figure / 1000.0).unwrap()
    }
    const NEGATIVE: Kind = Kind::Direct(Polarity::CentreNegative);
    fn outlet(u: f64, kind: Kind, most: f64) -> Outlet {
        Outlet { volts: volts(u), kind, most: milliamps(most) }
    }
    fn pedal(current: f64) -> Need {
        Need { volts: Between::exactly(volts(9.0)), kind: NEGATIVE, current: milliamps(current) }
    }

    /// P-PWR-08. Common practice, no source.
    #[test]
    fn p_pwr_08_dc_supplies() {
        let loads = [10.0, 65.0, 100.0, 30.0].map(milliamps);
        exact(loads.into_iter().sum::<Amps>().get(), 0.205);
        exact(spare(milliamps(500.0), &loads).unwrap().get(), 0.295);
        exact(spare(milliamps(200.0), &loads).unwrap_err().get(), 0.005);
        assert_eq!(misfits(&outlet(9.0, NEGATIVE, 500.0), &pedal(205.0)), []);
        let wrong = [
            (outlet(12.0, NEGATIVE, 500.0), Misfit::TooManyVolts),
            (outlet(9.0, Kind::Direct(Polarity::CentrePositive), 500.0), Misfit::WrongPolarity),
            (outlet(9.0, Kind::Alternating, 500.0), Misfit::WrongKind),
        ];
        for (given, misfit) in wrong {
            assert_eq!(misfits(&given, &pedal(100.0)), [misfit]);
            assert!(misfit.is_hazard());
        }
    }

    #[test]
    fn too_little_only_fails() {
        let found = misfits(&outlet(5.0, NEGATIVE, 50.0), &pedal(100.0));
        assert_eq!(found.len(), 2);
        assert!(found.iter().all(|misfit| !misfit.is_hazard()), "{found:?}");
    }

    /// Gear marked "9 to 12 V" takes either end and what lies between, and nothing beyond.
    #[test]
    fn a_range_of_volts_takes_both_ends() {
        let need = Need { volts: Between::new(volts(9.0), volts(12.0)), ..pedal(100.0) };
        for fine in [9.0, 10.5, 12.0] {
            assert_eq!(misfits(&outlet(fine, NEGATIVE, 500.0), &need), [], "{fine} V");
        }
        assert_eq!(misfits(&outlet(6.0, NEGATIVE, 500.0), &need), [Misfit::TooFewVolts]);
        assert_eq!(misfits(&outlet(15.0, NEGATIVE, 500.0), &need), [Misfit::TooManyVolts]);
    }

    #[test]
    fn the_worst_comes_last_and_is_the_greatest() {
        let found = misfits(&outlet(12.0, Kind::Alternating, 50.0), &pedal(100.0));
        assert_eq!(found.iter().max(), found.last());
        assert_eq!(found.last(), Some(&Misfit::WrongKind));
    }

    #[test]
    fn three_pedals_of_a_tenth_fit_three_tenths() {
        assert_eq!(spare(milliamps(300.0), &[milliamps(100.0); 3]), Ok(milliamps(0.0)));
    }

    proptest! {
        /// One more load never leaves more.
        #[test]
        fn another_load_leaves_less(most in 0.0..5000.0, a in 0.0..3000.0, b in 0.0..3000.0) {
            let left = |loads: &[Amps]| match spare(milliamps(most), loads) {
                Ok(left) => left.get(),
                Err(short) => -short.get(),
            };
            prop_assert!(left(&[milliamps(a), milliamps(b)]) <= left(&[milliamps(a)]) + 1e-9);
        }

        #[test]
        fn a_supply_feeds_exactly_what_it_is_made_for(u in 3.0..24.0, most in 1.0..3000.0) {
            let given = outlet(u, NEGATIVE, most);
            let need = Need { volts: Between::exactly(given.volts), kind: NEGATIVE, current: given.most };
            prop_assert_eq!(misfits(&given, &need), vec![]);
        }
    }
}
