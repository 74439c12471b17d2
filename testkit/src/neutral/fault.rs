//! Reads lost functions and mends.

use super::read::Spot;
use super::{Loss, Mend, Rig};

/// `gear:G`, `route:G.R`, `lead:I.J`, `spare:TYPE:N:stage` and so on.
pub(super) fn loss(rig: &Rig, spot: &Spot<'_>) -> Result<Loss, String> {
    let text = spot.text()?;
    let unknown = || spot.wrong(&format!("no such thing to lose: \"{text}\""));
    let (kind, rest) = text.split_once(':').ok_or_else(unknown)?;
    let gear = |name: &str| rig.gear.iter().position(|g| g.id == name);
    let found = match kind {
        "gear" => gear(rest).map(Loss::Gear),
        "sound" => gear(rest).map(Loss::Sound),
        "make" => gear(rest).map(Loss::Make),
        "supply" => gear(rest).map(Loss::Supply),
        "route" => rest.split_once('.').and_then(|(g, r)| {
            let at = rig.routes.iter().position(|route| route.id == r && rig.gear[route.gear].id == g);
            at.map(Loss::Route)
        }),
        "socket" => rest.split_once('.').and_then(|(g, s)| {
            let at = rig.sockets.iter().position(|socket| socket.id == s && rig.gear[socket.gear].id == g);
            at.map(Loss::Socket)
        }),
        "lead" => rest.split_once('.').and_then(|(i, j)| {
            let (link, piece): (usize, usize) = (i.parse().ok()?, j.parse().ok()?);
            let known = rig.patch.get(link).is_some_and(|l| piece < l.via.len());
            known.then_some(Loss::Piece { link, piece })
        }),
        "spare" => spare(rig, rest),
        _ => None,
    };
    found.ok_or_else(unknown)
}

fn spare(rig: &Rig, rest: &str) -> Option<Loss> {
    let mut words = rest.split(':');
    let (name, count, where_) = (words.next()?, words.next()?, words.next()?);
    let lead = rig.leads.iter().position(|l| l.id == name)?;
    let in_case = match where_ {
        "stage" => false,
        "case" => true,
        _ => return None,
    };
    Some(Loss::Spare { lead, count: count.parse().ok()?, in_case })
}

pub(super) fn mend(rig: &Rig, spot: &Spot<'_>) -> Result<Mend, String> {
    let fields = spot.object(&["id", "gives", "at", "secs", "wear"])?;
    let at = fields.need("at")?;
    let gear = rig.gear.iter().position(|g| Ok(g.id.as_str()) == at.text());
    let wear = match fields.get("wear") {
        None => None,
        Some(spot) => {
            let found = rig.wear.iter().position(|w| Ok(w.id.as_str()) == spot.text());
            Some(found.ok_or_else(|| spot.wrong("no such consumable in \"wear\" of the rig"))?)
        }
    };
    Ok(Mend {
        id: fields.need("id")?.text()?.to_owned(),
        gives: loss(rig, &fields.need("gives")?)?,
        at: gear.ok_or_else(|| at.wrong("no such gear"))?,
        secs: fields.need("secs")?.whole()?,
        wear,
    })
}
