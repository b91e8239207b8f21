//! The full-screen program.
