//! The second way from the command line: best values and one best plan, one JSON line a goal.
//!
//! `second_way FILE [--goal now|full|break|must] [--limit NODES]` reads a problem of the neutral form.
//! `second_way --random N [--from SEED]` does the same for N random problems.

use std::io::Write;
use std::process::ExitCode;

use serde_json::{Value, json};
use testkit::neutral::Problem;
use testkit::oracle::{Answer, Goal, Rules, answer};

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let mut out = std::io::stdout().lock();
    let told = run(&words, &mut |line| writeln!(out, "{line}").map_err(|error| error.to_string()));
    match told {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            // Nothing can be done when even this cannot be written.
            let _ignored = writeln!(std::io::stderr(), "second_way: {message}");
            ExitCode::from(2)
        }
    }
}

#[derive(Default)]
struct Asked {
    file: Option<String>,
    random: Option<u64>,
    from: u64,
    goals: Vec<Goal>,
    limit: Option<u64>,
}

fn asked(words: &[String]) -> Result<Asked, String> {
    let mut asked = Asked::default();
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let mut next = || words.next().ok_or_else(|| format!("{word} needs a value"));
        let number =
            |text: &String| text.parse::<u64>().map_err(|_| format!("\"{text}\" is no whole number"));
        match word.as_str() {
            "--random" => asked.random = Some(number(next()?)?),
            "--from" => asked.from = number(next()?)?,
            "--limit" => asked.limit = Some(number(next()?)?),
            "--goal" => asked.goals.push(match next()?.as_str() {
                "must" => Goal::Must,
                "now" => Goal::Now,
                "full" => Goal::Full,
                "break" => Goal::Break,
                other => return Err(format!("goal \"{other}\" is none of now, full, break, must")),
            }),
            flag if flag.starts_with('-') => return Err(format!("no option {flag}")),
            _ => asked.file = Some(word.clone()),
        }
    }
    if asked.goals.is_empty() {
        asked.goals = vec![Goal::Now, Goal::Full, Goal::Break];
    }
    Ok(asked)
}

fn run(words: &[String], say: &mut dyn FnMut(String) -> Result<(), String>) -> Result<(), String> {
    let asked = asked(words)?;
    match (&asked.file, asked.random) {
        (Some(file), None) => {
            let text = std::fs::read_to_string(file).map_err(|error| format!("{file}: {error}"))?;
            let value: Value = serde_json::from_str(&text).map_err(|error| format!("{file}: {error}"))?;
            lines(&value, &asked, None, say)
        }
        (None, Some(count)) => (asked.from..asked.from.saturating_add(count))
            .try_for_each(|seed| lines(&testkit::random::problem(seed), &asked, Some(seed), say)),
        _ => Err("expected FILE, or --random N [--from SEED]".to_owned()),
    }
}

fn lines(
    value: &Value,
    asked: &Asked,
    seed: Option<u64>,
    say: &mut dyn FnMut(String) -> Result<(), String>,
) -> Result<(), String> {
    let problem = Problem::from_value(value)?;
    for &goal in &asked.goals {
        let found = answer(&problem, goal, Rules::ALL, asked.limit.unwrap_or(u64::MAX));
        let mut line = json!({ "lost": value["lost"], "goal": goal.word() });
        if let Some(seed) = seed {
            line["seed"] = json!(seed);
        }
        match found {
            Some(found) => describe(&mut line, goal, &found),
            None => line["values"] = Value::Null,
        }
        say(line.to_string())?;
    }
    Ok(())
}

fn describe(line: &mut Value, goal: Goal, found: &Answer) {
    line["values"] =
        found.values.named(goal).into_iter().map(|(name, v)| (name.to_owned(), json!(v))).collect();
    line["nodes"] = json!(found.nodes);
    let place: serde_json::Map<String, Value> =
        found.plan.place.iter().map(|(gear, place)| (gear.clone(), json!(place))).collect();
    line["plan"] = json!({
        "pull": found.plan.pull,
        "new": found.plan.new,
        "place": place,
        "knob": found.plan.knob,
        "start": found.plan.start,
        "mend": found.plan.mend,
    });
}
