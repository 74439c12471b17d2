//! One knob that turns several routes is one knob of the problem.

use check::ids::KnobId;
use check::plan::Plan;

#[test]
fn the_level_of_a_pair_silences_both_jacks() {
    let (rig, problems) = model::text::read(
        "gear WALL = outlet, at 0 0
gear PIANO = stage piano, at 0 0
gear PIANO SUPPLY = 12 V supply, at 0 0, on floor
gear MIXER = mixer, at 0.5 0
gear MIXER SUPPLY = mixer supply, at 0.5 0, on floor
gear SPEAKER = powered speaker, at 1 0
gear OTHER = powered speaker, at 1 0.5
gear BAR = outlet, at 0 0
lead jack 3 m: own 2
lead XLR 6 m: own 2
lead mains 5 m: own 2
PIANO L/MONO > jack 3 m > MIXER 3
PIANO R > jack 3 m > MIXER 4
MIXER MAIN L > XLR 6 m > SPEAKER A
MIXER MAIN R > XLR 6 m > OTHER A
WALL 1 > MIXER SUPPLY IN
WALL 2 > PIANO SUPPLY IN
MIXER SUPPLY OUT > MIXER POWER
PIANO SUPPLY OUT > PIANO DC 12V
BAR 1 > mains 5 m > SPEAKER MAINS
BAR 2 > mains 5 m > OTHER MAINS
must: keys, keys right
",
    );
    assert!(problems.is_empty(), "{problems:?}");
    let c = check::judge_rig(&rig).unwrap();
    let knobs = &c.problem.spec.knobs;
    let pair: Vec<usize> = (0..knobs.len()).filter(|k| knobs[*k].name == "LEVEL 3/4").collect();
    assert_eq!(pair.len(), 1);
    assert!(knobs.iter().all(|k| k.name != "LEVEL 3" && k.name != "LEVEL 4" && k.name != "AUX 3"));
    let fault = check::fault::Fault::default();
    let mut judge = check::Judge::new(&c.problem, &fault);
    assert_eq!(judge.judge(&Plan::default()).carried.len(), 2);
    let plan = Plan { knobs: vec![KnobId::at(pair[0])], ..Plan::default() };
    assert_eq!(judge.judge(&plan).carried, []);
}
