//! `docs/shelf-pairs.md`: every kind of output of the shelf into every kind of input, with the fewest leads and adapters.
//!
//! After a change of the shelf or of a check: `PAIRS_PAGE=write cargo test -p check shelf_pairs`, then read what changed, by eye.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use check::Physics;
use check::ids::{LeadId, SocketId};
use check::spec::Spec;
use check::verdict::Verdict;
use model::{Connector, PhantomAtInput, PhantomAtOutput, Rig, Side, Socket, Wires, shelf};

/// What a house may have: a desk whose phantom is always on, and an amplifier with jacks for its loudspeakers.
const HOUSE: &str = "gear HOUSE DESK = other, at 0 0, on floor
  socket MIC: in, XLR, bal, takes mic -60..-10 dBu into 2000 ohm, phantom always
gear HOUSE AMP = other, at 0 0, on floor
  socket SPEAKERS: out, jack, ts, speaker 30/40 dBu
";

/// All kinds side by side, so that every lead reaches, and one entry for every kind of lead. None is owned: the list of all
/// chains, which is not wanted here, stays empty.
fn everything() -> Rig {
    let mut text = String::from(HOUSE);
    for kind in shelf::kinds().iter().filter(|k| k.name != "other") {
        writeln!(text, "gear {} = {}, at 0 0, on floor", kind.name.to_uppercase(), kind.name).unwrap();
    }
    for kind in shelf::lead_kinds() {
        let metres = kind.lengths.first().map_or(String::new(), |m| format!(" {m} m"));
        writeln!(text, "lead {}{metres}: own 0", kind.name).unwrap();
    }
    let (rig, problems) = model::text::read(&text);
    let told: Vec<&String> = problems.iter().map(|p| &p.message).collect();
    assert!(told.is_empty(), "{told:?}");
    rig
}

/// How the best way to join two sockets fares. Equal ones are told in one row.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Fares {
    verdict: Verdict,
    checks: Vec<&'static str>,
    by: String,
}

/// One kind of socket: everything that a check looks at, and who has one.
#[derive(Debug)]
struct Alike {
    first: SocketId,
    says: String,
    who: Vec<String>,
}

fn connectors(s: &Socket) -> String {
    let all: Vec<Connector> = s.connectors.clone();
    let words = check::link::row::ends_in_words(&all);
    if s.tail.is_some() { format!("{words} on its own cable") } else { words }
}

/// Everything about a socket that tells it from another here.
fn says(rig: &Rig, at: model::SocketRef) -> String {
    let (s, gear) = (rig.socket(at).unwrap(), rig.piece(at.gear).unwrap());
    let wires = match s.wires {
        Wires::Ts => "unbalanced",
        Wires::Bal => "balanced",
        Wires::Stereo => "stereo",
    };
    let sound = s.classes().iter().any(|c| c.is_sound());
    let mut out = connectors(s);
    if sound {
        write!(out, ", {wires}").unwrap();
    }
    match &s.side {
        Side::Out(o) => {
            write!(out, ", {}", o.class).unwrap();
            if let Some(l) = &o.level {
                write!(out, " {}/{} dBu", l.nominal.value, l.peak.value).unwrap();
                if l.down_to.is_some() {
                    out.push_str(" with a knob");
                }
            }
            if let Some(z) = &o.impedance {
                write!(out, ", {} ohm", z.value).unwrap();
            }
            if let Some(c) = &o.capacitance_nf {
                write!(out, ", {} nF", c.value).unwrap();
            }
            if o.class == model::Class::Inst && !gear.needs_power() {
                out.push_str(", without power");
            }
            match o.phantom {
                PhantomAtOutput::Fine => {}
                PhantomAtOutput::Needs { .. } => out.push_str(", needs phantom"),
                PhantomAtOutput::Harmed => out.push_str(", harmed by phantom"),
            }
            if o.must_stay_loaded {
                out.push_str(", must stay loaded");
            }
        }
        Side::In(i) => {
            for a in &i.accepts {
                write!(out, ", {}", a.class).unwrap();
                if sound {
                    write!(out, " {}..{} dBu", a.least.value, a.most.value).unwrap();
                }
                if let Some(load) = &a.load {
                    write!(out, " into {} ohm", load.value).unwrap();
                }
                if let Some(form) = &a.only_on {
                    write!(out, " on {form:?}").unwrap();
                }
            }
            match i.phantom {
                PhantomAtInput::No => {}
                PhantomAtInput::Switched(_) => out.push_str(", phantom by a switch"),
                PhantomAtInput::Always => out.push_str(", phantom always"),
            }
        }
    }
    out
}

