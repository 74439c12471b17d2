//! From a rig file to cards: every line keeps the word rules, whatever the owner's names are.
#![expect(clippy::unwrap_used, reason = "helpers of tests, on rigs written here")]

use std::sync::OnceLock;

use cards::write::{Told, card, deck, is_taped, tape_of, together};
use cards::{CarryOnKind, Deck, MouthWord, text, words};
use check::compile::Compiled;
use engine::{Answer, Limit, answer};

const CORNER: &str = include_str!("corner.rig");

/// Searches stop early here: the words are tested, not how good the ways are.
const LIMIT: Limit = Limit { nodes: 3_000, polish: 200 };

fn compiled(rig: &str) -> Compiled {
    let (rig, problems) = model::text::read(rig);
    assert_eq!(problems, []);
    check::judge_rig(&rig).unwrap()
}

fn answers(c: &Compiled) -> Vec<(usize, Answer)> {
    let all = c.faults.iter().enumerate();
    all.map(|(i, f)| (i, answer(&c.problem, &f.fault, LIMIT, 1200))).collect()
}

fn told<'a>(c: &'a Compiled, answers: &'a [(usize, Answer)]) -> Told<'a> {
    Told { compiled: c, answers, date: "14 June".into(), lang: "en".into() }
}

fn made(rig: &str) -> Deck {
    let c = compiled(rig);
    let answers = answers(&c);
    deck(&told(&c, &answers))
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
const DUO_FAULTS: [&str; 7] =
    ["MIXER", "MIXER SUPPLY", "STRIP A", "PEDAL", "LEFT SPEAKER", "VOCAL MIC OUT > MIXER 1", "LAPTOP"];

fn some_of_the_duo(c: &Compiled) -> Vec<(usize, Answer)> {
    let limit = Limit { nodes: 300, polish: 30 };
    let places = DUO_FAULTS.iter().map(|name| {
        let named = c.find_fault(name).unwrap();
        c.faults.iter().position(|f| f == named).unwrap()
    });
    places.map(|i| (i, answer(&c.problem, &c.faults[i].fault, limit, 1200))).collect()
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
    let c = check::judge_rig(&spoilt(rig)).unwrap();
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
    assert!(pedal.contains("MOVE VIOLIN’s jack 3 m: out of PEDAL IN, into DI IN"), "{pedal}");
    let strip = find("STRIP A is dark");
    assert_eq!(strip.who, cards::Who::Only(vec!["YRSA".into()]));
    assert!(strip.cautions().iter().any(|c| c.plain().starts_with("Mains. Dry hands")));
}

#[test]
fn the_mouth_line_follows_who_is_still_heard() {
    let c = compiled(DUO);
    let answers = some_of_the_duo(&c);
    let deck = deck(&told(&c, &answers));
    let find = |title: &str| deck.cards.iter().find(|c| c.title.plain().starts_with(title)).unwrap();
    for (title, word, heard) in [
        ("MIXER is dark", MouthWord::Talk, "CORIN plays on, heard unplugged to 5 m."),
        ("PEDAL", MouthWord::KeepSinging, "Voice, keys, keys right and tracks are heard."),
        ("XLR 6 m from VOCAL MIC", MouthWord::KeepPlaying, "Violin, keys, keys right and tracks are heard."),
        ("LAPTOP", MouthWord::FinishTheSong, "Violin, voice, keys and keys right are heard."),
    ] {
        let mouth = &find(title).mouth;
        assert_eq!(mouth.word, word, "{title}");
        assert!(mouth.heard.plain().starts_with(heard), "{title}: {}", mouth.heard);
    }
    let laptop = find("LAPTOP");
    assert!(laptop.carry_on.iter().any(|c| c.first && c.kind == CarryOnKind::FinishTheSong));
}

#[test]
fn one_card_alone_is_the_card_of_the_deck_but_for_its_number() {
    let c = compiled(CORNER);
    let answers = answers(&c);
    let told = told(&c, &answers);
    let mixer = c.faults.iter().position(|f| f.key == "MIXER: supply").unwrap();
    let alone = card(&told, mixer).unwrap();
    let whole = deck(&told);
    let there = whole.cards.iter().find(|c| c.title == alone.title).unwrap();
    assert_eq!((alone.number, &alone.steps, &alone.mouth), (1, &there.steps, &there.mouth));
    assert_eq!(card(&told, 9_999), None);
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
    let told = told(&c, &answers);
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
    insta::assert_snapshot!("voice_lead", find("XLR 6 m from VOICE MIC"));
}

/// A rig, and the answers of its faults by their places.
type Answered = (Compiled, Vec<(usize, Answer)>);

/// The demo rigs, judged with physics as the program does.
fn demo_decks() -> &'static [Answered] {
    static DECKS: OnceLock<Vec<Answered>> = OnceLock::new();
    DECKS.get_or_init(answered)
}

