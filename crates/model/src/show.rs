//! A show: sets, breaks, quiet moments, and the hands that are free.

use crate::{Figure, Spot};

/// A date, a room, and how the evening runs.
#[derive(Clone, Debug, PartialEq)]
pub struct Show {
    /// Its name; empty until given.
    pub name: String,
    /// Date as written, `2026-05-12`; nothing here reads a calendar.
    pub date: Option<String>,
    /// Length of the break, seconds. Half of it is spent with people talking to you.
    pub break_length: Figure<f64>,
    /// Usual time from a fault to the next break, seconds.
    pub to_next_break: Figure<f64>,
    /// Usual length of a song, seconds.
    pub song: Figure<f64>,
    /// Sets or songs, in order.
    pub songs: Vec<String>,
    /// Moments when nothing may pop, howl or thump.
    pub quiet: Vec<String>,
}

impl Default for Show {
    fn default() -> Self {
        Show {
            name: String::new(),
            date: None,
            break_length: Figure::guessed(900.0, "a usual break"),
            to_next_break: Figure::guessed(1200.0, "halfway through a usual set"),
            song: Figure::guessed(240.0, "a usual song"),
            songs: Vec::new(),
            quiet: Vec::new(),
        }
    }
}

/// A person who may act.
#[derive(Clone, Debug, PartialEq)]
pub struct Hand {
    /// Name.
    pub name: String,
    /// Where they stand, metres.
    pub at: Spot,
    /// May they touch mains plugs?
    pub mains: bool,
    /// They must go on playing or singing.
    pub keeps_playing: bool,
}
