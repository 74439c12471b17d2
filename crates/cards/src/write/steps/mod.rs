//! The steps of a way, one plug a step.

mod switch;
mod words;

use check::Judge;
use check::fault::Mend;
use check::ids::{GearId, PartId, SocketId};
use check::plan::End;
use engine::{Do, Step as Act, Way};

use super::book::Book;
use super::leads::Plugged;
use super::say::{self, chunks};
use super::{cautions, signs};
use crate::card::{Mark, Sign, Step};
use crate::line::{Line, Run, printed, text, verb};
use crate::seconds::Seconds;
use crate::words::SENTENCE;

pub(super) use switch::{stood, switch};

/// Steps as shown, and which of them makes which new link.
#[derive(Default)]
pub(super) struct Shown {
    pub(super) steps: Vec<Step>,
    pub(super) makes: Vec<(SocketId, SocketId, u32)>,
}

/// Puts a way into words. `mends` are those of the fault the way answers; `later` comes back at a pause;
/// `dead` has no life or power left.
pub(super) fn steps(
    book: Book<'_>,
    way: &Way,
    mends: &[Mend],
    judge: &Judge<'_>,
    later: &[PartId],
    dead: &[GearId],
) -> Shown {
    let acts = &way.order.steps;
    let mut it = Writer { book, judge, mends, shown: Shown::default(), said: Vec::new(), dead };
    let pulled: Vec<Option<usize>> = (0..acts.len()).map(|j| pull_of(book, acts, j)).collect();
    for (i, act) in acts.iter().enumerate() {
        if pulled.contains(&Some(i)) {
            continue;
        }
        match pulled.get(i).copied().flatten().and_then(|p| acts.get(p)) {
            Some(pull) => it.moved(pull, act),
            None => it.act(act, acts.get(..i).unwrap_or_default()),
        }
    }
    it.marks(way, later);
    it.shown
}

/// The pull that a plug follows, when both are one plug moved and nothing between them needs the pull done.
///
/// Only acts that make no link may stand between: a link made while the old one still stands could howl or leak.
fn pull_of(book: Book<'_>, acts: &[Act], plug: usize) -> Option<usize> {
    let act = acts.get(plug)?;
    for (i, before) in acts.get(..plug)?.iter().enumerate().rev() {
        if moves(book, before, act) {
            return (i + 1 == plug || silent(before)).then_some(i);
        }
        let still = matches!(before.does, Do::Pull { .. } | Do::Place { .. } | Do::Quieten(_));
        if !still || !silent(before) {
            return None;
        }
    }
    None
}

/// Does nothing come back with it?
fn silent(act: &Act) -> bool {
    act.back.is_empty() && act.first_heard.is_empty()
}

/// A plug pulled and then pushed in elsewhere while its other end stays: one plug moved.
fn moves(book: Book<'_>, pull: &Act, plug: &Act) -> bool {
    let (Do::Pull { link, end, .. }, Do::Plug { from, to, via, kept, end: goes, takes, .. }) =
        (&pull.does, &plug.does)
    else {
        return false;
    };
    if !takes.is_empty()
        || end != goes
        || Plugged::of(&plug.does).is_some_and(|p| !p.comes_off(book).is_empty())
    {
        return false;
    }
    match kept {
        Some((kept, stays)) => link == kept && *end == stays.other(),
        None => {
            // A piece's own cable: the same end of it stays in the piece.
            let stays = book.end(*link, end.other());
            let new = if *goes == End::From { *to } else { *from };
            via.is_empty() && stays == Some(new) && book.has_tail(new)
        }
    }
}

struct Writer<'a> {
    book: Book<'a>,
    judge: &'a Judge<'a>,
    mends: &'a [Mend],
    shown: Shown,
    said: Vec<String>,
    dead: &'a [GearId],
}

