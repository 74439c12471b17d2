//! Any bytes give a rig and problems; printing that rig and reading it back prints the same; edits keep every other byte.
//!
//! The corpus beside this file is also read by an ordinary test: `crates/model/tests/it/bytes.rs`.
#![no_main]

use libfuzzer_sys::fuzz_target;
use model::Spot;
use model::text::{Document, read, read_bytes, write};

fuzz_target!(|bytes: &[u8]| {
    let (rig, problems) = read_bytes(bytes);
    let text = String::from_utf8_lossy(bytes).into_owned();
    for problem in &problems {
        assert!(problem.span.end <= text.len() || text.len() > model::text::MOST_BYTES, "{problem}");
    }
    let printed = write(&rig);
    assert_eq!(write(&read(&printed).0), printed);
    let mut document = Document::new(text.clone());
    assert_eq!(document.text(), text);
    if let Some(piece) = rig.gear.first() {
        let (name, at) = (piece.name.clone(), Spot { x: 1.5, y: -2.0 });
        if document.set_position(&name, at).is_ok() {
            let moved = document.rig().0;
            assert_eq!(moved.gear.len(), rig.gear.len());
            assert!(moved.gear.iter().any(|g| g.at == Some(at)));
        }
        let _ = document.rename_gear(&name, "ZZ RENAMED");
    }
});
