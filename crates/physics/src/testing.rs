//! What the tests share: the tolerances of the check values, and a second way to compute a formula.

/// Source figure as printed: `found` lies within half of its last printed digit.
///
/// The tolerance comes from the text itself, so it cannot be widened without changing the figure.
#[track_caller]
pub(crate) fn printed(found: f64, figure: &str) {
    let value: f64 = figure.parse().expect("a printed figure is a number");
    let decimals = figure.split_once('.').map_or(0, |(_, after)| after.len());
    let half = 0.5 * std::iter::repeat_n(0.1, decimals).product::<f64>();
    // The 1e-12 is for the binary form of the printed figure itself.
    assert!((found - value).abs() <= half + 1e-12, "found {found}, the source prints {figure}");
}

/// Pure arithmetic: within a relative 1e-9 of `expected`.
#[track_caller]
pub(crate) fn exact(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs(), "found {found}, expected {expected}");
}

/// Tolerance T0: within a relative 1e-9 of the formula worked a second way, and within half of the last printed digit.
#[track_caller]
pub(crate) fn t0(found: f64, formula: f64, figure: &str) {
    exact(found, formula);
    printed(found, figure);
}

/// The platform's own logarithm: a second way, apart from the code under test.
#[expect(clippy::disallowed_methods, reason = "tests compare with a second, independent logarithm")]
pub(crate) fn lg(x: f64) -> f64 {
    x.log10()
}

/// The platform's own power, for the same purpose.
#[expect(clippy::disallowed_methods, reason = "tests compare with a second, independent power")]
pub(crate) fn power(base: f64, exponent: f64) -> f64 {
    base.powf(exponent)
}
