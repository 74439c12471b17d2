//! Rigs with lines missing, doubled or out of place are judged, never fatal.

use proptest::prelude::*;

fn demo(name: &str) -> Vec<String> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name);
    std::fs::read_to_string(path).unwrap().lines().map(str::to_owned).collect()
}

/// Figures that nobody means: they must be refused or cut, not overflow.
const ODD: [&str; 6] = ["0", "-1", "99999", "0.001", "1e308", "don't know"];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn a_spoilt_rig_is_judged_or_refused(
        which in 0..2_usize,
        dropped in proptest::collection::vec(0..200_usize, 0..30),
        doubled in proptest::collection::vec((0..200_usize, 0..200_usize), 0..6),
        spoilt in proptest::collection::vec((0..200_usize, 0..20_usize, 0..ODD.len()), 0..8),
    ) {
        let mut lines = demo(["harbour-cafe/harbour-cafe.rig", "street-pitch/street-pitch.rig"][which]);
        let n = lines.len();
        for (line, word, odd) in spoilt {
            let mut words: Vec<&str> = lines[line % n].split(' ').collect();
            let at = word % words.len();
            words[at] = ODD[odd];
            let joined = words.join(" ");
            lines[line % n] = joined;
        }
        for (from, to) in doubled {
            lines[to % n] = lines[from % n].clone();
        }
        for line in dropped {
            lines[line % n].clear();
        }
        let (rig, _) = model::text::read(&lines.join("\n"));
        if let Ok(c) = check::judge_rig(&rig) {
            let all = check::remarks(&c);
            prop_assert!(all.windows(2).all(|w| w[0].verdict >= w[1].verdict));
            prop_assert_eq!(&all, &check::remarks(&check::judge_rig(&rig).unwrap()));
            for fault in c.faults.iter().step_by(7) {
                check::differences(&c, fault.fault(), &check::plan::Plan::default());
            }
        }
    }
}
