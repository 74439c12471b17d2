//! Reads one piece of gear: sockets, routes, makings, placements, banks.

use super::read::{Fields, Spot, intern};
use super::{
    Bank, Battery, Connector, Gear, Guard, Make, Mute, Passive, Phantom, Place, Rig, Route, Sides, Socket,
    Sound, Wires,
};

/// First pass: the piece with its sockets, placements and banks, so that later passes can name any of them.
pub(super) fn piece(rig: &mut Rig, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&[
        "id",
        "pos",
        "root",
        "needs_power",
        "battery",
        "auto",
        "watts",
        "cap",
        "boot",
        "loud",
        "pts",
        "place",
        "places",
        "makes",
        "sounds",
        "sockets",
        "routes",
        "modes",
        "banks",
        "mutes",
    ])?;
    let me = rig.gear.len();
    let id = fields.need("id")?.text()?.to_owned();
    let places = places(rig, &fields)?;
    let place = match fields.get("place") {
        None => Some(0),
        Some(spot) if spot.text()? == "case" => None,
        Some(spot) => {
            let name = spot.text()?;
            let found = places.iter().position(|p: &Place| p.id == name);
            Some(found.ok_or_else(|| spot.wrong(&format!("no placement \"{name}\" in \"places\"")))?)
        }
    };
    rig.gear.push(Gear {
        id,
        pos: fields.need("pos")?.position()?,
        root: fields.truth("root", false)?,
        needs_power: fields.truth("needs_power", false)?,
        battery: Battery::None,
        auto: fields.truth("auto", false)?,
        watts: fields.whole("watts", 0)?,
        cap: fields.get("cap").map(|spot| spot.whole()).transpose()?,
        boot: fields.whole("boot", 0)?,
        loud: fields.truth("loud", false)?,
        pts: fields.whole("pts", 0)?,
        place,
        places,
        sounds: Vec::new(),
    });
    for spot in fields.items("sockets")? {
        socket(rig, me, &spot)?;
    }
    // What has to stay loaded goes to standby before its plugs are touched.
    rig.gear[me].loud |= rig.sockets.iter().any(|s| s.gear == me && s.loaded);
    for spot in fields.items("banks")? {
        bank(rig, me, &spot)?;
    }
    for spot in fields.items("mutes")? {
        let mute = spot.object(&["id", "on"])?;
        let id = mute.need("id")?.text()?.to_owned();
        rig.mutes.push(Mute { gear: me, id, on: mute.truth("on", false)? });
    }
    Ok(())
}

/// Second pass: what names sockets, its own or another piece's.
pub(super) fn inside(rig: &mut Rig, me: usize, spot: &Spot<'_>) -> Result<(), String> {
    let Some(map) = spot.value.as_object() else { return Ok(()) };
    let known: Vec<&str> = map.keys().map(String::as_str).collect();
    let fields = spot.object(&known)?;
    rig.gear[me].battery = match fields.get("battery") {
        None => Battery::None,
        Some(spot) if spot.value.is_boolean() => {
            if spot.truth()? {
                Battery::Always
            } else {
                Battery::None
            }
        }
        Some(spot) => guard(rig, &spot.object(&["guard"])?)?.map_or(Battery::Always, Battery::When),
    };
    for spot in fields.items("sounds")? {
        let sound = sound(rig, me, &spot)?;
        rig.gear[me].sounds.push(sound);
    }
    for spot in fields.items("makes")? {
        make(rig, me, &spot)?;
    }
    for spot in fields.items("routes")? {
        route(rig, me, &spot)?;
    }
    for spot in fields.items("sockets")? {
        if let Some(inner) = spot.value.get("guard").filter(|g| !g.is_null()) {
            let at = own_socket(rig, me, &spot_of(&spot, "id")?)?;
            rig.sockets[at].guard = Some(one_guard(rig, &Spot::top(inner))?);
        }
    }
    Ok(())
}

/// An in-socket by its name alone, or `{"socket", "guard"}`.
fn sound(rig: &Rig, me: usize, spot: &Spot<'_>) -> Result<Sound, String> {
    let (at, guard) = if spot.value.is_string() {
        (spot.clone(), None)
    } else {
        let fields = spot.object(&["socket", "guard"])?;
        (fields.need("socket")?, guard(rig, &fields)?)
    };
    let socket = own_socket(rig, me, &at)?;
    if rig.sockets[socket].out {
        return Err(at.wrong("what drives a loudspeaker is an in-socket"));
    }
    Ok(Sound { socket, guard })
}

fn spot_of<'v>(spot: &Spot<'v>, key: &str) -> Result<Spot<'v>, String> {
    let map = spot.value.as_object().ok_or_else(|| spot.wrong("expected an object {…}"))?;
    let known: Vec<&str> = map.keys().map(String::as_str).collect();
    spot.object(&known)?.need(key)
}

