//! Cutting a line into pieces that remember where they stood.
//!
//! Quotes and brackets protect what is inside them, so `shows "thin, hollow"` stays one piece.

use std::ops::Range;

/// A slice of the file and where it starts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece<'a> {
    pub(crate) text: &'a str,
    pub(crate) start: usize,
}

impl<'a> Piece<'a> {
    pub(crate) fn new(text: &'a str, start: usize) -> Self {
        Piece { text, start }
    }

    pub(crate) fn span(self) -> Range<usize> {
        self.start..self.start + self.text.len()
    }

    pub(crate) fn is_empty(self) -> bool {
        self.text.is_empty()
    }

    pub(crate) fn trim(self) -> Self {
        let cut = self.text.trim_start();
        Piece::new(cut.trim_end(), self.start + (self.text.len() - cut.len()))
    }

    /// The part from byte `at` on; the whole when `at` is no boundary.
    pub(crate) fn from(self, at: usize) -> Self {
        self.text.get(at..).map_or(self, |t| Piece::new(t, self.start + at))
    }

    /// The part up to byte `at`.
    pub(crate) fn to(self, at: usize) -> Self {
        self.text.get(..at).map_or(self, |t| Piece::new(t, self.start))
    }

    /// Positions of `mark` outside quotes and brackets.
    fn marks(self, mark: char) -> Vec<usize> {
        let mut found = Vec::new();
        let mut quoted = false;
        let mut depth = 0_usize;
        for (at, c) in self.text.char_indices() {
            match c {
                '"' => quoted = !quoted,
                '(' if !quoted => depth += 1,
                ')' if !quoted => depth = depth.saturating_sub(1),
                _ if c == mark && !quoted && depth == 0 => found.push(at),
                _ => {}
            }
        }
        found
    }

    /// All pieces between `mark`s outside quotes and brackets, trimmed.
    pub(crate) fn split(self, mark: char) -> Vec<Piece<'a>> {
        let mut pieces = Vec::new();
        let mut from = 0;
        for at in self.marks(mark) {
            pieces.push(self.to(at).from(from).trim());
            from = at + mark.len_utf8();
        }
        pieces.push(self.from(from).trim());
        pieces
    }

    /// Before and after the first `mark` outside quotes and brackets, trimmed.
    pub(crate) fn split_once(self, mark: char) -> Option<(Piece<'a>, Piece<'a>)> {
        let at = *self.marks(mark).first()?;
        Some((self.to(at).trim(), self.from(at + mark.len_utf8()).trim()))
    }

    /// Before and after the first ` word ` (spaces round it, or at the end), outside quotes and brackets.
    pub(crate) fn split_word(self, word: &str) -> Option<(Piece<'a>, Piece<'a>)> {
        let spaces = self.marks(' ');
        for at in spaces {
            let rest = self.text.get(at + 1..)?;
            if let Some(after) = rest.strip_prefix(word)
                && (after.is_empty() || after.starts_with(' '))
            {
                return Some((self.to(at).trim(), self.from(at + 1 + word.len()).trim()));
            }
        }
        None
    }

    /// The rest after `words` at the start (any case, whole words), trimmed.
    pub(crate) fn after(self, words: &str) -> Option<Piece<'a>> {
        let head = self.text.get(..words.len())?;
        let rest = self.text.get(words.len()..)?;
        let whole = rest.chars().next().is_none_or(|c| !c.is_alphanumeric());
        (head.eq_ignore_ascii_case(words) && whole).then(|| self.from(words.len()).trim())
    }

    /// Is it just this, in any case?
    pub(crate) fn is(self, words: &str) -> bool {
        self.text.eq_ignore_ascii_case(words)
    }

    /// First word and the rest, trimmed.
    pub(crate) fn first_word(self) -> (Piece<'a>, Piece<'a>) {
        match self.text.find(char::is_whitespace) {
            Some(at) => (self.to(at), self.from(at).trim()),
            None => (self, self.from(self.text.len())),
        }
    }

    /// The words inside quotes when it starts with one, and the rest, trimmed.
    pub(crate) fn quoted(self) -> Option<(Piece<'a>, Piece<'a>)> {
        let inner = self.text.strip_prefix('"')?;
        let close = inner.find('"')?;
        Some((self.from(1).to(close), self.from(close + 2).trim()))
    }

    /// What stands before a trailing `( … )`, and what is inside.
    pub(crate) fn bracket(self) -> (Piece<'a>, Option<Piece<'a>>) {
        if !self.text.ends_with(')') {
            return (self, None);
        }
        match self.text.rfind('(') {
            Some(open) => {
                let inside = self.to(self.text.len() - 1).from(open + 1).trim();
                (self.to(open).trim(), Some(inside))
            }
            None => (self, None),
        }
    }
}

/// Where a comment starts: a `#` at the start of the line or after a space, outside quotes.
pub(crate) fn comment_at(line: &str) -> Option<usize> {
    let mut quoted = false;
    let mut before = ' ';
    for (at, c) in line.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '#' if !quoted && before.is_whitespace() => return Some(at),
            _ => {}
        }
        before = c;
    }
    None
}

/// One slip of the pen: a problem before it knows its line.
#[derive(Clone, Debug)]
pub(crate) struct Slip {
    pub(crate) code: &'static str,
    pub(crate) span: Range<usize>,
    pub(crate) message: String,
    pub(crate) help: Option<String>,
}

/// Collects slips while a line is read.
#[derive(Debug, Default)]
pub(crate) struct Slips(pub(crate) Vec<Slip>);

impl Slips {
    pub(crate) fn add(
        &mut self,
        code: &'static str,
        at: Piece<'_>,
        message: String,
        help: impl Into<String>,
    ) {
        self.0.push(Slip { code, span: at.span(), message, help: Some(help.into()) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts<'a>(pieces: &[Piece<'a>]) -> Vec<&'a str> {
        pieces.iter().map(|p| p.text).collect()
    }

    #[test]
    fn quotes_and_brackets_protect_marks() {
        let line = Piece::new(r#"shows "thin, hollow", 3 s (2..4, yours), x"#, 10);
        assert_eq!(texts(&line.split(',')), [r#"shows "thin, hollow""#, "3 s (2..4, yours)", "x"]);
        assert_eq!(line.split(',')[2].start, 10 + 41);
    }

    #[test]
    fn a_comment_needs_a_space_before_it() {
        assert_eq!(comment_at("gear A#1 = x # note"), Some(13));
        assert_eq!(comment_at(r#"note "no # here""#), None);
    }
}
