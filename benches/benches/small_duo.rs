//! The small duo: all 39 single faults as one run, and the hardest by themselves. One core.
#![expect(
    clippy::expect_used,
    reason = "a measurement of work that is not there must not look like a fast one"
)]

use std::process::ExitCode;
use std::sync::OnceLock;

use benches::small::{self, Small};
use divan::Bencher;

static SMALL: OnceLock<Small> = OnceLock::new();

fn main() -> ExitCode {
    benches::compared_first(small::compared(), &SMALL, divan::main)
}

fn ready() -> &'static Small {
    SMALL.get().expect("`main` keeps the work before it measures")
}

#[divan::bench(sample_count = 7, sample_size = 1)]
fn all_single_faults(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| ready().covers());
}

#[divan::bench(args = ["gear:strip", "gear:mixer", "supply:mixer"], sample_count = 7, sample_size = 1)]
fn one(bencher: Bencher<'_, '_>, entry: &str) {
    let fault = ready().fault(entry).expect("it is a fault of this rig");
    bencher.bench_local(|| ready().cover(fault));
}
