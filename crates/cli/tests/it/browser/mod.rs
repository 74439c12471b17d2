//! The cards of both demo rigs in a real browser: they fit every screen, nothing is cut on paper, nothing is fetched, and no
//! script is needed.

mod chromium;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use crate::run::Folder;

/// Screen widths in px: small phone, phone, tablet, laptop.
const WIDTHS: [u32; 4] = [320, 360, 768, 1280];
/// The least height and width of what a finger presses on stage: 12 mm on a phone 360 px wide.
const TARGET: f64 = 68.0;

/// Both decks, made once by the program itself.
fn decks() -> &'static [(String, String)] {
    static DECKS: OnceLock<Vec<(String, String)>> = OnceLock::new();
    DECKS.get_or_init(|| {
        let folder = Folder::new("browser-decks");
        let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
        ["harbour-cafe", "street-pitch"]
            .map(|name| {
                let rig = examples.join(name).join(format!("{name}.rig")).display().to_string();
                // How good the ways are is tested elsewhere: here it only matters that there are cards.
                let ran = folder.run(&["cards", &rig, "-o", "deck.html", "--limit", "500"]);
                assert_eq!(ran.code, 0, "{}", ran.all());
                (name.to_owned(), fs::read_to_string(folder.0.join("deck.html")).unwrap())
            })
            .into()
    })
}

fn write(folder: &Folder, name: &str, page: &str) -> PathBuf {
    folder.file(name, page.as_bytes());
    folder.0.join(name)
}

/// Forbids a page everything that is not inside it, scripts too.
const ALONE: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; \
    font-src data:; img-src data:; script-src 'none'\">";
/// Keeps what a page asked for all the same.
const ASKED: &str = "<script>const got=[];\
    addEventListener('securitypolicyviolation',e=>got.push(e.blockedURI))</script>";

/// Puts a script at a page's end. The pages themselves have none; this one only measures.
fn probed(page: &str, script: &str) -> String {
    let alone = ALONE.replace("script-src 'none'", "script-src 'unsafe-inline'");
    page.replacen("<head>", &format!("<head>{alone}{ASKED}"), 1)
        .replace("</body>", &format!("<script>{script}</script></body>"))
}

/// A page that shows others in frames of given widths and gathers what their scripts report.
fn frames(pages: &[(u32, String)]) -> String {
    let frame = |(i, (w, name)): (usize, &(u32, String))| {
        format!("<iframe name=\"{i}\" src=\"{name}\" style=\"width:{w}px;height:900px;border:0\"></iframe>")
    };
    let all: String = pages.iter().enumerate().map(frame).collect();
    format!(
        "<!DOCTYPE html><body><pre id=\"out\"></pre>{all}<script>let got=[];addEventListener('message',e=>{{\
         got.push(e.data);if(got.length=={})document.getElementById('out').textContent=got.sort().join('\\n')}})\
         </script></body>",
        pages.len()
    )
}

/// How wide the page is, closed and with everything opened; what is too small to press, or a step’s number that its column
/// cannot hold; what was fetched.
const FITS: &str = "addEventListener('load',async()=>{await document.fonts.ready;\
    const wide=()=>Math.max(document.documentElement.scrollWidth,document.body.scrollWidth);\
    const shut=wide();document.querySelectorAll('details').forEach(d=>d.open=true);const open=wide();\
    let small=[];document.querySelectorAll('a,summary').forEach(e=>{const r=e.getBoundingClientRect();\
    if(r.width&&r.height&&(r.width<TARGET||r.height<TARGET))small.push(e.textContent.trim().slice(0,20)+' '+\
    Math.round(r.width)+'x'+Math.round(r.height))});\
    document.querySelectorAll('.n').forEach(e=>{const r=document.createRange();r.selectNodeContents(e);\
    if(r.getClientRects().length>1||e.scrollWidth>e.clientWidth+1&&e.clientWidth)small.push('step '+e.textContent+' wraps')});\
    parent.postMessage([NAME,innerWidth,shut,open,small.slice(0,3).join(','),got.join(',')].join('|'),'*')})";

fn measured(tag: &str, pages: &[(String, String)], widths: &[u32]) -> Vec<Vec<String>> {
    let folder = Folder::new(tag);
    let mut shown = Vec::new();
    for (name, page) in pages {
        let script = FITS.replace("NAME", &format!("'{name}'")).replace("TARGET", &TARGET.to_string());
        write(&folder, &format!("{name}.html"), &probed(page, &script));
        shown.extend(widths.iter().map(|w| (*w, format!("{name}.html"))));
    }
    let said = chromium::report(&write(&folder, "frames.html", &frames(&shown)));
    let rows: Vec<Vec<String>> = said
        .lines()
        .map(|l| l.split('|').map(str::to_owned).collect())
        .filter(|r: &Vec<String>| r.len() == 6)
        .collect();
    assert_eq!(rows.len(), shown.len(), "{said}");
    rows
}

#[test]
fn no_page_scrolls_sideways_nothing_is_too_small_to_press_and_nothing_is_fetched() {
    for row in measured("browser-fits", decks(), &WIDTHS) {
        let number = |i: usize| row[i].parse::<u32>().unwrap();
        assert!(number(2) <= number(1) && number(3) <= number(1), "wider than its screen: {row:?}");
        assert_eq!(row[5], "", "fetched: {row:?}");
        if number(1) <= 768 {
            assert_eq!(row[4], "", "under 12 mm: {row:?}");
        }
    }
}

