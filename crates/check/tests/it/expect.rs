//! `#^` lines: what must be said about the link on the line above.
//!
//! `#^ will not work [left-minus-right]`, or with its points `#^ sounds different 2 [low-load]`. Anything said about a link and not expected fails, and so does anything expected
//! and not said. What is said about the rig as a whole is asked for by name.

use check::Remark;

/// What the reader tells as well: the rig is there all the same, and must be judged.
const TOLD_TWICE: [&str; 3] = ["does-not-fit", "power-loop", "more-used-than-owned"];

/// Every remark on a rig without problems of writing.
pub(crate) fn remarks(text: &str) -> (model::Rig, Vec<Remark>) {
    let (rig, problems) = model::text::read(text);
    let others = problems.iter().filter(|p| !TOLD_TWICE.contains(&p.code));
    let told: Vec<String> = others.map(|p| format!("line {}: {}", p.line, p.message)).collect();
    assert!(told.is_empty(), "{told:#?}\n{text}");
    let compiled = check::judge_rig(&rig).unwrap();
    let all = check::remarks(&compiled);
    for r in &all {
        assert!(check::explain(r.check).is_some(), "{} has no page", r.check);
        assert!(!r.message.ends_with('.') && r.help.is_some(), "{}", r.message);
    }
    (rig, all)
}

/// Reads a rig and compares what is said about its links with its `#^` lines; says how many were expected.
pub(crate) fn check_links(text: &str) -> usize {
    let (rig, all) = remarks(text);
    let mut said: Vec<(usize, String)> = all
        .iter()
        .filter_map(|r| {
            let line = text[..rig.links[r.link?].span.start].lines().count().max(1);
            let line = if text[..rig.links[r.link?].span.start].ends_with('\n') { line + 1 } else { line };
            let points = if r.points > 0 { format!(" {}", r.points) } else { String::new() };
            Some((line, format!("{}{points} [{}]", r.verdict, r.check)))
        })
        .collect();
    let mut wanted = Vec::new();
    let mut above = 0;
    for (i, line) in text.lines().enumerate() {
        match line.trim().strip_prefix("#^") {
            Some(mark) => wanted.push((above, mark.trim().to_owned())),
            None => above = i + 1,
        }
    }
    said.sort();
    wanted.sort();
    let messages: Vec<&String> = all.iter().map(|r| &r.message).collect();
    assert_eq!(said, wanted, "{messages:#?}\n{text}");
    wanted.len()
}
