//! Scene tests.
