//! Leads and adapters: their ends, what is wired to what inside, and how many are owned.

use crate::{Class, Connector, Figure};

/// A type of lead or adapter on the shelf, without its length.
#[derive(Clone, Debug, PartialEq)]
pub struct LeadKind {
    /// Generic name: `XLR`, `jack`, `balanced jack`, `XLR to jack adapter`.
    pub name: String,
    /// Other words for it.
    pub also: Vec<String>,
    /// Its two ends.
    pub ends: [Connector; 2],
    /// What is wired to what.
    pub wiring: Wiring,
    /// Classes it may carry.
    pub carries: Vec<Class>,
    /// An adapter has no length.
    pub adapter: bool,
    /// Usual lengths in metres, shortest first; empty for adapters.
    pub lengths: Vec<f64>,
    /// Points of sound difference.
    pub points: u32,
    /// Lead capacitance, picofarads a metre; matters for pickups.
    pub pf_per_metre: Option<Figure<f64>>,
    /// Resistance of both conductors together, ohms a metre; matters for mains and loudspeakers.
    pub ohms_per_metre: Option<Figure<f64>>,
    /// Traps and cautions in words.
    pub cautions: Vec<String>,
}

/// One counted type that the owner has: a kind and a length.
///
/// Leads of one type are interchangeable, so they are counted, never named.
#[derive(Clone, Debug, PartialEq)]
pub struct Lead {
    /// What the owner calls it, unique in the rig: `XLR 6 m`.
    pub name: String,
    /// The shelf's kind.
    pub kind: LeadKind,
    /// Length in metres; 0 for an adapter.
    pub length: Figure<f64>,
    /// How many are owned, in use ones included.
    pub owned: Figure<u32>,
    /// How many of the owned ones are in the spare bag. What is neither there nor in use lies on stage.
    pub in_case: u32,
    /// The bag they are kept in, when there is more than one.
    pub bag: Option<String>,
}

/// What is wired to what inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wiring {
    /// Two signal conductors and screen, straight through: one balanced signal, or two stereo ones.
    Bal,
    /// One signal conductor.
    Ts,
    /// Stereo to mono through resistors.
    Sum,
    /// Mono to both sides.
    Dup,
    /// Power.
    Power,
}
