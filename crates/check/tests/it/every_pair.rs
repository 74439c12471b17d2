//! Every two sockets of the shelf, through every kind of lead.

use std::fmt::Write as _;

use check::Physics;
use check::ids::{LeadId, SocketId};
use check::spec::Flow;
use model::shelf;

/// All kinds side by side, close enough for any lead, and one lead of one kind.
fn everything(lead: &str) -> model::Rig {
    let mut text = String::new();
    for (i, kind) in shelf::kinds().iter().filter(|k| k.name != "other").enumerate() {
        writeln!(text, "gear G{i} = {}, at 0 0, on floor", kind.name).unwrap();
    }
    // What the shelf has none of: an amplifier with its speaker, a ribbon, an input with phantom that stays on.
    text.push_str(
        "gear AMP = other, at 0 0, on floor
  socket IN: in, jack, takes line -20..20 dBu into 20000 ohm
  socket OUT: out, jack, speaker 30/40 dBu
gear BOX = other, at 0 0, on floor
  socket IN: in, jack, takes speaker 0..50 dBu into 8 ohm
gear RIBBON = other, at 0 0, on floor
  socket OUT: out, XLR, mic -52/-25 dBu, 300 ohm, phantom harmed
gear DESK = other, at 0 0, on floor
  socket IN: in, XLR, takes mic -60..-10 dBu into 2000 ohm, phantom always
gear OLD = other, at 0 0, on floor
  socket OUT: out, jack, line -8/10 dBu, 10000 ohm
gear COIL = other, at 0 0, on floor
  socket OUT: out, jack, inst -20/2 dBu, 10000 ohm
",
    );
    writeln!(text, "lead {lead}: own 1").unwrap();
    let (rig, problems) = model::text::read(&text);
    let told: Vec<&String> = problems.iter().map(|p| &p.message).collect();
    assert!(told.is_empty(), "{told:?}");
    rig
}

/// What the wiring refuses has a reason in words, and what has a reason is refused: the list that the search uses and the
/// words that a performer reads never part.
#[test]
fn a_link_is_refused_exactly_when_a_check_says_why() {
    let mut judged = 0;
    let mut tripped = std::collections::BTreeSet::new();
    for kind in shelf::lead_kinds() {
        let name = match kind.lengths.first() {
            Some(metres) => format!("{} {metres} m", kind.name),
            None => kind.name.clone(),
        };
        let rig = everything(&name);
        let c = check::judge_rig(&rig).unwrap();
        let physics = Physics::new(&rig);
        let spec = &c.problem.spec;
        let all = || (0..spec.sockets.len()).map(SocketId::at);
        let outs = all().filter(|s| matches!(spec.socket(*s).flow, Flow::Out { .. }));
        for from in outs {
            for to in all().filter(|s| matches!(spec.socket(*s).flow, Flow::In { .. })) {
                if spec.gear_of(from) == spec.gear_of(to) {
                    continue;
                }
                let mut bare_usable = false;
                for via in [&[][..], &[LeadId::at(0)][..]] {
                    let row = physics.row(spec, from, via, to).unwrap();
                    let found = physics.findings(&row);
                    let usable = found.iter().all(|(_, f)| f.verdict.is_usable());
                    judged += 1;
                    tripped.extend(found.iter().map(|(check, _)| check.name));
                    // A chain that only adds pieces to a usable one is left out of the list.
                    if via.is_empty() {
                        bare_usable = usable;
                    } else if bare_usable {
                        continue;
                    }
                    let listed = c
                        .problem
                        .pairs
                        .find(from, to)
                        .and_then(|pair| c.problem.pairs.find_chain(pair, via))
                        .is_some();
                    let told: Vec<String> =
                        found.iter().map(|(check, f)| format!("[{}] {}", check.name, f.message)).collect();
                    assert_eq!(
                        usable,
                        listed,
                        "{} to {} via {via:?} of {name}: {told:#?}",
                        c.label(from),
                        c.label(to)
                    );
                }
            }
        }
    }
    assert!(judged > 80_000, "{judged}");
    // A lead that stops short needs distance, and has tests of its own.
    let never: Vec<&str> = check::CHECKS.iter().map(|c| c.name).filter(|n| !tripped.contains(n)).collect();
    assert_eq!(never, ["stops-short"]);
}
