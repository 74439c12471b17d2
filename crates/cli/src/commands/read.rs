//! `read`: how a rig file was read.

use std::path::Path;

use tasks::view::Read;
use tasks::{Bad, read};

use crate::Exit;
use crate::show::{Out, count};

pub(crate) fn run(rig: &Path, out: &mut Out) -> Result<Exit, Bad> {
    let it = read::read(rig)?;
    out.answer(&it, text);
    Ok(Exit::of(!it.not_understood.is_empty()))
}

/// The house spelling is a rig file itself, so what was not understood stands in it as comments.
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
    for line in &it.house {
        out.line(line);
    }
}
