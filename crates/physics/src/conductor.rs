//! Copper conductors: resistance by cross-section or by gauge, and how it grows when the lead is warm.

use crate::{Kelvin, LeadOhms, Metres, OhmsPerKilometre, OutOfRange, SquareMillimetres, math, range::within};
use std::f64::consts::PI;

/// A cross-section of flexible lead, as printed on its jacket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// 0.5 mm².
    Half,
    /// 0.75 mm².
    ThreeQuarters,
    /// 1 mm².
    One,
    /// 1.5 mm².
    OneAndAHalf,
    /// 2.5 mm².
    TwoAndAHalf,
}

impl Section {
    /// All, thinnest first.
    pub const ALL: [Section; 5] =
        [Section::Half, Section::ThreeQuarters, Section::One, Section::OneAndAHalf, Section::TwoAndAHalf];

    /// The nominal area, mm².
    pub fn area(self) -> SquareMillimetres {
        SquareMillimetres::computed(match self {
            Section::Half => 0.5,
            Section::ThreeQuarters => 0.75,
            Section::One => 1.0,
            Section::OneAndAHalf => 1.5,
            Section::TwoAndAHalf => 2.5,
        })
    }

    /// Largest resistance at 20 °C of one flexible conductor (class 5, plain wires), ohm/km.
    ///
    /// Source: IEC 60228:2004 Table 3.
    pub fn flexible(self) -> OhmsPerKilometre {
        OhmsPerKilometre::computed(match self {
            Section::Half => 39.0,
            Section::ThreeQuarters => 26.0,
            Section::One => 19.5,
            Section::OneAndAHalf => 13.3,
            Section::TwoAndAHalf => 7.98,
        })
    }

    /// The same for stranded conductors of fixed wiring (class 2), ohm/km. For comparison: a lead is never class 2.
    ///
    /// Source: IEC 60228:2004, as three cable-engineering pages print it.
    pub fn fixed(self) -> OhmsPerKilometre {
        OhmsPerKilometre::computed(match self {
            Section::Half => 36.0,
            Section::ThreeQuarters => 24.5,
            Section::One => 18.1,
            Section::OneAndAHalf => 12.1,
            Section::TwoAndAHalf => 7.41,
        })
    }
}

/// An American wire gauge, 0 to 40. A greater number is a thinner wire.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Gauge(u8);

impl Gauge {
    /// The gauge of this number.
    ///
    /// # Errors
    /// [`OutOfRange`] above 40.
    pub fn new(number: u8) -> Result<Self, OutOfRange> {
        within("wire gauge", "AWG", 0.0, 40.0, f64::from(number))?;
        Ok(Self(number))
    }

    /// Diameter: `0.127 mm · 92^((36 − n)/39)`, mm. Source: definition, as in wire tables.
    pub fn diameter_mm(self) -> f64 {
        0.127 * math::pow(92.0, (36.0 - f64::from(self.0)) / 39.0)
    }

    /// Area: `π d²/4`, mm². Source: mathematics.
    pub fn area(self) -> SquareMillimetres {
        let diameter = self.diameter_mm();
        SquareMillimetres::computed(PI * diameter * diameter / 4.0)
    }

    /// Resistance at 20 °C: `17.241 ohm mm²/km` over the area, ohm/km.
    ///
    /// Source: copper of wire tables (`HyperPhysics` "Common wire gauges" and two others agree within 0.3 %).
    pub fn resistance(self) -> OhmsPerKilometre {
        OhmsPerKilometre::computed(17.241 / self.area().get())
    }
}

/// How much more a copper conductor resists at `temperature` than at 20 °C: `(234.5 + t)/254.5`, t in °C.
///
/// Valid from −40 to 160 °C. Source: IEC 60228 annex; its table form [`to_twenty_degrees`] differs by up to 0.4 %.
///
/// # Errors
/// [`OutOfRange`] outside that.
pub fn warm_factor(temperature: Kelvin) -> Result<f64, OutOfRange> {
    let celsius = within("conductor temperature", "degC", -40.0, 160.0, temperature.celsius())?;
    Ok((234.5 + celsius) / 254.5)
}

/// The table form, the other way round: `R20 = Kt R(t)` with `Kt = 250/(230 + t)`, t in °C. For comparing with tables.
///
/// Valid from −40 to 160 °C. Source: IEC 60228 annex.
///
/// # Errors
/// [`OutOfRange`] outside that.
pub fn to_twenty_degrees(temperature: Kelvin) -> Result<f64, OutOfRange> {
    let celsius = within("conductor temperature", "degC", -40.0, 160.0, temperature.celsius())?;
    Ok(250.0 / (230.0 + celsius))
}

