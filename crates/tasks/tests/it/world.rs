//! The disk: a page is written whole or not at all.

use std::path::PathBuf;

use tasks::world;

fn folder(name: &str) -> PathBuf {
    let at = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _gone = std::fs::remove_dir_all(&at);
    std::fs::create_dir_all(&at).unwrap();
    at
}

fn names(at: &PathBuf) -> Vec<String> {
    let mut names: Vec<String> =
        std::fs::read_dir(at).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_page_takes_the_place_of_the_old_one_and_leaves_nothing_beside_it() {
    let at = folder("write");
    let page = at.join("cards.html");
    world::write(&page, b"old").unwrap();
    world::write(&page, b"new").unwrap();
    assert_eq!(std::fs::read(&page).unwrap(), b"new");
    assert_eq!(names(&at), ["cards.html"]);
}

#[test]
fn a_folder_is_refused_and_a_missing_one_leaves_nothing() {
    let at = folder("refused");
    assert_eq!(world::write(&at, b"x").unwrap_err().code, "a-folder");
    let bad = world::write(&at.join("none/cards.html"), b"x").unwrap_err();
    assert_eq!((bad.code, bad.found.as_str()), ("not-written", "its folder is not there"));
    assert!(names(&at).is_empty());
}

#[test]
fn a_file_of_just_the_greatest_size_is_read_and_one_byte_more_is_not() {
    let at = folder("size").join("big.rig");
    let most = model::text::MOST_BYTES;
    std::fs::write(&at, vec![b'#'; most]).unwrap();
    assert_eq!(world::read(&at).unwrap().len(), most);
    std::fs::write(&at, vec![b'#'; most + 1]).unwrap();
    assert_eq!(world::read(&at).unwrap_err().code, "too-big");
}

#[test]
fn a_slip_in_the_name_of_a_file_finds_it() {
    let at = folder("slip");
    std::fs::write(at.join("corner-bar.rig"), "").unwrap();
    let bad = world::read(&at.join("corner-bra.rig")).unwrap_err();
    assert!(bad.fix.ends_with("corner-bar.rig?"), "{}", bad.fix);
}
