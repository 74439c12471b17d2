//! What can stop working, and the ways round it.

use std::path::Path;

use check::Judge;
use check::compile::{Compiled, Named};
use check::ids::{LeadId, PartId};
use check::order::Goal;
use check::plan::{End, Plan};
use engine::{Answer, Badness, Do, Limit, Proved, Way};

use crate::{Bad, Loaded, check as checked, label, load, near, view};

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// What is dead, as the performer names it; none: every single thing in turn.
    pub dead: Vec<String>,
    /// What the way is to be best at.
    pub goal: view::GoalAsked,
    /// How long to look, in counted steps; `None`: the usual limit.
    pub limit: Option<u64>,
}

/// Told how many of how many things have been looked at.
pub type Progress<'a> = &'a mut dyn FnMut(usize, usize);

/// Answers.
///
/// # Errors
/// When the file cannot be read, the rig cannot be reckoned with, or nothing has a name that was given.
pub fn ways(path: &Path, asked: &Asked, progress: Progress<'_>) -> Result<view::Ways, Bad> {
    let loaded = load(path)?;
    let c = loaded.compile()?;
    let limit = limit(asked.limit);
    let mut it = view::Ways {
        file: loaded.file.clone(),
        rig: loaded.rig.name.clone(),
        problems: loaded.problems(),
        hazards: checked::hazards(&c),
        goal: asked.goal,
        faults: Vec::new(),
        silence_nothing: 0,
        round: None,
    };
    if !it.hazards.is_empty() {
        // Nothing else is offered until they are dealt with.
        return Ok(it);
    }
    if asked.dead.is_empty() {
        let answers = singles(&c, limit, progress);
        it.silence_nothing = c.faults.len() - answers.len();
        it.faults = answers.iter().map(|(f, a)| line(&c, &c.faults[*f], a, asked.goal, limit)).collect();
        // Stable: what is equally bad stays in the order of the file.
        it.faults.sort_by_key(|f| (f.rank, std::cmp::Reverse(f.weighted)));
    } else {
        it.round = Some(round(&loaded, c, asked, limit)?);
    }
    Ok(it)
}

/// The answers of all single faults whose loss is heard, in the order of the file.
pub(crate) fn singles(c: &Compiled, limit: Limit, progress: Progress<'_>) -> Vec<(usize, Answer)> {
    let all = c.faults.len();
    let mut answers = Vec::new();
    for (i, named) in c.faults.iter().enumerate() {
        progress(i, all);
        if is_heard(c, named) {
            answers.push((i, engine::answer(&c.problem, &named.fault, limit, to_break(c))));
        }
    }
    progress(all, all);
    answers
}

/// The usual limit, or one of so many counted steps.
pub(crate) fn limit(steps: Option<u64>) -> Limit {
    let usual = Limit::default();
    steps.map_or(usual, |nodes| Limit { nodes, polish: usual.polish.min(nodes) })
}

/// Does anything that counts go silent, or can nobody be sure that it does not?
fn is_heard(c: &Compiled, named: &Named) -> bool {
    let certain = named.fault.for_certain(&c.problem.spec);
    let nothing = Judge::new(&c.problem, &certain).judge(&Plan::default());
    c.problem.counted.iter().any(|p| !nothing.carried.contains(p))
}

/// What a way needs to be so and nobody has checked, by the socket where it is heard.
fn unchecked(c: &Compiled, way: &Way) -> Vec<String> {
    let asked = way.cover.relies.iter().filter_map(|f| c.asked(*f));
    asked
        .filter_map(|(g, route)| Some(format!("{} {}", c.rig.gear.get(g.0)?.name, route.to.first()?)))
        .collect()
}

/// Seconds until the next break.
fn to_break(c: &Compiled) -> i32 {
    let seconds = c.rig.show.to_next_break.value.clamp(0.0, 100_000.0);
    // Whole seconds, far inside an `i32`.
    #[expect(clippy::cast_possible_truncation, reason = "clamped just above")]
    let whole = seconds.ceil() as i32;
    whole
}

fn engine_goal(goal: view::GoalAsked) -> Goal {
    match goal {
        view::GoalAsked::Now => Goal::Now,
        view::GoalAsked::Full => Goal::Full,
        view::GoalAsked::Break => Goal::Break,
    }
}

