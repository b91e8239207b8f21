//! The contracts of the learner model, as sentences.

mod choice;
mod days;
mod fakes;
mod laws;
mod pooled;
mod restore;
mod shown;
mod traces;
mod way;
mod weak_spots;
