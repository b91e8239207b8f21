//! Tests of drills: what is read, what is found, and every message, as a leader sees it.

mod fakes;
mod finding;
mod messages;
mod reading;
mod standards;
