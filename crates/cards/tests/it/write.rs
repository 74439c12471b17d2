//! From a rig file to cards: every line keeps the word rules, whatever the owner's names are.
#![expect(clippy::unwrap_used, reason = "helpers of tests, on rigs written here")]

use cards::write::{Told, deck};
use cards::{Deck, text, words};
use check::Problem;
use check::compile::{Compiled, compile};
use check::pairs::NoMore;
use check::plan::{End, Plan};
use engine::{Answer, Do, Limit, Order, Step, Take, Way, answer};

const CORNER: &str = include_str!("corner.rig");

/// Searches stop early here: the words are tested, not how good the ways are.
const LIMIT: Limit = Limit { nodes: 3_000, polish: 200 };

fn compiled(rig: &str) -> Compiled {
    let (rig, problems) = model::text::read(rig);
    assert_eq!(problems, []);
    compile(&rig, &NoMore).unwrap()
}

fn answers(c: &Compiled) -> Vec<(usize, Answer)> {
    let all = c.faults.iter().enumerate();
    all.map(|(i, f)| (i, spelt_out(&c.problem, answer(&c.problem, &f.fault, LIMIT, 1200)))).collect()
}

fn told<'a>(c: &'a Compiled, answers: &'a [(usize, Answer)]) -> Told<'a> {
    Told { compiled: c, answers, hazards: vec![], date: "14 June".into(), lang: "en".into() }
}

fn made(rig: &str) -> Deck {
    let c = compiled(rig);
    let answers = answers(&c);
    deck(&told(&c, &answers))
}

fn spelt_out(p: &Problem, mut a: Answer) -> Answer {
    for way in [Some(&mut a.now), a.full.as_mut(), a.in_break.as_mut(), a.next.as_mut()].into_iter().flatten()
    {
        if way.order.steps.is_empty() {
            way.order = plain_order(p, way, &a.silent);
        }
    }
    a
}

/// Steps in any order that can be done, where the engine gives none; only their words are looked at.
fn plain_order(p: &Problem, way: &Way, silent: &[check::ids::PartId]) -> Order {
    let plan: &Plan = &way.cover.plan;
    let mut acts: Vec<(Do, check::ids::GearId)> = Vec::new();
    let gear = |s| p.spec.gear_of(s);
    let mut loud: Vec<check::ids::GearId> = plan
        .new
        .iter()
        .map(|n| gear(p.pairs.pairs[n.pair].to))
        .filter(|g| p.spec.gear[g.ix()].loud)
        .collect();
    loud.dedup();
    acts.extend(loud.iter().map(|g| (Do::Quieten(*g), *g)));
    for (m, _) in plan.mends.iter().zip(0..) {
        acts.push((Do::Mend { mend: *m }, check::ids::GearId::at(0)));
    }
    for (g, n) in &plan.places {
        acts.push((Do::Place { gear: *g, placement: *n, from_bag: p.packed(*g) }, *g));
    }
    let mut pulls = plan.pulls.clone();
    for n in &plan.new {
        let pair = &p.pairs.pairs[n.pair];
        let via = p.pairs.chains[n.chain].via.clone();
        let kept = n.kept.and_then(|end| Some((p.kept_link(n.pair, end)?, end)));
        for end in [End::From, End::To] {
            if kept.is_some_and(|(_, stays)| stays == end) {
                continue;
            }
            if let Some(at) = pulls.iter().position(|(l, e)| kept.is_some_and(|(k, _)| k == *l) && *e == end)
            {
                let (link, end) = pulls.remove(at);
                let l = &p.spec.patch[link.ix()];
                let from = if end == End::From { l.from } else { l.to };
                acts.push((Do::Pull { link, end, from }, gear(from)));
            }
            let first = end == End::From || kept.is_some();
            let takes =
                if first && kept.is_none() { via.iter().map(|l| (*l, Take::Bag)).collect() } else { vec![] };
            let at = if end == End::From { pair.from } else { pair.to };
            let does = Do::Plug {
                from: pair.from,
                to: pair.to,
                via: via.clone(),
                end,
                kept,
                takes,
                level: end == End::To,
            };
            acts.push((does, gear(at)));
        }
    }
    let early = acts.iter().take_while(|(d, _)| matches!(d, Do::Quieten(_))).count();
    for (link, end) in pulls {
        let l = &p.spec.patch[link.ix()];
        let from = if end == End::From { l.from } else { l.to };
        acts.insert(early, (Do::Pull { link, end, from }, gear(from)));
    }
    acts.extend(plan.knobs.iter().map(|k| {
        let knob = &p.spec.knobs[k.ix()];
        (Do::Knob { knob: *k, on: !knob.on }, knob.gear)
    }));
    acts.extend(plan.starts.iter().map(|g| (Do::Start { gear: *g, boot: p.spec.gear[g.ix()].boot }, *g)));
    acts.extend(loud.iter().map(|g| (Do::BringUp(*g), *g)));
    let last = i32::try_from(acts.len()).unwrap_or(i32::MAX);
    let back: Vec<_> = silent.iter().filter(|s| way.verdict.carried.contains(s)).copied().collect();
    let steps = acts.into_iter().zip(1..).map(|((does, gear), i)| {
        let until = i * 5;
        let here = if i == last { back.iter().map(|s| (*s, until)).collect() } else { vec![] };
        Step { does, gear, seconds: 5, until, back: here }
    });
    let at = last * 5;
    Order {
        steps: steps.collect(),
        back: silent.iter().map(|s| (*s, back.contains(s).then_some(at))).collect(),
        weighted: 0,
    }
}

