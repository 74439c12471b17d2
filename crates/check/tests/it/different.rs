//! What will sound different, on the café duo.

use check::compile::Compiled;
use check::ids::{LinkId, PartId};
use check::plan::{End, Plan};
use check::{Change, differences};

fn duo() -> Compiled {
    let path =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/harbour-cafe/harbour-cafe.rig");
    let (rig, _) = model::text::read(&std::fs::read_to_string(path).unwrap());
    check::judge_rig(&rig).unwrap()
}

fn of(c: &Compiled, fault: &str, plan: &Plan) -> Vec<String> {
    let named = c.find_fault(fault).unwrap();
    differences(c, named.fault(), plan)
        .into_iter()
        .map(|d| {
            let part = c.rig.part_label(model::PartId(d.part.ix()));
            let db = d.db.map_or(String::new(), |(a, b)| format!(" {a:.1}..{b:.1} dB"));
            let what = match d.what {
                Change::Lost => "lost".to_owned(),
                Change::MonitorLost => "monitor lost".to_owned(),
                Change::FewerSpeakers { from, to, gone } => {
                    format!("{from} to {to} without {}", c.name(gone[0]))
                }
                Change::OtherSpeaker { gone, now } => format!("{} for {}", c.name(now[0]), c.name(gone[0])),
                Change::MoreSpeakers(now) => format!("also {}", c.name(now[0])),
                Change::Moved(g) => format!("{} moved", c.name(g)),
                Change::Mono => "mono".to_owned(),
                Change::Tone(points) => format!("tone {points}"),
            };
            format!("{part}: {what}{db}")
        })
        .collect()
}

#[test]
fn nothing_done_about_nothing_changes_nothing() {
    let c = duo();
    assert_eq!(differences(&c, &check::fault::Fault::default(), &Plan::default()), []);
}

#[test]
fn one_of_two_speakers_is_three_to_six_decibels() {
    let c = duo();
    let all = of(&c, "RIGHT SPEAKER:amplifier", &Plan::default());
    assert!(
        all.contains(&"voice for audience: 2 to 1 without RIGHT SPEAKER -6.0..-3.0 dB".to_owned()),
        "{all:#?}"
    );
    assert!(all.iter().all(|d| !d.contains("YRSA")), "{all:#?}");
}

#[test]
fn a_dead_mixer_takes_every_part_and_the_monitor() {
    let c = duo();
    let all = of(&c, "MIXER", &Plan::default());
    assert!(all.contains(&"voice for audience: lost".to_owned()), "{all:#?}");
    assert!(all.contains(&"voice for YRSA: monitor lost".to_owned()), "{all:#?}");
    assert!(all.iter().all(|d| !d.contains("click")), "the click goes round the mixer: {all:#?}");
}

/// MAIN R pulled, and LEFT SPEAKER's through socket feeding the right one: both sound, from one side of the mix.
#[test]
fn two_speakers_on_one_feed_are_mono() {
    let c = duo();
    let at = |label: &str| {
        (0..c.problem.spec.sockets.len())
            .map(check::ids::SocketId::at)
            .find(|s| c.label(*s) == label)
            .unwrap()
    };
    let main_r =
        c.problem.spec.patch.iter().position(|l| l.from == at("MIXER MAIN R")).map(LinkId::at).unwrap();
    let pair = c.problem.pairs.find(at("LEFT SPEAKER THRU"), at("RIGHT SPEAKER A")).unwrap();
    let new = check::plan::NewLink { pair, chain: c.problem.pairs.pairs[pair].first, kept: None };
    let plan =
        Plan { pulls: vec![(main_r, End::From), (main_r, End::To)], new: vec![new], ..Plan::default() };
    let all = differences(&c, &check::fault::Fault::default(), &plan);
    let voice = all.iter().find(|d| d.part == PartId::at(0)).unwrap();
    assert_eq!((&voice.what, voice.db), (&Change::Mono, None));
}

