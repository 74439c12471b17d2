//! What is said about a rig as a whole: names, one line each, and help pages.

/// Something that is said about a rig, not about one link.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct About {
    /// Its name: `must-not-hear`.
    pub name: &'static str,
    /// What it finds, in one line.
    pub line: &'static str,
    /// Why it matters, what to do, and where it is known from.
    pub page: &'static str,
}

/// Everything that is said about a rig as a whole, what can hurt first.
pub const WHOLE: &[About] = &[
    About {
        name: "must-not-hear",
        line: "a part reaches ears it is not meant for",
        page: "A click in the house ends a song. It is judged as if everything were switched on and turned up, since a \
               switch may be touched. The way is told piece by piece.\n\n**Do instead.** Turn it off on the way, pull the \
               lead, or send it on a side of its own.\n\n**Source.** docs/cover.md, section 6.",
    },
    About {
        name: "sound-loop",
        line: "sound that can feed itself round a ring of leads",
        page: "An output that comes back to its own input howls at once, at full level.\n\n**Do instead.** Pull one of the \
               leads of the ring.\n\n**Caution.** Speakers down first.\n\n**Source.** docs/cover.md, section 6.",
    },
    About {
        name: "supply-ring",
        line: "strips or supplies that feed themselves in a ring",
        page: "Nothing in the ring has power, and a strip that is pulled may leave bare live pins.\n\n**Do instead.** Plug \
               one of them into a wall outlet.\n\n**Source.** docs/cover.md, section 6.",
    },
    About {
        name: "overload",
        line: "a strip, supply or outlet that feeds more watts than it may",
        page: "It gets hot, or its button or the breaker drops, and all on it goes dark. Everything is counted as if \
               switched on, strips behind it included.\n\n**Do instead.** Move something to another outlet.\n\n**Caution.** \
               The rating plate and the local code rule. A hot or damaged strip goes out of service.\n\n**Source.** \
               Check values P-PWR-01; typical ratings are common practice.",
    },
    About {
        name: "breaker-overload",
        line: "a breaker whose outlets feed more than it carries",
        page: "It drops, and everything on it goes dark. Counted at 230 V; where mains is 120 V it carries about half as \
               much.\n\n**Do instead.** Move something to an outlet on another breaker.\n\n**Caution.** The venue's staff reset \
               it, once, after the cause is found.\n\n**Source.** Check values P-PWR-01.",
    },
    About {
        name: "no-load",
        line: "a valve amplifier without its loudspeaker",
        page: "Its output transformer may fail when it plays into nothing.\n\n**Do instead.** Leave it off until its \
               loudspeaker is plugged in.\n\n**Source.** Common practice.",
    },
    About {
        name: "phantom-off",
        line: "a microphone that needs phantom on an input where it is off",
        page: "It stays silent while all dynamic microphones work. It is the usual cause after a power cut.\n\n**Do instead.** \
               Mute, switch phantom on, wait 5 s.\n\n**Caution.** Look first what else hangs on the same switch.\n\n**Source.** \
               Common practice.",
    },
    About {
        name: "not-heard",
        line: "a part of the list that the rig as plugged does not bring to its listener",
        page: "Nothing brings it there: a lead is missing, a switch is off, the level is wrong, or something has no power. \
               Such a part counts in no way round, since there is nothing to bring back.\n\n**Do instead.** Follow it from \
               its source to the speaker.\n\n**Source.** docs/cover.md, sections 5 and 8.",
    },
    About {
        name: "too-few-leads",
        line: "more leads of a kind plugged than owned",
        page: "One of the two numbers is wrong, and every way round would count on a lead that is not there.\n\n**Do instead.** \
               Count again.\n\n**Source.** docs/cover.md, section 1.",
    },
    About {
        name: "nearly-full",
        line: "a strip or outlet that feeds more than 80 % of what it may",
        page: "It works. One more lamp or heater is too much.\n\n**Do instead.** Plug nothing more in.\n\n**Source.** Common \
               practice for loads of hours (NEC 210.19(A)(1) has the same share).",
    },
    About {
        name: "one-breaker",
        line: "everything hangs on one breaker",
        page: "When it drops, only what runs on batteries still sounds.\n\n**Do instead.** Find out who may reset it. If the \
               room has another circuit, carry an extension that reaches it.\n\n**Source.** Common practice.",
    },
    About {
        name: "strip-in-strip",
        line: "one strip plugged into another",
        page: "All on both hangs on the first plug, and the first carries the watts of both.\n\n**Do instead.** Plug it into a \
               wall outlet where you can. Unwind an extension fully.\n\n**Caution.** Local codes may forbid it.\n\n**Source.** \
               Common practice.",
    },
];

/// The help page of anything that is said about a link or a rig, with its name and line on top.
pub fn explain(name: &str) -> Option<String> {
    if let Some(check) = crate::link::Check::find(name) {
        return Some(check.page());
    }
    WHOLE.iter().find(|a| a.name == name).map(|a| {
        let mut title = a.line.chars();
        let first: String = title.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
        format!("# {first}{}\n\n{}\n", title.as_str(), a.page)
    })
}
