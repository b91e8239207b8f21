//! What is done outside the model: the store, the settings, the clock. Tests do it with a clock of their own.

mod checks;
mod paper;

use paper::SEEDS;
pub use paper::{ReportPages, ReportToPrint, Score, Scored, SheetsOf, SheetsToPrint};

use super::model::{Model, Offer, Practise};
use super::msg::{Cmd, Done, Looked, Msg};
use super::screens::patrol::{Loaded, Undo};
use super::update::update;
use crate::clerk::{self, Now, Opened};
use crate::drill::Standard;
use crate::evening::KeptWhen;
use crate::learner::Placement;
use crate::paper::Sheet;
use crate::report::{Report, latest_seen, mixup_patterns};
use crate::session::{Days, GroundCard, HomeGround, and_words, name_put_aside};
use crate::store::{Learner, LearnerId, Patrol, PatrolId, Seen, SeenOutcome, SheetWord, Store, StoreError};
use crate::textfile::shown_path;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use std::collections::VecDeque;
use std::path::PathBuf;

/// What the program does outside the store, given by the command line.
pub trait Backstage {
    /// Sets home ground to a place as typed, writes it down, and gives back the new card.
    ///
    /// # Errors
    /// The message for the screen.
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String>;

    /// The drills there are, on this home ground, and what is wrong with those that cannot be offered.
    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>);

    /// The time zone that today is read in, when it follows the clock: a laptop may stay open over several days. None when the
    /// day was given.
    fn zone(&self) -> Option<TimeZone> {
        None
    }

    /// The standards there are, and what is wrong with those that cannot be offered.
    fn standards(&mut self) -> (Vec<Standard>, Option<String>);

    /// Writes the theme down.
    ///
    /// # Errors
    /// The message for the screen.
    fn save_theme(&mut self, theme: &str) -> Result<(), String>;

    /// Writes sheets with their keys into a new file, and says which.
    ///
    /// # Errors
    /// The message for the screen.
    fn print_sheets(&mut self, sheets: &SheetsToPrint) -> Result<String, String>;

    /// Writes a map of this seed with its key into a new file, and says which.
    ///
    /// # Errors
    /// The message for the screen.
    fn print_map(&mut self, seed: u64, size: Sheet) -> Result<String, String>;

    /// Writes pages of a report into a new file, and says which.
    ///
    /// # Errors
    /// The message for the screen.
    fn print_report(&mut self, report: &ReportToPrint) -> Result<String, String>;

    /// A file for a copy of the records that is not there yet.
    fn backup_file(&mut self) -> PathBuf;
}

/// What commands work on.
pub struct Hands<'a> {
    /// The open store.
    pub store: Store,
    /// What lies outside the store.
    pub backstage: &'a mut dyn Backstage,
    /// Seeds the choice of problems; each session takes the next.
    pub seed: u64,
    /// The learner's day.
    pub day: Date,
    /// The clock.
    pub clock: fn() -> Timestamp,
}