fn answered() -> Vec<Answered> {
    let texts = [
        include_str!("../../../../examples/harbour-cafe/harbour-cafe.rig"),
        include_str!("../../../../examples/street-pitch/street-pitch.rig"),
    ];
    let limit = Limit { nodes: 500, polish: 50 };
    let all = texts.iter().map(|text| {
        let (rig, problems) = model::text::read(text);
        assert_eq!(problems, []);
        let c = check::judge_rig(&rig).unwrap();
        let faults = c.faults.iter().enumerate();
        let answers = faults.map(|(i, f)| (i, answer(&c.problem, &f.fault, limit, 1200))).collect();
        (c, answers)
    });
    all.collect()
}

#[test]
fn every_line_of_the_demo_decks_keeps_the_word_rules() {
    for (c, answers) in demo_decks() {
        let deck = deck(&told(c, answers));
        let wrong: Vec<String> = words::check_deck(&deck).iter().map(ToString::to_string).collect();
        assert_eq!(wrong, Vec::<String>::new(), "{}", c.rig.name);
    }
}

/// A plug that stays in an input while another kind of signal comes to it leaves the input's switch where it was: a
/// microphone into a line input is next to silence. The card has to say so, whichever end the hands are at.
#[test]
fn an_input_that_gets_another_kind_of_signal_has_its_switch_set() {
    let mut kept = 0;
    for (c, answers) in demo_decks() {
        let spec = &c.problem.spec;
        for (fault, a) in answers {
            for new in &a.now.cover.plan.new {
                let pair = &c.problem.pairs.pairs[new.pair];
                let to = c.rig.socket(c.socket(pair.to)).unwrap();
                let class = spec.class_of(pair.from).map(|k| spec.classes[k.ix()].name.clone()).unwrap();
                let sound = to.input().unwrap().accepts.iter().filter(|w| w.class.is_sound());
                let by_switch = sound.clone().filter(|w| w.only_on.is_none()).count() > 1;
                let takes_it = sound.clone().any(|w| w.class.to_string() == class);
                if to.connectors.len() < 2 || !by_switch || !takes_it {
                    continue;
                }
                kept += usize::from(new.kept == Some(check::plan::End::To));
                let one = card(&told(c, answers), *fault).unwrap();
                let input = format!("{} {}", c.name(spec.gear_of(pair.to)), to.name);
                let says = one.steps.iter().any(|s| {
                    let words = s.words.plain().to_lowercase();
                    let ways = [format!("{input}, on {class}"), format!("set {input} to {class}")];
                    ways.iter().any(|w| words.contains(&w.to_lowercase()))
                });
                assert!(
                    says,
                    "{}: nothing sets {input} to {class}\n{}",
                    c.faults[*fault].key,
                    text::card(&one)
                );
            }
        }
    }
    assert!(kept > 0, "no way of the demo rigs keeps a plug in such an input: the test tests nothing");
}

