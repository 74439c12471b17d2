//! Places boxes in rows and leads in the gaps between them, pure and deterministic.
//!
//! A lead to the next row down runs in the gap between the two. Every other lead leaves at the foot, runs round the
//! outside of all boxes in a lane of its own, and comes in from above. So no lead can cross a box, and since signs
//! and labels have reserved room beside their own line at its ends, none can lie on a lead.

use super::ports::{self, Port, Way};
use super::rows::{self, BOX, GAP, LINE, Squeeze};
use super::scene::{Boxed, Rect, Scene};
use super::{LeadState, Picture};
use crate::font::Measure;

/// The widest picture whose letters stay at 11 pt on a small card, in px.
pub(crate) const WIDEST: i32 = 340;
/// The tallest, in px.
pub(crate) const TALLEST: i32 = 430;

/// Places a picture. Leads that name a piece that is not there are left out.
///
/// Of several ways to break names and rows, the first that fits a small card is taken, else the one that must shrink
/// least.
pub fn lay_out(picture: &Picture) -> Scene {
    let measure = Measure::new();
    let squeezes = [
        (false, 420),
        (true, 420),
        (false, 300),
        (true, 300),
        (true, 260),
        (true, 220),
        (true, 170),
        (true, 0),
    ];
    let mut best: Option<(i64, Scene)> = None;
    for ((wrap, row), flat) in squeezes.into_iter().flat_map(|s| [(s, false), (s, true)]) {
        let scene = Plan::new(picture, Squeeze { wrap, row, flat }, &measure).scene();
        let shrink = |most: i32, is: i32| i64::from(most) * 1000 / i64::from(is.max(1));
        let fits = shrink(WIDEST, scene.width).min(shrink(TALLEST, scene.height)).min(1000);
        if best.as_ref().is_none_or(|(b, _)| fits > *b) {
            best = Some((fits, scene));
        }
        if fits == 1000 {
            break;
        }
    }
    best.map(|(_, scene)| scene).unwrap_or_default()
}

/// A lead that can be drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run {
    pub(super) lead: usize,
    /// Rows it leaves and enters.
    pub(super) rows: (usize, usize),
    pub(super) way: Way,
    /// 0 is the outermost lane of its side.
    pub(super) lane: usize,
    /// Line width with the paper edge that keeps it apart from its neighbours.
    pub(super) pitch: i32,
    pub(super) stub: bool,
}

pub(super) struct Plan<'a> {
    pub(super) picture: &'a Picture,
    pub(super) measure: &'a Measure,
    pub(super) flat: bool,
    rows: Vec<Vec<usize>>,
    /// By piece.
    lines: Vec<Vec<String>>,
    /// By piece.
    pub(super) rects: Vec<Rect>,
    pub(super) runs: Vec<Run>,
    /// By piece, foot and head.
    feet: Vec<Vec<Port>>,
    heads: Vec<Vec<Port>>,
}

impl<'a> Plan<'a> {
    fn new(picture: &'a Picture, squeeze: Squeeze, measure: &'a Measure) -> Self {
        let count = picture.pieces.len();
        let named: Vec<_> = (0..count).map(|i| rows::name(picture, i, squeeze, measure)).collect();
        let mut feet = vec![Vec::new(); count];
        let mut heads = vec![Vec::new(); count];
        let drawn = |lead: &super::Lead| lead.from.piece < count && lead.to.piece < count;
        for (at, lead) in picture.leads.iter().enumerate().filter(|(_, l)| drawn(l)) {
            if let Some(foot) = feet.get_mut(lead.from.piece) {
                foot.push(ports::leaving(at, lead, measure));
            }
            if let Some(head) = heads.get_mut(lead.to.piece) {
                head.push(ports::arriving(at, lead, squeeze.flat, measure));
            }
        }
        let widths: Vec<i32> = named
            .iter()
            .zip(feet.iter().zip(&heads))
            .map(|((_, wide), (foot, head))| (*wide).max(ports::needed(foot)).max(ports::needed(head)))
            .collect();
        let rows = rows::rows(picture, &widths, squeeze);
        let lines: Vec<Vec<String>> = named.into_iter().map(|(lines, _)| lines).collect();
        let rects = vec![Rect { x: 0, y: 0, w: 0, h: 0 }; count];
        let mut plan =
            Self { picture, measure, flat: squeeze.flat, rows, lines, rects, runs: Vec::new(), feet, heads };
        plan.spread(&widths);
        plan.find_runs();
        plan
    }

