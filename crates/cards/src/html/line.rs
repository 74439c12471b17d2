//! A line of typed runs as markup: tape as tape, what is printed in bold, verbs in capitals.

use maud::{Markup, html};

use crate::line::{Line, Run};

/// Units that must not part from their number at a line's end.
const UNITS: [&str; 14] = ["s", "min", "m", "mm", "cm", "kg", "V", "A", "W", "dB", "Hz", "ft", "lb", "h"];

/// The line. A taped name, the label of its socket and the mark after them stay together.
pub(super) fn line(line: &Line) -> Markup {
    let runs = line.spaced();
    let mut groups: Vec<(bool, Vec<(bool, &Run)>)> = Vec::new();
    for (space, run) in runs {
        let after_tape =
            groups.last().is_some_and(|(_, group)| matches!(group.last(), Some((_, Run::Tape(_)))));
        match groups.last_mut() {
            Some((_, group)) if after_tape && (matches!(run, Run::Printed(_)) || mark(run)) => {
                group.push((space, run))
            }
            Some((_, group)) if group.len() > 1 && mark(run) => group.push((space, run)),
            _ => groups.push((space, vec![(false, run)])),
        }
    }
    html! {
        @for (space, group) in groups {
            @if space { " " }
            @if let [(_, run)] = group.as_slice() { (one(run)) } @else {
                span.nb { @for (space, run) in group { @if space { "\u{a0}" } (one(run)) } }
            }
        }
    }
}

fn one(run: &Run) -> Markup {
    html! {
        @match run {
            Run::Verb(s) => b.verb { (s.trim()) },
            Run::Tape(s) => b.tape { (s.trim()) },
            Run::Printed(s) => b.printed { (s.trim()) },
            Run::Text(s) => (joined(s.trim())),
        }
    }
}

/// Whether a run is a closing mark alone.
fn mark(run: &Run) -> bool {
    matches!(run, Run::Text(s) if matches!(s.trim(), "." | "," | ":" | ";" | "?"))
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
    fn a_socket_and_its_full_stop_stay_with_the_name() {
        let markup =
            line(&Line::from([text("into"), tape("A"), crate::printed("B"), text(".")])).into_string();
        let kept = "<span class=\"nb\"><b class=\"tape\">A</b>\u{a0}<b class=\"printed\">B</b>.</span>";
        assert_eq!(markup, format!("into {kept}"));
    }

    #[test]
    fn a_number_keeps_its_unit() {
        assert_eq!(joined("about 30–60 s, or 12 V."), "about 30\u{2060}–\u{2060}60\u{a0}s, or 12\u{a0}V.");
        assert_eq!(joined("step 2 a 3 apart"), "step 2 a 3 apart");
    }
}
