//! `docs/shelf.md` says what the shelf holds, word for word.
//!
//! After a change of the shelf: `SHELF_PAGE=write cargo test -p model shelf_page`, then read what changed.

use std::fmt::Write as _;
use std::path::Path;

use model::shelf;
use model::{
    Accepts, BankEffect, Class, Connector, Figure, Form, Gain, Half, Kind, LeadKind, Lost, PhantomAtInput,
    PhantomAtOutput, Side, Socket, Stand, Switch, Wires, Wiring,
};

#[test]
fn the_page_says_what_the_shelf_holds() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/shelf.md");
    let page = page();
    if std::env::var_os("SHELF_PAGE").is_some_and(|v| v == "write") {
        std::fs::write(&path, &page).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = written.lines().zip(page.lines()).find(|(a, b)| a != b);
    assert!(written == page, "docs/shelf.md is old; first difference: {differs:?}");
}

fn page() -> String {
    let mut out = String::from(
        "# The shelf\n\nWritten by a test from the built-in list; not edited by hand. How to use a kind in a rig file: `formats.md`.\n\n\
         Every figure here is *typical*: common practice for such gear, of no particular product. In brackets: the usual range.\n\
         Your own figures always win. Names of sockets are what such gear has printed beside them.\n\
         Which output goes into which input, by which lead: [shelf-pairs.md](shelf-pairs.md).\n",
    );
    let mut family = "";
    for kind in shelf::kinds() {
        if kind.family != family {
            family = &kind.family;
            let _ = writeln!(out, "\n## {}{}", family[..1].to_uppercase(), &family[1..]);
        }
        one(kind, &mut out);
    }
    out.push_str("\n## Leads and adapters\n\n| lead | also called | ends | inside | carries | usual lengths | beware |\n|---|---|---|---|---|---|---|\n");
    for lead in shelf::lead_kinds() {
        lead_row(lead, &mut out);
    }
    out
}

fn figure(f: &Figure<f64>, unit: &str) -> String {
    match f.range {
        Some((least, most)) => format!("{} {unit} ({least} to {most})", f.value),
        None => format!("{} {unit}", f.value),
    }
}

fn one(kind: &Kind, out: &mut String) {
    let b = &kind.body;
    let _ = writeln!(out, "\n### {}\n\n{}", kind.name, kind.about);
    if !kind.also.is_empty() {
        let _ = writeln!(out, "Also called: {}.", kind.also.join(", "));
    }
    let stand = match kind.stands {
        Stand::Floor => "on the floor",
        Stand::Table => "on a table",
        Stand::Worn => "worn or held",
        Stand::MicStand => "on a microphone stand",
        Stand::SpeakerStand => "on a speaker stand",
    };
    let mut facts = vec![format!("usually {stand}")];
    let mut fact = |yes: bool, text: String| {
        if yes {
            facts.push(text)
        }
    };
    fact(b.watts.value > 0.0, format!("draws {}", figure(&b.watts, "W")));
    fact(b.boot.value > 0.0, format!("starts in {}", figure(&b.boot, "s")));
    fact(b.starts_itself, "starts by itself".to_owned());
    fact(b.loud, "loud".to_owned());
    if let Some(r) = &b.rating {
        fact(true, format!("feeds at most {}", figure(r, "W")));
    }
    if let Some(bat) = &b.battery {
        let cut = bat.guard.as_ref().map_or(String::new(), |g| format!(", only while {} is empty", g.socket));
        fact(true, format!("battery {}{cut}", figure(&bat.hours, "h")));
    }
    if let Some(w) = &b.weight {
        fact(true, format!("weighs {}", figure(w, "kg")));
    }
    let _ = writeln!(out, "\nFacts: {}.", facts.join("; "));
    if !b.sockets.is_empty() {
        out.push_str("\n| socket | plug | gives or takes | also |\n|---|---|---|---|\n");
    }
    for s in &b.sockets {
        socket_row(s, out);
    }
    out.push('\n');
    if !b.routes.is_empty() {
        out.push_str("Inside:");
        let ways: Vec<String> = b.routes.iter().map(route).collect();
        let _ = writeln!(out, " {}.", ways.join("; "));
    }
    for bank in &b.banks {
        let what = match &bank.effect {
            BankEffect::Phantom => "phantom for every socket that names it",
            BankEffect::Mute(_) => "mutes several routes at once",
        };
        let _ =
            writeln!(out, "Switch {}: {what}, normally {}.", bank.name, if bank.on { "on" } else { "off" });
    }
    if !b.makes.is_empty() {
        let makes: Vec<String> = b
            .makes
            .iter()
            .map(|m| {
                let guard =
                    m.guard.as_ref().map_or(String::new(), |g| format!(" while {} is empty", g.socket));
                format!("{} at {}{guard}", m.source, m.socket)
            })
            .collect();
        let _ = writeln!(out, "Makes: {}.", makes.join("; "));
    }
    for p in &b.placements {
        let hears: Vec<String> = p
            .hears
            .iter()
            .map(|h| {
                let who = match &h.who {
                    model::Who::Audience => "audience",
                    model::Who::Performers => "performers",
                    model::Who::Named(n) => n,
                };
                format!("{who} {}", figure(&h.level, "dB"))
            })
            .collect();
        let hears =
            if hears.is_empty() { String::new() } else { format!(", heard by {}", hears.join(" and ")) };
        let bag =
            p.from_bag.as_ref().map_or(String::new(), |f| format!(", out of the bag {}", figure(f, "s")));
        let _ = writeln!(out, "Placement *{}*: {}{bag}{hears}.", p.name, figure(&p.seconds, "s"));
    }
    troubles(kind, out);
}

