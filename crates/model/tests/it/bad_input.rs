//! Each way a rig file can be wrong, and what a tired musician is told.

use model::text::{MOST_BYTES, MOST_LINES, read, read_bytes};

/// Every problem of `text`, one below the other.
fn told(text: &str) -> String {
    let problems = read(text).1;
    problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn an_unknown_kind_is_kept_and_the_nearest_named() {
    insta::assert_snapshot!(told("gear MIXER = small analoge mixer\nMIXER > XLR > MIXER"), @r#"
    line 1: "small analoge mixer" is not on the shelf of kinds [unknown-kind]
      try: write "small analogue mixer", or = other and its sockets on lines below
    "#);
}

#[test]
fn an_unknown_kind_without_a_near_one_points_to_other() {
    insta::assert_snapshot!(told("gear BOX = grandads toaster"), @r#"
    line 1: "grandads toaster" is not on the shelf of kinds [unknown-kind]
      try: write = other, and its sockets on lines below; docs/shelf.md lists the kinds
    "#);
}

#[test]
fn a_gear_line_without_a_kind() {
    insta::assert_snapshot!(told("gear MIXER\n  at 1 2"), @r#"
    line 1: "gear MIXER" does not say what kind it is [gear-needs-kind]
      try: write the name taped on it, =, and its kind: gear MIXER = small analogue mixer
    "#);
}

#[test]
fn a_name_that_no_piece_has() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nMIC > XLR 3 m > TOASTER"), @r#"
    line 3: "toaster" is not known: what plugs go in and out of it? [unknown-thing]
      try: write its kind, gear TOASTER = KIND; or gear TOASTER = other, and its sockets on lines below
    "#);
}

#[test]
fn a_socket_that_is_not_there() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nMIC > XLR 3 m > MIXER 9"), @r#"
    line 3: MIXER has no socket "9" [unknown-socket]
      try: write "1", "2" or "3"
    "#);
}

#[test]
fn a_word_that_fits_two_sockets() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\ngear A = powered speaker\nMIXER main > XLR 3 m > A A"), @r#"
    line 4: "main" fits more than one socket of MIXER [which-socket]
      try: write one of: MAIN L, MAIN R
    "#);
}

#[test]
fn a_lead_nobody_knows() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nMIC > minni 3 m > MIXER 1"), @r#"
    line 3: "minni" is not a kind of lead or adapter [unknown-lead]
      try: write "mini"
    "#);
}

#[test]
fn a_lead_kind_too_far_from_any() {
    insta::assert_snapshot!(told("lead garden hose 3 m: own 2"), @r#"
    line 1: "garden hose" is not a kind of lead or adapter [unknown-lead]
      try: docs/shelf.md lists leads and adapters; or say what it is: lead kind NAME: jack plug to XLR-M, ts, carries line
    "#);
}

#[test]
fn two_plugs_in_one_socket() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\ngear PIANO = stage piano\nMIC > XLR 3 m > MIXER 1\nPIANO L/MONO > jack 3 m > MIXER 1"), @r#"
    line 5: two plugs in one socket: MIXER 1 holds the plug of line 4 already [two-plugs]
      try: free there: 2, 3, 4, 5, 6
    "#);
}

#[test]
fn more_leads_used_than_owned() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nlead XLR 3 m: own 0\nMIC > XLR 3 m > MIXER 1"), @r#"
    line 3: 1 of XLR 3 m are plugged, but you own 0 [more-used-than-owned]
      try: write own 1, or plug another lead
    "#);
}

#[test]
fn more_leads_in_the_bag_than_are_left() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nlead XLR 3 m: own 2, 2 in the bag\nMIC > XLR 3 m > MIXER 1"), @r#"
    line 3: 1 of XLR 3 m are plugged and 2 are in the bag, but you own 2 [more-used-than-owned]
      try: write own 3
    "#);
}

#[test]
fn a_ring_of_power() {
    insta::assert_snapshot!(told("gear STRIP A = power strip\ngear STRIP B = power strip\nSTRIP A 1 > STRIP B\nSTRIP B 1 > STRIP A"), @r#"
    line 1: power goes round in a ring: STRIP A feeds STRIP B feeds STRIP A [power-loop]
      try: plug one of them into an outlet instead
    "#);
}

#[test]
fn a_plug_that_does_not_fit() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nMIC > jack 3 m > MIXER 1"), @r#"
    line 3: jack 3 m does not fit between MIC OUT (XLR-M) and MIXER 1 (XLR-F or jack socket) [does-not-fit]
      try: this fits: "XLR" or "XLR to jack adapter" or "polarity-reverse XLR"
    "#);
}

