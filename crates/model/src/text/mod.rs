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
mod read;
mod route;
mod scan;
mod socket;
mod statement;
mod suggest;
mod write;

pub use document::{Document, EditRefused};
pub use read::{MOST_BYTES, MOST_LINES, MOST_PROBLEMS, read, read_bytes};
pub use write::write;

pub(crate) use detail::{Detail, read as read_detail};
pub(crate) use lay::apply;
pub(crate) use scan::{Piece, Slips, comment_at};
pub(crate) use statement::{Statement, read as read_statement};
