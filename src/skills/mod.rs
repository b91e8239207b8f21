//! The skills: one file each, one registry.
