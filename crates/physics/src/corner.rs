//! Where a lead takes the treble and an input takes the bass.
//!
//! A lead is a capacitor across its source: treble goes. A piezo pickup *is* a capacitor: into a low impedance its bass
//! goes, and a lead costs it level, not treble. A magnetic pickup is a coil and resonates with its lead; the plain corner
//! misleads there, so it has a function of its own.

use crate::{Db, Farads, Henries, Hertz, Metres, Ohms, OutOfRange, math};
use std::f64::consts::PI;

/// Common screened audio lead, for each metre, F. Source: "Calculate cable" page; 30 to 100 pF a foot is also quoted.
pub const SCREENED_LEAD_PER_METRE: Farads = Farads::computed(100e-12);

/// Corner frequency of a resistance and a capacitance: `1 / (2π R C)`, Hz.
///
/// Valid over the whole range of both. Source: circuit theory.
pub fn corner(resistance: Ohms, capacitance: Farads) -> Hertz {
    Hertz::computed(1.0 / (2.0 * PI * resistance.get() * capacitance.get()))
}

/// Capacitance of a lead: length times capacitance for each metre, F.
///
/// Valid for lengths above zero. Source: circuit theory.
///
/// # Errors
/// [`OutOfRange`] when the result is no capacitance, as for a length of zero.
pub fn lead_capacitance(length: Metres, per_metre: Farads) -> Result<Farads, OutOfRange> {
    Farads::new(length.get() * per_metre.get())
}

/// Where a lead begins to take the treble of a resistive source: [`corner`] of the two, Hz.
///
/// Valid for a resistive source; in parallel with the load where that is not much greater. Source: circuit theory.
///
/// # Errors
/// As [`lead_capacitance`].
pub fn lead_corner(source: Ohms, length: Metres, per_metre: Farads) -> Result<Hertz, OutOfRange> {
    Ok(corner(source, lead_capacitance(length, per_metre)?))
}

/// Below which frequency an input takes the bass of a piezo pickup: `1 / (2π R (Cp + Cl))`, Hz.
///
/// `lead` is the lead's capacitance, if there is a lead. Valid while the pickup is a capacitor, far below its own
/// resonance. Source: circuit theory; 0.5 to 1 nF for under-saddle strips, 20 nF for large discs: common practice.
pub fn piezo_corner(pickup: Farads, lead: Option<Farads>, input: Ohms) -> Hertz {
    corner(input, Farads::computed(pickup.get() + lead.map_or(0.0, Farads::get)))
}

/// What a lead costs a piezo pickup, at all frequencies alike: `20 lg(Cp / (Cp + Cl))`, dB, below 0.
///
/// Valid as [`piezo_corner`]. Source: the capacitive divider (derived).
pub fn piezo_lead_loss(pickup: Farads, lead: Farads) -> Db {
    Db::computed(20.0 * math::log10(pickup.get() / (pickup.get() + lead.get())))
}

/// Where a magnetic pickup resonates with its lead: `1 / (2π √(L C))`, Hz. Treble falls fast above it.
///
/// Valid for a lightly loaded coil. Source: circuit theory.
pub fn resonance(coil: Henries, capacitance: Farads) -> Hertz {
    Hertz::computed(1.0 / (2.0 * PI * math::sqrt(coil.get() * capacitance.get())))
}

/// What a first-order low-pass does: `−10 lg(1 + (f/fc)²)`, dB, never above 0. Source: circuit theory.
pub fn low_pass(frequency: Hertz, corner: Hertz) -> Db {
    slope(frequency.get() / corner.get())
}

/// What a first-order high-pass does: `−10 lg(1 + (fc/f)²)`, dB, never above 0. Source: circuit theory.
pub fn high_pass(frequency: Hertz, corner: Hertz) -> Db {
    slope(corner.get() / frequency.get())
}

