//! One time somebody really did a cover.

/// What a trial showed. Plain facts; whether one has gone stale is decided elsewhere, by the caller's date.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// The fault it was for, by name.
    pub fault: String,
    /// Date as written.
    pub date: String,
    /// Seconds by the watch.
    pub seconds: Option<u32>,
    /// With sound, or hands only.
    pub how: TrialHow,
    /// Did sound come back?
    pub worked: bool,
    /// By whom.
    pub by: String,
    /// Remarks.
    pub note: String,
}

/// With sound, or with hands only.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TrialHow {
    /// Sound was tried.
    Sound,
    /// Only the hands were tried.
    Dry,
}
