//! Properties of every picture, and the two of the sample that must look right.

use cards::Line;
use cards::picture::{
    End, Lead, LeadKind, LeadState, Picture, Piece, Rect, Role, Scene, TagKind, lay_out, svg,
};
use proptest::prelude::*;

fn role() -> impl Strategy<Value = Role> {
    prop_oneof![
        Just(Role::Source),
        Just(Role::Passes),
        Just(Role::HeardByAudience),
        Just(Role::HeardByPerformer),
        Just(Role::Supply)
    ]
}

fn piece() -> impl Strategy<Value = Piece> {
    let name = prop_oneof![
        Just("MIC"),
        Just("LEFT SPEAKER"),
        Just("A VERY LONG TAPED NAME"),
        Just("PIANO"),
        Just("Ž")
    ];
    (name, role(), any::<bool>(), any::<bool>()).prop_map(|(name, role, dead, house)| Piece {
        name: name.into(),
        role,
        dead,
        house,
    })
}

fn lead(pieces: usize) -> impl Strategy<Value = Lead> {
    let end = move || {
        let label = prop_oneof![Just(""), Just("A"), Just("MIC/LINE 12"), Just("1")];
        (0..pieces, label).prop_map(|(piece, label)| End { piece, label: label.into() })
    };
    let state = prop_oneof![
        Just(LeadState::Kept),
        (1..14_u32).prop_map(LeadState::New),
        Just(LeadState::Out),
        Just(LeadState::Dead),
        Just(LeadState::TooShort("1 m short".into()))
    ];
    let kind = prop_oneof![
        Just(LeadKind::Sound),
        Just(LeadKind::Mains),
        Just(LeadKind::Speaker),
        Just(LeadKind::LowVoltage)
    ];
    (end(), end(), state, kind).prop_map(|(from, to, state, kind)| Lead {
        name: Line::default(),
        from,
        to,
        state,
        kind,
    })
}

fn picture() -> impl Strategy<Value = Picture> {
    (1..9_usize).prop_flat_map(|count| {
        let pieces = prop::collection::vec(piece(), count);
        let leads = prop::collection::vec(lead(count), 0..11);
        (pieces, leads, any::<bool>()).prop_map(|(pieces, leads, audience)| Picture {
            pieces,
            leads,
            audience,
        })
    })
}

