//! Runs the browser without a window: measures pages in it, and prints them.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Runs a program that `./test` installs.
fn run(program: &str, args: &[String]) -> Output {
    let ran = Command::new(program).args(args).output();
    let ran = ran.unwrap_or_else(|why| {
        panic!(
            "{program} does not run here ({why}). `./test` installs what this test needs; \
             on Debian: apt-get install chromium poppler-utils"
        )
    });
    assert!(ran.status.success(), "{program}: {}", String::from_utf8_lossy(&ran.stderr));
    ran
}

fn chromium(more: &[&str], page: &Path) -> Output {
    let mut args: Vec<String> =
        ["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars"]
            .map(str::to_owned)
            .into();
    let profile = page.with_extension("profile");
    args.push(format!("--user-data-dir={}", profile.display()));
    args.extend(more.iter().map(|s| (*s).to_owned()));
    args.push(format!("file://{}", page.display()));
    run("chromium", &args)
}

/// What a page's own script wrote into `<pre id="out">`, once it is at rest.
pub(crate) fn report(page: &Path) -> String {
    let ran = chromium(&["--window-size=1400,1000", "--virtual-time-budget=20000", "--dump-dom"], page);
    let dom = String::from_utf8_lossy(&ran.stdout).into_owned();
    let (_, after) =
        dom.split_once("<pre id=\"out\">").unwrap_or_else(|| panic!("nothing was measured: {dom:.500}"));
    let said = after.split_once("</pre>").map_or(after, |(said, _)| said);
    said.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
}

/// Prints a page.
pub(crate) fn print(page: &Path) -> PathBuf {
    let to = page.with_extension("pdf");
    let to_arg = format!("--print-to-pdf={}", to.display());
    chromium(&["--no-pdf-header-footer", &to_arg], page);
    to
}

/// How many pages, and the size of the first in points.
pub(crate) fn pages(pdf: &Path) -> (usize, (f64, f64)) {
    let ran = run("pdfinfo", &[pdf.display().to_string()]);
    let said = String::from_utf8_lossy(&ran.stdout).into_owned();
    let after = |label: &str| said.lines().find_map(|l| l.strip_prefix(label)).unwrap_or_default().trim();
    let size: Vec<f64> = after("Page size:").split_whitespace().filter_map(|w| w.parse().ok()).collect();
    (after("Pages:").parse().unwrap_or(0), (size[0], size[1]))
}

/// The words in a part of a page: left, top, width and height in points.
pub(crate) fn words(pdf: &Path, page: usize, part: (f64, f64, f64, f64)) -> String {
    let (x, y, w, h) = part;
    let at = |flag: &str, n: f64| [flag.to_owned(), format!("{n:.0}")];
    let mut args = vec!["-f".to_owned(), page.to_string(), "-l".to_owned(), page.to_string()];
    args.extend([at("-x", x), at("-y", y), at("-W", w), at("-H", h)].concat());
    args.extend([pdf.display().to_string(), "-".to_owned()]);
    String::from_utf8_lossy(&run("pdftotext", &args).stdout).into_owned()
}
