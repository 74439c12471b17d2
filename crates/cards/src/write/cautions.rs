//! What can hurt somebody at a step.

use check::ids::{GearId, SocketId};
use engine::Do;
use model::{Act, BankEffect};

use super::book::Book;
use super::say;
use crate::line::{Line, Run, text};

/// Kilograms above which two people lift. Common practice.
const TWO_LIFT: f64 = 20.0;

/// The caution of one act, or `None`.
///
/// `dead`: the piece that has no power or no life left. Its plugs neither pop nor burn, and what is said at every step
/// is read at none.
pub(super) fn caution(
    book: Book<'_>,
    does: &Do,
    mend: Option<&model::Mend>,
    dead: Option<GearId>,
) -> Option<Line> {
    let mut runs: Vec<Run> = Vec::new();
    match does {
        Do::Quieten(_) => {}
        Do::BringUp(_) => runs.push(text("Up slowly from zero, or it howls.")),
        Do::Pull { from, .. } => plug(book, *from, dead, &mut runs),
        Do::Plug { from, to, .. } => {
            if book.is_mains(*from) || book.is_mains(*to) {
                plug(book, if book.is_mains(*from) { *from } else { *to }, dead, &mut runs);
            } else {
                plug(book, *to, dead, &mut runs);
            }
        }
        Do::Place { gear, .. } => {
            let weight = book.gear(*gear).and_then(|g| g.body.weight.as_ref()).map_or(0.0, |w| w.value);
            if weight > TWO_LIFT {
                runs.push(text("Two people lift it."));
            }
            runs.extend(own(book, *gear, Act::Lift));
        }
        Do::Start { gear, .. } => runs.extend(own(book, *gear, Act::Switch)),
        Do::Knob { knob, .. } => {
            if let check::compile::Turn::Bank(g, b) = book.c.turn(*knob) {
                let effect =
                    book.c.rig.gear.get(g.0).and_then(|g| g.body.banks.get(b)).map(|bank| &bank.effect);
                if effect == Some(&BankEffect::Phantom) {
                    runs.push(text("Mute first. Wait 5 s each way."));
                }
            }
        }
        Do::Mend { .. } => {
            runs.extend(mend.and_then(|m| m.caution.as_deref()).map(say::sentences).into_iter().flatten());
        }
    }
    (!runs.is_empty()).then(|| runs.into())
}

/// Mains first; else what the owner or the shelf says about plugs of this piece: what is about volts and polarity at a
/// supply plug only, the rest at the others.
fn plug(book: Book<'_>, s: SocketId, dead: Option<GearId>, runs: &mut Vec<Run>) {
    if book.is_mains(s) {
        runs.push(text("Mains. Dry hands, dry plug."));
        return;
    }
    let g = book.gear_of(s);
    let cautions = book.gear(g).map(|g| g.body.cautions.as_slice()).unwrap_or_default();
    for caution in cautions.iter().filter(|c| c.when == Act::Plug) {
        let words = caution.words.to_lowercase();
        let supply = ["polarity", "volt", "centre", "plate"].iter().any(|w| words.contains(w));
        if supply == book.is_supply(s) && (supply || dead != Some(g)) {
            runs.extend(say::sentences(&caution.words));
        }
    }
}

fn own(book: Book<'_>, g: GearId, when: Act) -> Vec<Run> {
    let cautions = book.gear(g).map(|g| g.body.cautions.as_slice()).unwrap_or_default();
    cautions.iter().filter(|c| c.when == when).flat_map(|c| say::sentences(&c.words)).collect()
}
