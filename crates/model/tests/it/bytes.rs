//! Nothing that can be in a file makes reading panic or lose its place.

use std::path::Path;

use model::Spot;
use model::text::{Document, MOST_LINES, read, read_bytes, write};
use proptest::prelude::*;

use crate::generated;
use crate::print_read::assert_same;
use crate::rigs::{DUO, PITCH};

/// Reads, prints, and checks what holds for every file whatever is in it.
fn check_bytes(bytes: &[u8]) {
    let (rig, problems) = read_bytes(bytes);
    let text = String::from_utf8_lossy(bytes);
    for p in &problems {
        assert!(p.span.start <= p.span.end && p.span.end <= text.len(), "{p}");
        assert!(p.line >= 1 && p.line <= text.lines().count() + 1, "{p}");
        assert!(!p.message.is_empty() && p.help.is_some(), "{p}");
        assert!(!p.message.ends_with('.'), "{p}");
    }
    let printed = write(&rig);
    assert_same(&write(&read(&printed).0), &printed);
    let mut document = Document::new(text.clone());
    assert_eq!(document.text(), text);
    if let Some(piece) = rig.gear.first() {
        let at = Spot { x: 1.5, y: -2.0 };
        if document.set_position(&piece.name, at).is_ok() {
            let moved = document.rig().0;
            assert_eq!(moved.gear.len(), rig.gear.len());
            assert!(moved.gear.iter().any(|g| g.at == Some(at)), "{}", document.text());
        }
    }
}

#[test]
fn every_file_of_the_fuzz_corpus_reads() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fuzz/corpus/read_rig");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|f| f.unwrap().path()).collect();
    files.sort();
    assert!(files.len() >= 30, "{}", files.len());
    for file in files {
        check_bytes(&std::fs::read(file).unwrap());
    }
}

#[test]
fn a_file_of_nonsense_lines_ends_soon() {
    let many: String = (0..MOST_LINES + 5).map(|n| format!("gear X{n} = mixer\n")).collect();
    let (rig, problems) = read(&many);
    assert_eq!(rig.gear.len(), 2000);
    assert!(problems.iter().any(|p| p.code == "too-many-pieces"));
    let nonsense = "zzz yyy > xxx\nsocket\n".repeat(MOST_LINES);
    let codes: Vec<&str> = read(&nonsense).1.iter().map(|p| p.code).collect();
    assert_eq!(codes.last(), Some(&"more-problems"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn no_bytes_make_reading_panic(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        check_bytes(&bytes);
    }

    #[test]
    fn no_text_makes_reading_panic(text in r#"([ -~äΩ−→\n"(:,>+=#]{0,12}(gear|socket|route|lead|must|at|\n| = |: |, ){0,2}){0,30}"#) {
        check_bytes(text.as_bytes());
    }

    #[test]
    fn no_slip_in_a_good_file_makes_reading_panic(
        text in prop_oneof![Just(DUO.to_owned()), Just(PITCH.to_owned()), generated::text()],
        slips in prop::collection::vec((any::<prop::sample::Index>(), 0_u8..4, any::<u8>()), 1..12),
    ) {
        let mut bytes = text.into_bytes();
        for (at, what, byte) in slips {
            if bytes.is_empty() { break; }
            let at = at.index(bytes.len());
            match what {
                0 => { bytes.remove(at); }
                1 => bytes.insert(at, byte),
                2 => bytes[at] = b",:>+()\"#=\n .x0-"[usize::from(byte) % 15],
                _ => bytes.truncate(at),
            }
        }
        check_bytes(&bytes);
    }
}