/// Eyes go from the tape on the card to the tape on the lead, so a step that moves a taped lead says its tape.
#[test]
fn a_taped_lead_is_called_by_its_tape_in_steps_pictures_and_titles() {
    let mut told_of = 0;
    for (c, answers) in demo_decks() {
        let spec = &c.problem.spec;
        for (fault, a) in answers {
            let Some(card) = card(&told(c, answers), *fault) else { continue };
            let all = text::card(&card);
            if let check::compile::About::Lead { link, piece } = c.faults[*fault].about
                && let Some(tape) = tape_of(c, link).filter(|t| *t == spec.patch[link].via[piece])
            {
                assert!(card.title.plain().starts_with(c.lead_name(tape)), "{all}");
            }
            for act in &a.now.order.steps {
                let engine::Do::Pull { link, from, .. } = act.does else { continue };
                let Some(lead) = tape_of(c, link.ix()) else { continue };
                let (tape, from) = (c.lead_name(lead), c.label(from));
                told_of += 1;
                let said = card.steps.iter().map(|s| s.words.plain()).any(|s| {
                    s.starts_with(&format!("PULL {tape} out of "))
                        || s.starts_with(&format!("PULL the other end of {tape} out of "))
                        || s.starts_with(&format!("MOVE {tape}: out of "))
                });
                assert!(said, "{tape} out of {from} is not said:\n{all}");
                let drawn = card.picture.iter().flat_map(|p| p.facts()).map(|f| f.plain());
                let socket = spec.patch[link.ix()].to;
                let fact = format!("{tape}, ");
                assert!(drawn.into_iter().any(|f| f.contains(&fact)), "{} {}:\n{all}", tape, c.label(socket));
            }
        }
    }
    assert!(told_of > 50, "{told_of}");
}

#[test]
fn a_lead_of_several_has_no_tape() {
    let c = compiled(DUO);
    let taped: Vec<&str> = (0..c.rig.leads.len())
        .map(check::ids::LeadId::at)
        .filter(|l| is_taped(&c, *l))
        .map(|l| c.lead_name(l))
        .collect();
    assert_eq!(taped, Vec::<&str>::new());
}

/// A next way that does nothing new would send a performer round in a ring.
#[test]
fn a_next_way_does_something_that_the_first_does_not() {
    let mut nexts = 0;
    for (c, answers) in demo_decks() {
        let deck = deck(&told(c, answers));
        for next in deck.cards.iter().filter(|c| c.next_of.is_some()) {
            nexts += 1;
            let first = deck.card(next.next_of.unwrap()).unwrap();
            assert_eq!(first.still_nothing, cards::Next::Card(next.number));
            let words = |card: &cards::Card| card.steps.iter().map(|s| s.words.plain()).collect::<Vec<_>>();
            let done = words(first);
            assert!(words(next).iter().any(|step| !done.contains(step)), "{}", text::card(next));
            // What was moved is undone first; what was only pressed or swapped has nothing to undo.
            assert_eq!(first.put_back.is_empty(), !next.before.iter().any(|l| l.plain().contains("undo")));
        }
        let listed = text::deck(&deck);
        let list = &listed[..listed.find("CARD 1\n").unwrap()];
        assert!(!list.contains("next way"), "{list}");
    }
    assert!(nexts > 5, "{nexts}");
}

#[test]
fn pieces_that_look_and_are_treated_alike_share_a_card_with_all_their_names() {
    let (c, answers) = &demo_decks()[0];
    let deck = deck(&told(c, answers));
    let titles: Vec<String> = deck.cards.iter().map(|c| c.title.plain()).collect();
    assert!(titles.contains(&"PIANO or PIANO SUPPLY is dead".to_owned()), "{titles:#?}");
    // No two cards of the list have the same steps and the same looks.
    for (i, a) in deck.cards.iter().enumerate().filter(|(_, c)| c.next_of.is_none() && !c.looks.is_empty()) {
        for b in deck.cards.iter().skip(i + 1).filter(|c| c.next_of.is_none()) {
            let same = (&a.steps, &a.looks, &a.mouth) == (&b.steps, &b.looks, &b.mouth);
            assert!(!same, "{} and {}", a.title, b.title);
        }
    }
}

#[test]
fn two_things_dead_together_are_both_drawn_and_both_looked_at() {
    let (c, answers) = &demo_decks()[0];
    let place = |key: &str| c.faults.iter().position(|f| f.key == key).unwrap();
    let both = [place("VOCAL MIC: dead"), place("LEFT SPEAKER: supply")];
    let fault = c.faults[both[0]].fault.and(&c.faults[both[1]].fault);
    let answer = answer(&c.problem, &fault, LIMIT, 1200);
    let all = together(&told(c, answers), &both, &answer);
    let card = &all[0];
    assert_eq!(card.title.plain(), "VOCAL MIC and LEFT SPEAKER are dead together");
    let drawn = card.picture.as_ref().unwrap();
    let dead: Vec<&str> = drawn.pieces.iter().filter(|p| p.dead).map(|p| p.name.as_str()).collect();
    assert_eq!(dead, ["VOCAL MIC", "LEFT SPEAKER"]);
    let looks: Vec<String> = card.looks.iter().map(|l| l.words.plain()).collect();
    assert!(looks.iter().any(|l| l.starts_with("LEFT SPEAKER")), "{looks:?}");
    assert_eq!(together(&told(c, answers), &[], &answer), []);
}

