//! Places boxes in rows and leads in the gaps between them, pure and deterministic.
//!
//! A lead to the next row down runs in the gap between the two. Every other lead leaves at the foot, runs round the
//! outside of all boxes in a lane of its own, and comes in from above. So no lead can cross a box, and since signs
//! and labels have reserved room beside their own line at its ends, none can lie on a lead.

use super::ports::{self, DEAD_TAG, DISC, LABEL, NEW, OUT, Port, TAG, Way};
use super::rows::{self, BOX, GAP, LETTERS, LINE, Squeeze};
use super::scene::{Boxed, Rect, Scene, Tag, TagKind, Wire};
use super::{LeadState, Picture};
use crate::font::{Measure, Weight};

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

/// Room under the signs where leads arrive, for the arrow and the socket's label.
const UNDER: i32 = 23;
/// The same where no socket has a label: the arrow alone.
const UNDER_BARE: i32 = 16;

/// Level stretches that share a height: of which sort, how thick, and from where to where for which lead.
#[derive(Debug)]
struct Level {
    kind: i32,
    pitch: i32,
    stretches: Vec<(i32, i32, usize)>,
}

/// A lead that can be drawn.
#[derive(Clone, Copy, Debug)]
struct Run {
    lead: usize,
    /// Rows it leaves and enters.
    rows: (usize, usize),
    way: Way,
    /// 0 is the outermost lane of its side.
    lane: usize,
    /// Line width with the paper edge that keeps it apart from its neighbours.
    pitch: i32,
    stub: bool,
}

