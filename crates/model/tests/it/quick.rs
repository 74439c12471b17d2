//! Quick lines: each thing that people really type is read as it is meant, or asks what it should.
//!
//! One test for each row of what people type; the reading is asserted, not only that nothing is wrong.
#![expect(clippy::panic, reason = "helpers of tests: a failure is the message")]

use model::text::{Reading, read, read_with, write};
use model::{Gear, Matters, Origin, Placed, Rig, Stereo};

#[track_caller]
fn quick(text: &str) -> Reading {
    let reading = read_with(text, &|_| None);
    reads_back(&reading);
    reading
}

/// What was read is printed in full lines, and those are the same rig.
#[track_caller]
pub(crate) fn reads_back(reading: &Reading) {
    let printed = write(&reading.rig);
    let (again, _) = read(&printed);
    assert_eq!(write(&again), printed, "printed twice");
    assert!(bare(again) == bare(reading.rig.clone()), "same text, other rig:\n{printed}");
}

/// Where a link stands in its file is not part of the rig.
fn bare(mut rig: Rig) -> Rig {
    rig.links.iter_mut().for_each(|l| l.span = 0..0);
    rig
}

#[track_caller]
fn fine(text: &str) -> Reading {
    let reading = quick(text);
    let told: Vec<String> = reading.problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    reading
}

/// `FROM SOCKET > LEAD > TO SOCKET`, each lead by its kind.
fn links(rig: &Rig) -> Vec<String> {
    let via = |l: &model::Link| {
        l.via.iter().map(|id| format!(" > {}", rig.lead(*id).unwrap().kind.name)).collect::<String>()
    };
    rig.links.iter().map(|l| format!("{}{} > {}", rig.label(l.from), via(l), rig.label(l.to))).collect()
}

#[track_caller]
fn gear<'r>(rig: &'r Rig, name: &str) -> &'r Gear {
    rig.piece(rig.find_gear(name).unwrap_or_else(|| panic!("no {name}"))).unwrap()
}

#[track_caller]
fn kind<'r>(rig: &'r Rig, name: &str) -> &'r str {
    gear(rig, name).kind.as_deref().unwrap()
}

fn asked(reading: &Reading) -> Vec<String> {
    reading.questions.iter().map(|q| format!("{} {}", q.about, q.asks)).collect()
}

fn codes(reading: &Reading) -> Vec<&str> {
    reading.problems.iter().map(|p| p.code).collect()
}

#[track_caller]
fn guesses(reading: &Reading, part: &str) -> Matters {
    let found = reading.guesses.iter().find(|g| g.text.contains(part) && !g.why.is_empty());
    found.unwrap_or_else(|| panic!("no guess says {part}: {:?}", reading.guesses)).matters
}

#[test]
fn a_microphone_over_six_metres_into_channel_one() {
    let r = fine("vocal mic > 6 m XLR > mixer 1");
    assert_eq!(links(&r.rig), ["VOCAL MIC OUT > XLR > MIXER 1"]);
    assert_eq!(kind(&r.rig, "VOCAL MIC"), "dynamic vocal microphone");
    guesses(&r, "VOCAL MIC is a dynamic vocal microphone");
    let lead = &r.rig.leads[0];
    assert_eq!((lead.length.value, &lead.length.origin), (6.0, &Origin::Yours));
}

#[test]
fn unknown_words_stay_in_the_name() {
    let r = fine("old red vocal -> mixer ch1");
    assert_eq!(links(&r.rig), ["OLD RED VOCAL OUT > XLR > MIXER 1"]);
    assert_eq!(kind(&r.rig, "old red vocal"), "dynamic vocal microphone");
    assert!(matches!(r.rig.leads[0].length.origin, Origin::Guessed(_)));
    guesses(&r, "OLD RED VOCAL is a dynamic vocal microphone");
    guesses(&r, "by XLR");
}

