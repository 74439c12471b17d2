//! See docs/architecture.md.
