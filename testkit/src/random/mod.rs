//! Random problems.
/// The problem of a seed.
pub fn problem(seed: u64) -> serde_json::Value {
    serde_json::json!({"seed": seed})
}
