//! The one font: files for the page, widths for boxes and line breaks.
//!
//! Atkinson Hyperlegible Next, OFL-1.1; `fonts/` holds the licence and the sums of the files.

use ttf_parser::Face;

static REGULAR: &[u8] = include_bytes!("../fonts/regular.ttf");
static BOLD: &[u8] = include_bytes!("../fonts/bold.ttf");

/// A weight we can measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    Regular,
    Bold,
}

/// Measures text. Adding up advances ignores kerning, so it is at most about 2 % too wide: safe for boxes.
#[derive(Debug)]
pub(crate) struct Measure {
    regular: Advances,
    bold: Advances,
}

/// Advance widths for the first code points, in thousandths of the size, as a flat table: parsing once is enough.
#[derive(Debug)]
struct Advances {
    table: Vec<u16>,
    other: u16,
}

/// Latin letters, marks and general punctuation; anything beyond is measured as the widest letter.
const TABLE: u32 = 0x2070;

impl Measure {
    /// Reads both files. A file that cannot be read measures every letter as 0.7 of the size.
    pub(crate) fn new() -> Self {
        Self { regular: Advances::new(REGULAR), bold: Advances::new(BOLD) }
    }

    /// Width of `text` at `size`, in the unit of `size`, rounded up to a whole one.
    pub(crate) fn width(&self, text: &str, size: u32, weight: Weight) -> i32 {
        i32::try_from(self.thousandths(text, size, weight).div_ceil(1000)).unwrap_or(i32::MAX / 64)
    }

    /// Width of `text` at `size`, in thousandths of the unit of `size`.
    pub(crate) fn thousandths(&self, text: &str, size: u32, weight: Weight) -> u64 {
        let advances = match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        };
        text.chars().map(|c| u64::from(advances.of(c))).sum::<u64>().saturating_mul(u64::from(size))
    }
}

impl Advances {
    fn new(file: &[u8]) -> Self {
        let face = Face::parse(file, 0).ok();
        let table = (0..TABLE).map(|code| {
            let advance = face.as_ref().zip(char::from_u32(code)).and_then(|(face, c)| {
                let glyph = face.glyph_index(c)?;
                let units = u32::from(face.units_per_em().max(1));
                let advance = u32::from(face.glyph_hor_advance(glyph)?);
                u16::try_from((advance * 1000).div_ceil(units)).ok()
            });
            advance.unwrap_or(700)
        });
        Self { table: table.collect(), other: 1000 }
    }

    fn of(&self, c: char) -> u16 {
        usize::try_from(u32::from(c)).ok().and_then(|at| self.table.get(at)).copied().unwrap_or(self.other)
    }
}

/// Whether the page can draw it: it carries the font's Latin part only, so the ohm sign and other scripts say no.
pub(crate) fn has(c: char) -> bool {
    let carried =
        matches!(c, ' '..='\u{2ba}' | '\u{1e00}'..='\u{1eff}' | '\u{2000}'..='\u{206f}' | '€' | '−');
    carried && Face::parse(REGULAR, 0).is_ok_and(|face| face.glyph_index(c).is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bold_is_wider_and_width_grows_with_size() {
        let m = Measure::new();
        let regular = m.width("LEFT SPEAKER", 12, Weight::Regular);
        assert!((70..110).contains(&regular), "{regular}");
        assert!(m.width("LEFT SPEAKER", 12, Weight::Bold) > regular);
        assert!((m.width("LEFT SPEAKER", 24, Weight::Regular) - 2 * regular).abs() <= 1);
    }

    #[test]
    fn no_arrows_but_the_signs_we_use() {
        assert!(['→', '✓', '⚠', 'Ω', '\n'].into_iter().all(|c| !has(c)));
        assert!("−–—·’“”×½é0".chars().all(has));
    }
}
