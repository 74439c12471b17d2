//! The `secondstring` program.
fn main() {}
