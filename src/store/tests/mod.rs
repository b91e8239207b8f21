//! The store with real files.

mod checks;
mod copies;
mod damage;
mod errors;
#[cfg(unix)]
mod files;
mod marks;
mod merged;
mod merging;
mod people;
mod progress;
mod records;
mod two_programs;
