//! `needlewise store`: where the records are, copies of them, those of other laptops, and what to do when something happened
//! to them.

use super::args::{Format, FormatArgs};
use super::context::Context;
use super::fault::{Fault, clean};
use super::page::Page;
use super::store_merge::{self, MergeArgs};
use crate::evening::is_readable;
use crate::problem::SkillMeta;
use crate::skills;
use crate::store::{self, Glance, Inspection, Store};
use clap::{Args, Subcommand, ValueEnum};
use serde::Serialize;
use std::fs::File;
use std::io::{self, BufRead, BufReader, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
pub(super) struct StoreArgs {
    #[command(subcommand)]
    command: StoreCommand,
}

#[derive(Debug, Subcommand)]
enum StoreCommand {
    /// Print where the records are
    Path,
    /// Copy all records into one file, whoever writes meanwhile
    Backup {
        /// The file
        file: PathBuf,
        /// Replace the file, if it is an older backup
        #[arg(long)]
        force: bool,
    },
    /// Put a backup in the place of the records, after a look and a question; what was there is kept beside it
    Restore {
        /// The backup
        file: PathBuf,
        /// Do not ask
        #[arg(long)]
        yes: bool,
    },
    /// Bring the records of other laptops in, in any order and as often as you like
    Merge(MergeArgs),
    /// Print all records, or those of one learner, for other programs and for who asks what is kept about them
    Export(ExportArgs),
    /// Bring exported records in (JSON lines; - reads them from standard input)
    Import {
        /// The file
        file: PathBuf,
    },
    /// Look for damage: say what is whole and what is not
    Verify(FormatArgs),
    /// Save what is whole of damaged records into a new file
    Mend {
        /// The new file
        file: PathBuf,
    },
}

/// How records are printed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum ExportFormat {
    /// All there is, a JSON object for each record; `import` reads it again.
    #[default]
    Jsonl,
    /// The answers, for a spreadsheet.
    Csv,
}

#[derive(Args, Debug)]
struct ExportArgs {
    /// Only this learner
    #[arg(long, value_name = "NAME")]
    learner: Option<String>,
    /// How to print
    #[arg(long, value_enum, default_value_t)]
    format: ExportFormat,
    /// Write to this new file, for its owner alone, and not to standard output
    #[arg(long, value_name = "FILE")]
    output: Option<PathBuf>,
}

/// How many damaged records are named one by one.
const MOST_NAMED: usize = 20;

/// Runs the command.
pub(super) fn run(context: &Context, args: StoreArgs) -> Result<(), Fault> {
    let path = context.store_path()?;
    match args.command {
        StoreCommand::Path => Ok(writeln!(io::stdout(), "{}", clean(&path.display().to_string()))?),
        StoreCommand::Backup { file, force } => backup(&path, &file, force),
        StoreCommand::Restore { file, yes } => restore(&path, &file, yes),
        StoreCommand::Merge(args) => store_merge::run(&path, &args),
        StoreCommand::Export(args) => export(&path, &args),
        StoreCommand::Import { file } => import(&path, &file),
        StoreCommand::Verify(args) => verify(&path, args.format),
        StoreCommand::Mend { file } => mend(&path, &file),
    }
}

/// The store, which must be there: a command that copies or looks at records makes none.
pub(super) fn present(path: &Path) -> Result<Store, Fault> {
    if path.symlink_metadata().is_err() {
        return Err(Fault::Store(format!("there are no records yet at {}", path.display())));
    }
    let metas: Vec<_> = skills::metas().collect();
    Ok(match Store::open(path, &metas) {
        // A copy can be made of what can only be read.
        Err(store::StoreError::ReadOnly { .. }) => Store::open_to_read(path, &metas)?,
        other => other?,
    })
}