#[test]
fn two_sockets_with_nothing_between() {
    insta::assert_snapshot!(told("gear A = laptop\ngear B = laptop supply\ngear M = mixer\nB > M POWER"), @r#"
    line 4: B OUT (own laptop plug) cannot be plugged straight into M POWER (own small mixer socket) [does-not-fit]
      try: check the two sockets, or add an adapter between two arrows
    "#);
}

#[test]
fn a_lead_with_one_end() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\n6 m XLR > MIXER 1\nMIC > XLR 3 m >"), @r#"
    line 3: this lead has nothing at one end: other end? [other-end]
      try: write where it goes: GEAR SOCKET > LEAD > GEAR SOCKET
    line 4: this lead has nothing at one end: other end? [other-end]
      try: write where it goes: GEAR SOCKET > LEAD > GEAR SOCKET
    "#);
}

#[test]
fn the_same_name_twice() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear mic = vocal mic"), @r#"
    line 2: mic is already the name of the piece on line 1; here it is read as mic no 2 [same-name-twice]
      try: tape another name on one of them, for example mic no 2
    "#);
}

#[test]
fn a_piece_named_like_a_socket() {
    insta::assert_snapshot!(told("gear SPEAKER = powered speaker\ngear SPEAKER A = powered speaker"), @r#"
    line 2: "SPEAKER A" is a piece, and also socket A of SPEAKER [two-meanings]
      try: tape another name on it, for example SPEAKER TWO
    "#);
}

#[test]
fn a_link_written_backwards() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nMIXER 1 > XLR 3 m > MIC"), @r#"
    line 3: sound or power runs the other way here [wrong-way]
      try: write MIC > XLR 3 m > MIXER 1
    "#);
}

#[test]
fn gear_in_the_middle_of_a_link() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\ngear DI = passive DI\nMIC > DI > MIXER 1"), @r#"
    line 4: no free socket of DI takes what a free socket of MIC gives [no-free-socket]
      try: name both sockets, for example: MIC SOCKET > LEAD > DI SOCKET
    "#);
}

