//! What was measured, set against the key.
