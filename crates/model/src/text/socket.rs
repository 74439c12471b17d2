//! `socket 1: in, XLR or jack, bal, takes mic -60..-10 dBu into 2000 ohm, set level`

use std::fmt::Write as _;

use super::figure::{self, DBU, METRES, MILLIAMPS, NANOFARADS, OHMS, Print, VOLTS};
use super::plug;
use super::scan::{Piece, Slips};
use super::suggest;
use crate::{
    Accepts, Class, Connector, Direction, Figure, Fill, Form, Guard, Half, Input, Level, Origin, Output,
    PhantomAtInput, PhantomAtOutput, Side, Socket, Wires,
};

/// Everything an attribute may set, before the direction is known.
#[derive(Default)]
struct Draft<'a> {
    direction: Option<Direction>,
    connectors: Option<Piece<'a>>,
    wires: Option<Wires>,
    tail: Option<Figure<f64>>,
    rise: Option<Figure<f64>>,
    class: Option<Class>,
    level: Option<Level>,
    impedance: Option<Figure<f64>>,
    capacitance: Option<Figure<f64>>,
    gives: Option<Figure<f64>>,
    draws: Option<Figure<f64>>,
    accepts: Vec<Accepts>,
    phantom: Option<Piece<'a>>,
    set_level: bool,
    loaded: bool,
    guard: Option<Guard>,
    /// Something was not understood, which has been said: what is missing may be just that.
    odd: bool,
}

/// A socket from what follows the word `socket`.
pub(crate) fn read(line: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Socket> {
    let Some((name, rest)) = line.split_once(':') else {
        slips.add(
            "socket-needs-colon",
            line,
            "expected the socket's name, a colon, and what it is".to_owned(),
            "write for example: socket 1: in, XLR, bal, takes mic -60..-10 dBu into 2000 ohm",
        );
        return None;
    };
    let name = plug::want_name(name, "socket", slips)?;
    let mut draft = Draft::default();
    for attribute in rest.split(',') {
        read_attribute(attribute, default, &mut draft, slips);
    }
    let Some(direction) = draft.direction else {
        slips.add(
            "socket-needs-direction",
            rest,
            format!("socket {name} must say \"in\" or \"out\""),
            format!("write: socket {name}: in, ... or socket {name}: out, ..."),
        );
        return None;
    };
    let connectors = read_connectors(&name, direction, &draft, rest, slips)?;
    let side = match direction {
        Direction::Out => Side::Out(output(&name, &draft, rest, default, slips)?),
        Direction::In => Side::In(input(&name, &draft, rest, slips)?),
    };
    let wires = draft.wires.unwrap_or(match connectors.first().map(|c| &c.form) {
        Some(Form::Jack | Form::Phono) => Wires::Ts,
        Some(Form::Mini) => Wires::Stereo,
        _ => Wires::Bal,
    });
    Some(Socket { name, connectors, wires, tail: draft.tail, rise: draft.rise, side })
}

fn read_attribute<'a>(a: Piece<'a>, default: &Origin, draft: &mut Draft<'a>, slips: &mut Slips) {
    if a.is("in") {
        draft.direction = Some(Direction::In);
    } else if a.is("out") {
        draft.direction = Some(Direction::Out);
    } else if let Some(wires) = plug::wires(a) {
        draft.wires = Some(wires);
    } else if a.is("set level") {
        draft.set_level = true;
    } else if a.is("must stay loaded") {
        draft.loaded = true;
    } else if let Some(rest) = a.after("tail") {
        draft.tail = METRES.figure(rest, default, slips);
    } else if let Some(rest) = a.after("rise") {
        draft.rise = METRES.figure(rest, default, slips);
    } else if let Some(rest) = a.after("gives") {
        draft.gives = MILLIAMPS.figure(rest, default, slips);
    } else if let Some(rest) = a.after("draws") {
        draft.draws = MILLIAMPS.figure(rest, default, slips);
    } else if let Some(rest) = a.after("takes") {
        let found = accepts(rest, default, slips);
        draft.odd |= found.is_empty();
        draft.accepts.extend(found);
    } else if let Some(rest) = a.after("phantom") {
        draft.phantom = Some(rest);
    } else if let Some(rest) = a.after("while") {
        draft.guard = guard(rest, slips);
    } else if a.bracket().0.text.ends_with("nF") {
        draft.capacitance = NANOFARADS.figure(a, default, slips);
    } else if ends_with_ohm(a) {
        draft.impedance = OHMS.figure(a, default, slips);
    } else if gives_class(a, default, draft, slips) {
    } else if connector_like(a) {
        draft.connectors = Some(a);
    } else {
        draft.odd = true;
        unknown(a, slips);
    }
}

