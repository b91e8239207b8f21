//! Practice as lines of text.
