//! `read`: how a rig file was read.

use std::path::Path;

use tasks::view::{Question, Read, Weight};
use tasks::{Bad, read};

use crate::Exit;
use crate::show::{Out, count};

pub(crate) fn run(rig: &Path, out: &mut Out) -> Result<Exit, Bad> {
    let it = read::read(rig)?;
    out.answer(&it, text);
    Ok(Exit::of(!it.not_understood.is_empty()))
}

/// The house spelling is a rig file itself, so what was not understood, guesses and questions stand in it as comments.
fn text(it: &Read, out: &mut Out) {
    if !it.not_understood.is_empty() {
        let lines = count(it.not_understood.len(), "line was", "lines were");
        out.line(format_args!("# {lines} not understood:"));
    }
    for line in &it.not_understood {
        if !line.typed.trim().is_empty() {
            out.line(format_args!("# {}: {}", line.number, line.typed.trim()));
        }
        for p in &line.problems {
            out.line(format_args!("#   line {}: {} [{}]", p.line, p.message, p.code));
            if let Some(help) = &p.help {
                out.line(format_args!("#     try: {help}"));
            }
        }
    }
    guesses(it, out);
    questions(it, out);
    for line in &it.house {
        out.line(line);
    }
}

fn guesses(it: &Read, out: &mut Out) {
    if !it.guesses.is_empty() {
        out.line(format_args!("# {}, the weightiest first:", count(it.guesses.len(), "guess", "guesses")));
    }
    for g in &it.guesses {
        let line = if g.line > 0 { format!("line {}: ", g.line) } else { String::new() };
        out.line(format_args!("#   {line}{} (guessed: {})", g.text, g.why));
    }
}

fn questions(it: &Read, out: &mut Out) {
    if !it.questions.is_empty() {
        let asked = count(it.questions.len(), "question", "questions");
        out.line(format_args!("# {asked}, the weightiest first; write one of the lines into the file:"));
    }
    for q in &it.questions {
        question(q, out);
    }
}

fn question(q: &Question, out: &mut Out) {
    let why = match q.matters {
        Weight::Hurt => "it could hurt, or be heard by mistake",
        Weight::Must => "it changes what must be heard",
        Weight::Reach => "a lead nearly doesn't reach",
        Weight::Later => "it can wait",
    };
    out.line(format_args!("#   {} ({}: {why})", q.text, q.about));
    for c in &q.choices {
        out.line(format_args!("#     {} -- {}", c.write, c.changes));
    }
}
