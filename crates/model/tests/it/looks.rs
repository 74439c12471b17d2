//! A look is ticked when it was that: so a yes has to mean that something is wrong, on every piece alike.

use model::shelf;

#[test]
fn a_yes_to_a_look_means_that_something_is_wrong() {
    let mut looks = 0;
    for look in shelf::kinds().iter().flat_map(|k| &k.body.looks) {
        looks += 1;
        let ask = look.ask.trim_end_matches('?').to_lowercase();
        let all_is_well = ask.ends_with(" home") || ask.ends_with(" up") || ask.ends_with(" on");
        // A lamp that is lit means trouble on a mute alone.
        let lit = ask.ends_with(" lit") && !ask.starts_with("mute");
        assert!(!all_is_well && !lit, "{:?} is answered yes when all is well ({})", look.ask, look.state);
        assert!(look.ask.split_whitespace().count() <= 5, "{:?}", look.ask);
    }
    assert!(looks > 40, "only {looks} looks on the shelf");
}

/// What has been dark or frozen has to start again: a mend that leaves that out promises sound too early.
#[test]
fn a_mend_of_what_was_off_counts_its_start() {
    let mut counted = 0;
    for kind in shelf::kinds().iter().filter(|k| k.body.boot.value > 0.0) {
        for mend in &kind.body.mends {
            let off = kind.body.modes.iter().filter(|m| mend.modes.contains(&m.name)).any(|m| {
                let frozen = matches!(m.name.as_str(), "crash" | "hang");
                frozen || m.lost.iter().any(|l| matches!(l, model::Lost::All | model::Lost::Supply))
            });
            if off {
                counted += 1;
                let (mend, boot) = (&mend.seconds.value, kind.body.boot.value);
                assert!(*mend > boot, "{}: {mend} s, and it starts in {boot} s", kind.name);
            }
        }
    }
    assert!(counted >= 5, "only {counted}");
}

/// The click in a monitor that faces its player is heard in the room, though not as loud as a part has to be.
#[test]
fn a_monitor_that_faces_a_performer_spills() {
    for name in ["small powered monitor", "wedge monitor"] {
        let places = &shelf::kind(name).unwrap().body.placements;
        let facing = places.iter().find(|p| p.name == "facing the performer").unwrap();
        let (own, spill) = (facing.level_at("YRSA").unwrap(), facing.level_at(model::AUDIENCE).unwrap());
        assert!((10.0..20.0).contains(&(own.value - spill.value)), "{name}");
        assert!(spill.value < 80.0, "{name}: less than counts as heard where nothing is said");
    }
}
