//! Which blocks of a card go on which side of a small printed card.
//!
//! Heights are worked out from the font's widths before anything is drawn, a little on the safe side, because a step
//! that breaks over a side, or is cut off at the foot, is a wrong card.

use crate::card::{Card, Next, Proof};
use crate::font::{Measure, Weight};
use crate::line::{Line, Run};
use crate::picture::lay_out;

/// The most steps on a side.
pub(crate) const STEPS: usize = 8;
/// Room for blocks between title and foot, in px (1/96 inch): the shorter of two paper sizes, cut in four.
const ROOM: i32 = 424;
/// Width between the margins, in px.
const WIDE: i32 = 332;

/// One block of a card, in reading order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Block {
    /// Mouth line and who is heard.
    Mouth,
    Looks,
    Cautions,
    /// Answers that come before the steps, by index.
    CarryFirst(usize),
    /// No way round, and the nearest thing that would be one.
    NoWay,
    /// What must be known before the first step.
    Before,
    /// A step with its marks, by index.
    Step(usize),
    CarryLater(usize),
    Picture,
    /// A labelled paragraph under the picture: which.
    Note(usize),
    /// Still nothing, in words.
    Still,
    HaventGot(usize),
    Guessed(usize),
    Tried,
}

/// The blocks of each side. The first side begins with the mouth line; no side has more than [`STEPS`] steps.
///
/// The picture stands before the notes, except where standing last saves a side of paper.
pub(crate) fn sides(card: &Card) -> Vec<Vec<Block>> {
    let measure = Measure::new();
    let blocks: Vec<(Block, i32)> =
        blocks(card).into_iter().map(|b| (b, height(card, b, &measure))).collect();
    let (mut last, pictures): (Vec<_>, Vec<_>) = blocks.iter().partition(|(b, _)| *b != Block::Picture);
    last.extend(pictures);
    let rooms = rooms(card, &measure);
    let (usual, saving) = (pack(&blocks, rooms), pack(&last, rooms));
    if saving.len() < usual.len() { saving } else { usual }
}

/// How tall a picture may be on the first side and on the others, in px.
pub(crate) fn tallest(card: &Card) -> (i32, i32) {
    rooms(card, &Measure::new())
}

/// Room on the first side and on each that follows: a long title takes more lines, and later ones say which side it is.
fn rooms(card: &Card, measure: &Measure) -> (i32, i32) {
    let bold = |line: Line| -> Line {
        let as_bold = |run: Run| if let Run::Text(s) = run { Run::Printed(s) } else { run };
        line.0.into_iter().map(as_bold).collect::<Vec<_>>().into()
    };
    let room = |title: Line| ROOM - 26 * (lines(&bold(title), 20, WIDE, measure) - 1);
    let mut later = card.title.clone();
    later.0.push(Run::Text(": 8 of 8".into()));
    (room(card.title.clone()), room(later))
}

fn pack(blocks: &[(Block, i32)], (first, later): (i32, i32)) -> Vec<Vec<Block>> {
    let mut sides: Vec<Vec<Block>> = vec![Vec::new()];
    let (mut used, mut steps) = (0, 0);
    for (block, tall) in blocks {
        let is_step = matches!(block, Block::Step(_));
        let room = if sides.len() == 1 { first } else { later };
        let full = used + tall > room || (is_step && steps == STEPS);
        if full && used > 0 {
            sides.push(Vec::new());
            (used, steps) = (0, 0);
        }
        used += tall;
        steps += usize::from(is_step);
        if let Some(side) = sides.last_mut() {
            side.push(*block);
        }
    }
    sides
}

