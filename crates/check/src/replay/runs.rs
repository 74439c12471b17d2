//! What hangs where: every row of leads with the sockets its ends are in, and what lies free.
//!
//! This is kept as things lie about on a stage, act by act, not worked out from a plan: so it can disagree with the plan.

use super::act::Take;
use super::stop::{self, Why};
use crate::fault::Losses;
use crate::ids::{LeadId, LinkId, SocketId};
use crate::plan::End;
use crate::problem::Problem;
use crate::wired::{Wire, Wired};

/// One lead or adapter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Piece {
    lead: LeadId,
    /// Its place in the normal patch, which is how a loss names it; `None` once it was free or a spare.
    was: Option<(LinkId, usize)>,
    dead: bool,
}

impl Piece {
    fn living(lead: LeadId) -> Self {
        Piece { lead, was: None, dead: false }
    }

    fn is(self, lead: LeadId) -> bool {
        self.lead == lead && !self.dead
    }
}

/// A row of leads, or a bare fixed cable, with at least one end in a socket.
#[derive(Clone, Debug)]
struct Run {
    /// From the out-socket on.
    pieces: Vec<Piece>,
    /// Where its ends are or are to be.
    at: [SocketId; 2],
    /// Which ends are in.
    put: [bool; 2],
    /// The normal link it is or was; its kept plug still belongs to that.
    normal: Option<LinkId>,
    /// Nobody has touched it.
    untouched: bool,
    /// It became another link.
    new: bool,
}

impl Run {
    fn is_whole(&self) -> bool {
        self.put == [true; 2]
    }

    /// It hangs from fixed cables only: nothing is in a socket, and all its pieces can be had.
    fn is_loose(&self, p: &Problem) -> bool {
        !self.new && !self.is_whole() && self.normal.is_some_and(|l| p.one_pull[l.ix()])
    }
}

#[derive(Clone, Debug)]
pub(super) struct Runs {
    runs: Vec<Run>,
    floor: Vec<i32>,
    stage: Vec<i32>,
    bag: Vec<i32>,
    /// Dead pieces put aside.
    scrap: Vec<Piece>,
}

/// A link to be made by hand.
pub(super) struct Making<'a> {
    pub(super) at: [SocketId; 2],
    pub(super) via: &'a [LeadId],
    pub(super) kept: Option<End>,
    pub(super) takes: &'a [(LeadId, Take)],
}

impl Runs {
    pub(super) fn new(p: &Problem, losses: &Losses) -> Self {
        let run = |(i, link): (usize, &crate::spec::Link)| {
            let l = LinkId::at(i);
            let piece =
                |(k, t): (usize, &LeadId)| Piece { lead: *t, was: Some((l, k)), dead: losses.piece(l, k) };
            let pieces = link.via.iter().enumerate().map(piece).collect();
            Run {
                pieces,
                at: [link.from, link.to],
                put: [true; 2],
                normal: Some(l),
                untouched: true,
                new: false,
            }
        };
        let spares: Vec<(i32, i32)> =
            (0..p.spec.leads.len()).map(|t| losses.spares(&p.spec, LeadId::at(t), p.on_stage[t])).collect();
        Runs {
            runs: p.spec.patch.iter().enumerate().map(run).collect(),
            floor: vec![0; spares.len()],
            stage: spares.iter().map(|s| s.0).collect(),
            bag: spares.iter().map(|s| s.1).collect(),
            scrap: Vec::new(),
        }
    }

    /// What is dead by these losses; what no longer is, works again.
    pub(super) fn lose(&mut self, losses: &Losses) {
        let dead = |piece: &Piece| piece.was.is_some_and(|(l, k)| losses.piece(l, k));
        for piece in self.runs.iter_mut().flat_map(|r| &mut r.pieces) {
            piece.dead = dead(piece);
        }
        for mut piece in std::mem::take(&mut self.scrap) {
            piece.dead = dead(&piece);
            self.drop(piece);
        }
    }

    fn drop(&mut self, piece: Piece) {
        if piece.dead {
            self.scrap.push(piece);
        } else {
            self.floor[piece.lead.ix()] += 1;
        }
    }

    fn drop_all(&mut self, pieces: Vec<Piece>) {
        for piece in pieces {
            self.drop(piece);
        }
    }

    fn of_link(&self, l: LinkId) -> Option<usize> {
        self.runs.iter().position(|r| r.normal == Some(l) && !r.new)
    }

    /// Takes one end out. What hangs from nothing falls to the floor.
    fn take_out(&mut self, p: &Problem, run: usize, end: End) {
        let r = &mut self.runs[run];
        r.put[end.ix()] = false;
        r.untouched = false;
        let via = r.pieces.len();
        // The other end is a bare fixed cable: it was never in anything but this.
        if r.new && r.normal.is_none() && !p.end_charged(r.at[end.other().ix()], via) {
            r.put[end.other().ix()] = false;
        }
        if r.put == [false; 2] {
            let gone = self.runs.swap_remove(run);
            self.drop_all(gone.pieces);
        }
    }