/// Sockets that nothing here tells apart, in the order of the shelf: outputs, then inputs.
fn classes(rig: &Rig) -> [Vec<Alike>; 2] {
    let mut all = [Vec::<Alike>::new(), Vec::new()];
    let mut next = 0;
    for (g, gear) in rig.gear.iter().enumerate() {
        for socket in 0..gear.body.sockets.len() {
            let at = model::SocketRef { gear: model::GearId(g), socket };
            let label = format!("{} {}", gear.name.to_lowercase(), gear.body.sockets[socket].name);
            let list = &mut all[usize::from(gear.body.sockets[socket].output().is_none())];
            let says = says(rig, at);
            match list.iter_mut().find(|a| a.says == says) {
                Some(a) => a.who.push(label),
                None => list.push(Alike { first: SocketId::at(next), says, who: vec![label] }),
            }
            next += 1;
        }
    }
    all
}

/// Rows of at most two pieces whose plugs mate from one socket to the other.
fn mating(rig: &Rig, from: &Socket, to: &Socket) -> Vec<Vec<LeadId>> {
    let mut out = Vec::new();
    let tails = from.tail.is_some() || to.tail.is_some();
    if tails && from.connectors.iter().any(|a| to.connectors.iter().any(|b| a.mates_with(b))) {
        out.push(Vec::new());
    }
    let far = |open: &[Connector], lead: usize| -> Vec<Connector> {
        let [a, z] = &rig.leads[lead].kind.ends;
        [(a, z), (z, a)]
            .into_iter()
            .filter(|(near, _)| open.iter().any(|o| o.mates_with(near)))
            .map(|(_, far)| far.clone())
            .collect()
    };
    let lands = |open: &[Connector]| open.iter().any(|o| to.connectors.iter().any(|c| c.mates_with(o)));
    for one in 0..rig.leads.len() {
        let open = far(&from.connectors, one);
        if lands(&open) {
            out.push(vec![LeadId::at(one)]);
        }
        for two in 0..rig.leads.len() {
            let long = [one, two].iter().filter(|l| !rig.leads[**l].kind.adapter).count();
            if long <= 1 && !open.is_empty() && lands(&far(&open, two)) {
                out.push(vec![LeadId::at(one), LeadId::at(two)]);
            }
        }
    }
    out
}

/// The best way: one that may be used, with the fewest pieces and points; where there is none, the worst that one lead does.
fn best(rig: &Rig, spec: &Spec, ends: [SocketId; 2], ways: &[Vec<LeadId>]) -> Option<Fares> {
    let physics = Physics::new(rig);
    let judged = ways.iter().map(|via| {
        let row = physics.row(spec, ends[0], via, ends[1]).unwrap();
        let found = physics.findings(&row);
        let verdict = found.iter().map(|(_, f)| f.verdict).max().unwrap_or(Verdict::Works);
        let points: i32 = found.iter().map(|(_, f)| f.points).sum::<i32>()
            + via
                .iter()
                .map(|l| i32::try_from(rig.leads[l.ix()].kind.points).unwrap_or(i32::MAX))
                .sum::<i32>();
        let mut checks: Vec<&'static str> =
            found.iter().filter(|(_, f)| f.verdict == verdict).map(|(c, _)| c.name).collect();
        checks.dedup();
        let by = via.iter().map(|l| rig.leads[l.ix()].kind.name.as_str()).collect::<Vec<_>>().join(" + ");
        let by = if by.is_empty() { "its own cable".to_owned() } else { by };
        // What is refused for the lead alone says nothing of the two sockets.
        let by_lead =
            i32::from(checks.contains(&"lead-not-for-it") || checks.contains(&"thin-lead-to-speaker"));
        let pieces = i32::try_from(via.len()).unwrap();
        let harm = i32::from(verdict == Verdict::Hazard);
        let rank = if verdict.is_usable() { (0, 0, pieces, points) } else { (1, by_lead, -harm, pieces) };
        (rank, Fares { verdict, checks, by })
    });
    // Of equals, the one that stands first on the shelf.
    judged.min_by(|a, b| a.0.cmp(&b.0)).map(|(_, fares)| fares)
}