impl Hands<'_> {
    /// Does commands, and what follows from them, until nothing is left to do. False when the program is left.
    pub fn settle(&mut self, model: &mut Model, commands: Vec<Cmd>) -> bool {
        self.day = self.now().day();
        model.shared.day = self.day;
        let mut waiting = VecDeque::from(commands);
        while let Some(command) = waiting.pop_front() {
            let Some(done) = self.perform(command, model) else { return false };
            waiting.extend(update(model, Msg::Done(done)));
        }
        true
    }

    /// Does one command; none for leaving.
    fn perform(&mut self, command: Cmd, model: &Model) -> Option<Done> {
        let named = |what| model.shared.plan_of(what).drill;
        Some(match command {
            Cmd::Quit => return None,
            Cmd::LoadLearners => Done::Learners(learners(&self.store).map_err(message)),
            Cmd::AddLearner(name, placement) => {
                let added = self
                    .not_put_aside(&name)
                    .and_then(|()| self.add(&name, placement, named(Practise::Best)).map(Box::new).map_err(message));
                Done::Opened(added, Practise::Best)
            }
            Cmd::Open(learner, what) => {
                Done::Opened(self.open(learner, named(what)).map(Box::new).map_err(message), what)
            }
            Cmd::Drills(learner, home) => {
                let (offers, notice) = self.backstage.drills(&home);
                Done::Drills(learner, offers, notice)
            }
            Cmd::Look(learner) => Done::Looked(self.look(learner).map(Box::new).map_err(message)),
            Cmd::Record(pending) => {
                let stored = clerk::record(&mut self.store, &pending).map_err(message);
                Done::Recorded(pending, stored)
            }
            Cmd::TakeBack(slip) => {
                let now = (self.clock)();
                let taken_back = clerk::take_back(&mut self.store, slip, now).map(Box::new).map_err(message);
                Done::TakenBack(taken_back, now)
            }
            Cmd::SetGround(place) => Done::GroundSet(self.backstage.set_ground(&place).map(Box::new)),
            Cmd::SaveTheme(theme) => Done::ThemeSaved(self.backstage.save_theme(theme)),
            Cmd::NoteLesson(learner, mark) => {
                let noted = self.store.note_lesson(learner, &mark, (self.clock)());
                Done::LessonNoted(noted.map(|()| mark).map_err(message))
            }
            Cmd::Answers(learner) => {
                let answers = clerk::past_answers(&self.store, learner.id).map_err(message);
                Done::Answers(answers.map(|answers| (learner, answers)))
            }
            Cmd::Lessons(learner) => {
                let marks = self.store.lessons(learner.id).map_err(message);
                Done::Lessons(marks.map(|marks| (learner, marks)))
            }
            Cmd::Patrol => Done::Patrol(self.patrol(model).map(Box::new).map_err(message), None),
            Cmd::AddMembers(names, patrol) => {
                let (choose, done) = match self.add_members(&names, patrol) {
                    Ok((last, said)) => (Some(last), Ok(said)),
                    Err(error) => (None, Err(error)),
                };
                match self.patrol_after(model, done) {
                    Done::Patrol(Ok(loaded), said) => Done::Patrol(Ok(Box::new(Loaded { choose, ..*loaded })), said),
                    other => other,
                }
            }
            Cmd::RenameMember(id, name) => {
                let done = self.store.rename_learner(id, &name, (self.clock)());
                self.patrol_after(model, done.map(|()| format!("The name is {} now.", name.trim())).map_err(message))
            }
            Cmd::ArchiveMember(id) => {
                let done = self.store.archive_learner(id, true, (self.clock)());
                self.patrol_after(model, done.map(|()| "Put aside; the records are kept.".to_owned()).map_err(message))
            }
            Cmd::EraseMember(id) => {
                let done = self.store.erase_learner(id, (self.clock)());
                self.patrol_after(model, done.map(erased_words).map_err(message))
            }
            Cmd::AddSeen(seen) => {
                let now = (self.clock)();
                let (done, written) = match self.store.add_seen(&seen, now) {
                    Ok(entries) => (Ok(ticked_words(&seen)), Some(Undo::Seen(entries))),
                    Err(error) => (Err(message(error)), None),
                };
                match self.patrol_after(model, done) {
                    Done::Patrol(Ok(loaded), said) => {
                        Done::Patrol(Ok(Box::new(Loaded { undo: written, ..*loaded })), said)
                    }
                    other => other,
                }
            }
            Cmd::Undo(undo) => {
                let done = self.undo(&undo).map(|()| "Taken back; it counts for nothing.".to_owned()).map_err(message);
                self.patrol_after(model, done)
            }
            Cmd::KeepEvening(plan) => {
                let now = self.now();
                let stored = plan.stored(KeptWhen::at(&now.days, now.at));
                Done::EveningKept(self.store.keep_evening(&stored).map(|()| stored).map_err(message))
            }
            Cmd::LostAnswers(id) => Done::CheckWord(self.lost_answers(id).map(Box::new).map_err(message)),
            Cmd::Waits(id) => Done::CheckWord(self.waits(id, model).map(Box::new).map_err(message)),
            Cmd::Say(said) => {
                let done = self.say(&said).map_err(message);
                self.patrol_after(model, done)
            }
            Cmd::Queue(ids) => Done::Queued(self.queue(&ids, model).map_err(message)),
            Cmd::OpenCheck(learner, rest) => {
                Done::CheckOpened(self.open_check(learner, model).map(Box::new).map_err(message), rest)
            }
            Cmd::PatrolAfter(said) => self.patrol_after(model, Ok(said.to_owned())),
            Cmd::BeginCheck(unbegun, at) => {
                let now = self.now().at;
                let begun = clerk::begin_sitting(&mut self.store, &unbegun, now).map_err(message);
                Done::CheckBegun(begun, at)
            }
            Cmd::OpenRound(ids, skill) => {
                let opened: Result<Vec<_>, _> =
                    ids.into_iter().map(|id| self.open(id, Some("round".to_owned()))).collect();
                Done::RoundOpened(opened.map_err(message), skill)
            }
            Cmd::RecordRound(answers, now) => {
                let (written, error) = clerk::record_round(&mut self.store, answers);
                Done::RoundRecorded(written, error.map(message), now)
            }
            Cmd::OpenTurns(ids) => {
                let opened: Result<Vec<_>, _> =
                    ids.into_iter().map(|id| self.open(id, Some("turns".to_owned()))).collect();
                Done::TurnsOpened(opened.map_err(message))
            }
            Cmd::Sheets(ids) => Done::Sheets(self.sheets(&ids).map_err(message), None),
            Cmd::PrintSheets(ids, of, size) => match self.print_sheets(&ids, of, size, model) {
                Ok(said) => Done::Sheets(self.sheets(&ids).map_err(message), Some(said)),
                Err(error) => Done::Written(Err(error)),
            },
            Cmd::PutSheetAway(ids, sheet) => {
                let said = self.say_of_sheet(sheet, &SheetWord::PutAway);
                Done::PutAway(said.and_then(|()| self.sheets(&ids)).map(|sheets| (sheet, sheets)).map_err(message))
            }
            Cmd::TakeSheetOut(ids, sheet) => {
                let said = self.say_of_sheet(sheet, &SheetWord::TakenOut);
                let sheets = said.and_then(|()| self.sheets(&ids)).map_err(message);
                Done::Sheets(sheets, Some("It stands in the list again.".to_owned()))
            }
            Cmd::PrintMap(size) => {
                self.seed = self.seed.wrapping_add(1);
                Done::Written(self.backstage.print_map(self.seed % SEEDS, size))
            }
            Cmd::PrintReport(report) => Done::Written(self.backstage.print_report(&report)),
            Cmd::Score(score) => Done::Scored(self.score(*score).map(Box::new)),
            Cmd::Backup => {
                let file = self.backstage.backup_file();
                let copied = self.store.backup(&file, false).map_err(message);
                Done::Written(copied.map(|_| {
                    format!(
                        "The records are copied: {}. `needlewise store restore` with that file brings them back.",
                        shown_path(&file)
                    )
                }))
            }
        })
    }

    fn add(&mut self, name: &str, placement: Placement, drill: Option<String>) -> Result<Opened, StoreError> {
        let learner = self.store.add_learner(name, placement, (self.clock)())?;
        self.open(learner.id, drill)
    }

    fn open(&mut self, id: LearnerId, drill: Option<String>) -> Result<Opened, StoreError> {
        let now = self.now();
        // Who is not in the store any more takes no seed.
        let opened = clerk::open_practice(&mut self.store, id, now, drill, self.seed.wrapping_add(1))?;
        self.seed = opened.sitting.seed;
        Ok(opened)
    }

    fn look(&mut self, id: LearnerId) -> Result<Looked, StoreError> {
        let (learner, beliefs) = clerk::learner(&mut self.store, id)?;
        let patterns = mixup_patterns(&self.store, id, &beliefs)?;
        let progress = clerk::progress(&self.store, id)?;
        let mut all = self.store.seen()?;
        all.retain(|one| one.learner == id);
        // The last of each skill that counts, in the order of their days.
        let counts = |one: &&Seen| latest_seen(all.iter().filter(|other| other.skill == one.skill)) == Some(*one);
        let seen = all.iter().filter(counts).cloned().collect();
        Ok(Looked { learner, beliefs, patterns, progress, seen })
    }

    /// The patrol's page after something was done, or why it was not.
    fn patrol_after(&mut self, model: &Model, done: Result<String, String>) -> Done {
        match done {
            Ok(said) => Done::Patrol(self.patrol(model).map(Box::new).map_err(message), Some(said)),
            Err(error) => Done::Patrol(Err(error), None),
        }
    }

    /// Everything the patrol's page shows.
    fn patrol(&mut self, model: &Model) -> Result<Loaded, StoreError> {
        let (mut standards, notice) = self.backstage.standards();
        let patrols = self.store.patrols()?;
        let shown = model.shared.leader.patrol.and_then(|id| patrols.iter().find(|patrol| patrol.id == id));
        let wanted = |id| shown.is_none_or(|patrol: &Patrol| patrol.members.contains(&id));
        // On the first look the one that the command line goes by where none is named: what somebody began yesterday is no choice
        // for today's plans and reports.
        let is_first = model.shared.leader.standards.is_empty();
        let chosen = if is_first {
            standards.iter().position(|one| one.name == Standard::DEFAULT).unwrap_or(0)
        } else {
            // By name: a file may have come or gone, and a standard given by its file stands in no folder.
            let wanted = model.shared.leader.standard().cloned();
            let place = wanted.as_ref().and_then(|wanted| standards.iter().position(|one| one.name == wanted.name));
            match (place, wanted) {
                (Some(place), _) => place,
                (None, Some(wanted)) => {
                    standards.push(wanted);
                    standards.len() - 1
                }
                (None, None) => 0,
            }
        };
        let standard = standards.get(chosen).or(standards.first()).or(Standard::embedded().first());
        let now = self.now();
        let report = match standard {
            Some(standard) => Report::gather(&mut self.store, standard, (now.day(), now.days.are_given()), &wanted)?,
            // No program without its own standards passes its tests.
            None => return Err(StoreError::NoSuchSession),
        };
        let notice = match notice {
            None if is_first => self.under_way_elsewhere(&standards, chosen)?,
            said => said,
        };
        let evening = self.store.evening()?;
        Ok(Loaded { patrols, report, standards, chosen, choose: None, undo: None, evening, notice })
    }

    /// Refuses the name of somebody who is put aside; the message for the screen.
    fn not_put_aside(&self, name: &str) -> Result<(), String> {
        match self.store.archived_learner_by_name(name).map_err(message)? {
            Some(known) => Err(name_put_aside(&known)),
            None => Ok(()),
        }
    }

    fn add_member(&mut self, name: &str, patrol: Option<PatrolId>) -> Result<LearnerId, StoreError> {
        let now = (self.clock)();
        let learner = self.store.add_learner(name, Placement::Fresh, now)?;
        if patrol.is_some() {
            self.store.join_patrol(learner.id, patrol, now)?;
        }
        Ok(learner.id)
    }

    /// Adds those of these names, once it is sure that each can be added; the last of them, and what is said.
    fn add_members(&mut self, names: &[String], patrol: Option<PatrolId>) -> Result<(LearnerId, String), String> {
        for name in names {
            self.not_put_aside(name)?;
            if let Some(known) = self.store.learner_by_name(name).map_err(message)? {
                return Err(message(StoreError::NameInUse { name: known.name }));
            }
        }
        let mut added: Vec<(LearnerId, &str)> = Vec::with_capacity(names.len());
        for name in names {
            // The same name twice is one member.
            if self.store.learner_by_name(name).map_err(message)?.is_none() {
                added.push((self.add_member(name, patrol).map_err(message)?, name));
            }
        }
        let here: Vec<&str> = added.iter().map(|(_, name)| *name).collect();
        let are = if here.len() == 1 { "is" } else { "are" };
        let last = added.last().ok_or("No name is typed yet.")?;
        Ok((last.0, format!("{} {are} here now.", and_words(&here))))
    }

    /// Takes back what was written down last.
    fn undo(&mut self, undo: &Undo) -> Result<(), StoreError> {
        let now = self.now();
        match undo {
            Undo::Seen(entries) => self.store.take_seen_back(entries, now.day(), now.at),
            Undo::Round(slips) => {
                slips.iter().try_for_each(|slip| clerk::take_back(&mut self.store, *slip, now.at).map(drop))
            }
            Undo::PutAway(sheet) => clerk::say_of_sheet(&mut self.store, *sheet, &SheetWord::TakenOut, &now),
        }
    }

    fn now(&self) -> Now {
        let days = self.backstage.zone().map_or(Days::Given(self.day), Days::Clock);
        Now { days, at: (self.clock)() }
    }
}