    /// Pulls one plug of a normal link.
    pub(super) fn pull(&mut self, p: &Problem, l: LinkId, end: End) -> Result<(), Why> {
        let Some(link) = p.spec.patch.get(l.ix()) else {
            return Err(Why::NotThere { what: format!("link {}", l.ix()) });
        };
        let at = if end == End::From { link.from } else { link.to };
        let there = self.of_link(l).filter(|r| self.runs[*r].put[end.ix()] && p.end_exists[l.ix()][end.ix()]);
        let Some(run) = there else { return Err(Why::NoPlug { at: stop::socket(p, at) }) };
        self.take_out(p, run, end);
        Ok(())
    }

    /// Pulls one plug of a new link.
    pub(super) fn unplug(&mut self, p: &Problem, at: [SocketId; 2], end: End) -> Result<(), Why> {
        let there = self.runs.iter().position(|r| r.new && r.at == at && r.put[end.ix()]);
        let Some(run) = there else { return Err(Why::NoPlug { at: stop::socket(p, at[end.ix()]) }) };
        self.take_out(p, run, end);
        // What a kept plug hangs on is the old link again.
        if let Some(r) = self.runs.get_mut(run)
            && r.at == at
            && let Some(l) = r.normal
        {
            let link = &p.spec.patch[l.ix()];
            r.at = [link.from, link.to];
            r.new = false;
        }
        Ok(())
    }

    /// Pushes one plug of a new link in; says whether the link is whole now.
    pub(super) fn plug(&mut self, p: &Problem, new: &Making<'_>, end: End) -> Result<bool, Why> {
        let half = |r: &Run| r.new && r.at == new.at && !r.put[end.ix()] && r.via_is(new.via);
        let run = match self.runs.iter().position(half) {
            Some(run) if new.takes.is_empty() => run,
            Some(_) => return Err(Why::WrongLeads { from: stop::socket(p, new.at[0]) }),
            None => self.begin(p, new)?,
        };
        for e in [End::From, End::To] {
            let bare = !p.end_charged(new.at[e.ix()], new.via.len());
            if !self.runs[run].put[e.ix()] && (e == end || bare) {
                self.put_in(p, run, e)?;
            }
        }
        Ok(self.runs[run].is_whole())
    }

    fn put_in(&mut self, p: &Problem, run: usize, end: End) -> Result<(), Why> {
        let s = self.runs[run].at[end.ix()];
        if self.fills(p).any(|filled| filled == s) {
            return Err(Why::Full { at: stop::socket(p, s) });
        }
        self.runs[run].put[end.ix()] = true;
        Ok(())
    }

    /// The first act of a new link: what stays of an old one, and the leads that are taken and joined.
    fn begin(&mut self, p: &Problem, new: &Making<'_>) -> Result<usize, Why> {
        let mut lacks = new.via.to_vec();
        let mut kept = None;
        if let Some(k) = new.kept {
            let s = new.at[k.ix()];
            let hanging = p.normal_at[s.ix()].and_then(|l| self.of_link(l)).filter(|r| {
                let r = &self.runs[*r];
                r.put[k.ix()] && !r.put[k.other().ix()]
            });
            let stays = hanging.map_or(0, |r| alike(&self.runs[r].pieces, new.via, k));
            let (Some(run), true) = (hanging, stays > 0) else {
                return Err(Why::NothingKept { at: stop::socket(p, s) });
            };
            let pieces = std::mem::take(&mut self.runs[run].pieces);
            let cut = if k == End::From { stays } else { pieces.len() - stays };
            let (first, last) = pieces.split_at(cut);
            let (stay, off) = if k == End::From { (first, last) } else { (last, first) };
            self.runs[run].pieces = stay.to_vec();
            self.drop_all(off.to_vec());
            lacks = if k == End::From {
                new.via[stays..].to_vec()
            } else {
                new.via[..new.via.len() - stays].to_vec()
            };
            kept = Some(run);
        }
        let mut taken: Vec<LeadId> = new.takes.iter().map(|(t, _)| *t).collect();
        taken.sort_unstable();
        lacks.sort_unstable();
        if taken != lacks {
            return Err(Why::WrongLeads { from: stop::socket(p, new.at[0]) });
        }
        let kept = kept.map(|run| self.runs.swap_remove(run));
        for (t, from) in new.takes {
            self.take(p, *t, *from)?;
        }
        let pieces = new.via.iter().map(|t| Piece::living(*t)).collect();
        let normal = kept.as_ref().and_then(|r| r.normal);
        let put = [End::From, End::To].map(|e| new.kept == Some(e));
        self.runs.push(Run { pieces, at: new.at, put, normal, untouched: false, new: true });
        Ok(self.runs.len() - 1)
    }

