//! A problem being drawn: dice, and short words for the gear and leads that the scenes are made of.

use rand::Rng;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use serde_json::{Value, json};

/// Dice that give the same throws for the same seed on every machine.
#[derive(Debug)]
pub(super) struct Dice(ChaCha8Rng);

impl Dice {
    pub(super) fn new(seed: u64) -> Dice {
        Dice(ChaCha8Rng::seed_from_u64(seed))
    }

    /// 0 to `count` − 1.
    pub(super) fn below(&mut self, count: u64) -> u64 {
        // The bias of a remainder is far below anything that is counted here.
        if count == 0 { 0 } else { self.0.next_u64() % count }
    }

    /// `least` to `most`.
    pub(super) fn between(&mut self, least: i64, most: i64) -> i64 {
        let span = u64::try_from(most - least).unwrap_or(0) + 1;
        least + i64::try_from(self.below(span)).unwrap_or(0)
    }

    pub(super) fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }

    pub(super) fn pick<T: Copy>(&mut self, from: &[T]) -> Option<T> {
        let at = usize::try_from(self.below(from.len() as u64)).unwrap_or(0);
        from.get(at).copied()
    }

    /// One of the words; the lists are written in the scenes and never empty.
    pub(super) fn word<'w>(&mut self, from: &[&'w str]) -> &'w str {
        self.pick(from).unwrap_or("")
    }
}

/// A problem being drawn.
#[derive(Debug)]
pub(super) struct Draft {
    pub(super) dice: Dice,
    pub(super) gear: Vec<Value>,
    pub(super) leads: Vec<Value>,
    pub(super) parts: Vec<Value>,
    pub(super) patch: Vec<Value>,
    pub(super) lost: Vec<String>,
    pub(super) mends: Vec<Value>,
    pub(super) wear: Vec<Value>,
    pub(super) facts: Vec<&'static str>,
    pub(super) tail_kept: bool,
}

impl Draft {
    pub(super) fn new(seed: u64) -> Draft {
        Draft {
            dice: Dice::new(seed),
            gear: Vec::new(),
            leads: Vec::new(),
            parts: Vec::new(),
            patch: Vec::new(),
            lost: Vec::new(),
            mends: Vec::new(),
            wear: Vec::new(),
            facts: Vec::new(),
            tail_kept: false,
        }
    }

    /// A place about `x`, `y` metres, moved a little.
    pub(super) fn pos(&mut self, x: f64, y: f64) -> Value {
        let nudge = [-0.4, -0.2, 0.0, 0.0, 0.3, 0.5];
        let dx = self.dice.pick(&nudge).unwrap_or(0.0);
        let dy = self.dice.pick(&nudge).unwrap_or(0.0);
        // Whole decimetres, written without a long tail of digits.
        let tenth = |v: f64| (v * 10.0).round() / 10.0;
        json!([tenth(x + dx), tenth(y + dy)])
    }

    pub(super) fn part(&mut self, source: &str, listener: &str, rank: &str) {
        let weight = if self.dice.chance(25) { 2 } else { 1 };
        self.parts.push(json!({
            "id": format!("{source} for {listener}"),
            "source": source, "listener": listener, "rank": rank, "weight": weight,
        }));
    }

    /// A lead type; `case` of the owned are in the case.
    pub(super) fn lead(
        &mut self,
        id: &str,
        ends: [&str; 2],
        wire: &str,
        classes: &[&str],
        length: i64,
        (owned, case): (i64, i64),
    ) {
        let pts = if self.dice.chance(20) { self.dice.between(1, 2) } else { 0 };
        self.leads.push(json!({
            "id": id, "ends": ends, "wire": wire, "use": classes, "length": length,
            "owned": owned, "case": case, "pts": pts,
        }));
    }

    /// Microphone leads of 3 m, `used` of them in the patch, and spares drawn: perhaps on stage, perhaps longer, perhaps
    /// packed.
    pub(super) fn mic_leads(&mut self, used: i64) {
        let ends = ["xlr:sock", "xlr:plug"];
        let (spare, packed) = (self.dice.between(0, 1), self.dice.between(0, 1));
        self.lead("x3", ends, "bal", &["mic", "line"], 30, (used + spare + packed, packed));
        if self.dice.chance(70) {
            let case = self.dice.between(0, 1);
            self.lead("x6", ends, "bal", &["mic", "line"], 60, (1, case));
        }
    }

    /// Mains leads of 2.5 m, `used` of them in the patch, and a longer one.
    pub(super) fn mains_leads(&mut self, used: i64) {
        let (spare, packed) = (self.dice.between(0, 1), self.dice.between(0, 1));
        self.lead("iec2", ["mains:plug", "iec:sock"], "", &["mains"], 25, (used + spare + packed, packed));
        if self.dice.chance(75) {
            let case = self.dice.between(0, 1);
            self.lead("iec5", ["mains:plug", "iec:sock"], "", &["mains"], 50, (1, case));
        }
    }

