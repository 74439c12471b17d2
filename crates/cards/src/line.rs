//! One line of words on a card, as typed runs, so that each way of showing it can set tape as tape.

use std::fmt;

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Run {
    /// What the hands do. Shown in capitals, whatever the case here.
    Verb(String),
    /// A name written on tape on the thing itself, in those letters. Exempt from the word rules.
    Tape(String),
    /// What the maker printed beside a socket, switch or knob. Exempt from the word rules.
    Printed(String),
    /// Everything else.
    Text(String),
}

/// A verb.
pub fn verb(word: impl Into<String>) -> Run {
    Run::Verb(word.into())
}

/// A taped name.
pub fn tape(name: impl Into<String>) -> Run {
    Run::Tape(name.into())
}

/// A label printed on the thing.
pub fn printed(label: impl Into<String>) -> Run {
    Run::Printed(label.into())
}

/// Plain words.
pub fn text(words: impl Into<String>) -> Run {
    Run::Text(words.into())
}

impl Run {
    /// The letters as they are read: a verb in capitals, the rest as given.
    pub fn shown(&self) -> String {
        match self {
            Self::Verb(word) => word.to_uppercase(),
            Self::Tape(s) | Self::Printed(s) | Self::Text(s) => s.clone(),
        }
    }

    pub(crate) fn raw(&self) -> &str {
        match self {
            Self::Verb(s) | Self::Tape(s) | Self::Printed(s) | Self::Text(s) => s,
        }
    }
}

/// One or more sentences as typed runs.
///
/// Runs are joined by a space, except before closing punctuation and after an opening bracket, so a run never
/// needs a space at its ends.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line(pub Vec<Run>);

impl Line {
    /// A line of plain words only.
    pub fn text(words: impl Into<String>) -> Self {
        Self(vec![Run::Text(words.into())])
    }

    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|run| run.raw().trim().is_empty())
    }

    /// The runs with, before each, whether a space belongs there.
    pub fn spaced(&self) -> Vec<(bool, &Run)> {
        let mut out = Vec::with_capacity(self.0.len());
        let mut before: Option<char> = None;
        for run in self.0.iter().filter(|run| !run.raw().trim().is_empty()) {
            let closes = matches!(run, Run::Text(s) if s.trim_start().starts_with(['.', ',', ':', ';', '?', '!', ')', '’', '”']));
            let opened = before.is_none_or(|c| matches!(c, '(' | '“'));
            out.push((!closes && !opened, run));
            before = run.raw().trim_end().chars().last();
        }
        out
    }

    /// The line as plain text.
    pub fn plain(&self) -> String {
        let mut out = String::new();
        for (space, run) in self.spaced() {
            if space {
                out.push(' ');
            }
            out.push_str(run.shown().trim());
        }
        out
    }

    /// The same line, ending in a full stop unless it ends a sentence already.
    #[must_use]
    pub fn stopped(&self) -> Self {
        let mut line = self.clone();
        if !line.is_empty() && !line.plain().ends_with(['.', '!', '?', ':']) {
            line.0.push(Run::Text(".".into()));
        }
        line
    }

    /// `words` before this line.
    #[must_use]
    pub fn after_words(&self, words: &str) -> Self {
        let mut runs = vec![Run::Text(words.into())];
        runs.extend(self.0.iter().cloned());
        Self(runs)
    }
}

impl<const N: usize> From<[Run; N]> for Line {
    fn from(runs: [Run; N]) -> Self {
        Self(runs.into())
    }
}

impl From<Vec<Run>> for Line {
    fn from(runs: Vec<Run>) -> Self {
        Self(runs)
    }
}

impl From<&str> for Line {
    fn from(words: &str) -> Self {
        Self::text(words)
    }
}

impl From<String> for Line {
    fn from(words: String) -> Self {
        Self::text(words)
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.plain())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_join_as_a_sentence_reads() {
        let line = Line::from([
            verb("pull"),
            tape("KEYS R"),
            text("out of"),
            tape("PIANO"),
            printed("R"),
            text("."),
        ]);
        assert_eq!(line.plain(), "PULL KEYS R out of PIANO R.");
        assert_eq!(Line::from([text("Ask ("), tape("MIXER"), text(").")]).plain(), "Ask (MIXER).");
    }

    #[test]
    fn a_stop_is_added_once() {
        assert_eq!(Line::text("lamp lit").stopped().plain(), "lamp lit.");
        assert_eq!(Line::text("lamp lit?").stopped().plain(), "lamp lit?");
        assert_eq!(Line::default().stopped().plain(), "");
    }
}
