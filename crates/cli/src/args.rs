//! What can be typed: one definition for reading it, the help and the completions.

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

/// Ways round, for performers who carry, wire and mix their own sound.
///
/// Tell it what you own, how it is plugged and what must be heard. For everything that can stop working it finds
/// the quickest way to bring sound back, and prints it as cards.
#[derive(Debug, Parser)]
#[command(
    name = "secondstring",
    version,
    after_help = "Exit code: 0 answered, 1 the rig has problems or hazards, 2 bad input."
)]
pub(crate) struct Args {
    /// Print the answer as JSON, for programs.
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Say what is wrong with a rig as it stands, hazards first, and what is heard by whom.
    Check {
        /// The rig file.
        rig: PathBuf,
    },
    /// Say what stops the show, worst first; or what to do when something is dead. With a hazard: only the hazard.
    #[command(
        after_help = "Seconds count from the silence: 5 s to notice, 8 s to read, then the hands' estimate, once to \
                            twice. They are estimates until you try them."
    )]
    Ways {
        /// The rig file.
        rig: PathBuf,
        /// What is dead: MIXER; one way it fails, MIXER:supply; or a lead by its tape, VOICE. May be given several times: dead
        /// together.
        #[arg(long, value_name = "THING[:MODE]")]
        dead: Vec<String>,
        /// What the way is to be best at.
        #[arg(long, value_enum, default_value_t = Goal::Now)]
        goal: Goal,
        /// How long to look for each way, in counted steps. The same on every machine.
        #[arg(long, value_name = "STEPS", value_parser = clap::value_parser!(u64).range(1..))]
        limit: Option<u64>,
    },
    /// Write all cards of a rig into one page, for phone, laptop and paper. With a hazard the page says stop, and has none.
    Cards {
        /// The rig file.
        rig: PathBuf,
        /// Where to write the page, such as cards.html.
        #[arg(short, long, value_name = "FILE")]
        output: PathBuf,
        /// The date to print on the cards. Without it: the show's date from the rig file, if it has one.
        #[arg(long, value_name = "TEXT")]
        date: Option<String>,
        /// How long to look for each way, in counted steps.
        #[arg(long, value_name = "STEPS", value_parser = clap::value_parser!(u64).range(1..))]
        limit: Option<u64>,
    },
    /// List the types of gear and leads there are; or show one: sockets, figures, how it fails.
    Shelf {
        /// A type of gear or lead.
        kind: Option<String>,
    },
    /// Explain a check, a word, or a type of gear. Without a name: list the checks.
    Explain {
        /// What to explain, such as stops-short.
        name: Option<String>,
    },
    /// Show how a rig file was read: what was not understood, guesses, questions, and the rig in full lines.
    Read {
        /// The rig file.
        rig: PathBuf,
    },
    /// Print what a shell needs to complete these commands.
    Completions {
        /// Which shell.
        #[arg(value_enum)]
        shell: clap_complete::Shell,
    },
}

/// What the way is to be best at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Goal {
    /// What must be heard at once; the rest if it takes little more.
    Now,
    /// Everything, at the next pause.
    Full,
    /// The best sound, within half the break.
    Break,
}
