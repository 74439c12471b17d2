//! A sample deck, made by hand to try every field of a card: the café duo at the ferry deck. No answers are computed.

use cards::picture::{End, Lead, LeadKind, LeadState, Picture, Piece, Role};
use cards::{
    Card, CarryOn, CarryOnKind, Deck, Foot, HaventGot, Line, Look, Mark, Mouth, MouthWord, Next, Proof, Rank,
    Run, Seconds, Sign, SilentRow, Step, Who, printed, tape, text, verb,
};

/// The whole sample.
pub(crate) fn deck() -> Deck {
    Deck {
        rig: "Harbour café duo".into(),
        lang: "en".into(),
        foot: foot(),
        hazards: vec![],
        tingle: Deck::tingle(&["STRIP A"]),
        silent: vec![
            row(
                "everything",
                "is dark",
                MouthWord::Talk,
                vec![[tape("STRIP A"), text("lamp lit?")].into()],
                &[4],
            ),
            row(
                "everything",
                "but lamps are lit",
                MouthWord::Talk,
                vec![[printed("MUTE"), text("lit on"), tape("MIXER"), text("?")].into()],
                &[1, 5],
            ),
            row("voice", "", MouthWord::KeepPlaying, vec![Line::text("Mic switched on?")], &[6, 1]),
            row("keys", "", MouthWord::KeepSinging, vec![[tape("PIANO"), text("lamp lit?")].into()], &[2]),
            row("one side", "", MouthWord::KeepPlaying, vec![Line::text("That speaker: lamp lit?")], &[3]),
        ],
        cards: vec![mixer(), piano(), left_speaker(), strip(), frozen(), voice_lead(), tingles()],
        last_resort: Line::text("Play unplugged. Come close to them."),
    }
}

fn foot() -> Foot {
    Foot { mark: "KELP".into(), date: "14 June".into(), room: "Ferry deck".into() }
}

fn row(name: &str, note: &str, mouth: MouthWord, looks: Vec<Line>, cards: &[u32]) -> SilentRow {
    SilentRow { name: name.into(), note: Line::text(note), mouth, looks, cards: cards.to_vec() }
}

fn look(runs: Vec<Run>, seconds: u32) -> Look {
    Look { words: runs.into(), seconds }
}

fn step(number: u32, runs: Vec<Run>, sign: Sign, seconds: u32) -> Step {
    Step {
        number,
        words: runs.into(),
        sign,
        seconds,
        who: None,
        caution: None,
        new_lead: false,
        marks: vec![],
    }
}

fn back(part: &str, hands: u32) -> Vec<Mark> {
    vec![Mark::Back { parts: vec![part.into()], seconds: Seconds::untried(hands) }]
}

/// A card with nothing on it but a number, a title and a mouth line.
pub(crate) fn bare(number: u32, title: Vec<Run>, word: MouthWord, heard: &str) -> Card {
    Card {
        number,
        next_of: None,
        title: title.into(),
        rank: Rank::WedCope,
        mouth: Mouth { word, heard: Line::text(heard) },
        looks: vec![],
        carry_on: vec![],
        before: vec![],
        steps: vec![],
        picture: None,
        different: vec![],
        also_different: vec![],
        in_break: vec![],
        put_back: vec![],
        still_nothing: Next::Words(Line::text("Nothing more to try here. Play unplugged.")),
        havent_got: vec![],
        guessed: vec![],
        proof: None,
        would_do: vec![],
        who: Who::Anyone,
        foot: foot(),
    }
}

fn lamp(socket: &str) -> Sign {
    Sign::See([text("lamp"), printed(socket), text("lit")].into())
}

