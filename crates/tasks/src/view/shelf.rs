//! What is on the shelf of kinds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The answer of `shelf`: the list, or one page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Shelf {
    /// Every kind, by family; kinds of lead last.
    List {
        /// Families of gear.
        families: Vec<Family>,
        /// Leads and adapters.
        leads: Vec<KindName>,
    },
    /// One kind of gear.
    Kind(Box<KindPage>),
    /// One kind of lead.
    Lead(LeadPage),
}

/// Kinds that go together.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Family {
    /// `mixers`.
    pub name: String,
    /// In the order of the shelf.
    pub kinds: Vec<KindName>,
}

/// A kind by name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KindName {
    /// Generic name.
    pub name: String,
    /// Other words for it.
    pub also: Vec<String>,
    /// One line on what it is.
    pub about: String,
}

/// A figure with its unit and where it is from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// What it is a figure of.
    pub name: String,
    /// The value.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// The usual least and most.
    pub range: Option<[f64; 2]>,
    /// `typical`, `yours`, `measured`, `guessed: …`, `don't know`.
    pub origin: String,
}

/// One kind of gear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KindPage {
    /// Name and words.
    pub kind: KindName,
    /// Its family.
    pub family: String,
    /// Its own figures.
    pub figures: Vec<Figure>,
    /// Sockets in the order of the shelf.
    pub sockets: Vec<Socket>,
    /// How it fails.
    pub modes: Vec<Mode>,
    /// What to look at first.
    pub looks: Vec<Look>,
    /// What can be mended on the spot.
    pub mends: Vec<Mend>,
    /// What can hurt.
    pub cautions: Vec<String>,
    /// What to find out about yours.
    pub questions: Vec<String>,
}

/// One socket.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Socket {
    /// What is printed beside it.
    pub name: String,
    /// `in` or `out`.
    pub direction: String,
    /// What plugs in there.
    pub plugs: Vec<String>,
    /// What it gives or takes.
    pub classes: Vec<String>,
    /// Levels, impedances, the length of its own cable.
    pub figures: Vec<Figure>,
}

/// One way it fails.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mode {
    /// Short name, as `--dead` takes it.
    pub name: String,
    /// What it takes away.
    pub takes: Vec<String>,
    /// Of 100 faults of such gear, so many; assumed.
    pub share: Figure,
    /// How it shows.
    pub shows: String,
    /// What usually still works.
    pub still_works: String,
}

/// A look that may end the matter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Look {
    /// What to look at.
    pub ask: String,
    /// What is so then.
    pub state: String,
    /// Seconds to look.
    pub seconds: Figure,
    /// Seconds to put it right.
    pub right_in: Figure,
}

/// An act that mends on the spot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mend {
    /// What to do.
    pub name: String,
    /// Modes that it undoes.
    pub modes: Vec<String>,
    /// Seconds.
    pub seconds: Figure,
    /// What is used up.
    pub uses: Option<String>,
    /// What may hurt.
    pub caution: Option<String>,
}

/// One kind of lead or adapter.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeadPage {
    /// Name and words.
    pub kind: KindName,
    /// Its two plugs.
    pub ends: [String; 2],
    /// What is wired to what inside.
    pub wiring: String,
    /// What it may carry.
    pub carries: Vec<String>,
    /// An adapter has no length.
    pub adapter: bool,
    /// Usual lengths, metres.
    pub lengths: Vec<f64>,
    /// Figures a metre.
    pub figures: Vec<Figure>,
    /// Traps.
    pub beware: Vec<String>,
}
