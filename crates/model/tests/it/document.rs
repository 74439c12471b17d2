//! Edits change their own lines and nothing else.

use model::Spot;
use model::text::{Document, EditRefused};

use crate::rigs::DUO;

/// Lines of `after` that are not in `before` at the same place, when no line was added.
fn changed(before: &str, after: &str) -> Vec<String> {
    before.lines().zip(after.lines()).filter(|(a, b)| a != b).map(|(_, b)| b.to_owned()).collect()
}

const SMALL: &str = "# ours\r\n\r\ngear MIXER = mixer  , at 1 2   # the small one\r\n   at 3   4 # moved\r\ngear MIC = vocal mic # old\r\n\r\nMIC   >  XLR 3 m>MIXER 1\r\nbroken (\r\nbag: MIC x1\r\n";

#[test]
fn moving_a_piece_changes_the_line_that_says_where_it_is() {
    let mut doc = Document::new(SMALL);
    doc.set_position("mixer", Spot { x: 0.5, y: -1.0 }).unwrap();
    assert_eq!(changed(SMALL, doc.text()), ["   at 0.5 -1 # moved"]);
    doc.set_position("MIC", Spot { x: 2.0, y: 0.0 }).unwrap();
    assert!(doc.text().contains("gear MIC = vocal mic, at 2 0 # old\r\n"));
    let rig = doc.rig().0;
    assert_eq!(rig.gear[0].at, Some(Spot { x: 0.5, y: -1.0 }));
    assert_eq!(rig.gear[1].at, Some(Spot { x: 2.0, y: 0.0 }));
}

#[test]
fn a_broken_gear_line_does_not_swallow_the_move() {
    let mut doc = Document::new("gear MIXER = mixer (old\ngear MIC = vocal mic");
    doc.set_position("MIXER", Spot { x: 1.0, y: 2.0 }).unwrap();
    assert_eq!(doc.text(), "gear MIXER = mixer (old\n  at 1 2\ngear MIC = vocal mic");
    assert_eq!(doc.rig().0.gear[0].at, Some(Spot { x: 1.0, y: 2.0 }));
}

#[test]
fn a_new_name_is_taped_on_everywhere() {
    let mut doc = Document::new(SMALL);
    doc.rename_gear("mic", "VOICE MIC").unwrap();
    assert_eq!(
        changed(SMALL, doc.text()),
        ["gear VOICE MIC = vocal mic # old", "VOICE MIC   >  XLR 3 m>MIXER 1", "bag: VOICE MIC x1"]
    );
    let before = Document::new(DUO).rig().0;
    let mut duo = Document::new(DUO);
    duo.rename_gear("STRIP A", "STRIP UNDER PIANO").unwrap();
    let after = duo.rig();
    assert!(after.1.is_empty(), "{:?}", after.1);
    assert_eq!(after.0.links.len(), before.links.len());
    assert!(!duo.text().contains("STRIP A"));
}

#[test]
fn refused_edits_change_nothing() {
    let mut doc = Document::new(SMALL);
    assert_eq!(doc.rename_gear("MIC", "mixer"), Err(EditRefused::NameTaken("mixer".into())));
    assert_eq!(doc.rename_gear("MIC", "a > b"), Err(EditRefused::BadName("a > b".into())));
    assert_eq!(doc.rename_gear("NOBODY", "X"), Err(EditRefused::NoSuchGear("NOBODY".into())));
    assert_eq!(doc.set_position("NOBODY", Spot::default()), Err(EditRefused::NoSuchGear("NOBODY".into())));
    assert_eq!(doc.remove_line(99), Err(EditRefused::NoSuchLine(99)));
    assert_eq!(doc.add_line("a\nb"), Err(EditRefused::NotOneLine));
    assert_eq!(doc.text(), SMALL);
}

#[test]
fn lines_come_and_go_alone() {
    let mut doc = Document::new(SMALL);
    doc.add_link("MIXER 2 > x").unwrap();
    assert_eq!(doc.text().lines().nth(7), Some("MIXER 2 > x"));
    doc.remove_line(8).unwrap();
    assert_eq!(doc.text(), SMALL);
    doc.replace_line(8, "note mended").unwrap();
    assert_eq!(changed(SMALL, doc.text()), ["note mended"]);
    let mut open = Document::new("gear A = mixer");
    open.add_line("home 0 0").unwrap();
    assert_eq!(open.text(), "gear A = mixer\nhome 0 0\n");
    let mut none = Document::new("");
    none.add_line("home 0 0").unwrap();
    assert_eq!(none.text(), "home 0 0\n");
}
