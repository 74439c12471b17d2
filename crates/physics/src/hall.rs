//! A room that answers: reverberation, critical distance, level anywhere in it, delay and combing between two arrivals.
//!
//! Statistics of a room with sound going every way; small or lopsided rooms differ by some decibels. Without the room's volume
//! and reverberation time the level beyond the critical distance is *not known*.

use crate::{CubicMetres, Db, Hertz, Kelvin, Metres, OutOfRange, Seconds, SquareMetres, math, range::within};
use std::f64::consts::PI;

/// Of the reverberation formulas, s/m: `24 ln 10 / c` rounded. Source: W. C. Sabine's formula as taught.
const SABINE: f64 = 0.161;

fn decay(seconds: Seconds) -> Result<f64, OutOfRange> {
    within("reverberation time", "s", 0.05, 60.0, seconds.get())
}

fn directivity(q: f64) -> Result<f64, OutOfRange> {
    within("directivity factor", "", 1.0, 1000.0, q)
}

/// Reverberation time: `0.161 V / A`, s. Valid for a mean absorption below about 0.2.
///
/// Source: Sabine; worked example "A classroom has dimension 10 x 8 x 6 m", a university question bank. `A` is never zero
/// by its type: a room that absorbs nothing never stops.
pub fn sabine(volume: CubicMetres, absorption: SquareMetres) -> Seconds {
    Seconds::computed(SABINE * volume.get() / absorption.get())
}

/// Absorption that explains a reverberation time: `A = 0.161 V / T`, m². Valid from 0.05 s to 60 s. Source: as [`sabine`].
///
/// # Errors
/// [`OutOfRange`] for other times.
pub fn absorption(volume: CubicMetres, time: Seconds) -> Result<SquareMetres, OutOfRange> {
    Ok(SquareMetres::computed(SABINE * volume.get() / decay(time)?))
}

/// Reverberation time of a room that absorbs more: `0.161 V / (−S ln(1 − α))`, s. Valid for α from 0.001 to 0.99.
///
/// Source: C. F. Eyring (handbooks of acoustics).
///
/// # Errors
/// [`OutOfRange`] for another mean absorption: 0 never stops, 1 is the open air.
pub fn eyring(volume: CubicMetres, surface: SquareMetres, mean: f64) -> Result<Seconds, OutOfRange> {
    let mean = within("mean absorption", "", 1e-3, 0.99, mean)?;
    Ok(Seconds::computed(SABINE * volume.get() / (-surface.get() * math::ln(1.0 - mean))))
}

/// Where the room grows as loud as the loudspeaker: `0.057 √(Q V / T)`, m. Q is 1 (all round) to 1000, T 0.05 s to 60 s.
///
/// Source: encyclopedia article "Critical distance".
///
/// # Errors
/// [`OutOfRange`] for another Q or T.
pub fn critical_distance(q: f64, volume: CubicMetres, time: Seconds) -> Result<Metres, OutOfRange> {
    Ok(Metres::computed(0.057 * math::sqrt(directivity(q)? * volume.get() / decay(time)?)))
}

/// Room constant: `R = S α / (1 − α)`, m². Valid for α from 0.001 to 0.99. Source: as [`level_in_room`].
///
/// # Errors
/// [`OutOfRange`] for another mean absorption.
pub fn room_constant(surface: SquareMetres, mean: f64) -> Result<SquareMetres, OutOfRange> {
    let mean = within("mean absorption", "", 1e-3, 0.99, mean)?;
    Ok(SquareMetres::computed(surface.get() * mean / (1.0 - mean)))
}

/// From power level to level at a distance: `10 lg(Q / (4π r²) + 4 / R)`, dB. No `room` is the free field.
///
/// Q is 1 to 1000, r 0.1 m to 10 km. Source: H. F. Hopkins and N. R. Stryker, Proc. IRE 36 (1948), from memory.
///
/// # Errors
/// [`OutOfRange`] for another Q or distance.
pub fn level_in_room(q: f64, at: Metres, room: Option<SquareMetres>) -> Result<Db, OutOfRange> {
    let r = within("distance", "m", 0.1, 10_000.0, at.get())?;
    let answered = room.map_or(0.0, |constant| 4.0 / constant.get());
    Ok(Db::computed(10.0 * math::log10(directivity(q)? / (4.0 * PI * r * r) + answered)))
}