    /// First places, left to right: rows centred on the widest.
    fn spread(&mut self, widths: &[i32]) {
        let of = |piece: usize| widths.get(piece).copied().unwrap_or(0);
        let sum = |row: &[usize]| row.iter().map(|&p| of(p)).sum::<i32>();
        let gaps = |row: &[usize]| i32::try_from(row.len()).unwrap_or(1) - 1;
        let widest = self.rows.iter().map(|row| sum(row) + gaps(row) * GAP).max().unwrap_or(0);
        for row in &self.rows {
            let gap = ((widest - sum(row)) / (gaps(row) + 1).max(1)).clamp(GAP, 48);
            let mut x = (widest - sum(row) - gaps(row) * gap) / 2;
            for &piece in row {
                let two = self.lines.get(piece).is_some_and(|lines| lines.len() > 1);
                if let Some(rect) = self.rects.get_mut(piece) {
                    *rect = Rect { x, y: 0, w: of(piece), h: if two { BOX + LINE } else { BOX } };
                }
                x += of(piece) + gap;
            }
        }
    }

    pub(super) fn rect(&self, piece: usize) -> Rect {
        self.rects.get(piece).copied().unwrap_or(Rect { x: 0, y: 0, w: 0, h: 0 })
    }

    pub(super) fn row_of(&self, piece: usize) -> usize {
        self.rows.iter().position(|row| row.contains(&piece)).unwrap_or(0)
    }

    fn find_runs(&mut self) {
        let middle = self.rects.iter().map(|r| r.right()).max().unwrap_or(0);
        let mut runs = Vec::new();
        for (at, lead) in self.picture.leads.iter().enumerate() {
            if lead.from.piece >= self.rects.len() || lead.to.piece >= self.rects.len() {
                continue;
            }
            let rows = (self.row_of(lead.from.piece), self.row_of(lead.to.piece));
            let sum = self.rect(lead.from.piece).middle() + self.rect(lead.to.piece).middle();
            let way = match rows {
                (from, to) if from + 1 == to => Way::Straight,
                _ if sum <= middle => Way::Left,
                _ => Way::Right,
            };
            let pitch = if matches!(lead.state, LeadState::New(_)) { 12 } else { 10 };
            let stub = matches!(lead.state, LeadState::TooShort(_));
            runs.push(Run { lead: at, rows, way, lane: 0, pitch, stub });
        }
        // Longer ways run further out; of equal ones the one that starts further out, then the one that ends there.
        for side in [Way::Left, Way::Right] {
            let mut order: Vec<usize> =
                (0..runs.len()).filter(|&i| runs.get(i).is_some_and(|r| r.way == side && !r.stub)).collect();
            order.sort_by_key(|&i| {
                let Some(run) = runs.get(i) else { return (0, 0, 0) };
                let (from, to) = self.ends(run.lead);
                let sign = if side == Way::Left { 1 } else { -1 };
                let span = i32::try_from(run.rows.0.abs_diff(run.rows.1)).unwrap_or(0);
                (-span, sign * self.rect(from).middle(), sign * self.rect(to).middle())
            });
            for (lane, i) in order.into_iter().enumerate() {
                if let Some(run) = runs.get_mut(i) {
                    run.lane = lane;
                }
            }
        }
        self.runs = runs;
    }

    pub(super) fn ends(&self, lead: usize) -> (usize, usize) {
        self.picture.leads.get(lead).map_or((0, 0), |l| (l.from.piece, l.to.piece))
    }

    fn run(&self, lead: usize) -> Option<&Run> {
        self.runs.iter().find(|run| run.lead == lead)
    }

