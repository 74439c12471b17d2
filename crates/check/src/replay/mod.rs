//! The replay: acts done one by one by hands, from the normal patch on. It knows nothing of any search, and nothing of plans.
//!
//! A plan is a set, judged as a whole. What a performer does is a row of acts, and each has to be possible when its turn
//! comes: the socket empty, the lead in hand, the speaker turned down. The replay keeps what hangs where, what lies free and what is
//! turned up, refuses what hands could not do, and asks the judge after each act who hears what and what is dangerous
//! (docs/cover.md, section 6).
//!
//! # Example
//! ```
//! use check::fault::Fault;
//! use check::replay::{Act, replay};
//! let (rig, _) = model::text::read(
//!     "gear MIC = dynamic vocal microphone, at 0 0
//! gear SPEAKER = powered speaker, at 2 0
//! lead mic lead 6 m: own 1
//! MIC > mic lead 6 m > SPEAKER A",
//! );
//! let compiled = check::judge_rig(&rig)?;
//! let speaker = check::ids::GearId::at(1);
//! let pull = Act::Pull { link: check::ids::LinkId::at(0), end: check::plan::End::To };
//! let stopped = replay(&compiled.problem, &Fault::default(), &[pull]).unwrap_err();
//! assert_eq!(stopped.to_string(), "step 1: SPEAKER is loud and still up; turn it down first");
//! # Ok::<(), check::Nonsense>(())
//! ```

mod act;
mod runs;
mod stop;

pub use act::{Act, Take, undo};
pub use stop::{Stopped, Why};

use crate::fault::{Fault, Losses};
use crate::ids::{GearId, KnobId, PartId, SocketId};
use crate::judge::{Judge, Unsafe};
use crate::plan::{End, Plan};
use crate::problem::Problem;
use crate::spec::Place;
use crate::wired::Wired;
use runs::{Making, Runs};

/// How things are after an act.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct After {
    /// Counted parts that are heard, by what is turned up then.
    pub carried: Vec<PartId>,
    /// What is dangerous with what is turned up then.
    pub danger: Option<Unsafe>,
    /// What would be dangerous if all were turned up: stricter, since a speaker at 0 leaks nothing.
    pub danger_if_up: Option<Unsafe>,
}

/// Does all acts and says how things are after each.
///
/// # Errors
/// The first act that cannot be done; or what is left half done at the end.
pub fn replay(problem: &Problem, fault: &Fault, acts: &[Act]) -> Result<Vec<After>, Stopped> {
    let mut replay = Replay::new(problem, fault);
    let after = acts.iter().map(|act| replay.act(act)).collect::<Result<_, _>>()?;
    replay.end()?;
    Ok(after)
}

/// Nothing is wrong.
static NO_FAULT: Fault = Fault { lost: Vec::new(), mends: Vec::new(), doubted: Vec::new() };

/// A stage with a fault, as the hands change it.
#[derive(Clone, Debug)]
pub struct Replay<'p> {
    p: &'p Problem,
    fault: &'p Fault,
    judge: Judge<'p>,
    losses: Losses,
    mends: Vec<usize>,
    runs: Runs,
    place: Vec<Place>,
    on: Vec<bool>,
    /// Switched on by hand, and never without power since.
    started: Vec<bool>,
    down: Vec<bool>,
    /// On stage and in the bag.
    wear: Vec<(i32, i32)>,
    step: usize,
}

impl<'p> Replay<'p> {
    /// The normal patch, with the fault.
    pub fn new(problem: &'p Problem, fault: &'p Fault) -> Self {
        let losses = Losses::of(&problem.spec, fault, &[]);
        Replay {
            p: problem,
            fault,
            judge: Judge::new(problem, fault),
            mends: Vec::new(),
            runs: Runs::new(problem, &losses),
            losses,
            place: problem.spec.gear.iter().map(|g| g.place).collect(),
            on: problem.spec.knobs.iter().map(|k| k.on).collect(),
            started: vec![false; problem.spec.gear.len()],
            down: vec![false; problem.spec.gear.len()],
            wear: problem.spec.wear.iter().map(|w| (w.stage.max(0), w.case.max(0))).collect(),
            step: 0,
        }
    }

    /// All that was lost is there again: how things stand when the way back begins.
    pub fn repair(&mut self) {
        self.fault = &NO_FAULT;
        self.mends.clear();
        self.losses = Losses::none(&self.p.spec);
        self.judge = Judge::new(self.p, &NO_FAULT);
        self.runs.lose(&self.losses);
    }

