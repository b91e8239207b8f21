//! Block tests.
