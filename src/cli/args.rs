//! What can be typed behind `needlewise`.

use super::course::CourseArgs;
use super::paper_args::{CutoutsArgs, MapArgs, WorksheetArgs, from_to};
use super::report_args::ReportArgs;
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Drill map-and-compass skills: bearings, declination, back bearings, orienting the map.
#[derive(Debug, Parser)]
#[command(name = "needlewise", version, about, max_term_width = 100, allow_negative_numbers = true)]
#[command(
    after_help = "The records are one file; `needlewise store path` prints where, `needlewise store backup FILE` copies it.\n\nA practice aid, not a navigation instrument: the map in your hand, local rules and qualified leaders come first."
)]
pub(super) struct Cli {
    #[command(flatten)]
    pub globals: Globals,
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// Options that every command takes, before or after its own arguments.
#[derive(Args, Debug)]
pub(super) struct Globals {
    /// The file that holds the records
    #[arg(long, global = true, value_name = "PATH")]
    pub store: Option<PathBuf>,
    /// The place: lat,lon or UTM or MGRS (default: home ground)
    #[arg(long, global = true, value_name = "PLACE", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// The day, YYYY-MM-DD (default: today)
    #[arg(long, global = true, value_name = "DATE")]
    pub date: Option<String>,
    /// The theme: dark, day, sun, night, 16 or none
    #[arg(long, global = true, value_name = "THEME")]
    pub theme: Option<String>,
    /// Nothing moves by itself: the needle does not swing
    #[arg(long, global = true)]
    pub still: bool,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Practise: problems chosen for one learner, with the answer explained after each
    Practice(PracticeArgs),
    /// Check somebody's readiness, or print a plan: its bounds, and exactly how often it errs
    Check(CheckArgs),
    /// The people: list, add, rename, archive, erase; what was seen on the ground
    Patrol(PatrolArgs),
    /// Who is ready, weak spots, what to teach next
    Report(ReportArgs),
    /// List the skills
    Skills(FormatArgs),
    /// Print problems, by code or by skill and level
    Problem(ProblemArgs),
    /// Judge one answer to a problem
    Judge(JudgeArgs),
    /// Declination, convergence and G-M angle for a place and a day
    North(NorthArgs),
    /// Turn a bearing from one north to another
    Convert(ConvertArgs),
    /// Show or set home ground
    Home(HomeArgs),
    /// What the words of the trade mean: all of them, or one
    Words(WordsArgs),
    /// Games for a group: the leader's card of one, or the list
    Game(GameArgs),
    /// Plan an evening for those who are there: who does what in which minutes
    Evening(EveningArgs),
    /// Type in what stands on a worksheet, by the digits of its key
    Score(ScoreArgs),
    /// Print worksheets: other problems for each learner, and a key for you on pages of its own
    Worksheet(WorksheetArgs),
    /// Print an invented map for a real compass, with tasks and a key
    Map(MapArgs),
    /// Print a compass of paper to cut out and set, and bearing cards for games
    Cutouts(CutoutsArgs),
    /// The records: where they are, backups, other laptops, export, damage
    Store(super::store::StoreArgs),
    /// A course on real ground: its key, cards for the members, a plan to scale, three pegs in the open, the debrief
    Course(CourseArgs),
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    Man,
}

/// How results are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For people.
    #[default]
    Text,
    /// One object per line.
    Json,
}

