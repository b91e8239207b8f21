//! The whole state of the program's screens.

use super::screens::round::RoundScreen;
use super::screens::{check_end::CheckEndPage, group_end::GroupEnd, handover::Handover, seen::SeenForm};
use super::screens::{drills::DrillList, end::EndPage, ground::GroundPage, page::LearnerPage, placement::Placing};
use super::screens::{patrol::Leader, patrol::PatrolPage, practice::PracticeScreen, who::Who};
use super::scroll::Scroll;
use super::theme::Theme;
use crate::session::{GroundCard, Plan};
use crate::store::Learner;
use jiff::civil::Date;

/// What is on the screen.
#[derive(Debug)]
pub enum Screen {
    /// Who is there?
    Who(Who),
    /// Where does a new learner begin?
    Placement(Placing),
    /// Practice.
    Practice(Box<PracticeScreen>),
    /// The end of a session.
    End(Box<EndPage>),
    /// A learner's page.
    Page(Box<LearnerPage>),
    /// The list of drills.
    Drills(Box<DrillList>),
    /// Home ground.
    Ground(GroundPage),
    /// The patrol: who is ready, and what to teach next.
    Patrol(Box<PatrolPage>),
    /// Between two who are checked.
    Handover(Box<Handover>),
    /// The end of somebody's check.
    CheckEnd(Box<CheckEndPage>),
    /// The end of a round or of turns.
    GroupEnd(Box<GroupEnd>),
    /// Writing down what was seen on the ground.
    Seen(Box<SeenForm>),
    /// A round for the group.
    Round(Box<RoundScreen>),
}

/// A plan that can be chosen on the list of drills.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// One sentence about it.
    pub about: String,
    /// The plan.
    pub plan: Plan,
}

/// The state.
#[derive(Debug)]
pub struct Model {
    /// What is on the screen.
    pub screen: Screen,
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
    /// Whether the help lies over the screen, and how far it is scrolled.
    pub help: Option<Scroll>,
    /// Whether nothing moves by itself: no needle swings.
    pub still: bool,
    /// A message on the line above the keys, until the next key.
    pub notice: Option<String>,
}

impl Model {
    /// The program as it opens: who is there?
    #[must_use]
    pub fn new(learners: Vec<Learner>, ground: GroundCard, plan: Plan, theme: Theme) -> Model {
        let day = ground.day;
        Model {
            screen: Screen::Who(Who::new(learners)),
            theme,
            day,
            ground,
            plan,
            offers: Vec::new(),
            leader: Leader::default(),
            help: None,
            still: false,
            notice: None,
        }
    }

    /// Whether something on the screen moves by itself just now.
    #[must_use]
    pub fn moves_by_itself(&self) -> bool {
        match &self.screen {
            Screen::Practice(screen) => screen.desk.as_ref().is_some_and(super::screens::table::Desk::moves_by_itself),
            _ => false,
        }
    }

    /// Whether there is something that the mouse could turn.
    #[must_use]
    pub fn wants_mouse(&self) -> bool {
        matches!(&self.screen, Screen::Practice(screen) if screen.desk.is_some())
    }

    /// The plan of a drill, or of free practice.
    #[must_use]
    pub fn plan_of(&self, drill: Option<usize>) -> Plan {
        drill.and_then(|at| self.offers.get(at)).map_or_else(|| self.plan.clone(), |offer| offer.plan.clone())
    }
}
