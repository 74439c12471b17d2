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

level!(DbSpl);
