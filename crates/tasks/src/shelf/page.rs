//! The page of one kind.

use model::{Figure, Kind, LeadKind, Lost, PhantomAtInput, PhantomAtOutput, Side, Socket, Wiring};

use super::plugs::plug;
use super::{named, named_lead};
use crate::view;

/// A kind of gear.
pub(super) fn kind(kind: &Kind) -> view::KindPage {
    let b = &kind.body;
    view::KindPage {
        kind: named(kind),
        family: kind.family.clone(),
        figures: own_figures(kind),
        sockets: b.sockets.iter().map(socket).collect(),
        modes: b
            .modes
            .iter()
            .map(|m| view::Mode {
                name: m.name.clone(),
                takes: m.lost.iter().map(lost).collect(),
                share: figure("share of its faults", &m.share, "%"),
                shows: m.shows.clone(),
                still_works: m.still_works.clone(),
            })
            .collect(),
        looks: b
            .looks
            .iter()
            .map(|l| view::Look {
                ask: l.ask.clone(),
                state: l.state.clone(),
                seconds: figure("look", &l.seconds, "s"),
                right_in: figure("put right", &l.right_in, "s"),
            })
            .collect(),
        mends: b
            .mends
            .iter()
            .map(|m| view::Mend {
                name: m.name.clone(),
                modes: m.modes.clone(),
                seconds: figure("takes", &m.seconds, "s"),
                uses: m.uses.as_ref().map(|(what, n)| format!("{what} x{n}")),
                caution: m.caution.clone(),
            })
            .collect(),
        cautions: b.cautions.iter().map(|c| c.words.clone()).collect(),
        questions: kind.questions.clone(),
    }
}

/// A kind of lead.
pub(super) fn lead(lead: &LeadKind) -> view::LeadPage {
    let mut figures = Vec::new();
    figures.extend(lead.pf_per_metre.as_ref().map(|f| figure("capacitance a metre", f, "pF")));
    figures.extend(lead.ohms_per_metre.as_ref().map(|f| figure("resistance a metre", f, "ohm")));
    view::LeadPage {
        kind: named_lead(lead),
        ends: lead.ends.each_ref().map(plug),
        wiring: match lead.wiring {
            Wiring::Bal => "bal",
            Wiring::Ts => "ts",
            Wiring::Sum => "sum",
            Wiring::Dup => "dup",
            Wiring::Power => "power",
        }
        .to_owned(),
        carries: lead.carries.iter().map(ToString::to_string).collect(),
        adapter: lead.adapter,
        lengths: lead.lengths.clone(),
        figures,
        beware: lead.cautions.clone(),
    }
}

fn own_figures(kind: &Kind) -> Vec<view::Figure> {
    let b = &kind.body;
    let mut all = Vec::new();
    if b.watts.value > 0.0 {
        all.push(figure("draws", &b.watts, "W"));
    }
    all.extend(b.rating.as_ref().map(|r| figure("feeds at most", r, "W")));
    if b.boot.value > 0.0 {
        all.push(figure("starts in", &b.boot, "s"));
    }
    all.extend(b.battery.as_ref().map(|x| figure("battery", &x.hours, "h")));
    for p in &b.placements {
        let who = |w: &model::Who| match w {
            model::Who::Audience => model::AUDIENCE.to_owned(),
            model::Who::Performers => "performers".to_owned(),
            model::Who::Named(name) => name.clone(),
        };
        let levels =
            p.hears.iter().map(|h| figure(&format!("{}, heard by {}", p.name, who(&h.who)), &h.level, "dB"));
        all.extend(levels);
    }
    all.extend(b.weight.as_ref().map(|w| figure("weighs", w, "kg")));
    all
}

fn socket(s: &Socket) -> view::Socket {
    let mut figures = Vec::new();
    figures.extend(s.tail.as_ref().map(|t| figure("its own cable", t, "m")));
    let (direction, classes) = match &s.side {
        Side::Out(o) => {
            if let Some(l) = &o.level {
                figures.push(figure("usual level", &l.nominal, "dBu"));
                figures.push(figure("peaks", &l.peak, "dBu"));
                figures.extend(l.down_to.as_ref().map(|d| figure("turned down", d, "dBu")));
            }
            figures.extend(o.impedance.as_ref().map(|z| figure("source", z, "ohm")));
            figures.extend(o.capacitance_nf.as_ref().map(|c| figure("capacitance", c, "nF")));
            match &o.phantom {
                PhantomAtOutput::Fine => {}
                PhantomAtOutput::Needs { volts, milliamps } => {
                    figures.push(figure("needs phantom", volts, "V"));
                    figures.push(figure("draws from phantom", milliamps, "mA"));
                }
                PhantomAtOutput::Harmed => {}
            }
            figures.extend(o.milliamps.as_ref().map(|m| figure("gives", m, "mA")));
            let mut classes = vec![o.class.to_string()];
            if o.phantom == PhantomAtOutput::Harmed {
                classes.push("harmed by phantom".to_owned());
            }
            ("out", classes)
        }
        Side::In(i) => {
            let mut classes = Vec::new();
            for a in &i.accepts {
                classes.push(a.class.to_string());
                if a.class.is_sound() {
                    figures.push(figure(&format!("{} from", a.class), &a.least, "dBu"));
                    figures.push(figure(&format!("{} to", a.class), &a.most, "dBu"));
                }
                figures.extend(a.load.as_ref().map(|l| figure(&format!("{} into", a.class), l, "ohm")));
            }
            figures.extend(i.milliamps.as_ref().map(|m| figure("draws", m, "mA")));
            match &i.phantom {
                PhantomAtInput::No => {}
                PhantomAtInput::Switched(bank) => classes.push(format!("phantom by {bank}")),
                PhantomAtInput::Always => classes.push("phantom always".to_owned()),
            }
            ("in", classes)
        }
    };
    view::Socket {
        name: s.name.clone(),
        direction: direction.to_owned(),
        plugs: s.connectors.iter().map(plug).collect(),
        classes,
        figures,
    }
}

fn lost(l: &Lost) -> String {
    match l {
        Lost::All => "everything".to_owned(),
        Lost::Sounding => "its loudspeaker".to_owned(),
        Lost::Making => "what it makes".to_owned(),
        Lost::Supply => "its supply".to_owned(),
        Lost::Route(name) | Lost::Socket(name) => name.clone(),
    }
}

fn figure(name: &str, f: &Figure<f64>, unit: &str) -> view::Figure {
    view::Figure {
        name: name.to_owned(),
        value: f.value,
        unit: unit.to_owned(),
        range: f.range.map(|(least, most)| [least, most]),
        origin: f.origin.to_string(),
    }
}