fn ends_with_ohm(a: Piece<'_>) -> bool {
    let head = a.bracket().0.text;
    figure::number(a).is_some() && (head.ends_with("ohm") || head.ends_with("ohms") || head.ends_with('Ω'))
}

fn connector_like(a: Piece<'_>) -> bool {
    let first = a.split_word("or").map_or(a, |(first, _)| first);
    plug::connector(first, |_| Half::Plug).is_some()
}

fn unknown(a: Piece<'_>, slips: &mut Slips) {
    if a.is_empty() {
        slips.add("empty-attribute", a, "two commas with nothing between".to_owned(), "take one comma out");
        return;
    }
    let known = [
        "set level",
        "must stay loaded",
        "stereo",
        "bal",
        "phantom fine",
        "takes line",
        "tail 2 m",
        "rise 1 m",
    ];
    slips.add(
        "unknown-attribute",
        a,
        format!("\"{}\" says nothing known about a socket", plug::shorten(a.text)),
        suggest::did_you_mean(
            a.text,
            plug::all_words().chain(known),
            &format!("connectors are {}", plug::connector_words()),
        ),
    );
}

/// An output's class and level: `mic -40/-20 dBu down to -80 dBu`, or a supply.
fn gives_class(a: Piece<'_>, default: &Origin, draft: &mut Draft<'_>, slips: &mut Slips) -> bool {
    if let Some(class) = plug::class(a) {
        draft.class = Some(class);
        return true;
    }
    let (word, rest) = a.first_word();
    let Some(class) = plug::class(word).filter(Class::is_sound) else { return false };
    let (levels, down) = match rest.split_word("down to") {
        Some((levels, down)) => (levels, Some(down)),
        None => (rest, None),
    };
    draft.class = Some(class);
    let Some((nominal, peak)) = levels.split_once('/') else {
        slips.add(
            "level-needs-two",
            levels,
            format!("\"{}\" is not a level; expected usual and loudest, dBu", levels.text),
            "write for example: line -8/10 dBu",
        );
        return true;
    };
    let (nominal, peak) = (DBU.figure(nominal, default, slips), DBU.figure(peak, default, slips));
    let down_to = down.and_then(|d| DBU.figure(d, default, slips));
    if let (Some(nominal), Some(peak)) = (nominal, peak) {
        if nominal.value > peak.value || down_to.as_ref().is_some_and(|d| d.value > nominal.value) {
            slips.add(
                "impossible-figure",
                levels,
                format!("\"{}\" runs backwards; expected usual level, then loudest", levels.text),
                "write the lower figure first",
            );
            return true;
        }
        draft.level = Some(Level { nominal, peak, down_to });
    }
    true
}

/// `mic -60..-10 dBu into 2000 ohm on XLR`, `line + phones -20..20 dBu`, or a supply class.
fn accepts(piece: Piece<'_>, default: &Origin, slips: &mut Slips) -> Vec<Accepts> {
    if let Some(class) = plug::class(piece).filter(|c| !c.is_sound()) {
        let zero = Figure::typical(0.0);
        return vec![Accepts { class, only_on: None, least: zero.clone(), most: zero, load: None }];
    }
    let mut classes = Vec::new();
    let mut rest = piece;
    loop {
        let (word, next) = rest.first_word();
        match plug::class(word).filter(Class::is_sound) {
            Some(class) => classes.push(class),
            None => {
                slips.add(
                    "unknown-class",
                    piece,
                    format!("\"{}\" is not a class; expected a sound or a supply", plug::shorten(piece.text)),
                    "write mic, inst, line, phones, speaker, mains, 9 V c-, 12 V c+, 5 V usb, own supply NAME, or data NAME",
                );
                return Vec::new();
            }
        }
        rest = next;
        match next.text.strip_prefix('+') {
            Some(_) => rest = next.from(1).trim(),
            None => break,
        }
    }
    let window = window(rest, default, slips);
    let with = |class| {
        window.clone().map(|(least, most, load, only_on)| Accepts { class, only_on, least, most, load })
    };
    classes.into_iter().filter_map(with).collect()
}