    pub(super) fn link(&mut self, from: &str, to: &str, via: &[&str]) {
        self.patch.push(json!({ "from": from, "to": to, "via": via }));
    }

    /// A speaker in front of the house with one input, `more` set on top.
    pub(super) fn speaker(&mut self, id: &str, x: f64, y: f64, accepts: &[&str], more: &Value) {
        let (gain, loud, secs) = (self.dice.chance(40), self.dice.chance(40), self.dice.between(6, 9));
        let pos = self.pos(x, y);
        self.gear.push(with(
            json!({
                "id": id, "pos": pos, "loud": loud, "sounds": ["i"],
                "sockets": [input("i", &["xlr:sock"], accepts, &json!({ "gain": gain }))],
                "places": [{ "id": "front", "hears": { "house": 100 }, "secs": secs }],
            }),
            more,
        ));
    }

    /// A monitor for the band that may be turned to the house, at some points.
    pub(super) fn monitor(&mut self, id: &str, x: f64, y: f64, accepts: &[&str], turns: u64) {
        let (gain, pts, secs) = (self.dice.chance(40), self.dice.between(1, 5), self.dice.between(5, 12));
        let mut places = vec![json!({ "id": "front", "hears": { "band": 96 }, "secs": 8 })];
        if self.dice.chance(turns) {
            let still = if self.dice.chance(60) { 88 } else { 70 };
            let hears = json!({ "house": 90, "band": still });
            places.push(json!({ "id": "turned", "hears": hears, "secs": secs, "pts": pts }));
        }
        let pos = self.pos(x, y);
        self.gear.push(json!({
            "id": id, "pos": pos, "loud": false, "sounds": ["i"],
            "sockets": [input("i", &["xlr:sock"], accepts, &json!({ "gain": gain }))],
            "places": places,
        }));
    }

    /// A microphone that makes one source.
    pub(super) fn mic(&mut self, id: &str, source: &str, x: f64, y: f64, phantom: &str) {
        let pos = self.pos(x, y);
        let socket = output("o", "xlr:plug", "mic", [-50, -30], &json!({ "phantom": phantom }));
        self.gear.push(json!({
            "id": id, "pos": pos, "sockets": [socket], "makes": [{ "socket": "o", "source": source }],
        }));
    }

    /// The whole problem.
    pub(super) fn finish(mut self, name: &str) -> Value {
        let need = if self.dice.chance(50) { 85 } else { 80 };
        let mut rig = json!({
            "name": name, "home": [0, 0], "break_limit": 600,
            "listeners": [{ "id": "house", "need": need }, { "id": "band", "need": 80 }],
            "parts": self.parts, "leads": self.leads, "gear": self.gear, "patch": self.patch,
        });
        if self.tail_kept {
            rig["tail_kept"] = json!(true);
        }
        if !self.facts.is_empty() {
            rig["facts"] = json!(self.facts);
        }
        if !self.wear.is_empty() {
            rig["wear"] = json!(self.wear);
        }
        if self.dice.chance(20) {
            rig["steps"] =
                json!({ "open_case": self.dice.between(4, 20), "unplug": self.dice.between(1, 3) });
        }
        let mut problem = json!({ "rig": rig, "lost": self.lost });
        if !self.mends.is_empty() {
            problem["mends"] = json!(self.mends);
        }
        problem
    }
}

/// An object with the fields of another set on top.
pub(super) fn with(mut base: Value, more: &Value) -> Value {
    if let (Some(base), Some(more)) = (base.as_object_mut(), more.as_object()) {
        base.extend(more.iter().map(|(key, value)| (key.clone(), value.clone())));
    }
    base
}

/// An out-socket.
pub(super) fn output(id: &str, con: &str, class: &str, level: [i64; 2], more: &Value) -> Value {
    with(json!({ "id": id, "dir": "out", "con": [con], "class": class, "level": level }), more)
}

/// An in-socket that takes these classes at usual levels.
pub(super) fn input(id: &str, con: &[&str], classes: &[&str], more: &Value) -> Value {
    let window = |class: &str| match class {
        "mic" => json!([-60, -18]),
        "line" => json!([-20, 24]),
        "inst" => json!([-40, 6]),
        _ => json!([0, 0]),
    };
    let accepts: serde_json::Map<String, Value> =
        classes.iter().map(|class| ((*class).to_owned(), window(class))).collect();
    with(json!({ "id": id, "dir": "in", "con": con, "accepts": accepts }), more)
}
