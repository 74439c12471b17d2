//! One thing wrong with a rig file: where, what, what next.

use std::fmt;
use std::ops::Range;

/// One thing wrong with a rig file. Reading goes on: a file yields a rig *and* its problems.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Stable, so help pages and tests can name it: `unknown-kind`.
    pub code: &'static str,
    /// Bytes of the file; never past its end.
    pub span: Range<usize>,
    /// Line of the file, from 1.
    pub line: usize,
    /// What was found and what was expected, in the owner's own labels. No full stop.
    pub message: String,
    /// The next thing to try, when we know one.
    pub help: Option<String>,
}

impl Problem {
    /// A problem without advice yet.
    pub fn new(code: &'static str, line: usize, span: Range<usize>, message: impl Into<String>) -> Self {
        Problem { code, span, line, message: message.into(), help: None }
    }

    /// The same with advice.
    #[must_use]
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {} [{}]", self.line, self.message, self.code)?;
        match &self.help {
            Some(help) => write!(f, "\n  try: {help}"),
            None => Ok(()),
        }
    }
}
