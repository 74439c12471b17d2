//! The `secondstring` program: what is asked on the command line, answered by `tasks`, shown as text or JSON.
//!
//! Exit codes, decided in [`Exit`] only: 0 answered, 1 the rig has problems or hazards, 2 bad input.

mod args;
mod commands;
mod progress;
mod show;

use std::process::ExitCode;

use clap::Parser as _;

use args::Args;
use show::Out;

fn main() -> ExitCode {
    let args = Args::parse();
    let mut out = Out::new(args.json);
    let exit = commands::run(args.command, &mut out).unwrap_or_else(|bad| {
        out.bad(&bad);
        Exit::BadInput
    });
    out.finish(exit).code()
}

/// How it went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Exit {
    /// Answered.
    Answered,
    /// Answered, and the rig has problems or hazards.
    RigHasProblems,
    /// Not answered.
    BadInput,
}

impl Exit {
    /// 1 where the rig has problems or hazards.
    fn of(problems: bool) -> Self {
        if problems { Exit::RigHasProblems } else { Exit::Answered }
    }

    fn code(self) -> ExitCode {
        ExitCode::from(match self {
            Exit::Answered => 0,
            Exit::RigHasProblems => 1,
            Exit::BadInput => 2,
        })
    }
}
