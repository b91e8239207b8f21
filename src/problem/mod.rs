//! Problems: one generated question with its figure, its right answer, its worked steps and its mix-ups.
//!
//! What lives here: the parts of a problem, the [`Code`] that regenerates it, the seeded [`Draw`], the traits that a
//! skill implements, and the judging of an answer. What does not: the skills themselves ([`crate::skills`]), and
//! anything about a learner, a day or a place: a problem is a function of its code alone.

mod amounts;
mod answer;
mod code;
mod describe;
mod draw;
mod drawing;
mod facts;
mod field;
mod figure;
mod generator;
mod glance;
mod item;
mod json;
mod judge;
mod map_figure;
mod meaning;
mod meta;
mod mixup;
mod named;
mod paper_edge;
mod protractor;
mod question;
mod reading;
mod romer;
mod step;
mod table;
mod verdict;
mod words;

pub use answer::{Answer, MapPoint, Value};
pub use code::{Code, CodeError, HomeAngles};
pub use draw::Draw;
pub use drawing::TEXT_MM;
pub use facts::{Fact, FactName, FactValue, Facts, Wanted};
pub use field::{Choices, Field, FieldKind, Fields, LengthUnit, Tolerance};
pub use figure::{
    Arc, DialFigure, DriftFigure, EndsFigure, Figure, LineRole, Needle, NorthLine, PlanFigure, PlanKind, PlanLine,
    PlanPlace, Prong, Ray, SketchLine, TurnFigure,
};
pub use generator::{Generator, ProblemError, Skill, realise};
pub use item::{OtherWay, Paths, Problem};
pub use json::{AnswerJson, ProblemJson, VerdictJson};
pub use judge::{Judgement, judge};
pub use map_figure::{BoldLine, MapFigure, MapPlace, MapRay, MapTool};
pub use meaning::TableMeaning;
pub use meta::{Family, Level, MixupClass, MixupId, MixupMeta, NOT_WRAPPED, NorthLines, SkillMeta, WRONG_NORTH};
pub use mixup::{Mixup, MixupList};
pub use named::NamedError;
pub use paper_edge::PaperEdge;
pub use protractor::Protractor;
pub use question::Question;
pub use reading::{AnswerError, AnswerErrorKind};
pub use romer::Romer;
pub use step::{FigurePart, Step, Tells};
pub use table::{MarkedPlace, NEEDLE_ENDS, STANDS, STANDS_OR_NOT, TRUST, TableProblem, TableVerdict};
pub use verdict::{Slip, Verdict};
pub use words::{capital, small};