fn slope(into_stop_band: f64) -> Db {
    Db::computed(-10.0 * math::log10(1.0 + into_stop_band * into_stop_band))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, printed, t0};
    use proptest::prelude::*;

    fn ohms(figure: f64) -> Ohms {
        Ohms::new(figure).unwrap()
    }
    fn farads(figure: f64) -> Farads {
        Farads::new(figure).unwrap()
    }
    fn metres(figure: f64) -> Metres {
        Metres::new(figure).unwrap()
    }
    fn hertz(figure: f64) -> Hertz {
        Hertz::new(figure).unwrap()
    }

    /// P-LNK-10. Circuit theory; 100 pF/m: "Calculate cable" page. Pickup figures: typical values, no source.
    #[test]
    fn p_lnk_10_low_pass_corner_of_a_lead() {
        let cases = [
            (150.0, 100.0, "106103.3"),
            (10e3, 3.0, "53051.6"),
            (10e3, 6.0, "26525.8"),
            (250e3, 6.0, "1061.03"),
            (600.0, 30.0, "88419.4"),
        ];
        for (r, length, figure) in cases {
            let found = lead_corner(ohms(r), metres(length), SCREENED_LEAD_PER_METRE).unwrap();
            t0(found.get(), 1.0 / (2.0 * PI * r * length * 100e-12), figure);
        }
        assert!(lead_corner(ohms(150.0), metres(0.0), SCREENED_LEAD_PER_METRE).is_err());
        for (picofarads, figure) in [(710.0, "3448.50"), (410.0, "4538.03")] {
            let found = resonance(Henries::new(3.0).unwrap(), farads(picofarads * 1e-12));
            t0(found.get(), 1.0 / (2.0 * PI * (3.0 * picofarads * 1e-12).sqrt()), figure);
        }
    }

    /// P-LNK-11. Circuit theory; pickup capacitances: common practice, no source.
    #[test]
    fn p_lnk_11_high_pass_corner_of_a_piezo() {
        let cases = [
            (500e-12, 10e3, "31830.989"),
            (500e-12, 1e6, "318.310"),
            (500e-12, 10e6, "31.831"),
            (1e-9, 50e3, "3183.099"),
            (20e-9, 10e3, "795.775"),
        ];
        for (c, r, figure) in cases {
            t0(piezo_corner(farads(c), None, ohms(r)).get(), 1.0 / (2.0 * PI * r * c), figure);
        }
        // The lead counts as pickup: 200 pF of pickup with 300 pF of lead is the 500 pF case.
        printed(piezo_corner(farads(200e-12), Some(farads(300e-12)), ohms(1e6)).get(), "318.310");
    }

    /// Derived: a lead as large as the pickup halves the voltage.
    #[test]
    fn an_equal_lead_halves_a_piezo() {
        printed(piezo_lead_loss(farads(500e-12), farads(500e-12)).get(), "-6.0206");
    }

    /// P-LNK-12. Circuit theory.
    #[test]
    fn p_lnk_12_first_order_slope() {
        for (times, figure) in [(1.0, "-3.0103"), (2.0, "-6.9897"), (0.5, "-0.9691"), (10.0, "-20.0432")] {
            let formula = -10.0 * lg(1.0 + times * times);
            t0(low_pass(hertz(1000.0 * times), hertz(1000.0)).get(), formula, figure);
            t0(high_pass(hertz(1000.0 / times), hertz(1000.0)).get(), formula, figure);
        }
    }

    proptest! {
        #[test]
        fn a_longer_lead_and_a_higher_source_take_more_treble(r in 1.0..1e6, l in 0.1..100.0, more in 1.01..10.0) {
            let at = |r, l| lead_corner(ohms(r), metres(l), SCREENED_LEAD_PER_METRE).unwrap();
            prop_assert!(at(r, l * more) < at(r, l) && at(r * more, l) < at(r, l));
        }

        #[test]
        fn a_higher_input_keeps_more_bass(c in 1e-10..1e-7, r in 1e3..1e7, more in 1.01..10.0) {
            prop_assert!(piezo_corner(farads(c), None, ohms(r * more)) < piezo_corner(farads(c), None, ohms(r)));
            prop_assert!(piezo_lead_loss(farads(c), farads(1e-10 * more)) < piezo_lead_loss(farads(c), farads(1e-10)));
        }

        /// Dimension: only the product of the two counts.
        #[test]
        fn resistance_and_capacitance_trade(r in 1.0..1e6, c in 1e-12..1e-6, by in 0.1..10.0) {
            exact(corner(ohms(r * by), farads(c / by)).get(), corner(ohms(r), farads(c)).get());
        }

        #[test]
        fn four_times_the_capacitance_halves_the_resonance(l in 0.1..10.0, c in 1e-11..1e-8) {
            let coil = Henries::new(l).unwrap();
            exact(resonance(coil, farads(4.0 * c)).get(), resonance(coil, farads(c)).get() / 2.0);
        }

        /// The two slopes mirror each other at the corner, and together lose no power.
        #[test]
        fn slopes_mirror_and_share_the_power(f in 1.0..1e5, fc in 1.0..1e5) {
            let (low, high) = (low_pass(hertz(f), hertz(fc)), high_pass(hertz(f), hertz(fc)));
            exact(low.get() - 1.0, high_pass(hertz(fc), hertz(f)).get() - 1.0);
            prop_assert!((math::ten_to(low.get() / 10.0) + math::ten_to(high.get() / 10.0) - 1.0).abs() < 1e-9);
        }
    }
}