/// Eight steps and a picture.
pub(crate) fn mixer() -> Card {
    let left = || tape("LEFT SPEAKER");
    let right = || tape("RIGHT SPEAKER");
    let mut steps = vec![
        step(
            1,
            vec![verb("turn"), text("both speakers down to 0")],
            Sign::See(Line::text("both knobs at 0")),
            4,
        ),
        step(
            2,
            vec![
                verb("move"),
                tape("VOICE"),
                text("lead:"),
                tape("MIXER"),
                printed("1"),
                text("into"),
                left(),
                printed("B"),
                text(", on"),
                printed("mic"),
            ],
            lamp("B"),
            8,
        ),
        step(3, vec![verb("bring up"), left(), text("slowly")], Sign::Hear(Line::text("your own voice")), 5),
        step(
            4,
            vec![
                verb("move"),
                tape("KEYS L"),
                text("lead:"),
                tape("MIXER"),
                printed("5"),
                text("into"),
                right(),
                printed("B"),
                text(", on"),
                printed("line"),
            ],
            lamp("B"),
            8,
        ),
        step(
            5,
            vec![verb("pull"), tape("KEYS R"), text("out of"), tape("PIANO"), printed("R")],
            Sign::See([printed("R"), text("empty")].into()),
            4,
        ),
        step(
            6,
            vec![verb("bring up"), right(), text("slowly")],
            Sign::Hear(Line::text("both hands of the piano")),
            5,
        ),
        step(
            7,
            vec![verb("pull"), tape("MAIN L"), text("out of"), left(), printed("A")],
            Sign::See([printed("A"), text("empty")].into()),
            4,
        ),
        step(
            8,
            vec![
                verb("move"),
                tape("VIOLIN"),
                text("lead:"),
                tape("MIXER"),
                printed("2"),
                text("into"),
                left(),
                printed("A"),
            ],
            Sign::Hear(Line::text("the violin")),
            8,
        ),
    ];
    for (at, part, hands) in [(2, "voice", 17), (5, "keys", 34), (7, "violin", 46)] {
        steps[at].marks = back(part, hands);
    }
    for at in [1, 3, 7] {
        steps[at].new_lead = true;
    }
    Card {
        rank: Rank::StopsTheShow,
        looks: vec![
            look(vec![printed("MUTE"), text("lit?")], 2),
            look(vec![text("lamp dark?")], 1),
            look(vec![printed("A3"), text("half out?")], 3),
        ],
        steps,
        picture: Some(mixer_picture()),
        different: vec![Line::text("No monitor, no reverb."), Line::text("Keys from the right only.")],
        also_different: vec![[text("Quieter near"), right(), text(", by 3 dB.")].into()],
        in_break: vec![Line::text("Borrow a small mixer in the break. Ask Ferris.")],
        put_back: vec![Line::text("Steps 8 to 1, speakers at 0 first.")],
        still_nothing: Next::Card(5),
        havent_got: vec![HaventGot {
            thing: [text("the"), tape("VOICE"), text("lead")].into(),
            then: Next::Card(6),
        }],
        guessed: vec![[left(), printed("B"), text("still works with"), printed("A"), text("in use.")].into()],
        proof: Some(Proof::NoQuicker),
        ..bare(1, vec![tape("MIXER"), text("is dead")], MouthWord::Talk, "Corin plays on, heard unplugged.")
    }
}

fn piece(name: &str, role: Role) -> Piece {
    Piece { name: name.into(), role, dead: false, house: false }
}

fn lead(from: (usize, &str), to: (usize, &str), state: LeadState) -> Lead {
    let end = |(piece, label): (usize, &str)| End { piece, label: label.into() };
    Lead { name: Line::default(), from: end(from), to: end(to), state, kind: LeadKind::Sound }
}

/// Sources on top, the dead mixer, two speakers.
pub(crate) fn mixer_picture() -> Picture {
    use LeadState::{New, Out};
    Picture {
        pieces: vec![
            piece("VOICE", Role::Source),
            piece("VIOLIN", Role::Source),
            piece("PIANO", Role::Source),
            Piece { dead: true, ..piece("MIXER", Role::Passes) },
            piece("LEFT SPEAKER", Role::HeardByAudience),
            piece("RIGHT SPEAKER", Role::HeardByAudience),
        ],
        leads: vec![
            lead((0, ""), (3, "1"), Out),
            lead((1, ""), (3, "2"), Out),
            lead((2, "L"), (3, "5"), Out),
            lead((2, "R"), (3, "6"), Out),
            lead((3, "MAIN L"), (4, "A"), Out),
            lead((0, ""), (4, "B"), New(2)),
            lead((2, "L"), (5, "B"), New(4)),
            lead((1, ""), (4, "A"), New(8)),
        ],
        audience: true,
    }
}

