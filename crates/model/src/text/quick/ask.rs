//! Which questions are worth asking about a rig: those whose answers change something, the weightiest first.
//!
//! They are found in the rig itself, so a rig that was typed in full is asked the same as one in quick lines.

use super::answer::is_answered;
use crate::{
    Choice, Class, Direction, Gear, GearId, Link, Matters, Origin, PhantomAtInput, PhantomAtOutput, Question,
    Rank, Rig, Socket, shelf,
};

const DONT_KNOW: &str = "don't know";

/// Questions that are open, in the order they are asked.
pub(crate) fn questions(rig: &Rig) -> Vec<Question> {
    let mut found = Vec::new();
    open(rig, &mut found);
    phantom(rig, &mut found);
    // Where nothing must be heard yet, no answer changes what becomes of it.
    if rig.parts.iter().any(|p| p.rank == Rank::Must) {
        musts(rig, &mut found);
    }
    reach(rig, &mut found);
    found.retain(|q| !is_answered(rig, &q.about, &q.asks));
    let key = |q: &Question| (q.about.clone(), q.asks.clone());
    let mut seen = Vec::new();
    found.retain(|q| {
        let new = !seen.contains(&key(q));
        seen.push(key(q));
        new
    });
    // The sort is stable: within one rank the order above holds.
    found.sort_by_key(|q| q.matters);
    found
}

/// What would change the answer for a part that must be heard.
fn musts(rig: &Rig, found: &mut Vec<Question>) {
    through(rig, found);
    battery(rig, found);
    one_switch(rig, found);
    microphone_inputs(rig, found);
    mono(rig, found);
}

fn question(about: &str, asks: &str, matters: Matters, text: String, choices: &[(&str, &str)]) -> Question {
    let choices = choices
        .iter()
        .chain([&(DONT_KNOW, "what rests on it says so")])
        .map(|(says, changes)| Choice { says: (*says).to_owned(), changes: (*changes).to_owned() })
        .collect();
    Question { about: about.to_owned(), asks: asks.to_owned(), text, choices, matters }
}

/// Questions that quick lines left in the rig.
fn open(rig: &Rig, out: &mut Vec<Question>) {
    for a in rig.answers.iter().filter(|a| a.is_open()) {
        match a.asks.as_str() {
            "click" => out.push(question(
                &a.about,
                "click",
                Matters::Hurt,
                format!("Which side of {} is the click?", a.about),
                &[
                    ("left", "the left plug goes to ears only, the right one to the mixer"),
                    ("right", "the right plug goes to ears only, the left one to the mixer"),
                    ("none", "there is no click, and both sides carry tracks"),
                ],
            )),
            "powered" => {
                let ohms = passive_ohms();
                let passive = format!(
                    "the second hangs in parallel at speaker level: {ohms} ohm each make {} ohm",
                    ohms / 2.0
                );
                out.push(question(
                    &a.about,
                    "powered",
                    Matters::Hurt,
                    format!("Is {} powered, or passive behind an amplifier?", a.about),
                    &[
                        ("powered", "the second is fed from the THRU socket, at line level"),
                        ("passive", &passive),
                    ],
                ));
            }
            _ => {}
        }
    }
}

/// The load of a passive speaker, ohms: the shelf's, else the usual one.
fn passive_ohms() -> f64 {
    let kind = super::name::kind_of("passive speaker");
    let load = |k: &crate::Kind| {
        k.body
            .sockets
            .iter()
            .filter_map(Socket::input)
            .flat_map(|i| &i.accepts)
            .find_map(|a| a.load.as_ref().map(|l| l.value))
    };
    // 8 ohm is the usual passive loudspeaker; common practice.
    kind.and_then(load).unwrap_or(8.0)
}

/// A microphone that needs phantom, at an input whose switch is off.
fn phantom(rig: &Rig, out: &mut Vec<Question>) {
    for (_, giver, into, taker) in ends(rig) {
        let needs = giver.1.output().is_some_and(|o| matches!(o.phantom, PhantomAtOutput::Needs { .. }));
        let Some(PhantomAtInput::Switched(bank)) = into.input().map(|i| &i.phantom) else { continue };
        let off = taker.body.banks.iter().any(|b| crate::same_name(&b.name, bank) && !b.on);
        if needs && off {
            out.push(question(
                &taker.name,
                "phantom",
                Matters::Hurt,
                format!("Is {bank} on at {}? {} needs it.", taker.name, giver.0.name),
                &[
                    ("on", "the microphone sounds; mute before the switch is touched"),
                    ("off", "the microphone is silent"),
                ],
            ));
        }
    }
}

/// A route that may pass sound without power: nobody has looked.
fn through(rig: &Rig, out: &mut Vec<Question>) {
    let mut asked: Vec<(&Option<String>, &str)> = Vec::new();
    for (g, gear) in rig.gear.iter().enumerate() {
        for route in gear.body.routes.iter().filter(|r| r.passive.origin == Origin::DontKnow) {
            let fed = rig
                .links
                .iter()
                .any(|l| l.to.gear == GearId(g) && rig.socket(l.to).is_some_and(|s| s.name == route.from));
            // Two of one kind are asked once: what is true of one is of the other.
            let of_kind = (&gear.kind, route.name.as_str());
            if !fed || asked.contains(&of_kind) || is_answered(rig, &gear.name, "through") {
                continue;
            }
            asked.push(of_kind);
            let text = route
                .question
                .clone()
                .unwrap_or_else(|| format!("Without power, does {} still pass sound?", gear.name));
            out.push(question(
                &gear.name,
                "through",
                Matters::Must,
                text,
                &[
                    ("yes", "what hangs behind it plays on when it is dead"),
                    ("no", "what hangs behind it falls silent with it"),
                ],
            ));
        }
    }
}