    /// Does one act.
    ///
    /// # Errors
    /// Where it cannot be done.
    pub fn act(&mut self, act: &Act) -> Result<After, Stopped> {
        self.step += 1;
        self.do_it(act).map_err(|why| Stopped { step: self.step, why })
    }

    /// Asks, when all is done, whether anything was left half done.
    ///
    /// # Errors
    /// A piece still turned down, or a new link with one plug out.
    pub fn end(&self) -> Result<(), Stopped> {
        let p = self.p;
        let down = self.down.iter().position(|down| *down).map(GearId::at);
        let why = match (down, self.runs.half()) {
            (Some(g), _) => Why::LeftDown { gear: stop::gear(p, g) },
            (None, Some([from, to])) => {
                Why::HalfPlugged { from: stop::socket(p, from), to: stop::socket(p, to) }
            }
            (None, None) => return Ok(()),
        };
        Err(Stopped { step: self.step + 1, why })
    }

    /// How things are now.
    pub fn look(&mut self) -> After {
        self.lay();
        let heard = |part: &PartId| !self.judge.speakers_of(*part).is_empty();
        let carried = self.p.counted.iter().copied().filter(heard).collect();
        let danger = self.judge.danger();
        let danger_if_up = if self.down.contains(&true) {
            self.judge.all_up();
            self.judge.danger()
        } else {
            danger.clone()
        };
        After { carried, danger, danger_if_up }
    }

    /// Is this the patch that a plan leaves?
    pub fn is_left_by(&self, plan: &Plan) -> bool {
        let mut theirs = Wired::new(self.p);
        let broken = theirs.lay_out(self.p, plan);
        let sorted = |mends: &[usize]| {
            let mut mends = mends.to_vec();
            mends.sort_unstable();
            mends
        };
        broken.is_none() && self.wired().is_like(&theirs) && sorted(&self.mends) == sorted(&plan.mends)
    }

    /// Is all plugged, placed and set as it normally is?
    pub fn is_normal(&self) -> bool {
        let spec = &self.p.spec;
        self.runs.are_normal(self.p)
            && self.place.iter().zip(&spec.gear).all(|(place, g)| *place == g.place)
            && self.on.iter().zip(&spec.knobs).all(|(on, k)| *on == k.on)
            && !self.down.contains(&true)
    }

    /// Pieces that normally work, could, and are off: a way back ends with switching these on.
    pub fn off(&mut self) -> Vec<GearId> {
        self.lay();
        let gear = (0..self.p.spec.gear.len()).map(GearId::at);
        gear.filter(|g| self.p.live[g.ix()] && !self.judge.is_live(*g) && self.judge.could_start(*g))
            .collect()
    }

    /// Banks that were normally on, and are off because their piece has started anew: a way back ends with pressing these.
    pub fn forgotten(&mut self) -> Vec<KnobId> {
        self.lay();
        let knobs = (0..self.p.spec.knobs.len()).map(KnobId::at);
        knobs.filter(|k| self.p.spec.knobs[k.ix()].on && self.judge.forgot(*k)).collect()
    }

    fn wired(&self) -> Wired {
        let mut w = Wired::new(self.p);
        w.place.clone_from(&self.place);
        w.on.clone_from(&self.on);
        w.started.clone_from(&self.started);
        w.down.clone_from(&self.down);
        w.idle.clone_from(&self.down);
        self.runs.lay(self.p, &self.losses, &mut w);
        w
    }

    /// Lays everything out for the judge, settles power and follows the sound.
    fn lay(&mut self) {
        let wired = self.wired();
        self.judge.stand(wired);
        self.judge.run(&self.losses);
    }

    fn is_dead(&self, g: GearId) -> Result<(), Why> {
        match self.losses.gear(g) {
            true => Err(Why::Dead { what: stop::gear(self.p, g) }),
            false => Ok(()),
        }
    }

    fn is_there(&self, g: GearId) -> Result<(), Why> {
        match self.place[g.ix()] {
            Place::Case => Err(Why::Packed { gear: stop::gear(self.p, g) }),
            Place::At(_) => Ok(()),
        }
    }

    /// A loud piece is touched only while it is down.
    fn touch(&self, g: GearId) -> Result<(), Why> {
        let loud = self.p.spec.gear.get(g.ix()).is_some_and(|gear| gear.loud);
        if loud && !self.down[g.ix()] { Err(Why::StillUp { gear: stop::gear(self.p, g) }) } else { Ok(()) }
    }