/// The way of an answer for the goal that was asked.
fn chosen(c: &Compiled, named: &Named, a: &Answer, goal: view::GoalAsked, limit: Limit) -> engine::Way {
    match goal {
        view::GoalAsked::Now => a.now.clone(),
        view::GoalAsked::Full | view::GoalAsked::Break => {
            engine::way(&c.problem, &named.fault, engine_goal(goal), limit, to_break(c))
        }
    }
}

fn line(c: &Compiled, named: &Named, a: &Answer, goal: view::GoalAsked, limit: Limit) -> view::FaultLine {
    let mut way = chosen(c, named, a, goal, limit);
    let later = a.full.as_ref().filter(|_| goal == view::GoalAsked::Now && way.order.steps.is_empty());
    if let Some(full) = later {
        way = full.clone();
    }
    let gone = gone(a, &way, c);
    view::FaultLine {
        dead: label::fault(c, named),
        rank: rank(a.badness),
        silent: parts(c, &a.silent),
        silent_in_words: label::in_words(c, &a.silent),
        gone: parts(c, &gone),
        gone_in_words: label::in_words(c, &gone),
        way: !way.order.steps.is_empty(),
        later: later.is_some(),
        unchecked: unchecked(c, &way),
        seconds: whole(&way),
        proof: proof(way.cover.proved),
        weighted: way.order.weighted,
    }
}

/// Must parts that go silent and that this way does not bring back.
fn gone(a: &Answer, way: &engine::Way, c: &Compiled) -> Vec<PartId> {
    let must = a.silent.iter().copied().filter(|p| label::rank(c, *p) == view::Matters::Must);
    must.filter(|p| !way.verdict.carried.contains(p)).collect()
}

fn round(loaded: &Loaded, c: Compiled, asked: &Asked, limit: Limit) -> Result<view::Round, Bad> {
    let mut places: Vec<usize> = Vec::new();
    for name in &asked.dead {
        let found = match label::by_tape(&c, name) {
            Some(found) => found,
            None => c.find_fault(name).map_err(|_| no_such(loaded, &c, name))?,
        };
        places.extend(c.faults.iter().position(|f| f == found).filter(|at| !places.contains(at)));
    }
    let all: Vec<&Named> = places.iter().filter_map(|at| c.faults.get(*at)).collect();
    let Some((first, more)) = all.split_first() else {
        return Err(no_such(loaded, &c, ""));
    };
    let dead = all.iter().map(|f| label::fault(&c, f)).collect();
    let fault = more.iter().fold(first.fault.clone(), |both, one| both.and(&one.fault));
    let named = Named { key: String::new(), about: first.about, fault };
    let answer = engine::answer(&c.problem, &named.fault, limit, to_break(&c));
    let way = chosen(&c, &named, &answer, asked.goal, limit);
    let gone = parts(&c, &gone(&answer, &way, &c));
    let view_way = way_view(&c, &named, &way);
    let still_nothing = answer.next.as_ref().map(|w| way_view(&c, &named, w));
    let it = view::Round {
        rank: rank(answer.badness),
        silent: parts(&c, &answer.silent),
        sounding: parts(&c, &answer.sounding),
        gone,
        way: view_way,
        still_nothing,
        card: None,
        dead,
    };
    let told = cards::write::Told { compiled: &c, answers: &[], date: String::new(), lang: "en".to_owned() };
    // The card itself, then the one that it sends the reader to when there is still nothing.
    let cards = cards::write::together(&told, &places, &as_asked(answer, way, asked.goal));
    let text: Vec<String> = cards.iter().map(cards::text::card).collect();
    let card = (!text.is_empty()).then(|| text.join("\n"));
    Ok(view::Round { card, ..it })
}

/// The answer with the way for the goal that was asked in the first place.
fn as_asked(answer: Answer, way: engine::Way, goal: view::GoalAsked) -> Answer {
    match goal {
        view::GoalAsked::Now => answer,
        view::GoalAsked::Full | view::GoalAsked::Break => {
            Answer { now: way, full: None, in_break: None, next: None, ..answer }
        }
    }
}

fn no_such(loaded: &Loaded, c: &Compiled, name: &str) -> Bad {
    let keys: Vec<String> = c.faults.iter().map(|f| label::fault(c, f)).collect();
    let close = near::or(&near::nearest(name, keys.iter().map(String::as_str)));
    Bad {
        code: "unknown-thing",
        place: format!("--dead \"{name}\""),
        found: format!("nothing in {} is called \"{name}\"", loaded.file),
        expected: "a taped name such as MIXER, or a way it fails such as MIXER:supply".to_owned(),
        fix: match close {
            Some(names) => format!("write {names}"),
            None => format!("see every name: secondstring ways {}", loaded.file),
        },
    }
}