#[test]
fn a_piece_plugged_into_itself() {
    insta::assert_snapshot!(told("gear MIXER = mixer\nMIXER AUX > balanced jack 3 m > MIXER 3"), @r#"
    line 2: MIXER is plugged into itself [own-tail]
      try: check the names at both ends
    "#);
}

#[test]
fn impossible_figures() {
    insta::assert_snapshot!(told("gear MIC = vocal mic, draws -5 W\n  starts in 99999999 s\n  at 1 5000\nlead XLR 900 m: own 1\nmust 0: voice"), @r#"
    line 1: power of -5 W cannot be; expected 0 to 50000 [impossible-figure]
      try: check the number and its unit
    line 2: a time of 99999999 s cannot be; expected 0 to 86400 [impossible-figure]
      try: check the number and its unit
    line 3: "1 5000" is off any stage; expected metres from -1000 to 1000 [impossible-figure]
      try: write two numbers in metres, for example: at 1.5 0
    line 4: a length of 900 m cannot be; expected 0 to 500 [impossible-figure]
      try: check the number and its unit
    line 5: a weight of 0 means it does not matter; expected 1 or more [impossible-figure]
      try: take the line out, or write a weight from 1
    "#);
}

#[test]
fn figures_that_are_none() {
    insta::assert_snapshot!(told("gear MIXER = mixer, draws much\n  starts in 3 kg\n  weighs 2 kg (about)\n  at here\nlead XLR 3 m: own some"), @r#"
    line 1: "much" is not power; expected a number and W [not-a-figure]
      try: write for example: 3 W
    line 2: "kg" is not a unit for a time; expected s [unknown-unit]
      try: write 3 s
    line 3: "about" is neither a range nor an origin [unknown-origin]
      try: write (8..25), (yours), (measured), (guessed: why) or (don't know)
    line 4: "here" is not a spot; expected two numbers in metres [not-a-spot]
      try: write how far right and how far towards the audience, for example: at 1.5 0
    line 5: "some" is not a count; expected a whole number from 0 to 10000 [not-a-count]
      try: write a whole number, for example 2
    "#);
}

#[test]
fn levels_that_run_backwards() {
    insta::assert_snapshot!(told("gear BOX = other\n  socket IN: in, jack, takes line 20..-20 dBu\n  socket OUT: out, jack, line 10/-8 dBu"), @r#"
    line 2: "20..-20 dBu" runs backwards; expected the least first [impossible-figure]
      try: write -20..20 dBu
    line 3: "10/-8 dBu" runs backwards; expected usual level, then loudest [impossible-figure]
      try: write the lower figure first
    "#);
}

#[test]
fn a_socket_half_said() {
    insta::assert_snapshot!(told("gear BOX = other\n  socket IN: jack, takes line -20..20 dBu\n  socket A: in, takes mains\n  socket B: out, jack\n  socket C: in, jack\n  socket D: in, jak, takes line -20..20 dBu"), @r#"
    line 2: socket IN must say "in" or "out" [socket-needs-direction]
      try: write: socket IN: in, ... or socket IN: out, ...
    line 3: socket A does not say what plugs in there [socket-needs-connector]
      try: write one of: XLR-M, XLR-F, C14, C13, C8, C7, wall plug, wall socket, XLR, mini, jack, phono, twist, barrel 2.1, barrel 2.5, USB-A, USB-B, USB-C, DIN, network
    line 4: out-socket B does not say what it gives [socket-needs-class]
      try: write for example: mic -40/-20 dBu, line -8/10 dBu, mains, or 9 V c-
    line 5: in-socket C does not say what it takes [socket-needs-class]
      try: write for example: takes line -20..20 dBu into 10000 ohm, or takes mains
    line 6: "jak" says nothing known about a socket [unknown-attribute]
      try: write "jack"
    "#);
}

#[test]
fn a_route_to_nowhere() {
    insta::assert_snapshot!(told("gear BOX = other\n  socket IN: in, jack, takes line -20..20 dBu\n  route through: IN > OUT"), @r#"
    line 1: BOX: route through goes to "OUT", which is no out-socket [points-nowhere]
      try: check the spelling against the socket, route and mode lines of this piece
    "#);
}

#[test]
fn a_switch_that_is_not_there() {
    insta::assert_snapshot!(told("gear MIXER = mixer\n  switch AUX 9 on\n  switch 48V"), @r#"
    line 2: MIXER has no switch "AUX 9" [unknown-name]
      try: write "AUX 1", "AUX 2" or "AUX 3/4"
    line 3: "switch 48V" must end in on or off [bad-switch]
      try: write for example: switch 48V on
    "#);
}

#[test]
fn a_line_about_no_gear() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nmust: voice\n  at 1 2"), @r#"
    line 4: this line is about a piece of gear, but no gear line stands above it [detail-without-gear]
      try: put it under its gear line, or write "about NAME" above it
    "#);
}

#[test]
fn a_line_that_says_nothing() {
    insta::assert_snapshot!(told("gaer MIXER = mixer\nthe quick brown fox"), @r#"
    line 1: "gaer MIXER = mixer" is not understood [unknown-line]
      try: write "gear"
    line 2: "the quick brown fox" is not understood [unknown-line]
      try: start with gear, lead, must, bag or another word of docs/formats.md; say what is plugged with >; put # before a note
    "#);
}

#[test]
fn a_source_nobody_makes() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\ngear MIXER = mixer\nmust: vioce for audience"), @r#"
    line 3: no gear makes "vioce" [nobody-makes]
      try: write "voice"
    "#);
}

#[test]
fn a_listener_nobody_knows() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\nlistener YRSA\nshould: voice for YRSAA"), @r#"
    line 3: no listener is called "YRSAA" [unknown-listener]
      try: write "YRSA", or add a line: listener YRSAA
    "#);
}

#[test]
fn a_part_said_twice() {
    insta::assert_snapshot!(told("gear MIC = vocal mic\nmust: voice\nnice: voice"), @r#"
    line 3: how much voice matters to this listener is said twice; the first line counts [part-twice]
      try: take one of the two out
    "#);
}

#[test]
fn a_name_with_a_mark_in_it() {
    insta::assert_snapshot!(told("gear MIC (old) = vocal mic"), @r#"
    line 1: "MIC 'old'" cannot be the name of a piece [bad-name]
      try: use letters, digits and spaces, at most 60, without , : > + ( ) " # = ;
    "#);
}

#[test]
fn a_misspelt_piece_in_the_bag() {
    insta::assert_snapshot!(told("gear SPARE MIC = vocal mic\nbag: SPARE MIK"), @r#"
    line 2: no piece is called "SPARE MIK"; it is counted as something that is used up [unknown-gear]
      try: write "SPARE MIC" if you mean that piece
    "#);
}

#[test]
fn a_time_of_no_act() {
    insta::assert_snapshot!(told("time plugg 5 s\ntime juggling 5 s"), @r#"
    line 1: "time plugg 5 s" is not an act with a time [unknown-time]
      try: write "plug"
    line 2: "time juggling 5 s" is not an act with a time [unknown-time]
      try: write for example: time plug 5 s
    "#);
}

#[test]
fn a_look_too_long_for_the_stage() {
    insta::assert_snapshot!(told("gear MIXER = mixer\n  look \"Is the red MUTE lamp lit?\": 2 s"), @r#"
    line 2: "Is the red MUTE lamp lit?" is too long to read on stage; expected at most five words [look-too-long]
      try: write what to look at, for example: MUTE lit?
    "#);
}

#[test]
fn a_phantom_switch_that_is_not_there() {
    insta::assert_snapshot!(told("gear BOX = other\n  socket 1: in, XLR, takes mic -60..-10 dBu, phantom by 48V"), @r#"
    line 1: BOX: socket 1 has phantom by "48V", but there is no such bank [points-nowhere]
      try: check the spelling against the socket, route and mode lines of this piece
    "#);
}

#[test]
fn a_file_of_ten_megabytes() {
    insta::assert_snapshot!(told(&"gear A = mixer\n".repeat(700_000)), @r#"
    line 1: the file holds 10500000 bytes; expected at most 2000000, and a big rig is under 50000 [file-too-big]
      try: check that it is a rig file, and not a photo or a recording
    "#);
    let photo = vec![0xff_u8; 10_000_000];
    let problems = read_bytes(&photo).1;
    assert_eq!(problems.iter().map(|p| p.code).collect::<Vec<_>>(), ["file-too-big"]);
    assert!(problems[0].message.contains("10000000 bytes"));
}

#[test]
fn the_largest_file_that_is_read_is_read() {
    let text =
        "# a long comment that says nothing at all, over and over again, to the end of the file we read\n";
    let text = text.repeat(MOST_BYTES / text.len());
    assert!(text.len() > MOST_BYTES - 200);
    let codes: Vec<&str> = read(&text).1.iter().map(|p| p.code).collect();
    assert_eq!(codes, ["too-many-lines"]);
    assert!(text.lines().count() > MOST_LINES);
}

#[test]
fn letters_that_are_not_utf_8() {
    let (rig, problems) =
        read_bytes(b"gear MIC = vocal mic\nrig Caf\xe9\ngear MIXER = mixer\nMIC > XLR 3 m > MIXER 1");
    let problems: Vec<String> = problems.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(problems.join("\n"), @r#"
    line 2: found the byte 0xe9, which is no letter in UTF-8; expected plain UTF-8 text [not-utf-8]
      try: save the file again as UTF-8; old letters such as an accented e may be the cause
    "#);
    assert_eq!((rig.name.as_str(), rig.gear.len(), rig.links.len()), ("Caf\u{fffd}", 2, 1));
}

#[test]
fn a_broken_file_still_gives_all_that_is_right_in_it() {
    let (rig, problems) = read(
        "gear MIC = vocal mic, at nowhere\nblah blah\ngear MIXER = mixr\ngear DESK = mixer\nMIC > XLR 3 m > DESK 1\nMIC > XLR > MIXER 1\nmust: voice, drums\n",
    );
    let lines: Vec<(usize, &str)> = problems.iter().map(|p| (p.line, p.code)).collect();
    assert_eq!(lines, [(1, "not-a-spot"), (2, "unknown-line"), (3, "unknown-kind"), (7, "nobody-makes")]);
    let names: Vec<&str> = rig.gear.iter().map(|g| g.name.as_str()).collect();
    assert_eq!(names, ["MIC", "MIXER", "DESK"]);
    assert_eq!((rig.links.len(), rig.parts.len()), (1, 2));
}

#[test]
fn a_problem_marks_the_words_it_is_about() {
    let text = "gear MIC = vocal mic\ngear MIXER = mixr # new\n";
    let problem = &read(text).1[0];
    assert_eq!(text.get(problem.span.clone()), Some("mixr"));
}

#[test]
fn one_knob_that_stands_two_ways() {
    insta::assert_snapshot!(told("gear DESK = mixer\n  route AUX 4: 4 > AUX, knob AUX 3/4, switch on"), @r#"
    line 1: DESK: knob AUX 3/4 turns several routes; one is on and another off [knob-two-ways]
      try: say how the knob stands on a line below: switch AUX 3/4 on, or off
    "#);
}