/// No way round.
pub(crate) fn piano() -> Card {
    Card {
        rank: Rank::StopsTheShow,
        looks: vec![
            look(vec![text("power switch?")], 2),
            look(vec![printed("A4"), text("half out?")], 3),
            look(vec![text("headphone plug left in?")], 3),
        ],
        carry_on: vec![CarryOn {
            kind: CarryOnKind::FinishTheSong,
            words: Line::text("Voice and violin carry it."),
            first: true,
        }],
        steps: vec![Step {
            marks: vec![Mark::NotTonight { parts: vec!["keys".into()] }],
            ..step(
                1,
                vec![verb("cue"), tape("LAPTOP"), text("“with piano” for songs 2 and 6")],
                Sign::Hear(Line::text("the count")),
                20,
            )
        }],
        in_break: vec![
            Line::text("Ask Ferris for a 12 V supply in the break."),
            Line::text("It must say 12 V, 1.5 A or more."),
        ],
        would_do: vec![Line::text("A second 12 V supply would be one.")],
        proof: Some(Proof::NoWay),
        ..bare(2, vec![tape("PIANO"), text("is dark")], MouthWord::KeepSinging, "Only the keys are gone.")
    }
}

fn left_speaker() -> Card {
    let mixer = || tape("MIXER");
    Card {
        looks: vec![look(vec![text("lamp dark?")], 1), look(vec![printed("A1"), text("half out?")], 3)],
        steps: vec![
            step(
                1,
                vec![verb("turn"), tape("RIGHT SPEAKER"), text("to face the middle")],
                Sign::See(Line::text("it point at the middle table")),
                6,
            ),
            step(
                2,
                vec![verb("turn"), printed("PAN"), text("of 5 and 6 on"), mixer(), text("to the middle")],
                Sign::See(Line::text("both marks upright")),
                4,
            ),
            Step {
                caution: Some(Line::text("Up slowly, or it howls.")),
                marks: vec![Mark::AllBack { seconds: Seconds::untried(12) }],
                ..step(
                    3,
                    vec![verb("raise"), printed("MAIN"), text("slowly, up to 3 o’clock")],
                    Sign::Hear(Line::text("both hands of the piano")),
                    5,
                )
            },
        ],
        different: vec![Line::text("Half as loud at the left tables.")],
        in_break: vec![
            [text("Put"), tape("MONITOR"), text("there in the break. Lift it with two hands: 8 kg.")].into(),
        ],
        put_back: vec![Line::text("Steps 3 to 1.")],
        proof: Some(Proof::BestFound),
        still_nothing: Next::Card(1),
        ..bare(
            3,
            vec![tape("LEFT SPEAKER"), text("is silent")],
            MouthWord::KeepPlaying,
            "The right side is heard.",
        )
    }
}

/// Ten steps, so two sides of steps; mains, so only one person.
pub(crate) fn strip() -> Card {
    let b = || tape("STRIP B");
    let a = || tape("STRIP A");
    let names = ["MIXER", "LEFT SPEAKER", "RIGHT SPEAKER", "PIANO"];
    let mut steps = vec![Step {
        caution: Some(Line::text("Mains. Dry hands, dry strip.")),
        ..step(
            1,
            vec![verb("turn"), text("both speakers down to 0")],
            Sign::See(Line::text("both knobs at 0")),
            4,
        )
    }];
    let mut number = 1;
    for name in names {
        number += 1;
        steps.push(step(
            number,
            vec![verb("pull"), tape(name), text("plug out of"), a()],
            Sign::See(Line::text("it free")),
            4,
        ));
        number += 1;
        steps.push(Step {
            new_lead: true,
            ..step(
                number,
                vec![verb("push"), tape(name), text("plug into"), b()],
                Sign::See(Line::text("its lamp lit")),
                4,
            )
        });
    }
    steps.push(Step {
        marks: vec![Mark::AllBack { seconds: Seconds::untried(45) }],
        ..step(
            10,
            vec![verb("bring up"), text("both speakers slowly")],
            Sign::Hear(Line::text("both sides")),
            6,
        )
    });
    let mut pieces =
        vec![Piece { dead: true, ..piece("STRIP A", Role::Supply) }, piece("STRIP B", Role::Supply)];
    pieces.extend([piece("PIANO", Role::Source), piece("MIXER", Role::Passes)]);
    pieces.extend([
        piece("LEFT SPEAKER", Role::HeardByAudience),
        piece("RIGHT SPEAKER", Role::HeardByAudience),
    ]);
    let mains = |from, to, state| Lead { kind: LeadKind::Mains, ..lead(from, to, state) };
    let leads = vec![
        mains((0, "1"), (3, ""), LeadState::Out),
        mains((1, "1"), (3, ""), LeadState::New(3)),
        mains((1, "2"), (4, ""), LeadState::New(5)),
        mains((1, "3"), (5, ""), LeadState::New(7)),
        mains((1, "4"), (2, ""), LeadState::New(9)),
    ];
    Card {
        rank: Rank::StopsTheShow,
        looks: vec![look(vec![a(), text("lamp lit?")], 2), look(vec![text("wall plug half out?")], 3)],
        steps,
        picture: Some(Picture { pieces, leads, audience: true }),
        put_back: vec![Line::text("Leave it until the show is over.")],
        who: Who::Only(vec!["Yrsa".into()]),
        proof: Some(Proof::NoQuicker),
        still_nothing: Next::Words(Line::text("Play unplugged. Ask Ferris about the breaker.")),
        ..bare(4, vec![a(), text("is dark")], MouthWord::Talk, "Corin plays on, heard unplugged.")
    }
}

