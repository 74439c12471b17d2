//! Random problems that lean on the rules.
//!
//! A rig drawn blindly is decided by nothing: most covers are *do nothing* or *one lead*. So each problem starts from one
//! of a dozen small scenes of the trade, drawn with other distances, spares, faults and settings, and mends, second
//! faults and step times are mixed in. `counts` holds the mixture to account.

mod conditions;
mod counts;
mod desk;
mod direct;
mod draft;
mod power;

pub use counts::{Counts, count};

use serde_json::{Value, json};

use draft::Draft;

type Scene = (&'static str, fn(&mut Draft));

/// Some twice, because the rules they are made for decide only part of them.
const SCENES: [Scene; 18] = [
    ("click", desk::click),
    ("click", desk::click),
    ("phantom", desk::phantom),
    ("phantom", desk::phantom),
    ("effect", desk::effect),
    ("effect", desk::effect),
    ("sides", desk::sides),
    ("robbery", direct::robbery),
    ("robbery", direct::robbery),
    ("adapters", direct::adapters),
    ("stand-in", direct::stand_in),
    ("levels", direct::levels),
    ("levels", direct::levels),
    ("outlets", power::outlets),
    ("outlets", power::outlets),
    ("strip", power::strip),
    ("pedal", power::pedal),
    ("left or both", power::left_or_both),
];

/// Scenes about conditions, and once more those that decide a rule which few others lean on.
const CONDITIONS: [Scene; 13] = [
    ("through", conditions::through),
    ("through", conditions::through),
    ("through", conditions::through),
    ("muted", conditions::muted),
    ("muted", conditions::muted),
    ("headphones", conditions::headphones),
    ("valve", conditions::valve),
    ("valve", conditions::valve),
    ("forgetting", conditions::forgetting),
    ("forgetting", conditions::forgetting),
    ("effect", desk::effect),
    ("sides", desk::sides),
    ("levels", direct::levels),
];

/// The problem of a seed, in the neutral form: `{rig, lost, mends?}`. The same seed gives the same problem.
pub fn problem(seed: u64) -> Value {
    let scenes: Vec<Scene> = SCENES.iter().chain(&CONDITIONS).copied().collect();
    drawn(seed, &scenes)
}

fn drawn(seed: u64, scenes: &[Scene]) -> Value {
    let mut draft = Draft::new(seed);
    let (name, scene) = draft.dice.pick(scenes).unwrap_or(SCENES[0]);
    scene(&mut draft);
    bystander(&mut draft);
    second_fault(&mut draft);
    mend(&mut draft);
    draft.finish(&format!("{name} {seed}"))
}

/// Sometimes another pair plays on beside: its lead and its loudspeaker could be robbed, at a price.
fn bystander(draft: &mut Draft) {
    let roomy = draft.gear.len() <= 4 && draft.leads.iter().any(|lead| lead["id"] == "x3");
    if !roomy || !draft.dice.chance(35) {
        return;
    }
    draft.mic("pair mic", "chat", 1.5, 0.5, "ok");
    draft.monitor("pair monitor", 2.0, 1.0, &["mic", "line"], 50);
    draft.link("pair mic.o", "pair monitor.i", &["x3"]);
    for lead in &mut draft.leads {
        if lead["id"] == "x3" {
            lead["owned"] = json!(lead["owned"].as_i64().unwrap_or(0) + 1);
        }
    }
    let rank = draft.dice.word(&["nice", "should", "should"]);
    draft.part("chat", "band", rank);
}

/// Sometimes a spare that should be there is missing too, or a second lead is dead.
fn second_fault(draft: &mut Draft) {
    if draft.dice.chance(12) {
        let place = draft.dice.word(&["stage", "case"]);
        let names: Vec<String> =
            draft.leads.iter().filter_map(|lead| lead["id"].as_str().map(str::to_owned)).collect();
        let at = draft.dice.below(names.len() as u64);
        if let Some(name) = names.iter().zip(0..).find(|(_, i)| *i == at).map(|(name, _)| name) {
            draft.lost.push(format!("spare:{name}:1:{place}"));
        }
    }
}

/// Sometimes what is lost can be mended: quickly or slowly, perhaps with something that is used up.
fn mend(draft: &mut Draft) {
    if !draft.dice.chance(35) {
        return;
    }
    let Some(gives) = draft.lost.first().cloned() else { return };
    let gear: Vec<String> = draft.gear.iter().filter_map(|g| g["id"].as_str().map(str::to_owned)).collect();
    let named = gives.split_once(':').map_or("", |(_, rest)| rest.split('.').next().unwrap_or(rest));
    let at = gear.iter().find(|id| *id == named).or(gear.first()).cloned().unwrap_or_default();
    let secs = draft.dice.pick(&[4, 8, 12, 20, 30, 60]).unwrap_or(30);
    let mut mend = json!({ "id": "put right", "gives": gives, "at": at, "secs": secs });
    if draft.dice.chance(40) {
        mend["wear"] = json!("bits");
        let owned = draft.dice.between(0, 2);
        let case = draft.dice.between(0, owned);
        draft.wear.push(json!({ "id": "bits", "owned": owned, "case": case }));
    }
    draft.mends.push(mend);
}
