//! What the screens do outside the store: settings, the leader's own files, and what is printed.

use super::context::Context;
use super::fault::{Fault, clean, plainly};
use super::output::written_words;
use super::paper_args::{MapArgs, PaperName};
use super::settings::Settings;
use super::{map, worksheet};
use crate::drill::{Drill, Standard};
use crate::numbers;
use crate::paper::Sheet;
use crate::platform;
use crate::session::{GroundCard, HomeGround, Plan};
use crate::tui::{Backstage, Offer, ReportPages, ReportToPrint, SheetsToPrint};
use crate::worksheet::{LearnerSheet, Worksheet, printed, printed_map, printed_report, printed_ticks, printed_wall};
use jiff::tz::TimeZone;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// What the screens do outside the store.
pub(super) struct Files<'a> {
    context: &'a Context,
    settings: Settings,
    /// The folder whose `drills` and `standards` hold the leader's own.
    folder: Option<PathBuf>,
    /// The time zone that today is read in, when it follows the clock.
    zone: Option<TimeZone>,
    /// The standards as read last, and from which files.
    standards: Option<(Vec<Stamp>, Vec<Standard>, Option<String>)>,
}

/// A file and when it was changed.
type Stamp = (PathBuf, Option<SystemTime>);

/// The leader's own files of standards.
fn stamps(folder: Option<&Path>) -> Vec<Stamp> {
    let entries = folder.and_then(|folder| std::fs::read_dir(folder.join("standards")).ok());
    let mut stamps: Vec<Stamp> = entries
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| (entry.path(), entry.metadata().and_then(|about| about.modified()).ok()))
        .collect();
    numbers::arrange(&mut stamps, Ord::cmp);
    stamps
}

impl Files<'_> {
    /// What the screens do outside the store of a program that was started like this.
    pub(super) fn new(context: &Context) -> Result<Files<'_>, Fault> {
        Ok(Files {
            context,
            settings: context.settings()?,
            folder: context.config_dir(),
            standards: None,
            zone: context.zone.clone(),
        })
    }

    /// A file of this name and day that is not there yet, where the program was started.
    fn fresh(&self, name: &str, end: &str) -> PathBuf {
        let folder = std::env::current_dir().unwrap_or_default();
        let mut number = 1;
        loop {
            let count = if number == 1 { String::new() } else { format!("-{number}") };
            let file = folder.join(format!("{name}-{}{count}.{end}", self.context.day));
            // Also where a link of this name leads nowhere.
            if file.symlink_metadata().is_err() || number == u32::MAX {
                return file;
            }
            number += 1;
        }
    }

    /// Writes a new file for its owner alone; the message for the screen where that cannot be.
    fn put_new(file: &Path, bytes: &[u8]) -> Result<(), String> {
        platform::put_file(file, bytes).map_err(|error| {
            clean(&format!(
                "{} cannot be written ({}). Start needlewise in a folder where you may write.",
                file.display(),
                plainly(&error)
            ))
        })
    }
}

/// The paper of a size.
const fn paper_name(size: Sheet) -> PaperName {
    match size {
        Sheet::A4 => PaperName::A4,
        Sheet::Letter => PaperName::Letter,
    }
}