fn troubles(kind: &Kind, out: &mut String) {
    let b = &kind.body;
    if !b.modes.is_empty() {
        out.push_str(
            "\n| what fails | share, assumed | takes | shows as | quick test |\n|---|---|---|---|---|\n",
        );
    }
    for m in &b.modes {
        let test = m.test.as_ref().map_or(String::new(), |(t, s)| format!("{t}, {}", figure(s, "s")));
        let _ =
            writeln!(out, "| {} | {} % | {} | {} | {test} |", m.name, m.share.value, lost(&m.lost), m.shows);
    }
    if !b.looks.is_empty() {
        out.push_str("\n| look first | may be | shows as | look | put right |\n|---|---|---|---|---|\n");
    }
    for l in &b.looks {
        let _ = writeln!(
            out,
            "| {} | {} | {} | {} | {} |",
            l.ask,
            l.state,
            l.shows,
            figure(&l.seconds, "s"),
            figure(&l.right_in, "s")
        );
    }
    if !b.mends.is_empty() || !b.wear.is_empty() || !b.cautions.is_empty() {
        out.push('\n');
    }
    for m in &b.mends {
        let uses = m.uses.as_ref().map_or(String::new(), |(w, n)| format!(", uses {n} x {w}"));
        let caution = m.caution.as_ref().map_or(String::new(), |c| format!(" {c}"));
        let _ = writeln!(
            out,
            "- Mend: {}, {}{uses}, helps in {} %.{caution}",
            m.name,
            figure(&m.seconds, "s"),
            m.helps.value
        );
    }
    for w in &b.wear {
        let hours = w.hours.as_ref().map_or(String::new(), |h| format!(", lasts {}", figure(h, "h")));
        let _ = writeln!(
            out,
            "- Wears out: {} x {}{hours}, {} to replace.",
            w.in_use,
            w.what,
            figure(&w.seconds, "s")
        );
    }
    for c in &b.cautions {
        let _ = writeln!(out, "- Caution: {}", c.words);
    }
    for q in &kind.questions {
        let _ = writeln!(out, "- Ask: {q}");
    }
}

fn connector(c: &Connector) -> String {
    let half = |plug: &str, sock: &str| if c.half == Half::Plug { plug.to_owned() } else { sock.to_owned() };
    match &c.form {
        Form::Xlr => half("XLR male", "XLR female"),
        Form::Jack => half("jack plug", "jack"),
        Form::Mini => half("mini plug", "mini jack"),
        Form::Phono => half("phono plug", "phono"),
        Form::Twist => half("twist plug", "twist"),
        Form::Wall => half("wall plug", "wall socket"),
        Form::Iec13 => half("C14", "C13"),
        Form::Iec7 => half("C8", "C7"),
        Form::Barrel21 => half("barrel plug 2.1", "barrel 2.1"),
        Form::Barrel25 => half("barrel plug 2.5", "barrel 2.5"),
        Form::UsbA => half("USB-A plug", "USB-A"),
        Form::UsbB => half("USB-B plug", "USB-B"),
        Form::UsbC => half("USB-C plug", "USB-C"),
        Form::Din5 => half("DIN plug", "DIN"),
        Form::Rj45 => half("network plug", "network"),
        Form::Own(name) => half(&format!("own plug ({name})"), &format!("own socket ({name})")),
    }
}

fn accepts(a: &Accepts) -> String {
    let mut out = format!("takes {}", a.class);
    if a.class.is_sound() {
        let _ = write!(out, " {} to {} dBu", a.least.value, a.most.value);
    }
    if let Some(load) = &a.load {
        let _ = write!(out, " into {}", figure(load, "ohm"));
    }
    if let Some(form) = &a.only_on {
        let _ = write!(out, ", by {}", connector(&Connector { form: form.clone(), half: Half::Sock }));
    }
    out
}

