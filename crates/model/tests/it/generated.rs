//! Rig texts made at random from the words of the grammar: most lines right, names meant to meet.

use proptest::prelude::*;

fn pick(words: &'static [&'static str]) -> impl Strategy<Value = String> {
    prop::sample::select(words).prop_map(str::to_owned)
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        (0_u32..200).prop_map(|n| n.to_string()),
        (0_u32..2000).prop_map(|n| format!("{}.{}", n / 10, n % 10))
    ]
}

fn note() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => Just(String::new()),
        1 => pick(&[" (measured)", " (typical)", " (yours)", " (don't know)", " (guessed)", " (guessed: it looked so)"]),
        1 => (0_u32..50, 50_u32..99).prop_map(|(a, z)| format!(" ({a}..{z}, measured)")),
    ]
}

fn figure(unit: &'static str) -> impl Strategy<Value = String> {
    (number(), note()).prop_map(move |(n, note)| format!("{n} {unit}{note}"))
}

pub(crate) const PIECES: [&str; 6] = ["MIXER", "PIANO", "BOX", "SPEAKER TWO", "MIC", "STRIP"];

fn piece() -> impl Strategy<Value = String> {
    prop::sample::select(&PIECES[..]).prop_map(str::to_owned)
}

fn kind() -> impl Strategy<Value = String> {
    let names: Vec<String> = model::shelf::kinds().iter().map(|k| k.name.clone()).collect();
    prop::sample::select(names)
}

fn socket_name() -> impl Strategy<Value = String> {
    pick(&["1", "2", "IN", "OUT", "L/MONO", "R", "A", "THRU", "MAINS", "EXTRA"])
}

fn guard() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => Just(String::new()),
        1 => (socket_name(), pick(&["empty", "filled"])).prop_map(|(s, w)| format!(", while {s} {w}")),
    ]
}

fn connector() -> impl Strategy<Value = String> {
    pick(&[
        "XLR",
        "jack",
        "XLR or jack",
        "mini",
        "wall plug",
        "C14",
        "barrel 2.1 plug",
        "USB-C",
        "own odd socket",
        "twist",
    ])
}

fn socket() -> impl Strategy<Value = String> {
    let out = (pick(&["mic", "line", "inst", "phones", "speaker"]), 0_u32..60, 0_u32..30, note()).prop_map(
        |(class, nominal, more, note)| {
            let nominal = -f64::from(nominal);
            format!("out, {class} {nominal}{note}/{} dBu, phantom harmed", nominal + f64::from(more))
        },
    );
    let into = (pick(&["mic", "line + phones", "inst"]), 0_u32..60, figure("ohm"), guard()).prop_map(
        |(class, least, load, guard)| {
            format!("in, takes {class} -{least}..20 dBu into {load}, set level{guard}")
        },
    );
    let supply = pick(&[
        "in, takes mains",
        "in, takes 9 V c-, draws 20 mA",
        "out, 12 V c+, gives 2000 mA",
        "out, mains",
    ]);
    (
        socket_name(),
        connector(),
        prop_oneof![out, into, supply],
        prop::option::of(figure("m")),
        pick(&["ts", "bal", "stereo"]),
    )
        .prop_map(|(name, connector, side, rise, wires)| {
            let rise = rise.map_or(String::new(), |r| format!(", rise {r}"));
            format!("socket {name}: {connector}, {wires}, {side}{rise}")
        })
}

