//! Phantom power: a voltage behind two resistors, so what arrives depends on what is drawn.
//!
//! "It has phantom" is not an answer. A microphone on a supply named 48 V sees 31 V when it draws 5 mA; this module gives
//! that figure, with the supply's tolerance, and says whether it is enough.
//!
//! Caution: phantom can damage a ribbon microphone or an output that was not made for it, and thumps. Mute first.

use crate::{Amps, Between, Ohms, OutOfRange, Volts, Watts, range::at_most, range::within};

/// One kind of phantom supply: a voltage behind one resistor in each leg.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Variant {
    /// The name in the standard, such as "P48".
    pub name: &'static str,
    /// Open-circuit voltage, V.
    pub nominal: Volts,
    /// Open-circuit voltage with its tolerance, V; `nominal` alone where no tolerance is known.
    pub supply: Between<Volts>,
    /// Resistor in each leg, ohm. Both legs together are half of it.
    pub leg: Ohms,
    /// Most current one microphone may draw, both legs together, A.
    pub most_current: Amps,
}

const fn variant(name: &'static str, volts: f64, plus_minus: f64, leg: f64, most_amps: f64) -> Variant {
    Variant {
        name,
        nominal: Volts::computed(volts),
        supply: Between::table_row(Volts::computed(volts - plus_minus), Volts::computed(volts + plus_minus)),
        leg: Ohms::computed(leg),
        most_current: Amps::computed(most_amps),
    }
}

/// 12 V ± 1 V, 680 ohm, 15 mA. Source: IEC 61938:2018; the tolerance from memory.
pub const P12: Variant = variant("P12", 12.0, 1.0, 680.0, 0.015);
/// 24 V ± 4 V, 1200 ohm, 10 mA. Source: IEC 61938:2018; tolerance and current from memory.
pub const P24: Variant = variant("P24", 24.0, 4.0, 1200.0, 0.010);
/// 48 V ± 4 V, 6800 ohm, 10 mA: what a mixer's "48 V" switch means. Source: IEC 61938:2018.
pub const P48: Variant = variant("P48", 48.0, 4.0, 6800.0, 0.010);
/// 12 V, 3300 ohm, 4 mA. Source: IEC 61938:2018, by a wiki's article "phantom power"; no tolerance known.
pub const P12L: Variant = variant("P12L", 12.0, 0.0, 3300.0, 0.004);
/// 48 V, 2200 ohm, 22 mA. Source: IEC 61938:2018, by a wiki's article "phantom power"; no tolerance known.
pub const SP48: Variant = variant("SP48", 48.0, 0.0, 2200.0, 0.022);

/// Every variant, in the order of the table.
pub const VARIANTS: [Variant; 5] = [P12, P24, P48, P12L, SP48];

/// What a microphone or an active direct box asks of its phantom supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// The supplies it is made for, V *nominal*, as data sheets say it ("9 to 52 V").
    pub supply: Between<Volts>,
    /// What it draws, both legs together, A.
    pub current: Amps,
    /// The least voltage at its own contacts, V, when the data sheet says.
    pub least_at_contacts: Option<Volts>,
}

/// Whether a supply feeds a need.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feed {
    /// Fed, with the voltage it gets, over the supply's tolerance.
    Fed(Between<Volts>),
    /// The supply's voltage is lower than it is made for.
    SupplyTooLow,
    /// The supply's voltage is higher than it is made for: may do harm.
    SupplyTooHigh,
    /// It draws more than this supply gives one microphone.
    TooMuchCurrent,
    /// A supply at the low end of its tolerance leaves too little at the contacts: this much, V.
    TooFewVoltsLeft(Volts),
}

/// Voltage at the microphone: `U − I R/2`, V; `R` in each leg, `I` in both legs together.
///
/// Valid from 0 A to the short circuit of both legs, `2U/R`. Source: Ohm's law; resistors from IEC 61938:2018.
///
/// # Errors
/// [`OutOfRange`] for a current that the resistors cannot pass.
pub fn volts_at_microphone(supply: Volts, leg: Ohms, current: Amps) -> Result<Volts, OutOfRange> {
    let most = both_legs_shorted(supply, leg).get();
    within("phantom current", "A", 0.0, most, current.get())?;
    // At the very short circuit rounding may leave a hair below zero.
    Ok(Volts::computed((supply.get() - current.get() * leg.get() / 2.0).max(0.0)))
}

