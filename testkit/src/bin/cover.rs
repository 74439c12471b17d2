//! Reads cover problems in the neutral form and prints one line of JSON a fault, so that answers can be compared and timed
//! from outside; or one table for all, hardest first. See `testkit/data/covers/README.md`.

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
    "cover FILE [--goal now|full|break|must] [--every-fault] [--limit STEPS] [--polish STEPS] [--table]";

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
    let mut as_table = false;
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
            "--table" => as_table = true,
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
    let mut rows = Vec::new();
    for (lost, fault) in faults {
        let (cover, micros) = answer(&problem, &fault, goal, limit);
        if as_table {
            rows.push(Row { lost: lost.join(", "), cover, micros });
        } else {
            let line = line(&case.neutral, &problem, &lost, &cover, micros);
            writeln!(out, "{line}").map_err(|e| e.to_string())?;
        }
    }
    if as_table {
        write!(out, "{}", table(rows)).map_err(|e| e.to_string())?;
    }
    Ok(())
}

#[expect(
    clippy::disallowed_methods,
    reason = "this command reports how long the search took; no answer depends on it"
)]
fn answer(p: &Problem, fault: &Fault, goal: Goal, limit: Limit) -> (Cover, u64) {
    let start = Instant::now();
    let cover = engine::cover(p, fault, goal, limit);
    let micros = u64::try_from(start.elapsed().as_micros()).unwrap_or(u64::MAX);
    let verdict = Judge::new(p, fault).judge(&cover.plan);
    debug_assert_eq!(verdict.values, cover.values);
    (cover, micros)
}

fn line(n: &Neutral, p: &Problem, lost: &[String], cover: &Cover, micros: u64) -> Value {
    let v = cover.values;
    json!({
        "lost": lost,
        "goal": match cover.goal { Goal::Now => "now", Goal::Full => "full", Goal::Break => "break", Goal::Must => "must" },
        "values": {"must": v.must, "harm": v.harm, "should": v.should, "nice": v.nice, "seconds": v.seconds, "diff": v.diff, "moves": v.moves},
        "proved": word(cover.proved),
        "bound": {"must": cover.bound.must, "harm": cover.bound.harm, "seconds": cover.bound.seconds},
        "nodes": cover.nodes,
        "micros": micros,
        "plan": plan(n, p, cover),
    })
}

fn word(proved: Proved) -> &'static str {
    match proved {
        Proved::Order => "order",
        Proved::Seconds => "seconds",
        Proved::No => "no",
    }
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

struct Row {
    lost: String,
    cover: Cover,
    micros: u64,
}

/// A summary, then one row a fault: what is not proved first, then by nodes. Rows with nothing to do are only counted.
fn table(mut rows: Vec<Row>) -> String {
    let mut out = String::new();
    let count = |what: &dyn Fn(&Row) -> bool| rows.iter().filter(|r| what(r)).count();
    let micros: u64 = rows.iter().map(|r| r.micros).sum();
    let idle = |r: &Row| r.cover.plan == check::plan::Plan::default() && r.cover.proved == Proved::Order;
    out.push_str(&format!(
        "{} faults: {} proved in every place of the order, {} to the seconds, {} not. {} nodes, {} s.\n\n",
        rows.len(),
        count(&|r| r.cover.proved == Proved::Order),
        count(&|r| r.cover.proved == Proved::Seconds),
        count(&|r| r.cover.proved == Proved::No),
        rows.iter().map(|r| r.cover.nodes).sum::<u64>(),
        in_seconds(micros),
    ));
    out.push_str(
        "| fault | proved | must | harm | seconds | bound: must | harm | seconds | nodes | time, s |\n",
    );
    out.push_str("|---|---|--:|--:|--:|--:|--:|--:|--:|--:|\n");
    let nothing_to_do = count(&idle);
    rows.sort_by(|a, b| (a.cover.proved, b.cover.nodes).cmp(&(b.cover.proved, a.cover.nodes)));
    for row in rows.iter().filter(|r| !idle(r)) {
        let (v, b) = (row.cover.values, row.cover.bound);
        let bound = if b.must == i32::MIN {
            "– | – | –".to_owned()
        } else {
            format!("{} | {} | {}", b.must, b.harm, b.seconds)
        };
        out.push_str(&format!(
            "| `{}` | {} | {} | {} | {} | {bound} | {} | {} |\n",
            row.lost,
            word(row.cover.proved),
            v.must,
            v.harm,
            v.seconds,
            row.cover.nodes,
            in_seconds(row.micros),
        ));
    }
    out.push_str(&format!(
        "\nNot in the table: {nothing_to_do} faults for which doing nothing is proved best.\n"
    ));
    out
}

/// Seconds with three digits after the point.
fn in_seconds(micros: u64) -> String {
    format!("{}.{:03}", micros / 1_000_000, micros / 1_000 % 1_000)
}