#[test]
fn the_measuring_sees_what_it_looks_for() {
    let bad = "<!DOCTYPE html><html><head></head><body><a href=\"#\">tiny</a><img src=\"other.png\">\
               <div style=\"width:2000px\">wide</div></body></html>";
    let rows = measured("browser-control", &[("bad".to_owned(), bad.to_owned())], &[360]);
    assert!(rows[0][2].parse::<u32>().unwrap() >= 2000, "{rows:?}");
    assert!(rows[0][4].starts_with("tiny "), "{rows:?}");
    assert_ne!(rows[0][5], "", "{rows:?}");
}

/// Of each side: where its foot is, how far its text and picture reach, how wide it is, and its words.
const SIDES: &str = "addEventListener('load',async()=>{await document.fonts.ready;let out=[];\
    document.querySelectorAll('.vh').forEach(e=>e.remove());\
    for(const s of document.querySelectorAll('.side')){const top=s.getBoundingClientRect().top;let low=0;\
    for(const c of s.children){const b=c.getBoundingClientRect();\
    if(getComputedStyle(c).position!='absolute'&&b.height)low=Math.max(low,b.bottom-top)}\
    const foot=[...s.querySelectorAll('.foot')].pop().getBoundingClientRect().top-top;\
    const over=s.scrollWidth-s.clientWidth;s.querySelectorAll('svg').forEach(e=>e.remove());s.querySelectorAll('li,span').forEach(e=>e.after(' '));\
    out.push([Math.ceil(low),Math.floor(foot),over,s.innerText.replace(/\\s+/g,' ')].join('|'))}\
    document.body.innerHTML='<pre id=out></pre>';document.getElementById('out').textContent=out.join('\\n')})";

struct Side {
    low: i32,
    foot: i32,
    over: i32,
    words: String,
}

/// The sides of a deck as paper lays them out: what is for paper holds on the screen, what is for screens does not.
fn sides(folder: &Folder, page: &str, tall: bool) -> Vec<Side> {
    let paper = page
        .replace("@media screen", "@media speech")
        .replace("@media print and (min-height: 285mm)", if tall { "@media all" } else { "@media speech" })
        .replace("@media print", "@media all")
        .replace("@media (min-width: 900px)", "@media speech");
    let said = chromium::report(&write(folder, "sides.html", &probed(&paper, SIDES)));
    let side = |line: &str| {
        let mut parts = line.splitn(4, '|');
        let mut number = || parts.next().unwrap().parse().unwrap();
        let (low, foot, over) = (number(), number(), number());
        Side { low, foot, over, words: parts.next().unwrap().to_owned() }
    };
    said.lines().map(side).collect()
}

/// Runs of letters and digits, so that joiners and signs do not matter.
fn letters(words: &str) -> Vec<String> {
    words.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_owned).collect()
}

#[test]
fn on_a4_and_letter_no_card_is_cut() {
    for (paper, (wide, high)) in [("A4", (595.0, 842.0)), ("letter", (612.0, 792.0))] {
        for (name, page) in decks() {
            let folder = Folder::new(&format!("browser-{paper}-{name}"));
            let sides = sides(&folder, page, paper == "A4");
            assert!(sides.len() > 20, "{}", sides.len());
            for s in &sides {
                assert!(s.low <= s.foot, "{name}, {paper}: {} px over its foot: {}", s.low - s.foot, s.words);
                assert!(s.over <= 0, "{name}, {paper}: {} px too wide: {}", s.over, s.words);
            }
            let sized = page
                .replacen("<head>", &format!("<head>{ALONE}"), 1)
                .replace("</head>", &format!("<style>@page {{ size: {paper} }}</style></head>"));
            let pdf = chromium::print(&write(&folder, "print.html", &sized));
            let (count, (w, h)) = chromium::pages(&pdf);
            assert!((w - wide).abs() < 1.0 && (h - high).abs() < 1.0, "{paper} is {w} by {h} points");
            // Four sides a sheet, after the list.
            let sheets = sides.len().div_ceil(4);
            let list = count.checked_sub(sheets).unwrap();
            assert!((1..=4).contains(&list), "{name}, {paper}: {count} pages, {sheets} of them cards");
            for (i, s) in sides.iter().enumerate() {
                let left = (w - 595.3) / 2.0 + if i % 2 == 0 { 0.0 } else { 297.6 };
                let top = if i % 4 < 2 { 0.0 } else { h / 2.0 };
                let part = (left.max(0.0), top, 297.6, h / 2.0);
                let mut there = letters(&chromium::words(&pdf, list + 1 + i / 4, part));
                let mut missing = Vec::new();
                for word in letters(&s.words) {
                    match there.iter().position(|t| *t == word) {
                        Some(at) => drop(there.remove(at)),
                        None => missing.push(word),
                    }
                }
                // Cut or not printed: on its own side stands every word that the side has.
                assert!(missing.is_empty(), "{name}, {paper}, side {}: {missing:?} of {}", i + 1, s.words);
            }
        }
    }
}
