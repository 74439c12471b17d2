//! A rig read, and compiled into the problem that the search sees.
#![expect(
    clippy::expect_used,
    reason = "a measurement of work that is not there must not look like a fast one"
)]

use std::process::ExitCode;
use std::sync::OnceLock;

use benches::read::{self, File, Rigs};
use divan::Bencher;

static RIGS: OnceLock<Rigs> = OnceLock::new();

fn main() -> ExitCode {
    benches::compared_first(read::compared(), &RIGS, divan::main)
}

fn ready() -> &'static Rigs {
    RIGS.get().expect("`main` keeps the work before it measures")
}

fn file(name: &str) -> &'static File {
    if name == "café" { &ready().cafe } else { &ready().street }
}

#[divan::bench(args = ["café", "street"])]
fn read(bencher: Bencher<'_, '_>, name: &str) {
    let file = file(name);
    bencher.bench_local(|| file.read());
}

#[divan::bench(args = ["café", "street"])]
fn compile(bencher: Bencher<'_, '_>, name: &str) {
    let file = file(name);
    bencher.bench_local(|| file.compile());
}

#[divan::bench]
fn compile_band(bencher: Bencher<'_, '_>) {
    let spec = ready().band_spec().expect("it was read before");
    bencher.with_inputs(|| spec.clone()).bench_local_values(read::problem);
}
