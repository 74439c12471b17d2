//! What is said about a rig as a whole.

use check::Remark;
use check::verdict::Verdict;

use crate::expect::remarks;

fn said(text: &str, check: &str) -> Vec<String> {
    let (_, all) = remarks(text);
    assert!(all.windows(2).all(|w| w[0].verdict >= w[1].verdict), "the worst is not first");
    all.iter().filter(|r| r.check == check).map(|r: &Remark| r.message.clone()).collect()
}

const DUO: &str = "gear LAPTOP = laptop, at 0 0
  makes tracks at PHONES, side left
  makes click at PHONES, side right
gear SPLIT = split lead, at 0 0
gear MIXER = mixer, at 0.2 0
gear LEFT SPEAKER = powered speaker, at 0.5 0
lead XLR 3 m: own 1
never: click for audience
should: tracks for audience
LAPTOP PHONES > SPLIT IN
MIXER MAIN L > XLR 3 m > LEFT SPEAKER A
";

#[test]
fn a_click_in_the_mixer_reaches_the_audience_and_is_told_hop_by_hop() {
    let leak = said(&format!("{DUO}SPLIT RIGHT > MIXER 5\n"), "must-not-hear");
    assert_eq!(leak, ["click would reach the audience: LAPTOP > SPLIT > MIXER 5 > LEFT SPEAKER"]);
    assert_eq!(said(&format!("{DUO}SPLIT LEFT > MIXER 5\n"), "must-not-hear"), [""; 0]);
    let (_, all) = remarks(&format!("{DUO}SPLIT RIGHT > MIXER 5\n"));
    assert_eq!(all[0].check, "must-not-hear");
    assert_eq!(check::hazards(&all).len(), 1);
}

#[test]
fn a_part_that_nobody_hears_is_told() {
    let text = format!("{DUO}listener YRSA: needs 80 dB\nshould: click for YRSA\nSPLIT LEFT > MIXER 5\n");
    assert_eq!(said(&text, "not-heard"), ["nobody hears tracks", "YRSA does not hear click"]);
    let fed = "gear WALL = outlet, at 0 0
gear SUPPLY = mixer supply, at 0 0, on floor
lead mains 3 m: own 1
WALL 1 > SUPPLY IN
SUPPLY OUT > MIXER POWER
WALL 2 > mains 3 m > LEFT SPEAKER MAINS
SPLIT LEFT > MIXER 5
";
    assert_eq!(said(&format!("{DUO}{fed}"), "not-heard"), [""; 0]);
}

#[test]
fn sound_that_feeds_itself_is_a_hazard() {
    let text = "gear A = other, at 0 0
  socket IN: in, jack, takes line -60..30 dBu
  socket OUT: out, jack, line 4/20 dBu down to -40 dBu
  route x: IN > OUT
gear B = other, at 0 0
  socket IN: in, jack, takes line -60..30 dBu
  socket OUT: out, jack, line 4/20 dBu down to -40 dBu
  route x: IN > OUT
lead jack 3 m: own 2
A OUT > jack 3 m > B IN
";
    assert_eq!(said(text, "sound-loop"), [""; 0]);
    let round = said(&format!("{text}B OUT > jack 3 m > A IN\n"), "sound-loop");
    assert_eq!(round, ["sound feeds itself: A > B > A"]);
}

const STRIPS: &str = "gear WALL = outlet, at 0 0
gear STRIP A = power strip 6-way, at 0 0, on floor
gear STRIP B = power strip 4-way, at 0 0, on floor
gear SPEAKER = powered speaker, at 0 0, on floor
breaker BAR: 16 A, feeds WALL
lead mains 3 m: own 1
WALL 1 > STRIP A IN
";

