//! Prints the values that the search of the small duo is held against, found anew: `written > benches/data/small-duo.json`.

use std::io::Write as _;
use std::process::ExitCode;

/// Enough for the second way to end on all faults but the strip (a quarter of an hour in all).
const NODES: u64 = 400_000;

fn main() -> ExitCode {
    let told = benches::small::values(NODES).and_then(|values| {
        let text = serde_json::to_string_pretty(&values).map_err(|e| e.to_string())?;
        writeln!(std::io::stdout(), "{text}").map_err(|e| e.to_string())
    });
    match told {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            let _unwritten = writeln!(std::io::stderr(), "{message}");
            ExitCode::FAILURE
        }
    }
}
