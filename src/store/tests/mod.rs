//! The store with real files.

mod checks;
mod errors;
#[cfg(unix)]
mod files;
mod marks;
mod people;
mod progress;
mod records;
mod two_programs;
