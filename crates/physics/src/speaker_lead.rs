//! What a loudspeaker lead loses, and the heat when it is the wrong lead.
//!
//! Caution: an instrument lead looks the same and is as thin as a hair inside. At loudspeaker currents it heats and may
//! short the amplifier: never use one there.

use crate::{Db, LeadOhms, Ohms, Watts, math};

/// Level lost along a loudspeaker lead: `20 lg(Z / (Z + R))`, dB, never above 0; `R` out and back.
///
/// [`out_and_back`](crate::conductor::out_and_back) gives `R`. Valid for the loudspeaker's nominal impedance taken as a
/// resistance. Source: Ohm's law.
pub fn loss(speaker: Ohms, lead: LeadOhms) -> Db {
    Db::computed(20.0 * math::log10(speaker.get() / (speaker.get() + lead.get())))
}

/// Heat in the lead of an amplifier that would give `power` straight to the loudspeaker: `P Z R / (Z + R)²`, W.
///
/// The amplifier holds its volts, so the lead's own resistance lowers the current. Valid as [`loss`]. Source: Ohm's law.
pub fn heat_at_constant_volts(power: Watts, speaker: Ohms, lead: LeadOhms) -> Watts {
    let (z, r) = (speaker.get(), lead.get());
    let share = z / (z + r);
    Watts::computed(power.get() * share * share * r / z)
}

/// Heat in the lead while `power` reaches the loudspeaker: `P R / Z`, W. Valid as [`loss`]. Source: Ohm's law.
pub fn heat_for_power_at_speaker(power: Watts, speaker: Ohms, lead: LeadOhms) -> Watts {
    Watts::computed(power.get() * lead.get() / speaker.get())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Metres;
    use crate::conductor::{Gauge, Section, out_and_back};
    use crate::testing::{exact, lg, printed, t0};
    use proptest::prelude::*;

    fn ohms(figure: f64) -> Ohms {
        Ohms::new(figure).unwrap()
    }
    fn lead(figure: f64) -> LeadOhms {
        LeadOhms::new(figure).unwrap()
    }
    fn watts(figure: f64) -> Watts {
        Watts::new(figure).unwrap()
    }

    /// P-PWR-15. Ohm's law with IEC 60228:2004 Table 3 (P-PWR-02) and wire tables (P-PWR-05).
    #[test]
    fn p_pwr_15_loudspeaker_leads() {
        let twenty = Metres::new(20.0).unwrap();
        let cases = [
            (Section::ThreeQuarters, "-1.0616"),
            (Section::OneAndAHalf, "-0.5592"),
            (Section::TwoAndAHalf, "-0.3398"),
        ];
        for (section, figure) in cases {
            let r = 2.0 * 20.0 * section.flexible().get() / 1000.0;
            let found = loss(ohms(8.0), out_and_back(twenty, section.flexible()));
            t0(found.get(), 20.0 * lg(8.0 / (8.0 + r)), figure);
        }
        let instrument = out_and_back(Metres::new(6.0).unwrap(), Gauge::new(22).unwrap().resistance());
        printed(instrument.get(), "0.6355");
        printed(loss(ohms(8.0), instrument).get(), "-0.6640");
        printed(heat_at_constant_volts(watts(100.0), ohms(8.0), instrument).get(), "6.818");
        printed(heat_for_power_at_speaker(watts(100.0), ohms(8.0), instrument).get(), "7.944");
    }

    proptest! {
        #[test]
        fn more_lead_loses_more(z in 2.0..16.0, r in 0.0..4.0, more in 0.01..4.0) {
            prop_assert!(loss(ohms(z), lead(r + more)) < loss(ohms(z), lead(r)));
            prop_assert!(loss(ohms(z), lead(r)).get() <= 0.0);
        }

        /// What the amplifier gives is what the loudspeaker gets and the lead burns.
        #[test]
        fn power_is_conserved(p in 1.0..1000.0, z in 2.0..16.0, r in 0.0..4.0) {
            let (z_, r_) = (ohms(z), lead(r));
            let reaching = p * crate::math::ten_to(loss(z_, r_).get() / 10.0);
            let given = p * z / (z + r);
            exact(reaching + heat_at_constant_volts(watts(p), z_, r_).get(), given);
            exact(heat_for_power_at_speaker(watts(reaching), z_, r_).get(), heat_at_constant_volts(watts(p), z_, r_).get());
        }
    }
}
