//! A line of typed runs as markup: tape as tape, what is printed in bold, verbs in capitals.

use maud::{Markup, html};

use crate::line::{Line, Run};

/// Units that must not part from their number at a line's end.
const UNITS: [&str; 14] = ["s", "min", "m", "mm", "cm", "kg", "V", "A", "W", "dB", "Hz", "ft", "lb", "h"];

/// The line.
pub(super) fn line(line: &Line) -> Markup {
    html! {
        @for (space, run) in spaces(line) {
            (space)
            @match run {
                Run::Verb(s) => b.verb { (s.trim()) },
                Run::Tape(s) => b.tape { (s.trim()) },
                Run::Printed(s) => b.printed { (s.trim()) },
                Run::Text(s) => (joined(s.trim())),
            }
        }
    }
}

/// The runs with what stands before each: a socket's label stays on the line of its gear's name.
fn spaces(line: &Line) -> Vec<(&'static str, &Run)> {
    let mut after_tape = false;
    let mut out = Vec::new();
    for (space, run) in line.spaced() {
        let keep = after_tape && matches!(run, Run::Printed(_));
        out.push((
            if !space {
                ""
            } else if keep {
                "\u{a0}"
            } else {
                " "
            },
            run,
        ));
        after_tape = matches!(run, Run::Tape(_));
    }
    out
}

/// The words with numbers and units joined by a no-break space, and ranges kept whole.
pub(super) fn joined(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    let mut digit = false;
    for (i, word) in words.split(' ').enumerate() {
        if i > 0 {
            let unit = word.trim_end_matches(|c: char| c.is_ascii_punctuation());
            out.push(if digit && UNITS.contains(&unit) { '\u{a0}' } else { ' ' });
        }
        // A range stays on one line: word joiners round its dash.
        let range = word
            .split_once('–')
            .filter(|(a, b)| a.ends_with(char::is_numeric) && b.starts_with(char::is_numeric));
        match range {
            Some((least, most)) => out.extend([least, "\u{2060}–\u{2060}", most]),
            None => out.push_str(word),
        }
        digit = word.ends_with(|c: char| c.is_ascii_digit());
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::line::{tape, text, verb};

    #[test]
    fn names_are_escaped_and_tape_is_marked() {
        let markup = line(&Line::from([verb("pull"), tape("<b>&"), text("out.")])).into_string();
        assert_eq!(markup, "<b class=\"verb\">pull</b> <b class=\"tape\">&lt;b&gt;&amp;</b> out.");
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(joined("about 30–60 s, or 12 V."), "about 30\u{2060}–\u{2060}60\u{a0}s, or 12\u{a0}V.");
        assert_eq!(joined("step 2 a 3 apart"), "step 2 a 3 apart");
    }
}
