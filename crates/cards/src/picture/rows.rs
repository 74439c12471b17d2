//! Which piece stands in which row, and how wide its box must be.

use super::{LeadKind, Picture, Role};
use crate::font::{Measure, Weight};

/// Letters of names and labels, in px: 11.25 pt.
pub(super) const LETTERS: u32 = 15;
/// Height of a box with a name in one line.
pub(super) const BOX: i32 = 40;
/// More for a second line.
pub(super) const LINE: i32 = 18;
/// How far a speaker's foot or head flares out.
pub(super) const FLARE: i32 = 9;
/// The word DEAD in its black box.
pub(super) const DEAD: i32 = 52;
/// Room for the cross at a dead box's end.
pub(super) const CROSS: i32 = 34;
/// The least gap between boxes of a row.
pub(super) const GAP: i32 = 12;

/// How a picture is squeezed: each attempt is narrower than the one before.
#[derive(Clone, Copy, Debug)]
pub(super) struct Squeeze {
    /// Names in two lines where they have two words.
    pub wrap: bool,
    /// The widest a row may be before it becomes two.
    pub row: i32,
    /// NEW beside its disc instead of under it: wider, but lower.
    pub flat: bool,
}

/// A name set in lines, and the width its box needs for that.
pub(super) fn name(
    picture: &Picture,
    piece: usize,
    squeeze: Squeeze,
    measure: &Measure,
) -> (Vec<String>, i32) {
    let Some(piece) = picture.pieces.get(piece) else { return (Vec::new(), 0) };
    let width = |s: &str| measure.width(s, LETTERS, Weight::Bold);
    let lines = if squeeze.wrap && width(&piece.name) > 84 {
        two_lines(&piece.name, &width)
    } else {
        vec![piece.name.clone()]
    };
    let mut wide = lines.iter().map(|line| width(line)).max().unwrap_or(0) + 22;
    wide += match piece.role {
        Role::HeardByAudience | Role::HeardByPerformer => 2 * FLARE,
        Role::Supply => 8,
        Role::Source | Role::Passes => 0,
    };
    wide += if piece.dead { DEAD + CROSS } else { 0 } + if piece.house { 12 } else { 0 };
    (lines, wide.max(64))
}

/// Splits at the space that leaves the narrowest box.
fn two_lines(name: &str, width: &dyn Fn(&str) -> i32) -> Vec<String> {
    let splits = name.match_indices(' ').map(|(at, _)| (&name[..at], name[at..].trim_start()));
    let best = splits.min_by_key(|(a, b)| width(a).max(width(b)));
    match best {
        Some((a, b)) if !a.is_empty() && !b.is_empty() => vec![a.to_owned(), b.to_owned()],
        _ => vec![name.to_owned()],
    }
}

/// The rows, top to bottom, each with its pieces left to right. Every piece stands in exactly one.
pub(super) fn rows(picture: &Picture, widths: &[i32], squeeze: Squeeze) -> Vec<Vec<usize>> {
    let depth = depths(picture);
    let deepest = depth.iter().copied().max().unwrap_or(0);
    let of = |want: &dyn Fn(usize, Role) -> bool| -> Vec<usize> {
        (0..picture.pieces.len())
            .filter(|&i| picture.pieces.get(i).is_some_and(|p| want(i, p.role)))
            .collect()
    };
    let mut top = of(&|_, role| role == Role::Supply);
    top.extend(of(&|_, role| role == Role::Source));
    let mut bands = vec![top];
    for level in 0..=deepest {
        let passes = of(&|i, role| role == Role::Passes && depth.get(i) == Some(&level));
        bands.push(by_neighbours(picture, passes, &bands));
    }
    // Speakers stay as the picture lists them: that is how they stand.
    bands.push(of(&|_, role| matches!(role, Role::HeardByAudience | Role::HeardByPerformer)));
    bands.into_iter().flat_map(|band| split(band, widths, squeeze.row)).collect()
}

/// How many passing pieces sound has been through before it reaches each piece. A loop counts once round.
fn depths(picture: &Picture) -> Vec<usize> {
    let passes = |i: usize| picture.pieces.get(i).is_some_and(|p| p.role == Role::Passes);
    let mut depth = vec![0_usize; picture.pieces.len()];
    for _ in 0..3 {
        for lead in &picture.leads {
            let sound = matches!(lead.kind, LeadKind::Sound | LeadKind::Speaker);
            if sound && passes(lead.from.piece) && passes(lead.to.piece) && lead.from.piece != lead.to.piece {
                let want = depth.get(lead.from.piece).copied().unwrap_or(0) + 1;
                if let Some(d) = depth.get_mut(lead.to.piece) {
                    *d = (*d).max(want.min(3));
                }
            }
        }
    }
    depth
}

/// Orders a row by where its neighbours above stand, so that few leads cross.
fn by_neighbours(picture: &Picture, row: Vec<usize>, above: &[Vec<usize>]) -> Vec<usize> {
    let place = |piece: usize| {
        above.iter().find_map(|band| {
            let at = band.iter().position(|&p| p == piece)?;
            Some((2 * at + 1) * 1000 / (2 * band.len()).max(1))
        })
    };
    let mut keyed: Vec<(usize, usize)> = row
        .into_iter()
        .map(|piece| {
            let near: Vec<usize> = picture
                .leads
                .iter()
                .filter(|l| l.to.piece == piece)
                .filter_map(|l| place(l.from.piece))
                .collect();
            let mean = near.iter().sum::<usize>().checked_div(near.len()).unwrap_or(500);
            (mean, piece)
        })
        .collect();
    keyed.sort_by_key(|(mean, _)| *mean);
    keyed.into_iter().map(|(_, piece)| piece).collect()
}

/// Breaks a band into rows no wider than `most`.
fn split(band: Vec<usize>, widths: &[i32], most: i32) -> Vec<Vec<usize>> {
    let mut rows: Vec<Vec<usize>> = Vec::new();
    let mut used = 0;
    for piece in band {
        let wide = widths.get(piece).copied().unwrap_or(0);
        match rows.last_mut() {
            Some(row) if used + GAP + wide <= most => {
                used += GAP + wide;
                row.push(piece);
            }
            _ => {
                used = wide;
                rows.push(vec![piece]);
            }
        }
    }
    rows
}
