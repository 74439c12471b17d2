//! Volts, dBu, dBV and sound pressure levels; what several of them make together.
//!
//! All levels are root mean square unless "peak" is said. Mixing the three references is the commonest slip of the trade
//! (the two "line levels" are 11.8 dB apart, not 14), so each has its own type and these functions are the only way across.

use crate::{Db, DbSpl, Dbu, Dbv, Level, Ohms, OutOfRange, Pascals, Volts, Watts, math, range::within};
use std::f64::consts::{PI, SQRT_2};

/// 0 dBu squared: 1 mW in 600 ohm. Source: ITU-R V.574, from memory.
const REFERENCE_SQUARED: f64 = 0.6;

/// 0 dB SPL. Source: IEC 61672-1.
const REFERENCE_PASCALS: f64 = 20e-6;

/// Level of a voltage: `20 lg(U / √0.6)`, V to dBu. Valid above 0 V.
///
/// Source: definition of the unit, ITU-R V.574 (from memory).
///
/// # Errors
/// [`OutOfRange`] for 0 V: silence has no level, and minus infinity must not enter a plan.
pub fn dbu_of(volts: Volts) -> Result<Dbu, OutOfRange> {
    let least = Dbu::LEAST;
    let most = Dbu::MOST;
    within("voltage of a signal", "V", unit_volts(least), unit_volts(most), volts.get())?;
    Ok(Dbu::computed(20.0 * math::log10(volts.get() / math::sqrt(REFERENCE_SQUARED))))
}

/// Voltage of a level: `√0.6 · 10^(L/20)`, dBu to V. Valid over the whole range of [`Dbu`]. Source: as [`dbu_of`].
pub fn volts_of(level: Dbu) -> Volts {
    Volts::computed(unit_volts(level.get()))
}

fn unit_volts(dbu: f64) -> f64 {
    math::sqrt(REFERENCE_SQUARED) * math::ten_to(dbu / 20.0)
}

/// The same level against 1 V: `dBV = dBu + 20 lg √0.6`, 2.2185 dB lower. Source: the two definitions.
pub fn dbv_of(level: Dbu) -> Dbv {
    Dbv::computed(level.get() + 10.0 * math::log10(REFERENCE_SQUARED))
}

/// The same level against √0.6 V: `dBu = dBV − 20 lg √0.6`, 2.2185 dB higher. Source: the two definitions.
pub fn dbu_of_dbv(level: Dbv) -> Dbu {
    Dbu::computed(level.get() - 10.0 * math::log10(REFERENCE_SQUARED))
}

/// Sound pressure level: `20 lg(p / 20 µPa)`, Pa to dB SPL. Valid above 0 Pa. Source: IEC 61672-1.
///
/// # Errors
/// [`OutOfRange`] for 0 Pa, and for pressures beyond the range of [`DbSpl`].
pub fn spl_of(pressure: Pascals) -> Result<DbSpl, OutOfRange> {
    let pascals = |spl: f64| REFERENCE_PASCALS * math::ten_to(spl / 20.0);
    within("sound pressure", "Pa", pascals(DbSpl::LEAST), pascals(DbSpl::MOST), pressure.get())?;
    Ok(DbSpl::computed(20.0 * math::log10(pressure.get() / REFERENCE_PASCALS)))
}

/// Peak over root mean square: `20 lg(Upeak / U)`, dB. 3.0103 dB for a sine, 0 dB for a square wave.
///
/// Valid above 0 V, with a peak not below the root mean square. Source: mathematics.
///
/// # Errors
/// [`OutOfRange`] when the root mean square is zero, or the peak below it (no signal has that).
pub fn crest(peak: Volts, rms: Volts) -> Result<Db, OutOfRange> {
    within("root mean square voltage", "V", 1e-12, Volts::MOST, rms.get())?;
    within("peak voltage", "V", rms.get(), Volts::MOST, peak.get())?;
    Ok(Db::computed(20.0 * math::log10(peak.get() / rms.get())))
}

/// Peak to peak voltage of a sine at this level: `2 √2 U`, V. Source: mathematics.
pub fn sine_peak_to_peak(level: Dbu) -> Volts {
    Volts::computed(2.0 * SQRT_2 * volts_of(level).get())
}

