//! Formulas for small sound systems. (See the bottom of this page for the table.)

pub mod between;
pub mod levels;
pub mod loading;
pub mod math;
pub mod phantom;
pub mod range;
pub mod supply;
pub mod units;
pub mod whole;

#[cfg(test)]
mod testing;

pub use between::Between;
pub use range::OutOfRange;
pub use units::{
    AmpHours, Amps, Db, DbSpl, Dbu, Dbv, Decimetres, Farads, Henries, Hertz, Hours, Kelvin, LeadOhms, Level,
    Metres, Ohms, OhmsPerKilometre, Pascals, PowerFactor, SquareMillimetres, TurnsRatio, VoltAmps, Volts,
    Watts,
};
