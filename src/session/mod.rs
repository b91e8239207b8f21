//! The flow of practice, checks and rounds, shared by all front ends: pure, with the time passed in and nothing written.
//!
//! What lives here: what a practice is made of ([`Plan`]), what comes next (`next`), the problem being asked ([`Asked`]) with the words told first, an
//! answer on its way to the disk ([`Pending`]), the verdict in words ([`Told`]), the end ([`Summary`]), and what is known of
//! a learner as a page ([`Overview`]). What does not: belief and choice ([`crate::learner`]), the file ([`crate::store`]; a
//! flow meets it in [`crate::clerk`]) and anything about a screen.

mod answering;
mod asked;
mod check;
mod days;
mod fading;
mod first_words;
mod flow;
mod ground;
mod group;
mod headway;
mod lessons;
mod next;
mod opening;
mod overview;
mod partly;
mod pattern;
mod plan;
mod practice;
mod round;
mod scoring;
mod sheets;
mod summary;
mod told;
mod words;

pub use answering::{Pending, Sitting, Slip, Stored, answered_words};
pub use asked::{Asked, Support};
pub use check::{
    Annulled, Begin, Changes, Check, CheckEnd, KnownCheck, Missed, NOTHING_ASKED, OpenAnswer, Readiness, Record,
    Sittings, SkillEnd, SkillRecord, TRIAL, TRIAL_OVER, Terms, TermsSkill, Unbegun, WaitChange, Which, annulling_words,
    came_back_words, first_day_words, plan_words, shortening_words, untold, with_annulled,
};
pub use days::Days;
pub use flow::Flow;
pub use ground::{DayRule, DayRules, GroundCard, change_words, prongs};
pub use group::{GROUP_ELSEWHERE, GROUP_MINUTES, GroupTally, group_over, your_turn};
pub use headway::{Headway, Outing, answers_words, progress_words};
pub use lessons::{LessonOffer, LessonVerdict, lesson_mark};
pub use next::is_written_skill;
pub use overview::{Overview, OverviewFamily, OverviewSkill, and_words, no_pattern_words, weak_spot_words};
pub use pattern::{PATTERN_ATTEMPTS, pattern_words};
pub use plan::{HomeGround, Plan};
pub use practice::Practice;
pub use round::{MemberAnswer, PAPER_CARE, Round, RoundMember, RoundProblem};
pub use scoring::{Entry, EntryError, entered_words, key_lines, typed_in_words};
pub use sheets::{LeftOut, SHEET_PROBLEMS, Sheets};
pub use summary::{SkillLine, Summary};
pub use told::{Told, ToldTable, not_judged, sentence};
pub use words::{
    AFTER_HINT, ANSWERED_ELSEWHERE, DAY_GIVEN_RESULT, GROUND_TOO, HINT_COMMAND, NO_PERMISSION, SAFETY,
    STANDARD_CHANGED, UNDO_COMMAND, clock_far_ahead, clock_went_back, day_words, days_words, ended_words,
    ground_sentence, ground_words, invented_for_learner, invented_words, name_put_aside, taken_back_words,
};