/// Lists what fares alike as one: groups of classes, first member first.
fn together<K: Ord>(count: usize, key: impl Fn(usize) -> K) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut at: BTreeMap<K, usize> = BTreeMap::new();
    for i in 0..count {
        let group = *at.entry(key(i)).or_insert(groups.len());
        match groups.get_mut(group) {
            Some(g) => g.push(i),
            None => groups.push(vec![i]),
        }
    }
    groups
}

type Table = Vec<Vec<Option<Fares>>>;

fn judged(rig: &Rig, outs: &[Alike], ins: &[Alike]) -> Table {
    let compiled = check::judge_rig(rig).unwrap();
    let sockets: Vec<&Socket> = rig.gear.iter().flat_map(|g| &g.body.sockets).collect();
    let mut ways: BTreeMap<(String, String), Vec<Vec<LeadId>>> = BTreeMap::new();
    outs.iter()
        .map(|out| {
            ins.iter()
                .map(|into| {
                    let (from, to) = (sockets[out.first.ix()], sockets[into.first.ix()]);
                    let key = (connectors(from), connectors(to));
                    let ways = ways.entry(key).or_insert_with(|| mating(rig, from, to));
                    best(rig, &compiled.problem.spec, [out.first, into.first], ways)
                })
                .collect()
        })
        .collect()
}

