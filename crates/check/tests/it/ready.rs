//! What stands ready but is not on, and what is still packed.

use check::compile::Compiled;
use check::fault::Fault;
use check::ids::GearId;
use check::plan::Plan;

fn compiled(speaker: &str) -> Compiled {
    let (rig, problems) = model::text::read(&format!(
        "gear MIC = vocal mic, at 0 0
gear SPEAKER = busking speaker, at 1 0{speaker}
lead XLR 6 m: own 1
MIC > XLR 6 m > SPEAKER 1
must: voice
"
    ));
    assert!(problems.is_empty(), "{problems:?}");
    check::judge_rig(&rig).unwrap()
}

#[test]
fn what_is_off_is_heard_once_it_is_switched_on() {
    let none = Fault::default();
    let on = compiled("");
    assert_eq!(on.problem.counted.len(), 1);
    for battery in ["", "\n  starts by itself"] {
        let off = compiled(&format!(", off{battery}"));
        assert_eq!(off.problem.counted, [], "the normal patch carries nothing");
        let speaker = GearId::at(off.rig.find_gear("SPEAKER").unwrap().0);
        let mut judge = check::Judge::new(&off.problem, &none);
        let voice = check::ids::PartId::at(0);
        judge.look(&Plan::default());
        assert!(!judge.is_live(speaker) && judge.could_start(speaker));
        assert_eq!(judge.speakers_of(voice), []);
        let plan = Plan { starts: vec![speaker], ..Plan::default() };
        let verdict = judge.judge(&plan);
        assert!(verdict.is_valid(), "{verdict:?}");
        assert_eq!(judge.speakers_of(voice), [speaker]);
        // Switching on 4, its start 5, turning it down and up 5, a step of 1 m.
        assert_eq!(verdict.price.seconds, 4 + 5 + 5 + 1);
    }
}

/// Turned on its stand in 8 s; out of the bag and up on its stand in 60 s.
#[test]
fn what_is_packed_takes_longer_to_put_up() {
    let seconds = |more: &str| {
        let (rig, problems) = model::text::read(&format!("gear SPEAKER = powered speaker, at 0 0{more}\n"));
        assert!(problems.is_empty(), "{problems:?}");
        check::judge_rig(&rig).unwrap().problem.spec.gear[0].placements[0].seconds
    };
    assert_eq!(seconds(""), 8);
    assert_eq!(seconds(", in the bag"), 60);
    assert_eq!(seconds(", in the bag\n  placement out front: 9 s, hears audience 95 dB"), 9);
}

/// Two cells are one reach into the bag, and four are two changes.
#[test]
fn two_cells_are_one_handful() {
    let price = |carried: &str| {
        let (rig, problems) = model::text::read(&format!("gear AMP = ear amp, at 0 0\n{carried}\n"));
        assert!(problems.is_empty(), "{problems:?}");
        let c = check::judge_rig(&rig).unwrap();
        let fault = c.find_fault("AMP:battery").unwrap().fault().clone();
        let plan = Plan { mends: vec![0], ..Plan::default() };
        let price = check::Judge::new(&c.problem, &fault).judge(&plan).price;
        let swap = fault.mends[0].seconds;
        (price.seconds - swap, price.worn_out, c.problem.spec.wear[0].clone())
    };
    let (seconds, short, stock) = price("bag: AA cell x4");
    assert_eq!((seconds, short, stock.stage, stock.case), (15 + 10, false, 0, 2));
    assert_eq!(price("stage: AA cell x2").0, 5);
    assert!(price("bag: AA cell x1").1, "one cell is no change");
    // One here and one in the bag: it takes the bag.
    assert_eq!(price("stage: AA cell x1\nbag: AA cell x1").0, 15 + 10);
}