/// What was one mix on two speakers before the fault is no loss of stereo after it.
#[test]
fn a_chain_of_speakers_was_mono_before() {
    let (rig, problems) = model::text::read(
        "gear WALL = outlet, at 0 0
gear PIANO = stage piano, at 0 0
gear PIANO SUPPLY = 12 V supply, at 0 0, on floor
gear BAR = outlet, at 0 0
gear ONE = powered speaker, at 0.5 0, on floor
gear TWO = powered speaker, at 0.5 0.5, on floor
lead jack 3 m: own 1
lead XLR 3 m: own 1
lead mains 3 m: own 2
PIANO L/MONO > jack 3 m > ONE A
ONE THRU > XLR 3 m > TWO A
WALL 1 > PIANO SUPPLY IN
PIANO SUPPLY OUT > PIANO DC 12V
BAR 1 > mains 3 m > ONE MAINS
BAR 2 > mains 3 m > TWO MAINS
must: keys
",
    );
    let told: Vec<&String> = problems.iter().map(|p| &p.message).collect();
    assert!(told.is_empty(), "{told:?}");
    let c = check::judge_rig(&rig).unwrap();
    assert_eq!(differences(&c, &check::fault::Fault::default(), &Plan::default()), []);
    assert_eq!(
        of(&c, "TWO:amplifier", &Plan::default()),
        ["keys for audience: 2 to 1 without TWO -6.0..-3.0 dB"]
    );
}

/// The speaker dies and the monitor is turned out front: 92 dB for 100 dB, and 5 points for a small box as main speaker.
#[test]
fn a_monitor_for_a_main_speaker_is_softer_and_smaller() {
    let (rig, problems) = model::text::read(
        "gear WALL = outlet, at 0 0
gear BAR = outlet, at 0 0
gear MIC = vocal mic, at 0 0
gear MIXER = mixer, at 0.5 0
  switch AUX 1 on
gear MIXER SUPPLY = mixer supply, at 0.5 0, on floor
gear SPEAKER = powered speaker, at 1 0
gear MONITOR = small monitor, at 0.5 0.5
lead XLR 6 m: own 2
lead balanced jack 3 m: own 1
lead mains 5 m: own 2
MIC > XLR 6 m > MIXER 1
MIXER MAIN L > XLR 6 m > SPEAKER A
MIXER AUX > balanced jack 3 m > MONITOR IN
WALL 1 > MIXER SUPPLY IN
MIXER SUPPLY OUT > MIXER POWER
BAR 1 > mains 5 m > SPEAKER MAINS
BAR 2 > mains 5 m > MONITOR MAINS
must: voice
",
    );
    let told: Vec<&String> = problems.iter().map(|p| &p.message).collect();
    assert!(told.is_empty(), "{told:?}");
    let c = check::judge_rig(&rig).unwrap();
    let monitor = check::ids::GearId::at(rig.find_gear("MONITOR").unwrap().0);
    let plan = Plan { places: vec![(monitor, 1)], ..Plan::default() };
    assert_eq!(
        of(&c, "SPEAKER:amplifier", &plan),
        ["voice for audience: MONITOR for SPEAKER -8.0..-8.0 dB", "voice for audience: tone 5"]
    );
    assert_eq!(of(&c, "SPEAKER:amplifier", &Plan::default()), ["voice for audience: lost"]);
    // The same speaker turned aside: 96 dB for 100 dB, 2 points.
    let speaker = check::ids::GearId::at(rig.find_gear("SPEAKER").unwrap().0);
    let turned = Plan { places: vec![(speaker, 1)], ..Plan::default() };
    assert_eq!(
        of(&c, "MONITOR:amplifier", &turned),
        ["voice for audience: SPEAKER moved -4.0..-4.0 dB", "voice for audience: tone 2"]
    );
}

