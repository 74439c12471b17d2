//! Bad input: what was asked cannot be answered at all, and what to do instead.

use thiserror::Error;

use crate::view;

/// Why nothing was answered. Each says where, what was found, what was expected, and a likely fix.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{place}: {found}; expected {expected}\n  try: {fix}")]
pub struct Bad {
    /// Stable, for programs: `no-file`.
    pub code: &'static str,
    /// The file, or the word of the command line.
    pub place: String,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to try.
    pub fix: String,
}

impl Bad {
    /// The same as plain data.
    pub fn view(&self) -> view::Bad {
        view::Bad {
            code: self.code.to_owned(),
            place: self.place.clone(),
            found: self.found.clone(),
            expected: self.expected.clone(),
            fix: self.fix.clone(),
        }
    }
}
