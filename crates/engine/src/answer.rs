//! Everything that is known about one fault: what goes silent, the ways round, and how bad it is.

use check::fault::{Fault, Loss};
use check::ids::{GearId, KnobId, LeadId, LinkId, PartId, RouteId, SocketId};
use check::order::Goal;
use check::plan::{End, Plan};
use check::replay::{Act, Stopped};
use check::spec::{Guard, Place, Rank};
use check::{Judge, Problem, Unsafe, Verdict};

use crate::cover::{Bound, Cover, Limit, cover};
use crate::search::Proved;
use crate::steps;
pub use check::replay::Take;

/// One act of the hands, in the words of the problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Do {
    /// Turn a loud piece down before its plugs are touched.
    Quieten(GearId),
    /// Take one plug of a normal link out.
    Pull {
        /// The link.
        link: LinkId,
        /// Which end.
        end: End,
        /// The socket it leaves.
        from: SocketId,
    },
    /// Place a piece: turn it, hang it, or take it out of the bag.
    Place {
        /// The piece.
        gear: GearId,
        /// Which of its placements.
        placement: usize,
        /// It was packed.
        from_bag: bool,
    },
    /// Do a mend of the fault.
    Mend {
        /// Index into the fault's mends.
        mend: usize,
    },
    /// Turn a knob over.
    Knob {
        /// Which.
        knob: KnobId,
        /// Is it on afterwards?
        on: bool,
    },
    /// Push one plug in. The first end of a fresh link also takes the leads and joins them.
    Plug {
        /// Out-socket of the new link.
        from: SocketId,
        /// In-socket of the new link.
        to: SocketId,
        /// Its chain, from the out-socket.
        via: Vec<LeadId>,
        /// The end that goes in now.
        end: End,
        /// The normal link whose other plug stays in.
        kept: Option<(LinkId, End)>,
        /// Leads taken for it: which, and whether from the bag (else freed or lying on stage).
        takes: Vec<(LeadId, Take)>,
        /// A level is set here after plugging.
        level: bool,
    },
    /// Switch a piece on.
    Start {
        /// The piece.
        gear: GearId,
        /// Seconds until it works, while the hands go on.
        boot: i32,
    },
    /// Bring a loud piece back, slowly from zero.
    BringUp(GearId),
}

impl Do {
    /// The act as the replay knows it.
    pub fn act(&self) -> Act {
        match self {
            Do::Quieten(g) => Act::Quieten(*g),
            Do::BringUp(g) => Act::BringUp(*g),
            Do::Pull { link, end, .. } => Act::Pull { link: *link, end: *end },
            Do::Place { gear, placement, .. } => Act::Place { gear: *gear, to: Place::At(*placement) },
            Do::Mend { mend } => Act::Mend(*mend),
            Do::Knob { knob, on } => Act::Knob { knob: *knob, on: *on },
            Do::Start { gear, .. } => Act::Start(*gear),
            Do::Plug { from, to, via, end, kept, takes, .. } => Act::Plug {
                from: *from,
                to: *to,
                via: via.clone(),
                kept: kept.map(|(_, end)| end),
                end: *end,
                takes: takes.clone(),
            },
        }
    }
}

/// One step, with its place in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What is done.
    pub does: Do,
    /// The piece the hands are at.
    pub gear: GearId,
    /// Seconds for it: walking there and opening the bag included.
    pub seconds: i32,
    /// Seconds from the first step to its end.
    pub until: i32,
    /// Parts that are back after it, and when: a start may keep them a little longer.
    pub back: Vec<(PartId, i32)>,
    /// Silent parts that are heard after it for the first time, though a later step turns them down again; and when. One
    /// may stop and play here.
    pub first_heard: Vec<(PartId, i32)>,
}

/// The steps of a plan in the order in which they are shown (docs/cover.md, section 9a).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Order {
    /// In order.
    pub steps: Vec<Step>,
    /// For each counted part that is silent at any time: from the first step, when it is back for good; `None` for never.
    pub back: Vec<(PartId, Option<i32>)>,
    /// Why the replay refuses these steps, although the whole plan is valid. Such an order is never handed out.
    pub fails: Option<Fails>,
    /// Weighted silence: weight × 100, 10 or 1 for must, should and nice, times the seconds silent.
    pub weighted: i64,
}

/// What is wrong with an order of steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fails {
    /// A step cannot be done.
    Stopped(Stopped),
    /// Something is dangerous after a step, judged as if all were turned up.
    Unsafe {
        /// Which step, counted from 1.
        step: usize,
        /// What.
        what: Unsafe,
    },
    /// In the end it is not the patch of the plan, or not all that was promised is heard.
    Otherwise,
}