/// Said once above the steps and once at the first step that needs it: a caution read everywhere is read nowhere.
#[test]
fn no_caution_stands_at_two_steps() {
    for (c, answers) in demo_decks() {
        for card in deck(&told(c, answers)).cards {
            let at_steps: Vec<String> =
                card.steps.iter().filter_map(|s| s.caution.as_ref()).map(cards::Line::plain).collect();
            for (i, one) in at_steps.iter().enumerate() {
                let again = at_steps.iter().skip(i + 1).any(|other| one.contains(other.as_str()));
                assert!(!again, "{}", text::card(&card));
            }
            let top = card.cautions();
            assert!(top.iter().all(|line| at_steps.contains(&line.plain())));
        }
    }
}

#[test]
fn at_most_three_differences_are_read_at_once() {
    let mut more = 0;
    for (c, answers) in demo_decks() {
        let deck = deck(&told(c, answers));
        assert!(deck.cards.iter().all(|c| c.different.len() <= 3));
        more += deck.cards.iter().filter(|c| !c.also_different.is_empty()).count();
    }
    assert!(more > 0, "nothing was left for later: the test tests nothing");
}

#[test]
fn every_card_is_reached_from_what_went_silent() {
    for (c, answers) in demo_decks() {
        let deck = deck(&told(c, answers));
        for card in deck.cards.iter().filter(|c| c.next_of.is_none()) {
            assert!(deck.silent.iter().any(|row| row.cards.contains(&card.number)), "{}", card.title);
        }
        let one_side = deck.silent.iter().find(|r| r.name == "one side");
        for card in one_side.iter().flat_map(|r| &r.cards).filter_map(|n| deck.card(*n)) {
            assert!(card.mouth.word != MouthWord::Talk, "{}", card.title);
        }
    }
}

#[test]
fn a_rig_with_a_hazard_gets_no_card() {
    let (rig, _) = model::text::read(&CORNER.replace("must 2: keys", "never: keys for audience"));
    let c = check::judge_rig(&rig).unwrap();
    let answers = answers(&c);
    let deck = deck(&told(&c, &answers));
    assert_eq!((deck.cards.len(), deck.silent.len()), (0, 0));
    let hazard = &deck.hazards[0];
    assert_eq!(hazard.what.plain(), "Keys would reach the audience. PIANO to MIXER 3 to SPEAKER.");
    assert!(hazard.cure.plain().contains("Turn it off on the way."), "{}", hazard.cure);
    assert_eq!(words::check_deck(&deck), []);
    assert!(text::deck(&deck).contains("No cards until this is dealt with."));
    assert_eq!(card(&told(&c, &answers), answers[0].0), None);
}

/// A busker with a dead speaker has nobody to hand over to, and is heard by those who stand near: he sings on.
#[test]
fn one_who_sings_and_plays_is_named_once_and_sings_on() {
    let street = &demo_decks()[1];
    let deck = deck(&told(&street.0, &street.1));
    let silent = deck.cards.iter().find(|c| c.title.plain() == "SPEAKER has a flat battery").unwrap();
    assert_eq!(silent.mouth.heard.plain(), "PIET is heard unplugged to 4 m.");
    assert_eq!(silent.mouth.word, MouthWord::KeepSinging);
    assert!(deck.cards.iter().all(|c| c.mouth.word != MouthWord::Talk));
    // Two who play together talk first: which song goes on, and who mends, has to be said.
    assert_eq!(of_the_cafe("MIXER: supply").mouth.word, MouthWord::Talk);
}

