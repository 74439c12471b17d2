//! What is measured, made ready, and held against known answers first: a fast wrong answer is worth nothing.
//!
//! Each module gives its work only after the comparison; the files in `benches/` then time it.

use std::io::Write as _;
use std::process::ExitCode;
use std::sync::OnceLock;

pub mod cafe;
pub mod peer;
pub mod read;
pub mod small;

/// A folder of this checkout.
pub fn folder(name: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(name)
}

/// A file's bytes.
///
/// # Errors
/// When it cannot be read, with its name.
pub fn bytes(path: &std::path::Path) -> Result<Vec<u8>, String> {
    std::fs::read(path).map_err(|e| format!("{}: {e}", path.display()))
}

/// A JSON file.
///
/// # Errors
/// When it cannot be read or is no JSON, with its name.
pub fn json(path: &std::path::Path) -> Result<serde_json::Value, String> {
    serde_json::from_slice(&bytes(path)?).map_err(|e| format!("{}: {e}", path.display()))
}

/// Keeps the work for the timers, says what was compared, and lets them start; or says what differs and starts nothing.
pub fn compared_first<T: Said>(work: Result<T, String>, keep: &OnceLock<T>, measure: fn()) -> ExitCode {
    let mut err = std::io::stderr().lock();
    let work = match work {
        Ok(work) => work,
        Err(differs) => {
            let _unwritten = writeln!(err, "Not measured, since an answer is not as it must be: {differs}");
            return ExitCode::FAILURE;
        }
    };
    let _unwritten = writeln!(err, "Compared first: {}", work.said());
    if keep.set(work).is_err() {
        let _unwritten = writeln!(err, "Not measured: the work was made ready twice");
        return ExitCode::FAILURE;
    }
    drop(err);
    measure();
    ExitCode::SUCCESS
}

/// Work that was compared.
pub trait Said {
    /// What was compared, in one line.
    fn said(&self) -> String;
}