fn detail() -> impl Strategy<Value = String> {
    let spot = || {
        (-30_i32..30, -30_i32..30)
            .prop_map(|(x, y)| format!("at {} {}", f64::from(x) / 10.0, f64::from(y) / 10.0))
    };
    let stand =
        (pick(&["floor", "table", "body", "microphone stand", "speaker stand"]), pick(&["", " (measured)"]));
    let amount = prop_oneof![
        figure("W").prop_map(|f| format!("draws {f}")),
        figure("W").prop_map(|f| format!("feeds {f}")),
        figure("s").prop_map(|f| format!("starts in {f}")),
        figure("kg").prop_map(|f| format!("weighs {f}")),
        Just("draws don't know".to_owned()),
    ];
    let route = (
        pick(&["through", "LEVEL 1", "box", "more"]),
        socket_name(),
        socket_name(),
        pick(&[
            "",
            ", copy",
            ", gain -10..20 dB",
            ", gain -3 dB (measured)",
            ", turns 10 to 1",
            ", switch off",
            ", takes left",
            ", passive (don't know), ask \"Does it, with power off?\"",
            ", points 3",
        ]),
        guard(),
    )
        .prop_map(|(name, from, to, more, guard)| format!("route {name}: {from} > {to}{more}{guard}"));
    let makes = (pick(&["voice", "keys", "tracks"]), prop::option::of(socket_name()), guard()).prop_map(
        |(source, at, guard)| {
            at.map_or(format!("makes {source}"), |at| format!("makes {source} at {at}, side left{guard}"))
        },
    );
    let placement = (
        pick(&["out front", "at the side", "worn"]),
        figure("s"),
        figure("dB"),
        pick(&["audience", "performers", "YRSA"]),
        pick(&["", ", from the bag 60 s (40..90)", ", from the bag 45 s (measured)"]),
        pick(&["voice + keys", "nothing"]),
    )
        .prop_map(|(name, seconds, level, who, bag, makes)| {
            format!("placement {name}: {seconds}{bag}, hears {who} {level}, picks up {makes}, points 2")
        });
    let items = prop_oneof![
        figure("s").prop_map(|f| format!(
            "look \"Lamp, or knob?\": {f}, right in 3 s, state \"off\", loses everything, 40 %"
        )),
        (pick(&["supply", "dead", "own"]), figure("%")).prop_map(|(n, f)| format!(
            "mode {n}: {f}, loses supply + making, shows \"dark, all of it\", test \"lamp\" 1 s"
        )),
        figure("s").prop_map(|f| format!(
            "mend swap the cells: {f}, uses AA cell x2, helps 50 %, caution \"cold, dry hands\""
        )),
        figure("h").prop_map(|f| format!("battery {f}, not present")),
        figure("h").prop_map(|f| format!("uses AA cell x2, lasts {f}, 30 s")),
        pick(&[
            "bank 48V: phantom, on",
            "bank MUTE: mutes through, off",
            "caution mains \"dry hands\"",
            "caution lift \"two\"",
            "no battery"
        ]),
    ];
    let plain = pick(&[
        "in the bag",
        "loud",
        "not loud",
        "starts by itself",
        "starts by hand",
        "live",
        "off",
        "points 4",
        "owner borrowed from ALMA",
        "owner house, ask FERRIS, may not change",
        "photo \"back of it.jpg\"",
        "size 10 x 20 x 30 cm",
        "sounds nothing",
        "makes nothing",
        "without cautions",
        "without mode supply",
        "without mode dead",
        "without socket IN",
        "without socket OUT",
        "without socket L/MONO",
        "without route through",
        "without placement out front",
        "placed out front",
        "placed worn",
        "sounds IN",
        "sounds A + EXTRA",
        "for YRSA",
        "switch AUX 1 on",
        "switch AUX 3/4 on",
        "switch AUX 5 on",
        "route LEVEL 4: 4 > MAIN R, knob LEVEL 3/4, switch on",
        "switch 48V on",
    ]);
    prop_oneof![
        2 => spot(),
        1 => stand.prop_map(|(s, n)| format!("on {s}{n}")),
        2 => amount,
        3 => socket(),
        2 => route,
        2 => makes,
        2 => placement,
        3 => items,
        5 => plain,
    ]
}

fn lead() -> impl Strategy<Value = String> {
    let names: Vec<String> = model::shelf::lead_kinds().iter().map(|k| k.name.clone()).collect();
    (
        prop::sample::select(names),
        1_u32..12,
        0_u32..9,
        0_u32..3,
        pick(&["", " (guessed)", " (measured)"]),
        any::<bool>(),
    )
        .prop_map(|(kind, metres, own, bag, note, named)| {
            let name = if named { format!("LEAD {metres} = ") } else { String::new() };
            format!("lead {name}{kind} {metres} m: own {own}{note}, {bag} in the bag")
        })
}

fn line() -> impl Strategy<Value = String> {
    let link = (
        piece(),
        prop::option::of(socket_name()),
        pick(&["XLR 3 m", "jack", "mains", "6 m XLR", "LEAD 4", "mini > jack coupler"]),
        piece(),
        prop::option::of(socket_name()),
    )
        .prop_map(|(a, s, lead, b, t)| {
            format!("{a} {} > {lead} > {b} {}", s.unwrap_or_default(), t.unwrap_or_default())
        });
    let parts = (
        pick(&["must 3", "should", "nice 2", "never"]),
        pick(&["voice", "keys, keys right", "tracks"]),
        pick(&["", " for audience", " for YRSA", " for audience + YRSA only in \"song 3\""]),
    )
        .prop_map(|(rank, what, who)| format!("{rank}: {what}{who}"));
    prop_oneof![
        4 => link,
        2 => parts,
        2 => lead(),
        1 => piece().prop_map(|p| format!("about {p}")),
        2 => pick(&[
            "home 1 -0.5", "listener YRSA: at 0 0, needs 85 dB (measured)", "source voice: unplugged to 4 m, played by YRSA", "rig \"A rig: of ours\"",
            "hand CORIN: at 1 2, no mains, keeps playing", "room \"café\": volume 200 m3, noise 60 dB, ask FERRIS", "breaker BAR: 16 A, feeds STRIP",
            "break 15 min", "song length 4 min", "songs: a, b c", "quiet: \"speech, first\"", "show \"wedding\": date 2026-05-12", "next break in 20 min (guessed)",
            "tried \"MIXER supply\": 2026-05-12, 38 s, dry, failed, by YRSA, note \"dark, cold\"", "note pick up the strings", "bag: AA cell x4, MIC, XLR 3 m x2",
            "stage: 9 V block, jack 3 m", "time plug 4 s (measured)", "time walk 1.2 m/s", "lead kind ODD: jack plug to XLR-M, ts, carries line + 12 V c+, lengths 2 m + 4 m",
            "lead ODD 4 m: own 1", "", "  # a comment",
        ]),
    ]
}

/// A whole rig text.
pub(crate) fn text() -> impl Strategy<Value = String> {
    let gear = prop::collection::vec((kind(), prop::collection::vec(detail(), 0..7)), PIECES.len());
    (gear, prop::collection::vec(line(), 0..25)).prop_map(|(gear, lines)| {
        let mut text = String::new();
        for (name, (kind, details)) in PIECES.iter().zip(gear) {
            text.push_str(&format!("gear {name} = {kind}\n"));
            for d in details {
                text.push_str(&format!("  {d}\n"));
            }
        }
        for l in lines {
            text.push_str(&l);
            text.push('\n');
        }
        text
    })
}
