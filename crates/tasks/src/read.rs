//! How a rig file was read: what was not understood, what was guessed, what is worth asking, and the rig in the house
//! spelling.

use std::path::Path;

use crate::{Bad, load, view};

/// Reads a rig file and says how.
///
/// # Errors
/// When the file cannot be read.
pub fn read(path: &Path) -> Result<view::Read, Bad> {
    let loaded = load(path)?;
    let mut lines: Vec<view::Line> = Vec::new();
    for problem in loaded.problems() {
        match lines.last_mut().filter(|l| l.number == problem.line) {
            Some(line) => line.problems.push(problem),
            None => lines.push(view::Line {
                number: problem.line,
                typed: problem.typed.clone(),
                problems: vec![problem],
            }),
        }
    }
    Ok(view::Read {
        file: loaded.file.clone(),
        rig: loaded.rig.name.clone(),
        not_understood: lines,
        guesses: loaded.guesses.iter().map(guess).collect(),
        questions: loaded.questions.iter().map(question).collect(),
        house: model::text::write(&loaded.rig).lines().map(str::to_owned).collect(),
    })
}

fn guess(g: &model::Guess) -> view::Guess {
    view::Guess { line: g.line, text: g.text.clone(), why: g.why.clone(), matters: weight(g.matters) }
}

fn question(q: &model::Question) -> view::Question {
    let choice = |c: &model::Choice| view::Choice {
        says: c.says.clone(),
        changes: c.changes.clone(),
        write: q.answered(&c.says),
    };
    view::Question {
        about: q.about.clone(),
        text: q.text.clone(),
        matters: weight(q.matters),
        choices: q.choices.iter().map(choice).collect(),
    }
}

fn weight(m: model::Matters) -> view::Weight {
    match m {
        model::Matters::Hurt => view::Weight::Hurt,
        model::Matters::Must => view::Weight::Must,
        model::Matters::Reach => view::Weight::Reach,
        model::Matters::Later => view::Weight::Later,
    }
}
