//! Runs the real program in a folder of its own, with nothing of the tester's surroundings.

use std::path::PathBuf;
use std::process::{Command, Stdio};

/// What came of a run.
#[derive(Debug)]
pub(crate) struct Ran {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Ran {
    /// Everything, for a snapshot.
    pub(crate) fn all(&self) -> String {
        let mark = |name: &str, s: &str| {
            if s.is_empty() { String::new() } else { format!("--- {name}\n{s}") }
        };
        format!("exit {}\n{}{}", self.code, mark("stdout", &self.out), mark("stderr", &self.err))
    }
}

/// A folder of its own.
pub(crate) struct Folder(pub(crate) PathBuf);

impl Folder {
    /// An empty one, named after its test.
    pub(crate) fn new(name: &str) -> Self {
        let at = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        let _gone = std::fs::remove_dir_all(&at);
        std::fs::create_dir_all(&at).unwrap();
        Folder(at)
    }

    /// One that holds the rig of the tests.
    pub(crate) fn with_rig(name: &str) -> Self {
        let folder = Folder::new(name);
        folder.file("corner-bar.rig", include_bytes!("../data/corner-bar.rig"));
        folder
    }

    pub(crate) fn file(&self, name: &str, bytes: &[u8]) {
        std::fs::write(self.0.join(name), bytes).unwrap();
    }

    /// Runs the program here.
    pub(crate) fn run(&self, args: &[&str]) -> Ran {
        let done = Command::new(env!("CARGO_BIN_EXE_secondstring"))
            .args(args)
            .current_dir(&self.0)
            .env_clear()
            .stdin(Stdio::null())
            .output()
            .unwrap();
        Ran {
            code: done.status.code().unwrap_or(-1),
            out: String::from_utf8(done.stdout).unwrap(),
            err: String::from_utf8(done.stderr).unwrap(),
        }
    }
}