/// Level of a sine whose *peak* volts are quoted in dBu: 3.0103 dB lower. Source: mathematics.
pub fn sine_from_peak(peak: Dbu) -> Dbu {
    Dbu::computed(peak.get() - 10.0 * math::log10(2.0))
}

/// How far a level may still rise: `Lmax − Lop`, dB. Below zero means that it already clips. Source: definition.
pub fn headroom(most: Dbu, operating: Dbu) -> Db {
    most - operating
}

/// How far the signal stands above the noise, both in one band: `Lop − Lnoise`, dB. Source: definition.
pub fn signal_to_noise(operating: Dbu, noise: Dbu) -> Db {
    operating - noise
}

/// A full-scale sine over the noise of ideal quantising: `20 lg 2^n + 10 lg 1.5`, dB (6.0206 n + 1.7609).
///
/// Valid for 1 to 64 bits. Source: mathematics (noise uniform over one step).
///
/// # Errors
/// [`OutOfRange`] outside 1 to 64 bits.
pub fn quantising_signal_to_noise(bits: u8) -> Result<Db, OutOfRange> {
    let bits = within("sample size", "bit", 1.0, 64.0, f64::from(bits))?;
    Ok(Db::computed(20.0 * bits * math::log10(2.0) + 10.0 * math::log10(1.5)))
}

/// Unrelated signals together: `10 lg Σ 10^(Li/10)`. `None` for none at all.
///
/// Valid for any levels in one unit. Source: handbooks of acoustics, from memory; two equal ones give +3.0103 dB.
pub fn unrelated_sum<L: Level>(levels: &[L]) -> Option<L> {
    summed(levels, 10.0)
}

/// The same signal several times, all in step: `20 lg Σ 10^(Li/20)`. `None` for none at all.
///
/// Valid for any levels in one unit. Source: handbooks of acoustics, from memory; two equal ones give +6.0206 dB.
pub fn in_step_sum<L: Level>(levels: &[L]) -> Option<L> {
    summed(levels, 20.0)
}

fn summed<L: Level>(levels: &[L], per_decade: f64) -> Option<L> {
    // Measured from the highest, so that no power of ten can overflow or lose the small ones to rounding.
    let highest = levels.iter().copied().max()?.decibels();
    let sum: f64 = levels.iter().map(|level| math::ten_to((level.decibels() - highest) / per_decade)).sum();
    Some(L::at(highest + per_decade * math::log10(sum)))
}

/// The same tone twice, one `degrees` behind the other: `10 lg(a² + b² + 2ab cos φ)`.
///
/// `None` when they cancel to less than a millionth of the louder: what is left then is the match of the two, not the
/// formula. Valid for any angle. Source: mathematics.
pub fn tone_sum<L: Level>(one: L, other: L, degrees: f64) -> Option<L> {
    let (high, low) = (one.max(other), one.min(other));
    let b = math::ten_to((low.decibels() - high.decibels()) / 20.0);
    let power = 1.0 + b * b + 2.0 * b * math::cos(degrees * PI / 180.0);
    // Also false for an angle that is not a number.
    (power > 1e-12).then(|| L::at(high.decibels() + 10.0 * math::log10(power)))
}

/// What is left of a total when the background is taken out: `10 lg(10^(L/10) − 10^(Lb/10))`.
///
/// `None` when the background is not below the total: nothing can be said. Source: [`unrelated_sum`] turned round.
pub fn without_background<L: Level>(total: L, background: L) -> Option<L> {
    let left = 1.0 - math::ten_to((background.decibels() - total.decibels()) / 10.0);
    (left > 0.0).then(|| L::at(total.decibels() + 10.0 * math::log10(left)))
}

/// Volts of an amplifier giving this power to this load: `√(P R)`, V. Source: mathematics.
pub fn amplifier_volts(power: Watts, load: Ohms) -> Volts {
    Volts::computed(math::sqrt(power.get() * load.get()))
}

/// Power of this voltage across this load: `U² / R`, W. Source: mathematics.
pub fn power_into(load: Ohms, volts: Volts) -> Watts {
    Watts::computed(volts.get() * volts.get() / load.get())
}

#[cfg(test)]
mod tests;
