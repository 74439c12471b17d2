//! Quick lines through the real program.

use insta::assert_snapshot;

use crate::run::Folder;

#[test]
fn read_prints_full_lines_guesses_and_questions() {
    let folder = Folder::new("quick");
    let quick = "vocal mic > mixr 1\nlaptop > mini to 2 jacks > mixer 3 + headphone amp\nmust: voice\n";
    folder.file("quick.rig", quick.as_bytes());
    let ran = folder.run(&["read", "quick.rig"]);
    assert_snapshot!(ran.all(), @r#"
    exit 0
    --- stdout
    # 8 guesses, the weightiest first:
    #   line 2: the click is on the right side of SPLIT LEAD, and must not reach the audience (guessed: that plug goes to ears only)
    #   line 1: "mixr" is read as mixer (guessed: a slip of the pen)
    #   line 1: VOCAL MIC is a dynamic vocal microphone (guessed: from "vocal mic")
    #   line 1: MIXER is a small analogue mixer (guessed: from "mixr")
    #   line 1: VOCAL MIC OUT goes into MIXER 1 by XLR (guessed: the usual lead between such sockets)
    #   line 2: LAPTOP is a laptop (guessed: from "laptop")
    #   line 2: SPLIT LEAD is a split lead (guessed: from "mini to 2 jacks")
    #   line 2: HEADPHONE AMP is a headphone amplifier (guessed: from "headphone amp")
    # 1 question, the weightiest first; write one of the lines into the file:
    #   Which side of SPLIT LEAD is the click? (SPLIT LEAD: it could hurt, or be heard by mistake)
    #     answer SPLIT LEAD click: left -- the left plug goes to ears only, the right one to the mixer
    #     answer SPLIT LEAD click: right -- the right plug goes to ears only, the left one to the mixer
    #     answer SPLIT LEAD click: none -- there is no click, and both sides carry tracks
    #     answer SPLIT LEAD click: don't know -- what rests on it says so
    home 0 0
    listener audience: needs 80 dB (guessed: above the talk of a small room)
    source voice
    source tracks
    source click
    gear VOCAL MIC = dynamic vocal microphone
    gear MIXER = small analogue mixer
    gear LAPTOP = laptop
      makes tracks at PHONES, side left
      makes click at PHONES, side right
    gear SPLIT LEAD = split lead
    gear HEADPHONE AMP = headphone amplifier
    lead XLR 3 m = XLR 3 m (guessed: the shortest usual one that reaches): own 1 (guessed: as many as are plugged)
    VOCAL MIC OUT > XLR 3 m > MIXER 1
    LAPTOP PHONES > SPLIT LEAD IN
    SPLIT LEAD LEFT > MIXER 3
    SPLIT LEAD RIGHT > HEADPHONE AMP IN
    never: click for audience
    must: voice for audience
    answer SPLIT LEAD click: ?
    "#);
    // What is printed is a rig file, and the same rig; the question stays open in it.
    folder.file("full.rig", ran.out.as_bytes());
    let again = folder.run(&["read", "full.rig"]).out;
    let lines =
        |text: &str| text.lines().filter(|l| !l.starts_with('#')).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(lines(&again), lines(&ran.out));
    assert!(again.contains("Which side of SPLIT LEAD is the click?"), "{again}");
    let answered = ran.out.replace("answer SPLIT LEAD click: ?", "answer SPLIT LEAD click: left");
    folder.file("full.rig", answered.as_bytes());
    let again = folder.run(&["read", "full.rig"]).out;
    assert!(again.contains("SPLIT LEAD RIGHT > MIXER 3"), "{again}");
    assert!(!again.contains("Which side"), "{again}");
}

#[test]
fn another_rig_lies_in_the_same_folder() {
    let folder = Folder::new("same");
    folder.file(
        "harbour-café.rig",
        b"rig \"The pier\"\nvocal mic > mixer 1\nmixer > 2 speakers\nmust: voice\n",
    );
    for name in ["harbour café", "the pier", "Harbour-Café"] {
        folder.file("ferry.rig", format!("same as {name} but 3 speakers\n").as_bytes());
        let ran = folder.run(&["read", "ferry.rig"]);
        assert_eq!(ran.code, 0, "{}", ran.all());
        assert_eq!(ran.out.matches(" = powered speaker").count(), 3, "{}", ran.out);
        assert!(ran.out.contains("LEFT SPEAKER THRU > "), "{}", ran.out);
    }
    folder.file("ferry.rig", b"same as barn but 3 speakers\n");
    let ran = folder.run(&["read", "ferry.rig"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("there is no rig \"barn\" beside this one [no-such-rig]"), "{}", ran.out);
}

/// Read as it was typed, and judged by the same checks as a full line.
#[test]
fn a_dangerous_and_a_dull_line_are_read_and_told() {
    let folder = Folder::new("dull");
    folder.file("amp.rig", b"speaker out of amp > mixer\nvocal mic > mixer 1\nmust: voice\n");
    let ran = folder.run(&["check", "amp.rig"]);
    assert_eq!(ran.code, 1);
    assert!(ran.out.contains("STOP: AMP SPEAKER"), "{}", ran.out);
    assert!(ran.out.contains("loudspeaker power into an input"), "{}", ran.out);
    folder.file("guitar.rig", b"guitar > 10 m jack > mixer mic in\nmixer > speakers\nmust: guitar\n");
    let ran = folder.run(&["check", "guitar.rig"]);
    assert!(ran.out.contains("an instrument in a microphone input: dull"), "{}", ran.out);
    assert!(ran.out.contains("try: put a direct box between"), "{}", ran.out);
}