#[derive(Args, Debug)]
pub(super) struct FormatArgs {
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct WordsArgs {
    /// The word, or another name for it, such as azimuth
    #[arg(value_name = "WORD")]
    pub word: Vec<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct GameArgs {
    /// The game; without it all are listed
    #[arg(value_name = "NAME")]
    pub name: Option<String>,
    /// How many play in the group
    #[arg(long, value_name = "N", requires = "name")]
    pub players: Option<u8>,
    /// The same seed deals the same round (default: a new one each time)
    #[arg(long, value_name = "N", requires = "name")]
    pub seed: Option<u64>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct ScoreArgs {
    /// What stands beside a problem: its number or its code, =, and the digit of the key or the answer itself, like 1=1 2=3 4=065
    /// or 5='6 min'; - is not done. Without any, each open problem is asked
    #[arg(value_name = "PROBLEM=DIGIT")]
    pub entries: Vec<String>,
    /// Whose sheet it is; may be left out where codes are given
    #[arg(long, value_name = "NAME")]
    pub learner: Option<String>,
    /// Which of the sheets, 1 the latest (default: the one with open problems; where several have some, it is asked)
    #[arg(long, value_name = "N", requires = "learner")]
    pub sheet: Option<usize>,
    /// Take back what was typed in of this problem, by number or code (may be given several times)
    #[arg(long, value_name = "PROBLEM")]
    pub undo: Vec<String>,
    /// Put the sheet away, since it will not come back: it is listed no more among those with open problems
    #[arg(long, requires = "learner", conflicts_with_all = ["entries", "undo"])]
    pub put_away: bool,
    /// Take that back (of several that were put away say which with --sheet)
    #[arg(long, requires = "learner", conflicts_with_all = ["entries", "undo", "put_away"])]
    pub back: bool,
}

#[derive(Args, Debug)]
pub(super) struct EveningArgs {
    /// How many minutes there are, 15 to 240
    #[arg(long, value_name = "N", default_value_t = 90, value_parser = from_to::<15, 240>)]
    pub minutes: u32,
    /// Keep this plan: the leader's page shows it, and the hand-out of `report` prints it
    #[arg(long)]
    pub keep: bool,
    /// With --keep: in the place of a plan of today or a day to come that is kept already
    #[arg(long, requires = "keep")]
    pub force: bool,
    /// Print the plan that was kept last, as it was changed by hand
    #[arg(long, conflicts_with_all = ["keep", "force", "minutes", "learner", "patrol"])]
    pub kept: bool,
    /// Who is there (may be given several times; default: everybody)
    #[arg(long, value_name = "NAME", conflicts_with = "patrol")]
    pub learner: Vec<String>,
    /// Everybody of this patrol
    #[arg(long, value_name = "PATROL")]
    pub patrol: Option<String>,
    /// A standard, by name or file
    #[arg(long, value_name = "NAME|FILE")]
    pub standard: Option<String>,
    /// Initials instead of names
    #[arg(long)]
    pub initials: bool,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct PracticeArgs {
    /// Who practises; several take turns at the keyboard (may be given several times)
    #[arg(long, value_name = "NAME")]
    pub learner: Vec<String>,
    /// One problem for all of them at a time, answered on paper; you enter who had what
    #[arg(long, requires = "learner")]
    pub round: bool,
    /// A drill, by name or file
    #[arg(long, value_name = "NAME|FILE")]
    pub drill: Option<String>,
    /// Only this skill (may be given several times)
    #[arg(long, value_name = "ID")]
    pub skill: Vec<String>,
    /// Only this level, 1 to 4
    #[arg(long, value_name = "N")]
    pub level: Option<u8>,
    /// End after so many problems
    #[arg(long, value_name = "N", value_parser = from_to::<1, 10_000>)]
    pub count: Option<u32>,
    /// End after so many minutes
    #[arg(long, value_name = "N", value_parser = from_to::<1, 600>)]
    pub minutes: Option<u32>,
    /// As lines of text, for screen readers and pipes
    #[arg(long)]
    pub plain: bool,
}

#[derive(Args, Debug)]
pub(super) struct CheckArgs {
    /// Print bounds and exact error rates only: of a standard (default day-outing), or of the figures given
    #[arg(long, conflicts_with_all = ["learner", "plain"])]
    pub plan: bool,
    /// Who is checked
    #[arg(long, value_name = "NAME", required_unless_present = "plan", conflicts_with_all = ["p0", "p1", "alpha", "beta", "cap", "tries"])]
    pub learner: Option<String>,
    /// As lines of text, for screen readers and pipes
    #[arg(long)]
    pub plain: bool,
    /// A standard, by name or file
    #[arg(long, value_name = "NAME|FILE", conflicts_with_all = ["p0", "p1", "alpha", "beta", "cap", "tries"])]
    pub standard: Option<String>,
    /// The share of right answers of somebody who is not ready (default 0.6)
    #[arg(long, value_name = "SHARE")]
    pub p0: Option<f64>,
    /// The share of right answers of somebody who is ready (default 0.9)
    #[arg(long, value_name = "SHARE")]
    pub p1: Option<f64>,
    /// How often somebody who is not ready may be found ready, over all tries (default 0.05)
    #[arg(long, value_name = "SHARE")]
    pub alpha: Option<f64>,
    /// How often somebody who is ready may not be found ready, over all tries (default 0.05)
    #[arg(long, value_name = "SHARE")]
    pub beta: Option<f64>,
    /// The most problems in one try (default 20)
    #[arg(long, value_name = "N")]
    pub cap: Option<u8>,
    /// The most tries, each on another day (default 1)
    #[arg(long, value_name = "N")]
    pub tries: Option<u8>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct PatrolArgs {
    #[command(subcommand)]
    pub command: PatrolCommand,
}

#[derive(Debug, Subcommand)]
pub(super) enum PatrolCommand {
    /// List the people
    List {
        /// Those who are put aside
        #[arg(long)]
        archived: bool,
        /// How to print
        #[arg(long, value_enum, default_value_t)]
        format: Format,
    },
    /// Add people
    Add {
        /// Their names
        #[arg(required = true, value_name = "NAME")]
        names: Vec<String>,
        /// The patrol they join; made where there is none of the name
        #[arg(long, value_name = "PATROL")]
        patrol: Option<String>,
    },
    /// Put people into a patrol
    Join {
        /// Their names
        #[arg(required = true, value_name = "NAME")]
        names: Vec<String>,
        /// The patrol; made where there is none of the name; - for none
        #[arg(long, value_name = "PATROL", allow_hyphen_values = true)]
        patrol: String,
    },
    /// Give somebody another name
    Rename {
        /// The name
        name: String,
        /// The new name
        new: String,
    },
    /// Put somebody aside; the records are kept
    Archive {
        /// The name
        name: String,
        /// Take somebody back
        #[arg(long)]
        back: bool,
    },
    /// Remove somebody's records for good, after a question
    Erase {
        /// The name
        name: String,
        /// Do not ask
        #[arg(long)]
        yes: bool,
    },
    /// Write down what somebody, or several together, were seen to do on the ground
    Seen {
        /// The names
        #[arg(required = true, value_name = "NAME")]
        names: Vec<String>,
        /// The skill
        #[arg(long, value_name = "ID")]
        skill: String,
        /// Who saw it
        #[arg(long, value_name = "NAME", required_unless_present = "undo")]
        by: Option<String>,
        /// Whether they did it: yes or no
        #[arg(long, value_enum)]
        outcome: Option<Went>,
        /// What was seen
        #[arg(long, value_name = "TEXT")]
        what: Option<String>,
        /// On which day, YYYY-MM-DD (default: today)
        #[arg(long, value_name = "DATE")]
        on: Option<String>,
        /// Take back what was written down last of them in this skill
        #[arg(long, conflicts_with_all = ["by", "outcome", "what", "on"])]
        undo: bool,
    },
}

/// How something went that was seen on the ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Went {
    /// They did it, without help.
    Yes,
    /// They did not.
    No,
}

#[derive(Args, Debug)]
pub(super) struct ProblemArgs {
    /// The code of a problem, such as B2-3-4821
    #[arg(required_unless_present = "skill", conflicts_with_all = ["skill", "level", "seed", "count"])]
    pub code: Option<String>,
    /// The skill to draw from
    #[arg(long, value_name = "ID", requires = "level")]
    pub skill: Option<String>,
    /// The level, 1 to 4
    #[arg(long, value_name = "N")]
    pub level: Option<u8>,
    /// The first seed; the same seed gives the same problems (default: a new one each time)
    #[arg(long, value_name = "N")]
    pub seed: Option<u64>,
    /// How many
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub count: u32,
    /// Print the answer and the worked steps, too
    #[arg(long)]
    pub solution: bool,
    /// Write the figure of the problem to this file, as SVG in true millimetres
    #[arg(long, value_name = "FILE", conflicts_with = "count")]
    pub picture: Option<PathBuf>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct JudgeArgs {
    /// The code of the problem
    pub code: String,
    /// The answer; several fields as name=value
    #[arg(required = true, allow_negative_numbers = true)]
    pub answer: Vec<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct NorthArgs {
    /// Write the world with its lines of equal declination on that day to this file (SVG)
    #[arg(long, value_name = "FILE")]
    pub picture: Option<PathBuf>,
    /// Height above the ellipsoid in metres (default: home ground's, or 0)
    #[arg(long, value_name = "M", allow_hyphen_values = true)]
    pub height: Option<f64>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

/// The north to convert to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum NorthName {
    /// Magnetic north.
    Magnetic,
    /// True north.
    True,
    /// Grid north.
    Grid,
}

#[derive(Args, Debug)]
pub(super) struct ConvertArgs {
    /// The bearing with its north's letter, such as 065M
    #[arg(allow_hyphen_values = true)]
    pub bearing: String,
    /// The north to convert to
    #[arg(long, value_enum)]
    pub to: NorthName,
    /// The declination, such as 17W, instead of the model's
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub declination: Option<String>,
    /// The G-M angle, such as 9E, instead of the model's
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub gma: Option<String>,
    /// Height above the ellipsoid in metres
    #[arg(long, value_name = "M", allow_hyphen_values = true)]
    pub height: Option<f64>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

#[derive(Args, Debug)]
pub(super) struct HomeArgs {
    #[command(subcommand)]
    pub command: HomeCommand,
}

#[derive(Debug, Subcommand)]
pub(super) enum HomeCommand {
    /// Show home ground and what it means on this day
    Show(FormatArgs),
    /// Set home ground (with --at PLACE) and what the own map prints
    Set(HomeSetArgs),
}

#[derive(Args, Debug)]
pub(super) struct HomeSetArgs {
    /// What to call it
    #[arg(long)]
    pub name: Option<String>,
    /// Height above the ellipsoid in metres
    #[arg(long, value_name = "M", allow_hyphen_values = true)]
    pub height: Option<f64>,
    /// North lines the maps have: magnetic, true, grid (comma between)
    #[arg(long, value_name = "LINES", value_delimiter = ',')]
    pub lines: Vec<String>,
    /// Declination printed on the own map, such as 3°30'W (none takes it away)
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub printed_declination: Option<String>,
    /// G-M angle printed on the own map (none takes it away)
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true)]
    pub printed_gma: Option<String>,
    /// The year the printed numbers hold for
    #[arg(long, value_name = "YEAR")]
    pub printed_year: Option<i16>,
    /// Annual change printed on the own map in minutes, such as 9'E (none takes it away)
    #[arg(long, value_name = "MINUTES", allow_hyphen_values = true)]
    pub printed_change: Option<String>,
}