impl Writer<'_> {
    fn push(&mut self, act: &Act, runs: Vec<Run>, seconds: i32, back: &[PartId], caution: bool) {
        let number = u32::try_from(self.shown.steps.len() + 1).unwrap_or(u32::MAX);
        let mend = self.mend(&act.does);
        let cautions =
            if caution { cautions::caution(self.book, &act.does, mend, self.dead) } else { Vec::new() };
        let caution = self.unsaid(cautions);
        self.shown.steps.push(Step {
            number,
            words: runs.into(),
            sign: signs::sign(self.book, self.judge, &act.does, act.gear, back),
            seconds: say::whole(seconds),
            who: None,
            caution,
            new_lead: false,
            marks: Vec::new(),
        });
    }

    /// A caution is said at the first step it belongs to: read at every step it is read at none. One that says no more than
    /// an earlier one is left out too.
    fn unsaid(&mut self, cautions: Vec<Line>) -> Option<Line> {
        let mut runs: Vec<Run> = Vec::new();
        for line in cautions {
            let plain = line.plain().to_lowercase();
            if !self.said.iter().any(|said| said.contains(&plain)) {
                self.said.push(plain);
                runs.extend(line.stopped().0);
            }
        }
        (!runs.is_empty()).then(|| runs.into())
    }

    /// The last step is felt rather than seen.
    fn feels(&mut self, what: &str) {
        if let Some(step) = self.shown.steps.last_mut() {
            step.sign = Sign::Feel(Line::text(what));
        }
    }

    fn makes(&mut self, does: &Do) {
        if let (Some(p), Some(step)) = (Plugged::of(does), self.shown.steps.last_mut()) {
            // A link is made by its last plug: an earlier one gives its number back.
            let number = step.number;
            step.new_lead = true;
            let earlier = self.shown.makes.iter().position(|(f, t, _)| (*f, *t) == (p.from, p.to));
            if let Some((_, _, old)) = earlier.map(|at| self.shown.makes.remove(at))
                && let Some(step) = self.shown.steps.iter_mut().find(|s| s.number == old)
            {
                step.new_lead = false;
            }
            self.shown.makes.push((p.from, p.to, number));
        }
    }

    fn moved(&mut self, pull: &Act, act: &Act) {
        let (Do::Pull { from, .. }, Some(p)) = (&pull.does, Plugged::of(&act.does)) else { return };
        let book = self.book;
        let mut runs = words::moved(book, *from, &p);
        runs.extend(words::level(book, self.judge, &act.does));
        let back: Vec<PartId> = pull.back.iter().chain(&act.back).map(|(p, _)| *p).collect();
        let setting = switch::setting_seconds(book, &act.does);
        self.push(act, runs, pull.seconds.saturating_add(act.seconds) - setting, &back, true);
        let of_pull = self.unsaid(cautions::caution(book, &pull.does, None, self.dead));
        if let (Some(step), Some(more)) = (self.shown.steps.last_mut(), of_pull) {
            let before = step.caution.take().map(|c| c.stopped().0).unwrap_or_default();
            step.caution = Some(before.into_iter().chain(more.0).collect::<Vec<_>>().into());
        }
        self.makes(&act.does);
        self.set_kept_end(act, setting);
        self.back(pull);
        self.back(act);
    }

    fn act(&mut self, act: &Act, before: &[Act]) {
        let back: Vec<PartId> = act.back.iter().map(|(p, _)| *p).collect();
        let mut seconds = act.seconds;
        let runs = match &act.does {
            Do::Quieten(g) => vec![verb("turn"), self.book.name(*g), text("down to 0, before any plug")],
            Do::BringUp(g) => vec![verb("bring up"), self.book.name(*g), text("slowly")],
            Do::Pull { link, end, from } => words::pull(self.book, *link, *end, *from, before),
            Do::Place { gear, placement, from_bag } => words::place(self.book, *gear, *placement, *from_bag),
            Do::Mend { mend } => self
                .mends
                .get(*mend)
                .map_or(vec![verb("mend"), self.book.name(act.gear)], |m| words::mend(self.book, m)),
            Do::Knob { knob, on } => words::knob(self.book, *knob, *on),
            Do::Start { gear, boot } => words::start(self.book, *gear, *boot),
            Do::Plug { .. } => {
                let Some(p) = Plugged::of(&act.does) else { return };
                for runs in words::take_off(self.book, &p) {
                    self.push(act, runs, 0, &[], false);
                    self.feels("it come off");
                }
                let joins = !p.takes.is_empty() && (p.via.len() > 1 || p.kept.is_some());
                if joins {
                    let half = seconds / 2;
                    self.push(act, words::join(self.book, &p), half, &[], false);
                    self.feels("the plugs go home");
                    seconds -= half;
                }
                let mut runs = words::plug(self.book, &p, joins, before);
                runs.extend(words::level(self.book, self.judge, &act.does));
                runs
            }
        };
        let setting = switch::setting_seconds(self.book, &act.does).min(seconds);
        self.push(act, runs, seconds - setting, &back, true);
        if matches!(act.does, Do::Plug { .. }) {
            self.makes(&act.does);
            self.set_kept_end(act, setting);
        }
        self.back(act);
    }

    /// The switch of an input whose plug stayed in: what arrives there now may be of another kind.
    fn set_kept_end(&mut self, act: &Act, seconds: i32) {
        let Some(p) = Plugged::of(&act.does) else { return };
        let Some(class) = switch::kept_switch(self.book, &p) else { return };
        let mut runs = vec![verb("set")];
        runs.extend(self.book.place(p.to));
        runs.extend([text("to"), printed(class.clone())]);
        self.push(act, runs, seconds, &[], false);
        if let Some(step) = self.shown.steps.last_mut() {
            step.sign = Sign::See([text("the switch on"), printed(class)].into());
        }
    }

    fn mend(&self, does: &Do) -> Option<&'_ model::Mend> {
        let Do::Mend { mend } = does else { return None };
        let found = self.mends.get(*mend)?;
        let gear = self.book.gear(found.at)?;
        gear.body.mends.iter().find(|m| m.name == found.name)
    }

    /// What is heard, or back for good, after the act: after the step just written.
    fn back(&mut self, act: &Act) {
        let heard = self.marks_of(&act.first_heard, |parts, seconds| Mark::Heard { parts, seconds });
        let back = self.marks_of(&act.back, |parts, seconds| Mark::Back { parts, seconds });
        if let Some(step) = self.shown.steps.last_mut() {
            step.marks.extend(heard.into_iter().chain(back));
        }
    }

    /// A mark for each time, its names in as many sentences as they take.
    fn marks_of(&self, parts: &[(PartId, i32)], mark: impl Fn(Vec<String>, Seconds) -> Mark) -> Vec<Mark> {
        let mut by_time: Vec<(i32, Vec<PartId>)> = Vec::new();
        for (part, at) in parts {
            match by_time.iter_mut().find(|(t, _)| t == at) {
                Some((_, parts)) => parts.push(*part),
                None => by_time.push((*at, vec![*part])),
            }
        }
        let mut out = Vec::new();
        for (at, parts) in by_time {
            let seconds = Seconds::untried(say::whole(at));
            // "… are back, about 80 s to 4 min": what the seconds leave of a sentence is for the names.
            let seconds_take = crate::words::count(&Line::text(seconds.said())) + 2;
            let names = chunks(&self.book.parts(&parts), SENTENCE - seconds_take);
            out.extend(names.into_iter().map(|parts| mark(parts, seconds)));
        }
        out
    }

    /// The last words of the steps: all is back, or what stays silent.
    fn marks(&mut self, way: &Way, later: &[PartId]) {
        let never: Vec<PartId> =
            way.order.back.iter().filter(|(_, at)| at.is_none()).map(|(p, _)| *p).collect();
        let parts = self.book.parts(&never);
        let audience: Vec<String> = self.book.parts(
            &never
                .iter()
                .copied()
                .filter(|p| self.book.for_audience(*p) && !later.contains(p))
                .collect::<Vec<_>>(),
        );
        let all = way.verdict.carried.len() == self.book.c.problem.counted.len();
        let Some(last) = self.shown.steps.last_mut() else { return };
        if all
            && parts.is_empty()
            && let Some(Mark::Back { seconds, .. }) = last.marks.first().cloned()
            && last.marks.iter().all(|m| matches!(m, Mark::Back { seconds: s, .. } if *s == seconds))
        {
            last.marks = vec![Mark::AllBack { seconds }];
        }
        last.marks.extend(chunks(&audience, GONE).into_iter().map(|parts| Mark::NotTonight { parts }));
    }
}

/// Words for the names in "… are not back tonight", which has four of its own.
const GONE: usize = 8;
