//! How much gain a place allows before it howls, and how much it needs.
//!
//! The plain formula takes every microphone and loudspeaker as hearing and sounding alike all round, outdoors. What a
//! pattern or an aim turns away adds to it ([`Aim`]); a lively room takes some back, so the margin stays.

use crate::{Db, Metres, OutOfRange, math, range::within};

/// The margin kept below the point of howling, dB. Source: Burg, Romney and Schwartz, *Digital Sound and Music*,
/// chapter 4; a sound reinforcement handbook, 5.3.1.
pub const MARGIN: Db = Db::computed(6.0);

/// The four distances of one talker, microphone, loudspeaker and listener.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Distances {
    /// Talker to listener (D0).
    pub talker_listener: Metres,
    /// Microphone to loudspeaker (D1).
    pub microphone_loudspeaker: Metres,
    /// Loudspeaker to listener (D2).
    pub loudspeaker_listener: Metres,
    /// Talker to microphone (Ds).
    pub talker_microphone: Metres,
}

/// What aim takes off the path from loudspeaker back to microphone: changes to add, so 0 or below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aim {
    /// The microphone towards the loudspeaker, against its axis.
    pub microphone: Db,
    /// The loudspeaker towards the microphone, against its direction to the listener.
    pub loudspeaker: Db,
}

impl Aim {
    /// Both alike all round: nothing is turned away.
    pub const ALL_ROUND: Self = Self { microphone: Db::computed(0.0), loudspeaker: Db::computed(0.0) };
}

fn distance(metres: Metres) -> Result<f64, OutOfRange> {
    within("distance", "m", 0.01, 1000.0, metres.get())
}

/// Most gain before howling: `20 lg(D0·D1 / (Ds·D2)) − 10 lg NOM − margin − aim`, dB.
///
/// `open` (NOM) counts the open microphones, 1 to 1000; `margin` is 0 to 40 dB ([`MARGIN`] is usual); `aim` is what the
/// patterns turn away. Valid from 1 cm to 1 km in the free field. Source: *Sound System Design Reference Manual* (1999),
/// chapter 4; 10 lg NOM: the article "PAG-NAG"; the aim: common practice.
///
/// # Errors
/// [`OutOfRange`] for other distances, no open microphone, a margin below 0 dB, or an aim above 0 dB or below −60 dB.
pub fn potential_gain(at: &Distances, open: u32, margin: Db, aim: Aim) -> Result<Db, OutOfRange> {
    let open = within("number of open microphones", "microphones", 1.0, 1000.0, f64::from(open))?;
    let margin = within("margin before howling", "dB", 0.0, 40.0, margin.get())?;
    let turned_away = within("aim of a microphone", "dB", -60.0, 0.0, aim.microphone.get())?
        + within("aim of a loudspeaker", "dB", -60.0, 0.0, aim.loudspeaker.get())?;
    let helps = distance(at.talker_listener)? * distance(at.microphone_loudspeaker)?;
    let hurts = distance(at.talker_microphone)? * distance(at.loudspeaker_listener)?;
    Ok(Db::computed(20.0 * math::log10(helps / hurts) - 10.0 * math::log10(open) - margin - turned_away))
}

/// Gain that the listener needs to hear the talker as if at `as_if_at`: `20 lg(D0 / EAD)`, dB.
///
/// The system has enough when [`potential_gain`] is at least this. Valid from 1 cm to 1 km. Source: D. Davis and
/// E. Patronis, *Sound System Engineering* (from memory).
///
/// # Errors
/// [`OutOfRange`] for other distances.
pub fn needed_gain(talker_listener: Metres, as_if_at: Metres) -> Result<Db, OutOfRange> {
    Ok(Db::computed(20.0 * math::log10(distance(talker_listener)? / distance(as_if_at)?)))
}

