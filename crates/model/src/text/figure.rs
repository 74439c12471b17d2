//! Figures as typed: `15 s (8..25, measured)`.

use std::fmt;

use super::scan::{Piece, Slips};
use crate::{Figure, Origin};

/// What a figure measures: its unit as printed, units understood with their factor, and what is possible.
#[derive(Debug)]
pub(crate) struct Quantity {
    /// What it is, in words for a message.
    pub(crate) what: &'static str,
    /// The unit printed.
    pub(crate) unit: &'static str,
    units: &'static [(&'static str, f64)],
    least: f64,
    most: f64,
}

macro_rules! quantities {
    ($($name:ident: $what:literal, $unit:literal, [$($u:literal = $f:literal),*], $least:literal to $most:literal;)*) => {
        $(pub(crate) const $name: Quantity = Quantity {
            what: $what, unit: $unit, units: &[$(($u, $f)),*], least: $least, most: $most,
        };)*
    };
}

quantities! {
    METRES: "a length", "m", ["m" = 1.0, "metre" = 1.0, "metres" = 1.0, "meter" = 1.0, "meters" = 1.0, "cm" = 0.01, "ft" = 0.3048, "feet" = 0.3048, "foot" = 0.3048], 0.0 to 500.0;
    SECONDS: "a time", "s", ["s" = 1.0, "sec" = 1.0, "second" = 1.0, "seconds" = 1.0, "min" = 60.0, "minute" = 60.0, "minutes" = 60.0], 0.0 to 86400.0;
    HOURS: "hours", "h", ["h" = 1.0, "hour" = 1.0, "hours" = 1.0, "min" = 0.016666666666666666], 0.0 to 5000.0;
    DBU: "a level", "dBu", ["dbu" = 1.0, "dB" = 1.0], -150.0 to 60.0;
    DB: "decibels", "dB", ["dB" = 1.0, "dbspl" = 1.0], -150.0 to 160.0;
    OHMS: "an impedance", "ohm", ["ohm" = 1.0, "ohms" = 1.0, "Ω" = 1.0, "kohm" = 1000.0, "kΩ" = 1000.0, "Mohm" = 1000000.0, "MΩ" = 1000000.0], 0.0 to 1000000000.0;
    NANOFARADS: "a capacitance", "nF", ["nF" = 1.0], 0.0 to 10000.0;
    PICOFARADS: "a capacitance", "pF", ["pF" = 1.0], 0.0 to 100000.0;
    WATTS: "power", "W", ["w" = 1.0, "watt" = 1.0, "watts" = 1.0, "kW" = 1000.0], 0.0 to 50000.0;
    MILLIAMPS: "a current", "mA", ["mA" = 1.0, "A" = 1000.0], 0.0 to 100000.0;
    AMPS: "a current", "A", ["A" = 1.0], 0.1 to 400.0;
    VOLTS: "a voltage", "V", ["v" = 1.0, "volt" = 1.0, "volts" = 1.0], 0.0 to 500.0;
    KILOGRAMS: "a weight", "kg", ["kg" = 1.0, "lb" = 0.45359237, "g" = 0.001], 0.0 to 2000.0;
    CENTIMETRES: "a size", "cm", ["cm" = 1.0, "mm" = 0.1, "m" = 100.0], 0.0 to 2000.0;
    PERCENT: "a share", "%", ["%" = 1.0, "percent" = 1.0], 0.0 to 100.0;
    RATIO: "a turns ratio", "to 1", ["to 1" = 1.0], 0.001 to 1000.0;
    CUBIC_METRES: "a volume", "m3", ["m3" = 1.0, "m³" = 1.0], 1.0 to 1000000.0;
    SPEED: "a walking speed", "m/s", ["m/s" = 1.0], 0.1 to 10.0;
    PLACE: "a position", "m", ["m" = 1.0], -1000.0 to 1000.0;
}

