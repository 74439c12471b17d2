//! The rig file: one thing a line, written by hand. See `docs/formats.md`.

mod build;
mod detail;
mod document;
mod figure;
mod items;
mod lay;
mod leads;
mod links;
mod names;
mod plain;
mod plug;
mod print;
mod quick;
mod read;
mod route;
mod scan;
mod socket;
mod statement;
mod suggest;
mod write;

pub use document::{Document, EditRefused};
pub use quick::Others;
pub use read::{
    MOST_BYTES, MOST_LINES, MOST_PROBLEMS, Reading, read, read_bytes, read_bytes_with, read_with,
};

/// The rig as text: full lines that read back as the same rig, answers and open questions included.
pub fn write(rig: &crate::Rig) -> String {
    let mut text = write::write(rig);
    for answer in &rig.answers {
        let line = Statement::Answer(answer.clone(), 0..0);
        text.push_str(&print::statement(&line, &crate::Origin::Yours));
        text.push('\n');
    }
    text
}

pub(crate) use detail::{Detail, read as read_detail};
pub(crate) use lay::apply;
pub(crate) use scan::{Piece, Slips, comment_at};
pub(crate) use statement::{Statement, read as read_statement};