fn canvas(scene: &Scene) -> Rect {
    Rect { x: 0, y: 0, w: scene.width, h: scene.height }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn no_two_boxes_overlap(picture in picture()) {
        let scene = lay_out(&picture);
        prop_assert_eq!(scene.boxes.len(), picture.pieces.len());
        for (i, a) in scene.boxes.iter().enumerate() {
            for b in scene.boxes.iter().skip(i + 1) {
                prop_assert!(!a.rect.meets(b.rect), "{:?} {:?}", a, b);
            }
        }
    }

    #[test]
    fn everything_is_inside_the_canvas(picture in picture()) {
        let scene = lay_out(&picture);
        for rect in scene.boxes.iter().map(|b| b.rect).chain(scene.tags.iter().map(|t| t.rect)) {
            prop_assert!(canvas(&scene).holds(rect), "{:?} in {}x{}", rect, scene.width, scene.height);
        }
        for (x, y) in scene.wires.iter().flat_map(|w| &w.points) {
            prop_assert!((0..=scene.width).contains(x) && (0..=scene.height).contains(y));
        }
    }

    #[test]
    fn no_lead_crosses_a_box(picture in picture()) {
        let scene = lay_out(&picture);
        for wire in &scene.wires {
            for (a, b) in wire.points.iter().zip(wire.points.iter().skip(1)) {
                prop_assert!(a.0 == b.0 || a.1 == b.1, "neither level nor upright: {:?}", wire);
                for boxed in &scene.boxes {
                    prop_assert!(!boxed.rect.crossed_by(*a, *b), "{:?} {:?}", wire, boxed);
                }
            }
        }
    }

    #[test]
    fn no_sign_lies_on_another_lead_a_box_or_another_sign(picture in picture()) {
        let scene = lay_out(&picture);
        for (i, tag) in scene.tags.iter().enumerate() {
            for boxed in &scene.boxes {
                prop_assert!(!boxed.rect.meets(tag.rect), "{:?} {:?}", tag, boxed);
            }
            for other in scene.tags.iter().skip(i + 1) {
                prop_assert!(!other.rect.meets(tag.rect), "{:?} {:?}", tag, other);
            }
            for wire in &scene.wires {
                let own = wire.lead == tag.lead;
                for (a, b) in wire.points.iter().zip(wire.points.iter().skip(1)) {
                    let on_purpose = own && matches!(tag.kind, TagKind::Disc(_) | TagKind::New | TagKind::Out | TagKind::Dead);
                    prop_assert!(on_purpose || !tag.rect.crossed_by(*a, *b), "{:?} {:?}", tag, wire);
                }
            }
        }
    }

    #[test]
    fn every_lead_is_drawn_and_every_new_one_numbered(picture in picture()) {
        let scene = lay_out(&picture);
        for (at, lead) in picture.leads.iter().enumerate() {
            prop_assert!(scene.wires.iter().any(|w| w.lead == at));
            if let LeadState::New(step) = lead.state {
                let has = |kind: TagKind| scene.tags.iter().any(|t| t.lead == at && t.kind == kind);
                prop_assert!(has(TagKind::Disc(step)) && has(TagKind::New));
            }
        }
    }

    #[test]
    fn two_leads_never_lie_on_each_other(picture in picture()) {
        let scene = lay_out(&picture);
        for (i, one) in scene.wires.iter().enumerate() {
            for other in scene.wires.iter().skip(i + 1).filter(|o| o.lead != one.lead) {
                for (a, b) in one.points.iter().zip(one.points.iter().skip(1)) {
                    for (c, d) in other.points.iter().zip(other.points.iter().skip(1)) {
                        // Nearer than this two thick lines read as one.
                        let upright = a.0 == b.0 && c.0 == d.0 && (a.0 - c.0).abs() < 6;
                        let level = a.1 == b.1 && c.1 == d.1 && a.1 == c.1;
                        let span = |p: i32, q: i32, r: i32, s: i32| p.min(q) < r.max(s) && r.min(s) < p.max(q);
                        prop_assert!(!(upright && span(a.1, b.1, c.1, d.1)), "{:?} {:?}", one, other);
                        prop_assert!(!(level && span(a.0, b.0, c.0, d.0)), "{:?} {:?}", one, other);
                    }
                }
            }
        }
    }
}

#[test]
fn pictures_of_small_cards_keep_their_letters_at_eleven_points() {
    for card in [crate::deck::mixer(), crate::deck::voice_lead()] {
        let scene = lay_out(&card.picture.unwrap());
        assert!(
            scene.width <= 340 && scene.height <= 430,
            "card {}: {} × {} px",
            card.number,
            scene.width,
            scene.height
        );
    }
}

#[test]
fn a_lead_to_a_piece_that_is_not_there_is_left_out() {
    let mut picture = crate::deck::mixer_picture();
    picture.leads[0].to.piece = 99;
    let scene = lay_out(&picture);
    assert!(scene.wires.iter().all(|w| w.lead != 0));
}

#[test]
fn names_are_escaped() {
    let mut picture = crate::deck::mixer_picture();
    picture.pieces[0].name = "<script>&\"'".into();
    let drawn = svg(&picture, "x", "a<b");
    assert!(!drawn.contains("<script>") && !drawn.contains("a<b"));
}

#[test]
fn an_empty_picture_is_a_picture() {
    assert!(svg(&Picture::default(), "x", "Nothing").ends_with("</svg>"));
}
