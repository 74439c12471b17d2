//! Reads cover problems in the neutral form and prints one line of JSON a fault, so that answers can be compared and timed
//! from outside. See `testkit/data/covers/README.md`.

use std::io::Write as _;
use std::process::ExitCode;
use std::time::Instant;

use check::fault::Fault;
use check::order::Goal;
use check::plan::End;
use check::{Judge, Problem};
use engine::{Cover, Limit, Proved};
use serde_json::{Value, json};
use testkit::read::{self, Neutral};

const USAGE: &str =
    "cover FILE [--goal now|full|break|must] [--every-fault] [--limit STEPS] [--polish STEPS]";

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            let _unwritten = writeln!(std::io::stderr(), "{message}");
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<(), String> {
    let mut args = std::env::args().skip(1);
    let (mut file, mut goal, mut every, mut limit) = (None, Goal::Now, false, Limit::default());
    while let Some(arg) = args.next() {
        let mut value = || args.next().ok_or_else(|| format!("{arg} needs a value\n{USAGE}"));
        match arg.as_str() {
            "--goal" => {
                goal = match value()?.as_str() {
                    "now" => Goal::Now,
                    "full" => Goal::Full,
                    "break" => Goal::Break,
                    "must" => Goal::Must,
                    other => return Err(format!("unknown goal {other}\n{USAGE}")),
                }
            }
            "--limit" => limit.nodes = value()?.parse().map_err(|e| format!("--limit: {e}"))?,
            "--polish" => limit.polish = value()?.parse().map_err(|e| format!("--polish: {e}"))?,
            "--every-fault" => every = true,
            _ if file.is_none() && !arg.starts_with("--") => file = Some(arg),
            other => return Err(format!("unknown argument {other}\n{USAGE}")),
        }
    }
    let file = file.ok_or(USAGE)?;
    let text = std::fs::read_to_string(&file).map_err(|e| format!("{file}: {e}"))?;
    let json: Value = serde_json::from_str(&text).map_err(|e| format!("{file}: {e}"))?;
    let case = read::case(&json).map_err(|e| format!("{file}: {e}"))?;
    let problem = Problem::new(case.neutral.spec.clone()).map_err(|e| format!("{file}: {e}"))?;
    let faults = if every {
        case.neutral.every_fault().map_err(|e| format!("{file}: {e}"))?
    } else {
        vec![(case.lost.clone(), case.fault.clone())]
    };
    let mut out = std::io::stdout().lock();
    for (lost, fault) in faults {
        let line = answer(&case.neutral, &problem, &lost, &fault, goal, limit);
        writeln!(out, "{line}").map_err(|e| e.to_string())?;
    }
    Ok(())
}

#[expect(
    clippy::disallowed_methods,
    reason = "this command reports how long the search took; no answer depends on it"
)]
fn answer(n: &Neutral, p: &Problem, lost: &[String], fault: &Fault, goal: Goal, limit: Limit) -> Value {
    let start = Instant::now();
    let cover = engine::cover(p, fault, goal, limit);
    let micros = u64::try_from(start.elapsed().as_micros()).unwrap_or(u64::MAX);
    let verdict = Judge::new(p, fault).judge(&cover.plan);
    debug_assert_eq!(verdict.values, cover.values);
    let v = cover.values;
    json!({
        "lost": lost,
        "goal": match goal { Goal::Now => "now", Goal::Full => "full", Goal::Break => "break", Goal::Must => "must" },
        "values": {"must": v.must, "harm": v.harm, "should": v.should, "nice": v.nice, "seconds": v.seconds, "diff": v.diff, "moves": v.moves},
        "proved": match cover.proved { Proved::Order => "order", Proved::Seconds => "seconds", Proved::No => "no" },
        "bound": {"must": cover.bound.must, "harm": cover.bound.harm, "seconds": cover.bound.seconds},
        "nodes": cover.nodes,
        "micros": micros,
        "plan": plan(n, p, &cover),
    })
}

fn plan(n: &Neutral, p: &Problem, cover: &Cover) -> Value {
    let end = |e: End| if e == End::From { "a" } else { "b" };
    let spec = &n.spec;
    let socket =
        |s: check::ids::SocketId| format!("{}.{}", spec.gear[spec.gear_of(s).ix()].name, spec.socket(s).name);
    let pull: Vec<Value> = cover.plan.pulls.iter().map(|(l, e)| json!([l.0, end(*e)])).collect();
    let new: Vec<Value> = cover
        .plan
        .new
        .iter()
        .map(|link| {
            let pair = &p.pairs.pairs[link.pair];
            let via: Vec<&str> =
                p.pairs.chains[link.chain].via.iter().map(|t| spec.leads[t.ix()].name.as_str()).collect();
            json!([socket(pair.from), socket(pair.to), via, link.kept.map(end)])
        })
        .collect();
    let place: serde_json::Map<String, Value> = cover
        .plan
        .places
        .iter()
        .map(|(g, k)| (spec.gear[g.ix()].name.clone(), json!(spec.gear[g.ix()].placements[*k].name)))
        .collect();
    let knob: Vec<String> = cover
        .plan
        .knobs
        .iter()
        .map(|k| format!("{}.{}", spec.gear[spec.knobs[k.ix()].gear.ix()].name, spec.knobs[k.ix()].name))
        .collect();
    let start: Vec<&str> = cover.plan.starts.iter().map(|g| spec.gear[g.ix()].name.as_str()).collect();
    json!({"pull": pull, "new": new, "place": place, "knob": knob, "start": start})
}
