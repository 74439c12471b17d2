//! The steps of a way, one plug a step.

use check::Judge;
use check::fault::Mend;
use check::ids::{GearId, LinkId, PartId, SocketId};
use check::plan::End;
use engine::{Do, Step as Act, Way};

use super::book::Book;
use super::leads::{Plugged, whence};
use super::say::{self, chunks, owner};
use super::{cautions, signs};
use crate::card::{Mark, Step};
use crate::line::{Line, Run, printed, text, verb};
use crate::seconds::Seconds;

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
    dead: Option<GearId>,
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
            return (i + 1 == plug || before.back.is_empty()).then_some(i);
        }
        let still = matches!(before.does, Do::Pull { .. } | Do::Place { .. } | Do::Quieten(_));
        if !still || !before.back.is_empty() {
            return None;
        }
    }
    None
}

/// A plug pulled and then pushed in elsewhere while its other end stays: one plug moved.
fn moves(book: Book<'_>, pull: &Act, plug: &Act) -> bool {
    let (Do::Pull { link, end, .. }, Do::Plug { from, to, via, kept, end: goes, takes, .. }) =
        (&pull.does, &plug.does)
    else {
        return false;
    };
    if !takes.is_empty() || end != goes {
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
    said: Vec<Line>,
    dead: Option<GearId>,
}

impl Writer<'_> {
    fn push(&mut self, act: &Act, runs: Vec<Run>, seconds: i32, back: &[PartId], caution: bool) {
        let number = u32::try_from(self.shown.steps.len() + 1).unwrap_or(u32::MAX);
        let mend = self.mend(&act.does);
        // Said at the first step it belongs to: a caution read at every step is read at none.
        let caution = cautions::caution(self.book, &act.does, mend, self.dead)
            .filter(|line| caution && !self.said.contains(line));
        self.said.extend(caution.clone());
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
        let mut runs = vec![verb("move")];
        runs.extend(p.hanging(book).unwrap_or_else(|| vec![text("the lead")]));
        runs.push(text(": out of"));
        runs.extend(book.place(*from));
        runs.push(text(", into"));
        runs.extend(book.place(p.at()));
        runs.extend(self.set(&p));
        runs.extend(self.level(&act.does));
        let caution_of_pull =
            cautions::caution(book, &pull.does, None, self.dead).filter(|c| !self.said.contains(c));
        let back: Vec<PartId> = pull.back.iter().chain(&act.back).map(|(p, _)| *p).collect();
        let setting = self.setting_seconds(&p, &act.does);
        self.push(act, runs, pull.seconds.saturating_add(act.seconds) - setting, &back, true);
        if let (Some(step), Some(caution)) = (self.shown.steps.last_mut(), caution_of_pull)
            && step.caution.is_none()
        {
            self.said.push(caution.clone());
            step.caution = Some(caution);
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
            Do::Pull { link, end, from } => self.pull(*link, *end, *from, before),
            Do::Place { gear, placement, from_bag } => self.place(*gear, *placement, *from_bag),
            Do::Mend { mend } => self
                .mends
                .get(*mend)
                .map_or(vec![verb("mend"), self.book.name(act.gear)], |m| mend_words(self.book, m)),
            Do::Knob { knob, on } => self.knob(*knob, *on),
            Do::Start { gear, boot } => {
                let mut runs = vec![verb("switch on"), self.book.name(*gear)];
                if *boot > 0 {
                    runs.push(text(format!(". It needs {boot} s")));
                }
                runs
            }
            Do::Plug { .. } => {
                let Some(p) = Plugged::of(&act.does) else { return };
                let joins = !p.takes.is_empty() && (p.via.len() > 1 || p.kept);
                if joins {
                    let half = seconds / 2;
                    let runs = self.join(&p);
                    self.push(act, runs, half, &[], false);
                    if let Some(step) = self.shown.steps.last_mut() {
                        step.sign = crate::card::Sign::Feel(Line::text("the plugs go home"));
                    }
                    seconds -= half;
                }
                let mut runs = self.plug(&p, joins, before);
                runs.extend(self.level(&act.does));
                runs
            }
        };
        let setting = Plugged::of(&act.does).map_or(0, |p| self.setting_seconds(&p, &act.does)).min(seconds);
        self.push(act, runs, seconds - setting, &back, true);
        if matches!(act.does, Do::Plug { .. }) {
            self.makes(&act.does);
            self.set_kept_end(act, setting);
        }
        self.back(act);
    }

    fn pull(&self, link: LinkId, end: End, from: SocketId, before: &[Act]) -> Vec<Run> {
        let book = self.book;
        let other = book.end(link, end.other());
        let bare = book.c.problem.spec.patch.get(link.ix()).is_none_or(|l| l.via.is_empty());
        let out =
            |a: &Act| matches!(a.does, Do::Pull { link: l, end: e, .. } if l == link && e == end.other());
        let mut runs = vec![verb("pull")];
        if before.iter().any(out) {
            runs.push(text("the other end out of"));
        } else if bare {
            let tail = other.filter(|s| book.has_tail(*s)).unwrap_or(from);
            runs.extend([book.name(book.gear_of(tail)), text("plug out of")]);
        } else {
            runs.extend(other.map(|s| book.lead_at(s)).unwrap_or_default());
            runs.push(text("lead out of"));
        }
        runs.extend(book.place(from));
        runs
    }

    fn place(&self, gear: GearId, placement: usize, from_bag: bool) -> Vec<Run> {
        let found = self.book.gear(gear).and_then(|g| g.body.placements.get(placement));
        let name = found.map_or("", |p| p.name.as_str()).trim();
        let mut runs = Vec::new();
        if from_bag {
            runs.extend([verb("take"), self.book.name(gear), text("from the spare bag."), verb("put")]);
            runs.push(text("it"));
        } else {
            runs.extend([verb("put"), self.book.name(gear)]);
        }
        runs.push(if name.is_empty() { text("in place") } else { owner(name, 6) });
        runs
    }

    fn knob(&self, knob: check::ids::KnobId, on: bool) -> Vec<Run> {
        let book = self.book;
        let Some(found) = book.c.problem.spec.knobs.get(knob.ix()) else { return vec![verb("turn")] };
        let mute = found.name.to_lowercase().contains("mute");
        let bank = matches!(book.c.turn(knob), check::compile::Turn::Bank(..));
        let word = match (bank, mute, on) {
            (true, _, true) | (false, true, false) => "switch on",
            (true, _, false) | (false, true, true) => "switch off",
            (false, false, true) => "turn up",
            (false, false, false) => "turn down",
        };
        let mut runs = vec![verb(word), printed(&found.name), text("on"), book.name(found.gear)];
        if found.wait > 0 {
            runs.push(text(format!(". Wait {} s", found.wait)));
        }
        runs
    }

    /// What is taken, and joined, before a plug goes in.
    fn join(&self, p: &Plugged<'_>) -> Vec<Run> {
        let book = self.book;
        let mut runs = Vec::new();
        for (lead, take) in p.takes {
            runs.extend([verb("take"), text("the"), book.lead(*lead), text(format!("{}.", whence(*take)))]);
        }
        let many = p.takes.len() > 1;
        match p.hanging(book).filter(|_| p.kept) {
            Some(lead) => {
                runs.extend([verb("join"), text(if many { "them to" } else { "it to" })]);
                runs.extend(lead);
            }
            None if many => runs.extend([verb("join"), text("them in one row")]),
            None => {
                let rest = p.via.iter().find(|l| p.takes.iter().all(|(t, _)| t != *l));
                runs.extend([verb("join"), text("it to the")]);
                runs.extend(rest.map(|l| book.lead(*l)));
            }
        }
        runs
    }

    fn plug(&self, p: &Plugged<'_>, joined: bool, before: &[Act]) -> Vec<Run> {
        let book = self.book;
        let mut runs = Vec::new();
        let second =
            before.iter().filter_map(|a| Plugged::of(&a.does)).any(|b| (b.from, b.to) == (p.from, p.to));
        if let Some(lead) = p.hanging(book).filter(|_| !second) {
            runs.push(verb("push"));
            runs.extend(lead);
        } else if second {
            runs.extend([verb("push"), text("the other end of")]);
            runs.extend(p.main_lead(book).map(|l| book.lead(l)));
        } else if joined || p.takes.is_empty() {
            runs.extend([verb("push"), text("the")]);
            runs.extend(p.main_lead(book).map(|l| book.lead(l)));
        } else {
            for (lead, take) in p.takes {
                runs.extend([verb("take"), text("the"), book.lead(*lead)]);
                runs.push(text(format!("{}.", whence(*take))));
            }
            runs.extend([verb("push"), text("it")]);
        }
        runs.push(text("into"));
        // A piece's own cable goes into what it is plugged to, whichever end the act names.
        let own_tail = p.via.is_empty() && book.has_tail(p.at());
        let at = match (own_tail, p.end) {
            (false, _) => p.at(),
            (true, End::From) => p.to,
            (true, End::To) => p.from,
        };
        runs.extend(book.place(at));
        runs.extend(self.set(p));
        runs
    }

    /// The switch that goes with a combined input: ", on mic".
    fn set(&self, p: &Plugged<'_>) -> Vec<Run> {
        switch(self.book, p).map_or_else(Vec::new, |class| vec![text(", on"), printed(class)])
    }

    /// How many of an act's seconds go to the input whose plug stayed in: its switch is set in a step of its own.
    fn setting_seconds(&self, p: &Plugged<'_>, does: &Do) -> i32 {
        match does {
            Do::Plug { level: true, .. } if kept_switch(self.book, p).is_some() => {
                self.book.c.problem.spec.steps.level
            }
            _ => 0,
        }
    }

    /// The switch of an input whose plug stayed in: what arrives there now may be of another kind.
    fn set_kept_end(&mut self, act: &Act, seconds: i32) {
        let Some(p) = Plugged::of(&act.does) else { return };
        let Some(class) = kept_switch(self.book, &p) else { return };
        let mut runs = vec![verb("set")];
        runs.extend(self.book.place(p.to));
        runs.extend([text("to"), printed(class.clone())]);
        self.push(act, runs, seconds, &[], false);
        if let Some(step) = self.shown.steps.last_mut() {
            step.sign = crate::card::Sign::See([text("the switch on"), printed(class)].into());
        }
    }

    /// A level that is set by ear after plugging; a loud piece is brought up in a step of its own.
    fn level(&self, does: &Do) -> Vec<Run> {
        let Do::Plug { to, end, level: true, .. } = does else { return Vec::new() };
        if self.book.gear(self.book.gear_of(*to)).is_some_and(|g| g.body.loud) {
            return Vec::new();
        }
        let mut runs = vec![text("."), verb("set")];
        if *end == End::To {
            runs.push(text("its level by ear"));
        } else {
            runs.push(text("the level of"));
            runs.extend(self.book.place(*to));
        }
        runs
    }

    fn mend(&self, does: &Do) -> Option<&'_ model::Mend> {
        let Do::Mend { mend } = does else { return None };
        let found = self.mends.get(*mend)?;
        let gear = self.book.gear(found.at)?;
        gear.body.mends.iter().find(|m| m.name == found.name)
    }

    /// What is back after the act, after the step just written.
    fn back(&mut self, act: &Act) {
        let mut by_time: Vec<(i32, Vec<PartId>)> = Vec::new();
        for (part, at) in &act.back {
            match by_time.iter_mut().find(|(t, _)| t == at) {
                Some((_, parts)) => parts.push(*part),
                None => by_time.push((*at, vec![*part])),
            }
        }
        let Some(step) = self.shown.steps.last_mut() else { return };
        for (at, parts) in by_time {
            let seconds = Seconds::untried(say::whole(at));
            for parts in chunks(&self.book.parts(&parts), MARK) {
                step.marks.push(Mark::Back { parts, seconds });
            }
        }
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
            && let [Mark::Back { seconds, .. }] = last.marks.as_slice()
        {
            last.marks = vec![Mark::AllBack { seconds: *seconds }];
        }
        last.marks.extend(chunks(&audience, MARK).into_iter().map(|parts| Mark::NotTonight { parts }));
    }
}

