//! One card as plain data, in the order it is read: mouth line first, paperwork last.

mod step;

use crate::Rank;
use crate::line::Line;
use crate::picture::Picture;

pub(crate) use step::list;
pub use step::{Mark, Sign, Step};

/// What is said of every way: nobody's trials are known yet.
pub(crate) const UNTRIED: &str = "Never tried. Times are estimates.";

/// Everything on one card. Fields stand in reading order; each way of showing a card keeps that order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// The number in the black tab. Cards refer to each other by it, so it is unique in a deck.
    pub number: u32,
    /// The card that this one is the next way of, when that brought no sound; `None` for a card of its own.
    pub next_of: Option<u32>,
    /// Taped name and what happened: `MIXER` "is dead". No full stop.
    pub title: Line,
    /// How bad it is; the contents list has the worst first.
    pub rank: Rank,
    /// What to do with the mouth, and who is still heard.
    pub mouth: Mouth,
    /// What to look at first: at most 4, at most 10 s together, at most 5 words each.
    pub looks: Vec<Look>,
    /// Answers that need no re-plugging. The ones with `first` stand before the steps, the others after them.
    pub carry_on: Vec<CarryOn>,
    /// What must be known before the first step: "If you did card 1, undo its steps first."
    pub before: Vec<Line>,
    /// The steps, the most important part first, numbered from 1.
    pub steps: Vec<Step>,
    /// What changes, drawn.
    pub picture: Option<Picture>,
    /// What will be different, each one sentence, the three that matter most: "No monitor, no reverb."
    pub different: Vec<Line>,
    /// What else will be different: less, so it is one step further down.
    pub also_different: Vec<Line>,
    /// The better way for the next pause, or for the break.
    pub in_break: Vec<Line>,
    /// The way back afterwards.
    pub put_back: Vec<Line>,
    /// When it is still silent.
    pub still_nothing: Next,
    /// What to do without a thing a step needs.
    pub havent_got: Vec<HaventGot>,
    /// Guesses this card rests on, each with its reason: "LEFT SPEAKER's B still works when A is in use."
    pub guessed: Vec<Line>,
    /// How sure it is that nothing quicker exists. `None` when there is nothing to be quicker than (looks only).
    pub proof: Option<Proof>,
    /// With [`Proof::NoWay`]: the nearest thing that would be a way: "A second 12 V supply would be one."
    pub would_do: Vec<Line>,
    /// Who may do it.
    pub who: Who,
    /// Rig mark, date and room, on every side.
    pub foot: Foot,
}

/// What to do with the mouth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mouth {
    /// The word in the largest letters.
    pub word: MouthWord,
    /// Who **is** still heard, never who is not: "Corin plays on, heard unplugged."
    pub heard: Line,
}

/// The mouth lines there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MouthWord {
    /// The voice is heard.
    KeepSinging,
    /// No voice in this rig, or it does not sing now; the playing is heard.
    KeepPlaying,
    /// Nothing that matters is heard.
    Talk,
    /// What is missing is only nice to have, or a pause comes soon.
    FinishTheSong,
    /// A hazard to people. Nothing else is offered.
    Stop,
}

impl MouthWord {
    /// The words, in sentence case; shown in capitals.
    pub fn words(self) -> &'static str {
        match self {
            Self::KeepSinging => "Keep singing",
            Self::KeepPlaying => "Keep playing",
            Self::Talk => "Talk to them",
            Self::FinishTheSong => "Finish the song",
            Self::Stop => "Stop",
        }
    }
}

/// A thing to see or touch that may end the matter in seconds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// At most 5 words, a question: `MUTE` "lit?"
    pub words: Line,
    /// Seconds it takes, an estimate.
    pub seconds: u32,
}

/// An answer that needs no re-plugging.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CarryOn {
    /// Which.
    pub kind: CarryOnKind,
    /// Its reason: "It still passes sound. Touch nothing."
    pub words: Line,
    /// Whether it comes before the steps.
    pub first: bool,
}

/// The answers that need no re-plugging.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CarryOnKind {
    /// Sound still passes: hands off.
    LeaveIt,
    /// Then do the steps.
    FinishTheSong,
    /// The room is small enough.
    PlayUnplugged,
    /// A hazard to people; comes first and alone.
    Stop,
}

impl CarryOnKind {
    /// The words, in sentence case, with their full stop.
    pub fn words(self) -> &'static str {
        match self {
            Self::LeaveIt => "Leave it.",
            Self::FinishTheSong => "Finish the song first.",
            Self::PlayUnplugged => "Play unplugged.",
            Self::Stop => "Stop.",
        }
    }
}

/// Where to go next. Never a dead end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Next {
    /// Another card.
    Card(u32),
    /// Words: "Nothing more to try here. Play unplugged."
    Words(Line),
}

/// The way without a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HaventGot {
    /// The thing: "the 6 m jack lead".
    pub thing: Line,
    /// What then.
    pub then: Next,
}

/// How sure it is that nothing quicker exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Proof {
    /// Every other way was ruled out.
    NoQuicker,
    /// A limit was reached.
    BestFound,
    /// Nothing in the rig and the spare bag does it.
    NoWay,
}

impl Proof {
    /// The sentence.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoQuicker => "No quicker way with this gear.",
            Self::BestFound => "Best found so far.",
            Self::NoWay => "No way round with what you carry.",
        }
    }
}

/// Who may do it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Who {
    /// Anyone.
    Anyone,
    /// Only these people, by name (mains, a locked house rack).
    Only(Vec<String>),
}

impl Who {
    /// The sentence, without its full stop.
    pub fn said(&self) -> String {
        match self {
            Self::Anyone => "Anyone may do this".into(),
            Self::Only(names) => format!("Only {} may do this", list(names)),
        }
    }
}

/// What stands at the foot of every side.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Foot {
    /// Four letters that change when the rig does: cards from another state of the rig show it.
    pub mark: String,
    /// The date as text, given by the caller.
    pub date: String,
    /// The room.
    pub room: String,
}

impl Foot {
    /// "KELP · 14 June · Ferry deck".
    pub fn said(&self) -> String {
        [&self.mark, &self.date, &self.room]
            .into_iter()
            .filter(|s| !s.is_empty())
            .cloned()
            .collect::<Vec<_>>()
            .join(" · ")
    }
}

impl Card {
    /// Cautions of later steps, each once: said above the steps, and again at their step. What belongs to the first step
    /// stands at the top anyway.
    pub fn cautions(&self) -> Vec<&Line> {
        let mut out: Vec<&Line> = Vec::new();
        for caution in self.steps.iter().skip(1).filter_map(|step| step.caution.as_ref()) {
            if !out.contains(&caution) {
                out.push(caution);
            }
        }
        out
    }

    /// Whether the card says stop: then nothing else is offered on it.
    pub fn stops(&self) -> bool {
        self.mouth.word == MouthWord::Stop
            || self.carry_on.iter().any(|c| c.kind == CarryOnKind::Stop && c.first)
    }
}
