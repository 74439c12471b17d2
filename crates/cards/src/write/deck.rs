//! All cards of a rig, and the list that finds them.

use check::Judge;
use check::fault::{Fault, Loss, Mend};
use check::ids::{GearId, PartId};
use engine::{Badness, Way};

use super::book::Book;
use super::group::{Group, groups, main_way, waits};
use super::{Told, different, looks, mouth, notes, picture, steps, title};
use crate::card::{Card, Foot, HaventGot, Next};
use crate::deck::{Deck, Rank, SilentRow};
use crate::line::{Line, text};

/// Most rows of "What went silent?".
const ROWS: usize = 8;

/// The whole deck: one card for each thing that silences something that counts, the worst first, then the next ways.
pub fn deck(told: &Told<'_>) -> Deck {
    let book = Book { c: told.compiled };
    let groups = groups(told);
    let foot = foot(told);
    let mut cards: Vec<Card> = Vec::new();
    let mut nexts: Vec<Card> = Vec::new();
    let titles = titles(book, &groups);
    for (i, (group, title)) in groups.iter().zip(&titles).enumerate() {
        let number = u32::try_from(i + 1).unwrap_or(u32::MAX);
        let mut it = base(book, group, title.clone(), &foot);
        it.number = number;
        let way = main_way(group.answer);
        fill(book, &mut it, group, way, &group.named.fault.mends);
        if let Some(next) = group.answer.next.as_ref().filter(|_| !waits(group.answer)) {
            let after = u32::try_from(groups.len() + nexts.len() + 1).unwrap_or(u32::MAX);
            let mut card = base(book, group, next_title(title), &foot);
            card.number = after;
            let left = mends_left(group, way);
            fill(book, &mut card, group, next, &left);
            card.looks = Vec::new();
            card.in_break = Vec::new();
            card.carry_on = Vec::new();
            // The next way rests on a loss that was only supposed, so nothing is claimed of quicker ones.
            card.proof = None;
            nexts.push(card);
            it.still_nothing = Next::Card(after);
            for without in &mut it.havent_got {
                without.then = Next::Card(after);
            }
        }
        cards.push(it);
    }
    let silent = rows(book, &groups, &cards);
    cards.extend(nexts);
    Deck {
        rig: told.compiled.rig.name.clone(),
        lang: told.lang.clone(),
        foot,
        hazards: told.hazards.clone(),
        tingle: Deck::tingle(&strips(book)),
        silent,
        cards,
        last_resort: last_resort(book),
    }
}

/// A card without its way.
fn base(book: Book<'_>, group: &Group<'_>, title: Line, foot: &Foot) -> Card {
    let mouth = mouth::mouth(book, group.answer);
    Card {
        number: 0,
        next_of: None,
        title,
        rank: match group.answer.badness {
            Badness::StopsTheShow => Rank::StopsTheShow,
            Badness::Slow => Rank::Slow,
            Badness::WedCope => Rank::WedCope,
        },
        carry_on: notes::carry_on(book, group.answer, mouth.word),
        mouth,
        looks: looks::looks(book, &group.faults),
        steps: Vec::new(),
        picture: None,
        different: Vec::new(),
        also_different: Vec::new(),
        in_break: notes::in_break(book, group.answer),
        put_back: Vec::new(),
        still_nothing: Next::Words(notes::last_words(book)),
        havent_got: Vec::new(),
        guessed: Vec::new(),
        proof: None,
        would_do: Vec::new(),
        who: crate::card::Who::Anyone,
        foot: foot.clone(),
    }
}

fn fill(book: Book<'_>, card: &mut Card, group: &Group<'_>, way: &Way, mends: &[Mend]) {
    let plan = &way.cover.plan;
    let fault = Fault { lost: group.named.fault.lost.clone(), mends: mends.to_vec() };
    let mut judge = Judge::new(&book.c.problem, &fault);
    // Only where each part is heard afterwards is asked; whether the plan works was judged before.
    let _broken = judge.look(plan);
    let answer = group.answer;
    let later: Vec<PartId> = [&answer.full, &answer.in_break]
        .into_iter()
        .flatten()
        .flat_map(|w| w.verdict.carried.iter().copied())
        .collect();
    let shown = steps::steps(book, way, mends, &judge, &later, dead(group));
    card.picture = picture::picture(book, group.named, plan, &judge, &shown.makes);
    card.different = different::different(book, &judge);
    card.put_back = notes::put_back(group.named, way, &shown.steps);
    card.guessed = notes::guessed(book, way, &judge);
    card.who = notes::who(book, way, mends);
    card.proof = notes::proof(answer, way);
    if card.proof == Some(crate::card::Proof::NoWay) {
        card.would_do = notes::would_do(book, group.named);
    }
    let words = notes::last_words(book);
    card.havent_got = notes::taken(book, way)
        .into_iter()
        .map(|thing| HaventGot { thing, then: Next::Words(words.clone()) })
        .collect();
    card.steps = shown.steps;
}

/// The piece with no life or no power left.
fn dead(group: &Group<'_>) -> Option<GearId> {
    group.named.fault.lost.iter().find_map(|l| match l {
        Loss::Gear(g) | Loss::Supply(g) => Some(*g),
        _ => None,
    })
}

/// The mends the next way may still do: one that did not help is not offered again.
fn mends_left(group: &Group<'_>, first: &Way) -> Vec<Mend> {
    let done = &first.cover.plan.mends;
    let all = group.named.fault.mends.iter().enumerate();
    all.filter(|(i, _)| !done.contains(i)).map(|(_, m)| m.clone()).collect()
}

