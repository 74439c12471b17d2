//! Which contact carries what.

/// What a conductor of an audio lead carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wire {
    /// The screen, joined to ground.
    Screen,
    /// The leg in phase (+).
    Hot,
    /// The leg out of phase (−).
    Cold,
    /// The left side of a stereo pair.
    Left,
    /// The right side of a stereo pair.
    Right,
}

/// What a jack's contacts carry together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wiring {
    /// Two contacts: one signal against the screen.
    Unbalanced,
    /// Three contacts: one balanced signal.
    Balanced,
    /// Three contacts: two signals against one screen. Looks the same as balanced: the classic trap.
    Stereo,
}

/// A contact of a 6.35 mm or 3.5 mm jack plug.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Contact {
    /// The point.
    Tip,
    /// The ring; a two-contact plug has none.
    Ring,
    /// The sleeve.
    Sleeve,
}

/// What pin 1, 2 or 3 of an XLR carries; `None` for other pins.
///
/// Source: IEC 61076-2-103 and AES14 (pin 2 hot), from memory.
pub fn xlr_pin(pin: u8) -> Option<Wire> {
    match pin {
        1 => Some(Wire::Screen),
        2 => Some(Wire::Hot),
        3 => Some(Wire::Cold),
        _ => None,
    }
}

/// What a contact of a jack carries in this wiring; `None` for the ring of a two-contact plug, which meets the screen.
///
/// Source: IEC 61076-2-103 and AES14 family, from memory; common practice.
pub fn jack_contact(contact: Contact, wiring: Wiring) -> Option<Wire> {
    match (contact, wiring) {
        (Contact::Sleeve, _) => Some(Wire::Screen),
        (Contact::Tip, Wiring::Unbalanced | Wiring::Balanced) => Some(Wire::Hot),
        (Contact::Tip, Wiring::Stereo) => Some(Wire::Left),
        (Contact::Ring, Wiring::Balanced) => Some(Wire::Cold),
        (Contact::Ring, Wiring::Stereo) => Some(Wire::Right),
        (Contact::Ring, Wiring::Unbalanced) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// P-BAL-04. IEC 61076-2-103 and AES14 (pin 2 hot): from memory.
    #[test]
    fn p_bal_04_contacts() {
        assert_eq!([1, 2, 3].map(xlr_pin), [Some(Wire::Screen), Some(Wire::Hot), Some(Wire::Cold)]);
        assert_eq!(xlr_pin(4), None);
        let jack = |wiring| {
            [Contact::Tip, Contact::Ring, Contact::Sleeve].map(|contact| jack_contact(contact, wiring))
        };
        assert_eq!(jack(Wiring::Balanced), [Some(Wire::Hot), Some(Wire::Cold), Some(Wire::Screen)]);
        assert_eq!(jack(Wiring::Stereo), [Some(Wire::Left), Some(Wire::Right), Some(Wire::Screen)]);
        assert_eq!(jack(Wiring::Unbalanced), [Some(Wire::Hot), None, Some(Wire::Screen)]);
    }
}