    /// Takes one lead. A freed one lies on the floor, or hangs from a plug of a link that was parted.
    fn take(&mut self, p: &Problem, t: LeadId, from: Take) -> Result<(), Why> {
        if from == Take::Freed && self.floor[t.ix()] == 0 {
            self.part(p, t);
        }
        let (heap, place) = match from {
            Take::Freed => (&mut self.floor, "free"),
            Take::Stage => (&mut self.stage, "on stage"),
            Take::Bag => (&mut self.bag, "in the bag"),
        };
        if heap[t.ix()] <= 0 {
            return Err(Why::no_lead(p, t, place));
        }
        heap[t.ix()] -= 1;
        Ok(())
    }

    /// Parts what hangs from one plug down to a living piece of this type; the piece at the plug stays.
    fn part(&mut self, p: &Problem, t: LeadId) {
        for i in 0..self.runs.len() {
            let r = &self.runs[i];
            if r.new || r.is_whole() {
                continue;
            }
            let stay = usize::from(!r.is_loose(p));
            let n = r.pieces.len();
            // Counted from the end that is in.
            let order = |k: usize| if r.put[0] { k } else { n - 1 - k };
            if let Some(k) = (stay..n).rev().find(|k| r.pieces[order(*k)].is(t)) {
                let mut pieces = std::mem::take(&mut self.runs[i].pieces);
                let cut = if self.runs[i].put[0] { k } else { n - k };
                let last = pieces.split_off(cut);
                let (stay, off) = if self.runs[i].put[0] { (pieces, last) } else { (last, pieces) };
                self.runs[i].pieces = stay;
                self.drop_all(off);
                return;
            }
        }
    }

    /// Puts one plug of a normal link back. Two fixed cables are joined by the same hand.
    pub(super) fn put_back(&mut self, p: &Problem, l: LinkId, end: End) -> Result<(), Why> {
        let Some(link) = p.spec.patch.get(l.ix()) else {
            return Err(Why::NotThere { what: format!("link {}", l.ix()) });
        };
        let at = [link.from, link.to];
        let (pieces, mut put) = match self.of_link(l) {
            Some(run) if self.runs[run].put[end.ix()] => {
                return Err(Why::Full { at: stop::socket(p, at[end.ix()]) });
            }
            Some(run) => {
                let gone = self.runs.swap_remove(run);
                (gone.pieces, gone.put)
            }
            None => (Vec::new(), [false; 2]),
        };
        self.drop_all(pieces);
        for t in &link.via {
            self.take(p, *t, Take::Freed)?;
        }
        if p.one_pull[l.ix()] {
            put = [false; 2];
        }
        let pieces = link.via.iter().map(|t| Piece::living(*t)).collect();
        self.runs.push(Run { pieces, at, put, normal: Some(l), untouched: false, new: false });
        let run = self.runs.len() - 1;
        for e in [End::From, End::To] {
            if !self.runs[run].put[e.ix()] && (e == end || p.one_pull[l.ix()]) {
                self.put_in(p, run, e)?;
            }
        }
        Ok(())
    }

    /// Every socket with a plug in it.
    fn fills<'a>(&'a self, p: &'a Problem) -> impl Iterator<Item = SocketId> + 'a {
        let in_sockets = self.runs.iter().filter(|r| !r.is_loose(p));
        in_sockets.flat_map(|r| [0, 1].into_iter().filter(|e| r.put[*e]).map(|e| r.at[e]))
    }

    /// Lays it all out for the judge.
    pub(super) fn lay(&self, p: &Problem, losses: &Losses, w: &mut Wired) {
        for s in self.fills(p) {
            w.filled[s.ix()] = true;
        }
        for r in self.runs.iter().filter(|r| r.is_whole()) {
            // A link with a dead piece is dead even if it was out and in again.
            let still = r.normal.filter(|l| !r.new && (r.untouched || losses.link(*l)));
            w.out[r.at[0].ix()] = Some(Wire { to: r.at[1], normal: still });
            w.into[r.at[1].ix()] = Some(r.at[0]);
        }
    }

    /// The first new link with one plug out.
    pub(super) fn half(&self) -> Option<[SocketId; 2]> {
        self.runs.iter().find(|r| r.new && !r.is_whole()).map(|r| r.at)
    }

    /// Is every link of the normal patch whole, of its own types, and no other?
    pub(super) fn are_normal(&self, p: &Problem) -> bool {
        self.runs.len() == p.spec.patch.len()
            && self.runs.iter().all(|r| {
                r.is_whole() && !r.new && r.normal.is_some_and(|l| r.via_is(&p.spec.patch[l.ix()].via))
            })
    }
}

impl Run {
    fn via_is(&self, via: &[LeadId]) -> bool {
        self.pieces.iter().map(|piece| &piece.lead).eq(via)
    }
}

/// How many living pieces, counted from one end, are of the types that the new chain has there.
fn alike(pieces: &[Piece], via: &[LeadId], end: End) -> usize {
    let n = pieces.len().min(via.len());
    let at = |k: usize, len: usize| if end == End::From { k } else { len - 1 - k };
    (0..n).take_while(|k| pieces[at(*k, pieces.len())].is(via[at(*k, via.len())])).count()
}
