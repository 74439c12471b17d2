//! The rules that can be switched off one by one.

/// One rule of the definition.
///
/// A rule *decides* a rig when the best values change with the rule off. What "off" means stands beside each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// Off: never-parts may reach their listener.
    Never,
    /// Off: sound loops are allowed.
    Loop,
    /// Off: what still sounds may be silenced; harm is 0.
    Harm,
    /// Off: pairs of nice parts count as harm too.
    NiceHarm,
    /// Off: no slack of 15 s after the fewest seconds.
    Slack,
    /// Off: no plug of a normal link can be left in.
    Kept,
    /// Off: leads never run out; what is missing lies on stage.
    Stock,
    /// Off: pieces of pulled or kept links are not free for another link.
    Freed,
    /// Off: opening the case takes no time.
    Case,
    /// Off: whatever has power is on, without being started.
    Start,
    /// Off: what has lost power for a moment is still on.
    Steady,
    /// On (it is not part of [`Rules::ALL`]): what lost its power when the fault struck must be started again even
    /// after a mend has brought the power back. Off, as the neutral form says: all that works, *steady* included, is
    /// judged by what is still lost.
    Interrupted,
    /// Off: starting takes no time beyond the switch.
    Boot,
    /// Off: no route can be switched.
    Knob,
    /// Off: nothing can be placed otherwise.
    Placement,
    /// Off: any load may hang anywhere.
    Rating,
    /// Off: everything has power.
    Feeding,
    /// Off: every supply fits every supply socket.
    SupplyClass,
    /// Off: phantom power neither needed nor harmful.
    Phantom,
    /// Off: any level fits anywhere.
    Level,
    /// Off: a stereo signal has no sides.
    Side,
    /// Off: two-wire pieces may stand before a sum and after a dup.
    Sum,
    /// Off: every guard holds.
    Guard,
    /// Off: a bank's sockets are plain switchable ones.
    Bank,
    /// Off: nothing can be mended.
    Mend,
    /// Off: every chain is long enough.
    Reach,
    /// Off: sockets hang at the floor.
    Rise,
    /// Off: a chain has one lead at most.
    TwoLeads,
    /// Off: no route passes when its piece is not live.
    Passive,
    /// Off: every fact holds for certain, and none counts as a condition.
    Facts,
    /// Off: nothing is muted.
    Mutes,
    /// Off: whatever has to stay loaded may be without a load.
    Loads,
    /// Off: a bank keeps its state when its piece starts anew.
    Forgets,
}

impl Rule {
    /// All of them but [`Rule::Interrupted`], in the order of the list above.
    pub const ALL: [Rule; 32] = [
        Rule::Never,
        Rule::Loop,
        Rule::Harm,
        Rule::NiceHarm,
        Rule::Slack,
        Rule::Kept,
        Rule::Stock,
        Rule::Freed,
        Rule::Case,
        Rule::Start,
        Rule::Steady,
        Rule::Boot,
        Rule::Knob,
        Rule::Placement,
        Rule::Rating,
        Rule::Feeding,
        Rule::SupplyClass,
        Rule::Phantom,
        Rule::Level,
        Rule::Side,
        Rule::Sum,
        Rule::Guard,
        Rule::Bank,
        Rule::Mend,
        Rule::Reach,
        Rule::Rise,
        Rule::TwoLeads,
        Rule::Passive,
        Rule::Facts,
        Rule::Mutes,
        Rule::Loads,
        Rule::Forgets,
    ];
}

/// A set of rules in force.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules(u64);

impl Rules {
    /// Every rule of the definition in force.
    pub const ALL: Rules = Rules(u64::MAX).without(Rule::Interrupted);

    /// The same with `rule` too.
    #[must_use]
    pub const fn with(self, rule: Rule) -> Rules {
        Rules(self.0 | (1 << rule as u32))
    }

    /// The same without `rule`.
    #[must_use]
    pub const fn without(self, rule: Rule) -> Rules {
        Rules(self.0 & !(1 << rule as u32))
    }

    /// Is `rule` in force?
    pub fn has(self, rule: Rule) -> bool {
        self.0 & (1 << rule as u32) != 0
    }
}