/// What erasing did.
fn erased_words(erased: crate::store::Erased) -> String {
    let rest = if erased.wiped {
        ""
    } else {
        " Another program holds the file: its unused parts are wiped by the next erasing."
    };
    format!("Erased, with {} answers.{rest}", erased.attempts)
}

/// The learners, the one who practised last in front.
///
/// # Errors
/// [`StoreError`] when the store cannot be read.
pub fn learners(store: &Store) -> Result<Vec<Learner>, StoreError> {
    let mut learners = store.learners()?;
    let last = store.last_learner()?.map(|learner| learner.id);
    if let Some(at) = learners.iter().position(|learner| Some(learner.id) == last) {
        learners[..=at].rotate_right(1);
    }
    Ok(learners)
}

fn message(error: StoreError) -> String {
    error.to_string()
}

/// That ticks are written down, and how many of them are a yes.
fn ticked_words(seen: &[Seen]) -> String {
    let yes = seen.iter().filter(|seen| seen.outcome == SeenOutcome::Yes).count();
    let what = if seen.len() == 1 { "The tick is".to_owned() } else { format!("{} ticks are", seen.len()) };
    let taken = if seen.len() == 1 { "it" } else { "them" };
    format!("{what} written down, {yes} yes and {} no; u takes {taken} back.", seen.len() - yes)
}