#[test]
fn a_chain_through_pedal_and_di_to_a_channel_alone() {
    let r = fine("violin > pedal > DI > 2");
    assert_eq!(
        links(&r.rig),
        ["VIOLIN OUT > jack > PEDAL IN", "PEDAL OUT > jack > DI IN", "DI OUT > XLR > MIXER 2"]
    );
    assert_eq!(kind(&r.rig, "VIOLIN"), "violin with piezo pickup");
    assert_eq!(kind(&r.rig, "PEDAL"), "acoustic preamp pedal");
    assert_eq!(kind(&r.rig, "DI"), "passive DI");
    // The channel of the only mixer, where there is one.
    let r = fine("gear DESK = mixer\nviolin > pedal > DI > 2");
    assert_eq!(links(&r.rig).last().unwrap(), "DI OUT > XLR > DESK 2");
}

#[test]
fn a_piano_in_stereo_asks_nothing() {
    for line in [
        "piano L R > mixer 5 6",
        "piano > 2 jacks > 5/6",
        "piano L/R → desk 5 & 6",
        "piano stereo > mixer 5+6",
    ] {
        let r = fine(line);
        assert_eq!(links(&r.rig), ["PIANO L/MONO > jack > MIXER 5", "PIANO R > jack > MIXER 6"], "{line}");
        assert_eq!(asked(&r), Vec::<String>::new(), "{line}");
    }
}

#[test]
fn a_split_to_the_mixer_and_to_ears_asks_which_side_is_the_click() {
    let r = fine("laptop > mini to 2 jacks > mixer 7 + headphone amp");
    assert_eq!(kind(&r.rig, "SPLIT LEAD"), "split lead");
    assert_eq!(
        links(&r.rig),
        ["LAPTOP PHONES > SPLIT LEAD IN", "SPLIT LEAD LEFT > MIXER 7", "SPLIT LEAD RIGHT > HEADPHONE AMP IN"]
    );
    let q = &r.questions[0];
    assert_eq!((q.about.as_str(), q.asks.as_str(), q.matters), ("SPLIT LEAD", "click", Matters::Hurt));
    let says: Vec<&str> = q.choices.iter().map(|c| c.says.as_str()).collect();
    assert_eq!(says, ["left", "right", "none", "don't know"]);
    // Until it is answered, nothing that may be a click reaches the house.
    let sides = |r: &Reading| -> Vec<(String, Option<Stereo>)> {
        gear(&r.rig, "LAPTOP").body.makes.iter().map(|m| (m.source.clone(), m.side)).collect()
    };
    assert_eq!(sides(&r), [("tracks".into(), Some(Stereo::Left)), ("click".into(), Some(Stereo::Right))]);
    assert!(write(&r.rig).contains("never: click for audience\n"));
    assert_eq!(guesses(&r, "the click is on the right side"), Matters::Hurt);
    // Printed in full, the question stays open, and its answer means the same.
    for text in ["laptop > mini to 2 jacks > mixer 7 + headphone amp\n".to_owned(), write(&r.rig)] {
        let left = fine(&format!("{text}answer SPLIT LEAD click: left\n"));
        assert_eq!(asked(&left), Vec::<String>::new());
        assert_eq!(
            sides(&left),
            [("tracks".into(), Some(Stereo::Right)), ("click".into(), Some(Stereo::Left))]
        );
        assert!(links(&left.rig).contains(&"SPLIT LEAD RIGHT > MIXER 7".to_owned()));
        let none = fine(&format!("{text}answer SPLIT LEAD click: none\n"));
        assert_eq!(sides(&none), [("tracks".into(), None)]);
        assert!(none.rig.parts.is_empty());
        let unsure = fine(&format!("{text}answer SPLIT LEAD click: don't know\n"));
        assert_eq!((sides(&unsure), asked(&unsure)), (sides(&r), Vec::new()));
    }
}

#[test]
fn speakers_are_left_and_right_over_two_xlrs() {
    let r = fine("mixer > speakers");
    assert_eq!(
        links(&r.rig),
        ["MIXER MAIN L > XLR > LEFT SPEAKER A", "MIXER MAIN R > XLR > RIGHT SPEAKER A"]
    );
    guesses(&r, "MIXER MAIN L goes into LEFT SPEAKER A by XLR");
    let r = fine("mixer main > 2 XLR > PA");
    assert_eq!(links(&r.rig).len(), 2);
}

