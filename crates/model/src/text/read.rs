//! A rig file becomes a rig *and* its problems. Reading never fails: half a rig is normal while somebody is
//! typing one in.

use super::build::Builder;
use super::quick::{self, Others};
use super::scan::{Piece, Slips, comment_at};
use super::statement::{self, Statement};
use crate::{Guess, Origin, Problem, Question, Rig};

/// Largest file that is read, bytes. A big band's rig is under 50 000.
pub const MOST_BYTES: usize = 2_000_000;
/// Most lines that are read.
pub const MOST_LINES: usize = 20_000;
/// Most problems that are told; after these, reading goes on in silence.
pub const MOST_PROBLEMS: usize = 1_000;

/// One line of the file and what it says.
#[derive(Clone, Debug)]
pub(crate) struct Line {
    /// From 1.
    pub(crate) number: usize,
    /// The line without its end and comment.
    pub(crate) start: usize,
    pub(crate) len: usize,
    pub(crate) statement: Statement,
}

/// A file as it was read: the rig, what is wrong, what was guessed, and what is worth asking.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Reading {
    /// What was understood.
    pub rig: Rig,
    /// What was not, in the order of the lines.
    pub problems: Vec<Problem>,
    /// What was assumed, the weightiest first.
    pub guesses: Vec<Guess>,
    /// What only the owner can say, the weightiest first.
    pub questions: Vec<Question>,
}

/// A rig from text, and everything wrong with the text, in the order of the lines.
pub fn read(text: &str) -> (Rig, Vec<Problem>) {
    let reading = read_with(text, &|_| None);
    (reading.rig, reading.problems)
}

/// The same with guesses and questions. `others` gives the text of another rig by its name, for `same as NAME`.
pub fn read_with(text: &str, others: Others<'_>) -> Reading {
    let (rig, problems, guesses) = read_at(text, others, 0);
    let questions = quick::questions(&rig);
    let mut guesses = guesses;
    guesses.sort_by_key(|g| (g.matters, g.line));
    Reading { rig, problems, guesses, questions }
}

/// Reads a file that others may be like; `depth` counts how many stand above it.
pub(crate) fn read_at(text: &str, others: Others<'_>, depth: usize) -> (Rig, Vec<Problem>, Vec<Guess>) {
    if text.len() > MOST_BYTES {
        let problem = Problem::new(
            "file-too-big",
            1,
            0..0,
            format!(
                "the file holds {} bytes; expected at most {MOST_BYTES}, and a big rig is under 50000",
                text.len()
            ),
        );
        return (
            Rig::default(),
            vec![problem.with_help("check that it is a rig file, and not a photo or a recording")],
            Vec::new(),
        );
    }
    let mut problems = Vec::new();
    let lines = lines(text, &mut problems);
    let expanded = quick::expand(text, lines, others, depth);
    problems.retain(|p| expanded.understood.binary_search(&p.line).is_err());
    let (mut rig, more) = Builder::new(&expanded.lines).build();
    problems.extend(more);
    problems.extend(expanded.problems);
    problems.extend(quick::apply_answers(&mut rig, &expanded.lines));
    problems.sort_by_key(|p| (p.line, p.span.start));
    if problems.len() > MOST_PROBLEMS {
        let left = problems.len() - MOST_PROBLEMS;
        problems.truncate(MOST_PROBLEMS);
        let last = problems.last().map_or((1, 0), |p| (p.line, p.span.end));
        problems.push(
            Problem::new(
                "more-problems",
                last.0,
                last.1..last.1,
                format!("{left} more problems are not listed"),
            )
            .with_help("put the first ones right, then read it again"),
        );
    }
    (rig, problems, expanded.guesses)
}

/// The same from bytes, which may not be text at all. Spans count bytes of the text with each wrong byte
/// replaced by U+FFFD.
pub fn read_bytes(bytes: &[u8]) -> (Rig, Vec<Problem>) {
    let reading = read_bytes_with(bytes, &|_| None);
    (reading.rig, reading.problems)
}

/// The same with guesses and questions, and other rigs by name.
pub fn read_bytes_with(bytes: &[u8], others: Others<'_>) -> Reading {
    let head = bytes.get(..bytes.len().min(MOST_BYTES + 1)).unwrap_or(bytes);
    match std::str::from_utf8(bytes) {
        Ok(text) => read_with(text, others),
        Err(_) if bytes.len() > MOST_BYTES => {
            let mut reading = read_with(&"x".repeat(head.len()), others);
            for p in &mut reading.problems {
                p.message = p.message.replace(&head.len().to_string(), &bytes.len().to_string());
            }
            reading
        }
        Err(error) => {
            let at = error.valid_up_to();
            let before = bytes.get(..at).unwrap_or_default();
            let line = before.iter().filter(|b| **b == b'\n').count() + 1;
            let mut reading = read_with(&String::from_utf8_lossy(bytes), others);
            let found = bytes.get(at).copied().unwrap_or(0);
            let problem = Problem::new(
                "not-utf-8",
                line,
                at..at,
                format!(
                    "found the byte {found:#04x}, which is no letter in UTF-8; expected plain UTF-8 text"
                ),
            );
            reading.problems.push(problem.with_help(
                "save the file again as UTF-8; old letters such as an accented e may be the cause",
            ));
            reading.problems.sort_by_key(|p| (p.line, p.span.start));
            reading
        }
    }
}

/// Every line as a statement.
pub(crate) fn lines(text: &str, problems: &mut Vec<Problem>) -> Vec<Line> {
    let mut found = Vec::new();
    let mut start = 0;
    for (index, raw) in text.split_inclusive('\n').enumerate() {
        let number = index + 1;
        if number > MOST_LINES {
            problems.push(
                Problem::new(
                    "too-many-lines",
                    number,
                    start..start,
                    format!("the file goes on after line {MOST_LINES}; the rest was not read"),
                )
                .with_help("check that it is a rig file"),
            );
            break;
        }
        let mut body = raw.trim_end_matches(['\n', '\r']);
        let mut from = start;
        if index == 0 && body.starts_with('\u{feff}') {
            body = body.trim_start_matches('\u{feff}');
            from += raw.trim_end_matches(['\n', '\r']).len() - body.len();
        }
        let body = comment_at(body).and_then(|at| body.get(..at)).unwrap_or(body);
        let mut slips = Slips::default();
        let statement = statement::read(Piece::new(body, from), &Origin::Yours, &mut slips);
        if problems.len() <= MOST_PROBLEMS {
            problems.extend(slips.0.into_iter().map(|s| at_line(s, number)));
        }
        found.push(Line { number, start: from, len: body.len(), statement });
        start += raw.len();
    }
    found
}

/// A slip with its line.
pub(crate) fn at_line(slip: super::scan::Slip, line: usize) -> Problem {
    Problem { code: slip.code, span: slip.span, line, message: slip.message, help: slip.help }
}