fn next_title(title: &Line) -> Line {
    let mut runs = title.0.clone();
    runs.push(text(": next way"));
    runs.into()
}

/// Titles, each only once.
fn titles(book: Book<'_>, groups: &[Group<'_>]) -> Vec<Line> {
    let plain: Vec<Line> = groups.iter().map(|g| title::title(book, g)).collect();
    plain
        .iter()
        .zip(groups)
        .map(|(title, group)| {
            let twice = plain.iter().filter(|t| *t == title).count() > 1;
            if twice { title::told_apart(book, group.named, title) } else { title.clone() }
        })
        .collect()
}

/// Everything first, then each source that goes silent by itself, then one side.
fn rows(book: Book<'_>, groups: &[Group<'_>], cards: &[Card]) -> Vec<SilentRow> {
    let mut out = Vec::new();
    let row = |name: &str, note: &str, fits: &dyn Fn(&Group<'_>) -> bool| -> Option<SilentRow> {
        let found: Vec<&Card> =
            groups.iter().zip(cards).filter(|(g, _)| fits(g)).map(|(_, card)| card).collect();
        let first = found.first()?;
        let mut looks: Vec<Line> = Vec::new();
        for look in found.iter().take(3).filter_map(|c| c.looks.first()) {
            if !looks.contains(&look.words) {
                looks.push(look.words.clone());
            }
        }
        Some(SilentRow {
            name: name.to_owned(),
            note: if note.is_empty() { Line::default() } else { Line::text(note) },
            mouth: first.mouth.word,
            looks,
            cards: found.iter().map(|c| c.number).take(6).collect(),
        })
    };
    let everything = |g: &Group<'_>| book.heard(&g.answer.sounding).is_empty();
    let dark = |g: &Group<'_>| {
        let judge = Judge::new(&book.c.problem, &g.named.fault);
        book.c.problem.live.iter().enumerate().any(|(i, live)| *live && !judge.is_live(GearId::at(i)))
    };
    out.extend(row("everything", "and some lamps are dark", &|g| everything(g) && dark(g)));
    out.extend(row("everything", "but lamps are lit", &|g| everything(g) && !dark(g)));
    for (s, source) in book.c.rig.sources.iter().enumerate() {
        let this = |g: &Group<'_>| !everything(g) && book.heard(&g.answer.silent).contains(&s);
        out.extend(row(&source.name, "", &this));
    }
    let one_side = |g: &Group<'_>| {
        let check::compile::About::Mode { gear, .. } = g.named.about else { return false };
        let speaker = GearId::at(gear);
        !everything(g)
            && book
                .c
                .problem
                .speakers
                .iter()
                .enumerate()
                .any(|(p, at)| book.for_audience(PartId::at(p)) && at.contains(&speaker) && at.len() > 1)
    };
    out.extend(row("one side", "", &one_side));
    let monitors = |g: &Group<'_>| book.heard(&g.answer.silent).is_empty();
    out.extend(row("only what you hear", "", &monitors));
    out.truncate(ROWS);
    out
}

/// Strips with a switch: where power is cut.
fn strips<'a>(book: Book<'a>) -> Vec<&'a str> {
    let gear = book.c.rig.gear.iter().filter(|g| g.placed != model::Placed::InCase);
    gear.filter(|g| g.kind.as_deref().is_some_and(|k| k.contains("strip"))).map(|g| g.name.as_str()).collect()
}

fn last_resort(book: Book<'_>) -> Line {
    let unplugged = book.c.rig.sources.iter().any(|s| s.unplugged_to.is_some());
    Line::text(if unplugged { "Play unplugged. Come close to them." } else { "Talk to them. Come close." })
}

/// Mark, date and room.
fn foot(told: &Told<'_>) -> Foot {
    let rig = &told.compiled.rig;
    Foot { mark: mark(&model::text::write(rig)), date: told.date.clone(), room: rig.room.name.clone() }
}

/// Four letters that can be said aloud and change when the text does: a 64-bit FNV-1a hash, letter by letter.
fn mark(written: &str) -> String {
    let mut hash = 0xcbf2_9ce4_8422_2325_u64;
    for byte in written.bytes() {
        hash = (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    }
    const CONSONANTS: [char; 16] =
        ['B', 'D', 'F', 'G', 'H', 'K', 'L', 'M', 'N', 'P', 'R', 'S', 'T', 'V', 'W', 'Z'];
    const VOWELS: [char; 4] = ['A', 'E', 'I', 'O'];
    let mut out = String::new();
    for place in 0..4 {
        let letters: &[char] = if place % 2 == 0 { &CONSONANTS } else { &VOWELS };
        let count = u64::try_from(letters.len()).unwrap_or(1);
        let letter = usize::try_from(hash % count).unwrap_or(0);
        out.extend(letters.get(letter));
        hash /= count;
        // The low bits of the hash are its weakest: fold the high ones in.
        hash ^= hash >> 29;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_can_be_said_and_changes_with_the_rig() {
        let (a, b) = (mark("gear MIC = vocal mic"), mark("gear MIC = vocal mic, at 0 1"));
        assert_eq!(a.len(), 4);
        assert_ne!(a, b);
        assert_eq!(a, mark("gear MIC = vocal mic"));
    }
}