/// Speed of sound in dry air: `343.2 √(T / 293.15)`, m/s. Valid from −20 to 50 °C.
///
/// Source: ISO 9613-1 annex (343.2 m/s from memory).
///
/// # Errors
/// [`OutOfRange`] for other temperatures.
pub fn speed_of_sound(air: Kelvin) -> Result<f64, OutOfRange> {
    within("air temperature", "degC", -20.0, 50.0, air.celsius())?;
    Ok(343.2 * math::sqrt(air.get() / 293.15))
}

/// How late sound arrives: `d / c`. Valid as [`speed_of_sound`], and source.
///
/// # Errors
/// [`OutOfRange`] for other temperatures.
pub fn delay(distance: Metres, air: Kelvin) -> Result<Seconds, OutOfRange> {
    Ok(Seconds::computed(distance.get() / speed_of_sound(air)?))
}

/// First frequency that two equal arrivals cancel: `c / (2 Δd)`, Hz. Valid from 1 mm of difference. Source: mathematics.
///
/// # Errors
/// [`OutOfRange`] for no difference of path (nothing cancels), or temperatures as [`speed_of_sound`].
pub fn first_null(difference: Metres, air: Kelvin) -> Result<Hertz, OutOfRange> {
    let metres = within("difference of path", "m", 1e-3, Metres::MOST, difference.get())?;
    Ok(Hertz::computed(speed_of_sound(air)? / (2.0 * metres)))
}

/// What two arrivals of one sound become in the ear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Heard {
    /// One sound, from where the first came.
    Fused,
    /// Speech and piano may show an echo.
    EchoPossible,
}