fn places(rig: &mut Rig, fields: &Fields<'_>) -> Result<Vec<Place>, String> {
    let mut places = Vec::new();
    for spot in fields.items("places")? {
        let place = spot.object(&["id", "secs", "pts", "hears", "sources"])?;
        let mut hears = Vec::new();
        if let Some(table) = place.get("hears") {
            for (name, level) in table.table()? {
                let listener = rig.listeners.iter().position(|l| l.id == name);
                let listener = listener.ok_or_else(|| level.wrong("no such listener"))?;
                hears.push((listener, level.whole()?));
            }
        }
        let mut sources = None;
        if let Some(list) = place.get("sources") {
            let mut named = Vec::new();
            for source in list.list()? {
                named.push(intern(&mut rig.sources, source.text()?));
            }
            sources = Some(named);
        }
        let secs = place.whole("secs", rig.steps.place)?;
        let id = place.need("id")?.text()?.to_owned();
        places.push(Place { id, secs, pts: place.whole("pts", 0)?, hears, sources });
    }
    if places.is_empty() {
        // A piece that says nothing of placements stands "here", heard by nobody.
        let secs = rig.steps.place;
        places.push(Place { id: "here".to_owned(), secs, pts: 0, hears: Vec::new(), sources: None });
    }
    Ok(places)
}

fn socket(rig: &mut Rig, me: usize, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&[
        "id", "dir", "con", "wire", "tail", "rise", "class", "level", "phantom", "accepts", "gain", "guard",
        "loaded",
    ])?;
    let dir = fields.need("dir")?;
    let out = match dir.text()? {
        "out" => true,
        "in" => false,
        other => return Err(dir.wrong(&format!("expected \"out\" or \"in\", found \"{other}\""))),
    };
    let mut con = Vec::new();
    for spot in fields.need("con")?.list()? {
        con.push(connector(&mut rig.forms, &spot)?);
    }
    let wires = match fields.text("wire", "bal")? {
        "ts" => Wires::Ts,
        "stereo" => Wires::Stereo,
        "bal" | "" => Wires::Bal,
        other => return Err(spot.wrong(&format!("wire \"{other}\" is none of bal, ts, stereo"))),
    };
    let phantom = match (fields.text("phantom", if out { "ok" } else { "no" })?, out) {
        ("ok", true) => Phantom::Ok,
        ("needs", true) => Phantom::Needs,
        ("harmed", true) => Phantom::Harmed,
        ("no", false) => Phantom::No,
        ("switch", false) => Phantom::Switch,
        ("on", false) => Phantom::On,
        (other, _) => return Err(spot.wrong(&format!("phantom \"{other}\" does not fit this socket"))),
    };
    let mut classes = Vec::new();
    if out {
        let class = intern(&mut rig.classes, fields.need("class")?.text()?);
        let level = fields.get("level").map_or(Ok((0, 0)), |spot| spot.span())?;
        classes.push((class, level));
    } else {
        for (name, window) in fields.need("accepts")?.table()? {
            classes.push((intern(&mut rig.classes, name), window.span()?));
        }
    }
    let loaded = fields.truth("loaded", false)?;
    if loaded && !out {
        return Err(spot.wrong("only an out-socket can have to stay loaded"));
    }
    rig.sockets.push(Socket {
        gear: me,
        id: fields.need("id")?.text()?.to_owned(),
        out,
        con,
        wires,
        tail: fields.whole("tail", 0)?,
        rise: fields.whole("rise", 5)?,
        classes,
        phantom,
        gain: fields.truth("gain", false)?,
        guard: None,
        bank: None,
        loaded,
    });
    Ok(())
}

fn bank(rig: &mut Rig, me: usize, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&["id", "on", "wait", "sockets", "forgets"])?;
    let number = rig.banks.len();
    rig.banks.push(Bank {
        gear: me,
        id: fields.need("id")?.text()?.to_owned(),
        on: fields.truth("on", true)?,
        wait: fields.whole("wait", 5)?,
        forgets: fields.truth("forgets", false)?,
    });
    for spot in fields.items("sockets")? {
        let at = own_socket(rig, me, &spot)?;
        if rig.sockets[at].phantom != Phantom::Switch {
            return Err(spot.wrong("a bank's sockets are in-sockets with phantom \"switch\""));
        }
        if rig.sockets[at].bank.replace(number).is_some() {
            return Err(spot.wrong("a socket belongs to one bank only"));
        }
    }
    Ok(())
}

fn make(rig: &mut Rig, me: usize, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&["socket", "source", "side", "guard"])?;
    let at = fields.need("socket")?;
    let socket = own_socket(rig, me, &at)?;
    if rig.sockets[socket].classes.is_empty() {
        return Err(at.wrong("a source made here has no level: the in-socket accepts nothing"));
    }
    let source = intern(&mut rig.sources, fields.need("source")?.text()?);
    let sides = side(&fields, "side")?.unwrap_or(Sides::BOTH);
    let guard = guard(rig, &fields)?;
    rig.makes.push(Make { gear: me, socket, source, sides, guard });
    Ok(())
}

