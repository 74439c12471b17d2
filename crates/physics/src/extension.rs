//! Extension leads, reels and plug fuses: rules of thumb that keep a lead from melting.
//!
//! Caution: local rules come first, and a lead that is warm, brittle or damaged goes out of service whatever these say.

use crate::{Amps, Metres, SquareMillimetres, Watts, range::at_most};

/// Least conductor behind a plug fuse, mm²: 0.5 behind 3 A, 1.25 behind 13 A; `None` for fuses with no rule here.
///
/// A fuse between the two takes the rule of the greater. Source: BS 1363 and BS 1362, by a flex guidance page.
pub fn least_section_behind_fuse(fuse: Amps) -> Option<SquareMillimetres> {
    let fuse = fuse.get();
    if at_most(fuse, 3.0) {
        Some(SquareMillimetres::computed(0.5))
    } else if at_most(fuse, 13.0) {
        Some(SquareMillimetres::computed(1.25))
    } else {
        None
    }
}

/// Does a plug fuse protect this conductor? `None` for fuses with no rule here. Source: [`least_section_behind_fuse`].
pub fn fuse_protects(fuse: Amps, section: SquareMillimetres) -> Option<bool> {
    least_section_behind_fuse(fuse).map(|least| section >= least)
}

/// Longest extension of a conductor, m: 12 m of 1.25 mm², 15 m of 1.5 mm², 25 m of 2.5 mm²; `None` below 1.25 mm².
///
/// A section between takes the rule of the thinner. Source: IEE guidance quoted in a post; 12 m from memory.
pub fn longest_extension(section: SquareMillimetres) -> Option<Metres> {
    let rules = [(2.5, 25.0), (1.5, 15.0), (1.25, 12.0)];
    rules.into_iter().find(|&(least, _)| section.get() >= least).map(|(_, metres)| Metres::computed(metres))
}

/// What is printed on a reel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reel {
    /// Most load while wound up, W, if it says.
    pub wound: Option<Watts>,
    /// Most load fully unwound, W.
    pub unwound: Watts,
}

/// May a reel carry a load?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReelAnswer {
    /// Yes, as it is.
    Allow,
    /// Nobody knows what it carries wound up: unwind it all, then it does.
    UnwindAll,
    /// Not as it lies: wound up it would overheat. Unwound it carries the load.
    RefuseWound,
    /// No, however it lies.
    Refuse,
}

/// May this reel carry this load, wound up or not?
///
/// With no figure for wound up, the answer is to unwind it all. Source: label of a reel (500 W wound, 2300 W unwound);
/// `RoSPA` leaflet: fully unwound, residual-current device outdoors.
pub fn reel_carries(reel: &Reel, load: Watts, is_wound: bool) -> ReelAnswer {
    if !at_most(load.get(), reel.unwound.get()) {
        return ReelAnswer::Refuse;
    }
    match reel.wound {
        _ if !is_wound => ReelAnswer::Allow,
        None => ReelAnswer::UnwindAll,
        Some(wound) if at_most(load.get(), wound.get()) => ReelAnswer::Allow,
        Some(_) => ReelAnswer::RefuseWound,
    }
}

/// Should a row of extensions be warned of? From the second on, yes. Source: BS 1363 guidance; common practice.
pub fn extensions_in_a_row_warn(extensions: usize) -> bool {
    extensions > 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::exact;
    use proptest::prelude::*;

    fn amps(figure: f64) -> Amps {
        Amps::new(figure).unwrap()
    }
    fn section(figure: f64) -> SquareMillimetres {
        SquareMillimetres::new(figure).unwrap()
    }
    fn watts(figure: f64) -> Watts {
        Watts::new(figure).unwrap()
    }

    /// P-PWR-06. BS 1363 and BS 1362 by a flex guidance page; `RoSPA` leaflet; lengths: post quoting IEE guidance, 12 m from
    /// memory; the reel: the label on a page about a melted one.
    #[test]
    fn p_pwr_06_plug_fuses_and_extension_leads() {
        exact(least_section_behind_fuse(amps(3.0)).unwrap().get(), 0.5);
        exact(least_section_behind_fuse(amps(13.0)).unwrap().get(), 1.25);
        assert_eq!(fuse_protects(amps(13.0), section(0.75)), Some(false));
        assert_eq!(fuse_protects(amps(3.0), section(0.75)), Some(true));
        assert_eq!(fuse_protects(amps(16.0), section(2.5)), None);
        for (area, metres) in [(1.25, 12.0), (1.5, 15.0), (2.5, 25.0)] {
            exact(longest_extension(section(area)).unwrap().get(), metres);
        }
        assert_eq!(longest_extension(section(0.75)), None);
        let reel = Reel { wound: Some(watts(500.0)), unwound: watts(2300.0) };
        assert_eq!(reel_carries(&reel, watts(1800.0), true), ReelAnswer::RefuseWound);
        assert_eq!(reel_carries(&reel, watts(1800.0), false), ReelAnswer::Allow);
        assert_eq!(reel_carries(&reel, watts(2400.0), false), ReelAnswer::Refuse);
        let unlabelled = Reel { wound: None, ..reel };
        assert_eq!(reel_carries(&unlabelled, watts(10.0), true), ReelAnswer::UnwindAll);
        assert!(extensions_in_a_row_warn(2));
        assert!(!extensions_in_a_row_warn(1));
    }

    proptest! {
        /// Unwinding never makes a reel worse.
        #[test]
        fn unwinding_helps(wound in 0.0..3000.0, unwound in 0.0..3000.0, load in 0.0..4000.0) {
            let reel = Reel { wound: Some(watts(wound)), unwound: watts(unwound) };
            let (up, out) = (reel_carries(&reel, watts(load), true), reel_carries(&reel, watts(load), false));
            prop_assert!(up != ReelAnswer::Allow || out == ReelAnswer::Allow);
            prop_assert!(matches!(out, ReelAnswer::Allow | ReelAnswer::Refuse));
            prop_assert_eq!(up == ReelAnswer::Refuse, out == ReelAnswer::Refuse);
        }

        #[test]
        fn thicker_leads_may_be_longer(area in 0.2..4.0, more in 0.0..2.0) {
            prop_assert!(longest_extension(section(area + more)) >= longest_extension(section(area)));
        }

        #[test]
        fn a_greater_fuse_needs_no_thinner_lead(fuse in 0.0..12.0, more in 0.0..1.0) {
            prop_assert!(least_section_behind_fuse(amps(fuse + more)) >= least_section_behind_fuse(amps(fuse)));
        }
    }
}
