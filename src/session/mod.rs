//! The flow of a practice, shared by all front ends.
