//! How long each act takes one pair of hands.
//!
//! Estimates of common practice; an owner's figure replaces one at a time. Sources of the values: times of
//! the trade for one person, light, not in the dark.

use crate::Figure;

/// Seconds for each act, and the walking speed.
#[derive(Clone, Debug, PartialEq)]
pub struct StepTimes {
    /// Notice that something is silent.
    pub notice: Figure<f64>,
    /// Read a card.
    pub read: Figure<f64>,
    /// Pull a plug.
    pub unplug: Figure<f64>,
    /// Push a plug in: sound, low-voltage.
    pub plug: Figure<f64>,
    /// Push a mains plug in.
    pub plug_mains: Figure<f64>,
    /// Push a loudspeaker plug in.
    pub plug_speaker: Figure<f64>,
    /// Join lead and adapter.
    pub join: Figure<f64>,
    /// Set a level by ear.
    pub level: Figure<f64>,
    /// Turn a fader, send or mute on or off.
    pub knob: Figure<f64>,
    /// Switch phantom, before the wait.
    pub phantom: Figure<f64>,
    /// Wait after switching phantom.
    pub phantom_wait: Figure<f64>,
    /// Find and press a power switch.
    pub start: Figure<f64>,
    /// Take a spare lead that lies on stage.
    pub item_stage: Figure<f64>,
    /// Take one thing from the open spare bag.
    pub item_case: Figure<f64>,
    /// Open the spare bag.
    pub open_case: Figure<f64>,
    /// Quieten a loud piece and bring it back.
    pub quiet: Figure<f64>,
    /// Change a placement that has no time of its own.
    pub place: Figure<f64>,
    /// Walking speed, metres a second.
    pub walk: Figure<f64>,
}

/// Name in the text form, and what it is, of every time in [`StepTimes`], in order.
pub const STEP_NAMES: [(&str, &str); 18] = [
    ("notice", "notice the silence"),
    ("read", "read the card"),
    ("unplug", "pull a plug"),
    ("plug", "push a plug in"),
    ("plug mains", "push a mains plug in"),
    ("plug speaker", "push a loudspeaker plug in"),
    ("join", "join lead and adapter"),
    ("level", "set a level by ear"),
    ("knob", "a fader, send or mute"),
    ("phantom", "switch phantom"),
    ("phantom wait", "wait after switching phantom"),
    ("start", "find a power switch"),
    ("item stage", "take a spare lead on stage"),
    ("item bag", "take a thing from the open spare bag"),
    ("open bag", "open the spare bag"),
    ("quiet", "quieten a speaker and bring it back"),
    ("place", "turn or move a piece"),
    ("walk", "walking speed, metres a second"),
];

impl Default for StepTimes {
    fn default() -> Self {
        let typical = |value: f64, least: f64, most: f64| Figure::typical(value).within(least, most);
        StepTimes {
            notice: typical(5.0, 2.0, 15.0),
            read: typical(8.0, 5.0, 15.0),
            unplug: typical(3.0, 2.0, 5.0),
            plug: typical(5.0, 3.0, 8.0),
            plug_mains: typical(5.0, 3.0, 8.0),
            plug_speaker: typical(5.0, 3.0, 8.0),
            join: Figure::guessed(5.0, "like pushing a plug in"),
            level: typical(15.0, 10.0, 25.0),
            knob: typical(3.0, 2.0, 4.0),
            phantom: typical(4.0, 2.0, 6.0),
            phantom_wait: typical(5.0, 5.0, 10.0),
            start: typical(4.0, 2.0, 6.0),
            item_stage: Figure::guessed(5.0, "it lies beside the gear"),
            // Opening and one thing together are the 25 s of fetching from a case on stage.
            item_case: typical(10.0, 5.0, 15.0),
            open_case: typical(15.0, 10.0, 25.0),
            quiet: typical(5.0, 3.0, 8.0),
            place: typical(8.0, 5.0, 12.0),
            walk: typical(1.0, 0.7, 1.5),
        }
    }
}

impl StepTimes {
    /// All times in the order of [`STEP_NAMES`].
    pub fn all(&self) -> [&Figure<f64>; 18] {
        [
            &self.notice,
            &self.read,
            &self.unplug,
            &self.plug,
            &self.plug_mains,
            &self.plug_speaker,
            &self.join,
            &self.level,
            &self.knob,
            &self.phantom,
            &self.phantom_wait,
            &self.start,
            &self.item_stage,
            &self.item_case,
            &self.open_case,
            &self.quiet,
            &self.place,
            &self.walk,
        ]
    }

    /// The time called `name` in the text form, to change.
    pub fn by_name(&mut self, name: &str) -> Option<&mut Figure<f64>> {
        Some(match name {
            "notice" => &mut self.notice,
            "read" => &mut self.read,
            "unplug" => &mut self.unplug,
            "plug" => &mut self.plug,
            "plug mains" => &mut self.plug_mains,
            "plug speaker" => &mut self.plug_speaker,
            "join" => &mut self.join,
            "level" => &mut self.level,
            "knob" => &mut self.knob,
            "phantom" => &mut self.phantom,
            "phantom wait" => &mut self.phantom_wait,
            "start" => &mut self.start,
            "item stage" => &mut self.item_stage,
            "item bag" => &mut self.item_case,
            "open bag" => &mut self.open_case,
            "quiet" => &mut self.quiet,
            "place" => &mut self.place,
            "walk" => &mut self.walk,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_reaches_its_own_time() {
        for (index, (name, _)) in STEP_NAMES.iter().enumerate() {
            let mut times = StepTimes::default();
            times.by_name(name).unwrap().value = 777.0;
            let changed: Vec<usize> =
                times.all().iter().enumerate().filter(|(_, f)| f.value > 700.0).map(|(i, _)| i).collect();
            assert_eq!(changed, [index], "{name}");
        }
    }
}
