//! Reads a cover problem in the neutral form straight into the product's own integer rig.
//!
//! The layout, and what absent fields mean, is in `testkit/data/covers/README.md`. This reader is for tests and for
//! comparing from outside; performers write the text form instead.

use std::collections::BTreeMap;

use check::fault::{Fault, Loss, Mend};
use check::ids::{
    ClassId, FactId, GearId, KnobId, LeadId, LinkId, ListenerId, RouteId, SocketId, SourceId, WearId,
};
use check::spec::{
    Battery, Class, Connector, Flow, Gear, Guard, Knob, Lead, LeadWire, Levels, Link, Listener, Making, Part,
    Passive, PhantomIn, PhantomOut, Place, Placement, PlugTime, Rank, Route, Side, Socket, SocketWire,
    Sounding, Spec, Spot, StepTimes, Wear,
};
use serde_json::Value;

/// Why a file is not a cover problem: where, and what was expected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotNeutral(pub String);

impl std::fmt::Display for NotNeutral {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for NotNeutral {}

type Read<T> = Result<T, NotNeutral>;

fn wrong<T>(what: impl Into<String>) -> Read<T> {
    Err(NotNeutral(what.into()))
}

/// A rig as read, with the names that faults and plans use.
#[derive(Clone, Debug)]
pub struct Neutral {
    /// The integer rig.
    pub spec: Spec,
    names: Names,
}

#[derive(Clone, Debug, Default)]
struct Names {
    gear: BTreeMap<String, GearId>,
    sockets: BTreeMap<(GearId, String), SocketId>,
    routes: BTreeMap<(GearId, String), RouteId>,
    leads: BTreeMap<String, LeadId>,
    wear: BTreeMap<String, WearId>,
    /// The modes of each piece in the order of the file, each with the tokens it loses.
    modes: Vec<Vec<(String, Vec<String>)>>,
}

/// A rig with one fault.
#[derive(Clone, Debug)]
pub struct Case {
    /// The rig.
    pub neutral: Neutral,
    /// The fault.
    pub fault: Fault,
    /// Its entries as written.
    pub lost: Vec<String>,
}

/// Reads a file that holds a rig, alone or with a fault.
///
/// # Errors
/// Where the file is not in the neutral form.
pub fn case(json: &Value) -> Read<Case> {
    let rig = json.get("rig").unwrap_or(json);
    let neutral = rig_of(rig)?;
    let lost: Vec<String> = strings(json, "lost")?;
    let mut fault =
        Fault { lost: lost.iter().map(|l| neutral.loss(l)).collect::<Read<_>>()?, ..Fault::default() };
    let mut given: Vec<usize> = Vec::new();
    for m in list(json, "mends")? {
        let gives = text(m, "gives")?;
        let free = |i: &usize| lost[*i] == gives && !given.contains(i);
        // Two mends may give back the same loss; one loss that stands twice has a mend for each.
        let Some(at) = (0..lost.len()).find(free).or_else(|| lost.iter().position(|l| *l == gives)) else {
            return wrong(format!("mend gives {gives:?}, which is not in `lost`"));
        };
        if lost.iter().filter(|l| **l == gives).count() > 1 {
            given.push(at);
        }
        let wear = match m.get("wear").and_then(Value::as_str) {
            None => None,
            Some(w) => match neutral.names.wear.get(w) {
                Some(id) => Some((*id, 1)),
                None => return wrong(format!("unknown wear {w:?}")),
            },
        };
        fault.mends.push(Mend {
            name: text(m, "id")?.to_owned(),
            gives: vec![at],
            at: neutral.gear(text(m, "at")?)?,
            seconds: int(m, "secs", 0)?,
            wear,
        });
    }
    Ok(Case { neutral, fault, lost })
}

impl Neutral {
    /// One entry of a fault.
    ///
    /// # Errors
    /// Where it names nothing in this rig.
    pub fn loss(&self, entry: &str) -> Read<Loss> {
        let Some((kind, rest)) = entry.split_once(':') else {
            return wrong(format!("fault {entry:?} has no kind"));
        };
        let number =
            |s: &str| s.parse::<usize>().map_err(|_| NotNeutral(format!("{entry:?}: {s:?} is no number")));
        Ok(match kind {
            "gear" => Loss::Gear(self.gear(rest)?),
            "sound" => Loss::Sound(self.gear(rest)?),
            "make" => Loss::Make(self.gear(rest)?),
            "supply" => Loss::Supply(self.gear(rest)?),
            "route" => {
                let (g, r) = dotted(rest)?;
                Loss::Route(find(&self.names.routes, self.gear(g)?, r)?)
            }
            "socket" => Loss::Socket(self.socket(rest)?),
            "lead" => {
                let (link, piece) = dotted(rest)?;
                let link = number(link)?;
                if link >= self.spec.patch.len() {
                    return wrong(format!("{entry:?}: there is no link {link}"));
                }
                Loss::Lead(LinkId::at(link), number(piece)?)
            }
            "spare" => {
                let parts: Vec<&str> = rest.split(':').collect();
                let [t, n, place] = parts[..] else {
                    return wrong(format!("{entry:?}: expected spare:TYPE:N:PLACE"));
                };
                let n = i32::try_from(number(n)?).unwrap_or(i32::MAX);
                let Some(t) = self.names.leads.get(t) else { return wrong(format!("unknown lead {t:?}")) };
                match place {
                    "stage" => Loss::SpareOnStage(*t, n),
                    "case" => Loss::SpareInCase(*t, n),
                    other => return wrong(format!("{entry:?}: {other:?} is neither stage nor case")),
                }
            }
            other => return wrong(format!("fault {entry:?}: unknown kind {other:?}")),
        })
    }

