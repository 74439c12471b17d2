//! All cards of one rig for one show, with the list that finds them.

use crate::card::{Card, Foot, MouthWord};
use crate::line::{Line, tape, text};

/// All cards of one rig, and what stands before them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deck {
    /// The rig's own name: "Café duo".
    pub rig: String,
    /// Language tag of the words, for screen readers: "en".
    pub lang: String,
    /// Mark, date and room.
    pub foot: Foot,
    /// Hazards in the rig as it normally stands. Said before anything else, and then there are no cards.
    pub hazards: Vec<Hazard>,
    /// What to do at a tingle, smoke or a burnt smell; see [`Deck::tingle`].
    pub tingle: Vec<Line>,
    /// What went silent, worst first, at most about ten rows.
    pub silent: Vec<SilentRow>,
    /// The cards, in number order.
    pub cards: Vec<Card>,
    /// When nothing helps: "Play unplugged."
    pub last_resort: Line,
}

/// A hazard of the rig as it normally stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// What it is: "`STRIP A` feeds 2600 W of 2300 W. Too much."
    pub what: Line,
    /// How to be rid of it.
    pub cure: Line,
}

/// How bad a loss is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rank {
    /// No way round for a part the show needs, or it stays silent over 45 s.
    StopsTheShow,
    /// Over 20 s.
    Slow,
    /// The rest.
    WedCope,
}

impl Rank {
    /// All, worst first.
    pub const ALL: [Self; 3] = [Self::StopsTheShow, Self::Slow, Self::WedCope];

    /// The words.
    pub fn words(self) -> &'static str {
        match self {
            Self::StopsTheShow => "Stops the show",
            Self::Slow => "Slow",
            Self::WedCope => "We’d cope",
        }
    }
}

/// A row of "What went silent?".
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SilentRow {
    /// The silent thing, shown in capitals: "everything", "voice", "one side".
    pub name: String,
    /// What tells it from its neighbours: "but lamps are lit".
    pub note: Line,
    /// The mouth line.
    pub mouth: MouthWord,
    /// Looks that end it or tell the cards apart, at most 3.
    pub looks: Vec<Line>,
    /// The cards that fit, the likeliest first.
    pub cards: Vec<u32>,
}

impl Deck {
    /// What to do at a tingle. `strips` are taped names of strips with a switch.
    ///
    /// It claims no cause (leakage from a supply without earth tingles too) and defers to an electrician.
    pub fn tingle(strips: &[&str]) -> Vec<Line> {
        let cut = match strips {
            [] => Line::text("Cut the power at the wall."),
            [first, ..] => {
                Line::from([text("Cut the power at the wall, or at a dry"), tape(*first), text(".")])
            }
        };
        vec![Line::text("Hands off."), cut, Line::text("Nobody plays until an electrician has looked.")]
    }

    /// Why there are no cards, in two sentences; `None` where nothing stands against them.
    pub fn withheld(&self) -> Option<&'static str> {
        (!self.hazards.is_empty()).then_some("No cards until this is dealt with. Then make them again.")
    }

    /// The card with this number.
    pub fn card(&self, number: u32) -> Option<&Card> {
        self.cards.iter().find(|card| card.number == number)
    }
}