/// The store for what only reads: where it cannot be written, as on a full disk or one that is read-only, it is read all the same, and
/// one line says so.
pub(super) fn to_read(path: &Path, metas: &[&'static SkillMeta]) -> Result<Store, Fault> {
    use store::StoreError::{CannotOpen, DiskFull, ReadOnly, Sqlite};
    let refused = match Store::open(path, metas) {
        Err(refused @ (ReadOnly { .. } | DiskFull { .. } | CannotOpen { .. } | Sqlite { .. })) => refused,
        other => return Ok(other?),
    };
    // Where it cannot be read either the first message says why.
    let Ok(store) = Store::open_to_read(path, metas) else { return Err(refused.into()) };
    let line = "needlewise: the records can only be read here, not written; this is what they hold";
    let _ = writeln!(io::stderr(), "{line}");
    Ok(store)
}

fn backup(path: &Path, file: &Path, force: bool) -> Result<(), Fault> {
    let glance = present(path)?.backup(file, force)?;
    let mut page = Page::default();
    page.line(&format!("Copied to {}: {}.", clean(&file.display().to_string()), glance_words(&glance)));
    page.paragraph(
        "Everything is in this one file. It holds names and answers: guard it as you guard a list of the children's names.",
    );
    Ok(io::stdout().write_all(page.0.as_bytes())?)
}

fn restore(path: &Path, file: &Path, yes: bool) -> Result<(), Fault> {
    let waiting = store::restore(file, path)?;
    let shown = |path: &Path| clean(&path.display().to_string());
    let mut page = Page::default();
    page.line(&format!("The backup {}: {}.", shown(file), glance_words(&waiting.backup)));
    let now = match &waiting.present {
        Some(present) => glance_words(present),
        None if path.exists() => "cannot be read".to_owned(),
        None => "nothing yet".to_owned(),
    };
    page.line(&format!("The records {}: {now}.", shown(path)));
    io::stdout().write_all(page.0.as_bytes())?;
    if !yes && !agreed("Put the backup in the place of the records? They are kept beside it.", "--yes replaces them")? {
        return Err(Fault::Could("nothing was replaced".to_owned()));
    }
    let restored = waiting.put(jiff::Timestamp::now())?;
    let mut page = Page::default();
    page.line("The backup is in place.");
    if let Some(kept) = restored.kept {
        page.line(&format!("What was there before is kept as {}.", shown(&kept)));
    }
    Ok(io::stdout().write_all(page.0.as_bytes())?)
}

fn export(path: &Path, args: &ExportArgs) -> Result<(), Fault> {
    let mut store = present(path)?;
    let learner = match &args.learner {
        Some(name) => Some(super::patrol::anybody(&store, name)?.id),
        None => None,
    };
    let mut write = |out: &mut dyn Write| match args.format {
        ExportFormat::Jsonl => store.export(learner, out),
        ExportFormat::Csv => store.export_csv(learner, out),
    };
    let Some(file) = &args.output else {
        let mut out = BufWriter::new(io::stdout().lock());
        write(&mut out)?;
        return Ok(out.flush()?);
    };
    let failed =
        |why: io::Error| Fault::Could(format!("cannot write {}: {}", file.display(), super::fault::plainly(&why)));
    crate::platform::make_private_file(file).map_err(failed)?;
    let written = File::options().write(true).open(file).map_err(failed).and_then(|opened| {
        let mut out = BufWriter::new(opened);
        write(&mut out)?;
        out.into_inner().map_err(|error| failed(error.into_error()))?.sync_all().map_err(failed)
    });
    if written.is_err() {
        // Half of the records under that name would be taken for all of them.
        let _ = std::fs::remove_file(file);
    }
    written
}

impl From<store::ExportError> for Fault {
    fn from(error: store::ExportError) -> Fault {
        match error {
            store::ExportError::Store(error) => error.into(),
            store::ExportError::Write(error) => error.into(),
        }
    }
}

fn import(path: &Path, file: &Path) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(path, &metas)?;
    let incoming = if file.as_os_str() == "-" {
        store.incoming_lines(&mut io::stdin().lock(), Path::new("standard input"))?
    } else {
        let failed =
            |why: io::Error| Fault::Input(format!("cannot read {}: {}", file.display(), super::fault::plainly(&why)));
        if std::fs::metadata(file).map_err(failed)?.is_dir() {
            return Err(Fault::Input(format!("{} is a folder; name a file of exported records", file.display())));
        }
        store.incoming_lines(&mut BufReader::new(File::open(file).map_err(failed)?), file)?
    };
    let brought = store.bring_in(&incoming, &[], jiff::Timestamp::now(), true)?;
    let said = store_merge::brought_text(&brought, true) + &store_merge::open_text(&store)?;
    Ok(io::stdout().write_all(clean(&said).as_bytes())?)
}

