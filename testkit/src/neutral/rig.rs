//! Reads a whole problem: the rig's own tables first, then the gear, then what names sockets.

use serde_json::Value;

use super::read::{Fields, Spot, intern};
use super::{Lead, Link, Listener, Part, Problem, Rank, Rig, Steps, Wear, Wiring, fault, gear};

pub(super) fn problem(value: &Value) -> Result<Problem, String> {
    let top = Spot::top(value);
    // The files also carry best values and who agreed; the second way must not look at those.
    let fields =
        top.object(&["rig", "lost", "mends", "expected", "agreed_by", "rule", "why", "with_the_rule_off"])?;
    let rig = rig(&fields.need("rig")?)?;
    let lost = fields.items("lost")?.iter().map(|spot| fault::loss(&rig, spot)).collect::<Result<_, _>>()?;
    let mends =
        fields.items("mends")?.iter().map(|spot| fault::mend(&rig, spot)).collect::<Result<_, _>>()?;
    Ok(Problem { rig, lost, mends })
}

fn rig(spot: &Spot<'_>) -> Result<Rig, String> {
    let fields = spot.object(&[
        "name",
        "home",
        "break_limit",
        "steps",
        "walk_dm_per_s",
        "listeners",
        "parts",
        "leads",
        "gear",
        "patch",
        "tail_kept",
        "wear",
        "facts",
    ])?;
    let mut rig = Rig {
        home: fields.get("home").map_or(Ok((0, 0)), |spot| spot.position())?,
        break_limit: fields.whole("break_limit", 900)?,
        steps: steps(&fields)?,
        walk: fields.whole("walk_dm_per_s", 10)?,
        tail_kept: fields.truth("tail_kept", false)?,
        listeners: Vec::new(),
        parts: Vec::new(),
        leads: Vec::new(),
        wear: Vec::new(),
        gear: Vec::new(),
        sockets: Vec::new(),
        routes: Vec::new(),
        makes: Vec::new(),
        banks: Vec::new(),
        mutes: Vec::new(),
        facts: Vec::new(),
        patch: Vec::new(),
        sources: Vec::new(),
        classes: Vec::new(),
        forms: Vec::new(),
    };
    if rig.walk < 1 {
        return Err(spot.wrong("walk_dm_per_s must be at least 1"));
    }
    for spot in fields.items("listeners")? {
        let listener = spot.object(&["id", "need"])?;
        let id = listener.need("id")?.text()?.to_owned();
        rig.listeners.push(Listener { id, need: listener.whole("need", 0)? });
    }
    for spot in fields.items("parts")? {
        part(&mut rig, &spot)?;
    }
    for spot in fields.items("leads")? {
        lead(&mut rig, &spot)?;
    }
    for spot in fields.items("wear")? {
        let wear = spot.object(&["id", "owned", "case"])?;
        let id = wear.need("id")?.text()?.to_owned();
        rig.wear.push(Wear { id, owned: wear.whole("owned", 0)?, case: wear.whole("case", 0)? });
    }
    for spot in fields.items("facts")? {
        let id = spot.text()?;
        if rig.facts.iter().any(|known| known == id) {
            return Err(spot.wrong(&format!("the fact \"{id}\" is listed twice")));
        }
        rig.facts.push(id.to_owned());
    }
    let gear_spots = fields.items("gear")?;
    for spot in &gear_spots {
        gear::piece(&mut rig, spot)?;
    }
    for (me, spot) in gear_spots.iter().enumerate() {
        gear::inside(&mut rig, me, spot)?;
    }
    for spot in fields.items("patch")? {
        link(&mut rig, &spot)?;
    }
    Ok(rig)
}

