//! Answers on stdout, bad input on stderr; as text, or as JSON for programs.

use std::fmt::Display;
use std::io::Write as _;

use serde::Serialize;
use tasks::Bad;
use tasks::view::{Problem, Remark, Verdict};

use crate::Exit;

/// Where an answer goes.
#[derive(Debug)]
pub(crate) struct Out {
    json: bool,
    /// Everything that was said, shown at the end in one go.
    text: String,
}

impl Out {
    pub(crate) fn new(json: bool) -> Self {
        Out { json, text: String::new() }
    }

    /// Shows an answer: as JSON if that was asked for, else as `text` says it.
    pub(crate) fn answer<T: Serialize>(&mut self, view: &T, text: impl FnOnce(&T, &mut Self)) {
        if self.json {
            // A plain struct of strings and numbers always prints; if it should not, an empty answer is no JSON
            // and will be noticed.
            self.line(serde_json::to_string_pretty(view).unwrap_or_default());
        } else {
            text(view, self);
        }
    }

    /// One line.
    pub(crate) fn line(&mut self, line: impl Display) {
        self.text.push_str(&line.to_string());
        self.text.push('\n');
    }

    /// A heading after an empty line.
    pub(crate) fn head(&mut self, words: &str) {
        let bold = anstyle::Style::new().bold();
        if !self.text.is_empty() {
            self.text.push('\n');
        }
        self.line(format_args!("{bold}{words}{bold:#}"));
    }

    /// What stands wrong in the file.
    pub(crate) fn problems(&mut self, problems: &[Problem]) {
        for p in problems {
            self.line(format_args!("{}, line {}: {} [{}]", p.file, p.line, p.message, p.code));
            if !p.typed.trim().is_empty() {
                self.line(format_args!("  typed: {}", p.typed.trim()));
            }
            if let Some(help) = &p.help {
                self.line(format_args!("  try: {help}"));
            }
        }
    }

    /// Remarks on how it is plugged.
    pub(crate) fn remarks(&mut self, remarks: &[Remark]) {
        for r in remarks {
            let word = match r.verdict {
                Verdict::Hazard => "STOP",
                Verdict::WillNotWork => "Will not work",
                Verdict::SoundsDifferent => "Sounds different",
                Verdict::Works => "Works",
            };
            self.line(format_args!("{word}: {} [{}]", r.message, r.check));
            for f in &r.figures {
                self.line(format_args!("  {}: {} ({})", f.what, f.value, f.origin));
            }
            if let Some(help) = &r.help {
                self.line(format_args!("  try: {help}"));
            }
        }
    }

    /// Says on stderr why nothing was answered.
    pub(crate) fn bad(&self, bad: &Bad) {
        let said = if self.json {
            serde_json::to_string_pretty(&bad.view()).unwrap_or_default()
        } else {
            bad.to_string()
        };
        // When stderr is closed there is nobody to tell; the exit code still says it.
        let _told = writeln!(anstream::stderr(), "{said}");
    }

    /// Shows what was said. A reader that has gone (`| head`) is no error.
    pub(crate) fn finish(self, exit: Exit) -> Exit {
        let mut stdout = anstream::stdout();
        match stdout.write_all(self.text.as_bytes()).and_then(|()| stdout.flush()) {
            Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
                let _told = writeln!(anstream::stderr(), "the answer could not be shown: {e}");
                Exit::BadInput
            }
            Ok(()) | Err(_) => exit,
        }
    }
}

/// `1 line`, `2 lines`.
pub(crate) fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
