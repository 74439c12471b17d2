//! Every single fault of a rig, by name and in the order of the file.

use std::collections::BTreeMap;

use model::{Lost, Placed};
use thiserror::Error;

use super::{Compiled, ceil, parts::fold};
use crate::fault::{Fault, Loss, Mend};
use crate::ids::{GearId, LeadId, LinkId, WearId};

/// What a fault is a fault of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// A mode of a piece: both by their place.
    Mode {
        /// The piece.
        gear: usize,
        /// Which of its modes.
        mode: usize,
    },
    /// A lead or adapter: which piece of which link.
    Lead {
        /// The link.
        link: usize,
        /// The piece, from the out-socket.
        piece: usize,
    },
    /// One spare of this type is not there.
    Spare {
        /// The type.
        lead: usize,
        /// In the bag, or on stage.
        in_bag: bool,
    },
}

/// A fault with the name that a performer gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct Named {
    /// `MIXER: supply`, `VOCAL MIC > MIXER 1`, `spare XLR 6 m`.
    pub key: String,
    /// What it is a fault of.
    pub about: About,
    /// The losses and mends.
    pub fault: Fault,
}

/// No fault of this name.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("nothing here is called \"{name}\"")]
pub struct NoSuchFault {
    /// What was asked for.
    pub name: String,
    /// The nearest names.
    pub near: Vec<String>,
}

pub(super) fn every_single(c: &Compiled, wear: &BTreeMap<String, (usize, u32)>) -> Vec<Named> {
    let mut all = Vec::new();
    for (g, gear) in c.rig.gear.iter().enumerate() {
        if gear.placed == Placed::InCase {
            continue;
        }
        for (m, mode) in gear.body.modes.iter().enumerate() {
            let lost: Vec<Loss> = mode.lost.iter().filter_map(|l| loss(c, g, l)).collect();
            let mends = gear
                .body
                .mends
                .iter()
                .filter(|mend| mend.modes.iter().any(|n| model::same_name(n, &mode.name)));
            let fault = Fault {
                mends: mends
                    .map(|mend| Mend {
                        name: mend.name.clone(),
                        gives: (0..lost.len()).collect(),
                        at: GearId::at(g),
                        seconds: ceil(mend.seconds.value),
                        wear: mend.uses.as_ref().and_then(|(what, n)| {
                            wear.get(&fold(what)).map(|(w, handful)| {
                                (WearId::at(*w), i32::try_from(*n / *handful).unwrap_or(i32::MAX))
                            })
                        }),
                    })
                    .collect(),
                lost,
                doubted: Vec::new(),
            };
            let key = format!("{}: {}", gear.name, mode.name);
            all.push(Named { key, about: About::Mode { gear: g, mode: m }, fault });
        }
        if gear.body.modes.is_empty() {
            let fault = Fault::of([Loss::Gear(GearId::at(g))]);
            let key = format!("{}: all dead", gear.name);
            all.push(Named { key, about: About::Mode { gear: g, mode: 0 }, fault });
        }
    }
    for (i, link) in c.rig.links.iter().enumerate() {
        for piece in 0..link.via.len() {
            let name = format!("{} > {}", c.rig.label(link.from), c.rig.label(link.to));
            let key = match link.via.len() {
                1 => name,
                _ => format!("{name}: {}", c.rig.leads[link.via[piece].0].name),
            };
            let fault = Fault::of([Loss::Lead(LinkId::at(i), piece)]);
            all.push(Named { key, about: About::Lead { link: i, piece }, fault });
        }
    }
    for (t, lead) in c.problem.spec.leads.iter().enumerate() {
        let spare = |in_bag: bool, key: String| Named {
            key,
            about: About::Spare { lead: t, in_bag },
            fault: Fault::of([if in_bag {
                Loss::SpareInCase(LeadId::at(t), 1)
            } else {
                Loss::SpareOnStage(LeadId::at(t), 1)
            }]),
        };
        if c.problem.on_stage[t] > 0 {
            all.push(spare(false, format!("spare {} on stage", lead.name)));
        }
        if lead.case > 0 {
            all.push(spare(true, format!("spare {} in the bag", lead.name)));
        }
    }
    all
}

fn loss(c: &Compiled, g: usize, lost: &Lost) -> Option<Loss> {
    let gear = GearId::at(g);
    let body = &c.rig.gear[g].body;
    Some(match lost {
        Lost::All => Loss::Gear(gear),
        Lost::Sounding => Loss::Sound(gear),
        Lost::Making => Loss::Make(gear),
        Lost::Supply => Loss::Supply(gear),
        Lost::Route(name) => Loss::Route(c.route_id(g, body.route(name)?)),
        Lost::Socket(name) => {
            let socket = body.socket(name)?;
            Loss::Socket(c.socket_id(model::SocketRef { gear: model::GearId(g), socket }))
        }
    })
}

/// The fault that a performer names: whole, or a piece alone (its worst mode: the first that takes all of it, else the
/// first).
pub(super) fn find<'f>(faults: &'f [Named], name: &str) -> Result<&'f Named, NoSuchFault> {
    let wanted = fold(&name.replace(':', ": "));
    if let Some(exact) = faults.iter().find(|f| fold(&f.key) == wanted) {
        return Ok(exact);
    }
    let of_piece: Vec<&Named> = faults
        .iter()
        .filter(|f| f.key.split(": ").next().is_some_and(|piece| fold(piece) == wanted))
        .collect();
    let whole = of_piece.iter().find(|f| f.fault.lost.iter().any(|l| matches!(l, Loss::Gear(_))));
    if let Some(found) = whole.or(of_piece.first()) {
        return Ok(found);
    }
    let words: Vec<&str> = wanted.split_whitespace().collect();
    let likeness = |key: &str| {
        let key = fold(key);
        words.iter().filter(|w| key.contains(w.trim_end_matches(':'))).count()
    };
    let mut near: Vec<&Named> = faults.iter().filter(|f| likeness(&f.key) > 0).collect();
    near.sort_by_key(|f| std::cmp::Reverse(likeness(&f.key)));
    Err(NoSuchFault {
        name: name.to_owned(),
        near: near.into_iter().take(5).map(|f| f.key.clone()).collect(),
    })
}
