//! The order that chooses a plan (docs/cover.md, section 9).

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goal {
    /// The musts at once, and within 15 s of that the rest.
    Now,
    /// Everything, at the next pause in the set.
    Full,
    /// The best sound, within half the break.
    Break,
    /// The first half of *now*: musts, harm, seconds.
    Must,
}

/// Seconds within which the *now* cover may do more than the musts.
pub const SLACK: i32 = 15;

/// What a plan is worth. Weights that are maximised stand as negatives, so that less is always better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Values {
    /// Minus the weight of the *must* parts carried.
    pub must: i32,
    /// Pairs of part and speaker that still sounded and no longer do.
    pub harm: i32,
    /// Facts nobody has checked that it relies on.
    pub conditions: i32,
    /// Minus the weight of the *should* parts carried.
    pub should: i32,
    /// Minus the weight of the *nice* parts carried.
    pub nice: i32,
    /// Of the whole plan.
    pub seconds: i32,
    /// Points.
    pub diff: i32,
    /// Pulls, ends, joints, placements, knobs, starts, mends.
    pub moves: i32,
}

/// Values in the order of a goal: the smaller one wins.
pub type Key = [i32; 8];

impl Goal {
    /// The values in this goal's order. Criteria that a goal does not have stand last as zero.
    pub fn key(self, v: &Values) -> Key {
        match self {
            Goal::Now => [v.must, v.harm, v.conditions, v.should, v.nice, v.seconds, v.diff, v.moves],
            Goal::Full => [v.must, v.should, v.harm, v.nice, v.seconds, v.diff, v.moves, 0],
            Goal::Break => [v.must, v.should, v.nice, v.diff, v.seconds, v.moves, 0, 0],
            Goal::Must => [v.must, v.harm, v.seconds, 0, 0, 0, 0, 0],
        }
    }

    /// How many of the key's places are decided once the seconds are.
    pub fn to_the_seconds(self) -> usize {
        match self {
            Goal::Now => 6,
            Goal::Full | Goal::Break => 5,
            Goal::Must => 3,
        }
    }
}
