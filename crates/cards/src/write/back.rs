//! The way back: how it stands again as it normally does.

use check::compile::About;
use engine::{Do, Way};

use super::book::Book;
use super::group::Group;
use super::steps::stood;
use crate::card::Step;
use crate::line::{Line, printed, tape, text};

/// Most speakers, or switches, told one by one.
const NAMES: usize = 2;

/// The way back. What was mended or switched on, or stands in for a broken lead, stays as it is.
///
/// Undoing the steps from the last to the first goes through the same patches as doing them, each of which was judged safe
/// on the way there; what a step turned or set goes back with it, so only switches of plugs that stayed in are told.
pub(super) fn put_back(book: Book<'_>, group: &Group<'_>, way: &Way, steps: &[Step]) -> Vec<Line> {
    let acts = &way.order.steps;
    if steps.is_empty() || acts.iter().all(|s| stays(&s.does)) {
        return Vec::new();
    }
    if acts.iter().any(|s| mains(book, &s.does)) {
        // Pulling mains plugs of live gear for tidiness is a risk for nothing.
        return vec![Line::text("Leave it so until the show ends.")];
    }
    if let Some(lead) = replaced(book, group, way) {
        return vec![[text("Leave it so. Mark"), lead, text("as dead.")].into()];
    }
    let mut out = vec![once(book, group)];
    let loud: Vec<_> =
        acts.iter().filter_map(|s| if let Do::Quieten(g) = s.does { Some(g) } else { None }).collect();
    let one = loud.first().filter(|one| loud.iter().all(|g| g == *one));
    match (loud.is_empty(), one) {
        (true, _) => {}
        (false, Some(one)) => out.push([text("Turn"), book.name(*one), text("to 0.")].into()),
        (false, None) => out.push(Line::text("Turn every speaker to 0.")),
    }
    out.push(Line::text(match steps {
        [_] => "Undo step 1.".to_owned(),
        _ => "Undo the steps you did, the last first.".to_owned(),
    }));
    if acts.iter().any(|s| matches!(s.does, Do::Start { .. })) {
        out.push(Line::text("What you switched on stays on."));
    }
    out.extend(switches(book, way));
    if !loud.is_empty() {
        let them = if one.is_some() { "it" } else { "them" };
        out.push(Line::text(format!("Then bring {them} up slowly.")));
    }
    out
}

/// What is not undone.
pub(super) fn stays(does: &Do) -> bool {
    matches!(does, Do::Mend { .. } | Do::Start { .. })
}

fn mains(book: Book<'_>, does: &Do) -> bool {
    match does {
        Do::Pull { from, .. } => book.is_mains(*from),
        Do::Plug { from, to, .. } => book.is_mains(*from) || book.is_mains(*to),
        _ => false,
    }
}

/// The broken lead, where the plan puts another in its place and nothing else.
fn replaced(book: Book<'_>, group: &Group<'_>, way: &Way) -> Option<crate::line::Run> {
    let [thing] = group.things.as_slice() else { return None };
    let About::Lead { link, piece } = thing.named.about else { return None };
    let broken = book.c.problem.spec.patch.get(link)?;
    let plan = &way.cover.plan;
    let [new] = plan.new.as_slice() else { return None };
    let pair = book.c.problem.pairs.pairs.get(new.pair)?;
    let only = plan.places.is_empty() && plan.knobs.is_empty();
    let other = plan.pulls.iter().any(|(l, _)| l.ix() != link);
    let lead = if thing.whole { book.main_lead(&broken.via)? } else { *broken.via.get(piece)? };
    ((pair.from, pair.to) == (broken.from, broken.to) && only && !other).then(|| book.lead(lead))
}

/// "Once `MIXER` works again:"
fn once(book: Book<'_>, group: &Group<'_>) -> Line {
    match group.things.as_slice() {
        [thing] => match thing.named.about {
            About::Mode { gear, .. } => {
                let name = book.c.rig.gear.get(gear).map_or("?", |g| g.name.as_str());
                [text("Once"), tape(name), text("works again:")].into()
            }
            About::Lead { .. } | About::Spare { .. } => Line::text("Once you have a good lead:"),
        },
        _ if group.together => Line::text("Once all of it works again:"),
        _ => Line::text("Once it works again:"),
    }
}

/// Switches of inputs whose plug stayed in: no step's undoing reaches them by itself.
fn switches(book: Book<'_>, way: &Way) -> Vec<Line> {
    let mut out: Vec<Line> = Vec::new();
    for new in &way.cover.plan.new {
        let Some(pair) = book.c.problem.pairs.pairs.get(new.pair) else { continue };
        let (Some(was), Some(is)) = (stood(book, pair.to), book.class_of(pair.from)) else { continue };
        if was != is && out.len() < NAMES {
            let mut runs = vec![text("Set")];
            runs.extend(book.place(pair.to));
            runs.extend([text("to"), printed(was), text(".")]);
            out.push(runs.into());
        }
    }
    out
}