/// The violin's pickup into the direct box: the bass goes, and the box is what takes it.
#[test]
fn a_pickup_into_a_passive_direct_box_is_thin() {
    let c = duo();
    let at = |label: &str| {
        (0..c.problem.spec.sockets.len())
            .map(check::ids::SocketId::at)
            .find(|s| c.label(*s) == label)
            .unwrap()
    };
    let normal = |from: &str| {
        let from = at(from);
        c.problem.spec.patch.iter().position(|l| l.from == from).map(LinkId::at).unwrap()
    };
    let link = |from: &str, to: &str, via: LinkId, kept: End| {
        let pair = c.problem.pairs.find(at(from), at(to)).unwrap();
        let via = &c.problem.spec.patch[via.ix()].via;
        let chain = c.problem.pairs.find_chain(pair, via).unwrap();
        check::plan::NewLink { pair, chain, kept: Some(kept) }
    };
    let (pickup, pedal) = (normal("VIOLIN OUT"), normal("PEDAL DI OUT"));
    let di = check::ids::GearId::at(c.rig.find_gear("DI").unwrap().0);
    let plan = Plan {
        pulls: vec![(pickup, End::To), (pedal, End::From)],
        new: vec![link("VIOLIN OUT", "DI IN", pickup, End::From), link("DI OUT", "MIXER 2", pedal, End::To)],
        places: vec![(di, 0)],
        ..Plan::default()
    };
    let named = c.find_fault("PEDAL:battery").unwrap();
    let all = differences(&c, named.fault(), &plan);
    let violin: Vec<_> =
        all.iter().filter(|d| c.rig.part_label(model::PartId(d.part.ix())).starts_with("violin")).collect();
    assert_eq!(violin.len(), 1, "{all:#?}");
    assert_eq!(violin[0].what, Change::Tone(2));
    assert_eq!(
        violin[0].causes,
        [check::Cause { points: 2, sound: check::Sound::Thin, by: check::Culprit::Gear(di) }]
    );
    assert!(all.iter().all(|d| d.part == violin[0].part), "no other part: {all:#?}");
}

/// Phone in place of laptop over the same summing lead: only the phone is another thing.
#[test]
fn what_was_on_the_way_before_is_no_cause() {
    let (rig, problems) = model::text::read(
        "gear WALL = outlet, at 0 0
gear LAPTOP = laptop, at 0 0
gear PHONE = phone, at 0 0
gear MIXER = mixer, at 0.5 0
gear MIXER SUPPLY = mixer supply, at 0.5 0, on floor
gear SPEAKER = powered speaker, at 1 0
lead XLR 6 m: own 1
lead USB-C to mini adapter: own 1
lead summing lead 3 m: own 1
lead mains 5 m: own 1
LAPTOP PHONES > summing lead 3 m > MIXER 5
MIXER MAIN L > XLR 6 m > SPEAKER A
WALL 1 > MIXER SUPPLY IN
MIXER SUPPLY OUT > MIXER POWER
WALL 2 > mains 5 m > SPEAKER MAINS
must: tracks
",
    );
    assert!(problems.is_empty(), "{problems:?}");
    let c = check::judge_rig(&rig).unwrap();
    let at = |label: &str| {
        (0..c.problem.spec.sockets.len())
            .map(check::ids::SocketId::at)
            .find(|s| c.label(*s) == label)
            .unwrap()
    };
    let pair = c.problem.pairs.find(at("PHONE OUT"), at("MIXER 5")).unwrap();
    let new = check::plan::NewLink { pair, chain: c.problem.pairs.pairs[pair].first, kept: Some(End::To) };
    let plan = Plan { pulls: vec![(LinkId::at(0), End::From)], new: vec![new], ..Plan::default() };
    let all = differences(&c, c.find_fault("LAPTOP:hang").unwrap().fault(), &plan);
    assert_eq!(all.len(), 1, "{all:#?}");
    assert_eq!(all[0].what, Change::Tone(1), "the summing lead was there before");
    let phone = check::ids::GearId::at(c.rig.find_gear("PHONE").unwrap().0);
    assert_eq!(
        all[0].causes,
        [check::Cause { points: 1, sound: check::Sound::Other, by: check::Culprit::Gear(phone) }]
    );
}
