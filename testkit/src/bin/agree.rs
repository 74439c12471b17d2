//! Compares the product with the second way on random rigs: `agree N [--from SEED]`. Prints each difference, then a count.

use std::io::Write as _;
use std::process::ExitCode;

use testkit::agree::{GOALS, differ};
use testkit::random;

fn main() -> ExitCode {
    let mut args = std::env::args().skip(1);
    let (mut count, mut from) = (500_u64, 0_u64);
    while let Some(arg) = args.next() {
        let number =
            if arg == "--from" { args.next().and_then(|v| v.parse().ok()) } else { arg.parse().ok() };
        match (arg.as_str(), number) {
            ("--from", Some(n)) => from = n,
            (_, Some(n)) => count = n,
            (_, None) => {
                let _unwritten = writeln!(std::io::stderr(), "agree N [--from SEED]");
                return ExitCode::from(2);
            }
        }
    }
    let mut out = std::io::stdout().lock();
    let (mut differ_in, mut unsettled) = (0_u64, 0_u64);
    for seed in from..from + count {
        let json = random::problem(seed);
        for goals in GOALS {
            match differ(&json, goals, 300_000) {
                Ok(None) => {}
                Ok(Some(d)) => {
                    differ_in += 1;
                    let _unwritten = writeln!(
                        out,
                        "seed {seed} {:?}: product {:?} {:?} {:?}\n  second {:?} {:?}",
                        d.goal,
                        d.product.values,
                        d.product.proved,
                        d.product.plan,
                        d.second.values,
                        d.second.plan
                    );
                }
                Err(_) => unsettled += 1,
            }
        }
    }
    let _unwritten = writeln!(out, "{count} rigs, 4 goals each: {differ_in} differ, {unsettled} unsettled");
    if differ_in == 0 { ExitCode::SUCCESS } else { ExitCode::from(1) }
}