#[test]
fn a_wedge_or_monitor_faces_the_performer() {
    let r = fine("aux > wedge");
    assert_eq!(links(&r.rig), ["MIXER AUX > balanced jack > WEDGE A"]);
    assert_eq!(gear(&r.rig, "WEDGE").placement().unwrap().name, "facing the performer");
    let r = fine("monitor from aux 1");
    assert_eq!(links(&r.rig), ["MIXER AUX > balanced jack > MONITOR IN"]);
    assert_eq!(gear(&r.rig, "MONITOR").placement().unwrap().name, "facing the performer");
}

#[test]
fn speaker_into_speaker_asks_whether_it_is_powered() {
    let r = fine("speaker 1 > speaker 2");
    assert_eq!(links(&r.rig), ["SPEAKER 1 THRU > XLR > SPEAKER 2 A"]);
    assert_eq!(asked(&r), ["SPEAKER 1 powered"]);
    let passive = r.questions[0].choices.iter().find(|c| c.says == "passive").unwrap();
    assert!(passive.changes.contains("4 ohm"), "{}", passive.changes);
    assert_eq!(r.questions[0].matters, Matters::Hurt);
    let r = fine("speaker 1 > speaker 2\nanswer SPEAKER 1 powered: passive");
    let [link] = r.rig.links.as_slice() else { panic!("{:?}", links(&r.rig)) };
    assert_eq!(r.rig.socket(link.from).unwrap().output().unwrap().class, model::Class::Speaker);
    assert!(r.rig.socket(link.to).unwrap().takes(&model::Class::Speaker));
    assert_eq!(r.rig.lead(link.via[0]).unwrap().kind.name, "speaker");
    let r = fine("speaker 1 > speaker 2\nanswer SPEAKER 1 powered: powered");
    assert_eq!(
        (links(&r.rig).as_slice(), asked(&r).len()),
        (&["SPEAKER 1 THRU > XLR > SPEAKER 2 A".to_owned()][..], 0)
    );
}

#[test]
fn a_strip_feeds_all_on_it_through_their_supplies() {
    let r = fine(
        "violin > pedal > mixer 1\npiano > mixer 3\nmixer > speakers\nstrip: mixer, piano, 2 speakers, pedal",
    );
    let power: Vec<String> =
        links(&r.rig).into_iter().filter(|l| l.contains("STRIP") || l.contains("SUPPLY")).collect();
    assert_eq!(
        power,
        [
            "WALL 1 > STRIP IN",
            "STRIP 1 > MIXER SUPPLY IN",
            "MIXER SUPPLY OUT > MIXER POWER",
            "STRIP 2 > PIANO SUPPLY IN",
            "PIANO SUPPLY OUT > PIANO DC 12V",
            "STRIP 3 > mains C13 > LEFT SPEAKER MAINS",
            "STRIP 4 > mains C13 > RIGHT SPEAKER MAINS",
            "STRIP 5 > PEDAL SUPPLY IN",
            "PEDAL SUPPLY OUT > PEDAL DC 9V",
        ]
    );
    assert_eq!(guesses(&r, "PEDAL takes 9 V c-"), Matters::Hurt);
    // The weightiest guesses stand first.
    assert_eq!(r.guesses[0].matters, Matters::Hurt);
    assert!(r.guesses.is_sorted_by_key(|g| g.matters));
}

#[test]
fn a_pedal_on_a_block_has_one_in_use_and_none_spare() {
    let r = fine("pedal 9v battery");
    let pedal = gear(&r.rig, "PEDAL");
    let battery = pedal.body.battery.as_ref().unwrap();
    assert_eq!((battery.present.value, &battery.present.origin), (true, &Origin::Yours));
    assert_eq!((pedal.body.wear[0].what.as_str(), pedal.body.wear[0].in_use), ("9 V block", 1));
    let [stock] = r.rig.wear.as_slice() else { panic!("{:?}", r.rig.wear) };
    assert_eq!((stock.what.as_str(), stock.in_case, stock.on_stage), ("9 V block", 0, 0));
    assert_eq!(guesses(&r, "no spare"), Matters::Must);
}

