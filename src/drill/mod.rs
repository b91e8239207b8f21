//! Drills: named selections of skills, in TOML.
