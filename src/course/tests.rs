//! Courses read, worked out and refused.
