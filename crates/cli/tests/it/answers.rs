//! What the program answers about a small rig.

use insta::assert_snapshot;

use crate::run::Folder;

#[test]
fn the_worst_comes_first() {
    let folder = Folder::with_rig("worst");
    let ran = folder.run(&["ways", "corner-bar.rig"]);
    assert_snapshot!(ran.all(), @r"
    exit 0
    --- stdout
    Stops the show
    SPEAKER: amplifier. Silent: everything. No way round with what you carry.
    WALL: dead. Silent: everything. No way round with what you carry.
    STRIP 3 > SPEAKER MAINS. Silent: everything. No way round with what you carry.
    MIXER: supply. Silent: everything. Back in about 45–80 s. Stays silent: keys.
    MIXER SUPPLY: dead. Silent: everything. Back in about 45–80 s. Stays silent: keys.
    STRIP: kicked, contact, overload. Silent: everything. Back in about 45–80 s. Stays silent: keys.
    PIANO: supply, left output, dead. Silent: keys. No way round with what you carry.
    PIANO SUPPLY: dead. Silent: keys. No way round with what you carry.
    MIXER MAIN L > SPEAKER A. Silent: everything. Back in about 75–135 s.
    VOICE MIC OUT > MIXER 1. Silent: voice. Back in about 70–125 s.
    VOICE MIC: dead. Silent: voice. Back in about 60–110 s.

    Slow
    MIXER: left output. Silent: everything. Back in about 45–80 s.
    SPEAKER: input A. Silent: everything. Back in about 45–75 s.
    MIXER SUPPLY: cord. Silent: everything. Back in about 35–60 s.
    PIANO SUPPLY: cord. Silent: keys. Back in about 55–95 s.
    MIXER: channel 1. Silent: voice. Back in about 40–65 s.
    PIANO L/MONO > MIXER 3. Silent: keys. Back in about 50–85 s.
    MIXER: channel 3. Silent: keys. Back in about 40–65 s.

    We'd cope
    SPEAKER: supply. Silent: everything. Back in about 30–50 s.
    PIANO: crash. Silent: keys. Back in about 35–55 s.

    In short
    24 things would silence something. 14 more silence nothing that counts.
    Seconds count from the silence. They are estimates until you try them.
    Nothing brings back as much sooner with this gear, unless a line says: best found so far.
    ");
}

#[test]
fn a_rig_as_it_stands() {
    let folder = Folder::with_rig("stands");
    assert_snapshot!(folder.run(&["check", "corner-bar.rig"]).all(), @r"
    exit 0
    --- stdout
    Heard
    voice for audience, from SPEAKER (the show stops without it)
    keys for audience, from SPEAKER (the show stops without it)

    In short
    Corner bar: 9 pieces, 4 leads and adapters in use; 38 things can stop working.
    Nothing wrong was found.
    ");
}

#[test]
fn a_hazard_is_said_first_and_everywhere() {
    let folder = Folder::with_rig("hazard");
    let rig = String::from_utf8_lossy(include_bytes!("../data/corner-bar.rig"))
        .replace("must 2: keys", "never: keys for audience");
    folder.file("never.rig", rig.as_bytes());
    let first = |args: &[&str]| {
        let ran = folder.run(args);
        format!("exit {}: {}", ran.code, ran.out.lines().next().unwrap_or_default())
    };
    assert_snapshot!(first(&["check", "never.rig"]), @r"exit 1: STOP: keys would reach the audience: PIANO > MIXER 3 > SPEAKER [must-not-hear]");
    assert_snapshot!(first(&["ways", "never.rig"]), @r"exit 1: STOP: keys would reach the audience: PIANO > MIXER 3 > SPEAKER [must-not-hear]");
    assert_snapshot!(first(&["cards", "never.rig", "-o", "cards.html"]), @r"exit 1: STOP: keys would reach the audience: PIANO > MIXER 3 > SPEAKER [must-not-hear]");
    let page = std::fs::read_to_string(folder.0.join("cards.html")).unwrap();
    assert!(page.contains("aria-label=\"Stop\"") && page.contains("Turn it off on the way."));
    // Nothing else is offered: no card, no way, whatever is asked.
    assert!(!page.contains("<article") && !page.contains("class=\"step\""));
    let ran = folder.run(&["cards", "never.rig", "-o", "cards.html"]);
    assert!(ran.out.contains("No cards until this is dealt with"), "{}", ran.out);
    let ran = folder.run(&["ways", "never.rig", "--dead", "MIXER"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("No ways round are offered") && !ran.out.contains("CARD 1"), "{}", ran.out);
    let ran = folder.run(&["ways", "never.rig", "--json"]);
    assert!(ran.out.contains("\"faults\": []") && ran.out.contains("\"round\": null"), "{}", ran.out);
}

#[test]
fn a_rig_that_cannot_stand_so_is_no_clean_answer() {
    let folder = Folder::new("short");
    let rig = String::from_utf8_lossy(include_bytes!("../data/corner-bar.rig")).replace("0.2 -0.6", "0 -3");
    folder.file("short.rig", rig.as_bytes());
    let ran = folder.run(&["check", "short.rig"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("[stops-short]"), "{}", ran.out);
}

#[test]
fn what_to_do_when_one_thing_is_dead() {
    let folder = Folder::with_rig("dead");
    assert_snapshot!(folder.run(&["ways", "corner-bar.rig", "--dead", "voice mic"]).all(), @r"
    exit 0
    --- stdout
    Dead: VOICE MIC: dead
    CARD 1
    VOICE MIC is dead
    KEEP PLAYING.
    Keys are heard.
    Look first. Tick what it was.
    [ ] Plug half out at mic?
    [ ] MIXER MUTE 1 lit?
    Take care: Channel down first: a plug pops.
    1 TAKE SPARE MIC from the spare bag. PUT it at the singer. See it in place.
    2 MOVE MIXER 1’s XLR 6 m: out of VOICE MIC, into SPARE MIC. SET the level of MIXER 1. Hear the voice.
      Take care: Channel down first: a plug pops.
    — All is back, about 60–110 s —
    Picture: what changes.
    - VOICE MIC is dead.
    - Out: the XLR 6 m, VOICE MIC to MIXER 1.
    - New, step 2: the XLR 6 m, SPARE MIC to MIXER 1.
    Put back: Once VOICE MIC works again: Undo the steps you did, the last first.
    Still nothing: Nothing more to try here. Talk to them until the break.
    Haven’t got SPARE MIC? Nothing more to try here. Talk to them until the break.
    No quicker way with this gear.
    Never tried. Times are estimates.
    Anyone may do this.
    GILO

    How sure
    Last step done in about 60–110 s. No better way with this gear. Looked at 12 possible ways.
    ");
}

#[test]
fn two_things_dead_are_answered_together() {
    let folder = Folder::with_rig("two");
    let ran = folder.run(&["ways", "corner-bar.rig", "--dead", "voice mic", "--dead", "piano:dead"]);
    assert_snapshot!(ran.all(), @r"
    exit 0
    --- stdout
    Dead: VOICE MIC: dead and PIANO: dead
    CARD 1
    VOICE MIC and PIANO are dead together
    TALK TO THEM.
    Nothing is heard, for about 60–110 s.
    Look first. Tick what it was.
    [ ] Plug half out at mic?
    [ ] PIANO 12 V plug out?
    [ ] PIANO SUPPLY plug half out?
    [ ] MIXER MUTE 1 lit?
    Take care: Channel down first: a plug pops.
    1 TAKE SPARE MIC from the spare bag. PUT it at the singer. See it in place.
    2 MOVE MIXER 1’s XLR 6 m: out of VOICE MIC, into SPARE MIC. SET the level of MIXER 1. Hear the voice.
      Take care: Channel down first: a plug pops.
    — Voice is back, about 60–110 s —
    — Keys are not back tonight —
    Picture: what changes.
    - VOICE MIC is dead.
    - PIANO is dead.
    - Out: the XLR 6 m, VOICE MIC to MIXER 1.
    - New, step 2: the XLR 6 m, SPARE MIC to MIXER 1.
    - Stays: the jack 3 m, PIANO L/MONO to MIXER 3.
    Different: No keys.
    Put back: Once all of it works again: Undo the steps you did, the last first.
    Still nothing: Nothing more to try here. Talk to them until the break.
    Haven’t got SPARE MIC? Nothing more to try here. Talk to them until the break.
    No quicker way with this gear.
    Never tried. Times are estimates.
    Anyone may do this.
    GILO

    How sure
    Last step done in about 60–110 s. No better way with this gear. Looked at 12 possible ways.
    ");
}

#[test]
fn the_same_question_gets_the_same_bytes() {
    let folder = Folder::with_rig("same");
    let ask = || {
        let ran = folder.run(&["cards", "corner-bar.rig", "-o", "cards.html", "--date", "3 May"]);
        assert_eq!(ran.code, 0, "{}", ran.all());
        std::fs::read(folder.0.join("cards.html")).unwrap()
    };
    let first = ask();
    assert!(String::from_utf8_lossy(&first).contains("3 May"));
    assert!(first == ask());
}

#[test]
fn a_lower_limit_may_find_less_and_says_so() {
    let folder = Folder::with_rig("limit");
    let ran = folder.run(&["ways", "corner-bar.rig", "--dead", "voice mic", "--limit", "1"]);
    assert!(ran.out.contains("so far"), "{}", ran.out);
}

#[test]
fn a_page_of_the_shelf_and_of_a_check() {
    let folder = Folder::new("pages");
    assert_snapshot!(folder.run(&["shelf", "dynamic vocal microphone"]).all(), @r"
    exit 0
    --- stdout
    dynamic vocal microphone
    For a singer, without a switch. Needs no power.
    Also called: vocal mic, dynamic mic, dynamic microphone, mic, vocal microphone
    weighs 0.3 kg (typical)

    Sockets
    OUT: out, XLR plug, mic; usual level -40 dBu (typical), peaks -20 dBu (typical), source 200 ohm (150 to 300; typical)

    How it fails
    dead: takes everything; shows: voice silent, all else fine; share of its faults 40 % (typical)
    weak: takes nothing; shows: weak, boxy or dull; share of its faults 40 % (typical)
    rattle: takes nothing; shows: rattles when moved; share of its faults 20 % (typical)

    Look first
    Plug half out at mic? (plug half out): look 2 s (1 to 4; typical), put right 4 s (typical)

    Take care
    Speaker or channel down first: a plug pops.
    ");
    assert_snapshot!(folder.run(&["explain", "lead"]).all(), @r"
    exit 0
    --- stdout
    a cable or adapter: plugs and what is wired to what inside; owned in counted stock

    On pages and cards: lead, adapter
    ");
    assert!(folder.run(&["explain", "stops short"]).out.starts_with("# "));
}

#[test]
fn the_house_spelling_reads_back_without_a_problem() {
    let folder = Folder::with_rig("house");
    let first = folder.run(&["read", "corner-bar.rig"]);
    folder.file("house.rig", first.out.as_bytes());
    let again = folder.run(&["read", "house.rig"]);
    assert_eq!((again.code, again.out), (0, first.out));
}

#[test]
fn a_taped_lead_is_asked_for_by_its_tape() {
    let folder = Folder::new("taped");
    let rig = String::from_utf8_lossy(include_bytes!("../data/corner-bar.rig"))
        .replace("lead XLR 6 m: own 3", "lead VOICE = XLR 6 m: own 1\nlead XLR 6 m: own 2")
        .replace("VOICE MIC > XLR 6 m > MIXER 1", "VOICE MIC > VOICE > MIXER 1");
    folder.file("taped.rig", rig.as_bytes());
    let ran = folder.run(&["ways", "taped.rig", "--dead", "voice"]);
    assert!(ran.out.contains("Dead: VOICE\n") && ran.out.contains("\nVOICE is broken\n"), "{}", ran.all());
    assert!(ran.out.contains("PULL VOICE out of "), "{}", ran.out);
    let all = folder.run(&["ways", "taped.rig"]).out;
    assert!(all.contains("\nVOICE. ") && !all.contains("VOICE MIC OUT > MIXER 1"), "{all}");
}

/// A second speaker hangs on the through of the first, and nobody has checked whether that passes sound with the first one dark.
#[test]
fn what_nobody_has_checked_is_said_and_the_next_way_does_without() {
    let folder = Folder::with_rig("unchecked");
    folder.file("through.rig", THROUGH.as_bytes());
    let said = folder.run(&["ways", "through.rig", "--dead", "NEAR:supply"]).all();
    let first = said.split("CARD 2").next().unwrap_or_default();
    assert!(first.contains("Voice may still be heard: listen."), "{said}");
    assert!(
        first.contains("Guessed: NEAR THRU passes sound with the power off. Check it once: 1 minute."),
        "{said}"
    );
    let second = said.split("CARD 2").nth(1).unwrap_or_default();
    assert!(second.contains("Voice is back"), "{said}");
    assert!(!second.contains("Guessed: NEAR THRU"), "{said}");
    // It is in the list and among the cards as well.
    let list = folder.run(&["ways", "through.rig"]).all();
    assert!(list.contains("NEAR: supply. Silent: voice. It may play on: listen. If NEAR THRU passes sound with the power off."), "{list}");
    folder.run(&["cards", "through.rig", "-o", "through.html"]);
    let page = std::fs::read_to_string(folder.0.join("through.html")).unwrap();
    assert!(page.contains("Voice may still be heard: listen."), "no card");
    // Once the owner knows that it does not pass, there is nothing to listen for.
    let known = THROUGH.replace("gear FAR", "  route through: A > THRU, copy\ngear FAR");
    folder.file("known.rig", known.as_bytes());
    let known = folder.run(&["ways", "known.rig", "--dead", "NEAR:supply"]).all();
    assert!(!known.contains("may still be heard"), "{known}");
}

const THROUGH: &str = "rig \"Through\"
gear MIC = vocal mic, at 0 0
gear MIXER = small mixer, at 1 0.3
gear MIXER SUPPLY = mixer supply, at 1 0
gear NEAR = powered speaker, at 2 1
gear FAR = powered speaker, at 6 1
gear STRIP = power strip, at 0.8 0
gear WALL = outlet, at 0 -1
lead XLR 6 m: own 3
lead mains 5 m: own 1
lead mains 10 m: own 1
MIC > XLR 6 m > MIXER 1
MIXER MAIN L > XLR 6 m > NEAR A
NEAR THRU > XLR 6 m > FAR A
WALL > STRIP
STRIP 1 > MIXER SUPPLY
STRIP 3 > mains 5 m > NEAR
STRIP 4 > mains 10 m > FAR
MIXER SUPPLY > MIXER
must 3: voice
";
