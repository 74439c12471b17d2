//! Volts, amperes, ohms and what conductors and windings are measured in.

use super::{adds_up, quantity};

quantity! {
    /// A voltage, never negative: root mean square for a signal or the mains, plain for direct current.
    Volts, "voltage", "V", 0.0, 1e6
}

quantity! {
    /// A current, never negative.
    Amps, "current", "A", 0.0, 1e5
}

quantity! {
    /// An impedance taken as a resistance. Never zero: a source quoted as "0 ohm" is entered as 0.001.
    Ohms, "impedance", "ohm", 1e-3, 1e12
}

quantity! {
    /// The resistance of a lead, out and back. May be zero, as a lead may have no length worth counting.
    LeadOhms, "lead resistance", "ohm", 0.0, 1e6
}

quantity! {
    /// Resistance of one conductor, for each kilometre.
    OhmsPerKilometre, "conductor resistance", "ohm/km", 1e-3, 1e5
}

quantity! {
    /// Cross-section of one conductor.
    SquareMillimetres, "conductor area", "mm2", 1e-3, 1e3
}

quantity! {
    /// Power turned into heat, sound or work.
    Watts, "power", "W", 0.0, 1e7
}

quantity! {
    /// Volts times amperes, whatever their phase: what an outlet or a breaker must carry.
    VoltAmps, "apparent power", "VA", 0.0, 1e7
}

quantity! {
    /// Power over apparent power. 1 for a heater; 0.5 to 0.7 for a plain plug-in supply.
    PowerFactor, "power factor", "", 0.05, 1.0
}

quantity! {
    /// A capacitance.
    Farads, "capacitance", "F", 1e-15, 1.0
}

quantity! {
    /// An inductance.
    Henries, "inductance", "H", 1e-12, 1e4
}

quantity! {
    /// Turns on the source's side over turns on the load's side: 12 for a "12:1" step-down transformer.
    TurnsRatio, "turns ratio", "", 1e-3, 1e3
}

adds_up!(Volts, Amps, Watts, VoltAmps, LeadOhms);

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn an_impedance_of_nothing_is_refused_in_plain_words() {
        let problem = Ohms::new(0.0).unwrap_err();
        assert_eq!(problem.to_string(), "impedance must be 0.001 to 1000000000000 ohm, found 0");
    }

    #[test]
    fn figures_print_with_their_unit_and_the_asked_decimals() {
        assert_eq!(Ohms::new(150.0).unwrap().to_string(), "150 ohm");
        assert_eq!(format!("{:.2}", Volts::new(1.2277).unwrap()), "1.23 V");
        assert_eq!(PowerFactor::new(0.6).unwrap().to_string(), "0.6");
    }

    #[test]
    fn minus_zero_is_zero() {
        assert_eq!(Volts::new(-0.0).unwrap().cmp(&Volts::new(0.0).unwrap()), std::cmp::Ordering::Equal);
        assert_eq!(Volts::new(-0.0).unwrap().to_string(), "0 V");
    }

    proptest! {
        #[test]
        fn any_bits_are_a_figure_in_range_or_an_error(bits in any::<u64>()) {
            let figure = f64::from_bits(bits);
            let in_range = (Ohms::LEAST..=Ohms::MOST).contains(&figure);
            prop_assert_eq!(Ohms::new(figure).is_ok(), in_range);
            prop_assert_eq!(Volts::new(figure).is_ok(), (Volts::LEAST..=Volts::MOST).contains(&figure));
        }

        #[test]
        fn the_order_is_that_of_the_figures(a in 0.0..1e6, b in 0.0..1e6) {
            prop_assert_eq!(Volts::new(a).unwrap() < Volts::new(b).unwrap(), a < b);
        }
    }
}
