//! `completions`: from the same definition as the help.

use clap::CommandFactory as _;

use crate::Exit;
use crate::args::Args;
use crate::show::Out;

pub(crate) fn run(shell: clap_complete::Shell, out: &mut Out) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Args::command(), "secondstring", &mut script);
    out.line(String::from_utf8_lossy(&script).trim_end());
    Exit::Answered
}
