//! How loud: sound pressure and its level.

use super::levels::level;
use super::quantity;

quantity! {
    /// A sound pressure level against 20 micropascal, root mean square.
    DbSpl, "sound pressure level", "dB SPL", -100.0, 200.0
}

quantity! {
    /// A sound pressure, root mean square.
    Pascals, "sound pressure", "Pa", 0.0, 1e6
}

quantity! {
    /// A volume of air.
    CubicMetres, "volume", "m3", 0.01, 1e7
}

quantity! {
    /// A surface, or the absorption that a surface of so much would have.
    SquareMetres, "area", "m2", 1e-3, 1e7
}

quantity! {
    /// A share of what a rule allows in a day.
    Percent, "dose", "%", 0.0, 1e9
}

level!(DbSpl);