#[test]
fn the_spare_bag_holds_gear_leads_and_cells() {
    let r = fine("spare: mic, 2 XLR 6m, jack 3m, DI, AA x8");
    for name in ["SPARE MIC", "SPARE DI"] {
        assert_eq!(gear(&r.rig, name).placed, Placed::InCase);
    }
    let leads: Vec<(&str, u32)> = r.rig.leads.iter().map(|l| (l.name.as_str(), l.in_case)).collect();
    assert_eq!(leads, [("XLR 6 m", 2), ("jack 3 m", 1)]);
    assert_eq!((r.rig.wear[0].what.as_str(), r.rig.wear[0].in_case), ("AA cell", 8));
}

#[test]
fn what_must_be_heard_on_one_line() {
    let text = "vocal mic > mixer 1\npiano > mixer 3\nlaptop > mini to 2 jacks > mixer 5 + headphone amp\n\
                must: voice, keys; should: tracks; not in house: click";
    let r = fine(text);
    let parts: Vec<(model::Rank, String)> =
        (0..r.rig.parts.len()).map(|i| (r.rig.parts[i].rank, r.rig.part_label(model::PartId(i)))).collect();
    use model::Rank::{Must, Never, Should};
    assert_eq!(
        parts,
        [
            (Must, "voice for audience".to_owned()),
            (Must, "keys for audience".into()),
            (Should, "tracks for audience".into()),
            (Never, "click for audience".into()),
        ]
    );
    let r = fine("vocal mic > mixer 1\npiano > mixer 3\nmust: vocals; nice to have: piano");
    assert!(write(&r.rig).contains("must: voice for audience\nnice: keys for audience\n"));
    // What nobody makes is told, with what there is.
    let r = quick("vocal mic > mixer 1\nmust: voice; should: banjo");
    assert_eq!(codes(&r), ["nobody-makes"]);
}

#[test]
fn where_things_stand() {
    let r = fine(
        "vocal mic > mixer 1\npiano > mixer 3\nmixer > speakers\nkeys 1.5 m left of voice\nspeakers 4 m apart",
    );
    let at = |name: &str| gear(&r.rig, name).at.map(|s| (s.x, s.y));
    assert_eq!((at("VOCAL MIC"), at("PIANO")), (Some((0.0, 0.0)), Some((-1.5, 0.0))));
    assert_eq!((at("LEFT SPEAKER"), at("RIGHT SPEAKER")), (Some((-2.0, 1.0)), Some((2.0, 1.0))));
    let r = fine("gear A = mixer, at 1 1\ngear B = piano\nB 50 cm behind A");
    assert_eq!(gear(&r.rig, "B").at.map(|s| (s.x, s.y)), Some((1.0, 0.5)));
}

#[test]
fn a_radio_microphone_brings_what_belongs_to_it() {
    let r = fine("radio mic > mixer 1");
    // The hand-held, its receiver or both in one, and the supply.
    let outs = links(&r.rig);
    assert!(outs.iter().any(|l| l.starts_with("RADIO MIC") && l.ends_with("> MIXER 1")), "{outs:?}");
    assert!(r.rig.gear.iter().any(|g| g.name.starts_with("RADIO MIC") && g.name.ends_with("SUPPLY")));
    assert!(r.rig.gear.iter().any(|g| g.body.wear.iter().any(|w| w.what == "AA cell" && w.in_use == 2)));
    assert!(r.rig.sources.iter().any(|s| s.name == "voice"));
    assert_eq!(guesses(&r, "RADIO MIC comes with a receiver"), Matters::Must);
    // Its supply is the one that a strip feeds.
    let r = fine("radio mic > mixer 1\nstrip: radio mic receiver");
    assert!(links(&r.rig).iter().any(|l| l.starts_with("STRIP 1 > RADIO MIC")), "{:?}", links(&r.rig));
    // Channel 3 of a small mixer takes lines only.
    assert!(codes(&quick("radio mic > mixer 3")).is_empty());
}

