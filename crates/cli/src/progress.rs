//! How far a long answer has come, for somebody who watches: on a terminal only, and only over a second.

use std::io::{IsTerminal as _, Write as _};
use std::time::{Duration, Instant};

/// Says how far it has come.
#[derive(Debug)]
pub(crate) struct Progress {
    since: Instant,
    watched: bool,
    said: bool,
}

impl Progress {
    #[expect(clippy::disallowed_methods, reason = "no answer depends on it: only whether progress is shown")]
    pub(crate) fn new() -> Self {
        Progress { since: Instant::now(), watched: std::io::stderr().is_terminal(), said: false }
    }

    /// `done` of `all` have been looked at.
    pub(crate) fn at(&mut self, done: usize, all: usize) {
        if self.watched && done < all && self.since.elapsed() > Duration::from_secs(1) {
            // Nobody is told anything wrong when this line cannot be shown.
            let _shown = write!(std::io::stderr(), "\rlooked at {done} of {all} ");
            self.said = true;
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.said {
            let _cleared = write!(std::io::stderr(), "\r                              \r");
        }
    }
}