#[test]
fn what_plays_by_itself_is_seen_to_play() {
    let card = of_the_cafe("EAR AMP: battery");
    let at = card.steps.iter().find(|s| s.words.plain() == "PUT PHONE on play").unwrap();
    assert_eq!(at.sign.line().plain(), "See it play.");
}

/// Nobody follows twenty steps after a first way that brought nothing: then the card says so.
#[test]
fn a_next_way_is_short_or_is_not_shown() {
    let mut long = 0;
    for (c, answers) in demo_decks() {
        let deck = deck(&told(c, answers));
        for card in &deck.cards {
            assert!(card.next_of.is_none() || card.steps.len() <= 12, "{}", text::card(card));
            let cards::Next::Words(words) = &card.still_nothing else { continue };
            if words.plain().starts_with("Nothing quick is left. ") {
                long += 1;
                assert!(card.havent_got.iter().all(|h| h.then == card.still_nothing), "{}", text::card(card));
            }
        }
    }
    assert!(long > 0, "no next way of the demo rigs is long: the test tests nothing");
}

/// The card of one way that a piece of the café fails.
fn of_the_cafe(key: &str) -> cards::Card {
    let (c, answers) = &demo_decks()[0];
    let place = c.faults.iter().position(|f| f.key == key).unwrap();
    card(&told(c, answers), place).unwrap()
}

#[test]
fn ear_pieces_that_go_into_another_output_say_start_at_zero_at_that_step() {
    let card = of_the_cafe("EAR AMP: battery");
    let at = card.steps.iter().find(|s| s.words.plain().contains("EARS EXT into PHONE")).unwrap();
    let said = at.caution.as_ref().map(cards::Line::plain).unwrap_or_default();
    assert!(said.starts_with("Start at zero."), "{}", text::card(&card));
}

#[test]
fn a_dead_piece_is_asked_for_settings_that_would_silence_the_same() {
    let asks = |card: &cards::Card| card.looks.iter().map(|l| l.words.plain()).collect::<Vec<_>>();
    let mic = asks(&of_the_cafe("VOCAL MIC: dead"));
    assert_eq!(mic.first().map(String::as_str), Some("Plug half out at mic?"), "{mic:?}");
    // One muted channel does not explain a mixer that passes nothing.
    let mixer = asks(&of_the_cafe("MIXER: supply"));
    assert!(!mixer.iter().any(|l| l.contains("MUTE")), "{mixer:?}");
}

#[test]
fn another_sound_says_how_and_by_what() {
    let card = of_the_cafe("PEDAL: dead");
    let said: Vec<String> = card.different.iter().map(cards::Line::plain).collect();
    assert!(said.contains(&"Violin sounds thin, by DI.".to_owned()), "{said:?}");
}

/// The voice is heard before the same speaker goes down again for the violin: a singer may stop there.
#[test]
fn where_a_part_is_first_heard_one_may_stop() {
    let card = of_the_cafe("MIXER: supply");
    let marks: Vec<(u32, String)> =
        card.steps.iter().flat_map(|s| s.marks.iter().map(|m| (s.number, m.said()))).collect();
    let at = |starts: &str| marks.iter().find(|(_, m)| m.starts_with(starts)).map(|(at, _)| *at);
    let (heard, back) = (at("Voice is heard, "), at("Voice and violin are back, "));
    assert!(heard.is_some() && heard < back, "{marks:?}");
    let (heard, down) = (heard.unwrap() as usize, card.steps[heard.unwrap() as usize].words.plain());
    assert!(card.steps[heard - 1].sign.line().plain().starts_with("Hear the voice"), "{marks:?}");
    assert!(down.starts_with("TURN"), "{down}");
}

/// Inputs 3 and 4 of the café's mixer have one LEVEL: who sets it for a violin in 4 moves the keys in 3.
#[test]
fn a_knob_that_moves_another_input_too_is_told() {
    let card = of_the_cafe("MIXER: channel 2");
    let steps: Vec<String> = card.steps.iter().map(|s| s.words.plain()).collect();
    assert!(
        steps.iter().any(|s| s.contains("SET the level of MIXER 4. That moves MIXER 3 too")),
        "{steps:?}"
    );
    let knobs = of_the_cafe("MIXER: supply").steps;
    assert!(knobs.iter().all(|s| !s.words.plain().contains("That moves")), "no mixer is left on that card");
}
