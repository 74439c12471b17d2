//! Things of a compiled rig in the performer's own labels.

use check::compile::{Compiled, Turn};
use check::ids::{GearId, KnobId, PartId};
use check::spec::Rank;
use model::BankEffect;

use crate::view;

/// `voice for audience`.
pub(crate) fn part(c: &Compiled, p: PartId) -> String {
    c.problem.part(p).name.clone()
}

/// How much it matters.
pub(crate) fn rank(c: &Compiled, p: PartId) -> view::Matters {
    match c.problem.part(p).rank {
        Rank::Must => view::Matters::Must,
        Rank::Should => view::Matters::Should,
        Rank::Nice => view::Matters::Nice,
        Rank::Never => view::Matters::Never,
    }
}

/// The taped name.
pub(crate) fn gear(c: &Compiled, g: GearId) -> String {
    c.name(g).to_owned()
}

/// What is printed on a knob or switch.
pub(crate) fn knob(c: &Compiled, k: KnobId) -> String {
    match c.turn(k) {
        Turn::Route(at) => c.rig.route(at).map_or(String::new(), |r| r.name.clone()),
        Turn::Bank(g, bank) => {
            let bank = c.rig.piece(g).and_then(|g| g.body.banks.get(bank));
            bank.map_or(String::new(), |b| match b.effect {
                BankEffect::Phantom | BankEffect::Mute(_) => b.name.clone(),
            })
        }
    }
}
