//! What can be typed behind `needlewise course`.

use crate::cli::args::Format;
use crate::cli::paper_args::PaperName;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// How bearings were measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum TakenName {
    /// Taken off the plan, corrected, and set on the dial
    #[value(alias = "off the plan and set", alias = "off the plan")]
    OffPlan,
    /// Sighted from peg to peg
    Sighted,
}

#[derive(Args, Debug)]
pub(in crate::cli) struct CourseArgs {
    /// The course's file
    #[arg(value_name = "FILE", conflicts_with_all = ["new", "pegs"])]
    pub file: Option<PathBuf>,
    /// Write a new file that explains every line (with --pegs: the three pegs)
    #[arg(long, value_name = "FILE", conflicts_with_all = ["answers", "card", "cards", "picture", "format"])]
    pub new: Option<PathBuf>,
    /// Three pegs in the open: bearings to set, where each peg goes, how they are laid
    #[arg(long)]
    pub pegs: bool,
    /// How far apart the pegs stand, in metres
    #[arg(long, value_name = "M", requires = "pegs", default_value_t = 60)]
    pub side: u32,
    /// The bearing from the first peg to the second, as set on the dial (default: drawn)
    #[arg(long, value_name = "BEARING", requires = "pegs")]
    pub first: Option<String>,
    /// The same seed draws the same pegs (default: a new one each time)
    #[arg(long, value_name = "N", requires = "pegs", conflicts_with = "first")]
    pub seed: Option<u64>,
    /// Who walks it, beside those in the file: all members of the records, or these names with commas between them
    #[arg(long, value_name = "all|NAMES", conflicts_with = "new")]
    pub members: Option<String>,
    /// The card of this member, in place of the key
    #[arg(long, value_name = "NAME", conflicts_with = "cards")]
    pub card: Option<String>,
    /// The cards of all members, in place of the key
    #[arg(long)]
    pub cards: bool,
    /// What somebody measured, set against the key: the name, and what the dial showed on each leg, such as 029,149,269
    #[arg(long, value_names = ["NAME", "BEARINGS"], num_args = 2, allow_hyphen_values = true, conflicts_with_all = ["card", "cards", "debrief"])]
    pub measured: Vec<String>,
    /// How it was measured (default: off the plan; sighted where all legs are magnetic and the file names no map's lines)
    #[arg(long, value_enum, requires = "measured")]
    pub taken: Option<TakenName>,
    /// The debriefs of what the file says was measured, of all or of one, without the key
    #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "", conflicts_with_all = ["card", "cards"])]
    pub debrief: Option<String>,
    /// Cards and plan with the answers
    #[arg(long)]
    pub answers: bool,
    /// Write the plan, drawn to scale, to this file (SVG in true millimetres); with a debrief, the legs walked over it
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Write pages to this PDF file: cards, plan and key; with --cards or --card without the key; with a debrief its words and picture
    #[arg(long, value_name = "FILE", conflicts_with_all = ["new", "format"])]
    pub output: Option<PathBuf>,
    /// The size of the paper
    #[arg(long, value_enum, requires = "output", default_value_t)]
    pub paper: PaperName,
    /// Write over a PDF file that is there already
    #[arg(long, requires = "output")]
    pub force: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}