#[test]
fn every_line_of_a_small_deck_keeps_the_word_rules() {
    let deck = made(CORNER);
    let wrong: Vec<String> = words::check_deck(&deck).iter().map(ToString::to_string).collect();
    assert_eq!(wrong, Vec::<String>::new());
    assert!(deck.cards.len() > 5, "{}", deck.cards.len());
}

/// A duo with two speakers, a monitor, ears, a click on one side and a spare bag.
const DUO: &str = include_str!("../../../model/tests/it/duo.rig");

/// Its faults that touch most: the rest differ in names only.
const DUO_FAULTS: [&str; 6] =
    ["MIXER", "MIXER SUPPLY", "STRIP A", "PEDAL", "LEFT SPEAKER", "VOCAL MIC OUT > MIXER 1"];

fn some_of_the_duo(c: &Compiled) -> Vec<(usize, Answer)> {
    let limit = Limit { nodes: 300, polish: 30 };
    let places = DUO_FAULTS.iter().map(|name| {
        let named = c.find_fault(name).unwrap();
        c.faults.iter().position(|f| f == named).unwrap()
    });
    places.map(|i| (i, spelt_out(&c.problem, answer(&c.problem, &c.faults[i].fault, limit, 1200)))).collect()
}

#[test]
fn every_line_of_a_duos_deck_keeps_the_word_rules() {
    let c = compiled(DUO);
    let answers = some_of_the_duo(&c);
    let deck = deck(&told(&c, &answers));
    let wrong: Vec<String> = words::check_deck(&deck).iter().map(ToString::to_string).collect();
    assert_eq!(wrong, Vec::<String>::new());
    assert!(deck.cards.len() >= 5);
}

/// Every word an owner may choose, chosen badly.
fn spoilt(mut rig: model::Rig) -> model::Rig {
    let mut n = 0;
    let mut bad = |s: &mut String| {
        n += 1;
        *s = format!(
            "please! the patch: node {n} of the very, very long and winding channel strip ☃ of errors"
        );
    };
    for lead in &mut rig.leads {
        bad(&mut lead.name);
    }
    for i in 0..rig.sources.len() {
        let old = rig.sources[i].name.clone();
        bad(&mut rig.sources[i].name);
        let new = rig.sources[i].name.clone();
        for body in rig.gear.iter_mut().map(|g| &mut g.body) {
            let made = body.makes.iter_mut().map(|m| &mut m.source);
            let picked = body.placements.iter_mut().filter_map(|p| p.sources.as_mut()).flatten();
            made.chain(picked).filter(|s| **s == old).for_each(|s| s.clone_from(&new));
        }
        rig.sources[i].played_by = Some(new);
    }
    for listener in rig.listeners.iter_mut().filter(|l| l.name != model::AUDIENCE) {
        bad(&mut listener.name);
    }
    for gear in &mut rig.gear {
        bad(&mut gear.name);
        let body = &mut gear.body;
        let renamed: Vec<(String, String)> = body
            .modes
            .iter_mut()
            .map(|m| {
                let old = m.name.clone();
                bad(&mut m.name);
                bad(&mut m.shows);
                (old, m.name.clone())
            })
            .collect();
        for name in body.mends.iter_mut().flat_map(|m| &mut m.modes) {
            if let Some((_, new)) = renamed.iter().find(|(old, _)| old == name) {
                name.clone_from(new);
            }
        }
        body.looks.iter_mut().for_each(|l| bad(&mut l.ask));
        body.cautions.iter_mut().for_each(|c| bad(&mut c.words));
        for mend in &mut body.mends {
            bad(&mut mend.name);
            mend.caution = Some("please! a node".into());
        }
    }
    rig.room.ask = Some("the error!".into());
    rig
}

