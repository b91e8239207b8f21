//! What can happen ([`Msg`]) and what has to be done outside the model ([`Cmd`]).

use super::hands::{ReportToPrint, Score, Scored, SheetsOf};
use super::model::{Offer, Practise};
use super::screens::check_word::{CheckWord, Said};
use super::screens::handover::Queued;
use super::screens::patrol::{Loaded, Undo};
use crate::clerk::{Opened, Opening};
use crate::evening::KeptEvening;
use crate::learner::{Beliefs, Placement};
use crate::paper;
use crate::problem::SkillMeta;
use crate::report::MixupPattern;
use crate::session::{GroundCard, HomeGround, Pending, Slip, Stored, Unbegun};
use crate::store::{
    Attempt, Learner, LearnerId, LessonMark, PatrolId, Progress, Seen, SessionId, Sheet, SheetId, StoredEvening,
};
use crossterm::event::{KeyEvent, MouseEvent};
use jiff::Timestamp;

/// Something happened. Moments come with it: the model has no clock. What a key means, the screens know.
#[derive(Debug)]
pub enum Msg {
    /// A key was pressed.
    Key(KeyEvent, Timestamp),
    /// The mouse was used.
    Mouse(MouseEvent, Timestamp),
    /// Time went by while something moved.
    Tick(Timestamp),
    /// Text was pasted.
    Paste(String),
    /// An answer to a [`Cmd`].
    Done(Done),
}