fn way_view(c: &Compiled, named: &Named, way: &engine::Way) -> view::Way {
    let v = way.cover.values;
    let bound = way.cover.bound;
    view::Way {
        steps: way.order.steps.iter().enumerate().map(|(i, s)| step(c, named, i + 1, s)).collect(),
        heard: parts(c, &way.verdict.carried),
        back: way.order.back.iter().map(|(p, at)| back(c, *p, *at)).collect(),
        seconds: whole(way),
        proof: proof(way.cover.proved),
        values: view::Values {
            must: v.must,
            harm: v.harm,
            should: v.should,
            nice: v.nice,
            seconds: v.seconds,
            diff: v.diff,
            moves: v.moves,
        },
        bound: [bound.must, bound.harm, bound.seconds],
        looked_at: way.cover.nodes,
    }
}

fn step(c: &Compiled, named: &Named, number: usize, s: &engine::Step) -> view::Step {
    let mut it = view::Step {
        number,
        act: String::new(),
        at: label::gear(c, s.gear),
        what: String::new(),
        leads: Vec::new(),
        other_end: None,
        on: None,
        seconds: s.seconds,
        until: s.until,
        back: s.back.iter().map(|(p, at)| back(c, *p, Some(*at))).collect(),
        first_heard: s.first_heard.iter().map(|(p, at)| back(c, *p, Some(*at))).collect(),
    };
    let leads = |via: &[LeadId]| via.iter().map(|t| c.lead_name(*t).to_owned()).collect::<Vec<_>>();
    let act = match &s.does {
        Do::Quieten(_) => "quieten",
        Do::BringUp(_) => "bring-up",
        Do::Pull { link, from, .. } => {
            it.what = c.label(*from);
            it.leads = leads(&c.problem.spec.patch[link.ix()].via);
            "pull"
        }
        Do::Place { gear, placement, .. } => {
            let place = c.problem.spec.gear[gear.ix()].placements.get(*placement);
            it.what = place.map_or(String::new(), |p| p.name.clone());
            "place"
        }
        Do::Mend { mend } => {
            it.what = named.fault.mends.get(*mend).map_or(String::new(), |m| m.name.clone());
            "mend"
        }
        Do::Knob { knob, on } => {
            it.what = label::knob(c, *knob);
            it.on = Some(*on);
            "knob"
        }
        Do::Plug { from, to, via, end, .. } => {
            let (here, there) = match end {
                End::From => (from, to),
                End::To => (to, from),
            };
            it.what = c.label(*here);
            it.other_end = Some(c.label(*there));
            it.leads = leads(via);
            "plug"
        }
        Do::Start { .. } => "start",
    };
    act.clone_into(&mut it.act);
    it
}

fn back(c: &Compiled, p: PartId, at: Option<i32>) -> view::Back {
    view::Back { part: label::part(c, p), seconds: at.map(range) }
}

fn parts(c: &Compiled, list: &[PartId]) -> Vec<String> {
    list.iter().map(|p| label::part(c, *p)).collect()
}

/// Until everything that comes back is back.
fn whole(way: &engine::Way) -> Option<view::Range> {
    let last = way.order.steps.last()?.until;
    let starts = way.order.back.iter().filter_map(|(_, at)| *at).max().unwrap_or(0);
    Some(range(last.max(starts)))
}

/// From the silence, for hands that have not tried it.
fn range(hands: i32) -> view::Range {
    let range = cards::Seconds::untried(u32::try_from(hands).unwrap_or(0));
    view::Range { least: range.least, most: range.most, said: range.said() }
}

fn rank(badness: Badness) -> view::Rank {
    match badness {
        Badness::StopsTheShow => view::Rank::StopsTheShow,
        Badness::Slow => view::Rank::Slow,
        Badness::WedCope => view::Rank::WedCope,
    }
}

fn proof(proved: Proved) -> view::Proof {
    match proved {
        Proved::No => view::Proof::No,
        Proved::Seconds => view::Proof::Seconds,
        Proved::Order => view::Proof::Order,
    }
}
