//! The café duo, from its file to all its cards.
#![expect(
    clippy::expect_used,
    reason = "a measurement of work that is not there must not look like a fast one"
)]

use std::path::Path;
use std::process::ExitCode;
use std::sync::OnceLock;

use benches::cafe::{self, Cafe};
use divan::Bencher;

static CAFE: OnceLock<Cafe> = OnceLock::new();

fn main() -> ExitCode {
    benches::compared_first(cafe::compared(Path::new(env!("CARGO_TARGET_TMPDIR"))), &CAFE, divan::main)
}

fn ready() -> &'static Cafe {
    CAFE.get().expect("`main` keeps the work before it measures")
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn bytes_to_page(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| ready().page());
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn file_to_file(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| ready().task());
}
