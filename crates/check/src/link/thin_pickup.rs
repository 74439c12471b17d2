//! # A pickup into an input that is too low
//!
//! **What happens.** A piezo pickup sounds thin, without bass. A magnetic pickup sounds dull and weak.
//!
//! **Why.** A piezo is a small capacitor: with the input's load it makes a high-pass. One nanofarad and its lead into
//! 200 kilohm lose the bass below 600 Hz; into 1 megohm, below 120 Hz. A magnetic coil wants 250 kilohm or more, else its
//! treble and level go.
//!
//! **Example.** A violin's pickup straight into a passive direct box.
//!
//! **Use instead.** An acoustic preamp, an active direct box, or an input marked for instruments, 1 megohm or more.
//!
//! **Source.** Circuit theory (check values P-LNK-10, P-LNK-11); the bounds are common practice.

use model::Class;
use physics::{Farads, Ohms, corner::piezo_corner};

use super::row::{Found, Row};
use crate::verdict::Verdict;

/// Low corner of a piezo, hertz, above which it is slightly thin, clearly thin, useless. Common practice: a violin's lowest
/// string is 196 Hz.
const PIEZO: [f64; 3] = [200.0, 500.0, 2000.0];
/// Load of a magnetic pickup, ohms, below which it is slightly dull, clearly dull, useless. Common practice.
const MAGNETIC: [f64; 3] = [250_000.0, 100_000.0, 20_000.0];
/// Least source impedance of a pickup without electronics, ohms. Common practice: 6 to 15 kilohm.
const PICKUP_OHMS: f64 = 5_000.0;

/// Is it a bare pickup: a piezo, or a coil without electronics behind it?
pub(super) fn is_pickup(row: &Row<'_>) -> bool {
    let coil = row.out.impedance.as_ref().is_some_and(|z| z.value >= PICKUP_OHMS);
    row.out.class == Class::Inst && (row.out.capacitance_nf.is_some() || (coil && !row.giver.needs_power()))
}

pub(super) fn judge(row: &Row<'_>) -> Option<Found> {
    if !is_pickup(row) {
        return None;
    }
    let load = row.load()?;
    let ohms = Ohms::new(load.value).ok()?;
    let (grade, what, note) = if let Some(nf) = &row.out.capacitance_nf {
        let pickup = Farads::new(nf.value * 1e-9).ok()?;
        // Graded by the pickup alone: a longer lead lowers the corner, but takes level for it, and must never look better.
        let alone = piezo_corner(pickup, None, ohms).get();
        let grade = PIEZO.iter().filter(|bound| alone > **bound).count();
        let corner = piezo_corner(pickup, Farads::new(row.capacitance()).ok(), ohms).get();
        (grade, format!("thin: the pickup loses its bass below {corner:.0} Hz"), ("pickup", nf, "nF"))
    } else {
        let grade = MAGNETIC.iter().filter(|bound| load.value < **bound).count();
        let source = row.out.impedance.as_ref()?;
        (
            grade,
            format!("dull: a load of {:.0} kilohm takes the pickup's treble", load.value / 1e3),
            ("pickup", source, "ohm"),
        )
    };
    let (verdict, points) = match grade {
        0 => return None,
        1 => (Verdict::SoundsDifferent, 1),
        2 => (Verdict::SoundsDifferent, 2),
        _ => (Verdict::WillNotWork, 0),
    };
    let found = row.finds(verdict, points, &what);
    Some(
        found
            .help("use a preamp, an active direct box or an input of 1 megohm or more")
            .figure(note.0, note.1, note.2)
            .figure("load", load, "ohm"),
    )
}
