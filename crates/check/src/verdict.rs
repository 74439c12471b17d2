//! How a link or a patch fares. One enum, ordered so that the worst is `max`.

use std::fmt;

/// How a link fares. Ordered from harmless to harmful, so the verdict on a patch is the `max`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Carries the part as meant.
    Works,
    /// Carries it; the audience could hear the difference. Allowed in a cover.
    SoundsDifferent,
    /// Carries nothing useful. Never in a cover.
    WillNotWork,
    /// Could hurt a person or gear, or must not be heard. Never in a cover, and always shown.
    Hazard,
}

impl Verdict {
    /// May a cover use this link? (docs/cover.md, section 2.)
    pub fn is_usable(self) -> bool {
        match self {
            Verdict::Works | Verdict::SoundsDifferent => true,
            Verdict::WillNotWork | Verdict::Hazard => false,
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Verdict::Works => "works",
            Verdict::SoundsDifferent => "sounds different",
            Verdict::WillNotWork => "will not work",
            Verdict::Hazard => "hazard",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Verdict::*;

    #[test]
    fn the_worst_is_the_greatest() {
        assert_eq!([SoundsDifferent, Hazard, Works, WillNotWork].into_iter().max(), Some(Hazard));
        assert!(SoundsDifferent.is_usable() && !WillNotWork.is_usable());
    }
}
