//! The shelf: what kinds of gear and leads there are, and what is taken to be usual for one.

mod page;
mod plugs;

use model::{Kind, LeadKind};

use crate::{Bad, near, view};

/// Every kind, or the page of one.
///
/// # Errors
/// When nothing on the shelf has this name.
pub fn shelf(name: Option<&str>) -> Result<view::Shelf, Bad> {
    match name {
        None => Ok(list()),
        Some(name) => find(name).ok_or_else(|| {
            let close = near::or(&near::nearest(name, names().into_iter()));
            Bad {
                code: "unknown-kind",
                place: format!("\"{name}\""),
                found: "no kind on the shelf has this name".to_owned(),
                expected: "a kind of gear or lead".to_owned(),
                fix: close.map_or("see them all: secondstring shelf".to_owned(), |n| format!("write {n}")),
            }
        }),
    }
}

/// The page of a kind, if there is one.
pub(crate) fn find(name: &str) -> Option<view::Shelf> {
    if let Some(kind) = model::shelf::kind(name) {
        return Some(view::Shelf::Kind(Box::new(page::kind(kind))));
    }
    model::shelf::lead_kind(name).map(|lead| view::Shelf::Lead(page::lead(lead)))
}

/// Every name of every kind, other words included.
pub(crate) fn names() -> Vec<&'static str> {
    let kinds = model::shelf::kinds().iter().flat_map(|k| std::iter::once(&k.name).chain(&k.also));
    let leads = model::shelf::lead_kinds().iter().flat_map(|k| std::iter::once(&k.name).chain(&k.also));
    kinds.chain(leads).map(String::as_str).collect()
}

fn list() -> view::Shelf {
    let mut families: Vec<view::Family> = Vec::new();
    for kind in model::shelf::kinds() {
        match families.last_mut().filter(|f| f.name == kind.family) {
            Some(family) => family.kinds.push(named(kind)),
            None => families.push(view::Family { name: kind.family.clone(), kinds: vec![named(kind)] }),
        }
    }
    view::Shelf::List { families, leads: model::shelf::lead_kinds().iter().map(named_lead).collect() }
}

fn named(kind: &Kind) -> view::KindName {
    view::KindName { name: kind.name.clone(), also: kind.also.clone(), about: kind.about.clone() }
}

fn named_lead(lead: &LeadKind) -> view::KindName {
    let [a, b] = lead.ends.each_ref().map(plugs::plug);
    view::KindName { name: lead.name.clone(), also: lead.also.clone(), about: format!("{a} to {b}") }
}
