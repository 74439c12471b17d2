//! Print, read, print: the same text, the same rig.

use model::Rig;
use model::text::{read, write};
use proptest::prelude::*;

use crate::generated;
use crate::rigs::{DUO, PITCH};

/// Where a link stands in its file is not part of the rig.
fn without_spans(mut rig: Rig) -> Rig {
    for link in &mut rig.links {
        link.span = 0..0;
    }
    rig
}

/// Equal, or the first line that differs.
#[track_caller]
pub(crate) fn assert_same(again: &str, first: &str) {
    let differs = again.lines().zip(first.lines()).find(|(a, b)| a != b);
    assert!(again == first, "first printed, then printed again: {differs:?}\n{first}");
}

#[track_caller]
fn check_round(text: &str) {
    let (rig, _) = read(text);
    let printed = write(&rig);
    let (again, problems) = read(&printed);
    let not_understood: Vec<String> = problems
        .iter()
        .filter(|p| {
            ["unknown-line", "unknown-attribute", "bad-name", "unknown-name", "not-a-figure"]
                .contains(&p.code)
        })
        .map(ToString::to_string)
        .collect();
    assert!(not_understood.is_empty(), "{}\n---\n{printed}", not_understood.join("\n"));
    assert_same(&write(&again), &printed);
    assert!(without_spans(again) == without_spans(rig), "same text, other rig:\n{printed}");
}

#[test]
fn both_rigs_print_as_they_read() {
    check_round(DUO);
    check_round(PITCH);
}

#[test]
fn every_kind_prints_as_its_name_alone() {
    for kind in model::shelf::kinds() {
        let (rig, problems) = read(&format!("gear X = {}", kind.name));
        assert!(problems.is_empty(), "{}", kind.name);
        assert!(write(&rig).contains(&format!("gear X = {}\n", kind.name)));
        assert!(!write(&rig).contains("\n  "), "{}", write(&rig));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn any_rig_prints_as_it_reads(text in generated::text()) {
        check_round(&text);
    }
}

/// One knob for a pair of jacks: said once, for both; files that say it for one jack mean the knob all the same.
#[test]
fn one_knob_for_a_pair_is_one_switch() {
    for line in ["switch AUX 3/4 on", "switch AUX 3 on", "switch aux 4 on"] {
        let (rig, problems) = model::text::read(&format!("gear DESK = mixer\n  {line}\n"));
        assert!(problems.is_empty(), "{problems:?}");
        let on: Vec<&str> = rig.gear[0]
            .body
            .routes
            .iter()
            .filter(|r| r.name.starts_with("AUX") && r.switch == model::Switch::On)
            .map(|r| r.name.as_str())
            .collect();
        assert_eq!(on, ["AUX 3", "AUX 4"], "{line}");
        let printed = model::text::write(&rig);
        assert_eq!(printed.matches("switch AUX 3/4 on").count(), 1, "{printed}");
        assert_eq!(model::text::read(&printed).0, rig);
    }
}

/// A phone that is not playing makes nothing, and a speaker that is off stays off, when printed and read again.
#[test]
fn what_picks_up_nothing_or_is_off_reads_back() {
    let (rig, problems) = model::text::read(
        "gear PHONE = phone
  placement locked: 2 s, picks up nothing
  placed locked
gear SPEAKER = busking speaker, at 1 0, off
",
    );
    assert!(problems.is_empty(), "{problems:?}");
    assert_eq!(rig.gear[0].placement().unwrap().sources, Some(Vec::new()));
    assert!(rig.gear[1].off && !rig.gear[0].off);
    assert!(rig.sources.iter().all(|s| s.name != "nothing"));
    let (again, problems) = model::text::read(&model::text::write(&rig));
    assert!(problems.is_empty(), "{problems:?}");
    assert_eq!(again, rig);
}
