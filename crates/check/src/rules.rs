//! The rules of the judge, by name.
//!
//! All are on. They can be switched off one by one so that tests can show that each of them decides some answer; nothing
//! outside tests ever does.

/// One rule that a plan is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Off: a *never* part may reach its listener.
    Never,
    /// Off: sound may come round to where it came from.
    Loop,
    /// Off: power may run in a ring.
    Ring,
    /// Off: any load may hang anywhere.
    Rating,
    /// Off: an input takes every kind of sound, in the window of its first.
    Class,
    /// Off: every supply fits every supply input.
    SupplyClass,
    /// Off: every plug fits every socket.
    Mates,
    /// Off: everything has power.
    Feeding,
    /// Off: a piece may be switched on without power.
    Powered,
    /// Off: what lost its power for a moment is still on.
    Steady,
    /// Off: starts do not overlap.
    Boot,
    /// Off: phantom is neither needed nor harmful.
    Phantom,
    /// Off: what still sounds may be silenced.
    Harm,
    /// Off: silencing a nice part is harm too.
    NiceHarm,
    /// Off: any level fits anywhere.
    Level,
    /// Off: a listener hears every speaker that can be heard at all.
    Need,
    /// Off: opening the bag takes no time.
    Case,
    /// Off: what was pulled is not free for another link.
    Freed,
    /// Off: no plug of a normal link stays in for a new one.
    Kept,
    /// Off: a plug may stay in although it was pulled, the other end was not, or another new link has it.
    Claim,
    /// Off: every knob counts as on.
    Knob,
    /// Off: spares are there although they were left behind.
    Spare,
    /// Off: every chain is long enough.
    Reach,
    /// Off: leads need no length to get down and up again.
    Rise,
    /// Off: a chain has one lead at most.
    TwoLeads,
    /// Off: a stereo link has no sides.
    Side,
    /// Off: stereo and mono go together without the right piece between.
    Sum,
    /// Off: every guard holds.
    Guard,
    /// Off: what has power is on without being started.
    Start,
    /// Off: leads never run out.
    Stock,
    /// Off: a socket holds any number of plugs.
    Plugs,
    /// Off: what is lost may be plugged, placed and switched.
    Lost,
    /// Off: what is packed may be plugged and switched where it lies.
    Packed,
    /// Off: a piece makes all its sources wherever it stands.
    Placement,
    /// Off: no 15 s more for what else can be brought back.
    Slack,
    /// Off: a bank of phantom is neither on nor off.
    Bank,
    /// Off: nothing can be mended.
    Mend,
    /// Off: nothing passes without power.
    Passive,
    /// Off: what nobody has checked holds for certain.
    Facts,
    /// Off: nothing is muted.
    Mutes,
    /// Off: an output that has to stay loaded may be left open.
    Loads,
    /// Off: a bank that forgets does not.
    Forgets,
}

impl Rule {
    /// Every rule.
    pub const ALL: [Rule; 42] = [
        Rule::Never,
        Rule::Loop,
        Rule::Ring,
        Rule::Rating,
        Rule::Class,
        Rule::SupplyClass,
        Rule::Mates,
        Rule::Feeding,
        Rule::Powered,
        Rule::Steady,
        Rule::Boot,
        Rule::Phantom,
        Rule::Harm,
        Rule::NiceHarm,
        Rule::Level,
        Rule::Need,
        Rule::Case,
        Rule::Freed,
        Rule::Kept,
        Rule::Claim,
        Rule::Knob,
        Rule::Spare,
        Rule::Reach,
        Rule::Rise,
        Rule::TwoLeads,
        Rule::Side,
        Rule::Sum,
        Rule::Guard,
        Rule::Start,
        Rule::Stock,
        Rule::Plugs,
        Rule::Lost,
        Rule::Packed,
        Rule::Placement,
        Rule::Slack,
        Rule::Bank,
        Rule::Mend,
        Rule::Passive,
        Rule::Facts,
        Rule::Mutes,
        Rule::Loads,
        Rule::Forgets,
    ];
}

/// Which rules are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules(u64);

impl Rules {
    /// The definition.
    pub const ALL: Rules = Rules(u64::MAX);

    /// All but one: for tests that show that the one matters.
    #[must_use]
    pub fn without(self, rule: Rule) -> Rules {
        Rules(self.0 & !(1 << rule as u32))
    }

    /// Is it on?
    pub fn on(self, rule: Rule) -> bool {
        self.0 & (1 << rule as u32) != 0
    }
}
