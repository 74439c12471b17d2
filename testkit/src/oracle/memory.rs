//! Banks that forget: which pieces have had their supply all the time.

use super::options::Options;
use super::rules::Rule;
use super::table::{Down, Table};

/// By bank: it forgets, and its piece has started anew.
///
/// Asked of possibilities, it says which banks have forgotten for sure.
pub(super) fn forgotten(table: &Table<'_>, options: &Options) -> Vec<bool> {
    let banks = &table.rig.banks;
    if !table.rules.has(Rule::Forgets) || banks.iter().all(|bank| !bank.forgets) {
        return vec![false; banks.len()];
    }
    // What had no supply in the normal patch has lost none now.
    let nothing = Down::of(table.rig, &[]);
    let before = whole(table, &Options::plugged(table), &nothing);
    let now = whole(table, options, &table.fault);
    banks.iter().map(|bank| bank.forgets && before[bank.gear] && !now[bank.gear]).collect()
}

/// By gear: does an untouched chain of normal supply links that `fault` leaves whole lead to it from an outlet?
///
/// The fault counts whole, whatever has been mended since: power that comes back has been away.
fn whole(table: &Table<'_>, options: &Options, fault: &Down) -> Vec<bool> {
    let rig = table.rig;
    let has_supply = |g: usize| !fault.gear[g] && !fault.supply[g];
    let ground = |g: usize| {
        let gear = &rig.gear[g];
        if gear.root { has_supply(g) } else { !gear.needs_power }
    };
    let mut whole: Vec<bool> = (0..rig.gear.len()).map(ground).collect();
    loop {
        let mut grown = false;
        for (i, link) in table.normal.iter().enumerate() {
            let (from, to) = (link.wire.from, link.wire.to);
            let (feeder, fed) = (rig.sockets[from].gear, rig.sockets[to].gear);
            let kept = link.wire.supply && options.normal[i] && fault.piece[i].iter().all(|dead| !dead);
            let works =
                !fault.socket[from] && !fault.socket[to] && options.guard(table, rig.sockets[to].guard);
            if kept && works && whole[feeder] && !whole[fed] && has_supply(fed) {
                whole[fed] = true;
                grown = true;
            }
        }
        if !grown {
            return whole;
        }
    }
}
