//! The whole state of the program's screens.

use super::keys::{self, Listed, Press, Question, State};
use super::page::{Next, Page};
use super::paint::Painter;
use super::screens::check_word::CheckWord;
use super::screens::help::Help;
use super::screens::{answers::AnswersPage, lesson::LessonPage, lessons::LessonList};
use super::screens::{check_end::CheckEndPage, group_end::GroupEnd, handover::Handover, seen::SeenForm};
use super::screens::{drills::DrillList, end::EndPage, evening::EveningPage, games::GamesPage, ground::GroundPage};
use super::screens::{page::LearnerPage, placement::Placing};
use super::screens::{
    paper::PaperPage, patrol::Leader, patrol::PatrolPage, practice::PracticeScreen, round::RoundScreen,
    round_choice::RoundChoice, sheet::SheetPage, who::Who, world::WorldPage,
};
use super::theme::Theme;
use crate::problem::{Level, SkillMeta};
use crate::session::{GroundCard, Plan};
use crate::store::Learner;
use crossterm::event::MouseEvent;
use jiff::Timestamp;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// Writes the enum of all screens, and passes on to the one that is shown. This is the only list of them.
macro_rules! screens {
    ($($(#[$doc:meta])* $name:ident($page:ty),)*) => {
        /// What is on the screen.
        #[derive(Debug)]
        pub enum Screen {
            $($(#[$doc])* $name(Box<$page>),)*
        }

        $(impl From<$page> for Screen {
            fn from(page: $page) -> Screen {
                Screen::$name(Box::new(page))
            }
        })*

        impl Screen {
            /// The keys of all screens, state by state.
            #[must_use]
            pub fn tables() -> Vec<State> {
                let mut all = Vec::new();
                $(all.extend(<$page as Page>::TABLES.iter().map(|(heading, table)| State::new(heading, table)));)*
                all
            }

            /// Takes in a key; one that means nothing here changes nothing.
            pub(super) fn press(&mut self, press: Press, shared: &mut Shared) -> Next {
                match self {
                    $(Screen::$name(page) => match keys::meaning(page.keys(), press.key) {
                        Some(msg) => page.update(msg, press, shared),
                        None => Next::Stay,
                    },)*
                }
            }

            /// The keys in the present state.
            #[must_use]
            pub fn keys(&self) -> Vec<Listed> {
                match self {
                    $(Screen::$name(page) => keys::listed(page.keys(), |msg| page.offers(msg)),)*
                }
            }

            /// Draws the picture: with or without the two rows that most screens leave free.
            pub(super) fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, body: Rect, tall: Rect) {
                match self {
                    $(Screen::$name(page) => {
                        page.view(shared, painter, if <$page as Page>::TALL { tall } else { body });
                    })*
                }
            }

            pub(super) fn title(&self, shared: &Shared) -> (String, String) {
                match self { $(Screen::$name(page) => page.title(shared),)* }
            }

            pub(super) fn types_text(&self) -> bool {
                match self { $(Screen::$name(page) => page.types_text(),)* }
            }

            pub(super) fn paste(&mut self, text: &str) {
                match self { $(Screen::$name(page) => page.paste(text),)* }
            }

            pub(super) fn wants_mouse(&self) -> bool {
                match self { $(Screen::$name(page) => page.wants_mouse(),)* }
            }

            pub(super) fn mouse(&mut self, event: MouseEvent, at: Timestamp) {
                match self { $(Screen::$name(page) => page.mouse(event, at),)* }
            }

            /// Whether something on the screen moves by itself just now.
            #[must_use]
            pub fn moves_by_itself(&self) -> bool {
                match self { $(Screen::$name(page) => page.moves_by_itself(),)* }
            }

            pub(super) fn tick(&mut self, now: Timestamp) {
                match self { $(Screen::$name(page) => page.tick(now),)* }
            }
        }
    };
}

screens! {
    /// Who is there?
    Who(Who),
    /// Where does a new learner begin?
    Placement(Placing),
    /// Practice, and checks.
    Practice(PracticeScreen),
    /// The end of a session.
    End(EndPage),
    /// A learner's page.
    Page(LearnerPage),
    /// Past answers.
    Answers(AnswersPage),
    /// A first lesson.
    Lesson(LessonPage),
    /// The lessons there are.
    Lessons(LessonList),
    /// The list of drills.
    Drills(DrillList),
    /// Home ground.
    Ground(GroundPage),
    /// The world, on which it is picked.
    World(WorldPage),
    /// The patrol: who is ready, and what to teach next.
    Patrol(PatrolPage),
    /// The games for a group.
    Games(GamesPage),
    /// The plan for an evening.
    Evening(EveningPage),
    /// Writing down what was seen on the ground.
    Seen(SeenForm),
    /// Sheets and maps to print, and sheets that came back.
    Paper(PaperPage),
    /// One of them is typed in.
    Sheet(SheetPage),
    /// Between two who are checked.
    Handover(Handover),
    /// The end of somebody's check.
    CheckEnd(CheckEndPage),
    /// The leader's word about a check.
    CheckWord(CheckWord),
    /// What a round is about.
    RoundChoice(RoundChoice),
    /// A round for the group.
    Round(RoundScreen),
    /// The end of a round or of turns.
    GroupEnd(GroupEnd),
}

/// A plan that can be chosen on the list of drills.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// One sentence about it.
    pub about: String,
    /// The plan.
    pub plan: Plan,
}

/// What somebody wants to practise.
#[derive(Clone, Copy, Debug)]
pub enum Practise {
    /// What the program thinks best, or what was asked for when it was started.
    Best,
    /// A drill, by its place among the offers.
    Drill(usize),
    /// One skill, at a level or at the learner's own.
    Skill(&'static SkillMeta, Option<Level>),
}

/// What all screens share.
#[derive(Debug)]
pub struct Shared {
    /// The theme.
    pub theme: Theme,
    /// The learner's day.
    pub day: Date,
    /// Home ground.
    pub ground: GroundCard,
    /// What practice is made of when no drill is chosen.
    pub plan: Plan,
    /// The drills, as found when the list was opened last.
    pub offers: Vec<Offer>,
    /// What the leader has chosen.
    pub leader: Leader,
    /// Whether nothing moves by itself: no needle swings, nothing is seen on its way.
    pub still: bool,
    /// A message on the line above the keys, until the next key.
    pub notice: Option<String>,
    /// What that message asks, if it asks something.
    pub question: Option<Question>,
}

impl Shared {
    /// Asks something on the line above the keys; the next key answers it.
    pub fn ask(&mut self, question: Question, words: String) {
        (self.question, self.notice) = (Some(question), Some(words));
    }

    /// The plan for what somebody wants to practise.
    #[must_use]
    pub fn plan_of(&self, what: Practise) -> Plan {
        match what {
            Practise::Drill(at) => self.offers.get(at).map_or_else(|| self.plan.clone(), |offer| offer.plan.clone()),
            Practise::Skill(skill, level) => self.plan.clone().with_skills(&[skill.id], level),
            Practise::Best => self.plan.clone(),
        }
    }
}

/// The state.
#[derive(Debug)]
pub struct Model {
    /// What is on the screen.
    pub screen: Screen,
    /// The screen that waits behind this one, if one does.
    pub behind: Option<Screen>,
    /// The help, where it lies over the screen.
    pub help: Option<Help>,
    /// What does not go with the screen.
    pub shared: Shared,
}

impl Model {
    /// The program as it opens: who is there?
    #[must_use]
    pub fn new(learners: Vec<Learner>, ground: GroundCard, plan: Plan, theme: Theme) -> Model {
        let day = ground.day;
        Model {
            screen: Who::new(learners).into(),
            behind: None,
            help: None,
            shared: Shared {
                theme,
                day,
                ground,
                plan,
                offers: Vec::new(),
                leader: Leader::default(),
                still: false,
                notice: None,
                question: None,
            },
        }
    }
}
