//! The shelf: the built-in list of kinds of gear and leads, with typical figures.
//!
//! One data file a family, written in the lines of the text form. Figures are common practice unless a line
//! says otherwise; none is of a particular product. A test holds that every line is understood.

use std::sync::LazyLock;

use crate::text::{self, Piece, Slips};
use crate::{Gear, Kind, LeadKind, Origin, Stand, same_name};

/// Family name and its file.
const FAMILIES: [(&str, &str); 7] = [
    ("microphones and pickups", include_str!("microphones.txt")),
    ("sources", include_str!("sources.txt")),
    ("between", include_str!("between.txt")),
    ("mixers", include_str!("mixers.txt")),
    ("speakers and ears", include_str!("speakers.txt")),
    ("power", include_str!("power.txt")),
    ("other", include_str!("other.txt")),
];

/// Leads and adapters.
const LEADS: &str = include_str!("leads.txt");

static KINDS: LazyLock<Vec<Kind>> = LazyLock::new(|| {
    FAMILIES.iter().flat_map(|(family, file)| read_family(family, file, &mut Vec::new())).collect()
});

static LEAD_KINDS: LazyLock<Vec<LeadKind>> = LazyLock::new(|| read_leads(LEADS, &mut Vec::new()));

/// Every kind, family by family.
pub fn kinds() -> &'static [Kind] {
    &KINDS
}

/// The kind called `name`: its own name or another word for it, in any case.
pub fn kind(name: &str) -> Option<&'static Kind> {
    let own = KINDS.iter().find(|k| same_name(&k.name, name));
    own.or_else(|| KINDS.iter().find(|k| k.also.iter().any(|a| same_name(a, name))))
}

/// Every kind of lead and adapter.
pub fn lead_kinds() -> &'static [LeadKind] {
    &LEAD_KINDS
}

/// The kind of lead called `name`.
pub fn lead_kind(name: &str) -> Option<&'static LeadKind> {
    let own = LEAD_KINDS.iter().find(|k| same_name(&k.name, name));
    own.or_else(|| LEAD_KINDS.iter().find(|k| k.also.iter().any(|a| same_name(a, name))))
}

/// Reads one family file; what is not understood goes to `wrong`, for the test.
fn read_family(family: &str, file: &str, wrong: &mut Vec<String>) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    let mut gear = Gear::bare("");
    for (number, raw) in file.lines().enumerate() {
        let body = text::comment_at(raw).and_then(|at| raw.get(..at)).unwrap_or(raw);
        let line = Piece::new(body, 0).trim();
        if line.is_empty() {
            continue;
        }
        let mut bad = |text: String| wrong.push(format!("{family} line {}: {text}", number + 1));
        if let Some(name) = line.after("kind") {
            gear = Gear::bare(name.text);
            kinds.push(Kind {
                name: name.text.to_owned(),
                also: Vec::new(),
                family: family.to_owned(),
                about: String::new(),
                stands: Stand::Table,
                usual_placement: String::new(),
                body: gear.body.clone(),
                questions: Vec::new(),
            });
            continue;
        }
        let Some(kind) = kinds.last_mut() else {
            bad("stands before the first kind".to_owned());
            continue;
        };
        if let Some(rest) = line.after("also") {
            kind.also = rest.split(',').iter().map(|p| p.text.to_owned()).collect();
        } else if let Some(rest) = line.after("about") {
            kind.about = rest.text.to_owned();
        } else if let Some(rest) = line.after("question") {
            kind.questions.push(rest.text.to_owned());
        } else {
            let mut slips = Slips::default();
            let detail = text::read_detail(line, &Origin::Typical, &mut slips);
            if let Some(detail) = detail {
                if let Err(unfound) = text::apply(&detail, &mut gear) {
                    bad(unfound.message);
                }
                if let text::Detail::Stands(stand) = &detail {
                    kind.stands = stand.value;
                }
            }
            for slip in slips.0 {
                bad(slip.message);
            }
        }
        kind.body = gear.body.clone();
        kind.usual_placement = kind.body.placements.first().map_or(String::new(), |p| p.name.clone());
    }
    kinds
}

/// Reads the file of leads.
fn read_leads(file: &str, wrong: &mut Vec<String>) -> Vec<LeadKind> {
    let mut kinds = Vec::new();
    for (number, raw) in file.lines().enumerate() {
        let body = text::comment_at(raw).and_then(|at| raw.get(..at)).unwrap_or(raw);
        let mut slips = Slips::default();
        match text::read_statement(Piece::new(body, 0), &Origin::Typical, &mut slips) {
            text::Statement::LeadKind(kind) => kinds.push(kind),
            text::Statement::Empty => {}
            _ => wrong.push(format!("leads line {}: not a kind of lead", number + 1)),
        }
        wrong.extend(slips.0.into_iter().map(|s| format!("leads line {}: {}", number + 1, s.message)));
    }
    kinds
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::validate;

    #[test]
    fn every_line_of_the_shelf_is_understood() {
        let mut wrong = Vec::new();
        for (family, file) in FAMILIES {
            for kind in read_family(family, file, &mut wrong) {
                wrong.extend(validate::body(&kind.body).into_iter().map(|w| format!("{}: {w}", kind.name)));
            }
        }
        read_leads(LEADS, &mut wrong);
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn no_word_means_two_kinds() {
        let words = kinds().iter().flat_map(|k| std::iter::once(&k.name).chain(&k.also));
        let leads = lead_kinds().iter().flat_map(|k| std::iter::once(&k.name).chain(&k.also));
        for mut all in [words.collect::<Vec<_>>(), leads.collect()] {
            let before = all.len();
            all.sort();
            all.dedup();
            assert_eq!(all.len(), before);
        }
    }

    #[test]
    fn shares_of_a_kinds_modes_add_up() {
        for kind in kinds().iter().filter(|k| !k.body.modes.is_empty()) {
            let sum: f64 = kind.body.modes.iter().map(|m| m.share.value).sum();
            assert!((sum - 100.0).abs() < 0.5, "{}: {sum}", kind.name);
        }
    }
}
