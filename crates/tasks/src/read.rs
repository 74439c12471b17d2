//! How a rig file was read: what was not understood, and the rig in the house spelling.

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
        house: model::text::write(&loaded.rig).lines().map(str::to_owned).collect(),
    })
}
