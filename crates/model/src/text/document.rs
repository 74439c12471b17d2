//! A rig file as its owner typed it, and edits that change only the lines they are about.
//!
//! Invariant: without an edit the text is the bytes that were read; comments, layout and lines that were not
//! understood survive every edit.

use std::fmt;
use std::ops::Range;

use super::detail::Detail;
use super::names::Index;
use super::plug;
use super::quick;
use super::read::{Line, lines, read};
use super::scan::Piece;
use super::statement::Statement;
use super::write::print_detail;
use crate::{Problem, Rig, Spot, same_name};

/// A rig file that can be edited.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    text: String,
}

/// Why an edit was not made. Nothing was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum EditRefused {
    /// No piece has this name.
    NoSuchGear(String),
    /// Another piece has it.
    NameTaken(String),
    /// A name that the grammar cannot hold.
    BadName(String),
    /// The file has fewer lines.
    NoSuchLine(usize),
    /// A line must be one line.
    NotOneLine,
}

impl fmt::Display for EditRefused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            EditRefused::NoSuchGear(name) => write!(f, "no piece is called \"{name}\""),
            EditRefused::NameTaken(name) => write!(f, "\"{name}\" is the name of another piece"),
            EditRefused::BadName(name) => write!(f, "\"{name}\" holds a mark that a name cannot hold"),
            EditRefused::NoSuchLine(n) => write!(f, "there is no line {n}"),
            EditRefused::NotOneLine => f.write_str("a line cannot hold a line end"),
        }
    }
}

impl std::error::Error for EditRefused {}

impl Document {
    /// The file as it is.
    pub fn new(text: impl Into<String>) -> Self {
        Document { text: text.into() }
    }

    /// The text, byte for byte.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The rig and its problems.
    pub fn rig(&self) -> (Rig, Vec<Problem>) {
        read(&self.text)
    }

    /// Moves a piece: its `at` is changed where it stands, or added to its `gear` line.
    ///
    /// # Errors
    /// When no piece has this name.
    pub fn set_position(&mut self, gear: &str, at: Spot) -> Result<(), EditRefused> {
        let new = print_detail(&Detail::At(at));
        let lines = self.lines();
        let Some(first) = lines.iter().position(|l| is_gear(l, gear)) else {
            return self.place_quick(gear, &new);
        };
        if let Some(span) = at_of(&self.text, &lines, gear) {
            self.text.replace_range(span, &new);
            return Ok(());
        }
        let Some(line) = lines.get(first) else { return Err(EditRefused::NoSuchGear(gear.to_owned())) };
        let end = self.end_of_words(line);
        let mut longer = self.clone();
        longer.text.insert_str(end, &format!(", {new}"));
        if at_of(&longer.text, &longer.lines(), gear).is_some() {
            *self = longer;
            return Ok(());
        }
        // An open quote or bracket swallows what is added to that line: a line below it is safe.
        self.insert_after(line.number, &format!("  {new}"))
    }

    /// Moves a piece that only quick lines bring: two full lines below say where it stands.
    fn place_quick(&mut self, gear: &str, at: &str) -> Result<(), EditRefused> {
        let lines = self.lines();
        if let Some(span) = at_of(&self.text, &lines, gear) {
            self.text.replace_range(span, at);
            return Ok(());
        }
        let Some(first) = quick::line_of(&self.text, lines.clone(), gear) else {
            return Err(EditRefused::NoSuchGear(gear.to_owned()));
        };
        // Behind the lines that belong to the quick line: the last word on a place counts.
        let below = lines.iter().filter(|l| l.number > first);
        let own = below.take_while(|l| {
            matches!(l.statement, Statement::Detail(_) | Statement::Empty | Statement::Unread)
        });
        let number =
            own.filter(|l| matches!(l.statement, Statement::Detail(_))).last().map_or(first, |l| l.number);
        self.insert_after(number, &format!("about {gear}"))?;
        self.insert_after(number + 1, &format!("  {at}"))
    }

    /// Tapes a new name on a piece, everywhere the old one stands.
    ///
    /// # Errors
    /// When no `gear` line has the old name, another has the new one, or the new one holds a mark of the grammar. A piece
    /// that only quick lines bring gets its name from their words.
    pub fn rename_gear(&mut self, old: &str, new: &str) -> Result<(), EditRefused> {
        let clean = plug::name(new).ok_or_else(|| EditRefused::BadName(new.to_owned()))?;
        let lines = self.lines();
        let mut index = Index::default();
        for (i, line) in lines.iter().enumerate() {
            if let Statement::Gear { name, .. } = &line.statement {
                index.add(name, i);
            }
        }
        let Some(here) = index.get(old) else { return Err(EditRefused::NoSuchGear(old.to_owned())) };
        if index.get(&clean).is_some_and(|other| other != here) {
            return Err(EditRefused::NameTaken(clean));
        }
        let mut spans: Vec<Range<usize>> = Vec::new();
        let mut found = |name: &str, span: &Range<usize>| {
            if same_name(name, old) {
                spans.push(span.clone());
            }
        };
        for line in &lines {
            match &line.statement {
                Statement::Gear { name, name_span, .. } => found(name, name_span),
                Statement::About(name, span) => found(name, span),
                Statement::Link(segments) => {
                    let ends = [segments.first(), segments.last()];
                    for (text, span) in ends.into_iter().flatten() {
                        let piece = Piece::new(text, span.start);
                        if let Some((i, rest)) = index.longest(piece)
                            && i == here
                        {
                            let words = text.len() - rest.text.len();
                            let name = text.get(..words).unwrap_or(text).trim_end();
                            found(old, &(span.start..span.start + name.len()));
                        }
                    }
                }
                Statement::Bag(items) | Statement::Stage(items) => {
                    for (name, _, span) in items {
                        let typed = self.text.get(span.clone()).unwrap_or("");
                        let length = name_length(typed, name);
                        found(name, &(span.start..span.start + length));
                    }
                }
                Statement::Breaker { feeds, .. } => feeds.iter().for_each(|(name, span)| found(name, span)),
                _ => {}
            }
        }
        for span in spans.into_iter().rev() {
            self.text.replace_range(span, &clean);
        }
        Ok(())
    }

