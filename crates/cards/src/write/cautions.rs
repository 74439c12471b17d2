//! What can hurt somebody at a step.

use check::ids::{GearId, SocketId};
use engine::Do;
use model::{Act, BankEffect};

use super::book::Book;
use super::say;
use crate::line::Line;

/// Kilograms above which two people lift. Common practice.
const TWO_LIFT: f64 = 20.0;

/// The cautions of one act.
///
/// `dead`: the pieces that have no power or no life left. Their plugs neither pop nor burn, and what is said at every step
/// is read at none.
pub(super) fn caution(book: Book<'_>, does: &Do, mend: Option<&model::Mend>, dead: &[GearId]) -> Vec<Line> {
    let mut said: Vec<Line> = Vec::new();
    match does {
        Do::Quieten(_) => {}
        Do::BringUp(_) => said.push(Line::text("Up slowly from zero, or it howls.")),
        Do::Pull { from, .. } => plug(book, *from, dead, &mut said),
        Do::Plug { from, to, .. } => {
            if book.is_mains(*from) || book.is_mains(*to) {
                plug(book, if book.is_mains(*from) { *from } else { *to }, dead, &mut said);
            } else {
                plug(book, *to, dead, &mut said);
                said.extend(at_an_ear(book, book.gear_of(*to), dead));
            }
        }
        Do::Place { gear, .. } => {
            let weight = book.gear(*gear).and_then(|g| g.body.weight.as_ref()).map_or(0.0, |w| w.value);
            if weight > TWO_LIFT {
                said.push(Line::text("Two people lift it."));
            }
            said.extend(own(book, *gear, Act::Lift));
        }
        Do::Start { gear, .. } => {
            said.extend(own(book, *gear, Act::Switch));
            said.extend(at_an_ear(book, *gear, dead));
        }
        Do::Knob { knob, .. } => {
            if let check::compile::Turn::Bank(g, b) = book.c.turn(*knob) {
                let effect =
                    book.c.rig.gear.get(g.0).and_then(|g| g.body.banks.get(b)).map(|bank| &bank.effect);
                if effect == Some(&BankEffect::Phantom) {
                    said.push(Line::text("Mute first. Wait 5 s each way."));
                }
            }
        }
        Do::Mend { .. } => {
            said.extend(mend.and_then(|m| m.caution.as_deref()).map(|c| say::sentences(c).into()));
        }
    }
    said
}

/// Mains first; else what the owner or the shelf says about plugs of this piece: what is about volts and polarity at a
/// supply plug only, the rest at the others.
fn plug(book: Book<'_>, s: SocketId, dead: &[GearId], said: &mut Vec<Line>) {
    if book.is_mains(s) {
        said.push(Line::text("Mains. Dry hands, dry plug."));
        return;
    }
    let g = book.gear_of(s);
    let cautions = book.gear(g).map(|g| g.body.cautions.as_slice()).unwrap_or_default();
    for caution in cautions.iter().filter(|c| c.when == Act::Plug) {
        let words = caution.words.to_lowercase();
        let supply = ["polarity", "volt", "centre", "plate"].iter().any(|w| words.contains(w));
        if supply == book.is_supply(s) && (supply || !dead.contains(&g)) {
            said.push(say::sentences(&caution.words).into());
        }
    }
}

/// What comes up at an ear the moment the plug is in. A loud speaker is turned down and brought up in steps of its own.
fn at_an_ear(book: Book<'_>, g: GearId, dead: &[GearId]) -> Vec<Line> {
    let loud = book.gear(g).is_none_or(|g| g.body.loud);
    if loud || dead.contains(&g) { Vec::new() } else { own(book, g, Act::Level) }
}

fn own(book: Book<'_>, g: GearId, when: Act) -> Vec<Line> {
    let cautions = book.gear(g).map(|g| g.body.cautions.as_slice()).unwrap_or_default();
    cautions.iter().filter(|c| c.when == when).map(|c| say::sentences(&c.words).into()).collect()
}
