//! Names as they are compared.

/// Lower case, single spaces.
pub(super) fn fold(name: &str) -> String {
    name.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}
