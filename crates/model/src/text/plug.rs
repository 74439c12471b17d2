//! Connectors, classes and wires as words.

use std::fmt::Write as _;

use super::figure;
use super::scan::{Piece, Slips};
use crate::{Class, Connector, Form, Half, Polarity, Stereo, Wires, Wiring};

/// Words whose half is fixed by the word itself.
const FIXED: [(&str, Form, Half); 8] = [
    ("XLR-M", Form::Xlr, Half::Plug),
    ("XLR-F", Form::Xlr, Half::Sock),
    ("C14", Form::Iec13, Half::Plug),
    ("C13", Form::Iec13, Half::Sock),
    ("C8", Form::Iec7, Half::Plug),
    ("C7", Form::Iec7, Half::Sock),
    ("wall plug", Form::Wall, Half::Plug),
    ("wall socket", Form::Wall, Half::Sock),
];

/// Words that want `plug` or `socket` beside them.
const FORMS: [(&str, Form); 14] = [
    ("XLR", Form::Xlr),
    ("mini jack", Form::Mini),
    ("mini", Form::Mini),
    ("jack", Form::Jack),
    ("phono", Form::Phono),
    ("twist", Form::Twist),
    ("barrel 2.1", Form::Barrel21),
    ("barrel 2.5", Form::Barrel25),
    ("USB-A", Form::UsbA),
    ("USB-B", Form::UsbB),
    ("USB-C", Form::UsbC),
    ("DIN", Form::Din5),
    ("network", Form::Rj45),
    ("wall", Form::Wall),
];

/// A connector; `half` decides where the words leave it open, given the form.
pub(crate) fn connector(piece: Piece<'_>, half: impl Fn(&Form) -> Half) -> Option<Connector> {
    if let Some((_, form, half)) = FIXED.iter().find(|(w, _, _)| piece.is(w)) {
        return Some(Connector { form: form.clone(), half: *half });
    }
    let (body, given) = match piece.text.rsplit_once(' ') {
        Some((body, last)) if last.eq_ignore_ascii_case("plug") => (body.trim(), Some(Half::Plug)),
        Some((body, last)) if last.eq_ignore_ascii_case("socket") => (body.trim(), Some(Half::Sock)),
        _ => (piece.text, None),
    };
    let form = match FORMS.iter().find(|(w, _)| body.eq_ignore_ascii_case(w)) {
        Some((_, form)) => form.clone(),
        None => Form::Own(name(Piece::new(body, piece.start).after("own")?.text)?),
    };
    let half = given.unwrap_or_else(|| half(&form));
    Some(Connector { form, half })
}

/// Is this meant as a connector? Used to tell a wrong one from another kind of attribute.
pub(crate) fn connector_words() -> String {
    let mut words: Vec<&str> = FIXED.iter().map(|(w, _, _)| *w).collect();
    words.extend(FORMS.iter().map(|(w, _)| *w).filter(|w| *w != "wall" && *w != "mini jack"));
    words.join(", ")
}

/// Every connector word, for the nearest one.
pub(crate) fn all_words() -> impl Iterator<Item = &'static str> + Clone {
    FIXED.iter().map(|(w, _, _)| *w).chain(FORMS.iter().map(|(w, _)| *w))
}

/// A connector as printed; reads back the same everywhere.
pub(crate) fn print(connector: &Connector) -> String {
    if let Some((word, _, _)) =
        FIXED.iter().find(|(_, form, half)| *form == connector.form && *half == connector.half)
    {
        return (*word).to_owned();
    }
    let half = match connector.half {
        Half::Plug => "plug",
        Half::Sock => "socket",
    };
    match &connector.form {
        Form::Own(name) => format!("own {name} {half}"),
        form => {
            // `mini jack` stands before `mini`; the shorter word is the house spelling.
            let word = FORMS.iter().rfind(|(_, f)| f == form).map_or("wall", |(w, _)| *w);
            format!("{word} {half}")
        }
    }
}

/// A name that holds none of the marks of the grammar.
pub(crate) fn name(text: &str) -> Option<String> {
    let clean = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // "nothing" says that a list is empty.
    let fine = !clean.is_empty()
        && !clean.eq_ignore_ascii_case("nothing")
        && clean.chars().count() <= 60
        && !clean.contains(is_mark);
    fine.then_some(clean)
}

/// Marks of the grammar, which no name may hold.
pub(crate) fn is_mark(c: char) -> bool {
    matches!(c, ',' | ':' | '>' | '→' | '+' | '(' | ')' | '"' | '#' | '=' | ';') || c.is_control()
}

