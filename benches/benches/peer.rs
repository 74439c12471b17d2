//! The search and the second way, side by side on the written problems.
#![expect(
    clippy::expect_used,
    reason = "a measurement of work that is not there must not look like a fast one"
)]

use std::process::ExitCode;
use std::sync::OnceLock;

use benches::peer::{self, Peers, Set};
use divan::Bencher;

static PEERS: OnceLock<Peers> = OnceLock::new();

fn main() -> ExitCode {
    benches::compared_first(peer::compared(), &PEERS, divan::main)
}

fn set(name: &str) -> &'static Set {
    let peers = PEERS.get().expect("`main` keeps the work before it measures");
    peers.sets.iter().find(|s| s.name == name).expect("it is one of the sets")
}

#[divan::bench(args = ["tiny", "rule", "duo"], sample_count = 3, sample_size = 1)]
fn search(bencher: Bencher<'_, '_>, name: &str) {
    let set = set(name);
    bencher.bench_local(|| set.search());
}

#[divan::bench(args = ["tiny", "rule", "duo"], sample_count = 3, sample_size = 1)]
fn second_way(bencher: Bencher<'_, '_>, name: &str) {
    let set = set(name);
    bencher.bench_local(|| set.second());
}
