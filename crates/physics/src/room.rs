//! How loud it arrives: distance, power, and one loudspeaker fewer.
//!
//! Free field only: valid outdoors and well inside a room's critical distance. Beyond that the room's volume and
//! reverberation time decide, and without them a level is *not known* rather than guessed.

use crate::{Between, Db, DbSpl, Metres, OutOfRange, Watts, math, range::within};
use std::f64::consts::PI;

/// A distance from a loudspeaker: 0.1 m to 10 km.
fn distance(metres: Metres) -> Result<f64, OutOfRange> {
    within("distance", "m", 0.1, 10_000.0, metres.get())
}

/// Change of level on going from one distance to another from a point source: `−20 lg(r/r0)`, dB.
///
/// Valid from 0.1 m to 10 km, in the free field, beyond about three times the size of the source. Source: the inverse
/// square law; ISO 9613-2:1996 formula (7).
///
/// # Errors
/// [`OutOfRange`] for other distances.
pub fn point_source(from: Metres, to: Metres) -> Result<Db, OutOfRange> {
    Ok(Db::computed(-20.0 * math::log10(distance(to)? / distance(from)?)))
}

/// The same for a line source, near it: `−10 lg(r/r0)`, dB.
///
/// Valid while the line is long against the distance. Source: handbooks of acoustics.
///
/// # Errors
/// As [`point_source`].
pub fn line_source(from: Metres, to: Metres) -> Result<Db, OutOfRange> {
    Ok(Db::computed(-10.0 * math::log10(distance(to)? / distance(from)?)))
}

/// From sound *power* level to the level at a distance: `−20 lg(r / 1 m) − 10 lg 4π`, dB (10.992 at 1 m).
///
/// Valid as [`point_source`], all round. Source: ISO 9613-2:1996 formula (7), which rounds 10.992 to 11.
///
/// # Errors
/// As [`point_source`].
pub fn from_power_level(to: Metres) -> Result<Db, OutOfRange> {
    Ok(Db::computed(-20.0 * math::log10(distance(to)?) - 10.0 * math::log10(4.0 * PI)))
}

/// Level of a loudspeaker on its axis: `S + 10 lg(P / 1 W) − 20 lg(r / 1 m)`, dB SPL; S at 1 W and 1 m.
///
/// Valid from 1 µW up, and as [`point_source`]. Source: "Audio Principles 4", a public address handbook page.
///
/// # Errors
/// [`OutOfRange`] for a distance as in [`point_source`], or for no power.
pub fn on_axis(sensitivity: DbSpl, power: Watts, at: Metres) -> Result<DbSpl, OutOfRange> {
    let watts = within("power to a loudspeaker", "W", 1e-6, Watts::MOST, power.get())?;
    Ok(sensitivity + Db::computed(10.0 * math::log10(watts) - 20.0 * math::log10(distance(at)?)))
}