fn socket_row(s: &Socket, out: &mut String) {
    let mut plugs: Vec<String> = s.connectors.iter().map(connector).collect();
    if let Some(tail) = &s.tail {
        plugs.push(format!("on its own cable, {}", figure(tail, "m")));
    }
    let (what, mut also) = match &s.side {
        Side::Out(o) => {
            let level = o.level.as_ref().map_or(String::new(), |l| {
                let down = l.down_to.as_ref().map_or(String::new(), |d| format!(", down to {}", d.value));
                format!(" {}, peaks {} dBu{down}", l.nominal.value, l.peak.value)
            });
            let mut also = Vec::new();
            if let Some(z) = &o.impedance {
                also.push(figure(z, "ohm"));
            }
            if let Some(c) = &o.capacitance_nf {
                also.push(figure(c, "nF"));
            }
            match &o.phantom {
                PhantomAtOutput::Fine => {}
                PhantomAtOutput::Harmed => also.push("harmed by phantom".to_owned()),
                PhantomAtOutput::Needs { volts, milliamps } => {
                    also.push(format!("needs phantom, {}, {}", figure(volts, "V"), figure(milliamps, "mA")));
                }
            }
            also.extend(o.milliamps.as_ref().map(|m| format!("gives {}", figure(m, "mA"))));
            (format!("gives {}{level}", o.class), also)
        }
        Side::In(i) => {
            let takes: Vec<String> = i.accepts.iter().map(accepts).collect();
            let mut also = Vec::new();
            match &i.phantom {
                PhantomAtInput::No => {}
                PhantomAtInput::Switched(bank) => also.push(format!("phantom by {bank}")),
                PhantomAtInput::Always => also.push("phantom always on".to_owned()),
            }
            if i.set_level {
                also.push("set a level after plugging".to_owned());
            }
            also.extend(i.milliamps.as_ref().map(|m| format!("draws {}", figure(m, "mA"))));
            (takes.join("; "), also)
        }
    };
    let wires = match s.wires {
        Wires::Ts => "unbalanced",
        Wires::Bal => "balanced",
        Wires::Stereo => "stereo",
    };
    if s.classes().iter().any(|c| c.is_sound()) {
        also.insert(0, wires.to_owned());
    }
    let _ = writeln!(
        out,
        "| {} | {} | {what} | {} |",
        s.name,
        plugs.join(" or ").replace(" or on", ", on"),
        also.join(", ")
    );
}

fn route(r: &model::Route) -> String {
    let mut out = format!("{} leads {} to {}", r.name, r.from, r.to.join(", "));
    match &r.gain {
        Gain::Levelled => {}
        Gain::Copy => out.push_str(" unchanged"),
        Gain::Db(a, z) => {
            let _ = write!(out, " with {} to {} dB", a.value, z.value);
        }
        Gain::Turns(t) => {
            let _ = write!(out, " through a transformer {}", figure(t, "to 1"));
        }
    }
    if let Some(g) = &r.guard {
        let _ = write!(out, " while {} is empty", g.socket);
    }
    if let Some(side) = r.takes {
        let _ = write!(out, ", the {} side", if side == model::Stereo::Left { "left" } else { "right" });
    }
    match r.switch {
        Switch::Fixed => {}
        switch => {
            let knob = r.knob.as_ref().map_or("knob".to_owned(), |k| format!("knob {k}"));
            let _ = write!(out, " ({knob}, {})", if switch.is_on() { "on" } else { "off" });
        }
    }
    if r.passive.known().is_none() {
        out.push_str(" (with the power off: not known)");
    }
    out
}

fn lost(lost: &[Lost]) -> String {
    let words: Vec<String> = lost
        .iter()
        .map(|l| match l {
            Lost::All => "everything".to_owned(),
            Lost::Sounding => "its sound".to_owned(),
            Lost::Making => "what it makes".to_owned(),
            Lost::Supply => "its supply".to_owned(),
            Lost::Route(r) => format!("{r} inside"),
            Lost::Socket(s) => format!("socket {s}"),
        })
        .collect();
    if words.is_empty() { "nothing at once".to_owned() } else { words.join(", ") }
}

fn lead_row(l: &LeadKind, out: &mut String) {
    let wiring = match l.wiring {
        Wiring::Bal => "two conductors and screen",
        Wiring::Ts => "one conductor and screen",
        Wiring::Sum => "left and right summed through resistors",
        Wiring::Dup => "one signal to both sides",
        Wiring::Power => "power",
    };
    let lengths: Vec<String> = l.lengths.iter().map(ToString::to_string).collect();
    let lengths = if l.adapter { "adapter".to_owned() } else { format!("{} m", lengths.join(", ")) };
    let classes: Vec<String> = l.carries.iter().map(Class::to_string).collect();
    let _ = writeln!(
        out,
        "| {} | {} | {} to {} | {wiring} | {} | {lengths} | {} |",
        l.name,
        l.also.join(", "),
        connector(&l.ends[0]),
        connector(&l.ends[1]),
        classes.join(", "),
        l.cautions.join(" ")
    );
}