/// A number at the start, and the rest. Accepts the long minus of print.
pub(crate) fn number(piece: Piece<'_>) -> Option<(f64, Piece<'_>)> {
    let text = piece.text;
    let mut end = 0;
    let mut digits = String::new();
    for (at, c) in text.char_indices() {
        // Two dots are a range, not a decimal point.
        let dot = c == '.' && !digits.contains('.') && !text.get(at..).is_some_and(|t| t.starts_with(".."));
        match c {
            '-' | '−' if at == 0 => digits.push('-'),
            '+' if at == 0 => {}
            '0'..='9' => digits.push(c),
            _ if dot => digits.push('.'),
            _ => break,
        }
        end = at + c.len_utf8();
    }
    if !digits.contains(|c: char| c.is_ascii_digit()) || digits.len() > 24 {
        return None;
    }
    let value: f64 = digits.parse().ok()?;
    // Plus zero, so that "-0" prints as it is meant.
    Some((value + 0.0, piece.from(end).trim()))
}

/// A plain count.
pub(crate) fn count(piece: Piece<'_>, slips: &mut Slips) -> Option<u32> {
    let text = piece.text.trim_start_matches(['x', '×']).trim();
    match text.parse::<u32>() {
        Ok(n) if n <= 10_000 => Some(n),
        _ => {
            slips.add(
                "not-a-count",
                piece,
                format!("\"{}\" is not a count; expected a whole number from 0 to 10000", piece.text),
                "write a whole number, for example 2",
            );
            None
        }
    }
}

/// Two numbers, metres.
pub(crate) fn spot(piece: Piece<'_>, slips: &mut Slips) -> Option<crate::Spot> {
    let read = number(piece).and_then(|(x, rest)| number(rest).map(|(y, rest)| (x, y, rest)));
    match read {
        Some((x, y, rest)) if rest.is_empty() || rest.is("m") => {
            if x.abs() > PLACE.most || y.abs() > PLACE.most {
                slips.add(
                    "impossible-figure",
                    piece,
                    format!("\"{}\" is off any stage; expected metres from -1000 to 1000", piece.text),
                    "write two numbers in metres, for example: at 1.5 0",
                );
                return None;
            }
            Some(crate::Spot { x, y })
        }
        _ => {
            slips.add(
                "not-a-spot",
                piece,
                format!("\"{}\" is not a spot; expected two numbers in metres", piece.text),
                "write how far right and how far towards the audience, for example: at 1.5 0",
            );
            None
        }
    }
}

impl Quantity {
    /// Number and unit, without brackets.
    fn bare(&self, piece: Piece<'_>, slips: &mut Slips) -> Option<f64> {
        let Some((value, rest)) = number(piece) else {
            slips.add(
                "not-a-figure",
                piece,
                format!("\"{}\" is not {}; expected a number and {}", piece.text, self.what, self.unit),
                format!("write for example: 3 {}", self.unit),
            );
            return None;
        };
        let factor = if rest.is_empty() {
            1.0
        } else if let Some((_, factor)) = self.units.iter().find(|(u, _)| rest.is(u)) {
            *factor
        } else {
            slips.add(
                "unknown-unit",
                rest,
                format!("\"{}\" is not a unit for {}; expected {}", rest.text, self.what, self.unit),
                format!("write {value} {}", self.unit),
            );
            return None;
        };
        self.possible(value * factor, piece, slips)
    }

    /// `value` when such a thing can exist.
    fn possible(&self, value: f64, piece: Piece<'_>, slips: &mut Slips) -> Option<f64> {
        if value >= self.least && value <= self.most {
            return Some(value);
        }
        slips.add(
            "impossible-figure",
            piece,
            format!(
                "{} of {value} {} cannot be; expected {} to {}",
                self.what, self.unit, self.least, self.most
            ),
            "check the number and its unit",
        );
        None
    }

    /// Number, unit, and in brackets a range and an origin; `default` when none is given.
    pub(crate) fn figure(
        &self,
        piece: Piece<'_>,
        default: &Origin,
        slips: &mut Slips,
    ) -> Option<Figure<f64>> {
        let (head, bracket) = piece.bracket();
        let value = self.bare(head, slips)?;
        let mut figure = Figure::new(value, default.clone());
        for note in bracket.map(|b| b.split(',')).unwrap_or_default() {
            if let Some(origin) = origin(note) {
                figure.origin = origin;
            } else if let Some((least, most)) = dots(note) {
                let (least, most) = (self.bare(least, slips)?, self.bare(most, slips)?);
                if least > most {
                    slips.add(
                        "impossible-figure",
                        note,
                        format!("\"{}\" runs backwards; expected the least first", note.text),
                        format!("write ({most}..{least})"),
                    );
                } else {
                    figure.range = Some((least, most));
                }
            } else {
                slips.add(
                    "unknown-origin",
                    note,
                    format!("\"{}\" is neither a range nor an origin", note.text),
                    "write (8..25), (yours), (measured), (guessed: why) or (don't know)",
                );
            }
        }
        Some(figure)
    }
}

