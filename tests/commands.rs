//! The commands as they are typed, in one program: each program of tests is linked for itself, which costs more than most of them take.

#[path = "commands/check.rs"]
mod check;
mod cli;
#[path = "commands/course.rs"]
mod course;
#[path = "commands/game.rs"]
mod game;
#[path = "commands/home.rs"]
mod home;
#[path = "commands/hostile.rs"]
mod hostile;
#[path = "commands/north.rs"]
mod north;
#[path = "commands/patrol.rs"]
mod patrol;
#[path = "commands/problem.rs"]
mod problem;
mod sandbox;
#[path = "commands/score.rs"]
mod score;
#[path = "commands/store.rs"]
mod store;
#[path = "commands/words.rs"]
mod words;
