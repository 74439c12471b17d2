//! The formulas behind every verdict: levels, links, phantom, power and how loud it arrives.
//!
//! Pure functions over figures that know their unit; no rig, no gear, no clock, no disk. Each says its formula, units,
//! valid range, errors and source. The same figures give the same bits on every machine, because [`math`] alone calls
//! the functions that platforms round differently.
//!
//! Two conventions. A [`Db`] that a function returns is a *change to add*: a loss is below zero. What depends on things
//! nobody measured comes back as a [`Between`], never as one number that looks sure.
//!
//! # Example
//!
//! One of two loudspeakers fails, and the violin's direct box goes straight into the other. Does its level suit the
//! loudspeaker's microphone input, does phantom feed the box, and how much softer is it for the audience?
//!
//! ```
//! use physics::{Amps, Between, Dbu, Ohms, Volts};
//! use physics::{loading, phantom, room};
//!
//! # fn main() -> Result<(), physics::OutOfRange> {
//! let direct_box = Ohms::new(150.0)?;
//! let microphone_input = Ohms::new(1500.0)?;
//! let level = Dbu::new(-20.0)? + loading::bridging_loss(direct_box, microphone_input);
//! assert_eq!(format!("{level:.1}"), "-20.8 dBu");
//!
//! let needs = phantom::Need {
//!     supply: Between::new(Volts::new(24.0)?, Volts::new(52.0)?),
//!     current: Amps::new(0.005)?,
//!     least_at_contacts: Some(Volts::new(20.0)?),
//! };
//! match phantom::feed(&phantom::P48, &needs) {
//!     phantom::Feed::Fed(volts) => assert_eq!(volts.to_string(), "27 V to 35 V"),
//!     other => panic!("not fed: {other:?}"),
//! }
//!
//! let softer = room::speakers_change(2, 1)?;
//! assert_eq!(format!("{softer:.1}"), "-6.0 dB to -3.0 dB");
//! # Ok(())
//! # }
//! ```
//!
//! # Which formula is where
//!
//! | formula | file | source |
//! |---|---|---|
//! | dBu, dBV, volts; dB SPL, pascals | [`levels`] | ITU-R V.574 (from memory); IEC 61672-1 |
//! | crest, headroom, signal to noise, quantising | [`levels`] | definitions, mathematics |
//! | adding levels: unrelated, in step, at an angle | [`levels`] | handbooks of acoustics (from memory) |
//! | bridging loss, load of a split | [`loading`] | circuit theory |
//! | thermal noise, noise figure | [`noise`] | Johnson and Nyquist, Phys. Rev. 32, 1928 |
//! | noise of a matched chain | [`noise`] | Friis, Proc. IRE 32, 1944 |
//! | lead and piezo corners, pickup resonance, slopes | [`corner`] | circuit theory |
//! | transformer: level and impedances | [`transformer`] | circuit theory |
//! | T, pi and bridged U pads | [`pad`] | Kuphaldt, Lessons In Electric Circuits III |
//! | stereo in a balanced input, one leg, tied outputs | [`balance`] | circuit theory; Bohn, note 109 |
//! | contacts of XLR and jack | [`contacts`] | IEC 61076-2-103, AES14 (from memory) |
//! | phantom: variants, volts, power, faults, verdict | [`phantom`] | IEC 61938:2018 |
//! | low-voltage supplies: volts, polarity, current | [`supply`] | common practice |
//! | copper by section, by gauge, warm | [`conductor`] | IEC 60228:2004; wire tables |
//! | circuit capacity, current, drop | [`mains`] | NEC 210.19(A)(1); Ohm's law |
//! | plug fuses, extensions, reels | [`extension`] | BS 1363, BS 1362; RoSPA |
//! | hours of cells; lead-acid | [`battery`] | battery pages; Peukert |
//! | loudspeaker lead: loss, heat | [`speaker_lead`] | Ohm's law |
//! | distance, sensitivity, one loudspeaker fewer | [`room`] | ISO 9613-2:1996 (7) |
//! | gain before howling, gain needed, patterns | [`feedback`] | Sound System Design Reference Manual, 1999 |
//! | reverberation, critical distance, level in a room, delay, combing | [`hall`] | Sabine; Hopkins and Stryker, Proc. IRE 36, 1948 |
//! | how long ears may stand it, by which rule | [`exposure`] | NIOSH 98-126; 29 CFR 1910.95; ISO 9612:2009; 2003/10/EC; WHO 2022 |
//! | rounding to whole numbers | [`whole`] | the definition of the cover |

pub mod balance;
pub mod battery;
pub mod between;
pub mod conductor;
pub mod contacts;
pub mod corner;
pub mod exposure;
pub mod extension;
pub mod feedback;
pub mod hall;
pub mod levels;
pub mod loading;
pub mod mains;
pub mod math;
pub mod noise;
pub mod pad;
pub mod phantom;
pub mod range;
pub mod room;
pub mod speaker_lead;
pub mod supply;
pub mod transformer;
pub mod units;
pub mod whole;

#[cfg(test)]
mod testing;

pub use between::Between;
pub use range::OutOfRange;
pub use units::{
    AmpHours, Amps, CubicMetres, Db, DbSpl, Dbu, Dbv, Decimetres, Farads, Henries, Hertz, Hours, Kelvin,
    Kilograms, LeadOhms, Level, Metres, Ohms, OhmsPerKilometre, Pascals, Percent, PowerFactor, Seconds,
    SquareMetres, SquareMillimetres, TurnsRatio, VoltAmps, Volts, Watts,
};