#[test]
fn two_plugs_in_one_socket_are_refused_and_a_free_one_offered() {
    let r = quick("mixer 1 mic; mixer 1 piano");
    assert_eq!(links(&r.rig), ["MIC OUT > XLR > MIXER 1"]);
    let [p] = r.problems.as_slice() else { panic!("{:?}", r.problems) };
    assert_eq!(p.code, "two-plugs");
    assert!(p.help.as_ref().unwrap().starts_with("free there: 2"), "{p}");
    gear(&r.rig, "PIANO");
}

#[test]
fn a_lead_with_nothing_at_one_end_is_kept() {
    for line in ["6 m XLR > mixer", "mixer > 6 m XLR", "mixer > XLR 6m >"] {
        let r = quick(line);
        assert_eq!(codes(&r), ["other-end"], "{line}");
        assert!(r.problems[0].message.ends_with("other end?"));
        assert_eq!((r.rig.leads[0].name.as_str(), r.rig.leads[0].owned.value), ("XLR 6 m", 1), "{line}");
        gear(&r.rig, "MIXER");
    }
}

#[test]
fn a_guitar_straight_into_a_microphone_input() {
    let r = fine("guitar > 10 m jack > mixer mic in");
    let [link] = r.rig.links.as_slice() else { panic!() };
    assert_eq!(r.rig.label(link.to), "MIXER 1");
    let leads: Vec<&str> = link.via.iter().map(|id| r.rig.lead(*id).unwrap().name.as_str()).collect();
    // The microphone's side of that socket is the XLR.
    assert_eq!(leads, ["jack 10 m", "jack to XLR adapter"]);
    guesses(&r, "by jack to XLR adapter");
}

#[test]
fn the_speaker_socket_of_an_amplifier_is_read_as_said() {
    let r = quick("speaker out of amp > mixer");
    let [link] = r.rig.links.as_slice() else { panic!("{:?}", r.problems) };
    assert_eq!(r.rig.piece(link.from.gear).unwrap().name, "AMP");
    assert_eq!(r.rig.socket(link.from).unwrap().output().unwrap().class, model::Class::Speaker);
    assert_eq!(r.rig.piece(link.to.gear).unwrap().name, "MIXER");
}

const CAFE: &str = "rig \"Café\"\ngear MIC = vocal mic, at 0 0\ngear MIXER = mixer, at 1 0\ngear SPEAKER = powered speaker, at 2 1\n\
                    gear STRIP = power strip\nMIC > XLR 6 m > MIXER 1\nMIXER MAIN L > XLR 3 m > SPEAKER A\nSTRIP 1 > mains 3 m > SPEAKER\nmust: voice";

#[test]
fn the_same_as_another_rig_with_one_change() {
    let others = |name: &str| (name == "café").then(|| CAFE.to_owned());
    let r = read_with("same as café but 2 speakers", &others);
    assert!(r.problems.is_empty(), "{:?}", r.problems);
    reads_back(&r);
    assert_eq!(
        links(&r.rig),
        [
            "MIC OUT > XLR > MIXER 1",
            "MIXER MAIN L > XLR > SPEAKER A",
            "STRIP 1 > mains C13 > SPEAKER MAINS",
            "MIXER MAIN R > XLR > SPEAKER 2 A",
            "STRIP 2 > mains C13 > SPEAKER 2 MAINS",
        ]
    );
    assert_eq!(r.rig.name, "Café");
    assert_eq!(r.rig.parts.len(), 1);
    let r = read_with("rig \"Pier\"\nsame as café but no speaker", &others);
    assert_eq!((links(&r.rig).len(), r.rig.name.as_str()), (1, "Pier"));
    guesses(&r, "SPEAKER stays at home");
    let r = read_with("same as barn but 2 speakers", &others);
    assert_eq!(codes(&r), ["no-such-rig"]);
    // Rigs that are like each other end.
    let round = |_: &str| Some("same as b but 2 speakers".to_owned());
    assert!(!read_with("same as b but 2 speakers", &round).problems.is_empty());
}