/// Asks a question; only a yes is a yes.
pub(super) fn agreed(question: &str, without: &str) -> Result<bool, Fault> {
    if !io::stdin().is_terminal() {
        return Err(Fault::Input(format!("this asks before it does anything, and nobody can answer here; {without}")));
    }
    let mut out = io::stdout();
    write!(out, "{question} Type yes: ")?;
    out.flush()?;
    let mut typed = String::new();
    io::stdin().lock().read_line(&mut typed)?;
    Ok(matches!(typed.trim().to_lowercase().as_str(), "yes" | "y"))
}

pub(super) fn counted(count: u64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

fn glance_words(glance: &Glance) -> String {
    let last = glance.last_day.map(|day| format!(", the last on {day}")).unwrap_or_default();
    format!(
        "{}, {}{last} (schema {})",
        counted(glance.learners, "learner", "learners"),
        counted(glance.answers, "answer", "answers"),
        glance.version
    )
}

/// Says on a terminal how far long work is.
fn progress(what: &'static str) -> impl FnMut(u32, u32) {
    let told = io::stderr().is_terminal();
    let mut last = 0;
    move |done, all| {
        let percent = u64::from(done) * 100 / u64::from(all.max(1));
        // A small file is done before anybody could read it.
        if told && all > 20_000 && percent != last {
            last = percent;
            let end = if done == all { "\n" } else { "" };
            let _ = write!(io::stderr(), "\r{what} {percent} %{end}");
        }
    }
}

/// What was found, as JSON.
#[derive(Serialize)]
struct InspectionJson<'a> {
    whole: bool,
    schema: Option<i64>,
    learners: u64,
    whole_answers: u64,
    file: &'a [String],
    damaged: Vec<DamagedJson<'a>>,
    lost: Vec<LostJson<'a>>,
    differing_summaries: Vec<DifferenceJson<'a>>,
    unreadable_plan: bool,
}

#[derive(Serialize)]
struct DamagedJson<'a> {
    table: &'a str,
    key: i64,
    learner: Option<&'a str>,
    day: &'a str,
    skill: &'a str,
}

#[derive(Serialize)]
struct LostJson<'a> {
    learner: &'a str,
    key: i64,
    skill: &'a str,
}

#[derive(Serialize)]
struct DifferenceJson<'a> {
    learner: &'a str,
    skill: &'a str,
}

fn verify(path: &Path, format: Format) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let found = store::inspect(path, &metas, &mut progress("verifying"))?;
    let mut out = io::stdout().lock();
    match format {
        Format::Text => out.write_all(clean(&inspection_text(&found)).as_bytes())?,
        Format::Json => {
            super::json_line(
                &mut out,
                &InspectionJson {
                    whole: found.is_whole(),
                    schema: found.version,
                    learners: found.learners,
                    whole_answers: found.answers,
                    file: &found.file,
                    damaged: found
                        .damaged
                        .iter()
                        .map(|one| DamagedJson {
                            table: one.table,
                            key: one.key,
                            learner: one.learner.as_deref(),
                            day: &one.day,
                            skill: &one.skill,
                        })
                        .collect(),
                    lost: found
                        .lost
                        .iter()
                        .map(|one| LostJson { learner: &one.learner, key: one.key, skill: &one.skill })
                        .collect(),
                    differing_summaries: found
                        .differences
                        .iter()
                        .map(|(learner, skill)| DifferenceJson { learner, skill })
                        .collect(),
                    unreadable_plan: has_unreadable_plan(&found),
                },
            )?;
        }
    }
    if found.is_whole() {
        return Ok(());
    }
    Err(Fault::Store(format!(
        "the records {} are damaged. Nothing was changed; `needlewise store mend FILE` saves what is whole into a new file, \
         `needlewise store restore FILE` puts a backup in place",
        path.display()
    )))
}

