//! Reads a rig file and prints what it holds, for people who work on the text form.
fn main() -> std::io::Result<()> {
    let path = std::env::args().nth(1).unwrap_or_default();
    let bytes = std::fs::read(path)?;
    let (rig, problems) = model::text::read_bytes(&bytes);
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    for p in &problems {
        writeln!(out, "{p}")?;
    }
    writeln!(out, "---\n{}", model::text::write(&rig))
}