fn blocks(card: &Card) -> Vec<Block> {
    let mut out = vec![Block::Mouth];
    if !card.looks.is_empty() {
        out.push(Block::Looks);
    }
    if !card.cautions().is_empty() {
        out.push(Block::Cautions);
    }
    let carries = |first: bool| {
        (0..card.carry_on.len()).filter(move |&i| card.carry_on.get(i).is_some_and(|c| c.first == first))
    };
    out.extend(carries(true).map(Block::CarryFirst));
    if card.proof == Some(Proof::NoWay) {
        out.push(Block::NoWay);
    }
    if !card.before.is_empty() {
        out.push(Block::Before);
    }
    out.extend((0..card.steps.len()).map(Block::Step));
    out.extend(carries(false).map(Block::CarryLater));
    if card.picture.is_some() {
        out.push(Block::Picture);
    }
    let notes = crate::text::after_picture(card);
    out.extend(
        (0..notes.len()).filter(|&list| notes.get(list).is_some_and(|n| !n.1.is_empty())).map(Block::Note),
    );
    if matches!(card.still_nothing, Next::Words(_)) {
        out.push(Block::Still);
    }
    out.extend((0..card.havent_got.len()).map(Block::HaventGot));
    out.extend((0..card.guessed.len()).map(Block::Guessed));
    if !card.steps.is_empty() {
        out.push(Block::Tried);
    }
    out
}

/// Height of a block in px, on the safe side.
fn height(card: &Card, block: Block, measure: &Measure) -> i32 {
    let words = |line: &Line, size: u32, wide: i32| lines(line, size, wide, measure);
    match block {
        Block::Mouth => {
            let mouth = Line::text(card.mouth.word.words().to_uppercase());
            5 + 30 * words(&mouth, 29, WIDE) + 19 * words(&card.mouth.heard, 16, WIDE) + 9
        }
        Block::Looks => {
            // Each look stays in one piece, its box before it.
            let (mut rows, mut used) = (1, 0);
            for wide in card.looks.iter().map(|l| width(&l.words, 15, measure) + 30) {
                if used > 0 && used + wide > WIDE {
                    (rows, used) = (rows + 1, 0);
                }
                used += wide;
                rows += used / WIDE;
                used %= WIDE;
            }
            32 + 20 * rows
        }
        Block::Cautions => 15 + 19 * words(&care(card.cautions()), 15, WIDE - 24),
        Block::CarryFirst(i) | Block::CarryLater(i) => card
            .carry_on
            .get(i)
            .map_or(0, |c| 22 + 20 * words(&c.words.after_words(c.kind.words()), 17, WIDE - 30)),
        Block::NoWay => 42 + card.would_do.iter().map(|w| 4 + 19 * words(w, 15, WIDE)).sum::<i32>(),
        Block::Before => 22 + card.before.iter().map(|l| 20 * words(l, 16, WIDE - 30)).sum::<i32>(),
        Block::Step(i) => card.steps.get(i).map_or(0, |step| {
            let who = step.who.iter().map(|who| Run::Text(format!("{who}:")));
            let all = who.chain(step.words.stopped().0).chain(step.sign.line().0).collect::<Vec<_>>().into();
            let caution = step.caution.as_ref().map_or(0, |c| 11 + 19 * words(&care(vec![c]), 15, WIDE - 56));
            let marks: i32 =
                step.marks.iter().map(|m| 4 + 20 * words(&Line::text(m.said()), 17, WIDE - 70)).sum();
            5 + 20 * words(&all, 15, WIDE - 34) + caution + marks
        }),
        Block::Picture => card.picture.as_ref().map_or(0, |picture| {
            let scene = lay_out(picture);
            let scaled = if scene.width > WIDE { scene.height * WIDE / scene.width } else { scene.height };
            (scaled + 12).min(ROOM)
        }),
        Block::Note(list) => crate::text::after_picture(card).get(list).map_or(0, |(label, lines)| {
            let runs = lines.iter().flat_map(|line| line.stopped().0);
            let all: Vec<Run> = std::iter::once(Run::Text((*label).into())).chain(runs).collect();
            6 + 19 * words(&all.into(), 15, WIDE)
        }),
        Block::Still => match &card.still_nothing {
            Next::Words(line) => 6 + 19 * words(&line.after_words("Still nothing:"), 15, WIDE),
            Next::Card(_) => 0,
        },
        Block::HaventGot(i) => card.havent_got.get(i).map_or(0, |h| {
            let then = match &h.then {
                Next::Card(_) => Line::text("Card 888."),
                Next::Words(line) => line.clone(),
            };
            let all: Vec<Run> = h.thing.after_words("Haven’t got").0.into_iter().chain(then.0).collect();
            6 + 19 * words(&all.into(), 15, WIDE)
        }),
        Block::Guessed(i) => {
            card.guessed.get(i).map_or(0, |g| 6 + 19 * words(&g.after_words("Guessed:"), 15, WIDE))
        }
        Block::Tried => {
            let said = format!("{} {}.", crate::card::UNTRIED, card.who.said());
            54 + 19 * words(&Line::text(said), 15, WIDE)
        }
    }
}

