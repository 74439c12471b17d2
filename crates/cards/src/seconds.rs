//! The seconds a card says, counted from the silence.

/// Noticing that something went silent, in seconds. Estimate, from nobody's stopwatch.
pub const NOTICE: u32 = 5;
/// Finding and reading the card, in seconds. Estimate, from nobody's stopwatch.
pub const READ: u32 = 8;

/// A range of seconds from the silence. Estimates are always said as "about".
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Seconds {
    /// The least, in seconds from the silence.
    pub least: u32,
    /// The most, in seconds from the silence; never below `least`.
    pub most: u32,
}

impl Seconds {
    /// A way nobody has tried: the hands' estimate × 1 to × 2 (dark, cold, nerves), after noticing and reading.
    pub fn untried(hands: u32) -> Self {
        let start = NOTICE.saturating_add(READ);
        Self { least: start.saturating_add(hands), most: start.saturating_add(hands.saturating_mul(2)) }
    }

    /// As said on a card: "about 30–60 s", "about 15 s", "about 2–4 min".
    ///
    /// Rounded to 5 s, the most always upwards; whole minutes above 3 minutes. Nobody acts on a finer figure.
    pub fn said(self) -> String {
        let least = (self.least.saturating_add(2) / 5).saturating_mul(5).max(5);
        let most = self.most.div_ceil(5).saturating_mul(5).max(least);
        if most <= 180 {
            return if least == most {
                format!("about {least} s")
            } else {
                format!("about {least}–{most} s")
            };
        }
        let most = most.div_ceil(60);
        if least < 90 {
            return format!("about {least} s to {most} min");
        }
        let least = (least.saturating_add(30) / 60).max(1);
        if least == most { format!("about {least} min") } else { format!("about {least}–{most} min") }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_untried_way_counts_from_the_silence_and_doubles_only_the_hands() {
        assert_eq!(Seconds::untried(17), Seconds { least: 30, most: 47 });
        assert_eq!(Seconds::untried(17).said(), "about 30–50 s");
        assert_eq!(Seconds::untried(2).said(), "about 15–20 s");
    }

    #[test]
    fn long_times_are_said_in_minutes() {
        assert_eq!(Seconds::untried(90).said(), "about 2–4 min");
        assert_eq!(Seconds { least: 80, most: 200 }.said(), "about 80 s to 4 min");
        assert_eq!(Seconds { least: 0, most: 0 }.said(), "about 5 s");
        assert_eq!(Seconds { least: u32::MAX, most: u32::MAX }.said().split(' ').count(), 3);
    }
}