/// Change of level when `from` equal loudspeakers become `to`, as a range, dB.
///
/// One end is `10 lg(to/from)`: they arrive unrelated, the average over an audience. The other is `20 lg(to/from)`: they
/// arrive in step, at equal distance. Real places lie between, with combing off the centre line. One of two gone is
/// −6.0 to −3.0 dB. Valid for 1 to 1000 loudspeakers. Source: adding levels ([`crate::levels::unrelated_sum`]).
///
/// # Errors
/// [`OutOfRange`] for no loudspeakers (that is silence, not a level) or more than 1000.
pub fn speakers_change(from: u32, to: u32) -> Result<Between<Db>, OutOfRange> {
    let count = |n| within("number of loudspeakers", "loudspeakers", 1.0, 1000.0, f64::from(n));
    let decades = math::log10(count(to)? / count(from)?);
    Ok(Between::new(Db::computed(10.0 * decades), Db::computed(20.0 * decades)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, printed, t0};
    use proptest::prelude::*;

    fn metres(figure: f64) -> Metres {
        Metres::new(figure).unwrap()
    }
    fn level(sensitivity: f64, power: f64, at: f64) -> DbSpl {
        on_axis(DbSpl::new(sensitivity).unwrap(), Watts::new(power).unwrap(), metres(at)).unwrap()
    }

    /// P-ROOM-01. Inverse square law; ISO 9613-2:1996 formula (7): 51 dB at 100 m from the power level.
    #[test]
    fn p_room_01_free_field() {
        let cases = [
            (2.0, "-6.0206"),
            (3.0, "-9.5424"),
            (4.0, "-12.0412"),
            (8.0, "-18.0618"),
            (10.0, "-20.0000"),
            (20.0, "-26.0206"),
        ];
        for (times, figure) in cases {
            t0(point_source(metres(1.5), metres(1.5 * times)).unwrap().get(), -20.0 * lg(times), figure);
        }
        let far = from_power_level(metres(100.0)).unwrap().get();
        t0(far, -40.0 - 10.0 * lg(4.0 * PI), "-50.992");
        printed(far, "-51");
        t0(line_source(metres(2.0), metres(4.0)).unwrap().get(), -10.0 * lg(2.0), "-3.0103");
        assert!(point_source(metres(0.0), metres(1.0)).is_err());
    }

    /// P-ROOM-02. "Audio Principles 4", a public address handbook page: 79 dB and 105 dB, within 0.5 dB as printed.
    #[test]
    fn p_room_02_power_and_sensitivity() {
        let cases =
            [(99.0, 1.0, 10.0, "79.0000"), (90.0, 32.0, 1.0, "105.0515"), (95.0, 200.0, 12.0, "96.4267")];
        for (s, p, r, figure) in cases {
            t0(level(s, p, r).get(), s + 10.0 * lg(p) - 20.0 * lg(r), figure);
        }
        printed(level(99.0, 1.0, 10.0).get(), "79");
        printed(level(90.0, 32.0, 1.0).get(), "105");
        printed((level(91.0, 60.0, 7.0) - level(91.0, 30.0, 7.0)).get(), "3.0103");
    }

    /// P-ROOM-04. Computed, from P-LVL-06 (adding levels).
    #[test]
    fn p_room_04_n_speakers_and_one_fewer() {
        let cases = [
            (1, 2, "3.0103", "6.0206"),
            (2, 1, "-3.0103", "-6.0206"),
            (3, 2, "-1.7609", "-3.5218"),
            (1, 4, "6.0206", "12.0412"),
        ];
        for (from, to, unrelated, in_step) in cases {
            let found = speakers_change(from, to).unwrap();
            let (mild, strong) =
                if to > from { (found.least(), found.most()) } else { (found.most(), found.least()) };
            let ratio = f64::from(to) / f64::from(from);
            t0(mild.get(), 10.0 * lg(ratio), unrelated);
            t0(strong.get(), 20.0 * lg(ratio), in_step);
        }
        assert!(speakers_change(1, 0).is_err());
    }

    proptest! {
        #[test]
        fn there_and_back_is_where_you_were(a in 0.1..1e3, b in 0.1..1e3, c in 0.1..1e3) {
            let change = |from, to| point_source(metres(from), metres(to)).unwrap().get();
            prop_assert!((change(a, b) + change(b, a)).abs() < 1e-9);
            prop_assert!((change(a, b) + change(b, c) - change(a, c)).abs() < 1e-9);
            prop_assert!((2.0 * line_source(metres(a), metres(b)).unwrap().get() - change(a, b)).abs() < 1e-9);
        }

        #[test]
        fn nearer_and_stronger_is_louder(s in 80.0..110.0, p in 1.0..1e3, r in 0.5..100.0, more in 1.01..3.0) {
            prop_assert!(level(s, p * more, r) > level(s, p, r));
            prop_assert!(level(s, p, r * more) < level(s, p, r));
            exact(level(s, p, r).get() + 1.0, level(s + 1.0, p, r).get());
        }

        /// Losing and regaining a loudspeaker is nothing; more are never softer.
        #[test]
        fn one_fewer_mirrors_one_more(n in 1_u32..999) {
            let (up, down) = (speakers_change(n, n + 1).unwrap(), speakers_change(n + 1, n).unwrap());
            prop_assert!((up.least() + down.most()).get().abs() < 1e-9);
            prop_assert!((up.most() + down.least()).get().abs() < 1e-9);
            prop_assert!(up.least().get() > 0.0 && down.most().get() < 0.0);
        }
    }
}