    fn touch_at(&self, s: SocketId) -> Result<(), Why> {
        self.touch(self.p.spec.gear_of(s))
    }

    fn do_it(&mut self, act: &Act) -> Result<After, Why> {
        let p = self.p;
        match act {
            Act::Quieten(g) | Act::BringUp(g) => {
                let (down, way) = match act {
                    Act::Quieten(_) => (true, "down"),
                    _ => (false, "up"),
                };
                if std::mem::replace(&mut self.down[g.ix()], down) == down {
                    return Err(Why::Already { gear: stop::gear(p, *g), way });
                }
            }
            Act::Pull { link, end } => {
                if let Some(l) = p.spec.patch.get(link.ix()) {
                    self.touch_at(if *end == End::From { l.from } else { l.to })?;
                }
                self.runs.pull(p, *link, *end)?;
            }
            Act::Return { link, end } => {
                if let Some(l) = p.spec.patch.get(link.ix()) {
                    self.touch_at(if *end == End::From { l.from } else { l.to })?;
                }
                self.runs.put_back(p, *link, *end)?;
            }
            Act::Unplug { from, to, end } => {
                self.touch_at(if *end == End::From { *from } else { *to })?;
                self.runs.unplug(p, [*from, *to], *end)?;
            }
            Act::Plug { from, to, via, kept, end, takes } => {
                let new = Making { at: [*from, *to], via, kept: *kept, takes };
                self.plug(&new, *end)?;
            }
            Act::Place { gear, to } => {
                self.is_dead(*gear)?;
                self.touch(*gear)?;
                let has = p.spec.gear[gear.ix()].placements.len();
                if matches!(to, Place::At(n) if *n >= has) {
                    return Err(Why::NotThere { what: format!("{}, that place", stop::gear(p, *gear)) });
                }
                self.place[gear.ix()] = *to;
            }
            Act::Knob { knob, on } => {
                let Some(k) = p.spec.knobs.get(knob.ix()) else {
                    return Err(Why::NotThere { what: format!("knob {}", knob.ix()) });
                };
                self.is_dead(k.gear)?;
                self.is_there(k.gear)?;
                self.touch(k.gear)?;
                self.on[knob.ix()] = *on;
            }
            Act::Start(g) => {
                self.is_dead(*g)?;
                self.is_there(*g)?;
                self.touch(*g)?;
                self.started[g.ix()] = true;
            }
            Act::Mend(m) => self.mend(*m)?,
        }
        let after = self.look();
        if let Act::Start(g) = act
            && !self.judge.could_start(*g)
        {
            return Err(Why::NoPower { gear: stop::gear(p, *g) });
        }
        // What loses its power is off until it is switched on again.
        for g in (0..self.started.len()).map(GearId::at) {
            self.started[g.ix()] &= self.judge.is_live(g);
        }
        Ok(after)
    }

    fn plug(&mut self, new: &Making<'_>, end: End) -> Result<(), Why> {
        let p = self.p;
        let [from, to] = new.at;
        let pair = p.pairs.find(from, to).filter(|pair| p.pairs.find_chain(*pair, new.via).is_some());
        if pair.is_none() {
            return Err(Why::NotALink { from: stop::socket(p, from), to: stop::socket(p, to) });
        }
        for s in new.at {
            if self.losses.socket(&p.spec, s) {
                return Err(Why::Dead { what: stop::socket(p, s) });
            }
            self.is_there(p.spec.gear_of(s))?;
        }
        if p.end_charged(new.at[end.ix()], new.via.len()) {
            self.touch_at(new.at[end.ix()])?;
        }
        // Once the link is whole its level is set at the in-socket.
        if self.runs.plug(p, new, end)? && p.spec.has_gain(to) {
            self.touch_at(to)?;
        }
        Ok(())
    }

    fn mend(&mut self, m: usize) -> Result<(), Why> {
        let Some(mend) = self.fault.mends.get(m) else {
            return Err(Why::NotThere { what: format!("mend {}", m + 1) });
        };
        self.touch(mend.at)?;
        if let Some((wear, n)) = mend.wear {
            let (stage, bag) = &mut self.wear[wear.ix()];
            if *stage + *bag < n {
                return Err(Why::NotThere { what: self.p.spec.wear[wear.ix()].name.clone() });
            }
            let from_stage = n.min(*stage);
            *stage -= from_stage;
            *bag -= n - from_stage;
        }
        self.mends.push(m);
        self.losses = Losses::of(&self.p.spec, self.fault, &self.mends);
        self.runs.lose(&self.losses);
        Ok(())
    }
}
