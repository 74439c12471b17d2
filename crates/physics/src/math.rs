//! The one caller of `libm`.
//!
//! The standard library's `log10`, `powf` and friends may differ in the last digit from one platform to the next, and
//! a verdict that flips between two machines makes two different cards. Everything that needs a transcendental function comes here.

/// Logarithm to base 10. `x` > 0; 0 gives minus infinity, below 0 not a number: callers hold types that exclude both.
pub fn log10(x: f64) -> f64 {
    libm::log10(x)
}

/// Natural logarithm. `x` > 0.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// `base` to the power `exponent`. `base` > 0.
pub fn pow(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

/// `10` to the power `exponent`: what undoes [`log10`].
pub fn ten_to(exponent: f64) -> f64 {
    libm::pow(10.0, exponent)
}

/// `e` to the power `exponent`: what undoes [`ln`].
pub fn exp(exponent: f64) -> f64 {
    libm::exp(exponent)
}

/// Square root. `x` ≥ 0.
pub fn sqrt(x: f64) -> f64 {
    libm::sqrt(x)
}

/// Cosine of an angle in radians.
pub fn cos(radians: f64) -> f64 {
    libm::cos(radians)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::exact;
    use proptest::prelude::*;

    /// Mathematics: the values everything else leans on.
    #[test]
    fn the_usual_points_are_right() {
        exact(log10(2.0), core::f64::consts::LOG10_2);
        exact(ln(2.0), core::f64::consts::LN_2);
        exact(sqrt(0.6), 0.774_596_669_241_483_4);
        exact(pow(92.0, 1.0 / 39.0), 1.122_932_196_546_949_3);
        exact(cos(core::f64::consts::PI), -1.0);
    }

    /// One machine's digits are every machine's digits: these bits were printed once, on x86-64, and may not change.
    #[test]
    fn the_last_bit_is_the_same_everywhere() {
        assert_eq!(log10(0.774_596_669_241_483_4).to_bits(), 0xBFBC_658A_3221_6007);
        assert_eq!(ten_to(-0.05).to_bits(), 0x3FEC_8520_AFFA_0A4B);
    }

    proptest! {
        #[test]
        fn logarithm_and_power_undo_each_other(x in -200.0..200.0) {
            prop_assert!((log10(ten_to(x)) - x).abs() < 1e-12 * x.abs().max(1.0));
        }

        #[test]
        fn logarithm_rises(x in 1e-12..1e12, more in 1.000_001..10.0) {
            prop_assert!(log10(x * more) > log10(x) && ln(x * more) > ln(x));
        }
    }
}
