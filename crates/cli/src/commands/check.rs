//! `check`: the rig as it normally stands.

use std::path::Path;

use tasks::view::{Check, Heard, Matters, Verdict};
use tasks::{Bad, check};

use crate::Exit;
use crate::show::{Out, count};

pub(crate) fn run(rig: &Path, out: &mut Out) -> Result<Exit, Bad> {
    let it = check::check(rig)?;
    out.answer(&it, text);
    let wrong = it.remarks.iter().any(|r| r.verdict >= Verdict::WillNotWork);
    Ok(Exit::of(wrong || !it.problems.is_empty()))
}

fn text(it: &Check, out: &mut Out) {
    let (hazards, rest): (Vec<_>, Vec<_>) =
        it.remarks.iter().cloned().partition(|r| r.verdict == Verdict::Hazard);
    out.remarks(&hazards);
    if !it.problems.is_empty() {
        out.head("Wrong in the file, and left out of what follows");
        out.problems(&it.problems);
    }
    if !rest.is_empty() {
        out.head("As it is plugged");
        out.remarks(&rest);
    }
    out.head("Heard");
    if it.heard.is_empty() {
        out.line("Nothing is heard.");
    }
    for h in &it.heard {
        out.line(format_args!("{}, from {} ({})", h.part, h.from.join(" and "), matters(h)));
    }
    if !it.not_carried.is_empty() {
        out.head("Not heard, with nothing broken");
        for h in &it.not_carried {
            out.line(format_args!("{} ({})", h.part, matters(h)));
        }
    }
    out.head("In short");
    let name = if it.rig.is_empty() { &it.file } else { &it.rig };
    out.line(format_args!(
        "{name}: {}, {} in use; {} can stop working.",
        count(it.gear, "piece", "pieces"),
        count(it.leads, "lead or adapter", "leads and adapters"),
        count(it.faults, "thing", "things"),
    ));
    if !it.problems.is_empty() {
        let first = count(it.problems.len(), "problem", "problems");
        out.line(format_args!("{first} in the file: put that right first."));
    }
    if it.problems.is_empty() && it.remarks.is_empty() && it.not_carried.is_empty() {
        out.line("Nothing wrong was found.");
    }
}

fn matters(h: &Heard) -> &'static str {
    match h.matters {
        Matters::Must => "the show stops without it",
        Matters::Should => "we'd miss it",
        Matters::Nice => "nice",
        Matters::Never => "must not be heard",
    }
}