#[test]
fn names_no_card_would_choose_spoil_nothing() {
    let (rig, problems) = model::text::read(CORNER);
    assert_eq!(problems, []);
    let c = compile(&spoilt(rig), &NoMore).unwrap();
    let answers = answers(&c);
    let deck = deck(&told(&c, &answers));
    let wrong: Vec<String> = words::check_deck(&deck).iter().map(ToString::to_string).collect();
    assert_eq!(wrong, Vec::<String>::new());
    assert!(deck.cards.len() > 5, "{}", deck.cards.len());
}

#[test]
fn steps_and_pictures_agree() {
    let c = compiled(DUO);
    let answers = some_of_the_duo(&c);
    for card in deck(&told(&c, &answers)).cards {
        let at = card.title.plain();
        let Some(picture) = &card.picture else { continue };
        assert!(picture.pieces.len() <= 8, "{at}");
        let mut drawn: Vec<u32> = picture
            .leads
            .iter()
            .filter_map(
                |l| if let cards::picture::LeadState::New(step) = l.state { Some(step) } else { None },
            )
            .collect();
        drawn.sort_unstable();
        let told: Vec<u32> = card.steps.iter().filter(|s| s.new_lead).map(|s| s.number).collect();
        // A picture has room for eight pieces; what it draws is numbered as the steps are.
        assert!(drawn.iter().all(|d| told.contains(d)), "{at}: {drawn:?} in {told:?}");
        assert!(
            card.steps.iter().all(|s| s.words.0.iter().any(|r| matches!(r, cards::Run::Verb(_)))),
            "{at}"
        );
    }
}

#[test]
fn one_plug_pulled_and_pushed_is_one_move_and_mains_is_not_for_anyone() {
    let c = compiled(DUO);
    let answers = some_of_the_duo(&c);
    let deck = deck(&told(&c, &answers));
    let find = |title: &str| deck.cards.iter().find(|c| c.title.plain() == title).unwrap();
    let pedal = cards::text::card(find("PEDAL is dark"));
    assert!(pedal.contains("MOVE VIOLIN lead: out of PEDAL IN, into DI IN"), "{pedal}");
    let strip = find("STRIP A is dark");
    assert_eq!(strip.who, cards::Who::Only(vec!["YRSA".into()]));
    assert!(strip.cautions().iter().any(|c| c.plain().starts_with("Mains. Dry hands")));
}

#[test]
fn a_deck_made_twice_is_the_same() {
    let c = compiled(CORNER);
    let answers = answers(&c);
    assert_eq!(deck(&told(&c, &answers)), deck(&told(&c, &answers)));
}

#[test]
fn cards_are_numbered_from_one_and_titles_differ() {
    let deck = made(CORNER);
    for (card, number) in deck.cards.iter().zip(1..) {
        assert_eq!(card.number, number);
    }
    let mut titles: Vec<String> = deck.cards.iter().map(|c| c.title.plain()).collect();
    titles.sort();
    let all = titles.len();
    titles.dedup();
    assert_eq!(titles.len(), all, "{titles:#?}");
}

#[test]
fn nothing_silent_nothing_said() {
    let c = compiled(CORNER);
    let mut answers = answers(&c);
    answers.retain(|(_, a)| a.silent.is_empty());
    let mut told = told(&c, &answers);
    told.hazards = vec![cards::Line::from([text("Two plugs of one strip feed each other.")])];
    let deck = deck(&told);
    assert_eq!(deck.cards, []);
    assert_eq!(words::check_deck(&deck), []);
}

#[test]
fn two_cards_as_text() {
    let deck = made(CORNER);
    let find = |title: &str| {
        let card = deck.cards.iter().find(|c| c.title.plain().starts_with(title));
        card.map_or_else(|| panic!("no card {title}"), cards::text::card)
    };
    insta::assert_snapshot!("mixer", find("MIXER is"));
    insta::assert_snapshot!("voice_lead", find("VOICE MIC lead"));
}