    /// Where a port stands among its edge's ports: lanes on their own side, the rest by the other end.
    fn order(&self, lead: usize, other_x: i32) -> (Way, i32) {
        let Some(run) = self.run(lead) else { return (Way::Straight, 0) };
        let lane = i32::try_from(run.lane).unwrap_or(0);
        match run.way {
            Way::Left => (Way::Left, lane),
            Way::Straight => (Way::Straight, other_x),
            Way::Right => (Way::Right, -lane),
        }
    }

    fn scene(mut self) -> Scene {
        let mut scene = Scene::default();
        let mut y = 4;
        for row in 0..=self.rows.len() {
            self.place_heads(row);
            y = self.gap(row, y, &mut scene);
            let pieces = self.rows.get(row).cloned().unwrap_or_default();
            let tall = pieces.iter().map(|&p| self.rect(p).h).max().unwrap_or(0);
            for piece in pieces {
                if let Some(rect) = self.rects.get_mut(piece) {
                    rect.y = y;
                    rect.h = tall;
                }
            }
            y += tall;
            self.place_feet(row);
        }
        self.draw_lines(&mut scene);
        scene.boxes = (self.rects.iter().zip(&self.lines).enumerate())
            .map(|(piece, (rect, lines))| Boxed { piece, rect: *rect, lines: lines.clone() })
            .collect();
        self.finish(&mut scene, y);
        scene
    }

    /// Heads of a row, under the feet of the row above. A box alone in its row grows until leads fall straight in.
    fn place_heads(&mut self, row: usize) {
        let pieces = self.rows.get(row).cloned().unwrap_or_default();
        let taken: Vec<(usize, i32)> = row
            .checked_sub(1)
            .and_then(|above| self.rows.get(above))
            .into_iter()
            .flatten()
            .filter_map(|&piece| self.feet.get(piece))
            .flatten()
            .map(|port| (port.lead, port.x))
            .collect();
        let from_x = |lead: usize| taken.iter().find(|(l, _)| *l == lead).map(|(_, x)| *x);
        let alone = pieces.len() == 1;
        for piece in pieces {
            let mut ports = self.heads.get(piece).cloned().unwrap_or_default();
            for port in &mut ports {
                port.wish =
                    from_x(port.lead).filter(|_| self.run(port.lead).is_some_and(|r| r.way == Way::Straight));
            }
            ports.sort_by_key(|port| self.order(port.lead, from_x(port.lead).unwrap_or(0)));
            let mut rect = self.rect(piece);
            if alone {
                let least = ports.iter().filter_map(|p| Some(p.wish? - p.left - 16)).min().unwrap_or(rect.x);
                let most =
                    ports.iter().filter_map(|p| Some(p.wish? + p.right + 16)).max().unwrap_or(rect.right());
                let (x, right) = (rect.x.min(least), rect.right().max(most));
                rect = Rect { x, w: right - x, ..rect };
                if let Some(r) = self.rects.get_mut(piece) {
                    *r = rect;
                }
            }
            ports::place(&mut ports, rect.x, rect.right(), &taken);
            if let Some(head) = self.heads.get_mut(piece) {
                *head = ports;
            }
        }
    }

    /// Feet of a row, spread along each box.
    fn place_feet(&mut self, row: usize) {
        for piece in self.rows.get(row).cloned().unwrap_or_default() {
            let mut ports = self.feet.get(piece).cloned().unwrap_or_default();
            ports.sort_by_key(|port| self.order(port.lead, self.rect(self.ends(port.lead).1).middle()));
            let rect = self.rect(piece);
            ports::place(&mut ports, rect.x, rect.right(), &[]);
            if let Some(foot) = self.feet.get_mut(piece) {
                *foot = ports;
            }
        }
    }

    pub(super) fn foot_x(&self, lead: usize) -> i32 {
        self.feet.iter().flatten().find(|p| p.lead == lead).map_or(0, |p| p.x)
    }

    pub(super) fn head_x(&self, lead: usize) -> i32 {
        self.heads.iter().flatten().find(|p| p.lead == lead).map_or(0, |p| p.x)
    }
}