fn route(rig: &mut Rig, me: usize, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&[
        "id", "in", "outs", "gain", "switch", "on", "pts", "takes", "guard", "passive", "only_if", "mutes",
    ])?;
    let mut outs = Vec::new();
    for spot in fields.need("outs")?.list()? {
        outs.push(own_socket(rig, me, &spot)?);
    }
    let mut mutes = Vec::new();
    for spot in fields.items("mutes")? {
        let name = spot.text()?;
        let found = rig.mutes.iter().position(|mute| mute.gear == me && mute.id == name);
        mutes.push(found.ok_or_else(|| spot.wrong(&format!("no mute \"{name}\" in \"mutes\" of the gear")))?);
    }
    let passive = match fields.get("passive") {
        None => Passive::No,
        Some(spot) if spot.value.is_boolean() => {
            if spot.truth()? {
                Passive::Always
            } else {
                Passive::No
            }
        }
        Some(spot) => Passive::If(fact(rig, &spot)?),
    };
    let route = Route {
        gear: me,
        id: fields.need("id")?.text()?.to_owned(),
        from: own_socket(rig, me, &fields.need("in")?)?,
        outs,
        gain: fields.get("gain").map(|spot| spot.span()).transpose()?,
        switch: fields.truth("switch", false)?,
        on: fields.truth("on", true)?,
        pts: fields.whole("pts", 0)?,
        takes: side(&fields, "takes")?,
        guard: guard(rig, &fields)?,
        passive,
        only_if: fields.get("only_if").map(|spot| fact(rig, &spot)).transpose()?,
        mutes,
    };
    rig.routes.push(route);
    Ok(())
}

fn fact(rig: &Rig, spot: &Spot<'_>) -> Result<usize, String> {
    let name = spot.text()?;
    let found = rig.facts.iter().position(|fact| fact == name);
    found.ok_or_else(|| spot.wrong(&format!("no fact \"{name}\" in \"facts\" of the rig")))
}

fn side(fields: &Fields<'_>, key: &str) -> Result<Option<Sides>, String> {
    let Some(spot) = fields.get(key) else { return Ok(None) };
    match spot.text()? {
        "left" => Ok(Some(Sides { left: true, right: false })),
        "right" => Ok(Some(Sides { left: false, right: true })),
        other => Err(spot.wrong(&format!("expected \"left\" or \"right\", found \"{other}\""))),
    }
}

fn guard(rig: &Rig, fields: &Fields<'_>) -> Result<Option<Guard>, String> {
    fields.get("guard").map(|spot| one_guard(rig, &spot)).transpose()
}

fn one_guard(rig: &Rig, spot: &Spot<'_>) -> Result<Guard, String> {
    let fields = spot.object(&["empty", "filled"])?;
    match (fields.get("empty"), fields.get("filled")) {
        (Some(at), None) => Ok(Guard { socket: any_socket(rig, &at)?, filled: false }),
        (None, Some(at)) => Ok(Guard { socket: any_socket(rig, &at)?, filled: true }),
        _ => Err(spot.wrong("expected {\"empty\": SOCKET} or {\"filled\": SOCKET}")),
    }
}

/// `form:plug` or `form:sock`.
pub(super) fn connector(forms: &mut Vec<String>, spot: &Spot<'_>) -> Result<Connector, String> {
    let text = spot.text()?;
    match text.split_once(':') {
        Some((form, "plug")) => Ok(Connector { form: intern(forms, form), plug: true }),
        Some((form, "sock")) => Ok(Connector { form: intern(forms, form), plug: false }),
        _ => Err(spot.wrong(&format!("expected FORM:plug or FORM:sock, found \"{text}\""))),
    }
}

fn own_socket(rig: &Rig, me: usize, spot: &Spot<'_>) -> Result<usize, String> {
    let name = spot.text()?;
    let found = rig.sockets.iter().position(|s| s.gear == me && s.id == name);
    found.ok_or_else(|| spot.wrong(&format!("\"{}\" has no socket \"{name}\"", rig.gear[me].id)))
}

/// `gear.socket`.
pub(super) fn any_socket(rig: &Rig, spot: &Spot<'_>) -> Result<usize, String> {
    let text = spot.text()?;
    let found = text.split_once('.').and_then(|(gear, socket)| {
        rig.sockets.iter().position(|s| s.id == socket && rig.gear[s.gear].id == gear)
    });
    found.ok_or_else(|| spot.wrong(&format!("no socket \"{text}\"; written as GEAR.SOCKET")))
}