/// A first-order pattern at an angle from its axis: `20 lg |a + (1 − a) cos θ|`, dB; `None` in its null.
///
/// `all_round` (a) is 1 for an omnidirectional microphone, 0.5 for a cardioid, 0 for a figure of eight; 0 to 1. The angle is
/// −360 to 360 degrees. A null is what lies 60 dB or more below the axis: nothing real is deeper. Source: definition of
/// the patterns (handbooks of acoustics, from memory).
///
/// # Errors
/// [`OutOfRange`] for another share or angle.
pub fn pattern(all_round: f64, degrees: f64) -> Result<Option<Db>, OutOfRange> {
    let share = within("all-round share of a pattern", "", 0.0, 1.0, all_round)?;
    let angle = within("angle", "degrees", -360.0, 360.0, degrees)?;
    let gain = (share + (1.0 - share) * math::cos(angle * std::f64::consts::PI / 180.0)).abs();
    Ok((gain > 1e-3).then(|| Db::computed(20.0 * math::log10(gain))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, printed, t0};
    use proptest::prelude::*;

    fn m(figure: f64) -> Metres {
        Metres::new(figure).unwrap()
    }
    fn db(figure: f64) -> Db {
        Db::new(figure).unwrap()
    }
    fn gain(d0: f64, d1: f64, d2: f64, ds: f64, open: u32, margin: f64) -> f64 {
        let at = Distances {
            talker_listener: m(d0),
            microphone_loudspeaker: m(d1),
            loudspeaker_listener: m(d2),
            talker_microphone: m(ds),
        };
        potential_gain(&at, open, db(margin), Aim::ALL_ROUND).unwrap().get()
    }

    /// P-ROOM-11. *Sound System Design Reference Manual* (1999), page 4-2 and figure 4-3: 13.5 dB, within 0.15 dB because it
    /// rounds 17 and 3.5 before subtracting; the article "PAG-NAG": 13 dB for twenty microphones, 3 dB a doubling.
    #[test]
    fn p_room_11_potential_acoustic_gain() {
        let cases = [
            (7.0, 4.0, 6.0, 1.0, 1, 0.0, "13.3801"),
            (7.0, 4.0, 6.0, 1.0, 1, 6.0, "7.3801"),
            (10.0, 4.0, 8.0, 0.1, 1, 6.0, "27.9794"),
            (20.0, 5.0, 15.0, 0.3, 4, 6.0, "14.9151"),
        ];
        for (d0, d1, d2, ds, open, margin, figure) in cases {
            let formula = 20.0 * (lg(d0) + lg(d1) - lg(ds) - lg(d2)) - 10.0 * lg(f64::from(open)) - margin;
            t0(gain(d0, d1, d2, ds, open, margin), formula, figure);
        }
        let base = gain(7.0, 4.0, 6.0, 1.0, 1, 0.0);
        assert!((base - 13.5).abs() <= 0.15);
        let twenty = gain(7.0, 4.0, 6.0, 1.0, 20, 0.0) - base;
        printed(twenty, "-13.0103");
        printed(twenty, "-13");
        printed(gain(7.0, 4.0, 6.0, 1.0, 2, 0.0) - base, "-3.0103");
        printed(gain(7.0, 4.0, 6.0, 0.5, 1, 0.0) - base, "6.0206");
        printed(gain(7.0, 2.0, 6.0, 1.0, 1, 0.0) - base, "-6.0206");
    }

    /// P-ROOM-12. Davis and Patronis, *Sound System Engineering*, from memory.
    #[test]
    fn p_room_12_needed_acoustic_gain() {
        for (d0, ead, figure) in [(10.0, 3.0, "10.4576"), (20.0, 3.0, "16.4782"), (7.0, 2.0, "10.8814")] {
            t0(needed_gain(m(d0), m(ead)).unwrap().get(), 20.0 * (lg(d0) - lg(ead)), figure);
        }
        assert!(needed_gain(m(10.0), m(0.0)).is_err());
    }

    /// The definition of the patterns: a cardioid loses half at its side and has its null behind.
    #[test]
    fn patterns_are_what_their_names_say() {
        printed(pattern(0.5, 90.0).unwrap().unwrap().get(), "-6.0206");
        exact(pattern(1.0, 137.0).unwrap().unwrap().get() + 1.0, 1.0);
        assert_eq!(pattern(0.5, 180.0).unwrap(), None);
        assert_eq!(pattern(0.0, 90.0).unwrap(), None);
        printed(pattern(0.25, 180.0).unwrap().unwrap().get(), "-6.0206");
        assert!(pattern(1.5, 0.0).is_err());
    }

    #[test]
    fn what_the_aim_turns_away_is_gained_and_no_aim_adds_to_the_howl() {
        let at = Distances {
            talker_listener: m(7.0),
            microphone_loudspeaker: m(4.0),
            loudspeaker_listener: m(6.0),
            talker_microphone: m(1.0),
        };
        let aim = Aim { microphone: db(-6.0), loudspeaker: db(-4.0) };
        let aimed = potential_gain(&at, 1, MARGIN, aim).unwrap();
        printed(aimed.get(), "17.3801");
        let wrong = Aim { microphone: db(3.0), loudspeaker: db(0.0) };
        assert!(potential_gain(&at, 1, MARGIN, wrong).is_err());
        assert!(potential_gain(&at, 0, MARGIN, aim).is_err());
    }

    proptest! {
        /// More open microphones, or a loudspeaker nearer the microphone, never allow more gain.
        #[test]
        fn nearer_and_more_is_worse(d1 in 0.5..50.0, near in 0.1..1.0, open in 1_u32..50) {
            prop_assert!(gain(9.0, d1 * near, 7.0, 0.2, open, 6.0) <= gain(9.0, d1, 7.0, 0.2, open, 6.0));
            prop_assert!(gain(9.0, d1, 7.0, 0.2, open + 1, 6.0) < gain(9.0, d1, 7.0, 0.2, open, 6.0));
        }
    }
}
