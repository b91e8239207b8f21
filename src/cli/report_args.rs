//! What can be typed behind `report`.

use super::paper_args::PaperName;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// How a report is printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum ReportFormat {
    /// For people.
    #[default]
    Text,
    /// One object per line.
    Json,
    /// For a spreadsheet.
    Csv,
    /// Pages for a co-leader: the table, what to teach and why, each member.
    Pdf,
    /// The same as one page for a browser, with figures.
    Html,
}

#[derive(Args, Debug)]
pub(super) struct ReportArgs {
    /// Only this learner
    #[arg(long, value_name = "NAME")]
    pub learner: Option<String>,
    /// Only this patrol
    #[arg(long, value_name = "PATROL")]
    pub patrol: Option<String>,
    /// The standard, by name or file (default: day-outing)
    #[arg(long, value_name = "NAME|FILE")]
    pub standard: Option<String>,
    /// Initials instead of names
    #[arg(long)]
    pub initials: bool,
    /// How to print (default: text, or what the ending of --output says)
    #[arg(long, value_enum)]
    pub format: Option<ReportFormat>,
    /// Only the first page: who is ready, what comes next for each, what to do first; one sheet for a co-leader
    #[arg(long)]
    pub first_page: bool,
    /// A PDF for the wall: who is ready and who shows whom, no errors; initials unless --names
    #[arg(long, conflicts_with_all = ["format", "initials", "learner", "first_page"])]
    pub wall: bool,
    /// A PDF to take outdoors: a yes and a no to tick for each of them in each skill
    #[arg(long, conflicts_with_all = ["format", "wall", "first_page"])]
    pub ticks: bool,
    /// Names on the wall in place of initials
    #[arg(long, requires = "wall")]
    pub names: bool,
    /// The file to write; without it the report goes to standard output
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// The size of the paper
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// Write over a file that is there already
    #[arg(long, requires = "output")]
    pub force: bool,
}
