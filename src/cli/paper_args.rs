//! What can be typed behind the commands that print on paper.

use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// The size of the paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum PaperName {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8½ by 11 inches.
    Letter,
}

/// How sheets are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SheetFormat {
    /// Pages with figures.
    Pdf,
    /// Lines of text; figures are told in words.
    Text,
}

#[derive(Args, Debug)]
pub(super) struct WorksheetArgs {
    /// Whose sheet: problems for this learner's weak spots (may be given several times)
    #[arg(long, value_name = "NAME")]
    pub learner: Vec<String>,
    /// A sheet for everybody of this patrol
    #[arg(long, value_name = "PATROL", conflicts_with = "learner")]
    pub patrol: Option<String>,
    /// The skills of a drill, by name or file: the same for all, with other numbers
    #[arg(long, value_name = "NAME|FILE", conflicts_with_all = ["standard", "skill"])]
    pub drill: Option<String>,
    /// The skills of a standard, by name or file, at its levels
    #[arg(long, value_name = "NAME|FILE", conflicts_with_all = ["skill", "level"])]
    pub standard: Option<String>,
    /// This skill (may be given several times)
    #[arg(long, value_name = "ID")]
    pub skill: Vec<String>,
    /// Only this level, 1 to 4
    #[arg(long, value_name = "N")]
    pub level: Option<u8>,
    /// How many problems on each sheet (default: the drill's, or 8)
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=100))]
    pub count: Option<u16>,
    /// The size of the paper
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// The file to write; without it the sheets go to standard output
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// How to print (default: pdf, or text into a file that ends in .txt)
    #[arg(long, value_enum)]
    pub format: Option<SheetFormat>,
    /// Write over a file that is there already
    #[arg(long)]
    pub force: bool,
    /// The same seed gives the same sheets, as long as the records are the same (default: a new one each time)
    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,
}

#[derive(Args, Debug)]
pub(super) struct MapArgs {
    /// North lines on the map: magnetic, true, grid (comma between; default: those of your maps)
    #[arg(long, value_name = "LINES", value_delimiter = ',')]
    pub lines: Vec<String>,
    /// The declination, such as 17W, instead of home ground's on this day
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub declination: Option<String>,
    /// The size of the paper
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// As a poster over 4 or 9 sheets, for a group's table
    #[arg(long, value_name = "SHEETS", value_parser = ["4", "9"])]
    pub poster: Option<String>,
    /// The PDF file to write; without it the pages go to standard output
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    pub force: bool,
    /// The same seed gives the same map (default: a new one each time)
    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,
}

#[derive(Args, Debug)]
pub(super) struct CutoutsArgs {
    /// The size of the paper
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperName,
    /// The PDF file to write; without it the pages go to standard output
    #[arg(long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    /// Write over a file that is there already
    #[arg(long)]
    pub force: bool,
}
