//! A rig file from the disk, with everything wrong with it.

use std::path::Path;

use check::compile::Compiled;
use model::text::Reading;
use model::{Guess, Problem, Question, Rig};

use crate::{Bad, view, world};

/// A rig file that was read.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The file, as it was asked for.
    pub file: String,
    /// Its text; a byte that is no text stands as U+FFFD.
    pub text: String,
    /// The rig: what was understood.
    pub rig: Rig,
    /// Everything that was not.
    pub problems: Vec<Problem>,
    /// What was assumed, the weightiest first.
    pub guesses: Vec<Guess>,
    /// What only the owner can say, the weightiest first.
    pub questions: Vec<Question>,
}

/// Reads a rig file.
///
/// # Errors
/// When the file cannot be read at all; what stands wrong in it is in [`Loaded::problems`].
pub fn load(path: &Path) -> Result<Loaded, Bad> {
    let bytes = world::read(path)?;
    let Reading { rig, mut problems, guesses, questions } =
        model::text::read_bytes_with(&bytes, &|name| world::beside(path, name));
    problems.extend(missing(&rig));
    let text = String::from_utf8_lossy(&bytes).into_owned();
    Ok(Loaded { file: path.display().to_string(), text, rig, problems, guesses, questions })
}

impl Loaded {
    /// The rig in whole numbers.
    ///
    /// # Errors
    /// When its figures cannot be reckoned with at all.
    pub fn compile(&self) -> Result<Compiled, Bad> {
        check::judge_rig(&self.rig).map_err(|nonsense| Bad {
            code: "nonsense",
            place: self.file.clone(),
            found: nonsense.to_string(),
            expected: "a rig that can be reckoned with".to_owned(),
            fix: format!("correct that line; see how it was read: secondstring read {}", self.file),
        })
    }

    /// The problems as plain data.
    pub fn problems(&self) -> Vec<view::Problem> {
        self.problems.iter().map(|p| self.problem(p)).collect()
    }

    fn problem(&self, p: &Problem) -> view::Problem {
        view::Problem {
            code: p.code.to_owned(),
            file: self.file.clone(),
            line: p.line,
            span: [p.span.start, p.span.end],
            typed: self.text.lines().nth(p.line.saturating_sub(1)).unwrap_or_default().trim_end().to_owned(),
            message: p.message.clone(),
            help: p.help.clone(),
        }
    }
}

/// A file without gear, or in which nothing must be heard, is read without a slip and answers nothing.
fn missing(rig: &Rig) -> Option<Problem> {
    if rig.gear.is_empty() {
        let problem = Problem::new("no-gear", 1, 0..0, "the file names no gear; expected at least one piece");
        Some(problem.with_help("write a line such as: gear VOICE MIC = vocal mic, at 0 0"))
    } else if rig.parts.is_empty() {
        let problem =
            Problem::new("no-parts", 1, 0..0, "no line says what must be heard; expected at least one");
        Some(problem.with_help("write a line such as: must: voice for audience"))
    } else {
        None
    }
}