/// Words for the names in a mark: "… are back, about 80 s to 4 min" has eight of its own.
const MARK: usize = 4;

/// What the switch of a combined input has to stand on, when the plug goes in there.
pub(super) fn switch(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    if p.end == End::To { wanted(book, p) } else { None }
}

/// The same for an input whose plug stays in while the other end of the lead is moved. No step would say it otherwise.
fn kept_switch(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    if p.kept && p.end == End::From { wanted(book, p) } else { None }
}

fn wanted(book: Book<'_>, p: &Plugged<'_>) -> Option<String> {
    let (to, from) = (book.socket(p.to)?, book.socket(p.from)?);
    let takes = to.classes();
    let class = &from.output()?.class;
    // On a combined socket with a window for each plug the plug itself decides.
    (class.is_sound() && takes.contains(&class) && switched(to)).then(|| class.to_string())
}

/// Is there a switch to set: does one connector take several classes?
fn switched(socket: &model::Socket) -> bool {
    // One connector that takes two classes needs no switch: the level range is what differs.
    let combined = socket.connectors.len() > 1;
    let sound: Vec<_> = socket.input().map(|i| i.accepts.as_slice()).unwrap_or_default().iter().collect();
    combined && sound.iter().filter(|a| a.class.is_sound() && a.only_on.is_none()).count() > 1
}

/// "swap the 9 V block" with its verb, and at which piece.
fn mend_words(book: Book<'_>, mend: &Mend) -> Vec<Run> {
    let at = [text("at"), book.name(mend.at)];
    match mend.name.trim().split_once(' ') {
        Some((first, rest)) if say::fits(&mend.name, 8) => {
            let mut runs = vec![verb(first), text(rest)];
            runs.extend(at);
            runs
        }
        _ => {
            let mut runs =
                vec![verb("do"), printed(if mend.name.trim().is_empty() { "?" } else { &mend.name })];
            runs.extend(at);
            runs
        }
    }
}
