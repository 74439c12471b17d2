//! Balanced, unbalanced, stereo, and outputs that were joined.
//!
//! A stereo plug in a balanced input is the classic: the voice, which both sides carry, vanishes. It never vanishes
//! wholly; how much is left is the match of the two sides, and this module gives that figure instead of "infinite".

use crate::{Amps, Db, Ohms, OutOfRange, Volts, math, range::within};

/// What is left of a signal that a balanced input takes as tip minus ring: `20 lg |gL − gR|`, dB against one channel.
///
/// `left` and `right` are the signal's gains in the two channels, signed; both within −1000 to 1000. `Ok(None)`: the two
/// are equal to the last digit, and what would be left in practice is the match of the channels ([`middle_left_over`]).
/// Source: definition of the differential input; the effect: "TRS, stereo, balanced audio", an essay.
///
/// # Errors
/// [`OutOfRange`] for gains outside that.
pub fn left_minus_right(left: f64, right: f64) -> Result<Option<Db>, OutOfRange> {
    let left = within("gain in the left channel", "times", -1e3, 1e3, left)?;
    let right = within("gain in the right channel", "times", -1e3, 1e3, right)?;
    let rest = (left - right).abs();
    Ok((rest > 1e-12).then(|| Db::computed(20.0 * math::log10(rest))))
}

/// What is left of a signal in the middle when one channel is `mismatch` dB lower: `20 lg(1 − 10^(−m/20))`, dB.
///
/// Against the louder channel; the sign of `mismatch` does not matter. `None` for a perfect match, which no gear has.
/// Valid below 1000 dB. Source: as [`left_minus_right`].
pub fn middle_left_over(mismatch: Db) -> Option<Db> {
    let rest = 1.0 - math::ten_to(-mismatch.get().abs() / 20.0);
    (rest > 1e-12).then(|| Db::computed(20.0 * math::log10(rest)))
}

/// How a balanced output is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Output {
    /// Two legs, each driven with half of the voltage.
    Symmetrical,
    /// Two legs that make up for each other when one is grounded.
    Servo,
    /// A transformer winding, tied to nothing.
    Transformer,
    /// One leg driven; the other senses the far end's ground.
    GroundSensing,
    /// One leg driven; the other has the same impedance to ground.
    ImpedanceBalanced,
}

/// What the lead does with the cold leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColdLeg {
    /// Left open.
    Open,
    /// Joined to ground.
    Grounded,
}

/// What arrives at an unbalanced input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unbalanced {
    /// Change of level, dB; `None` when nothing useful arrives.
    pub change: Option<Db>,
    /// Some outputs of this make shut down, distort or overheat into the short: warn.
    pub may_fault: bool,
}

/// A balanced output into an unbalanced input: `−20 lg 2` where half of the voltage is lost, else 0 dB.
///
/// Source: circuit theory. A servo output with its cold leg open drives half, and a transformer's winding with one end
/// open drives nothing: common practice.
pub fn balanced_into_unbalanced(output: Output, cold: ColdLeg) -> Unbalanced {
    let half = Some(Db::computed(-20.0 * math::log10(2.0)));
    let whole = Some(Db::computed(0.0));
    let (change, may_fault) = match (output, cold) {
        (Output::Symmetrical, ColdLeg::Open) | (Output::Servo, ColdLeg::Open) => (half, false),
        (Output::Symmetrical, ColdLeg::Grounded) => (half, true),
        (Output::Servo | Output::Transformer, ColdLeg::Grounded) => (whole, false),
        (Output::Transformer, ColdLeg::Open) => (None, false),
        (Output::GroundSensing | Output::ImpedanceBalanced, ColdLeg::Open | ColdLeg::Grounded) => {
            (whole, false)
        }
    };
    Unbalanced { change, may_fault }
}

/// An unbalanced output into a balanced input, cold leg grounded at the source: 0 dB. Source: circuit theory.
pub fn unbalanced_into_balanced() -> Db {
    Db::computed(0.0)
}

/// Voltage where outputs are tied together: `Σ(Ui/Ri) / (Σ(1/Ri) + 1/Zl)`, V, signed as the outputs are.
///
/// Each output is its open-circuit voltage (0 when silent, below 0 when reversed) behind its own and any series
/// resistance. Valid from −1000 to 1000 V each. Source: circuit theory (Millman's theorem).
///
/// # Errors
/// [`OutOfRange`] for a voltage outside that.
pub fn tied_volts(outputs: &[(f64, Ohms)], load: Ohms) -> Result<f64, OutOfRange> {
    let (mut current, mut admittance) = (0.0, 1.0 / load.get());
    for &(volts, resistance) in outputs {
        current += within("voltage of a tied output", "V", -1e3, 1e3, volts)? / resistance.get();
        admittance += 1.0 / resistance.get();
    }
    Ok(current / admittance)
}

/// What a number of equal outputs tied together deliver, against one output unloaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tied {
    /// Only one drives, dB.
    pub one: Db,
    /// All drive, each something else, dB.
    pub unrelated: Db,
    /// All drive the same, dB.
    pub same: Db,
}

/// Equal outputs of `each` ohm (own plus series) tied into a load: one driven `20 lg(a/(n a + b))`, all the same
/// `20 lg(n a/(n a + b))`, unrelated `10 lg n` above one; `a = 1/R`, `b = 1/Zl`.
///
/// The level says nothing on harm: without series resistors see [`tied_current`]. Valid for 1 to 64 outputs. Source:
/// circuit theory; the rule, sum through resistors: D. Bohn, "Why Not Wye?", application note 109, 1991, rev. April 2004.
///
/// # Errors
/// [`OutOfRange`] outside 1 to 64 outputs.
pub fn tied(outputs: u32, each: Ohms, load: Ohms) -> Result<Tied, OutOfRange> {
    let n = within("number of tied outputs", "outputs", 1.0, 64.0, f64::from(outputs))?;
    let (a, b) = (1.0 / each.get(), 1.0 / load.get());
    let one = 20.0 * math::log10(a / (n * a + b));
    Ok(Tied {
        one: Db::computed(one),
        unrelated: Db::computed(one + 10.0 * math::log10(n)),
        same: Db::computed(20.0 * math::log10(n * a / (n * a + b))),
    })
}

/// Current that one output drives straight into another that is silent: `U / (R1 + R2)`, A.
///
/// 10 mA a volt between two outputs of 50 ohm: more than most can give, so they distort or shut down; that is why two
/// outputs in one plug are no mixer. Valid over the whole range. Source: Ohm's law; the rule as in [`tied`].
pub fn tied_current(driven: Volts, one: Ohms, other: Ohms) -> Amps {
    Amps::computed(driven.get() / (one.get() + other.get()))
}

#[cfg(test)]
mod tests;
