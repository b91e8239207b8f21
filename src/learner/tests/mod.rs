//! The contracts of the learner model, as sentences.

mod choice;
mod days;
mod fakes;
mod laws;
mod restore;
mod traces;
mod weak_spots;
