//! needlewise: drill bearing and declination skills with a paper map and a baseplate compass.
//!
//! The modules stand in the order of the house plan: a module may use what stands above it, as `tests/house_plan.rs`
//! says in detail. Signs, words and the reasons behind the plan are in DEVELOPERS.md.
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod angle;
pub mod clerk;
pub mod cli;
pub mod config;
pub mod course;
pub mod drill;
pub mod evening;
pub mod game;
pub mod geomag;
pub mod ground;
pub mod learner;
pub mod lesson;
pub mod maptable;
pub mod numbers;
pub mod paper;
pub mod plain;
pub mod platform;
pub mod problem;
pub mod report;
pub mod scene;
pub mod session;
pub mod skills;
pub mod store;
pub mod terrain;
pub mod textfile;
pub mod tui;
pub mod words;
pub mod worksheet;
pub mod world;
