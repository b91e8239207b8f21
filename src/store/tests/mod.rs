//! The store with real files.

mod checks;
mod errors;
mod files;
mod people;
mod records;
mod two_programs;