/// `a..b` cut in two, outside brackets.
pub(crate) fn dots(piece: Piece<'_>) -> Option<(Piece<'_>, Piece<'_>)> {
    let mut depth = 0_usize;
    let at = piece.text.char_indices().find(|(at, c)| {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        depth == 0 && piece.text.get(*at..).is_some_and(|t| t.starts_with(".."))
    });
    let (at, _) = at?;
    Some((piece.to(at).trim(), piece.from(at + 2).trim()))
}

/// An origin as written in brackets.
pub(crate) fn origin(piece: Piece<'_>) -> Option<Origin> {
    if piece.is("typical") {
        return Some(Origin::Typical);
    }
    if piece.is("yours") || piece.is("mine") {
        return Some(Origin::Yours);
    }
    if piece.is("measured") {
        return Some(Origin::Measured);
    }
    if piece.is("don't know") || piece.is("dont know") || piece.is("?") {
        return Some(Origin::DontKnow);
    }
    let rest = piece.after("guessed")?;
    // A reason that began with # would be a comment when printed after a space.
    let reason = words(rest.text);
    Some(Origin::Guessed(reason.trim_start_matches([':', '#', ' ']).to_owned()))
}

/// Free words as they may be printed again: no quotes, no brackets, no line ends, single spaces.
pub(crate) fn words(text: &str) -> String {
    let clean: String = text
        .chars()
        .map(|c| match c {
            '"' | '(' | ')' => '\'',
            c if c.is_control() => ' ',
            c => c,
        })
        .collect();
    clean.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Prints a figure so that it reads back the same under `default`.
pub(crate) struct Print<'a> {
    pub(crate) figure: &'a Figure<f64>,
    pub(crate) unit: &'a str,
    pub(crate) default: &'a Origin,
}

impl fmt::Display for Print<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.figure.value)?;
        if !self.unit.is_empty() {
            write!(f, " {}", self.unit)?;
        }
        note(f, self.figure.range.map(|(a, b)| format!("{a}..{b}")), &self.figure.origin, self.default)
    }
}

/// The bracket after a value, when there is anything to say.
pub(crate) fn note(
    f: &mut fmt::Formatter<'_>,
    range: Option<String>,
    origin: &Origin,
    default: &Origin,
) -> fmt::Result {
    let mut notes: Vec<String> = range.into_iter().collect();
    if origin != default {
        notes.push(origin.to_string());
    }
    if notes.is_empty() { Ok(()) } else { write!(f, " ({})", notes.join(", ")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Option<Figure<f64>>, Vec<&'static str>) {
        let mut slips = Slips::default();
        let figure = SECONDS.figure(Piece::new(text, 0), &Origin::Yours, &mut slips);
        (figure, slips.0.iter().map(|s| s.code).collect())
    }

    #[test]
    fn a_figure_carries_range_and_origin() {
        assert_eq!(
            read("15 s (8..25, measured)").0,
            Some(Figure::new(15.0, Origin::Measured).within(8.0, 25.0))
        );
        assert_eq!(read("2 min").0, Some(Figure::yours(120.0)));
        assert_eq!(read("3s (guessed: it looked so)").0, Some(Figure::guessed(3.0, "it looked so")));
    }

    #[test]
    fn what_cannot_be_is_refused() {
        assert_eq!(read("-3 s"), (None, vec!["impossible-figure"]));
        assert_eq!(read("3 kg"), (None, vec!["unknown-unit"]));
        assert_eq!(read("soon"), (None, vec!["not-a-figure"]));
        assert_eq!(read("3 s (9..2)").1, ["impossible-figure"]);
    }
}