#[test]
fn other_words_and_slips_are_what_they_mean() {
    for line in [
        "vocal mic > xrl > mixer 1",
        "vocal mic > xlr cabel > mixr 1",
        "Vocal Microphone > XLR lead > desk 1",
        "vocal mike > XLR cable > board in 1",
        "vocal mics > XLR > mixer ch 1",
    ] {
        let r = quick(line);
        assert_eq!(r.rig.links.len(), 1, "{line}: {:?}", r.problems);
        assert!(links(&r.rig)[0].ends_with("OUT > XLR > MIXER 1"), "{line}: {:?}", links(&r.rig));
    }
    for line in [
        "piano > jak > mixer 3",
        "piano > quarter inch > mixer 3",
        "piano > 1/4\" > mixer 3",
        "piano > 1/4\" jack lead > mixer 3",
    ] {
        assert_eq!(links(&fine(line).rig), ["PIANO L/MONO > jack > MIXER 3"], "{line}");
    }
    let r = fine("laptop > 3.5 > battery speaker aux");
    assert_eq!(links(&r.rig), ["LAPTOP PHONES > mini > BATTERY SPEAKER AUX"]);
    let r = fine("mixr > speakr");
    assert_eq!(links(&r.rig), ["MIXER MAIN L > XLR > SPEAKER A"]);
    assert_eq!(guesses(&r, "\"mixr\" is read as mixer"), Matters::Must);
}

#[test]
fn names_that_the_file_declares_go_before_kinds() {
    let r = fine("gear DESK = mixer\ngear GRANNY = stage piano\ngranny > desk 3\nvocal mic > desk 1");
    assert_eq!(links(&r.rig), ["GRANNY L/MONO > jack > DESK 3", "VOCAL MIC OUT > XLR > DESK 1"]);
    assert_eq!(r.rig.gear.len(), 3);
}

#[test]
fn a_thing_nobody_knows_is_kept_and_asked() {
    let r = quick("grandads box > jack > mixer 3");
    assert_eq!(codes(&r), ["unknown-thing"]);
    assert!(r.problems[0].message.contains("what plugs go in and out"));
    assert_eq!(kind(&r.rig, "GRANDADS BOX"), "other");
}

#[test]
fn questions_are_short_and_in_order() {
    let text = "condenser mic > mixer 1\nviolin > pedal > mixer 2\npiano > mixer 3\nmixer > speakers\nspeaker 3 > speaker 4\n\
                laptop > mini to 2 jacks > mixer 5 + headphone amp\nmust: voice, keys; should: violin";
    let r = quick(text);
    assert!(r.questions.is_sorted_by_key(|q| q.matters));
    let all = asked(&r);
    for wanted in [
        "SPLIT LEAD click",
        "MIXER phantom",
        "PEDAL battery",
        "MIXER switches",
        "LEFT SPEAKER through",
        "LEFT SPEAKER microphone",
        "PIANO mono",
    ] {
        assert!(all.contains(&wanted.to_owned()), "{wanted}: {all:?}");
    }
    for q in &r.questions {
        assert!(q.text.split_whitespace().count() <= 12, "{}", q.text);
        assert!(q.text.ends_with('?') || q.text.contains("? "), "{}", q.text);
        assert!(q.choices.iter().any(|c| c.says == "don't know"));
        // Each answer can be written, silences its question, and may be printed and read again.
        for c in &q.choices {
            let answered = quick(&format!("{text}\n{}", q.answered(&c.says)));
            assert!(
                !asked(&answered).contains(&format!("{} {}", q.about, q.asks)),
                "{}",
                q.answered(&c.says)
            );
        }
    }
}