/// A battery that takes over when the supply dies, if there is one in it.
fn battery(rig: &Rig, out: &mut Vec<Question>) {
    for (g, gear) in rig.gear.iter().enumerate() {
        let plugged = rig.links.iter().any(|l| l.from.gear == GearId(g) || l.to.gear == GearId(g));
        let unsure = gear.body.battery.as_ref().is_some_and(|b| {
            b.guard.is_some() && matches!(b.present.origin, Origin::Typical | Origin::Guessed(_))
        });
        if plugged && unsure {
            out.push(question(
                &gear.name,
                "battery",
                Matters::Must,
                format!("Is there a good battery in {}?", gear.name),
                &[
                    ("yes", "it plays on when its supply is pulled"),
                    ("no", "it is silent without its supply"),
                ],
            ));
        }
    }
}

/// One phantom switch for all channels, where only some of them may have it.
fn one_switch(rig: &Rig, out: &mut Vec<Question>) {
    for gear in rig.gear.iter() {
        for bank in &gear.body.banks {
            let mut wants = [false, false];
            for (_, giver, into, taker) in ends(rig) {
                let here =
                    into.input().is_some_and(|i| i.phantom == PhantomAtInput::Switched(bank.name.clone()));
                if here && taker.name == gear.name {
                    let needs =
                        giver.1.output().is_some_and(|o| matches!(o.phantom, PhantomAtOutput::Needs { .. }));
                    if let Some(w) = wants.get_mut(usize::from(needs)) {
                        *w = true;
                    }
                }
            }
            if wants == [true, true] {
                out.push(question(
                    &gear.name,
                    "switches",
                    Matters::Must,
                    format!("Has {} one {} switch for all channels?", gear.name, bank.name),
                    &[
                        ("yes", "the switch reaches all its inputs at once"),
                        ("no", "each input has a switch of its own"),
                    ],
                ));
            }
        }
    }
}

/// Speakers that may take a microphone straight in: the quickest way when the mixer is dead.
fn microphone_inputs(rig: &Rig, out: &mut Vec<Question>) {
    let sings = ends(rig).any(|(_, giver, _, _)| giver.1.output().is_some_and(|o| o.class == Class::Mic));
    let mut asked: Vec<&Option<String>> = Vec::new();
    for gear in rig.gear.iter().filter(|g| g.body.loud) {
        let takes = gear.body.sockets.iter().any(|s| s.takes(&Class::Mic));
        let line_in = ends(rig).any(|(l, _, into, _)| {
            rig.piece(l.to.gear).is_some_and(|g| g.name == gear.name) && into.takes(&Class::Line)
        });
        let typical =
            gear.kind.as_deref().and_then(shelf::kind).is_some_and(|k| k.body.sockets == gear.body.sockets);
        if sings && takes && line_in && typical && !asked.contains(&&gear.kind) {
            asked.push(&gear.kind);
            out.push(question(
                &gear.name,
                "microphone",
                Matters::Must,
                format!("Can a microphone go straight into {}?", gear.name),
                &[
                    ("yes", "a microphone may go round a dead mixer"),
                    ("no", "no microphone is ever plugged there"),
                ],
            ));
        }
    }
}

/// A keyboard whose left socket may carry everything.
fn mono(rig: &Rig, out: &mut Vec<Question>) {
    for (g, gear) in rig.gear.iter().enumerate() {
        let plugged = rig.links.iter().any(|l| l.from.gear == GearId(g));
        let Some(whole) = gear.body.makes.iter().find(|m| m.guard.is_some()) else { continue };
        if plugged {
            out.push(question(
                &gear.name,
                "mono",
                Matters::Must,
                format!("Does {} alone carry all of {}?", whole.socket, gear.name),
                &[("yes", "one lead is enough in need"), ("no", "half of it is lost with one lead")],
            ));
        }
    }
}

/// Leads that end less than a metre from where they stop short.
fn reach(rig: &Rig, out: &mut Vec<Question>) {
    for (link, giver, into, taker) in ends(rig) {
        let (Some(a), Some(z)) = (giver.0.at, taker.at) else { continue };
        let length: f64 = link.via.iter().filter_map(|id| rig.lead(*id)).map(|l| l.length.value).sum();
        let doubtful = link.via.iter().filter_map(|id| rig.lead(*id)).any(|l| l.length.is_doubtful());
        if length <= 0.0 || link.via.len() != 1 || !doubtful {
            continue;
        }
        let (dx, dy) = (a.x - z.x, a.y - z.y);
        // As reckoned by the definition: a fifth for the way round, and down and up at both ends.
        let span = 1.2 * (dx * dx + dy * dy).sqrt() + giver.0.rise(giver.1) + taker.rise(into);
        let left = length - span;
        if (0.0..1.0).contains(&left) {
            let lead = link.via.first().and_then(|id| rig.lead(*id)).map_or("", |l| l.name.as_str());
            out.push(question(
                &giver.0.name,
                "reach",
                Matters::Reach,
                format!("Does {lead} reach from {} to {}?", giver.0.name, taker.name),
                &[("yes", "it is used there"), ("no", "it needs a longer lead, or stands nearer")],
            ));
        }
    }
}

/// Every link with its giver and its out-socket, its in-socket and its taker; sound only.
fn ends(rig: &Rig) -> impl Iterator<Item = (&Link, (&Gear, &Socket), &Socket, &Gear)> {
    rig.links.iter().filter_map(|l| {
        let (out, into) = (rig.socket(l.from)?, rig.socket(l.to)?);
        let sound = out.direction() == Direction::Out && !out.is_supply();
        sound.then_some((l, (rig.piece(l.from.gear)?, out), into, rig.piece(l.to.gear)?))
    })
}