    /// Every single fault: each mode of each piece on stage, then each piece of each lead in the patch.
    ///
    /// # Errors
    /// Where a mode names nothing in this rig.
    pub fn every_fault(&self) -> Read<Vec<(Vec<String>, Fault)>> {
        let mut out = Vec::new();
        for (i, gear) in self.spec.gear.iter().enumerate() {
            if gear.place == Place::Case {
                continue;
            }
            for (_, lost) in &self.names.modes[i] {
                let entries: Vec<String> = lost.iter().map(|token| entry(&gear.name, token)).collect();
                let fault = Fault::of(entries.iter().map(|e| self.loss(e)).collect::<Read<Vec<_>>>()?);
                out.push((entries, fault));
            }
        }
        for (i, link) in self.spec.patch.iter().enumerate() {
            for piece in 0..link.via.len() {
                out.push((vec![format!("lead:{i}.{piece}")], Fault::of([Loss::Lead(LinkId::at(i), piece)])));
            }
        }
        Ok(out)
    }

    fn gear(&self, name: &str) -> Read<GearId> {
        self.names.gear.get(name).copied().ok_or_else(|| NotNeutral(format!("unknown gear {name:?}")))
    }

    fn socket(&self, path: &str) -> Read<SocketId> {
        let (g, s) = dotted(path)?;
        find(&self.names.sockets, self.gear(g)?, s)
    }
}

/// A mode's token, turned into an entry of a fault.
fn entry(gear: &str, token: &str) -> String {
    match token.split_once(' ') {
        Some(("socket", s)) => format!("socket:{gear}.{s}"),
        Some(("route", r)) => format!("route:{gear}.{r}"),
        _ => format!("{token}:{gear}"),
    }
}

fn rig_of(rig: &Value) -> Read<Neutral> {
    let mut names = Names::default();
    let mut spec = Spec {
        name: rig.get("name").and_then(Value::as_str).unwrap_or("").to_owned(),
        home: spot(rig, "home")?,
        break_limit: int(rig, "break_limit", 900)?,
        steps: steps(rig.get("steps"))?,
        walk_dm_per_s: int(rig, "walk_dm_per_s", 10)?,
        tail_kept: flag(rig, "tail_kept", false)?,
        forms: Vec::new(),
        classes: Vec::new(),
        sources: Vec::new(),
        listeners: Vec::new(),
        parts: Vec::new(),
        leads: Vec::new(),
        wear: Vec::new(),
        gear: Vec::new(),
        sockets: Vec::new(),
        routes: Vec::new(),
        knobs: Vec::new(),
        facts: strings(rig, "facts")?,
        patch: Vec::new(),
    };
    for l in list(rig, "listeners")? {
        spec.listeners.push(Listener { name: text(l, "id")?.to_owned(), need: int(l, "need", 0)? });
    }
    for p in list(rig, "parts")? {
        let listener = text(p, "listener")?;
        let Some(l) = spec.listeners.iter().position(|x| x.name == listener) else {
            return wrong(format!("unknown listener {listener:?}"));
        };
        let rank = match text(p, "rank")? {
            "must" => Rank::Must,
            "should" => Rank::Should,
            "nice" => Rank::Nice,
            "never" => Rank::Never,
            other => return wrong(format!("unknown rank {other:?}")),
        };
        let source = source_id(&mut spec.sources, text(p, "source")?);
        let name = text(p, "id")?.to_owned();
        spec.parts.push(Part {
            name,
            source,
            listener: ListenerId::at(l),
            rank,
            weight: int(p, "weight", 1)?,
        });
    }
    for l in list(rig, "leads")? {
        lead(&mut spec, &mut names, l)?;
    }
    for w in list(rig, "wear")? {
        let id = text(w, "id")?.to_owned();
        names.wear.insert(id.clone(), WearId::at(spec.wear.len()));
        let (owned, case) = (int(w, "owned", 0)?, int(w, "case", 0)?);
        spec.wear.push(Wear { name: id, stage: owned.saturating_sub(case), case });
    }
    let gear = list(rig, "gear")?;
    for (i, g) in gear.iter().enumerate() {
        let id = text(g, "id")?.to_owned();
        names.gear.insert(id, GearId::at(i));
        sockets(&mut spec, &mut names, GearId::at(i), g)?;
    }
    for (i, g) in gear.iter().enumerate() {
        routes(&mut spec, &mut names, GearId::at(i), g)?;
    }
    for (i, g) in gear.iter().enumerate() {
        banks(&mut spec, &names, GearId::at(i), g)?;
        guards_of_sockets(&mut spec, &names, GearId::at(i), g)?;
    }
    for (i, g) in gear.iter().enumerate() {
        mutes(&mut spec, &names, GearId::at(i), g)?;
    }
    for (i, g) in gear.iter().enumerate() {
        let piece = piece(&mut spec, &names, GearId::at(i), g)?;
        spec.gear.push(piece);
        let mut modes = Vec::new();
        for m in list(g, "modes")? {
            modes.push((text(m, "id")?.to_owned(), strings(m, "lost")?));
        }
        if g.get("modes").is_none() {
            modes.push(("dead".to_owned(), vec!["gear".to_owned()]));
        }
        names.modes.push(modes);
    }
    let mut it = Neutral { spec, names };
    for l in list(rig, "patch")? {
        let via = strings(l, "via")?;
        let via = via
            .iter()
            .map(|t| it.names.leads.get(t).copied().ok_or_else(|| NotNeutral(format!("unknown lead {t:?}"))))
            .collect::<Read<Vec<_>>>()?;
        let link = Link { from: it.socket(text(l, "from")?)?, to: it.socket(text(l, "to")?)?, via };
        it.spec.patch.push(link);
    }
    Ok(it)
}

fn lead(spec: &mut Spec, names: &mut Names, l: &Value) -> Read<()> {
    let id = text(l, "id")?.to_owned();
    let ends = strings(l, "ends")?;
    let [a, b] = &ends[..] else { return wrong(format!("lead {id:?}: expected two ends")) };
    let ends = [connector(&mut spec.forms, a)?, connector(&mut spec.forms, b)?];
    let wire = match l.get("wire").and_then(Value::as_str) {
        None | Some("" | "bal") => LeadWire::Bal,
        Some("ts") => LeadWire::Ts,
        Some("sum") => LeadWire::Sum,
        Some("dup") => LeadWire::Dup,
        Some(other) => return wrong(format!("lead {id:?}: unknown wire {other:?}")),
    };
    let carries = strings(l, "use")?.iter().map(|c| class_id(&mut spec.classes, c)).collect();
    names.leads.insert(id.clone(), LeadId::at(spec.leads.len()));
    spec.leads.push(Lead {
        name: id,
        ends,
        wire,
        carries,
        length: int(l, "length", 0)?,
        points: int(l, "pts", 0)?,
        owned: int(l, "owned", 0)?,
        case: int(l, "case", 0)?,
    });
    Ok(())
}

fn sockets(spec: &mut Spec, names: &mut Names, gear: GearId, g: &Value) -> Read<()> {
    for s in list(g, "sockets")? {
        let id = text(s, "id")?.to_owned();
        let phantom = s.get("phantom").and_then(Value::as_str);
        let flow = match text(s, "dir")? {
            "out" => Flow::Out {
                class: class_id(&mut spec.classes, text(s, "class")?),
                levels: levels(s.get("level"))?.unwrap_or(Levels { lo: 0, hi: 0 }),
                phantom: match phantom {
                    None | Some("ok") => PhantomOut::Fine,
                    Some("needs") => PhantomOut::Needs,
                    Some("harmed") => PhantomOut::Harmed,
                    Some(other) => return wrong(format!("socket {id:?}: unknown phantom {other:?}")),
                },
                loaded: flag(s, "loaded", false)?,
            },
            "in" => {
                let Some(accepts) = s.get("accepts").and_then(Value::as_object) else {
                    return wrong(format!("socket {id:?}: no accepts"));
                };
                let mut windows = Vec::new();
                for (class, window) in accepts {
                    let window = levels(Some(window))?.unwrap_or(Levels { lo: 0, hi: 0 });
                    windows.push((class_id(&mut spec.classes, class), window));
                }
                Flow::In {
                    accepts: windows,
                    phantom: match phantom {
                        None | Some("no") => PhantomIn::No,
                        Some("switch") => PhantomIn::Switchable,
                        Some("on") => PhantomIn::Always,
                        Some(other) => return wrong(format!("socket {id:?}: unknown phantom {other:?}")),
                    },
                    gain: flag(s, "gain", false)?,
                    guard: None,
                }
            }
            other => return wrong(format!("socket {id:?}: unknown dir {other:?}")),
        };
        let wire = match s.get("wire").and_then(Value::as_str) {
            None | Some("" | "bal") => SocketWire::Bal,
            Some("ts") => SocketWire::Ts,
            Some("stereo") => SocketWire::Stereo,
            Some(other) => return wrong(format!("socket {id:?}: unknown wire {other:?}")),
        };
        let connectors =
            strings(s, "con")?.iter().map(|c| connector(&mut spec.forms, c)).collect::<Read<_>>()?;
        names.sockets.insert((gear, id.clone()), SocketId::at(spec.sockets.len()));
        spec.sockets.push(Socket {
            name: id,
            gear,
            flow,
            connectors,
            wire,
            tail: int(s, "tail", 0)?,
            rise: int(s, "rise", 5)?,
        });
    }
    Ok(())
}

fn routes(spec: &mut Spec, names: &mut Names, gear: GearId, g: &Value) -> Read<()> {
    for r in list(g, "routes")? {
        let id = text(r, "id")?.to_owned();
        let on = flag(r, "on", true)?;
        let knob = if flag(r, "switch", false)? {
            spec.knobs.push(Knob { name: id.clone(), gear, on, wait: 0, forgets: false });
            Some(KnobId::at(spec.knobs.len() - 1))
        } else {
            None
        };
        let from = find(&names.sockets, gear, text(r, "in")?)?;
        let to = strings(r, "outs")?.iter().map(|s| find(&names.sockets, gear, s)).collect::<Read<_>>()?;
        names.routes.insert((gear, id.clone()), RouteId::at(spec.routes.len()));
        spec.routes.push(Route {
            name: id,
            gear,
            from,
            to,
            gain: levels(r.get("gain"))?,
            knob,
            on,
            points: int(r, "pts", 0)?,
            takes: side(r, "takes")?,
            guard: guard(names, r.get("guard"))?,
            passive: match r.get("passive") {
                None | Some(Value::Bool(false)) => Passive::No,
                Some(Value::Bool(true)) => Passive::Yes,
                Some(fact) => Passive::If(fact_id(spec, fact)?),
            },
            only_if: r.get("only_if").map(|fact| fact_id(spec, fact)).transpose()?,
            mutes: Vec::new(),
        });
    }
    Ok(())
}

fn fact_id(spec: &Spec, fact: &Value) -> Read<FactId> {
    match spec.facts.iter().position(|f| Some(f.as_str()) == fact.as_str()) {
        Some(i) => Ok(FactId::at(i)),
        None => wrong(format!("unknown fact {fact}")),
    }
}

/// Mutes come after the banks of all gear.
fn mutes(spec: &mut Spec, names: &Names, gear: GearId, g: &Value) -> Read<()> {
    for m in list(g, "mutes")? {
        let knob = KnobId::at(spec.knobs.len());
        let name = text(m, "id")?.to_owned();
        for r in list(g, "routes")? {
            if strings(r, "mutes")?.contains(&name) {
                let route = find(&names.routes, gear, text(r, "id")?)?;
                spec.routes[route.ix()].mutes.push(knob);
            }
        }
        spec.knobs.push(Knob { name, gear, on: flag(m, "on", false)?, wait: 0, forgets: false });
    }
    Ok(())
}

fn banks(spec: &mut Spec, names: &Names, gear: GearId, g: &Value) -> Read<()> {
    for b in list(g, "banks")? {
        let knob = KnobId::at(spec.knobs.len());
        let (name, on) = (text(b, "id")?.to_owned(), flag(b, "on", false)?);
        let (wait, forgets) = (int(b, "wait", 5)?, flag(b, "forgets", false)?);
        spec.knobs.push(Knob { name, gear, on, wait, forgets });
        for s in strings(b, "sockets")? {
            let s = find(&names.sockets, gear, &s)?;
            if let Flow::In { phantom, .. } = &mut spec.sockets[s.ix()].flow {
                *phantom = PhantomIn::Bank(knob);
            }
        }
    }
    Ok(())
}

fn guards_of_sockets(spec: &mut Spec, names: &Names, gear: GearId, g: &Value) -> Read<()> {
    for s in list(g, "sockets")? {
        let id = find(&names.sockets, gear, text(s, "id")?)?;
        let read = guard(names, s.get("guard"))?;
        if let Flow::In { guard, .. } = &mut spec.sockets[id.ix()].flow {
            *guard = read;
        }
    }
    Ok(())
}

fn piece(spec: &mut Spec, names: &Names, gear: GearId, g: &Value) -> Read<Gear> {
    let mut placements = Vec::new();
    for p in list(g, "places")? {
        let mut hears = Vec::new();
        if let Some(map) = p.get("hears").and_then(Value::as_object) {
            for (who, db) in map {
                let Some(l) = spec.listeners.iter().position(|x| x.name == *who) else {
                    return wrong(format!("unknown listener {who:?}"));
                };
                hears.push((ListenerId::at(l), whole(db)?));
            }
        }
        let sources = match p.get("sources") {
            None | Some(Value::Null) => None,
            Some(_) => Some(strings(p, "sources")?.iter().map(|s| source_id(&mut spec.sources, s)).collect()),
        };
        placements.push(Placement {
            name: text(p, "id")?.to_owned(),
            seconds: int(p, "secs", spec.steps.place)?,
            points: int(p, "pts", 0)?,
            hears,
            sources,
        });
    }
    if g.get("places").is_none() {
        placements.push(Placement {
            name: "here".to_owned(),
            seconds: spec.steps.place,
            points: 0,
            hears: Vec::new(),
            sources: None,
        });
    }
    let place = match g.get("place").and_then(Value::as_str) {
        None => Place::At(0),
        Some("case") => Place::Case,
        Some(name) => match placements.iter().position(|p| p.name == name) {
            Some(n) => Place::At(n),
            None => return wrong(format!("unknown placement {name:?}")),
        },
    };
    let mut makes = Vec::new();
    for m in list(g, "makes")? {
        makes.push(Making {
            socket: find(&names.sockets, gear, text(m, "socket")?)?,
            source: source_id(&mut spec.sources, text(m, "source")?),
            side: side(m, "side")?,
            guard: guard(names, m.get("guard"))?,
        });
    }
    let battery = match g.get("battery") {
        Some(Value::Bool(true)) => Some(Battery { guard: None }),
        Some(b @ Value::Object(_)) => Some(Battery { guard: guard(names, b.get("guard"))? }),
        _ => None,
    };
    Ok(Gear {
        name: text(g, "id")?.to_owned(),
        spot: spot(g, "pos")?,
        root: flag(g, "root", false)?,
        needs_power: flag(g, "needs_power", false)?,
        battery,
        auto: flag(g, "auto", false)?,
        off: false,
        watts: int(g, "watts", 0)?,
        cap: g.get("cap").filter(|v| !v.is_null()).map(whole).transpose()?,
        boot: int(g, "boot", 0)?,
        loud: flag(g, "loud", false)? || stays_loaded(spec, gear),
        points: int(g, "pts", 0)?,
        place,
        placements,
        makes,
        sounds: list(g, "sounds")?.iter().map(|s| sounding(names, gear, s)).collect::<Read<_>>()?,
    })
}

/// A piece with an output that has to stay loaded goes to standby before its plugs are touched.
fn stays_loaded(spec: &Spec, gear: GearId) -> bool {
    let loaded = |s: &Socket| matches!(s.flow, Flow::Out { loaded: true, .. });
    spec.sockets.iter().any(|s| s.gear == gear && loaded(s))
}

fn sounding(names: &Names, gear: GearId, s: &Value) -> Read<Sounding> {
    let (socket, holds) = match s {
        Value::String(name) => (name.as_str(), None),
        _ => (text(s, "socket")?, guard(names, s.get("guard"))?),
    };
    Ok(Sounding { socket: find(&names.sockets, gear, socket)?, guard: holds })
}

fn steps(json: Option<&Value>) -> Read<StepTimes> {
    let mut t = StepTimes::default();
    let Some(json) = json else { return Ok(t) };
    for (name, at) in [
        ("plug", &mut t.plug),
        ("plug_mains", &mut t.plug_mains),
        ("plug_speaker", &mut t.plug_speaker),
        ("unplug", &mut t.unplug),
        ("join", &mut t.join),
        ("level", &mut t.level),
        ("knob", &mut t.knob),
        ("start", &mut t.start),
        ("item_stage", &mut t.item_stage),
        ("item_case", &mut t.item_case),
        ("open_case", &mut t.open_case),
        ("quiet", &mut t.quiet),
        ("place", &mut t.place),
    ] {
        *at = int(json, name, *at)?;
    }
    Ok(t)
}

fn guard(names: &Names, json: Option<&Value>) -> Read<Option<Guard>> {
    let Some(json) = json.filter(|v| !v.is_null()) else { return Ok(None) };
    let socket = |path: &str| {
        let (g, s) = dotted(path)?;
        let Some(g) = names.gear.get(g) else { return wrong(format!("unknown gear {g:?}")) };
        find(&names.sockets, *g, s)
    };
    let of = |key: &str| json.get(key).and_then(Value::as_str);
    match (of("empty"), of("filled")) {
        (Some(path), None) => Ok(Some(Guard::Empty(socket(path)?))),
        (None, Some(path)) => Ok(Some(Guard::Filled(socket(path)?))),
        _ => wrong("a guard is either empty or filled"),
    }
}

fn source_id(sources: &mut Vec<String>, name: &str) -> SourceId {
    SourceId::at(position_or_push(sources, |s| s == name, || name.to_owned()))
}

fn class_id(classes: &mut Vec<Class>, name: &str) -> ClassId {
    let new = || Class {
        name: name.to_owned(),
        supply: matches!(name, "mains" | "dc9" | "dc12" | "usb5"),
        plug: match name {
            "mains" => PlugTime::Mains,
            "speaker" => PlugTime::Speaker,
            _ => PlugTime::Light,
        },
        mic: name == "mic",
    };
    ClassId::at(position_or_push(classes, |c| c.name == name, new))
}

fn connector(forms: &mut Vec<String>, end: &str) -> Read<Connector> {
    let Some((form, gender)) = end.split_once(':') else {
        return wrong(format!("connector {end:?} has no gender"));
    };
    let plug = match gender {
        "plug" => true,
        "sock" => false,
        other => return wrong(format!("connector {end:?}: {other:?} is neither plug nor sock")),
    };
    let at = position_or_push(forms, |f| f == form, || form.to_owned());
    Ok(Connector { form: u16::try_from(at).unwrap_or(u16::MAX), plug })
}

fn position_or_push<T>(all: &mut Vec<T>, is: impl Fn(&T) -> bool, new: impl FnOnce() -> T) -> usize {
    all.iter().position(is).unwrap_or_else(|| {
        all.push(new());
        all.len() - 1
    })
}

fn side(json: &Value, key: &str) -> Read<Option<Side>> {
    match json.get(key).and_then(Value::as_str) {
        None => Ok(None),
        Some("left") => Ok(Some(Side::Left)),
        Some("right") => Ok(Some(Side::Right)),
        Some(other) => wrong(format!("unknown side {other:?}")),
    }
}

fn levels(json: Option<&Value>) -> Read<Option<Levels>> {
    match json.filter(|v| !v.is_null()) {
        None => Ok(None),
        Some(Value::Array(v)) if v.len() == 2 => Ok(Some(Levels { lo: whole(&v[0])?, hi: whole(&v[1])? })),
        Some(other) => wrong(format!("expected two levels, found {other}")),
    }
}

/// Metres, rounded to whole decimetres, a half upwards.
fn spot(json: &Value, key: &str) -> Read<Spot> {
    let Some(v) = json.get(key) else { return Ok(Spot::default()) };
    let at = |i: usize| v.get(i).and_then(Value::as_f64).filter(|m| m.abs() < 10_000.0);
    let (Some(x), Some(y)) = (at(0), at(1)) else {
        return wrong(format!("{key}: expected two metres, found {v}"));
    };
    Ok(Spot { x: model_decimetres(x), y: model_decimetres(y) })
}

#[expect(clippy::cast_possible_truncation, reason = "within ±100 000 by the check in `spot`")]
fn model_decimetres(metres: f64) -> i32 {
    (metres * 10.0 + 0.5).floor() as i32
}

fn dotted(path: &str) -> Read<(&str, &str)> {
    path.split_once('.').ok_or_else(|| NotNeutral(format!("{path:?}: expected a name, a dot and a name")))
}

fn find<T: Copy>(map: &BTreeMap<(GearId, String), T>, g: GearId, name: &str) -> Read<T> {
    map.get(&(g, name.to_owned()))
        .copied()
        .ok_or_else(|| NotNeutral(format!("piece {}: unknown {name:?}", g.0)))
}

fn list<'a>(json: &'a Value, key: &str) -> Read<&'a [Value]> {
    match json.get(key) {
        None | Some(Value::Null) => Ok(&[]),
        Some(Value::Array(v)) => Ok(v),
        Some(_) => wrong(format!("{key}: expected a list")),
    }
}

fn strings(json: &Value, key: &str) -> Read<Vec<String>> {
    list(json, key)?
        .iter()
        .map(|v| {
            v.as_str()
                .map(str::to_owned)
                .ok_or_else(|| NotNeutral(format!("{key}: expected words, found {v}")))
        })
        .collect()
}

fn text<'a>(json: &'a Value, key: &str) -> Read<&'a str> {
    json.get(key)
        .and_then(Value::as_str)
        .ok_or_else(|| NotNeutral(format!("{key}: missing or no word in {json}")))
}

fn flag(json: &Value, key: &str, absent: bool) -> Read<bool> {
    match json.get(key) {
        None | Some(Value::Null) => Ok(absent),
        Some(Value::Bool(b)) => Ok(*b),
        Some(other) => wrong(format!("{key}: expected true or false, found {other}")),
    }
}

fn int(json: &Value, key: &str, absent: i32) -> Read<i32> {
    match json.get(key) {
        None | Some(Value::Null) => Ok(absent),
        Some(v) => whole(v),
    }
}

fn whole(v: &Value) -> Read<i32> {
    v.as_i64()
        .and_then(|n| i32::try_from(n).ok())
        .ok_or_else(|| NotNeutral(format!("expected a whole number, found {v}")))
}