    /// Adds a link line after the last one, or at the end.
    ///
    /// # Errors
    /// When `line` holds a line end.
    pub fn add_link(&mut self, line: &str) -> Result<(), EditRefused> {
        let last =
            self.lines().iter().rev().find(|l| matches!(l.statement, Statement::Link(_))).map(|l| l.number);
        match last {
            Some(number) => self.insert_after(number, line),
            None => self.add_line(line),
        }
    }

    /// Adds a line at the end.
    ///
    /// # Errors
    /// When `line` holds a line end.
    pub fn add_line(&mut self, line: &str) -> Result<(), EditRefused> {
        self.insert_after(self.text.lines().count(), line)
    }

    /// Adds a line after line `number`; 0 puts it first.
    ///
    /// # Errors
    /// When the file is shorter, or `line` holds a line end.
    pub fn insert_after(&mut self, number: usize, line: &str) -> Result<(), EditRefused> {
        one_line(line)?;
        let at = if number == 0 { 0 } else { self.raw(number)?.end };
        let open = at > 0 && !self.text.get(..at).is_some_and(|t| t.ends_with('\n'));
        let end = if self.text.contains("\r\n") { "\r\n" } else { "\n" };
        let new = if open { format!("{end}{line}{end}") } else { format!("{line}{end}") };
        self.text.insert_str(at, &new);
        Ok(())
    }

    /// Replaces line `number`, keeping its end.
    ///
    /// # Errors
    /// When the file is shorter, or `line` holds a line end.
    pub fn replace_line(&mut self, number: usize, line: &str) -> Result<(), EditRefused> {
        one_line(line)?;
        let whole = self.raw(number)?;
        let old = self.text.get(whole.clone()).unwrap_or("");
        let kept = old.trim_end_matches(['\n', '\r']).len();
        self.text.replace_range(whole.start..whole.start + kept, line);
        Ok(())
    }

    /// Takes line `number` out.
    ///
    /// # Errors
    /// When the file is shorter.
    pub fn remove_line(&mut self, number: usize) -> Result<(), EditRefused> {
        let whole = self.raw(number)?;
        self.text.replace_range(whole, "");
        Ok(())
    }

    fn lines(&self) -> Vec<Line> {
        lines(&self.text, &mut Vec::new())
    }

    /// Bytes of line `number`, its end included.
    fn raw(&self, number: usize) -> Result<Range<usize>, EditRefused> {
        let mut start = 0;
        for (i, raw) in self.text.split_inclusive('\n').enumerate() {
            if i + 1 == number {
                return Ok(start..start + raw.len());
            }
            start += raw.len();
        }
        Err(EditRefused::NoSuchLine(number))
    }

    /// Where the words of a line end: before spaces and comment.
    fn end_of_words(&self, line: &Line) -> usize {
        let body = self.text.get(line.start..line.start + line.len).unwrap_or("");
        line.start + body.trim_end().len()
    }
}

fn one_line(line: &str) -> Result<(), EditRefused> {
    if line.contains(['\n', '\r']) { Err(EditRefused::NotOneLine) } else { Ok(()) }
}

fn is_gear(line: &Line, wanted: &str) -> bool {
    matches!(&line.statement, Statement::Gear { name, .. } if same_name(name, wanted))
}

/// Where a piece says `at`: on its gear line, or on a line under it or under `about`. The last one counts.
fn at_of(text: &str, lines: &[Line], gear: &str) -> Option<Range<usize>> {
    let mut found = None;
    let mut here = false;
    for line in lines {
        match &line.statement {
            Statement::Gear { details, .. } => {
                here = is_gear(line, gear);
                let at = details.iter().rfind(|(d, _)| matches!(d, Detail::At(_)));
                if let (true, Some((_, span))) = (here, at) {
                    found = Some(span.clone());
                }
            }
            Statement::About(name, _) => here = same_name(name, gear),
            Statement::Empty | Statement::Unread => {}
            // A detail line may be indented: only its words are replaced.
            Statement::Detail(Detail::At(_)) if here => {
                let body = text.get(line.start..line.start + line.len).unwrap_or("");
                found = Some(Piece::new(body, line.start).trim().span());
            }
            Statement::Detail(_) => {}
            _ => here = false,
        }
    }
    found
}

/// How many bytes of `typed` are the name, which may have a count behind it.
fn name_length(typed: &str, name: &str) -> usize {
    let fits = |at: usize| typed.get(..at).is_some_and(|t| same_name(t, name));
    (0..=typed.len()).find(|at| fits(*at)).unwrap_or(typed.len())
}