struct Plan<'a> {
    picture: &'a Picture,
    measure: &'a Measure,
    flat: bool,
    rows: Vec<Vec<usize>>,
    /// By piece.
    lines: Vec<Vec<String>>,
    /// By piece.
    rects: Vec<Rect>,
    runs: Vec<Run>,
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

    fn rect(&self, piece: usize) -> Rect {
        self.rects.get(piece).copied().unwrap_or(Rect { x: 0, y: 0, w: 0, h: 0 })
    }

    fn row_of(&self, piece: usize) -> usize {
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

    fn ends(&self, lead: usize) -> (usize, usize) {
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

    fn foot_x(&self, lead: usize) -> i32 {
        self.feet.iter().flatten().find(|p| p.lead == lead).map_or(0, |p| p.x)
    }

    fn head_x(&self, lead: usize) -> i32 {
        self.heads.iter().flatten().find(|p| p.lead == lead).map_or(0, |p| p.x)
    }

    /// Lays out the gap above `row`, from `y` down: signs where leads leave, level stretches, signs where they arrive.
    /// Returns where the row begins. Level stretches are kept in `scene.wires` until the lines are drawn.
    fn gap(&self, row: usize, top: i32, scene: &mut Scene) -> i32 {
        let lead = |run: &Run| self.picture.leads.get(run.lead);
        let leaving: Vec<&Run> = self.runs.iter().filter(|r| r.rows.0 + 1 == row).collect();
        let arriving: Vec<&Run> = self.runs.iter().filter(|r| r.rows.1 == row).collect();
        if leaving.is_empty() && arriving.is_empty() {
            return if row == 0 { top } else { top + 16 };
        }
        let named = |r: &Run| {
            lead(r).is_some_and(|l| !l.from.label.is_empty() || matches!(l.state, LeadState::TooShort(_)))
        };
        let room = if leaving.iter().any(|r| named(r)) { 22 } else { 6 };
        let mut y = top + if leaving.is_empty() { 0 } else { room };

        let mut tracks: Vec<(i32, i32, i32, &Run)> = Vec::new();
        for run in leaving.iter().chain(&arriving).filter(|r| !r.stub) {
            let (from, to) = (self.foot_x(run.lead), self.head_x(run.lead));
            let lane = i32::try_from(run.lane).unwrap_or(0);
            // First those that leave for a lane, the outermost highest; then those between the two rows; then those
            // that come in, the outermost lowest: that way they cross least.
            let key = match (run.way, run.rows.0 + 1 == row) {
                (Way::Straight, _) if from == to => continue,
                (Way::Straight, _) if to > from => (1, -from),
                (Way::Straight, _) => (1, from),
                (Way::Left | Way::Right, true) => (0, lane),
                (Way::Left | Way::Right, false) => (2, -lane),
            };
            if !tracks.iter().any(|t| t.3.lead == run.lead && t.0 == key.0) {
                tracks.push((key.0, key.1, run.pitch, run));
            }
        }
        tracks.sort_by_key(|(kind, order, _, run)| (*kind, *order, run.lead));
        // Stretches of one sort that do not meet share a level.
        let mut levels: Vec<Level> = Vec::new();
        for (kind, _, pitch, run) in tracks {
            let (from, to) = (self.foot_x(run.lead), self.head_x(run.lead));
            let here = if kind == 2 { to } else { from };
            let (a, b) = match run.way {
                Way::Left => (i32::MIN / 4, here),
                Way::Right => (here, i32::MAX / 4),
                Way::Straight => (from.min(to), from.max(to)),
            };
            let clear = |level: &&mut Level| {
                level.kind == kind && level.stretches.iter().all(|&(c, d, _)| b + 20 < c || d + 20 < a)
            };
            match levels.last_mut().filter(clear) {
                Some(level) => {
                    level.pitch = level.pitch.max(pitch);
                    level.stretches.push((a, b, run.lead));
                }
                None => levels.push(Level { kind, pitch, stretches: vec![(a, b, run.lead)] }),
            }
        }
        for level in levels {
            y += level.pitch / 2;
            for (_, _, lead) in level.stretches {
                // A level is remembered as one point; `draw_lines` reads it.
                scene.wires.push(Wire { lead, points: vec![(level.kind, y)], arrives: true });
            }
            y += level.pitch - level.pitch / 2;
        }
        let any = |want: &dyn Fn(&LeadState) -> bool| {
            arriving.iter().filter_map(|r| lead(r)).any(|l| want(&l.state))
        };
        let signs = if any(&|s| matches!(s, LeadState::New(_))) {
            2 * DISC + 3 + if self.flat { 0 } else { TAG }
        } else if any(&|s| matches!(s, LeadState::Out | LeadState::Dead)) {
            TAG + 2
        } else {
            0
        };
        let labelled = arriving.iter().filter_map(|r| lead(r)).any(|l| !l.to.label.is_empty());
        y + if arriving.is_empty() { 4 } else { signs + if labelled { UNDER + 1 } else { UNDER_BARE + 1 } }
    }

    /// Turns remembered tracks into lines, and adds signs and labels at both ends.
    fn draw_lines(&self, scene: &mut Scene) {
        let tracks = std::mem::take(&mut scene.wires);
        let track = |lead: usize, kinds: [i32; 2]| {
            let of = |w: &&Wire| w.lead == lead && w.points.first().is_some_and(|p| kinds.contains(&p.0));
            tracks.iter().find(of).and_then(|w| w.points.first()).map(|p| p.1)
        };
        let left = self.rects.iter().map(|r| r.x).min().unwrap_or(0) - 5;
        let right = self.rects.iter().map(|r| r.right()).max().unwrap_or(0) + 5;
        let mut lanes: Vec<(Way, usize, i32)> = Vec::new();
        for (side, edge, sign) in [(Way::Left, left, -1), (Way::Right, right, 1)] {
            let mut side_runs: Vec<&Run> = self.runs.iter().filter(|r| r.way == side && !r.stub).collect();
            side_runs.sort_by_key(|r| std::cmp::Reverse(r.lane));
            let mut x = edge;
            for run in side_runs {
                x += sign * run.pitch / 2;
                lanes.push((side, run.lead, x));
                x += sign * (run.pitch - run.pitch / 2);
            }
        }
        for run in &self.runs {
            let (from, to) = self.ends(run.lead);
            let start = (self.foot_x(run.lead), self.rect(from).foot());
            let end = (self.head_x(run.lead), self.rect(to).y);
            let mut points = vec![start];
            if run.stub {
                points.push((start.0, start.1 + 18));
                scene.wires.push(Wire { lead: run.lead, points, arrives: false });
                let stub = vec![(end.0, end.1 - 10), end];
                scene.wires.push(Wire { lead: run.lead, points: stub, arrives: false });
                continue;
            }
            if run.way == Way::Straight {
                if let Some(y) = track(run.lead, [1, 1]) {
                    points.extend([(start.0, y), (end.0, y)]);
                }
            } else {
                let x = lanes.iter().find(|l| l.0 == run.way && l.1 == run.lead).map_or(left, |l| l.2);
                let out = track(run.lead, [0, 0]).unwrap_or(start.1);
                let back = track(run.lead, [2, 2]).unwrap_or(end.1);
                points.extend([(start.0, out), (x, out), (x, back), (end.0, back)]);
            }
            points.push(end);
            scene.wires.push(Wire { lead: run.lead, points, arrives: true });
        }
        for run in &self.runs {
            self.signs(run, scene);
        }
    }

    fn signs(&self, run: &Run, scene: &mut Scene) {
        let Some(lead) = self.picture.leads.get(run.lead) else { return };
        let (x, y) = (self.foot_x(run.lead), self.rect(lead.from.piece).foot() + 3);
        let mut tag = |rect: Rect, kind: TagKind| scene.tags.push(Tag { lead: run.lead, rect, kind });
        let word = |s: &str| self.measure.width(s, LETTERS, Weight::Bold) + 2;
        let mut beside = x + 5;
        if let LeadState::TooShort(how) = &lead.state {
            let w = word(how);
            tag(Rect { x: beside + 4, y, w, h: 18 }, TagKind::Short(how.clone()));
            beside += w + 7;
        }
        if !lead.from.label.is_empty() {
            let w = word(&lead.from.label);
            tag(Rect { x: beside, y, w, h: 18 }, TagKind::Label(lead.from.label.clone()));
        }
        let row = self.row_of(lead.to.piece);
        let labelled = |r: &&Run| {
            r.rows.1 == row && self.picture.leads.get(r.lead).is_some_and(|l| !l.to.label.is_empty())
        };
        let under = if self.runs.iter().any(|r| labelled(&r)) { UNDER } else { UNDER_BARE };
        let (x, y) = (self.head_x(run.lead), self.rect(lead.to.piece).y - under);
        let mut sign = |w: i32, kind: TagKind| tag(Rect { x: x - w / 2, y: y - TAG, w, h: TAG }, kind);
        match lead.state {
            LeadState::New(step) if self.flat => {
                let top = y - 2 * DISC;
                tag(Rect { x: x - DISC, y: top, w: 2 * DISC, h: 2 * DISC }, TagKind::Disc(step));
                tag(Rect { x: x + DISC + 1, y: top + 2, w: NEW - 1, h: TAG }, TagKind::New);
            }
            LeadState::New(step) => {
                sign(NEW, TagKind::New);
                let top = y - TAG - 2 * DISC;
                tag(Rect { x: x - DISC, y: top, w: 2 * DISC, h: 2 * DISC }, TagKind::Disc(step));
            }
            LeadState::Out => sign(OUT, TagKind::Out),
            LeadState::Dead => sign(DEAD_TAG, TagKind::Dead),
            LeadState::Kept | LeadState::TooShort(_) => {}
        }
        if !lead.to.label.is_empty() {
            let w = word(&lead.to.label);
            tag(Rect { x: x + LABEL, y: y + 2, w, h: 18 }, TagKind::Label(lead.to.label.clone()));
        }
    }

    /// Moves everything so that it starts at the canvas's edge, and puts the audience at the foot.
    fn finish(&self, scene: &mut Scene, y: i32) {
        let wires = scene.wires.iter().flat_map(|w| &w.points).map(|p| (p.0 - 4, p.0 + 4));
        let boxes = scene.boxes.iter().map(|b| (b.rect.x, b.rect.right()));
        let tags = scene.tags.iter().map(|t| (t.rect.x, t.rect.right()));
        let reach: Vec<(i32, i32)> = wires.chain(boxes).chain(tags).collect();
        let left = reach.iter().map(|r| r.0).min().unwrap_or(0) - 2;
        let right = reach.iter().map(|r| r.1).max().unwrap_or(0) + 2;
        for b in &mut scene.boxes {
            b.rect.x -= left;
        }
        for point in scene.wires.iter_mut().flat_map(|w| &mut w.points) {
            point.0 -= left;
        }
        for tag in &mut scene.tags {
            tag.rect.x -= left;
        }
        scene.width = (right - left).max(120);
        scene.height = y + 4;
        if self.picture.audience {
            scene.audience = Some(y + 2);
            scene.height = y + 32;
        }
    }
}
