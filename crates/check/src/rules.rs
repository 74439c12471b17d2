//! The rules of the judge, by name.
//!
//! All are on. They can be switched off one by one so that tests can show that each of them decides some answer; nothing
//! outside tests ever does.

/// One rule that a plan is judged by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the names are those of docs/cover.md")]
pub enum Rule {
    Never,
    Loop,
    Rating,
    SupplyClass,
    Steady,
    Boot,
    Phantom,
    Harm,
    Level,
    Case,
    Freed,
    Kept,
    Knob,
    Spare,
    Reach,
    Side,
    Sum,
    Guard,
    Start,
    Stock,
    Placement,
    Slack,
    Bank,
    Mend,
}

impl Rule {
    /// Every rule.
    pub const ALL: [Rule; 24] = [
        Rule::Never,
        Rule::Loop,
        Rule::Rating,
        Rule::SupplyClass,
        Rule::Steady,
        Rule::Boot,
        Rule::Phantom,
        Rule::Harm,
        Rule::Level,
        Rule::Case,
        Rule::Freed,
        Rule::Kept,
        Rule::Knob,
        Rule::Spare,
        Rule::Reach,
        Rule::Side,
        Rule::Sum,
        Rule::Guard,
        Rule::Start,
        Rule::Stock,
        Rule::Placement,
        Rule::Slack,
        Rule::Bank,
        Rule::Mend,
    ];
}

/// Which rules are on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules(u32);

impl Rules {
    /// The definition.
    pub const ALL: Rules = Rules(u32::MAX);

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
