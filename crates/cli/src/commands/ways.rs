//! `ways`: what stops the show, and what to do.

use std::path::Path;

use tasks::view::{FaultLine, GoalAsked, Proof, Rank, Round, Ways};
use tasks::{Bad, ways};

use crate::Exit;
use crate::args::Goal;
use crate::progress::Progress;
use crate::show::{Out, count};

pub(crate) fn run(
    rig: &Path,
    dead: Vec<String>,
    goal: Goal,
    limit: Option<u64>,
    out: &mut Out,
) -> Result<Exit, Bad> {
    let goal = match goal {
        Goal::Now => GoalAsked::Now,
        Goal::Full => GoalAsked::Full,
        Goal::Break => GoalAsked::Break,
    };
    let mut progress = Progress::new();
    let asked = ways::Asked { dead, goal, limit };
    let it = ways::ways(rig, &asked, &mut |done, all| progress.at(done, all))?;
    drop(progress);
    out.answer(&it, text);
    Ok(Exit::of(!it.problems.is_empty() || !it.hazards.is_empty()))
}

fn text(it: &Ways, out: &mut Out) {
    out.remarks(&it.hazards);
    if !it.hazards.is_empty() {
        out.line("No ways round are offered until this is dealt with. Then ask again.");
        return;
    }
    if !it.problems.is_empty() {
        out.head("Wrong in the file, and left out of what follows");
        out.problems(&it.problems);
    }
    match &it.round {
        Some(round) => one(round, out),
        None => all(it, out),
    }
}

fn all(it: &Ways, out: &mut Out) {
    let groups = [(Rank::StopsTheShow, "Stops the show"), (Rank::Slow, "Slow"), (Rank::WedCope, "We'd cope")];
    for (rank, words) in groups {
        let lines: Vec<&FaultLine> = it.faults.iter().filter(|f| f.rank == rank).collect();
        if !lines.is_empty() {
            out.head(words);
        }
        for (dead, rest) in told(&lines) {
            out.line(format_args!("{dead}. {rest}"));
        }
    }
    out.head("In short");
    out.line(format_args!(
        "{} silence something. {} nothing that counts.",
        count(it.faults.len(), "thing would", "things would"),
        count(it.silence_nothing, "more silences", "more silence"),
    ));
    out.line("Seconds count from the silence. They are estimates until you try them.");
    out.line("Nothing brings back as much sooner with this gear, unless a line says: best found so far.");
}

/// Each line, what dies apart from the rest. The ways in which one piece fails share a line where the rest is the same.
fn told(lines: &[&FaultLine]) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    for f in lines {
        let rest = line(f);
        let mode = f.dead.split_once(": ");
        let same = out.last_mut().filter(|(before, said)| {
            *said == rest && mode.is_some_and(|(piece, _)| before.starts_with(&format!("{piece}: ")))
        });
        match (same, mode) {
            (Some((dead, _)), Some((_, mode))) => *dead = format!("{dead}, {mode}"),
            _ => out.push((f.dead.clone(), rest)),
        }
    }
    out
}

/// What goes silent; what can be done, how quickly. That nothing is quicker is said once, below the list.
fn line(f: &FaultLine) -> String {
    let can = match (&f.seconds, f.gone.is_empty()) {
        (None, true) if !f.unchecked.is_empty() => "It may play on: listen.".to_owned(),
        (None, true) => "Leave it for now.".to_owned(),
        (None, false) => no_way(f.proof).to_owned(),
        (Some(range), all) => {
            let when = if f.later { "At the next pause: back in" } else { "Back in" };
            let but = if all { String::new() } else { format!(" Stays silent: {}.", f.gone_in_words) };
            let sure = if f.proof == Proof::No { " Best found so far." } else { "" };
            format!("{when} {}.{but}{sure}", range.said)
        }
    };
    let if_so = match f.unchecked.as_slice() {
        [] => String::new(),
        these => format!(" If {} passes sound with the power off.", these.join(" and ")),
    };
    format!("Silent: {}. {can}{if_so}", f.silent_in_words)
}

fn no_way(proof: Proof) -> &'static str {
    match proof {
        Proof::No => "No way found so far.",
        Proof::Seconds | Proof::Order => "No way round with what you carry.",
    }
}

fn proof(proof: Proof) -> &'static str {
    match proof {
        Proof::No => "Best found so far.",
        Proof::Seconds => "No quicker way with this gear.",
        Proof::Order => "No better way with this gear.",
    }
}

fn one(round: &Round, out: &mut Out) {
    out.head(&format!("Dead: {}", round.dead.join(" and ")));
    match &round.card {
        Some(card) => out.line(card.trim_end()),
        None => out.line("Nothing that counts goes silent. Leave it."),
    }
    out.head("How sure");
    let way = &round.way;
    let words = match (&way.seconds, round.gone.is_empty()) {
        (Some(range), _) => format!("Last step done in {}. {}", range.said, proof(way.proof)),
        (None, true) => "Nothing to do at once.".to_owned(),
        (None, false) => no_way(way.proof).to_owned(),
    };
    out.line(format_args!("{words} Looked at {}.", count_ways(way.looked_at)));
}

fn count_ways(n: u64) -> String {
    format!("{n} possible {}", if n == 1 { "way" } else { "ways" })
}
