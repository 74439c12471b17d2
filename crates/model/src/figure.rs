//! A value and where it came from.
//!
//! Every figure a performer could doubt keeps its origin, so that a card can say "guessed" and a question
//! can be ranked by how much its answer would change.

use std::fmt;

/// Where a figure came from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The shelf's figure for gear of this kind.
    Typical,
    /// Worked out or assumed while reading; the reason in a few words.
    Guessed(String),
    /// The owner said so.
    Yours,
    /// Somebody measured it on this very piece.
    Measured,
    /// The owner was asked and does not know. The value beside it is only a stand-in: what rests on it
    /// carries a condition.
    DontKnow,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Origin::Typical => f.write_str("typical"),
            Origin::Guessed(why) if why.is_empty() => f.write_str("guessed"),
            Origin::Guessed(why) => write!(f, "guessed: {why}"),
            Origin::Yours => f.write_str("yours"),
            Origin::Measured => f.write_str("measured"),
            Origin::DontKnow => f.write_str("don't know"),
        }
    }
}

/// A value, the range it usually lies in where one is known, and its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure<T> {
    /// The value to reckon with. With [`Origin::DontKnow`] it is a stand-in.
    pub value: T,
    /// The usual least and most of such gear, least first.
    pub range: Option<(T, T)>,
    /// Where the value came from.
    pub origin: Origin,
}

impl<T> Figure<T> {
    /// A figure without a range.
    pub fn new(value: T, origin: Origin) -> Self {
        Figure { value, range: None, origin }
    }

    /// The shelf's figure.
    pub fn typical(value: T) -> Self {
        Figure::new(value, Origin::Typical)
    }

    /// The owner's figure.
    pub fn yours(value: T) -> Self {
        Figure::new(value, Origin::Yours)
    }

    /// An assumed figure with its reason.
    pub fn guessed(value: T, why: &str) -> Self {
        Figure::new(value, Origin::Guessed(why.to_owned()))
    }

    /// The owner does not know; `stand_in` is what to reckon with until they do.
    pub fn dont_know(stand_in: T) -> Self {
        Figure::new(stand_in, Origin::DontKnow)
    }

    /// The same figure with its usual range.
    #[must_use]
    pub fn within(mut self, least: T, most: T) -> Self {
        self.range = Some((least, most));
        self
    }

    /// The value unless the owner said "don't know".
    pub fn known(&self) -> Option<&T> {
        match self.origin {
            Origin::DontKnow => None,
            Origin::Typical | Origin::Guessed(_) | Origin::Yours | Origin::Measured => Some(&self.value),
        }
    }

    /// Must a cover that rests on this say so? (Guessed, or not known.)
    pub fn is_doubtful(&self) -> bool {
        match self.origin {
            Origin::DontKnow | Origin::Guessed(_) => true,
            Origin::Typical | Origin::Yours | Origin::Measured => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dont_know_is_a_value_with_a_stand_in() {
        let through = Figure::dont_know(true);
        assert_eq!(through.known(), None);
        assert!(through.value && through.is_doubtful());
        assert_eq!(Figure::yours(3.0).known(), Some(&3.0));
    }
}