/// Voltage at the microphone over the whole tolerance of a supply, V: [`volts_at_microphone`] at both ends.
///
/// Valid from 0 A to the most the variant gives one microphone. Source: as there.
///
/// # Errors
/// [`OutOfRange`] for more current than [`Variant::most_current`].
pub fn volts_from(variant: &Variant, current: Amps) -> Result<Between<Volts>, OutOfRange> {
    within("phantom current", "A", 0.0, variant.most_current.get(), current.get())?;
    let at = |supply| volts_at_microphone(supply, variant.leg, current);
    Ok(Between::new(at(variant.supply.least())?, at(variant.supply.most())?))
}

/// Does this supply feed this microphone? Judged at the low end of the supply's tolerance.
///
/// Source: IEC 61938:2018 for the supplies; that both current and resulting voltage decide is Ohm's law.
pub fn feed(variant: &Variant, need: &Need) -> Feed {
    if variant.nominal > need.supply.most() {
        return Feed::SupplyTooHigh;
    }
    if variant.nominal < need.supply.least() {
        return Feed::SupplyTooLow;
    }
    let Ok(left) = volts_from(variant, need.current) else { return Feed::TooMuchCurrent };
    match need.least_at_contacts {
        Some(least) if left.least() < least => Feed::TooFewVoltsLeft(left.least()),
        Some(_) | None => Feed::Fed(left),
    }
}

/// Is a bank of phantom sockets able to carry all these microphones at once? `Σ I ≤ Imax`, A.
///
/// Small mixers and interfaces share one converter among all sockets, often for less than 10 mA each. Source: Kirchhoff.
pub fn bank_carries(most: Amps, currents: &[Amps]) -> bool {
    at_most(currents.iter().copied().sum::<Amps>().get(), most.get())
}

/// Most power a supply can give: `(U/2)² / (R/2)`, W, at a current of `U/R`. Source: matched load.
pub fn most_power(supply: Volts, leg: Ohms) -> Watts {
    let half = supply.get() / 2.0;
    Watts::computed(half * half / (leg.get() / 2.0))
}

/// Current with both legs shorted to the screen: `2U/R`, A. Source: Ohm's law.
pub fn both_legs_shorted(supply: Volts, leg: Ohms) -> Amps {
    Amps::computed(2.0 * supply.get() / leg.get())
}

/// Current with one leg shorted to the screen, as an unbalanced lead does: `U/R`, A. Source: Ohm's law.
pub fn one_leg_shorted(supply: Volts, leg: Ohms) -> Amps {
    Amps::computed(supply.get() / leg.get())
}

/// Current into a device that holds its own voltage behind `own` ohm in each leg: `(U − Ud) / ((R + r)/2)`, A.
///
/// Valid for a device voltage from 0 V to the supply's. Source: Ohm's law.
///
/// # Errors
/// [`OutOfRange`] when the device holds more than the supply gives.
pub fn current_into(supply: Volts, leg: Ohms, own: Ohms, device: Volts) -> Result<Amps, OutOfRange> {
    within("voltage held by the device", "V", 0.0, supply.get(), device.get())?;
    Ok(Amps::computed((supply.get() - device.get()) / ((leg.get() + own.get()) / 2.0)))
}

/// What phantom meets at the far end of a lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// A microphone or direct box made for it, or a dynamic one on a sound balanced lead.
    MadeForIt,
    /// A lead or adapter that grounds one leg.
    GroundedLeg,
    /// An output stage not made to have a voltage put on it.
    UnguardedOutput,
    /// A passive ribbon microphone.
    Ribbon,
    /// A plug going in or out while it is on.
    LivePlug,
    /// The isolated side of a transformer: a passive direct box or a splitter.
    IsolatedSide,
    /// The direct leg of a splitter, and the microphone behind it.
    DirectLeg,
}

/// What happens there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meeting {
    /// Phantom arrives and is welcome, or does nothing.
    Fine,
    /// None gets there.
    NoneArrives,
    /// Could harm gear or ears, or fail: not to be done.
    Harmful,
}

/// What phantom does to what it meets.
///
/// Source: encyclopedia article "Phantom power" for the grounded leg (malfunction or damage); the rest common practice.
pub fn meeting(meets: Meets) -> Meeting {
    match meets {
        Meets::MadeForIt | Meets::DirectLeg => Meeting::Fine,
        Meets::IsolatedSide => Meeting::NoneArrives,
        // A ribbon on a perfect lead survives; nobody on a dark stage knows that the lead is perfect.
        Meets::GroundedLeg | Meets::UnguardedOutput | Meets::Ribbon | Meets::LivePlug => Meeting::Harmful,
    }
}

#[cfg(test)]
mod tests;
