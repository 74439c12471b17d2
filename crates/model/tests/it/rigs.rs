//! Two whole rigs: what they must read as.

use model::text::read;
use model::{Placed, Rig, SocketRef};

pub(crate) const DUO: &str = include_str!("duo.rig");
pub(crate) const PITCH: &str = include_str!("pitch.rig");

fn clean(text: &str) -> Rig {
    let (rig, problems) = read(text);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    rig
}

fn socket(rig: &Rig, gear: &str, name: &str) -> SocketRef {
    let id = rig.find_gear(gear).unwrap();
    SocketRef { gear: id, socket: rig.piece(id).unwrap().body.socket(name).unwrap() }
}

#[test]
fn the_duo_reads_without_a_problem() {
    let rig = clean(DUO);
    assert_eq!((rig.gear.len(), rig.links.len(), rig.parts.len()), (23, 23, 9));
    assert_eq!(rig.leads.iter().map(|l| l.owned.value).sum::<u32>(), 26);
    let spare = rig.piece(rig.find_gear("SPARE MIC").unwrap()).unwrap();
    assert_eq!(spare.placed, Placed::InCase);
}

#[test]
fn the_pitch_reads_without_a_problem() {
    let rig = clean(PITCH);
    assert_eq!((rig.gear.len(), rig.links.len()), (8, 5));
}

#[test]
fn a_socket_left_out_is_the_first_free_one_of_the_right_class() {
    let rig = clean(DUO);
    // "SPLIT right > EAR AMP", "MIXER SUPPLY > MIXER", "OUTLET 1 > EXTENSION": sockets found by class.
    for (from, to) in [
        (socket(&rig, "SPLIT", "RIGHT"), socket(&rig, "EAR AMP", "IN")),
        (socket(&rig, "MIXER SUPPLY", "OUT"), socket(&rig, "MIXER", "POWER")),
        (socket(&rig, "OUTLET 1", "1"), socket(&rig, "EXTENSION", "IN")),
    ] {
        assert!(rig.links.iter().any(|l| l.from == from && l.to == to), "{}", rig.label(from));
    }
}

#[test]
fn a_lead_without_a_length_is_guessed_and_says_so() {
    let (rig, problems) = read(
        "home 0 0\ngear MIC = vocal mic, at 0 0\ngear MIXER = mixer, at 3 0\nMIC > XLR > MIXER 1\nMIC no",
    );
    assert_eq!(problems.len(), 1);
    let lead = &rig.leads[0];
    // 1.2 x 3 m and rises of 1.5 and 1 m: 6.1 m, so the 10 m one.
    assert_eq!((lead.name.as_str(), lead.length.value), ("XLR 10 m", 10.0));
    assert!(lead.length.is_doubtful() && lead.owned.is_doubtful());
    assert_eq!(lead.owned.value, 1);
}

#[test]
fn a_line_without_a_lead_gets_one_that_fits() {
    let (rig, problems) = read("gear MIC = vocal mic\ngear MIXER = mixer\nMIC > MIXER 1");
    assert!(problems.is_empty());
    assert_eq!(rig.lead(rig.links[0].via[0]).unwrap().kind.name, "XLR");
}

#[test]
fn words_people_use_reach_the_same_socket() {
    for words in ["1", "ch 1", "channel 1", "in 1", "Input 1", "ch1"] {
        let text = format!("gear MIC = vocal mic\ngear MIXER = mixer\nMIC -> 6m xlr -> mixer {words}");
        let (rig, problems) = read(&text);
        assert!(problems.is_empty(), "{words}");
        assert_eq!(rig.label(rig.links[0].to), "MIXER 1", "{words}");
    }
}

#[test]
fn anything_a_kind_gives_can_be_said_otherwise() {
    let (rig, problems) = read(
        "gear PIANO = stage piano\n  starts in 12 s (measured)\n  draws don't know\n  without socket PHONES\n  makes organ\n  mode supply: 90 %, loses supply (\n",
    );
    // The last line has an open bracket; the rest still counts.
    assert_eq!(problems.len(), 1, "{problems:?}");
    let piano = &rig.gear[0].body;
    assert_eq!(piano.boot.to_owned(), model::Figure::new(12.0, model::Origin::Measured));
    assert_eq!((piano.watts.known(), piano.watts.value), (None, 24.0));
    assert!(piano.socket("PHONES").is_none());
    let made: Vec<&str> = piano.makes.iter().map(|m| m.source.as_str()).collect();
    assert_eq!(made, ["organ", "organ right", "organ right"]);
}

#[test]
fn a_box_of_ones_own_is_written_by_hand() {
    let (rig, problems) = read(
        "gear BOX = other\n  socket IN: in, jack, takes line -20..20 dBu into 10000 ohm\n  socket OUT: out, XLR, mic -40/-20 dBu\n  route through: IN > OUT, gain -20 dB, passive\ngear MIXER = mixer\nBOX > XLR 3 m > MIXER 1",
    );
    assert!(problems.is_empty(), "{problems:?}");
    assert_eq!(rig.gear[0].body.routes.len(), 1);
    assert!(!rig.gear[0].needs_power());
}