/// Resistance of a two-conductor lead, out and back, at 20 °C: `2 l r`, ohm.
///
/// Valid over the whole range. The earth conductor carries nothing and does not count. Source: Ohm's law.
pub fn out_and_back(length: Metres, conductor: OhmsPerKilometre) -> LeadOhms {
    LeadOhms::computed(2.0 * length.get() * conductor.get() / 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, power, printed, t0};
    use proptest::prelude::*;

    fn celsius(degrees: f64) -> Kelvin {
        Kelvin::from_celsius(degrees).unwrap()
    }

    /// P-PWR-02. IEC 60228:2004 Table 3, values on three cable-engineering pages.
    #[test]
    fn p_pwr_02_flexible_copper_conductors() {
        let table =
            [(0.5, 39.0, 36.0), (0.75, 26.0, 24.5), (1.0, 19.5, 18.1), (1.5, 13.3, 12.1), (2.5, 7.98, 7.41)];
        for (section, (area, flexible, fixed)) in Section::ALL.into_iter().zip(table) {
            let found = (section.area().get(), section.flexible().get(), section.fixed().get());
            assert_eq!(found, (area, flexible, fixed));
        }
    }

    /// P-PWR-03. IEC 60228 annex; the table form's 0.962, 0.926 and 0.833 as printed on a cable-engineering page.
    #[test]
    fn p_pwr_03_temperature() {
        let cases = [
            (20.0, "1.00000", "1.0000", "1.000"),
            (30.0, "1.03929", "0.9615", "0.962"),
            (40.0, "1.07859", "0.9259", "0.926"),
            (70.0, "1.19646", "0.8333", "0.833"),
        ];
        for (t, warm, table_form, published) in cases {
            let (factor, back) = (warm_factor(celsius(t)).unwrap(), to_twenty_degrees(celsius(t)).unwrap());
            t0(factor, (234.5 + t) / 254.5, warm);
            t0(back, 250.0 / (230.0 + t), table_form);
            printed(back, published);
            // The tolerance of the item: the two forms differ by at most 0.4 %.
            assert!((factor * back - 1.0).abs() <= 0.004, "{t} degC");
        }
        assert!(warm_factor(celsius(200.0)).is_err());
    }

    /// P-PWR-05. Wire tables: `HyperPhysics` "Common wire gauges" (ohm/km for 12, 14, 16) and two others; tolerance 0.3 %
    /// against them, because their resistivities differ slightly.
    #[test]
    fn p_pwr_05_american_wire_gauge() {
        let table = [
            (10, "2.5882", "5.2612", "3.277"),
            (12, "2.0525", "3.3088", "5.211"),
            (14, "1.6277", "2.0809", "8.285"),
            (16, "1.2908", "1.3087", "13.174"),
            (22, "0.6438", "0.3255", "52.962"),
            (24, "0.5106", "0.2047", "84.213"),
        ];
        for (number, diameter, area, resistance) in table {
            let gauge = Gauge::new(number).unwrap();
            let d = 0.127 * power(92.0, (36.0 - f64::from(number)) / 39.0);
            t0(gauge.diameter_mm(), d, diameter);
            t0(gauge.area().get(), PI * d * d / 4.0, area);
            t0(gauge.resistance().get(), 17.241 * 4.0 / (PI * d * d), resistance);
        }
        let per_thousand_feet = [(12, 1.588), (14, 2.525), (16, 4.016)].map(|(n, r)| (n, r / 0.3048));
        for (number, published) in per_thousand_feet.into_iter().chain([(12, 5.21), (14, 8.28), (16, 13.2)]) {
            let found = Gauge::new(number).unwrap().resistance().get();
            assert!((found / published - 1.0).abs() <= 0.003, "AWG {number}: {found} against {published}");
        }
        assert!(Gauge::new(41).is_err());
    }

    #[test]
    fn thicker_sections_resist_less() {
        assert!(Section::ALL.is_sorted_by(|a, b| a.area() < b.area() && a.flexible() > b.flexible()));
        assert!(Section::ALL.iter().all(|section| section.fixed() < section.flexible()));
    }

    proptest! {
        /// Definition: 39 steps are 92 times, so three steps are a little more than half of the area.
        #[test]
        fn gauges_are_one_geometric_series(n in 0_u8..40) {
            let ratio = Gauge::new(n).unwrap().diameter_mm() / Gauge::new(n + 1).unwrap().diameter_mm();
            exact(ratio, power(92.0, 1.0 / 39.0));
            prop_assert!(Gauge::new(n).unwrap().resistance() < Gauge::new(n + 1).unwrap().resistance());
        }

        #[test]
        fn warm_copper_resists_more(t in -40.0..150.0, more in 0.1..10.0) {
            let at = |t| (warm_factor(celsius(t)).unwrap(), to_twenty_degrees(celsius(t)).unwrap());
            prop_assert!(at(t + more).0 > at(t).0 && at(t + more).1 < at(t).1);
        }

        /// Dimension: twice the length, twice the resistance.
        #[test]
        fn resistance_goes_with_length(l in 0.0..1e3, r in 1.0..100.0) {
            let r = OhmsPerKilometre::new(r).unwrap();
            let at = |l| out_and_back(Metres::new(l).unwrap(), r).get();
            exact(at(2.0 * l), 2.0 * at(l));
        }
    }
}
