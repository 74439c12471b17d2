//! The demo rigs as they stand are plugged right.

use check::verdict::Verdict;

#[test]
fn the_demo_rigs_have_nothing_that_will_not_work_and_no_hazard() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let mut found = 0;
    for folder in std::fs::read_dir(root).unwrap() {
        let folder = folder.unwrap().path();
        if !folder.is_dir() {
            continue;
        }
        for file in std::fs::read_dir(folder).unwrap() {
            let path = file.unwrap().path();
            if path.extension().is_none_or(|e| e != "rig") {
                continue;
            }
            let (rig, problems) = model::text::read(&std::fs::read_to_string(&path).unwrap());
            assert_eq!(problems, [], "{}", path.display());
            let compiled = check::judge_rig(&rig).unwrap();
            let all = check::remarks(&compiled);
            for r in &all {
                println!("{} [{}] {}", r.verdict, r.check, r.message);
            }
            let bad: Vec<_> = all.iter().filter(|r| r.verdict >= Verdict::WillNotWork).collect();
            assert!(bad.is_empty(), "{}: {bad:#?}", path.display());
            found += 1;
        }
    }
    assert!(found >= 2, "the demo rigs are missing");
}