#[test]
fn an_answer_changes_what_it_says() {
    let base = "condenser mic > mixer 1\nvocal mic > mixer 2\nviolin > pedal > mixer 3\npiano > mixer 4\nmixer > speakers\nmust: voice\n";
    let with = |line: &str| fine(&format!("{base}answer {line}\n")).rig;
    let bank = |rig: &Rig| gear(rig, "MIXER").body.banks[0].on;
    assert!(!bank(&fine(base).rig) && bank(&with("MIXER phantom: on")));
    assert_eq!(gear(&with("MIXER switches: no"), "MIXER").body.banks.len(), 2);
    let present = |rig: &Rig| gear(rig, "PEDAL").body.battery.as_ref().unwrap().present.clone();
    assert!(!present(&with("PEDAL battery: no")).value);
    assert_eq!(present(&with("PEDAL battery: don't know")).origin, Origin::DontKnow);
    let through = |rig: &Rig, name: &str| gear(rig, name).body.routes[0].passive.clone();
    let yes = with("LEFT SPEAKER through: yes");
    assert_eq!(through(&yes, "LEFT SPEAKER"), through(&yes, "RIGHT SPEAKER"));
    assert_eq!(
        (through(&yes, "LEFT SPEAKER").value, through(&yes, "LEFT SPEAKER").origin),
        (true, Origin::Yours)
    );
    assert!(
        !gear(&with("LEFT SPEAKER microphone: no"), "LEFT SPEAKER").body.sockets[0].takes(&model::Class::Mic)
    );
    assert!(gear(&with("PIANO mono: no"), "PIANO").body.makes.iter().all(|m| m.guard.is_none()));
    for (line, code) in [
        ("PEDAL battery: perhaps", "unknown-answer"),
        ("PEDAL colour: red", "unknown-question"),
        ("TOASTER battery: yes", "unknown-gear"),
        ("PEDAL", "bad-answer"),
    ] {
        assert_eq!(codes(&quick(&format!("{base}answer {line}"))), [code], "{line}");
    }
}

#[test]
fn a_lead_that_nearly_does_not_reach_is_asked_last() {
    let text = "gear MIC = vocal mic, at 0 0\ngear MIXER = mixer, at 2.6 0\nmic > mixer 1\nmust: voice";
    let r = fine(text);
    assert_eq!(r.questions.last().map(|q| (q.asks.as_str(), q.matters)), Some(("reach", Matters::Reach)));
    let r = quick(&format!("{text}\nanswer MIC reach: no"));
    assert_eq!(codes(&r), ["does-not-reach"]);
}

#[test]
fn an_edit_leaves_quick_lines_and_comments_as_they_are() {
    use model::Spot;
    use model::text::Document;
    let text = "# ours\nvocal mic  >  mixr 1   # the red one\npiano > mixer 3\nkeys 1.5 m left of voice\n";
    let mut doc = Document::new(text);
    doc.set_position("PIANO", Spot { x: 2.0, y: 1.0 }).unwrap();
    assert_eq!(
        doc.text(),
        "# ours\nvocal mic  >  mixr 1   # the red one\npiano > mixer 3\nabout PIANO\n  at 2 1\nkeys 1.5 m left of voice\n"
    );
    let at = |doc: &Document| gear(&doc.rig().0, "PIANO").at;
    assert_eq!(at(&doc), Some(Spot { x: 2.0, y: 1.0 }));
    doc.set_position("piano", Spot { x: 0.0, y: 1.0 }).unwrap();
    assert_eq!(at(&doc), Some(Spot { x: 0.0, y: 1.0 }));
    doc.add_link("mixer > speakers").unwrap();
    assert_eq!(doc.rig().0.links.len(), 4);
    assert!(doc.text().contains("# the red one"));
}

#[test]
fn very_many_quick_lines_end_soon_and_are_told() {
    let text: String = (0..450).map(|n| format!("red{n}q vocal mic > mixer 1\n")).collect();
    let reading = read_with(&text, &|_| None);
    assert_eq!(reading.problems.iter().filter(|p| p.code == "too-many-quick").count(), 1);
    assert_eq!(reading.rig.gear.len(), 401);
}
