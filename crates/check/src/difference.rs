//! What will sound different once a plan is done: for each part and listener, against the normal patch.
//!
//! As data; the words are made where cards are. A change of level is a range, since nobody measured how two speakers add up
//! in this room.

use model::Rig;

use crate::compile::Compiled;
use crate::fault::Fault;
use crate::ids::{GearId, PartId, SocketId};
use crate::judge::Judge;
use crate::plan::Plan;
use crate::spec::Place;
use crate::trail::{self, Cause, Done};

/// One thing that will sound different.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// For which part.
    pub part: PartId,
    /// What changes.
    pub what: Change,
    /// Change of level at its listener, dB, least first; `None` where no figure is known.
    pub db: Option<(f64, f64)>,
    /// For another tone: what on its way makes it, the most points first. Empty where each thing alone is as before.
    pub causes: Vec<Cause>,
}

/// What changes for a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// The audience no longer hears it.
    Lost,
    /// A performer no longer hears it.
    MonitorLost,
    /// Fewer of the same speakers carry it.
    FewerSpeakers {
        /// How many before.
        from: u32,
        /// How many now.
        to: u32,
        /// Those that no longer do.
        gone: Vec<GearId>,
    },
    /// Other speakers carry it, at least in part.
    OtherSpeaker {
        /// Those that no longer do.
        gone: Vec<GearId>,
        /// Those that now do.
        now: Vec<GearId>,
    },
    /// More speakers carry it.
    MoreSpeakers(Vec<GearId>),
    /// The same speaker stands another way.
    Moved(GearId),
    /// Left and right carried their own mix; now both carry one.
    Mono,
    /// It goes another way that sounds different by this many points.
    Tone(i32),
}

/// Everything that differs between the normal patch and a plan for a fault, in the order of the parts.
pub fn differences(c: &Compiled, fault: &Fault, plan: &Plan) -> Vec<Difference> {
    let p = &c.problem;
    let nothing = Fault::default();
    let mut before = Judge::new(p, &nothing);
    before.look(&Plan::default());
    let mut after = Judge::new(p, fault);
    after.look(plan);
    let (none, of) = (Plan::default(), |plan, judge| Done { c, plan, judge });
    p.counted.iter().flat_map(|part| of_part(*part, of(&none, &before), of(plan, &after))).collect()
}

fn of_part(part: PartId, was_done: Done<'_>, now_done: Done<'_>) -> Vec<Difference> {
    let (c, before, after) = (was_done.c, was_done.judge, now_done.judge);
    let (was, now) = (before.speakers_of(part), after.speakers_of(part));
    let told = |what, db| Difference { part, what, db, causes: Vec::new() };
    if now.is_empty() {
        let listener = &c.problem.spec.listeners[c.problem.part(part).listener.ix()].name;
        let what =
            if model::same_name(listener, model::AUDIENCE) { Change::Lost } else { Change::MonitorLost };
        return vec![told(what, None)];
    }
    let gone: Vec<GearId> = was.iter().copied().filter(|g| !now.contains(g)).collect();
    let new: Vec<GearId> = now.iter().copied().filter(|g| !was.contains(g)).collect();
    let mut all = Vec::new();
    if !new.is_empty() && gone.is_empty() {
        all.push(told(Change::MoreSpeakers(new), None));
    } else if !new.is_empty() {
        let db = louder(c, part, (&was, before), (&now, after));
        all.push(told(Change::OtherSpeaker { gone, now: new }, db));
    } else if !gone.is_empty() {
        let count = |list: &[GearId]| u32::try_from(list.len()).unwrap_or(u32::MAX);
        let (from, to) = (count(&was), count(&now));
        let db = physics::room::speakers_change(from, to).ok().map(|b| (b.least().get(), b.most().get()));
        all.push(told(Change::FewerSpeakers { from, to, gone }, db));
    }
    for g in now.iter().filter(|g| was.contains(g) && before.place(**g) != after.place(**g)) {
        let db = louder(c, part, (&[*g], before), (&[*g], after));
        all.push(told(Change::Moved(*g), db));
    }
    if now.len() > 1 && feeds(c, &was, before) > 1 && feeds(c, &now, after) == 1 {
        all.push(told(Change::Mono, None));
    }
    let old = trail::least(was_done, part, &was).unwrap_or_default();
    let new = trail::least(now_done, part, &now).unwrap_or_default();
    if new.points > old.points {
        let mut causes: Vec<Cause> =
            new.causes.into_iter().filter(|cause| !old.causes.contains(cause)).collect();
        causes.sort_by_key(|cause| std::cmp::Reverse(cause.points));
        all.push(Difference { causes, ..told(Change::Tone(new.points - old.points), None) });
    }
    all
}

/// How much louder the loudest of some speakers is than the loudest of others, dB, by how they stand.
fn louder(
    c: &Compiled,
    part: PartId,
    was: (&[GearId], &Judge<'_>),
    now: (&[GearId], &Judge<'_>),
) -> Option<(f64, f64)> {
    let listener = c.problem.part(part).listener.ix();
    let most = |(list, judge): (&[GearId], &Judge<'_>)| {
        list.iter().filter_map(|g| level(&c.rig, listener, *g, judge.place(*g))).max_by(f64::total_cmp)
    };
    let change = most(now)? - most(was)?;
    Some((change, change))
}

fn level(rig: &Rig, listener: usize, g: GearId, place: Place) -> Option<f64> {
    let Place::At(n) = place else { return None };
    let who = &rig.listeners.get(listener)?.name;
    rig.gear[g.ix()].body.placements.get(n)?.level_at(who).map(|f| f.value)
}

/// From how many out-sockets these speakers are fed; one that another speaker passes on is that speaker's.
fn feeds(c: &Compiled, speakers: &[GearId], judge: &Judge<'_>) -> usize {
    let mut roots: Vec<SocketId> = Vec::new();
    for g in speakers {
        for s in c.problem.spec.gear[g.ix()].sounds.iter().map(|x| &x.socket) {
            if let Some(root) = root(c, *s, judge)
                && !roots.contains(&root)
            {
                roots.push(root);
            }
        }
    }
    roots.len()
}

fn root(c: &Compiled, into: SocketId, judge: &Judge<'_>) -> Option<SocketId> {
    let spec = &c.problem.spec;
    let mut from = judge.link_in(into)?;
    // As many steps as there are pieces: a ring of through sockets ends too.
    for _ in 0..spec.gear.len() {
        let giver = &spec.gear[spec.gear_of(from).ix()];
        let Some(next) = giver.sounds.iter().find_map(|s| judge.link_in(s.socket)) else { break };
        from = next;
    }
    Some(from)
}
