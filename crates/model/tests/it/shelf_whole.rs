//! The shelf holds what small acts bring, and every kind says what a card needs of it.

use model::{Act, Class, Form, Kind, Lost, shelf};

/// What people say, and the kind it means. One word at least for every kind of the first two families and of the last.
#[test]
fn what_people_say_is_found() {
    for (said, kind) in [
        ("vocal mic", "dynamic vocal microphone"),
        ("vocal mic with switch", "switched vocal microphone"),
        ("amp mic", "dynamic instrument microphone"),
        ("condenser mic", "condenser vocal microphone"),
        ("small condenser", "small condenser microphone"),
        ("large condenser", "large condenser microphone"),
        ("ribbon mic", "ribbon microphone"),
        ("clip mic", "clip-on microphone"),
        ("headset mic", "headset microphone"),
        ("fiddle", "violin with piezo pickup"),
        ("piezo pickup", "passive piezo pickup"),
        ("acoustic guitar", "guitar with onboard preamp"),
        ("guitar with passive pickup", "guitar with piezo pickup"),
        ("electric violin", "instrument with onboard preamp"),
        ("e-guitar", "electric guitar"),
        ("bass guitar", "electric bass"),
        ("radio mic", "radio hand-held"),
        ("body pack", "radio body pack"),
        ("receiver", "radio receiver"),
        ("guitar radio sender", "plug-in radio sender"),
        ("guitar radio receiver", "plug-in radio receiver"),
        ("keyboard", "stage piano"),
        ("piano with C14", "stage piano with mains inlet"),
        ("keyboard with speakers", "portable keyboard"),
        ("synth", "synthesizer"),
        ("USB keyboard", "controller keyboard"),
        ("rack synth", "sound module"),
        ("violin without pickup", "unplugged violin"),
        ("guitar without pickup", "unplugged guitar"),
        ("sax", "wind instrument"),
        ("cajon", "hand drum"),
        ("e-drums", "electronic drum kit"),
        ("drum pad", "drum machine"),
        ("computer", "laptop"),
        ("laptop for an interface", "laptop with USB audio"),
        ("tablet", "tablet"),
        ("old phone", "phone"),
        ("pocket player", "portable music player"),
        ("track player", "hardware track player"),
        ("interface", "USB audio interface"),
        ("interface 4 outs", "USB audio interface 4 outs"),
        ("click box", "metronome"),
        ("Y lead", "jack Y lead"),
        ("XLR Y", "XLR Y lead"),
        ("stereo jack to two jacks", "insert Y lead"),
        ("mini to phono split", "mini to two phonos"),
        ("sustain", "sustain pedal"),
        ("expression pedal", "expression pedal"),
        ("router", "wireless router"),
        ("stage light", "stage lamp"),
        ("something else", "other"),
    ] {
        let found = shelf::kind(said).map(|k| k.name.as_str());
        assert_eq!(found, Some(kind), "{said}");
    }
    for said in [
        "XLR",
        "jack",
        "balanced jack",
        "mini",
        "mini extension",
        "stereo mini to jack",
        "summing lead",
        "jack to XLR",
        "XLR to jack",
        "XLR to balanced jack",
        "balanced jack to XLR",
        "phono to jack",
        "phono",
        "turn-round",
        "polarity reverse",
        "screen lift",
        "speaker",
        "twist lead",
        "twist to jack",
        "kettle lead",
        "mains C7",
        "mains C5",
        "locking mains",
        "IEC extension",
        "DC extension",
        "barrel 2.1 to 2.5 adapter",
        "9 V trigger",
        "12 V trigger",
        "USB-C",
        "USB",
        "USB-A to C",
        "MIDI",
        "network",
        "DMX",
        "pack lead",
        "phone adapter",
        "jack coupler",
    ] {
        let found = shelf::lead_kind(said).or_else(|| shelf::lead_kind(&format!("{said} lead")));
        let turned = said == "turn-round" && shelf::lead_kind("XLR turn-round female").is_some();
        assert!(found.is_some() || turned, "{said}");
    }
}

fn mine() -> impl Iterator<Item = &'static Kind> {
    let families = ["microphones and pickups", "sources", "other"];
    shelf::kinds().iter().filter(move |k| families.contains(&k.family.as_str()) && k.name != "other")
}

#[test]
fn every_kind_says_what_a_card_needs() {
    let mut wrong = Vec::new();
    for kind in mine() {
        let b = &kind.body;
        let mut need = |holds: bool, what: &str| {
            if !holds {
                wrong.push(format!("{}: {what}", kind.name));
            }
        };
        need(kind.about.ends_with('.'), "says what it is, in a sentence");
        need(b.weight.is_some(), "weighs something, for packing");
        need(!b.modes.is_empty(), "fails somehow");
        need(!b.placements.is_empty(), "stands or is worn somewhere");
        for mode in &b.modes {
            need(!mode.shows.is_empty(), "a failure shows somehow");
        }
        // What is used up by a mend can be replaced in as many seconds, or is a spare of its own.
        for mend in &b.mends {
            need(mend.seconds.value >= 2.0, "a mend takes its time");
        }
        let cells = b.wear.iter().filter(|w| w.what.contains("cell") || w.what.contains("block"));
        for cell in cells {
            let swapped = b.mends.iter().any(|m| m.uses.as_ref().is_some_and(|(what, _)| what == &cell.what));
            need(swapped, "flat cells can be swapped");
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A round plug that fits may carry the wrong volts or the wrong pole: whoever has such a socket says so.
#[test]
fn a_round_supply_socket_has_a_caution() {
    for kind in mine() {
        let round = kind.body.sockets.iter().any(|s| {
            s.input().is_some()
                && s.connectors.iter().any(|c| matches!(c.form, Form::Barrel21 | Form::Barrel25))
        });
        let said = kind.body.cautions.iter().any(|c| c.when == Act::Plug);
        assert!(!round || said, "{}", kind.name);
    }
}

/// A condenser is dark without phantom, so its kind asks for the lamp and says that phantom waits.
#[test]
fn what_needs_phantom_says_so() {
    let mut met = 0;
    for kind in shelf::kinds() {
        for out in kind.body.sockets.iter().filter_map(|s| s.output()) {
            if let model::PhantomAtOutput::Needs { milliamps, .. } = &out.phantom {
                met += 1;
                assert!(milliamps.value <= 10.0, "{}: P48 gives 10 mA (IEC 61938)", kind.name);
            }
        }
        let mic = kind.family == "microphones and pickups";
        let needs = kind
            .body
            .sockets
            .iter()
            .filter_map(|s| s.output())
            .any(|o| o.class == Class::Mic && matches!(o.phantom, model::PhantomAtOutput::Needs { .. }));
        if mic && needs {
            assert!(kind.body.looks.iter().any(|l| l.ask.contains("48V")), "{}", kind.name);
            assert!(kind.body.cautions.iter().any(|c| c.when == Act::Phantom), "{}", kind.name);
        }
    }
    assert!(met >= 4, "{met}");
}

/// Without power nothing is made: what is fed, and makes or passes sound, can lose its supply or its battery.
#[test]
fn what_is_fed_can_go_dark() {
    for kind in mine().filter(|k| !k.name.ends_with(" lead")) {
        let b = &kind.body;
        let fed = b.sockets.iter().any(|s| s.input().is_some() && s.is_supply()) && b.battery.is_none();
        let dark = b.modes.iter().any(|m| m.lost.iter().any(|l| matches!(l, Lost::Supply | Lost::All)));
        assert!(!fed || dark, "{}", kind.name);
    }
}
