//! How long ears may stand a level, each answer by a rule that is named.
//!
//! Rules differ by hours at the same level, so nothing here answers without one. All levels are A-weighted. These are
//! limits for a risk shared by many people, not a promise to one: ears that ring were too long too loud. Local law goes first.

use crate::{DbSpl, Hours, OutOfRange, Pascals, Percent, math, range::at_most, range::within};

/// A stretch of time at one level; no level is silence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spell {
    /// A-weighted level, or `None` for silence.
    pub level: Option<DbSpl>,
    /// How long it lasts.
    pub lasting: Hours,
}

/// Which rule an answer follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// NIOSH 98-126 (1998): 85 dB(A) for 8 h, half the time for each 3 dB.
    Niosh,
    /// 29 CFR 1910.95: 90 dB(A) for 8 h, half the time for each 5 dB, never above 115 dB(A).
    Osha,
}

impl Rule {
    /// The rule's name, to print beside its answer.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Niosh => "NIOSH recommended limit, 85 dB(A) for 8 h",
            Self::Osha => "OSHA permissible limit, 90 dB(A) for 8 h",
        }
    }
}

/// Levels below this are left out of a dose. Source: both rules, from memory.
const COUNTED_FROM: f64 = 80.0;

/// How long a level is allowed in a day: NIOSH `8 h / 2^((L − 85)/3)`, OSHA `8 h / 2^((L − 90)/5)`.
///
/// Valid from 0 dB(A) to 140 dB(A), OSHA to 115. Source: NIOSH 98-126 (1998) chapter 1; 29 CFR 1910.95 Appendix A.
///
/// # Errors
/// [`OutOfRange`] for other levels: above OSHA's 115 dB(A) no time is allowed.
pub fn allowed(rule: Rule, level: DbSpl) -> Result<Hours, OutOfRange> {
    let (criterion, halving, most) = match rule {
        Rule::Niosh => (85.0, 3.0, 140.0),
        Rule::Osha => (90.0, 5.0, 115.0),
    };
    let level = within("A-weighted level", "dB", 0.0, most, level.get())?;
    Ok(Hours::computed(8.0 / math::pow(2.0, (level - criterion) / halving)))
}

/// Share of a day's allowance: `100 Σ(Ci / Ti)`, %; 100 % is all of it. Spells below 80 dB(A) are left out.
///
/// Valid and source as [`allowed`]; the 80 dB(A) from memory.
///
/// # Errors
/// [`OutOfRange`] as [`allowed`].
pub fn dose(rule: Rule, spells: &[Spell]) -> Result<Percent, OutOfRange> {
    let mut sum = 0.0;
    for spell in spells {
        if let Some(level) = spell.level.filter(|level| level.get() >= COUNTED_FROM) {
            sum += 100.0 * spell.lasting.get() / allowed(rule, level)?.get();
        }
    }
    Ok(Percent::computed(sum))
}

/// The level that in 8 h gives this dose: NIOSH `85 + 10 lg(D/100)`, OSHA `90 + 16.61 lg(D/100)`, dB(A).
///
/// Valid above 0.001 %. Source: footnote of the NIOSH criteria document; 29 CFR 1910.95 Appendix A.
///
/// # Errors
/// [`OutOfRange`] for no dose.
pub fn time_weighted(rule: Rule, dose: Percent) -> Result<DbSpl, OutOfRange> {
    let decades = math::log10(within("dose", "%", 1e-3, Percent::MOST, dose.get())? / 100.0);
    Ok(DbSpl::computed(match rule {
        Rule::Niosh => 85.0 + 10.0 * decades,
        Rule::Osha => 90.0 + 16.61 * decades,
    }))
}

/// Energy mean of several readings of one thing: `10 lg((1/n) Σ 10^(Li/10))`, dB; `None` of no readings.
///
/// Source: ISO 9612:2009.
pub fn energy_mean(readings: &[DbSpl]) -> Option<DbSpl> {
    let sum = crate::levels::unrelated_sum(readings)?;
    let count = u32::try_from(readings.len()).ok()?;
    Some(sum - crate::Db::computed(10.0 * math::log10(f64::from(count))))
}

/// Energy over time, in multiples of that of 0 dB for an hour.
fn energy(spells: &[Spell]) -> f64 {
    let one = |s: &Spell| s.level.map_or(0.0, |level| s.lasting.get() * math::ten_to(level.get() / 10.0));
    spells.iter().map(one).sum()
}