impl Backstage for Files<'_> {
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String> {
        self.settings.set_place(place)
    }

    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
        offers(self.folder.as_deref(), home)
    }

    fn zone(&self) -> Option<TimeZone> {
        self.zone.clone()
    }

    fn standards(&mut self) -> (Vec<Standard>, Option<String>) {
        // Planning a large one takes its time: they are read again only when a file has changed.
        let stamps = stamps(self.folder.as_deref());
        if self.standards.as_ref().is_none_or(|(known, ..)| *known != stamps) {
            let (standards, errors) = Standard::all(self.folder.as_deref());
            let notice = errors.first().map(|first| clean(&format!("A standard is left out: {first}")));
            self.standards = Some((stamps, standards, notice));
        }
        let Some((_, standards, notice)) = &self.standards else { return (Vec::new(), None) };
        // The settings may be changed meanwhile; where they cannot be read, no lines are set.
        let lines = self.settings.load().ok().and_then(|config| config.home.lines);
        let on_lines = |standard: &Standard| standard.clone().on_lines(lines.as_deref());
        (standards.iter().map(on_lines).collect(), notice.clone())
    }

    fn save_theme(&mut self, theme: &str) -> Result<(), String> {
        self.settings.set_theme(theme)
    }

    fn print_sheets(&mut self, sheets: &SheetsToPrint) -> Result<String, String> {
        let SheetsToPrint { title, seed, sheets, left_out, size } = sheets;
        let sheets = sheets
            .iter()
            .map(|(learner, problems)| LearnerSheet { name: Some(learner.name.clone()), problems: problems.clone() });
        let worksheet =
            Worksheet { title: title.clone(), seed: *seed, sheets: sheets.collect(), left_out: left_out.clone() };
        if let Some(why) = worksheet::nothing_to_print(&worksheet) {
            return Err(why);
        }
        let (printed, file) = (printed(&worksheet, *size), self.fresh("sheets", "pdf"));
        Files::put_new(&file, &printed.bytes)?;
        Ok(worksheet::written_words(&worksheet, &printed, &file).join(" "))
    }

    fn print_map(&mut self, seed: u64, size: Sheet) -> Result<String, String> {
        let args = MapArgs { seed: Some(seed), paper: paper_name(size), ..MapArgs::default() };
        let map = map::drawn(self.context, &args).map_err(|fault| fault.words())?;
        let (printed, file) = (printed_map(&map), self.fresh("map", "pdf"));
        Files::put_new(&file, &printed.bytes)?;
        let words = written_words(&file, &format!("map {}, its tasks and its key", map.wish.seed), &printed);
        Ok(words.split_whitespace().collect::<Vec<_>>().join(" "))
    }

    fn print_report(&mut self, wanted: &ReportToPrint) -> Result<String, String> {
        let ReportToPrint { report, plan, pages, initials, size } = wanted;
        let name = report.shown_as(*initials);
        let (printed, file, what) = match pages {
            ReportPages::Ticks => (printed_ticks(report, &name, *size), "ticks", "a sheet to tick on the ground"),
            ReportPages::Wall => (printed_wall(report, &name, *size), "wall", "a sheet for the wall"),
            ReportPages::HandOut => (printed_report(report, plan, &name, *size), "report", "the report"),
        };
        let file = self.fresh(file, "pdf");
        Files::put_new(&file, &printed.bytes)?;
        Ok(written_words(&file, what, &printed).split_whitespace().collect::<Vec<_>>().join(" "))
    }

    fn backup_file(&mut self) -> PathBuf {
        self.fresh("records", "sqlite")
    }
}

/// The drills there are, and what is wrong with those that cannot be offered.
fn offers(config_dir: Option<&Path>, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
    let list = Drill::all(config_dir);
    let offers = list
        .drills
        .iter()
        .map(|drill| Offer { about: drill.about.clone(), plan: Plan::of_drill(drill, home.clone()) })
        .collect();
    let notice = list.errors.split_first().map(|(first, more)| {
        let more = if more.is_empty() { String::new() } else { format!(" (and {} more)", more.len()) };
        format!("A drill is left out: {first}{more}")
    });
    (offers, notice.map(|text| clean(&text)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Config;
    use std::fs;

    fn card() -> GroundCard {
        GroundCard::new(&Config::default(), "", "2026-11-25".parse().unwrap())
    }

    #[test]
    fn a_leaders_own_drill_is_offered_behind_those_of_the_program_and_a_broken_one_is_told() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("drills")).unwrap();
        let own = "name = \"ours\"\ntitle = \"Ours\"\ncount = 3\n[[skill]]\nid = \"turns\"\n";
        fs::write(folder.path().join("drills").join("ours.toml"), own).unwrap();
        let (all, notice) = offers(Some(folder.path()), &card().home);
        assert_eq!(all.len(), Drill::embedded().len() + 1);
        assert_eq!(all.last().map(|offer| offer.plan.title.as_str()), Some("Ours"));
        assert_eq!(notice, None);

        fs::write(folder.path().join("drills").join("broken.toml"), "name = \"broken\u{1b}[31m\"").unwrap();
        let (still, notice) = offers(Some(folder.path()), &card().home);
        assert_eq!(still, all);
        let notice = notice.unwrap();
        assert!(notice.starts_with("A drill is left out: ") && notice.contains("broken.toml"), "{notice}");
        assert!(!notice.chars().any(char::is_control), "{notice:?}");
    }
}
