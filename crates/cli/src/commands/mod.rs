//! One file a command.

mod cards;
mod check;
mod completions;
mod explain;
mod read;
mod shelf;
mod ways;

use tasks::Bad;

use crate::Exit;
use crate::args::Command;
use crate::show::Out;

/// Answers a command.
pub(crate) fn run(command: Command, out: &mut Out) -> Result<Exit, Bad> {
    match command {
        Command::Check { rig } => check::run(&rig, out),
        Command::Ways { rig, dead, goal, limit } => ways::run(&rig, dead, goal, limit, out),
        Command::Cards { rig, output, date, limit } => cards::run(&rig, &output, date.as_deref(), limit, out),
        Command::Shelf { kind } => shelf::run(kind.as_deref(), out),
        Command::Explain { name } => explain::run(name.as_deref(), out),
        Command::Read { rig } => read::run(&rig, out),
        Command::Completions { shell } => Ok(completions::run(shell, out)),
    }
}