/// What came of a [`Cmd`]. An error is the message for the screen.
#[derive(Debug)]
pub enum Done {
    /// The learners.
    Learners(Result<Vec<Learner>, String>),
    /// A learner's record was opened, and a session with it, to practise this.
    Opened(Result<Box<Opened>, String>, Practise),
    /// A learner's record was opened to be looked at.
    Looked(Result<Box<Looked>, String>),
    /// The answer is on the disk, or could not be put there.
    Recorded(Box<Pending>, Result<Stored, String>),
    /// The last answer was taken back, and this is believed without it.
    TakenBack(Result<Box<Beliefs>, String>, Timestamp),
    /// The drills there are, for this learner, and what is wrong with those that cannot be offered.
    Drills(Learner, Vec<Offer>, Option<String>),
    /// The patrol's page was loaded; what was done before, if anything, in words.
    Patrol(Result<Box<Loaded>, String>, Option<String>),
    /// The plan of an evening is in the records, or could not be put there.
    EveningKept(Result<StoredEvening, String>),
    /// What the leader's word can be about.
    CheckWord(Result<Box<CheckWord>, String>),
    /// Who is checked, with what waits for each.
    Queued(Result<Vec<Queued>, String>),
    /// A check was opened, with those who come after.
    CheckOpened(Result<Box<(Learner, Opening)>, String>, Vec<Queued>),
    /// Records were opened for turns.
    TurnsOpened(Result<Vec<Opened>, String>),
    /// Records were opened for a round, on one skill if one was chosen.
    RoundOpened(Result<Vec<Opened>, String>, Option<&'static SkillMeta>),
    /// The answers of a round that are on the disk, and why the rest is not.
    RoundRecorded(Vec<(Pending, Stored)>, Option<String>, Timestamp),
    /// Home ground was set.
    GroundSet(Result<Box<GroundCard>, String>),
    /// The theme was written down.
    ThemeSaved(Result<(), String>),
    /// How far somebody came in a lesson was noted.
    LessonNoted(Result<LessonMark, String>),
    /// A learner's past answers.
    Answers(Result<(Learner, Vec<Attempt>), String>),
    /// The lessons were looked up for a learner.
    Lessons(Result<(Learner, Vec<LessonMark>), String>),
    /// The sheets that were printed, with whose each is; what was done before, if anything, in words.
    Sheets(Result<Vec<(Learner, Sheet)>, String>, Option<String>),
    /// A check was begun, with this sitting; none where another program has begun one meanwhile.
    CheckBegun(Result<Option<SessionId>, String>, Timestamp),
    /// A sheet was put away, and those that are listed now.
    PutAway(Result<(SheetId, Vec<(Learner, Sheet)>), String>),
    /// What was typed of a sheet.
    Scored(Result<Box<Scored>, String>),
    /// A file was written beside the records: what is said of it.
    Written(Result<String, String>),
}

/// A learner's record, to be looked at.
#[derive(Debug)]
pub struct Looked {
    /// Who.
    pub learner: Learner,
    /// What is believed of them.
    pub beliefs: Beliefs,
    /// Where their mix-ups show, if only there.
    pub patterns: Vec<MixupPattern>,
    /// What they have done so far.
    pub progress: Progress,
    /// What was seen of them on the ground, the latest of each skill.
    pub seen: Vec<Seen>,
}

/// Something to do outside the model.
#[derive(Debug)]
pub enum Cmd {
    /// Leave the program.
    Quit,
    /// List the learners.
    LoadLearners,
    /// Add a learner and open a session.
    AddLearner(String, Placement),
    /// Open a session of a learner, to practise this.
    Open(LearnerId, Practise),
    /// Open a learner's record to look at.
    Look(LearnerId),
    /// Find the drills that this learner can be offered on this home ground.
    Drills(Learner, HomeGround),
    /// Put an answer on the disk.
    Record(Box<Pending>),
    /// Take an answer back.
    TakeBack(Slip),
    /// Set home ground to a place as typed.
    SetGround(String),
    /// Write down the theme.
    SaveTheme(&'static str),
    /// Note how far somebody came in a lesson.
    NoteLesson(LearnerId, LessonMark),
    /// Look up a learner's past answers.
    Answers(Learner),
    /// Look up how far a learner came in the lessons.
    Lessons(Learner),
    /// Load the patrol's page.
    Patrol,
    /// Add those of these names, to a patrol if one is shown.
    AddMembers(Vec<String>, Option<PatrolId>),
    /// Give somebody another name.
    RenameMember(LearnerId, String),
    /// Put somebody aside.
    ArchiveMember(LearnerId),
    /// Erase somebody for good.
    EraseMember(LearnerId),
    /// Keep the plan of an evening as it is now.
    KeepEvening(Box<KeptEvening>),
    /// Write down what was seen on the ground, of each member who was seen.
    AddSeen(Vec<Seen>),
    /// Take back what was written down last.
    Undo(Undo),
    /// See which answers of somebody's tries under way could be annulled.
    LostAnswers(LearnerId),
    /// See which waits of somebody could be shortened.
    Waits(LearnerId),
    /// Write down the leader's word about a check.
    Say(Said),
    /// See what waits for those who are to be checked.
    Queue(Vec<LearnerId>),
    /// Open somebody's check; the others come after.
    OpenCheck(LearnerId, Vec<Queued>),
    /// Open the records of those who are in a round, on one skill if one is chosen.
    OpenRound(Vec<LearnerId>, Option<&'static SkillMeta>),
    /// Put the answers of a round on the disk.
    RecordRound(Vec<Pending>, Timestamp),
    /// Open the records of those who take turns.
    OpenTurns(Vec<LearnerId>),
    /// Look up the sheets that were printed for these.
    Sheets(Vec<LearnerId>),
    /// Print a sheet for each of these, with its key.
    PrintSheets(Vec<LearnerId>, SheetsOf, paper::Sheet),
    /// The leader's page, where this is said.
    PatrolAfter(&'static str),
    /// Begin a check before its first problem is shown, at this moment.
    BeginCheck(Box<Unbegun>, Timestamp),
    /// Put this sheet away, and list those of these learners.
    PutSheetAway(Vec<LearnerId>, SheetId),
    /// Take that back, and list them.
    TakeSheetOut(Vec<LearnerId>, SheetId),
    /// Print a map with its key.
    PrintMap(paper::Sheet),
    /// Print pages of a report.
    PrintReport(Box<ReportToPrint>),
    /// Put what was typed of a sheet on the disk.
    Score(Box<Score>),
    /// Copy the records into a file of their own.
    Backup,
}
