//! Home ground, the leader's own map, theme and paths.
