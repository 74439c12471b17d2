//! Reading a rig and compiling it, before any search.

use check::Problem;
use check::compile::Compiled;
use check::spec::Spec;
use model::Rig;
use serde_json::Value;

use crate::{Said, folder};

/// One rig file.
#[derive(Debug)]
pub struct File {
    /// Its bytes.
    pub bytes: Vec<u8>,
    /// The rig in it.
    pub rig: Rig,
}

/// The rigs.
#[derive(Debug)]
pub struct Rigs {
    /// The café duo.
    pub cafe: File,
    /// The street pitch.
    pub street: File,
    /// The function band, in the neutral form.
    pub band: Value,
    said: String,
}

impl Said for Rigs {
    fn said(&self) -> String {
        self.said.clone()
    }
}

impl File {
    /// Reads it.
    pub fn read(&self) -> Rig {
        model::text::read_bytes(&self.bytes).0
    }

    /// Compiles it.
    ///
    /// # Errors
    /// When it cannot be reckoned with.
    pub fn compile(&self) -> Result<Compiled, String> {
        check::judge_rig(&self.rig).map_err(|e| e.to_string())
    }
}

impl Rigs {
    /// The integer rig of the band.
    ///
    /// # Errors
    /// When its file is not in the neutral form.
    pub fn band_spec(&self) -> Result<Spec, String> {
        testkit::read::case(&self.band).map(|c| c.neutral.spec).map_err(|e| e.to_string())
    }
}

/// The band's problem, ready for the search.
///
/// # Errors
/// When the rig is not one.
pub fn problem(spec: Spec) -> Result<Problem, String> {
    Problem::new(spec).map_err(|e| e.to_string())
}

/// The rigs, once each reads without a slip, prints and reads again as the same rig, and its normal patch is one that the
/// judge allows.
///
/// # Errors
/// When something is not as said.
pub fn compared() -> Result<Rigs, String> {
    let cafe = file("examples/harbour-cafe/harbour-cafe.rig")?;
    let street = file("examples/street-pitch/street-pitch.rig")?;
    let band = crate::json(&folder("testkit/data/covers/rig-function-band.json"))?;
    let mut rigs = Rigs { cafe, street, band, said: String::new() };
    let (cafe, street) = (rigs.cafe.compile()?, rigs.street.compile()?);
    let band = problem(rigs.band_spec()?)?;
    let words = |name: &str, p: &Problem| {
        format!(
            "{name} ({} pieces, {} pairs of sockets that may be joined)",
            p.spec.gear.len(),
            p.pairs.pairs.len()
        )
    };
    for (name, p) in [("café", &cafe.problem), ("street", &street.problem), ("band", &band)] {
        if p.counted.is_empty() {
            return Err(format!("{name}: nothing sounds in the normal patch"));
        }
    }
    rigs.said = format!(
        "each rig reads without a slip, prints and reads as the same, and sounds: {}, {}, {}.",
        words("café", &cafe.problem),
        words("street", &street.problem),
        words("band", &band)
    );
    Ok(rigs)
}

fn file(name: &str) -> Result<File, String> {
    let bytes = crate::bytes(&folder(name))?;
    let (rig, problems) = model::text::read_bytes(&bytes);
    if let Some(problem) = problems.first() {
        return Err(format!("{name}: {}", problem.message));
    }
    // The text is compared, since the rig itself also remembers on which line of its file each thing stood.
    let printed = model::text::write(&rig);
    let (again, slips) = model::text::read_bytes(printed.as_bytes());
    if !slips.is_empty() || model::text::write(&again) != printed {
        return Err(format!("{name}: printed and read again it is another rig"));
    }
    Ok(File { bytes, rig })
}