/// Equivalent level over all the spells: `10 lg((1/T) Σ ti 10^(Li/10))`, dB(A); `None` of silence or no time.
///
/// Source: ISO 9612:2009.
pub fn equivalent(spells: &[Spell]) -> Option<DbSpl> {
    let time: Hours = spells.iter().map(|spell| spell.lasting).sum();
    over(energy(spells), time.get())
}

/// The same energy spread over a working day: `LEX,8h = Leq,Te + 10 lg(Te / 8 h)`, dB(A). Source: ISO 9612:2009.
pub fn daily(spells: &[Spell]) -> Option<DbSpl> {
    over(energy(spells), 8.0)
}

fn over(energy: f64, hours: f64) -> Option<DbSpl> {
    (energy > 0.0 && hours > 0.0).then(|| DbSpl::computed(10.0 * math::log10(energy / hours)))
}

/// The level that in `lasting` gives as much as `level` in 8 h: `L + 10 lg(8 h / T)`, dB(A). Valid from a second up.
///
/// Source: the equal-energy rule of ISO 9612:2009; SCENIHR 2008 opinion, table 3.
///
/// # Errors
/// [`OutOfRange`] for less than a second or more than 24 h.
pub fn same_exposure(level: DbSpl, lasting: Hours) -> Result<DbSpl, OutOfRange> {
    let hours = within("time in a day", "h", 1.0 / 3600.0, 24.0, lasting.get())?;
    Ok(level + crate::Db::computed(10.0 * math::log10(8.0 / hours)))
}

/// One value of Directive 2003/10/EC.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Action {
    /// Its name.
    pub name: &'static str,
    /// Daily exposure, LEX,8h.
    pub daily: DbSpl,
    /// Peak pressure, C-weighted.
    pub peak: Pascals,
}

/// The values, gentlest first; the last holds behind hearing protectors. Source: Directive 2003/10/EC, Article 3(1).
pub const EUROPEAN: [Action; 3] = [
    Action { name: "lower action value", daily: DbSpl::computed(80.0), peak: Pascals::computed(112.0) },
    Action { name: "upper action value", daily: DbSpl::computed(85.0), peak: Pascals::computed(140.0) },
    Action { name: "limit value", daily: DbSpl::computed(87.0), peak: Pascals::computed(200.0) },
];

/// What a venue should not exceed in any quarter of an hour, `LAeq`. Source: WHO, *Global standard for safe listening venues
/// and events* (2022), feature 1.
pub const VENUE_MOST: DbSpl = DbSpl::computed(100.0);

/// The loudest quarter of an hour of an evening, `LAeq,15min`, dB(A); `None` of silence. Before and after it is silent.
///
/// Exact: the mean of steady spells is greatest with the window at the start or the end of one. Source: as [`VENUE_MOST`].
pub fn loudest_quarter(spells: &[Spell]) -> Option<DbSpl> {
    let mut edges = vec![0.0];
    let mut at = 0.0;
    for spell in spells {
        at += spell.lasting.get();
        edges.push(at);
    }
    let window = |from: f64| -> f64 {
        let inside = |(spell, start): (&Spell, &f64)| {
            let time = ((start + spell.lasting.get()).min(from + 0.25) - start.max(from)).max(0.0);
            spell.level.map_or(0.0, |level| time * math::ten_to(level.get() / 10.0))
        };
        spells.iter().zip(&edges).map(inside).sum()
    };
    let most = edges.iter().flat_map(|&edge| [edge, edge - 0.25]).map(window).fold(0.0, f64::max);
    over(most, 0.25)
}

/// Does an evening keep to [`VENUE_MOST`] in each quarter of an hour? Source: as there.
pub fn venue_allows(spells: &[Spell]) -> bool {
    loudest_quarter(spells).is_none_or(|level| at_most(level.get(), VENUE_MOST.get()))
}

/// Sound exposure of a steady level: `(20 µPa · 10^(L/20))² · T`, in pascal-squared hours. Source: IEC 61672-1.
pub fn pascal_squared_hours(level: DbSpl, lasting: Hours) -> f64 {
    let pascals = 20e-6 * math::ten_to(level.get() / 20.0);
    pascals * pascals * lasting.get()
}

#[cfg(test)]
mod tests;