#[test]
fn watts_are_held_against_each_rating_and_breaker() {
    let on = |watts: u32| {
        format!(
            "{STRIPS}STRIP A 1 > mains 3 m > SPEAKER MAINS\nabout STRIP A\n  feeds 1000 W\nabout SPEAKER\n  draws {watts} W\n"
        )
    };
    assert_eq!(said(&on(1001), "overload"), ["STRIP A feeds 1001 W of 1000 W: too much"]);
    assert_eq!(said(&on(1000), "overload"), [""; 0]);
    assert_eq!(said(&on(1000), "nearly-full"), ["STRIP A feeds 1000 W of 1000 W: nearly full"]);
    assert_eq!(said(&on(800), "nearly-full"), [""; 0]);
    assert_eq!(said(&on(801), "nearly-full"), ["STRIP A feeds 801 W of 1000 W: nearly full"]);
    let two = format!(
        "{}gear WALL B = outlet, at 0 0\ngear BOX = powered speaker, at 0 0, on floor\nbreaker STAGE: 16 A, feeds WALL B\n\
         lead mains 5 m: own 1\nWALL B 1 > mains 5 m > BOX MAINS\n",
        on(800)
    );
    assert_eq!(said(&two, "one-breaker"), [""; 0]);
    let all = said(&on(800), "one-breaker");
    assert_eq!(all, ["everything hangs on breaker BAR: 800 W of 3680 W at 230 V"]);
    assert_eq!(
        said(&on(4000), "breaker-overload"),
        ["breaker BAR carries 4000 W of 3680 W at 230 V: too much"]
    );
}

#[test]
fn a_strip_behind_a_strip_is_said_and_no_more() {
    let (_, all) = remarks(&format!("{STRIPS}STRIP A 1 > STRIP B IN\n"));
    let strip: Vec<_> = all.iter().filter(|r| r.check == "strip-in-strip").collect();
    assert_eq!(strip.len(), 1);
    assert_eq!(
        (strip[0].verdict, strip[0].message.as_str()),
        (Verdict::Works, "STRIP B hangs on STRIP A: one strip behind another")
    );
    assert_eq!(said(STRIPS, "strip-in-strip"), [""; 0]);
}

#[test]
fn a_valve_amplifier_is_never_without_its_loudspeaker() {
    let text = "gear AMP = other, at 0 0, on floor
  socket OUT: out, jack, speaker 30/40 dBu, must stay loaded
gear BOX = other, at 0.5 0, on floor
  socket IN: in, jack, takes speaker 0..50 dBu into 8 ohm
lead speaker 3 m: own 1
";
    assert_eq!(said(text, "no-load"), ["AMP OUT has no loudspeaker; a valve amplifier must never run so"]);
    assert_eq!(said(&format!("{text}AMP OUT > speaker 3 m > BOX IN\n"), "no-load"), [""; 0]);
    let packed = text.replace("AMP = other, at 0 0, on floor", "AMP = other, at 0 0, on floor, in the bag");
    assert_eq!(said(&packed, "no-load"), [""; 0]);
}

#[test]
fn the_words_for_a_short_lead_say_how_much_is_missing() {
    let text = "gear PIANO = stage piano, at 0 0
gear MIXER = mixer, at 2 0
lead jack 3 m: own 1
PIANO L/MONO > jack 3 m > MIXER 3
";
    assert_eq!(
        said(text, "stops-short"),
        ["PIANO L/MONO to MIXER 3: the jack 3 m stops 1.4 m short; it must span 4.4 m"]
    );
}

#[test]
fn strips_in_a_ring_and_leads_that_are_not_there() {
    let text = "gear STRIP A = power strip 6-way, at 0 0, on floor
gear STRIP B = power strip 4-way, at 0 0, on floor
STRIP A 1 > STRIP B IN
";
    assert_eq!(said(text, "supply-ring"), [""; 0]);
    let ring = said(&format!("{text}STRIP B 1 > STRIP A IN\n"), "supply-ring");
    assert_eq!(ring, ["STRIP A feeds itself in a ring"]);

    let text = "gear PIANO = stage piano, at 0 0
gear MIXER = mixer, at 0.5 0
lead jack 3 m: own 1
PIANO L/MONO > jack 3 m > MIXER 3
";
    assert_eq!(said(text, "too-few-leads"), [""; 0]);
    let few = said(&format!("{text}PIANO R > jack 3 m > MIXER 4\n"), "too-few-leads");
    assert_eq!(few, ["jack 3 m: 2 are plugged in, 1 are owned"]);
}
