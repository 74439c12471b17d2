//! Bad input: exit 2 when there is no answer, 1 when the rig has problems; always where, what, and what to try.

use insta::assert_snapshot;

use crate::run::Folder;

#[test]
fn a_file_that_is_not_there() {
    let folder = Folder::with_rig("no-file");
    assert_snapshot!(folder.run(&["check", "corner-bra.rig"]).all(), @r"
    exit 2
    --- stderr
    corner-bra.rig: there is no such file; expected a rig file
      try: look at its name and folder; did you mean corner-bar.rig?
    ");
}

#[test]
fn a_folder_in_place_of_a_file() {
    let folder = Folder::with_rig("a-folder");
    assert_snapshot!(folder.run(&["ways", "."]).all(), @r"
    exit 2
    --- stderr
    .: this is a folder; expected a rig file
      try: name a file in it, such as ./corner-bar.rig
    ");
    assert_snapshot!(folder.run(&["cards", "corner-bar.rig", "-o", "."]).all(), @r"
    exit 2
    --- stderr
    .: this is a folder; expected the name of a file to write
      try: write -o ./cards.html
    ");
}

#[test]
fn the_rig_itself_is_never_written_over() {
    let folder = Folder::with_rig("over");
    let ran = folder.run(&["cards", "corner-bar.rig", "-o", "./corner-bar.rig"]);
    assert_snapshot!(ran.all(), @r"
    exit 2
    --- stderr
    ./corner-bar.rig: this is the rig file itself; expected another name for the cards
      try: write -o ./corner-bar.html
    ");
    let kept = std::fs::read(folder.0.join("corner-bar.rig")).unwrap();
    assert!(kept == include_bytes!("../data/corner-bar.rig"));
}

#[test]
fn an_old_encoding_is_one_problem_and_the_rest_is_answered() {
    let folder = Folder::new("latin");
    let mut rig = include_bytes!("../data/corner-bar.rig").to_vec();
    rig.extend(b"# caf\xe9\n");
    folder.file("old.rig", &rig);
    assert_snapshot!(folder.run(&["read", "old.rig"]).all().lines().take(5).collect::<Vec<_>>().join("\n"), @r"
    exit 1
    --- stdout
    # 1 line was not understood:
    # 30: # caf�
    #   line 30: found the byte 0xe9, which is no letter in UTF-8; expected plain UTF-8 text [not-utf-8]
    ");
    assert_eq!(folder.run(&["ways", "old.rig"]).code, 1);
}

#[test]
fn a_file_of_ten_megabytes() {
    let folder = Folder::new("big");
    folder.file("big.rig", &vec![b'x'; 10_000_000]);
    assert_snapshot!(folder.run(&["check", "big.rig"]).all(), @r"
    exit 2
    --- stderr
    big.rig: the file holds 10000000 bytes; expected at most 2000000 bytes, and a big rig is under 50000
      try: check that it is a rig file, and not a photo or a recording
    ");
}

#[test]
fn an_empty_file() {
    let folder = Folder::new("empty");
    folder.file("empty.rig", b"");
    assert_snapshot!(folder.run(&["check", "empty.rig"]).all(), @r"
    exit 1
    --- stdout
    Wrong in the file, and left out of what follows
    empty.rig, line 1: the file names no gear; expected at least one piece [no-gear]
      try: write a line such as: gear VOICE MIC = vocal mic, at 0 0

    Heard
    Nothing is heard.

    In short
    empty.rig: 0 pieces, 0 leads and adapters in use; 0 things can stop working.
    1 problem in the file: put that right first.
    ");
    assert_snapshot!(folder.run(&["cards", "empty.rig", "-o", "cards.html"]).all(), @r"
    exit 1
    --- stdout
    empty.rig, line 1: the file names no gear; expected at least one piece [no-gear]
      try: write a line such as: gear VOICE MIC = vocal mic, at 0 0
    No cards were made: a card from half a rig could be wrong. Put these lines right first.
    ");
    assert!(!folder.0.join("cards.html").exists());
    for command in ["ways", "read"] {
        assert_eq!(folder.run(&[command, "empty.rig"]).code, 1);
    }
}

#[test]
fn a_thing_that_is_not_there() {
    let folder = Folder::with_rig("unknown");
    assert_snapshot!(folder.run(&["ways", "corner-bar.rig", "--dead", "mixr supply"]).all(), @r#"
    exit 2
    --- stderr
    --dead "mixr supply": nothing in corner-bar.rig is called "mixr supply"; expected a taped name such as MIXER, or a way it fails such as MIXER:supply
      try: write "MIXER: supply", "PIANO: supply" or "MIXER SUPPLY: dead"
    "#);
    assert_snapshot!(folder.run(&["ways", "corner-bar.rig", "--dead", ""]).all(), @r#"
    exit 2
    --- stderr
    --dead "": nothing in corner-bar.rig is called ""; expected a taped name such as MIXER, or a way it fails such as MIXER:supply
      try: see every name: secondstring ways corner-bar.rig
    "#);
}

#[test]
fn names_that_nothing_has() {
    let folder = Folder::new("names");
    assert_snapshot!(folder.run(&["shelf", "small mixr"]).all(), @r#"
    exit 2
    --- stderr
    "small mixr": no kind on the shelf has this name; expected a kind of gear or lead
      try: write "small mixer", "small monitor" or "small UPS"
    "#);
    assert_snapshot!(folder.run(&["explain", "stop-short"]).all(), @r#"
    exit 2
    --- stderr
    "stop-short": there is no page of this name; expected a check such as stops-short, a word such as lead, or a kind such as mixer
      try: write "stops-short", "short-of-current" or "short extension"
    "#);
    assert_snapshot!(folder.run(&["explain", "qqqqqqqq"]).all(), @r#"
    exit 2
    --- stderr
    "qqqqqqqq": there is no page of this name; expected a check such as stops-short, a word such as lead, or a kind such as mixer
      try: see the checks: secondstring explain
    "#);
}

#[test]
fn half_a_rig_gives_answers_but_no_cards() {
    let folder = Folder::new("half");
    let rig =
        String::from_utf8_lossy(include_bytes!("../data/corner-bar.rig")).replace("> MIXER 3", "> TOASTER");
    folder.file("half.rig", rig.as_bytes());
    assert_snapshot!(folder.run(&["cards", "half.rig", "-o", "cards.html"]).all(), @r#"
    exit 1
    --- stdout
    half.rig, line 19: "toaster" is not known: what plugs go in and out of it? [unknown-thing]
      typed: PIANO L/MONO > jack 3 m > TOASTER
      try: write its kind, gear TOASTER = KIND; or gear TOASTER = other, and its sockets on lines below
    No cards were made: a card from half a rig could be wrong. Put these lines right first.
    "#);
    assert!(!folder.0.join("cards.html").exists());
    assert_eq!(folder.run(&["check", "half.rig"]).code, 1);
    assert_eq!(folder.run(&["ways", "half.rig"]).code, 1);
}

#[test]
fn usage_is_bad_input_too() {
    let folder = Folder::with_rig("usage");
    for args in [
        &[][..],
        &["chek"],
        &["check"],
        &["cards", "corner-bar.rig"],
        &["ways", "corner-bar.rig", "--limit", "0"],
        &["ways", "corner-bar.rig", "--goal", "soon"],
    ] {
        let ran = folder.run(args);
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{args:?}");
        assert!(!ran.err.is_empty());
    }
    assert_eq!(folder.run(&["--version"]).code, 0);
}

/// Nothing that can be typed into a file ends the program other than with 0, 1 or 2.
#[test]
fn odd_bytes_never_end_it() {
    let folder = Folder::new("odd");
    let odd: [&[u8]; 6] = [
        b"\0\0\0",
        b"\xff\xfe\x00g",
        b"gear = ",
        b"must: must: must",
        b"A > B > C > D",
        b"gear X = mixer, at 1e300 1e300",
    ];
    for bytes in odd {
        folder.file("odd.rig", bytes);
        for command in ["check", "ways", "read"] {
            let ran = folder.run(&[command, "odd.rig"]);
            assert!((0..=2).contains(&ran.code), "{bytes:?}: {}", ran.all());
        }
    }
}