type Window = (Figure<f64>, Figure<f64>, Option<Figure<f64>>, Option<Form>);

/// `-60..-10 dBu into 2000 ohm on XLR`
fn window(rest: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<Window> {
    let (rest, only_on) = match rest.split_word("on") {
        Some((rest, on)) => match plug::connector(on, |_| Half::Plug) {
            Some(connector) => (rest, Some(connector.form)),
            None => {
                unknown(on, slips);
                (rest, None)
            }
        },
        None => (rest, None),
    };
    let (window, load) = match rest.split_word("into") {
        Some((window, load)) => (window, OHMS.figure(load, default, slips)),
        None => (rest, None),
    };
    let Some((least, most)) = figure::dots(window) else {
        slips.add(
            "window-needs-two",
            window,
            format!("\"{}\" is not a range of levels; expected least..most dBu", window.text),
            "write for example: takes line -20..20 dBu into 10000 ohm",
        );
        return None;
    };
    let (least, most) = (DBU.figure(least, default, slips)?, DBU.figure(most, default, slips)?);
    if least.value > most.value {
        slips.add(
            "impossible-figure",
            window,
            format!("\"{}\" runs backwards; expected the least first", window.text),
            format!("write {}..{} dBu", most.value, least.value),
        );
        return None;
    }
    Some((least, most, load, only_on))
}

/// `SOCKET empty` or `SOCKET filled`.
pub(crate) fn guard(piece: Piece<'_>, slips: &mut Slips) -> Option<Guard> {
    let (name, when) = match piece.text.rsplit_once(' ') {
        Some((name, w)) if w.eq_ignore_ascii_case("empty") => (name, Fill::Empty),
        Some((name, w)) if w.eq_ignore_ascii_case("filled") => (name, Fill::Filled),
        _ => {
            slips.add(
                "bad-condition",
                piece,
                format!("\"{}\" is not a condition; expected a socket, then empty or filled", piece.text),
                "write for example: while RIGHT empty",
            );
            return None;
        }
    };
    let socket = plug::want_name(Piece::new(name, piece.start).trim(), "socket", slips)?;
    Some(Guard { socket, when })
}

/// A guard as printed.
pub(crate) fn print_guard(guard: &Guard) -> String {
    let when = match guard.when {
        Fill::Empty => "empty",
        Fill::Filled => "filled",
    };
    format!("while {} {when}", guard.socket)
}

fn read_connectors(
    name: &str,
    direction: Direction,
    draft: &Draft<'_>,
    rest: Piece<'_>,
    slips: &mut Slips,
) -> Option<Vec<Connector>> {
    let Some(piece) = draft.connectors else {
        if !draft.odd {
            slips.add(
                "socket-needs-connector",
                rest,
                format!("socket {name} does not say what plugs in there"),
                format!("write one of: {}", plug::connector_words()),
            );
        }
        return None;
    };
    let half = |form: &Form| match (form, direction, &draft.tail) {
        (Form::Xlr, Direction::Out, _) => Half::Plug,
        (Form::Xlr, Direction::In, _) => Half::Sock,
        (_, _, Some(_)) => Half::Plug,
        (_, _, None) => Half::Sock,
    };
    let mut connectors = Vec::new();
    let mut left = Some(piece);
    while let Some(here) = left {
        let (word, next) = match here.split_word("or") {
            Some((word, next)) => (word, Some(next)),
            None => (here, None),
        };
        match plug::connector(word, half) {
            Some(connector) => connectors.push(connector),
            None => unknown(word, slips),
        }
        left = next;
    }
    (!connectors.is_empty()).then_some(connectors)
}

fn output(
    name: &str,
    draft: &Draft<'_>,
    rest: Piece<'_>,
    default: &Origin,
    slips: &mut Slips,
) -> Option<Output> {
    let Some(class) = draft.class.clone() else {
        slips.add(
            "socket-needs-class",
            rest,
            format!("out-socket {name} does not say what it gives"),
            "write for example: mic -40/-20 dBu, line -8/10 dBu, mains, or 9 V c-",
        );
        return None;
    };
    let level = if !class.is_sound() {
        None
    } else if draft.level.is_none() {
        let (nominal, peak) = usual_level(&class);
        let guess = |v| Figure::guessed(v, "usual for this class");
        Some(Level { nominal: guess(nominal), peak: guess(peak), down_to: None })
    } else {
        draft.level.clone()
    };
    let phantom = match draft.phantom {
        None => PhantomAtOutput::Fine,
        Some(p) if p.is("fine") => PhantomAtOutput::Fine,
        Some(p) if p.is("harmed") => PhantomAtOutput::Harmed,
        Some(p) => needs_phantom(p, default, slips)?,
    };
    Some(Output {
        class,
        level,
        impedance: draft.impedance.clone(),
        capacitance_nf: draft.capacitance.clone(),
        phantom,
        must_stay_loaded: draft.loaded,
        milliamps: draft.gives.clone(),
    })
}

/// Usual and loudest level of a class, dBu, where an owner's own box says nothing. Common practice.
fn usual_level(class: &Class) -> (f64, f64) {
    match class {
        Class::Mic => (-40.0, -20.0),
        Class::Inst => (-20.0, 2.0),
        Class::Line => (-8.0, 10.0),
        Class::Phones => (-12.0, 4.0),
        Class::Speaker => (20.0, 34.0),
        Class::Mains | Class::Dc { .. } | Class::Usb | Class::Own(_) | Class::Data(_) => (0.0, 0.0),
    }
}

/// `needs 48 V 4 mA`.
fn needs_phantom(p: Piece<'_>, default: &Origin, slips: &mut Slips) -> Option<PhantomAtOutput> {
    let parts = p.after("needs").and_then(|r| r.split_word("and"));
    let Some((volts, current)) = parts else {
        slips.add(
            "bad-phantom",
            p,
            format!("\"phantom {}\" is not known at an output", p.text),
            "write phantom fine, phantom harmed, or phantom needs 48 V and 4 mA",
        );
        return None;
    };
    Some(PhantomAtOutput::Needs {
        volts: VOLTS.figure(volts, default, slips)?,
        milliamps: MILLIAMPS.figure(current, default, slips)?,
    })
}

fn input(name: &str, draft: &Draft<'_>, rest: Piece<'_>, slips: &mut Slips) -> Option<Input> {
    if draft.accepts.is_empty() {
        if !draft.odd {
            slips.add(
                "socket-needs-class",
                rest,
                format!("in-socket {name} does not say what it takes"),
                "write for example: takes line -20..20 dBu into 10000 ohm, or takes mains",
            );
        }
        return None;
    }
    let phantom = match draft.phantom {
        None => PhantomAtInput::No,
        Some(p) if p.is("no") => PhantomAtInput::No,
        Some(p) if p.is("always") => PhantomAtInput::Always,
        Some(p) => match p.after("by") {
            Some(bank) => PhantomAtInput::Switched(plug::want_name(bank, "switch", slips)?),
            None => {
                slips.add(
                    "bad-phantom",
                    p,
                    format!("\"phantom {}\" is not known at an input", p.text),
                    "write phantom no, phantom always, or phantom by 48V (the name of its switch)",
                );
                PhantomAtInput::No
            }
        },
    };
    Some(Input {
        accepts: draft.accepts.clone(),
        phantom,
        set_level: draft.set_level,
        milliamps: draft.draws.clone(),
        guard: draft.guard.clone(),
    })
}

/// The socket as printed, without the word `socket`.
pub(crate) fn print(socket: &Socket, default: &Origin) -> String {
    let fig = |figure, unit| Print { figure, unit, default }.to_string();
    let direction = match socket.direction() {
        Direction::In => "in",
        Direction::Out => "out",
    };
    let mut out = format!(
        "{}: {direction}, {}, {}",
        socket.name,
        plug::join(&socket.connectors, " or ", plug::print),
        plug::print_wires(socket.wires)
    );
    match &socket.side {
        Side::Out(o) => {
            let _ = write!(out, ", {}", o.class);
            if let Some(l) = &o.level {
                let _ = write!(out, " {}/{}", fig(&l.nominal, "dBu"), fig(&l.peak, "dBu"));
                if let Some(down) = &l.down_to {
                    let _ = write!(out, " down to {}", fig(down, "dBu"));
                }
            }
            for (figure, unit) in [(&o.impedance, "ohm"), (&o.capacitance_nf, "nF")] {
                if let Some(figure) = figure {
                    let _ = write!(out, ", {}", fig(figure, unit));
                }
            }
            match &o.phantom {
                PhantomAtOutput::Fine => {}
                PhantomAtOutput::Harmed => out.push_str(", phantom harmed"),
                PhantomAtOutput::Needs { volts, milliamps } => {
                    let _ = write!(out, ", phantom needs {} and {}", fig(volts, "V"), fig(milliamps, "mA"));
                }
            }
            if o.must_stay_loaded {
                out.push_str(", must stay loaded");
            }
            if let Some(gives) = &o.milliamps {
                let _ = write!(out, ", gives {}", fig(gives, "mA"));
            }
        }
        Side::In(i) => {
            for a in &i.accepts {
                let _ = write!(out, ", takes {}", a.class);
                if a.class.is_sound() {
                    let _ = write!(out, " {}..{}", fig(&a.least, ""), fig(&a.most, "dBu"));
                }
                if let Some(load) = &a.load {
                    let _ = write!(out, " into {}", fig(load, "ohm"));
                }
                if let Some(form) = &a.only_on {
                    let on = plug::print(&Connector { form: form.clone(), half: Half::Plug });
                    let _ = write!(out, " on {on}");
                }
            }
            match &i.phantom {
                PhantomAtInput::No => {}
                PhantomAtInput::Always => out.push_str(", phantom always"),
                PhantomAtInput::Switched(bank) => {
                    let _ = write!(out, ", phantom by {bank}");
                }
            }
            if i.set_level {
                out.push_str(", set level");
            }
            if let Some(draws) = &i.milliamps {
                let _ = write!(out, ", draws {}", fig(draws, "mA"));
            }
            if let Some(g) = &i.guard {
                let _ = write!(out, ", {}", print_guard(g));
            }
        }
    }
    for (word, figure) in [("tail", &socket.tail), ("rise", &socket.rise)] {
        if let Some(figure) = figure {
            let _ = write!(out, ", {word} {}", fig(figure, "m"));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn same(text: &str) {
        let mut slips = Slips::default();
        let socket = read(Piece::new(text, 0), &Origin::Yours, &mut slips).expect("reads");
        assert!(slips.0.is_empty(), "{:?}", slips.0);
        assert_eq!(print(&socket, &Origin::Yours), text);
    }

    #[test]
    fn sockets_print_as_they_were_read() {
        same(
            "OUT: out, XLR-M, bal, mic -40 dBu/-20 dBu, 200 ohm (150..300, typical), phantom needs 48 V and 4 mA",
        );
        same(
            "1: in, XLR-F or jack socket, bal, takes mic -60..-10 dBu into 2000 ohm on XLR-M, takes line -20..20 dBu, phantom by 48V, set level, rise 1 m",
        );
        same("DC 9V: in, barrel 2.1 socket, bal, takes 9 V c-, draws 100 mA (don't know)");
        same("MAINS: in, wall plug, bal, takes mains, while BATTERY empty, tail 1.5 m");
        same("SPEAKER: out, jack socket, ts, speaker 20 dBu/34 dBu, must stay loaded");
    }
}
