//! The rig as it normally stands: what is wrong, what is heard, what is not.

use std::path::Path;

use check::compile::Compiled;
use check::ids::PartId;
use check::spec::Rank;
use check::verdict;

use crate::{Bad, label, load, view};

/// Checks a rig file.
///
/// # Errors
/// When the file cannot be read, or the rig cannot be reckoned with.
pub fn check(path: &Path) -> Result<view::Check, Bad> {
    let loaded = load(path)?;
    let c = loaded.compile()?;
    let heard = |p: PartId| view::Heard {
        part: label::part(&c, p),
        matters: label::rank(&c, p),
        from: c.problem.speakers[p.ix()].iter().map(|g| label::gear(&c, *g)).collect(),
    };
    let counted = &c.problem.counted;
    let missing = (0..c.problem.spec.parts.len())
        .map(PartId::at)
        .filter(|p| c.problem.part(*p).rank != Rank::Never && !counted.contains(p));
    Ok(view::Check {
        file: loaded.file.clone(),
        rig: loaded.rig.name.clone(),
        problems: loaded.problems(),
        remarks: check::remarks(&c).iter().map(remark).collect(),
        heard: counted.iter().map(|p| heard(*p)).collect(),
        not_carried: missing.map(heard).collect(),
        gear: c.rig.gear.len(),
        leads: c.rig.links.iter().map(|l| l.via.len()).sum(),
        faults: c.faults.len(),
    })
}

/// Hazards in the rig as it normally stands.
pub(crate) fn hazards(c: &Compiled) -> Vec<view::Remark> {
    let all = check::remarks(c);
    check::hazards(&all).into_iter().map(remark).collect()
}

fn remark(r: &check::Remark) -> view::Remark {
    view::Remark {
        verdict: match r.verdict {
            verdict::Verdict::Works => view::Verdict::Works,
            verdict::Verdict::SoundsDifferent => view::Verdict::SoundsDifferent,
            verdict::Verdict::WillNotWork => view::Verdict::WillNotWork,
            verdict::Verdict::Hazard => view::Verdict::Hazard,
        },
        check: r.check.to_owned(),
        message: r.message.clone(),
        help: r.help.clone(),
        points: r.points,
        figures: r
            .figures
            .iter()
            .map(|f| view::Rests {
                what: f.what.clone(),
                value: f.value.clone(),
                origin: f.origin.to_string(),
            })
            .collect(),
    }
}