/// What one lead spoils, and how: verdict, checks.
type Spoilt = (LeadId, Verdict, Vec<&'static str>);

/// Single leads whose plugs go in, and that must not be used, though another lead may: how often, and where first.
fn traps(rig: &Rig, outs: &[Alike], ins: &[Alike], table: &Table) -> BTreeMap<Spoilt, (usize, String)> {
    let compiled = check::judge_rig(rig).unwrap();
    let physics = Physics::new(rig);
    let mut out: BTreeMap<Spoilt, (usize, String)> = BTreeMap::new();
    for (o, from) in outs.iter().enumerate() {
        for (i, to) in ins.iter().enumerate() {
            if !table[o][i].as_ref().is_some_and(|f| f.verdict.is_usable()) {
                continue;
            }
            for lead in (0..rig.leads.len()).map(LeadId::at) {
                let row = physics.row(&compiled.problem.spec, from.first, &[lead], to.first).unwrap();
                let found = physics.findings(&row);
                let verdict = found.iter().map(|(_, f)| f.verdict).max().unwrap_or(Verdict::Works);
                if row.misfit.is_some() || verdict.is_usable() {
                    continue;
                }
                let checks: Vec<&str> =
                    found.iter().filter(|(_, f)| f.verdict == verdict).map(|(c, _)| c.name).collect();
                let first = || (0, format!("{} into {}", from.who[0], to.who[0]));
                out.entry((lead, verdict, checks)).or_insert_with(first).0 += 1;
            }
        }
    }
    out
}

fn some_of(who: &[&str], most: usize) -> String {
    let shown = who.iter().take(most).copied().collect::<Vec<_>>().join("; ");
    match who.len().checked_sub(most) {
        Some(more @ 1..) => format!("{shown}; {more} more"),
        _ => shown,
    }
}

fn page() -> (String, Table, [Vec<Alike>; 2]) {
    let rig = everything();
    let [outs, ins] = classes(&rig);
    let table = judged(&rig, &outs, &ins);
    let out_groups = together(outs.len(), |o| table[o].clone());
    let in_groups = together(ins.len(), |i| table.iter().map(|row| row[i].clone()).collect::<Vec<_>>());
    let fate = |f: &Option<Fares>| f.as_ref().map(|f| (f.verdict, f.checks.clone()));
    let mut text = String::from(
        "# What goes into what\n\nWritten by a test from the built-in list and the checks; not edited by hand. Read by eye after every change.\n\n\
         Every kind of output on the [shelf](shelf.md), into every kind of input, side by side, by the fewest leads and adapters (at most two pieces).\n\
         Sockets that fare alike stand in one row. *Works* and *sounds different* may be used; in brackets the [check](checks.md) that says why not, or what\n\
         is different. What is not listed under an output cannot be joined to it by any lead of the shelf. A pair that works by one lead may fail by\n\
         another: the table shows the best. Phantom that a switch turns on counts as off, where it is not needed. House desk is one whose phantom is always on; house amp one with jacks for\n\
         its loudspeakers.\n",
    );
    let names = |list: &[Alike], group: &[usize]| -> Vec<String> {
        group.iter().flat_map(|i| list[*i].who.clone()).collect()
    };
    for group in &out_groups {
        let row = &table[group[0]];
        if row.iter().all(Option::is_none) {
            continue;
        }
        let who = names(&outs, group);
        let who: Vec<&str> = who.iter().map(String::as_str).collect();
        write!(text, "\n## {}\n\n", some_of(&who, 8)).unwrap();
        for i in group.iter().take(4) {
            writeln!(text, "- {}", outs[*i].says).unwrap();
        }
        if group.len() > 4 {
            writeln!(text, "- and {} much like these", group.len() - 4).unwrap();
        }
        text.push_str("\n| into | fares | by |\n|---|---|---|\n");
        let mut rows: BTreeMap<(Verdict, Vec<&str>), Vec<usize>> = BTreeMap::new();
        for (n, g) in in_groups.iter().enumerate() {
            if let Some(key) = fate(&row[g[0]]) {
                rows.entry(key).or_default().push(n);
            }
        }
        for ((verdict, checks), groups) in rows {
            let into: Vec<String> = groups
                .iter()
                .map(|n| {
                    let who = names(&ins, &in_groups[*n]);
                    if who.len() > 1 { format!("{} (+{})", who[0], who.len() - 1) } else { who[0].clone() }
                })
                .collect();
            let mut by: Vec<&str> =
                groups.iter().filter_map(|n| row[in_groups[*n][0]].as_ref()).map(|f| f.by.as_str()).collect();
            by.sort_unstable();
            by.dedup();
            let why = if checks.is_empty() { String::new() } else { format!(" [{}]", checks.join(", ")) };
            let by = if verdict.is_usable() { some_of(&by, 4) } else { "–".to_owned() };
            writeln!(text, "| {} | {verdict}{why} | {by} |", into.join("; ")).unwrap();
        }
    }
    text.push_str("\n# The plug goes in, and it is the wrong lead\n\nWhere another lead may be used.\n\n| lead | fares | for example |\n|---|---|---|\n");
    for ((lead, verdict, checks), (count, first)) in traps(&rig, &outs, &ins, &table) {
        let lead = &rig.leads[lead.ix()].kind.name;
        let more = if count > 1 { format!(", and {} like it", count - 1) } else { String::new() };
        writeln!(text, "| {lead} | {verdict} [{}] | {first}{more} |", checks.join(", ")).unwrap();
    }
    text.push_str("\n# The inputs by name\n\nEach stands above by its first.\n\n| input | alike, or fares alike | takes |\n|---|---|---|\n");
    for g in &in_groups {
        let who = names(&ins, g);
        let rest: Vec<&str> = who.iter().skip(1).map(String::as_str).collect();
        writeln!(text, "| {} | {} | {} |", who[0], some_of(&rest, 6), ins[g[0]].says).unwrap();
    }
    (text, table, [outs, ins])
}

#[test]
fn the_page_says_how_every_pair_of_sockets_fares() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/shelf-pairs.md");
    let (page, ..) = page();
    if std::env::var_os("PAIRS_PAGE").is_some_and(|v| v == "write") {
        std::fs::write(&path, &page).unwrap();
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    let differs = written.lines().zip(page.lines()).find(|(a, b)| a != b);
    assert!(written == page, "docs/shelf-pairs.md is old; first difference: {differs:?}");
}

/// What an experienced person knows without a table.
#[test]
fn the_well_known_traps_are_in_it() {
    let (_, table, [outs, ins]) = page();
    let of = |list: &[Alike], label: &str| {
        list.iter().position(|a| a.who.iter().any(|w| w == label)).unwrap_or_else(|| panic!("no {label}"))
    };
    let told = |from: &str, to: &str| {
        let fares = table[of(&outs, from)][of(&ins, to)].as_ref();
        fares.map_or("nothing fits".to_owned(), |f| {
            format!("{} {} by {}", f.verdict, f.checks.join(", "), f.by)
        })
    };
    for (from, to, fares) in [
        ("dynamic vocal microphone OUT", "small analogue mixer 1", "works  by XLR"),
        ("small condenser microphone OUT", "small analogue mixer 1", "works  by XLR"),
        ("condenser vocal microphone OUT", "powered speaker A", "will not work"),
        ("clip-on microphone OUT", "small analogue mixer 1", "works  by "),
        ("ribbon microphone OUT", "small analogue mixer 1", "works  by XLR"),
        ("ribbon microphone OUT", "house desk MIC", "hazard phantom-harms"),
        ("dynamic vocal microphone OUT", "small analogue mixer 3", "will not work wrong-signal"),
        ("electric guitar OUT", "house desk MIC", "will not work instrument-into-microphone"),
        ("electric guitar OUT", "small analogue mixer 1", "will not work thin-pickup"),
        ("electric guitar OUT", "usb audio interface 1", "works  by jack"),
        ("passive piezo pickup OUT", "passive di IN", "sounds different thin-pickup"),
        ("passive piezo pickup OUT", "acoustic preamp pedal IN", "works  by jack"),
        ("small analogue mixer MAIN L", "house desk MIC", "will not work wrong-signal"),
        ("stage piano L/MONO", "house desk MIC", "will not work wrong-signal"),
        ("stage piano L/MONO", "small analogue mixer 3", "works  by jack"),
        ("stage piano PHONES", "small analogue mixer 3", "works  by "),
        ("laptop PHONES", "small analogue mixer 3", "works  by summing lead"),
        ("small analogue mixer MAIN L", "powered speaker A", "works  by XLR"),
        ("small analogue mixer AUX", "headphones IN", "will not work"),
        ("radio receiver OUT", "small analogue mixer 1", "works  by XLR"),
        ("radio hand-held AIR", "radio receiver AIR", "works  by its own cable"),
        ("headset microphone OUT", "radio body pack IN", "works  by its own cable"),
        ("laptop with usb audio USB", "usb audio interface USB", "works  by USB-A to USB-B"),
        ("controller keyboard MIDI OUT", "sound module MIDI IN", "works  by MIDI"),
        ("sustain pedal OUT", "small analogue mixer 3", "will not work wrong-signal"),
        ("stage lamp CONTROL OUT", "small analogue mixer 1", "will not work"),
        ("dc supply 9 v centre negative OUT", "radio receiver DC 12V", "hazard supply-does-not-match"),
    ] {
        let told = told(from, to);
        assert!(told.starts_with(fares), "{from} into {to}: {told}, not {fares}");
    }
}

/// Loudspeaker power is a hazard everywhere but at a loudspeaker; and with it, the wrong lead is.
#[test]
fn loudspeaker_power_is_a_hazard_everywhere_else() {
    let rig = everything();
    let (_, table, [outs, ins]) = page();
    let sockets: Vec<&Socket> = rig.gear.iter().flat_map(|g| &g.body.sockets).collect();
    let mut met = 0;
    for (o, out) in outs.iter().enumerate() {
        let speaker = sockets[out.first.ix()].classes() == [&model::Class::Speaker];
        for (i, into) in ins.iter().enumerate() {
            let Some(fares) = table[o][i].as_ref().filter(|_| speaker) else { continue };
            met += 1;
            let takes = sockets[into.first.ix()].takes(&model::Class::Speaker);
            assert_eq!(
                fares.verdict == Verdict::Hazard,
                !takes,
                "{} into {}: {fares:?}",
                out.who[0],
                into.who[0]
            );
        }
    }
    assert!(met > 10, "{met}");
}
