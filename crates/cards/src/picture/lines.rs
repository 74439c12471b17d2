//! Turns a laid-out plan into lines, and puts signs and labels at both ends of each.

use super::LeadState;
use super::gaps::{UNDER, UNDER_BARE};
use super::layout::{Plan, Run};
use super::ports::{DEAD_TAG, DISC, LABEL, NEW, OUT, TAG, Way};
use super::rows::LETTERS;
use super::scene::{Rect, Scene, Tag, TagKind, Wire};
use crate::font::Weight;

impl Plan<'_> {
    /// Turns remembered tracks into lines, and adds signs and labels at both ends.
    pub(super) fn draw_lines(&self, scene: &mut Scene) {
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
    pub(super) fn finish(&self, scene: &mut Scene, y: i32) {
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
