//! `shelf`: types of gear and leads.

use tasks::view::{Figure, KindName, KindPage, LeadPage, Shelf};
use tasks::{Bad, shelf};

use crate::Exit;
use crate::show::Out;

pub(crate) fn run(kind: Option<&str>, out: &mut Out) -> Result<Exit, Bad> {
    let it = shelf::shelf(kind)?;
    out.answer(&it, |it, out| match it {
        Shelf::List { families, leads } => {
            for family in families {
                out.head(&family.name);
                family.kinds.iter().for_each(|k| named(k, out));
            }
            out.head("leads and adapters");
            leads.iter().for_each(|k| named(k, out));
        }
        Shelf::Kind(page) => kind_page(page, out),
        Shelf::Lead(page) => lead_page(page, out),
    });
    Ok(Exit::Answered)
}

fn named(k: &KindName, out: &mut Out) {
    out.line(format_args!("{}: {}", k.name, k.about));
}

fn title(k: &KindName, out: &mut Out) {
    out.head(&k.name);
    out.line(&k.about);
    if !k.also.is_empty() {
        out.line(format_args!("Also called: {}", k.also.join(", ")));
    }
}

fn kind_page(page: &KindPage, out: &mut Out) {
    title(&page.kind, out);
    page.figures.iter().for_each(|f| out.line(figure(f)));
    out.head("Sockets");
    for s in &page.sockets {
        let figures: Vec<String> = s.figures.iter().map(figure).collect();
        let detail = if figures.is_empty() { String::new() } else { format!("; {}", figures.join(", ")) };
        out.line(format_args!(
            "{}: {}, {}, {}{detail}",
            s.name,
            s.direction,
            s.plugs.join(" or "),
            s.classes.join(" + ")
        ));
    }
    if !page.modes.is_empty() {
        out.head("How it fails");
    }
    for m in &page.modes {
        out.line(format_args!(
            "{}: takes {}; shows: {}; {}",
            m.name,
            if m.takes.is_empty() { "nothing".to_owned() } else { m.takes.join(" + ") },
            m.shows,
            figure(&m.share)
        ));
    }
    if !page.looks.is_empty() {
        out.head("Look first");
    }
    for l in &page.looks {
        out.line(format_args!("{} ({}): {}, {}", l.ask, l.state, figure(&l.seconds), figure(&l.right_in)));
    }
    if !page.mends.is_empty() {
        out.head("Mend on the spot");
    }
    for m in &page.mends {
        let uses = m.uses.as_ref().map_or(String::new(), |u| format!("; uses {u}"));
        let care = m.caution.as_ref().map_or(String::new(), |c| format!("; take care: {c}"));
        out.line(format_args!("{}: {}{uses}{care}", m.name, figure(&m.seconds)));
    }
    if !page.cautions.is_empty() {
        out.head("Take care");
    }
    page.cautions.iter().for_each(|c| out.line(c));
    if !page.questions.is_empty() {
        out.head("Find out about yours");
    }
    page.questions.iter().for_each(|q| out.line(q));
}

fn lead_page(page: &LeadPage, out: &mut Out) {
    title(&page.kind, out);
    out.line(format_args!("Ends: {} and {}", page.ends[0], page.ends[1]));
    out.line(format_args!("Inside: {}", page.wiring));
    out.line(format_args!("Carries: {}", page.carries.join(", ")));
    if page.adapter {
        out.line("An adapter: it has no length.");
    } else {
        let lengths: Vec<String> = page.lengths.iter().map(|l| format!("{l} m")).collect();
        out.line(format_args!("Usual lengths: {}", lengths.join(", ")));
    }
    page.figures.iter().for_each(|f| out.line(figure(f)));
    if !page.beware.is_empty() {
        out.head("Beware");
    }
    page.beware.iter().for_each(|b| out.line(b));
}

/// `draws 30 W (20 to 40; typical)`.
fn figure(f: &Figure) -> String {
    let range = f.range.map_or(String::new(), |[least, most]| format!("{least} to {most}; "));
    format!("{} {} {} ({range}{})", f.name, f.value, f.unit, f.origin)
}