fn steps(fields: &Fields<'_>) -> Result<Steps, String> {
    let mut steps = Steps {
        plug: 3,
        plug_mains: 4,
        plug_speaker: 4,
        unplug: 2,
        join: 3,
        level: 4,
        knob: 3,
        start: 3,
        item_stage: 2,
        item_case: 4,
        open_case: 15,
        quiet: 3,
        place: 8,
    };
    let Some(spot) = fields.get("steps") else { return Ok(steps) };
    for (name, seconds) in spot.table()? {
        let place = match name {
            "plug" => &mut steps.plug,
            "plug_mains" => &mut steps.plug_mains,
            "plug_speaker" => &mut steps.plug_speaker,
            "unplug" => &mut steps.unplug,
            "join" => &mut steps.join,
            "level" => &mut steps.level,
            "knob" => &mut steps.knob,
            "start" => &mut steps.start,
            "item_stage" => &mut steps.item_stage,
            "item_case" => &mut steps.item_case,
            "open_case" => &mut steps.open_case,
            "quiet" => &mut steps.quiet,
            "place" => &mut steps.place,
            _ => return Err(seconds.wrong("no step of this name")),
        };
        *place = seconds.whole()?;
        if *place < 0 {
            return Err(seconds.wrong("seconds cannot be below 0"));
        }
    }
    Ok(steps)
}

fn part(rig: &mut Rig, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&["id", "source", "listener", "rank", "weight"])?;
    let listener = fields.need("listener")?;
    let heard_by = rig.listeners.iter().position(|l| Ok(l.id.as_str()) == listener.text());
    let rank = fields.need("rank")?;
    let part = Part {
        id: fields.need("id")?.text()?.to_owned(),
        source: intern(&mut rig.sources, fields.need("source")?.text()?),
        listener: heard_by.ok_or_else(|| listener.wrong("no such listener"))?,
        rank: match rank.text()? {
            "must" => Rank::Must,
            "should" => Rank::Should,
            "nice" => Rank::Nice,
            "never" => Rank::Never,
            other => return Err(rank.wrong(&format!("\"{other}\" is none of must, should, nice, never"))),
        },
        weight: fields.whole("weight", 1)?,
    };
    if part.weight < 0 {
        return Err(spot.wrong("a weight cannot be below 0"));
    }
    rig.parts.push(part);
    Ok(())
}

fn lead(rig: &mut Rig, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&["id", "ends", "wire", "use", "length", "owned", "case", "pts"])?;
    let ends = fields.need("ends")?;
    let list = ends.list()?;
    let [one, two] = list.as_slice() else {
        return Err(ends.wrong("a lead has two ends"));
    };
    let ends = [gear::connector(&mut rig.forms, one)?, gear::connector(&mut rig.forms, two)?];
    let wiring = match fields.text("wire", "bal")? {
        // Supply leads write an empty word.
        "bal" | "" => Wiring::Bal,
        "ts" => Wiring::Ts,
        "sum" => Wiring::Sum,
        "dup" => Wiring::Dup,
        other => return Err(spot.wrong(&format!("wire \"{other}\" is none of bal, ts, sum, dup"))),
    };
    let mut classes = Vec::new();
    for class in fields.items("use")? {
        classes.push(intern(&mut rig.classes, class.text()?));
    }
    rig.leads.push(Lead {
        id: fields.need("id")?.text()?.to_owned(),
        ends,
        wiring,
        classes,
        length: fields.whole("length", 0)?,
        owned: fields.whole("owned", 0)?,
        case: fields.whole("case", 0)?,
        pts: fields.whole("pts", 0)?,
    });
    Ok(())
}

fn link(rig: &mut Rig, spot: &Spot<'_>) -> Result<(), String> {
    let fields = spot.object(&["from", "to", "via"])?;
    let from = gear::any_socket(rig, &fields.need("from")?)?;
    let to = gear::any_socket(rig, &fields.need("to")?)?;
    let mut via = Vec::new();
    for name in fields.items("via")? {
        let found = rig.leads.iter().position(|l| Ok(l.id.as_str()) == name.text());
        via.push(found.ok_or_else(|| name.wrong("no such lead type"))?);
    }
    if !rig.sockets[from].out || rig.sockets[to].out {
        return Err(spot.wrong("a link goes from an out-socket to an in-socket"));
    }
    if rig.patch.iter().any(|l| l.from == from || l.to == to) {
        return Err(spot.wrong("one of these sockets is already filled; one plug a socket"));
    }
    rig.patch.push(Link { from, to, via });
    Ok(())
}