/// A cover with its judgement and its steps.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// The plan and how far it is proved.
    pub cover: Cover,
    /// What the judge says of it.
    pub verdict: Verdict,
    /// Its steps.
    pub order: Order,
}

/// How bad a fault is, in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Badness {
    /// A must part has no way round, or stays silent over 45 s.
    StopsTheShow,
    /// A must part stays silent over 20 s.
    Slow,
    /// The rest.
    WedCope,
}

/// All that is known about one fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// Counted parts that are silent after the fault with nothing touched.
    pub silent: Vec<PartId>,
    /// Counted parts that still sound.
    pub sounding: Vec<PartId>,
    /// What to do at once. May be to do nothing.
    pub now: Way,
    /// What to do at the next pause in the set, where it carries more than `now`.
    pub full: Option<Way>,
    /// What to do in the break, where it is better than `full` or `now`.
    pub in_break: Option<Way>,
    /// What to do when the first way gives no sound: a way that uses none of the inputs and placements of the first.
    pub next: Option<Way>,
    /// Must parts that no way brings back.
    pub gaps: Vec<PartId>,
    /// How bad it is.
    pub badness: Badness,
    /// Weighted silence; what is never carried counts until the next break.
    pub weighted: i64,
}

/// Seconds within which a must part has to be back, or the show stops; and above which it is slow.
pub const STOPS: i32 = 45;
/// Above this it is slow.
pub const SLOW: i32 = 20;

/// The most that is looked for what is not done at once.
const LATER: Limit = Limit { nodes: 1_000, polish: 200 };
/// The same for a way that is shown then: it is worth a longer look if the short one did not settle it.
const LATER_AND_SHOWN: Limit = Limit { nodes: 8_000, polish: 200 };

/// Answers one fault. `to_break` is the time to the next break, seconds: how long a part counts that never comes back.
pub fn answer(problem: &Problem, fault: &Fault, limit: Limit, to_break: i32) -> Answer {
    // Only what is certain counts as heard.
    let certain = fault.for_certain(&problem.spec);
    let mut judge = Judge::new(problem, &certain);
    let nothing = judge.judge(&Plan::default());
    let silent: Vec<PartId> =
        problem.counted.iter().copied().filter(|p| !nothing.carried.contains(p)).collect();
    let sounding = nothing.carried.clone();
    let now = way(problem, fault, Goal::Now, limit, to_break);
    let more = |w: &Way, than: &Way| {
        let (a, b) = (w.cover.values, than.cover.values);
        (a.must, a.should, a.nice) < (b.must, b.should, b.nice)
    };
    // What is done later, or only when the first way fails, is looked for less long: it says so when it is not proved.
    let within =
        |most: Limit| Limit { nodes: limit.nodes.min(most.nodes), polish: limit.polish.min(most.polish) };
    let (longer, limit) = (within(LATER_AND_SHOWN), within(LATER));
    let missing = now.verdict.carried.len() < problem.counted.len();
    let full = missing.then(|| way(problem, fault, Goal::Full, limit, to_break)).filter(|w| more(w, &now));
    let full = full.map(|w| match w.cover.proved {
        Proved::No => way(problem, fault, Goal::Full, longer, to_break),
        Proved::Seconds | Proved::Order => w,
    });
    let in_break =
        (!silent.is_empty()).then(|| way(problem, fault, Goal::Break, limit, to_break)).filter(|w| {
            let base = full.as_ref().unwrap_or(&now);
            Goal::Break.key(&w.cover.values) < Goal::Break.key(&base.cover.values)
                && (w.cover.values.must, w.cover.values.should, w.cover.values.nice, w.cover.values.diff)
                    < (
                        base.cover.values.must,
                        base.cover.values.should,
                        base.cover.values.nice,
                        base.cover.values.diff,
                    )
        });
    let next = next_way(problem, fault, &now, limit, to_break);
    let gaps: Vec<PartId> = silent
        .iter()
        .copied()
        .filter(|p| problem.part(*p).rank == Rank::Must && !now.verdict.carried.contains(p))
        .collect();
    let must_silent = now
        .order
        .back
        .iter()
        .filter(|(p, _)| problem.part(*p).rank == Rank::Must)
        .map(|(_, at)| at.unwrap_or(i32::MAX))
        .max()
        .unwrap_or(0);
    let badness = if !gaps.is_empty() || must_silent > STOPS {
        Badness::StopsTheShow
    } else if must_silent > SLOW {
        Badness::Slow
    } else {
        Badness::WedCope
    };
    let weighted = now.order.weighted;
    Answer { silent, sounding, now, full, in_break, next, gaps, badness, weighted }
}