/// A name, or a slip that says which mark is in it.
pub(crate) fn want_name(piece: Piece<'_>, what: &str, slips: &mut Slips) -> Option<String> {
    // Sources and listeners are joined by these words: `makes voice at OUT`, `must: voice for audience only in`.
    let joining =
        |n: &String| n.split(' ').any(|w| ["for", "at", "only"].contains(&w.to_lowercase().as_str()));
    let found = name(piece.text).filter(|n| !["source", "listener"].contains(&what) || !joining(n));
    if found.is_none() {
        let message = if piece.is_empty() {
            format!("the name of the {what} is missing")
        } else {
            format!("\"{}\" cannot be the name of a {what}", shorten(piece.text))
        };
        let joined =
            if ["source", "listener"].contains(&what) { " and without the words for, at, only" } else { "" };
        let help =
            format!("use letters, digits and spaces, at most 60, without , : > + ( ) \" # = ;{joined}");
        slips.add("bad-name", piece, message, help);
    }
    found
}

/// Names joined by `+`.
pub(crate) fn names(piece: Piece<'_>, what: &str, slips: &mut Slips) -> Vec<String> {
    piece.split('+').into_iter().filter_map(|p| want_name(p, what, slips)).collect()
}

/// The start of a long text, for a message.
pub(crate) fn shorten(text: &str) -> String {
    let clean = figure::words(text);
    if clean.chars().count() <= 60 { clean } else { clean.chars().take(57).chain("...".chars()).collect() }
}

/// A class of signal or supply.
pub(crate) fn class(piece: Piece<'_>) -> Option<Class> {
    let sound = [
        ("mic", Class::Mic),
        ("inst", Class::Inst),
        ("line", Class::Line),
        ("phones", Class::Phones),
        ("speaker", Class::Speaker),
        ("mains", Class::Mains),
    ];
    if let Some((_, class)) = sound.iter().find(|(w, _)| piece.is(w)) {
        return Some(class.clone());
    }
    if let Some(rest) = piece.after("own supply") {
        return name(rest.text).map(Class::Own);
    }
    if let Some(rest) = piece.after("data") {
        return name(rest.text).map(Class::Data);
    }
    let (volts, rest) = figure::number(piece)?;
    let rest = rest.after("V")?;
    if rest.is("usb") {
        return Some(Class::Usb);
    }
    let centre = if rest.is("c-") || rest.is("c−") {
        Polarity::Negative
    } else if rest.is("c+") {
        Polarity::Positive
    } else {
        return None;
    };
    if !(0.5..=60.0).contains(&volts) {
        return None;
    }
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "between 5 and 600 by the line above"
    )]
    let decivolts = (volts * 10.0).round() as u32;
    Some(Class::Dc { decivolts, centre })
}

/// Conductors.
pub(crate) fn wires(piece: Piece<'_>) -> Option<Wires> {
    if piece.is("ts") || piece.is("unbalanced") {
        Some(Wires::Ts)
    } else if piece.is("bal") || piece.is("balanced") {
        Some(Wires::Bal)
    } else if piece.is("stereo") {
        Some(Wires::Stereo)
    } else {
        None
    }
}

/// Conductors as printed.
pub(crate) fn print_wires(wires: Wires) -> &'static str {
    match wires {
        Wires::Ts => "ts",
        Wires::Bal => "bal",
        Wires::Stereo => "stereo",
    }
}

/// What is wired to what in a lead.
pub(crate) const WIRINGS: [(&str, Wiring); 5] = [
    ("bal", Wiring::Bal),
    ("ts", Wiring::Ts),
    ("sum", Wiring::Sum),
    ("dup", Wiring::Dup),
    ("power", Wiring::Power),
];

/// Left or right.
pub(crate) fn stereo(piece: Piece<'_>) -> Option<Stereo> {
    if piece.is("left") {
        Some(Stereo::Left)
    } else if piece.is("right") {
        Some(Stereo::Right)
    } else {
        None
    }
}

/// Left or right as printed.
pub(crate) fn print_stereo(side: Stereo) -> &'static str {
    match side {
        Stereo::Left => "left",
        Stereo::Right => "right",
    }
}

/// Items joined as printed.
pub(crate) fn join<T>(items: &[T], between: &str, print: impl Fn(&T) -> String) -> String {
    let mut out = String::new();
    for (i, item) in items.iter().enumerate() {
        if i > 0 {
            out.push_str(between);
        }
        let _ = write!(out, "{}", print(item));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_connector_reads_back_as_printed() {
        for form in FORMS.iter().map(|(_, f)| f.clone()).chain(FIXED.iter().map(|(_, f, _)| f.clone())) {
            for half in [Half::Plug, Half::Sock] {
                let c = Connector { form: form.clone(), half };
                let printed = print(&c);
                assert_eq!(connector(Piece::new(&printed, 0), |_| Half::Plug), Some(c), "{printed}");
            }
        }
    }

    #[test]
    fn every_class_reads_back_as_printed() {
        let dc = |decivolts, centre| Class::Dc { decivolts, centre };
        for c in [
            Class::Mic,
            Class::Speaker,
            Class::Mains,
            dc(90, Polarity::Negative),
            dc(45, Polarity::Positive),
            Class::Usb,
            Class::Own("SMALL MIXER".into()),
            Class::Data("usb".into()),
        ] {
            assert_eq!(class(Piece::new(&c.to_string(), 0)), Some(c));
        }
    }
}
