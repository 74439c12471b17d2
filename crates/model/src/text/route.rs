//! `route FADER 1: 1 > MAIN LEFT + MAIN RIGHT, switch on`

use std::fmt::Write as _;

use super::figure::{self, DB, Print, RATIO};
use super::plug;
use super::scan::{Piece, Slips};
use super::socket::{guard, print_guard};
use super::suggest;
use crate::{Figure, Gain, Origin, Route, Switch};

/// A route from what follows the word `route`.
pub(crate) fn read(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Route> {
    let parts = line.split_once(':').and_then(|(name, rest)| {
        let mut attributes = rest.split(',').into_iter();
        let way = attributes.next()?;
        let (from, to) = way.split_once('>')?;
        Some((name, from, to, attributes))
    });
    let Some((name, from, to, attributes)) = parts else {
        slips.add(
            "bad-route",
            line,
            "a route needs a name, a colon, and which socket leads to which".to_owned(),
            "write for example: route FADER 1: 1 > MAIN LEFT + MAIN RIGHT, switch on",
        );
        return None;
    };
    let mut route = Route {
        name: plug::want_name(name, "route", slips)?,
        from: plug::want_name(from, "socket", slips)?,
        to: plug::names(to, "socket", slips),
        knob: None,
        gain: Gain::Levelled,
        switch: Switch::Fixed,
        takes: None,
        guard: None,
        passive: Figure::new(false, default.clone()),
        question: None,
        points: 0,
    };
    for attribute in attributes {
        read_attribute(attribute, default, &mut route, slips);
    }
    if route.knob.is_some() && route.switch == Switch::Fixed {
        route.switch = Switch::On;
    }
    Some(route)
}

fn read_attribute(a: Piece<'_>, default: &Origin, route: &mut Route, slips: &mut Slips) {
    if a.is("levelled") {
        route.gain = Gain::Levelled;
    } else if a.is("copy") {
        route.gain = Gain::Copy;
    } else if a.is("switch on") {
        route.switch = Switch::On;
    } else if a.is("switch off") {
        route.switch = Switch::Off;
    } else if let Some(rest) = a.after("knob") {
        // A knob of its own name is just a knob.
        route.knob = plug::want_name(rest, "knob", slips).filter(|knob| !crate::same_name(knob, &route.name));
    } else if let Some(rest) = a.after("gain") {
        let both = match figure::dots(rest.bracket().0) {
            Some(_) => figure::dots(rest)
                .and_then(|(l, m)| Some((DB.figure(l, default, slips)?, DB.figure(m, default, slips)?))),
            None => DB.figure(rest, default, slips).map(|g| (g.clone(), g)),
        };
        if let Some((least, most)) = both {
            route.gain = Gain::Db(least, most);
        }
    } else if let Some(rest) = a.after("turns") {
        if let Some(ratio) = RATIO.figure(rest, default, slips) {
            route.gain = Gain::Turns(ratio);
        }
    } else if let Some(rest) = a.after("takes") {
        match plug::stereo(rest) {
            Some(side) => route.takes = Some(side),
            None => slips.add(
                "bad-side",
                rest,
                format!("\"{}\" is not a side", rest.text),
                "write takes left or takes right",
            ),
        }
    } else if let Some(rest) = a.after("while") {
        route.guard = guard(rest, slips);
    } else if let Some(passive) = flag(a, "passive", default, slips) {
        route.passive = passive;
    } else if let Some(rest) = a.after("ask") {
        route.question = Some(free(rest));
    } else if let Some(rest) = a.after("points") {
        route.points = figure::count(rest, slips).unwrap_or(0);
    } else {
        slips.add(
            "unknown-attribute",
            a,
            format!("\"{}\" says nothing known about a route", plug::shorten(a.text)),
            suggest::did_you_mean(
                a.text,
                ["switch on", "switch off", "knob LEVEL", "levelled", "copy", "passive", "gain 0 dB", "takes left"]
                    .into_iter(),
                "write gain -10..10 dB, levelled, copy, switch on, switch off, knob LEVEL 3/4, takes left, passive, or while SOCKET empty",
            ),
        );
    }
}

/// `word`, `not word`, `word (measured)`.
pub(crate) fn flag(a: Piece<'_>, word: &str, default: &Origin, slips: &mut Slips) -> Option<Figure<bool>> {
    let (head, note) = a.bracket();
    let value = if head.is(word) {
        true
    } else if head.after("not").is_some_and(|r| r.is(word)) {
        false
    } else {
        return None;
    };
    let origin = match note.map(|n| (n, figure::origin(n))) {
        None => default.clone(),
        Some((_, Some(origin))) => origin,
        Some((n, None)) => {
            slips.add(
                "unknown-origin",
                n,
                format!("\"{}\" is not an origin", n.text),
                "write (yours), (measured), (guessed: why) or (don't know)",
            );
            default.clone()
        }
    };
    Some(Figure::new(value, origin))
}

/// A flag as printed.
pub(crate) fn print_flag(flag: &Figure<bool>, word: &str, default: &Origin) -> String {
    let not = if flag.value { "" } else { "not " };
    let note = if flag.origin == *default { String::new() } else { format!(" ({})", flag.origin) };
    format!("{not}{word}{note}")
}

/// Free words, with or without quotes.
pub(crate) fn free(piece: Piece<'_>) -> String {
    let inner = piece.quoted().map_or(piece, |(inner, _)| inner);
    figure::words(inner.text)
}

/// The route as printed, without the word `route`.
pub(crate) fn print(route: &Route, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let mut out = format!("{}: {} > {}", route.name, route.from, route.to.join(" + "));
    match &route.gain {
        Gain::Levelled => {}
        Gain::Copy => out.push_str(", copy"),
        Gain::Db(least, most) if least == most => {
            let _ = write!(out, ", gain {}", fig(least, "dB"));
        }
        Gain::Db(least, most) => {
            let _ = write!(out, ", gain {}..{}", fig(least, ""), fig(most, "dB"));
        }
        Gain::Turns(ratio) => {
            let _ = write!(out, ", turns {}", fig(ratio, "to 1"));
        }
    }
    if let Some(knob) = &route.knob {
        let _ = write!(out, ", knob {knob}");
    }
    match route.switch {
        Switch::Fixed => {}
        Switch::On => out.push_str(", switch on"),
        Switch::Off => out.push_str(", switch off"),
    }
    if let Some(side) = route.takes {
        let _ = write!(out, ", takes {}", plug::print_stereo(side));
    }
    if let Some(g) = &route.guard {
        let _ = write!(out, ", {}", print_guard(g));
    }
    if route.passive.value || route.passive.origin != *default {
        let _ = write!(out, ", {}", print_flag(&route.passive, "passive", default));
    }
    if let Some(question) = &route.question {
        let _ = write!(out, ", ask \"{question}\"");
    }
    if route.points > 0 {
        let _ = write!(out, ", points {}", route.points);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn same(text: &str) {
        let mut slips = Slips::default();
        let route = read(Piece::new(text, 0), &Origin::Yours, &mut slips).expect("reads");
        assert!(slips.0.is_empty(), "{:?}", slips.0);
        assert_eq!(print(&route, &Origin::Yours), text);
    }

    #[test]
    fn routes_print_as_they_were_read() {
        same("FADER 1: 1 > MAIN LEFT + MAIN RIGHT, switch on");
        same("THRU: IN > THRU, copy, passive (don't know), ask \"Does THRU pass sound with the power off?\"");
        same("l: IN > LEFT, gain -3..0 dB, takes left, while RIGHT empty, passive, points 2");
        same("box: IN > OUT, turns 12 to 1 (10..15), passive");
        same("LEVEL 4: 4 > MAIN R, knob LEVEL 3/4, switch off");
    }
}
