//! Whatever is typed: nothing is dropped, nothing panics, and what is printed reads back.

use model::text::{Document, read_with, write};
use proptest::prelude::*;

use crate::quick::reads_back;

/// Lines that are understood, with a gap wherever a word may be put in.
const GOOD: [&str; 24] = [
    "vocal mic > 6 m XLR > mixer 1",
    "old red vocal -> mixer ch1",
    "violin > pedal > DI > 2",
    "piano L R > mixer 5 6",
    "piano > 2 jacks > 5/6",
    "laptop > mini to 2 jacks > mixer 7 + headphone amp",
    "mixer > speakers",
    "aux > wedge",
    "monitor from aux 1",
    "speaker 1 > speaker 2",
    "strip: mixer, piano, 2 speakers, pedal",
    "pedal 9v battery",
    "spare: mic, 2 XLR 6m, jack 3m, DI, AA x8",
    "must: voice, keys; should: tracks; not in house: click",
    "keys 1.5 m left of voice",
    "speakers 4 m apart",
    "radio mic > mixer 3",
    "mixer 1 mic; mixer 1 piano",
    "6 m XLR > mixer",
    "guitar > 10 m jack > mixer mic in",
    "speaker out of amp > mixer",
    "same as café but 2 speakers",
    "xrl > mixr",
    "keyboard > cabel > board",
];

const CAFE: &str = "gear MIC = vocal mic\ngear MIXER = mixer\ngear SPEAKER = powered speaker\nMIC > XLR 6 m > MIXER 1\nMIXER MAIN L > XLR 3 m > SPEAKER A\nmust: voice";

fn others(name: &str) -> Option<String> {
    (name == "café").then(|| CAFE.to_owned())
}

/// Is this word of line `number` anywhere: in the rig as printed, or in a problem of its line?
fn is_kept(word: &str, number: usize, text: &str) -> bool {
    let reading = read_with(text, &others);
    let word = word.to_lowercase();
    write(&reading.rig).to_lowercase().contains(&word) || reading.problems.iter().any(|p| p.line == number)
}

/// Words of the trade and marks, for soup.
fn soup_word() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(GOOD.iter().flat_map(|l| l.split(' ')).collect::<Vec<_>>())
            .prop_map(str::to_owned),
        prop::sample::select(vec![
            ">",
            "->",
            "→",
            ";",
            ":",
            ",",
            "+",
            "from",
            "of",
            "into",
            "but",
            "like",
            "without",
            "answer",
            "x3",
            "1/4\"",
            "\"",
            "#",
            "(",
            ")",
            "=",
            "0",
            "-1",
            "99999999999",
            "é",
            "m",
            "ft"
        ])
        .prop_map(str::to_owned),
        "[a-z]{1,9}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// A word that nobody knows, put anywhere into a line that is understood.
    #[test]
    fn no_unknown_word_is_dropped(line in prop::sample::select(GOOD.to_vec()), at in any::<prop::sample::Index>(), word in "q[bcdfgkpz]{3,7}x") {
        let words: Vec<&str> = line.split(' ').collect();
        let at = at.index(words.len() + 1);
        let mut with = words.clone();
        with.insert(at, &word);
        let text = format!("vocal mic > mixer 1\npiano > mixer 3\nmixer > 2 speakers\n{}", with.join(" "));
        prop_assert!(is_kept(&word, 4, &text), "{}", with.join(" "));
        let alone = with.join(" ");
        prop_assert!(is_kept(&word, 1, &alone), "{alone}");
    }

    /// A number that nobody asked for is kept too.
    #[test]
    fn no_number_is_dropped(line in prop::sample::select(GOOD.to_vec()), at in any::<prop::sample::Index>(), number in 41_u32..99) {
        let mut words: Vec<String> = line.split(' ').map(str::to_owned).collect();
        let at = at.index(words.len() + 1);
        words.insert(at, number.to_string());
        let line = words.join(" ");
        // Two numbers side by side may make another one.
        prop_assert!(is_kept(&number.to_string(), 1, &line), "{line}");
    }

    #[test]
    fn soup_never_panics_and_reads_back(lines in prop::collection::vec(prop::collection::vec(soup_word(), 1..9), 1..6)) {
        let text: String = lines.iter().map(|l| l.join(" ") + "\n").collect();
        let reading = read_with(&text, &others);
        reads_back(&reading);
        for p in &reading.problems {
            prop_assert!(p.span.start <= p.span.end && p.span.end <= text.len(), "{p}");
            prop_assert!(p.help.is_some() && !p.message.ends_with('.'), "{p}");
        }
        for q in &reading.questions {
            prop_assert!(q.choices.iter().any(|c| c.says == "don't know"));
        }
        let document = Document::new(text.clone());
        prop_assert_eq!(document.text(), text.as_str());
    }

    /// Any of the lines in any order are one rig, printed as it reads.
    #[test]
    fn a_file_of_quick_lines_prints_as_it_reads(lines in prop::collection::vec(prop::sample::select(GOOD.to_vec()), 1..9)) {
        let reading = read_with(&lines.join("\n"), &others);
        reads_back(&reading);
        // Each line is read, or has a problem that names it.
        let known = ["two-plugs", "no-free-socket", "other-end", "nobody-makes", "part-twice", "same-name-twice", "unknown-socket", "more-used-than-owned", "needs-no-power", "own-tail", "power-loop", "no-such-rig", "unknown-gear", "which-two", "too-many-words"];
        for p in &reading.problems {
            prop_assert!(known.contains(&p.code), "{p}\n{}", lines.join("\n"));
        }
    }
}