/// Cautions as their box says them, all of it in bold.
fn care(cautions: Vec<&Line>) -> Line {
    let all: Vec<String> = cautions.into_iter().map(|c| c.stopped().plain()).collect();
    Line::from([Run::Printed(format!("Take care: {}", all.join(" ")))])
}

/// Width of a line at `size`, with room for the edges of tape.
fn width(line: &Line, size: u32, measure: &Measure) -> i32 {
    line.spaced().iter().map(|(_, run)| run_width(run, size, measure) + 4).sum()
}

fn run_width(run: &Run, size: u32, measure: &Measure) -> i32 {
    match run {
        Run::Tape(s) => measure.width(s, size, Weight::Bold) + 18,
        // The heaviest weight is a little wider than the bold one that is measured.
        Run::Verb(_) => measure.width(&run.shown(), size, Weight::Bold) * 21 / 20,
        Run::Printed(s) => measure.width(s, size, Weight::Bold),
        Run::Text(s) => measure.width(s, size, Weight::Regular) * 21 / 20,
    }
}

/// How many lines a line of words takes, filling each as a browser does: word by word, tape in one, and the label of a
/// socket with its gear's name.
fn lines(line: &Line, size: u32, wide: i32, measure: &Measure) -> i32 {
    let space = measure.width(" ", size, Weight::Regular).max(4);
    let wide = wide.max(1);
    let (mut count, mut used) = (1, 0);
    for (gap, width) in unbroken(line, size, measure) {
        let before = if gap && used > 0 { space } else { 0 };
        if used > 0 && used + before + width > wide {
            count += 1;
            used = width;
        } else {
            used += before + width;
        }
        // What is wider than a line breaks inside itself.
        count += (used / wide).min(20);
        used %= wide;
    }
    count
}

/// What is never broken, with whether a space stands before it: its width.
fn unbroken(line: &Line, size: u32, measure: &Measure) -> Vec<(bool, i32)> {
    let space = measure.width(" ", size, Weight::Regular).max(4);
    let mut out: Vec<(bool, i32)> = Vec::new();
    let mut named = false;
    for (gap, run) in line.spaced() {
        let all = run_width(run, size, measure);
        let joins = match run {
            Run::Printed(_) => named,
            Run::Text(s) => !gap && s.chars().all(|c| c.is_ascii_punctuation()),
            Run::Tape(_) | Run::Verb(_) => false,
        };
        if let Some((_, width)) = out.last_mut().filter(|_| joins) {
            *width += all + if gap { space } else { 0 };
            continue;
        }
        named = matches!(run, Run::Tape(_));
        let words: Vec<Run> = match run {
            Run::Tape(_) => vec![run.clone()],
            Run::Verb(s) => s.split_whitespace().map(|w| Run::Verb(w.into())).collect(),
            Run::Printed(s) => s.split_whitespace().map(|w| Run::Printed(w.into())).collect(),
            Run::Text(s) => s.split_whitespace().map(|w| Run::Text(w.into())).collect(),
        };
        for (i, word) in words.iter().enumerate() {
            out.push((gap || i > 0, run_width(word, size, measure)));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::line::{printed, tape, text, verb};

    fn measured(line: &Line) -> i32 {
        lines(line, 16, WIDE, &Measure::new())
    }

    #[test]
    fn a_long_line_takes_more_lines_and_tape_is_never_split() {
        assert_eq!(measured(&Line::text("See both knobs at 0.")), 1);
        let long = Line::from([
            verb("move"),
            tape("VOICE"),
            text("lead:"),
            tape("MIXER"),
            printed("1"),
            text("into"),
            tape("LEFT SPEAKER"),
            printed("B"),
            text("."),
        ]);
        assert_eq!(measured(&long), 2);
        assert!(measured(&Line::text("x".repeat(400))) > 5);
    }
}