/// Do two arrivals fuse? Up to 40 ms, speech and piano do, while the later is less than 15 dB the stronger.
///
/// Clicks part after 1 to 5 ms. Source: encyclopedia article "Precedence effect" (Wallach and others, 1949).
pub fn heard(late: Seconds, later_is_stronger_by: Db) -> Heard {
    if late.get() <= 0.040 && later_is_stronger_by.get() < 15.0 { Heard::Fused } else { Heard::EchoPossible }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{exact, lg, printed, t0};

    fn m(figure: f64) -> Metres {
        Metres::new(figure).unwrap()
    }
    fn m2(figure: f64) -> SquareMetres {
        SquareMetres::new(figure).unwrap()
    }
    fn m3(figure: f64) -> CubicMetres {
        CubicMetres::new(figure).unwrap()
    }
    fn s(figure: f64) -> Seconds {
        Seconds::new(figure).unwrap()
    }
    fn celsius(figure: f64) -> Kelvin {
        Kelvin::from_celsius(figure).unwrap()
    }

    /// P-ROOM-03. ISO 9613-1 annex (343.2 from memory); M. Vorlaender, *Auralization*: within 0.1 % of `331.4 + 0.6 t`,
    /// below 25 degrees: above, the straight line itself leaves the root by more (0.11 % at 30).
    #[test]
    fn p_room_03_speed_of_sound_and_delay() {
        let cases = [
            (0.0, "331.286", "3.0185"),
            (10.0, "337.296", "2.9648"),
            (20.0, "343.200", "2.9138"),
            (30.0, "349.005", "2.8653"),
            (35.0, "351.871", "2.8420"),
        ];
        for (t, speed, per_metre) in cases {
            let c = speed_of_sound(celsius(t)).unwrap();
            t0(c, 343.2 * ((t + 273.15) / 293.15_f64).sqrt(), speed);
            printed(1000.0 * delay(m(1.0), celsius(t)).unwrap().get(), per_metre);
            if t < 25.0 {
                assert!((c / (331.4 + 0.6 * t) - 1.0).abs() <= 0.001, "{t} degC");
            }
        }
        for (d, milliseconds) in [(3.432, "10"), (10.0, "29.138"), (17.0, "49.534"), (1.716, "5")] {
            t0(1000.0 * delay(m(d), celsius(20.0)).unwrap().get(), d / 0.3432, milliseconds);
        }
    }

    /// P-ROOM-05. Mathematics.
    #[test]
    fn p_room_05_first_null_of_two_arrivals() {
        for (d, figure) in [(0.1716, "1000"), (1.0, "171.6"), (0.343, "500.292")] {
            t0(first_null(m(d), celsius(20.0)).unwrap().get(), 343.2 / (2.0 * d), figure);
        }
        assert!(first_null(m(0.0), celsius(20.0)).is_err());
    }

    /// P-ROOM-08. Worked example "A classroom has dimension 10 x 8 x 6 m", a university question bank.
    #[test]
    fn p_room_08_reverberation_time() {
        let (room, surface) = (m3(480.0), m2(376.0));
        let area = absorption(room, s(3.0)).unwrap();
        t0(area.get(), 0.161 * 480.0 / 3.0, "25.760");
        printed(area.get() / surface.get(), "0.068511");
        t0(sabine(room, m2(25.76)).get(), 3.0, "3.0000");
        printed(eyring(room, surface, 0.0685).unwrap().get(), "2.8965");
        assert!(SquareMetres::new(0.0).is_err() && eyring(room, surface, 0.0).is_err());
    }

    /// P-ROOM-09. Encyclopedia article "Critical distance": both its forms within 1 % of the exact constant.
    #[test]
    fn p_room_09_critical_distance() {
        let cases = [
            (1.0, 1000.0, 1.0, "1.8025", "1.7841"),
            (5.0, 1000.0, 1.0, "4.0305", "3.9894"),
            (10.0, 5000.0, 2.0, "9.0125", "8.9206"),
            (1.0, 200.0, 0.6, "1.0407", "1.0301"),
        ];
        for (q, v, t, figure, second) in cases {
            let found = critical_distance(q, m3(v), s(t)).unwrap().get();
            let other = (q * v / (100.0 * PI * t)).sqrt();
            t0(found, 0.057 * (q * v / t).sqrt(), figure);
            printed(other, second);
            // Each published form against the exact constant, √(24 ln 10 / 343.2 / (16 π)).
            let middle = 0.056598 * (q * v / t).sqrt();
            assert!((found / middle - 1.0).abs() <= 0.01 && (other / middle - 1.0).abs() <= 0.01);
        }
    }

    /// P-ROOM-10. Hopkins and Stryker, Proc. IRE 36 (1948), from memory.
    #[test]
    fn p_room_10_level_in_a_room() {
        let cases = [
            (5.0, 10.0, Some(200.0), "-16.2017"),
            (2.0, 4.0, Some(100.0), "-13.0149"),
            (5.0, 5.0, Some(100.0), "-12.5247"),
            (1.0, 1.0, None, "-10.9921"),
        ];
        for (q, r, constant, figure) in cases {
            let found = level_in_room(q, m(r), constant.map(m2)).unwrap().get();
            let formula = 10.0 * lg(q / (4.0 * PI * r * r) + constant.map_or(0.0, |c| 4.0 / c));
            t0(found, formula, figure);
        }
        exact(room_constant(m2(376.0), 0.5).unwrap().get(), 376.0);
    }

    /// P-ROOM-13. Encyclopedia article "Precedence effect".
    #[test]
    fn p_room_13_precedence() {
        let apart = |d| delay(m(d), celsius(20.0)).unwrap();
        printed(1000.0 * apart(17.0).get(), "49.53");
        printed(1000.0 * apart(5.0).get(), "14.57");
        let equal = Db::new(0.0).unwrap();
        assert_eq!(heard(apart(17.0), equal), Heard::EchoPossible);
        assert_eq!(heard(apart(5.0), equal), Heard::Fused);
        assert_eq!(heard(apart(5.0), Db::new(15.0).unwrap()), Heard::EchoPossible);
    }
}
