//! Boxes that quick lines name and the shelf has not: written out in full, as an owner would.
//!
//! Where the shelf has such a kind, that one is taken, and the box here rests.

use std::sync::LazyLock;

use super::super::detail;
use super::super::lay;
use super::super::scan::{Piece, Slips};
use crate::{Gear, Kind, Origin, Placed, Stand};

/// Name and lines. Figures are common practice.
const BOXES: [(&str, &[&str]); 4] = [
    (
        "power amplifier",
        &[
            "on floor",
            "socket IN: in, XLR or jack, bal, takes line -10..22 dBu into 20000 ohm",
            "socket SPEAKER OUT: out, jack, ts, speaker 25/35 dBu down to -40 dBu",
            "socket MAINS: in, C14, takes mains",
            "route channel: IN > SPEAKER OUT",
            "draws 200 W",
            "loud",
            "starts in 4 s",
        ],
    ),
    (
        "passive speaker",
        &[
            "on speaker stand",
            "socket A: in, jack, ts, takes speaker -20..45 dBu into 8 ohm",
            "socket B: out, jack, ts, speaker 25/35 dBu down to -40 dBu",
            "route link: A > B, copy, passive",
            "sounds A",
            "placement out front: 8 s, hears audience 98 dB",
            "loud",
        ],
    ),
    (
        "radio hand-held",
        &[
            "on microphone stand",
            // Through the air, some 30 m: as a cable that nobody trips over.
            "socket AIR: out, own radio plug, bal, mic -40/-20 dBu, tail 30 m",
            "makes voice at AIR",
            "battery 8 h (6..10)",
            "starts by hand",
            "starts in 3 s",
            "uses AA cell x2, lasts 8 h (6..10), 30 s",
            "placement at the singer: 8 s, picks up voice",
        ],
    ),
    (
        "radio receiver",
        &[
            "on table",
            "socket AIR: in, own radio socket, takes mic -60..0 dBu",
            "socket OUT: out, XLR, bal, mic -20/-5 dBu down to -45 dBu, 200 ohm",
            "socket LINE OUT: out, jack, ts, line -6/8 dBu, 1000 ohm",
            "socket DC 12V: in, barrel 2.1, takes 12 V c+, draws 300 mA",
            "route radio: AIR > OUT + LINE OUT",
            "draws 4 W",
            "starts by hand",
            "starts in 3 s",
        ],
    ),
];

static KINDS: LazyLock<Vec<(Kind, &'static [&'static str])>> =
    LazyLock::new(|| BOXES.iter().map(|(name, lines)| (kind(name, lines), *lines)).collect());

fn kind(name: &str, lines: &[&str]) -> Kind {
    let mut gear = Gear::bare(name);
    for line in lines {
        let mut slips = Slips::default();
        if let Some(detail) = detail::read(Piece::new(line, 0), &Origin::Typical, &mut slips) {
            // A test holds that every line lies.
            lay::apply(&detail, &mut gear).ok();
        }
    }
    let usual_placement = match &gear.placed {
        Placed::At(name) => name.clone(),
        Placed::InCase => String::new(),
    };
    Kind {
        name: name.to_owned(),
        also: Vec::new(),
        family: String::new(),
        about: String::new(),
        stands: Stand::Table,
        usual_placement,
        body: gear.body,
        questions: Vec::new(),
    }
}

/// The box of that name.
pub(super) fn find(name: &str) -> Option<&'static Kind> {
    KINDS.iter().map(|(k, _)| k).find(|k| k.name == name)
}

/// Its lines, each with its figures marked typical; `None` for a kind of the shelf.
pub(super) fn lines(kind: &Kind) -> Option<Vec<String>> {
    let (_, lines) = KINDS.iter().find(|(k, _)| k.name == kind.name && kind.family.is_empty())?;
    let mut out = Vec::new();
    for line in *lines {
        let mut slips = Slips::default();
        let detail = detail::read(Piece::new(line, 0), &Origin::Typical, &mut slips)?;
        out.push(super::super::write::print_detail(&detail));
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::validate;

    #[test]
    fn every_line_of_every_box_is_understood() {
        for (name, lines) in BOXES {
            let mut gear = Gear::bare(name);
            for line in lines {
                let mut slips = Slips::default();
                let read = detail::read(Piece::new(line, 0), &Origin::Typical, &mut slips).unwrap();
                lay::apply(&read, &mut gear).unwrap();
                assert!(slips.0.is_empty(), "{line}");
            }
            assert_eq!(validate::body(&gear.body), Vec::<String>::new(), "{name}");
        }
    }
}