fn frozen() -> Card {
    Card {
        carry_on: vec![
            CarryOn {
                kind: CarryOnKind::LeaveIt,
                words: Line::text("It still passes sound. Touch nothing."),
                first: true,
            },
            CarryOn {
                kind: CarryOnKind::FinishTheSong,
                words: Line::text("Then switch it off and on."),
                first: false,
            },
        ],
        still_nothing: Next::Card(1),
        ..bare(
            5,
            vec![tape("MIXER"), text("is frozen")],
            MouthWord::KeepSinging,
            "Everything is still heard.",
        )
    }
}

/// A lead that is what died, with a house piece, supplies and a lead too short.
pub(crate) fn voice_lead() -> Card {
    let pieces = vec![
        piece("VOICE", Role::Source),
        Piece { house: true, ..piece("HOUSE DESK", Role::Passes) },
        piece("PEDAL", Role::Passes),
        piece("9 V SUPPLY", Role::Supply),
        piece("MONITOR", Role::HeardByPerformer),
        piece("LEFT SPEAKER", Role::HeardByAudience),
    ];
    let kind = |kind, l: Lead| Lead { kind, ..l };
    let leads = vec![
        lead((0, ""), (1, "1"), LeadState::Dead),
        lead((0, ""), (2, "IN"), LeadState::New(2)),
        lead((2, "OUT"), (1, "2"), LeadState::TooShort("1 m short".into())),
        lead((1, "AUX 1"), (4, ""), LeadState::Kept),
        kind(LeadKind::Speaker, lead((1, "MAIN"), (5, ""), LeadState::Kept)),
        kind(LeadKind::LowVoltage, lead((3, ""), (2, "9 V"), LeadState::Kept)),
    ];
    let mut steps = vec![
        step(
            1,
            vec![verb("pull"), tape("VOICE"), text("lead out of the mic")],
            Sign::See(Line::text("it free")),
            4,
        ),
        step(
            2,
            vec![verb("push"), text("the 6 m XLR lead into the mic")],
            Sign::Feel(Line::text("it click")),
            4,
        ),
    ];
    steps[0].who = Some("Corin".into());
    steps[1].who = Some("Yrsa".into());
    steps[1].new_lead = true;
    steps[1].marks = back("voice", 20);
    Card {
        rank: Rank::Slow,
        steps,
        picture: Some(Picture { pieces, leads, audience: true }),
        proof: Some(Proof::NoQuicker),
        still_nothing: Next::Card(1),
        ..bare(
            6,
            vec![tape("VOICE"), text("lead is dead")],
            MouthWord::KeepPlaying,
            "Piano and violin are heard.",
        )
    }
}

fn tingles() -> Card {
    Card {
        rank: Rank::StopsTheShow,
        carry_on: vec![CarryOn {
            kind: CarryOnKind::Stop,
            words: Line::text(
                "Hands off. Cut the power at the wall. Nobody plays until an electrician has looked.",
            ),
            first: true,
        }],
        still_nothing: Next::Words(Line::text("Nothing is tried until an electrician has looked.")),
        ..bare(7, vec![text("A mic tingles")], MouthWord::Stop, "Talk to them without a mic.")
    }
}