/// A cover with its judgement and steps. A plan that the replay refuses in every order is not handed out: then it is doing
/// nothing, not proved.
pub fn way(problem: &Problem, fault: &Fault, goal: Goal, limit: Limit, to_break: i32) -> Way {
    let cover = cover(problem, fault, goal, limit);
    let way = stepped(problem, fault, cover, to_break);
    if way.order.fails.is_none() {
        return way;
    }
    let nodes = way.cover.nodes;
    let values = Judge::new(problem, fault).judge(&Plan::default()).values;
    let bound = Bound { must: i32::MIN, harm: 0, seconds: 0 };
    let relies = Vec::new();
    let cover = Cover { goal, plan: Plan::default(), values, proved: Proved::No, bound, nodes, relies };
    stepped(problem, fault, cover, to_break)
}

fn stepped(problem: &Problem, fault: &Fault, cover: Cover, to_break: i32) -> Way {
    let fault = fault.relying(&problem.spec, &cover.relies);
    let verdict = Judge::new(problem, &fault).judge(&cover.plan);
    let order = steps::order(problem, &fault, &cover.plan, &verdict, to_break);
    Way { cover, verdict, order }
}

/// The way for when the first gives no sound.
fn next_way(problem: &Problem, fault: &Fault, first: &Way, limit: Limit, to_break: i32) -> Option<Way> {
    let worse = next_fault(problem, fault, first)?;
    let next = way(problem, &worse, Goal::Now, limit, to_break);
    let brings = next.verdict.carried.iter().any(|p| !first_heard(problem, fault).contains(p));
    let new = !next.cover.plan.is_empty() && next.cover.plan != first.cover.plan;
    (brings && new).then_some(next)
}

/// The fault that [`Answer::next`] answers: as if what the first way newly relies on had failed too. `None` where the first
/// way does nothing.
pub fn next_fault(problem: &Problem, fault: &Fault, first: &Way) -> Option<Fault> {
    let plan = &first.cover.plan;
    if plan.is_empty() && first.cover.relies.is_empty() {
        return None;
    }
    let mut more: Vec<Loss> = Vec::new();
    for n in &plan.new {
        let pair = &problem.pairs.pairs[n.pair];
        // An input that played until now is not to blame where a placed piece takes over in front of it.
        let placed = plan.places.iter().any(|(g, _)| *g == problem.spec.gear_of(pair.from));
        if n.kept != Some(End::To) || !placed {
            more.push(Loss::Socket(pair.to));
        }
    }
    for (g, _) in &plan.places {
        let gear = &problem.spec.gear[g.ix()];
        more.push(match (gear.sounds.is_empty(), gear.makes.is_empty()) {
            (false, _) => Loss::Sound(*g),
            (true, false) => Loss::Make(*g),
            // A box or a strip that only passes things on.
            (true, true) => Loss::Gear(*g),
        });
    }
    // What a pull or a knob was to open has not opened.
    for (i, route) in problem.spec.routes.iter().enumerate() {
        let turned = route.knob.is_some_and(|k| plan.knobs.contains(&k) && !problem.spec.knobs[k.ix()].on);
        if turned || emptied(problem, plan, route.guard) {
            more.push(Loss::Route(RouteId::at(i)));
        }
    }
    if more.is_empty() && plan.mends.is_empty() && first.cover.relies.is_empty() {
        return None;
    }
    let mut worse = fault.and(&Fault::of(more));
    // What it relied on without knowing does not hold.
    worse.doubted.extend(&first.cover.relies);
    // A mend that did not help is not offered again.
    for m in plan.mends.iter().rev() {
        worse.mends.remove(*m);
    }
    Some(worse)
}

/// Did the plan empty the socket that this asks to be empty?
fn emptied(problem: &Problem, plan: &Plan, guard: Option<Guard>) -> bool {
    let Some(Guard::Empty(s)) = guard else { return false };
    problem.normal_at[s.ix()].is_some_and(|l| {
        let end = if problem.spec.patch[l.ix()].from == s { End::From } else { End::To };
        plan.pulls(l, end)
    })
}

fn first_heard(problem: &Problem, fault: &Fault) -> Vec<PartId> {
    let certain = fault.for_certain(&problem.spec);
    Judge::new(problem, &certain).judge(&Plan::default()).carried
}
