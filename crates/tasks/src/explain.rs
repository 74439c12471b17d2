//! The help page of a check, of a word, or of a kind on the shelf.

use check::remark::explain::WHOLE;

use crate::{Bad, near, shelf, view};

/// The page of words, which the program carries.
const WORDS: &str = include_str!("../../../docs/words.md");

/// Explains a name.
///
/// # Errors
/// When nothing has this name.
pub fn explain(name: &str) -> Result<view::Explain, Bad> {
    let wanted = name.trim();
    let dashed = wanted.to_lowercase().split_whitespace().collect::<Vec<_>>().join("-");
    if let Some(page) = check::explain(&dashed) {
        return Ok(view::Explain { name: dashed, what: view::What::Check, page });
    }
    if let Some((word, page)) = words().into_iter().find(|(w, _)| model::same_name(w, wanted)) {
        return Ok(view::Explain { name: word.to_owned(), what: view::What::Word, page });
    }
    match shelf::find(wanted) {
        Some(view::Shelf::Kind(k)) => {
            let page = format!("{}\n\nIts figures: secondstring shelf \"{}\"\n", k.kind.about, k.kind.name);
            return Ok(view::Explain { name: k.kind.name.clone(), what: view::What::Kind, page });
        }
        Some(view::Shelf::Lead(l)) => {
            let page = format!(
                "A lead or adapter: {}.\n\nIts figures: secondstring shelf \"{}\"\n",
                l.kind.about, l.kind.name
            );
            return Ok(view::Explain { name: l.kind.name, what: view::What::Lead, page });
        }
        Some(view::Shelf::List { .. }) | None => {}
    }
    let known: Vec<&str> =
        checks().into_iter().chain(words().into_iter().map(|(w, _)| w)).chain(shelf::names()).collect();
    let close = near::or(&near::nearest(wanted, known.into_iter()));
    Err(Bad {
        code: "unknown-name",
        place: format!("\"{name}\""),
        found: "there is no page of this name".to_owned(),
        expected: "a check such as stops-short, a word such as lead, or a kind such as mixer".to_owned(),
        fix: close.map_or("see the checks: secondstring explain".to_owned(), |n| format!("write {n}")),
    })
}

/// Every check with its line: what `explain` alone lists.
pub fn list() -> view::Explain {
    let links = check::CHECKS.iter().map(|c| (c.name, c.line));
    let lines: Vec<String> =
        WHOLE.iter().map(|a| (a.name, a.line)).chain(links).map(|(n, l)| format!("{n}: {l}\n")).collect();
    view::Explain { name: "checks".to_owned(), what: view::What::Check, page: lines.concat() }
}

fn checks() -> Vec<&'static str> {
    WHOLE.iter().map(|a| a.name).chain(check::CHECKS.iter().map(|c| c.name)).collect()
}

/// Every word with its page, out of the table of `docs/words.md`.
fn words() -> Vec<(&'static str, String)> {
    let rows = WORDS.lines().filter_map(|l| l.strip_prefix("| ")?.strip_suffix(" |"));
    rows.filter_map(|row| {
        let mut cells = row.split(" | ");
        let (word, meaning, shown) = (cells.next()?, cells.next()?, cells.next()?);
        let meaning = plain(meaning);
        (word != "in code").then(|| (word, format!("{meaning}\n\nOn pages and cards: {}\n", plain(shown))))
    })
    .collect()
}

/// Without the marks of the page.
fn plain(s: &str) -> String {
    // What stands in backquotes inside brackets names a type of the program: of no use to a reader.
    let mut out = String::new();
    let mut rest = s;
    while let Some(at) = rest.find("(`") {
        let (before, from) = rest.split_at(at);
        let Some(end) = from.find("`)") else { break };
        out.push_str(before.trim_end());
        rest = from.get(end + 2..).unwrap_or_default();
    }
    out.push_str(rest);
    out.replace("**", "").replace('`', "")
}