/// Whether a plan of an evening is kept that nobody can go by. That is a remark, not damage: another one is made in no time.
fn has_unreadable_plan(found: &Inspection) -> bool {
    found.evening.as_ref().is_some_and(|evening| !is_readable(evening))
}

fn inspection_text(found: &Inspection) -> String {
    let mut page = Page::default();
    let answers = counted(found.answers, "answer", "answers");
    if found.is_whole() {
        page.line(&format!("All is whole: {}, {answers}.", counted(found.learners, "learner", "learners")));
        if has_unreadable_plan(found) {
            page.paragraph("The plan of an evening that is kept cannot be read by this program; `needlewise evening --keep` puts another one in its place.");
        }
        return page.0;
    }
    page.line(&format!("Whole: {answers} of {}.", counted(found.learners, "learner", "learners")));
    if !found.damaged.is_empty() {
        page.line(&format!("Not as they were written: {}.", counted(found.damaged.len() as u64, "record", "records")));
    }
    for one in found.damaged.iter().take(MOST_NAMED) {
        let what = match one.table {
            "attempts" => "an answer",
            "sessions" => "a sitting",
            "checks" => "a check",
            "seen" => "what was seen on the ground",
            "marks" => "a mark",
            "sheets" => "a sheet",
            _ => "a record",
        };
        let of = one.learner.as_deref().map(|name| format!(" of {name}")).unwrap_or_default();
        let skill = if one.skill.is_empty() { String::new() } else { format!(", {}", one.skill) };
        page.line(&format!("  {what}{of}, {}{skill} (number {})", one.day, one.key));
    }
    if found.damaged.len() > MOST_NAMED {
        page.line(&format!("  and {} more", found.damaged.len() - MOST_NAMED));
    }
    for of_one in found.lost.chunk_by(|one, other| one.learner == other.learner) {
        let numbers: Vec<String> = of_one.iter().take(MOST_NAMED).map(|one| one.key.to_string()).collect();
        let more = if of_one.len() > MOST_NAMED { " and more" } else { "" };
        page.paragraph(&format!(
            "Not to be found: {} of {} (numbers {}{more}).",
            counted(of_one.len() as u64, "answer", "answers"),
            of_one[0].learner,
            numbers.join(", ")
        ));
    }
    for (name, skill) in &found.differences {
        page.line(&format!("The summary of {name} in {skill} is not what the answers say; the answers are whole."));
    }
    if !found.file.is_empty() {
        page.line("In the file itself:");
    }
    for sentence in &found.file {
        page.line(&format!("  {sentence}"));
    }
    page.0
}

fn mend(path: &Path, file: &Path) -> Result<(), Fault> {
    if path.symlink_metadata().is_err() {
        return Err(Fault::Store(format!("there are no records yet at {}", path.display())));
    }
    let metas: Vec<_> = skills::metas().collect();
    let mended = store::mend(path, file, &metas, jiff::Timestamp::now(), &mut progress("mending"))?;
    let mut page = Page::default();
    page.line(&format!(
        "Saved into {}: {}.",
        clean(&file.display().to_string()),
        counted(mended.answers, "answer", "answers")
    ));
    let left_out =
        |count: u64, one: &str, many: &str| format!("Left out, since they are damaged: {}.", counted(count, one, many));
    if mended.damaged > 0 {
        page.line(&left_out(mended.damaged, "answer", "answers"));
    }
    if mended.other_damaged > 0 {
        page.line(&left_out(mended.other_damaged, "other record", "other records"));
    }
    for learner in &mended.learners {
        let lost = if learner.lost > 0 { format!(", {} lost", learner.lost) } else { String::new() };
        let name = if learner.name_lost { ": the name is lost, this one is made up" } else { "" };
        page.line(&format!("  {}: {} saved{lost}{name}", learner.name, learner.saved));
    }
    page.paragraph(&format!(
        "The damaged records are as they were. To go on with the new file: needlewise store restore {}",
        file.display()
    ));
    Ok(io::stdout().write_all(clean(&page.0).as_bytes())?)
}
