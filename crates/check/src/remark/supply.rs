//! Remarks on power: what hangs on what, and how much is left.

use super::Remark;
use crate::compile::Compiled;
use crate::power;

/// Power of the normal patch.
pub(super) fn supplies(c: &Compiled) -> Vec<Remark> {
    let _ = (c, power::loads);
    Vec::new()
}
