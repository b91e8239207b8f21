//! `update(&mut Model, Msg) -> Vec<Cmd>`: keys become a screen's own messages, messages change the model.

use super::keys::{self, Line, On, Press, Table};
use super::model::{Model, Practise, Screen, Shared};
use super::msg::{Cmd, Done, Msg};
use super::page::Next;
use super::screens::answers::AnswersPage;
use super::screens::drills::DrillList;
use super::screens::ground::GroundPage;
use super::screens::handover::{Handover, Queued};
use super::screens::help::Help;
use super::screens::lesson::LessonPage;
use super::screens::lessons::LessonList;
use super::screens::page::LearnerPage;
use super::screens::paper::PaperPage;
use super::screens::patrol::{PatrolPage, Undo};
use super::screens::practice::{Others, PracticeScreen};
use super::screens::round::RoundScreen;
use super::screens::who::Who;
use crate::clerk::{Opened, Opening};
use crate::learner::Recent;
use crate::problem::SkillMeta;
use crate::session::{Flow, Plan, Practice, Round, RoundMember, ended_words};
use crate::store::Learner;
use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use jiff::Timestamp;
use std::collections::VecDeque;

/// What the keys mean that mean the same on every screen.
#[derive(Clone, Copy, Debug)]
pub enum Everywhere {
    /// Open the help.
    Help,
    /// The next theme.
    Theme,
    /// Leave at once.
    Quit,
}

/// The keys that mean the same on every screen. Ctrl-C and `?`, which is a letter in a text, are looked at beforehand.
pub const EVERYWHERE: Table<Everywhere> = &[
    Line::new(&[(On::Letter('?'), Everywhere::Help), (On::Key(KeyCode::F(1)), Everywhere::Help)], "this help")
        .short("?", "help"),
    Line::new(&[(On::Key(KeyCode::F(2)), Everywhere::Theme)], "next theme: dark, day, sun, night, 16 colours, none"),
    Line::new(&[(On::Control('c'), Everywhere::Quit)], "leave at once; answers with a verdict are safe"),
];

/// Whether a key leaves at once, whatever screen there is.
pub(super) fn leaves(key: KeyEvent) -> bool {
    matches!(keys::meaning(EVERYWHERE, key), Some(Everywhere::Quit))
}

/// Takes in what happened; gives back what has to be done outside.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    match msg {
        Msg::Key(key, at) => return on_key(model, key, at),
        Msg::Mouse(event, at) if model.help.is_none() => model.screen.mouse(event, at),
        Msg::Tick(now) => model.screen.tick(now),
        Msg::Paste(text) if model.help.is_none() => {
            model.shared.notice = None;
            model.shared.question = None;
            model.screen.paste(&text);
        }
        // The help covers the screen.
        Msg::Mouse(..) | Msg::Paste(_) => {}
        Msg::Done(done) => {
            let next = on_done(model, done);
            return follow(model, next);
        }
    }
    Vec::new()
}

/// Does what follows.
fn follow(model: &mut Model, next: Next) -> Vec<Cmd> {
    match next {
        Next::Stay => {
            set_aside_for_lesson(model);
            Vec::new()
        }
        Next::Do(command) => vec![command],
        Next::Go(screen) => {
            model.screen = screen;
            set_aside_for_lesson(model);
            Vec::new()
        }
        Next::Aside(screen) => {
            model.behind = Some(std::mem::replace(&mut model.screen, screen));
            Vec::new()
        }
        Next::Back => {
            to_front(model);
            Vec::new()
        }
        Next::BackAnd(command) => {
            to_front(model);
            vec![command]
        }
    }
}

/// Brings the screen to the front that waits behind.
fn to_front(model: &mut Model) {
    if let Some(behind) = model.behind.take() {
        model.screen = behind;
    }
}

/// Before the first problem of its skills a lesson is shown, and the problem waits behind it.
fn set_aside_for_lesson(model: &mut Model) {
    let Screen::Practice(practice) = &mut model.screen else { return };
    let learner = practice.learner.id;
    if let Some(offer) = practice.take_lesson() {
        let lesson = LessonPage::new(offer, learner, &model.shared);
        model.behind = Some(std::mem::replace(&mut model.screen, lesson.into()));
    }
}

fn on_key(model: &mut Model, key: KeyEvent, at: Timestamp) -> Vec<Cmd> {
    if key.kind == KeyEventKind::Release {
        return Vec::new();
    }
    // Some terminals send Ctrl-H for Backspace.
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    let key = if control && key.code == KeyCode::Char('h') { KeyEvent::from(KeyCode::Backspace) } else { key };
    let everywhere = keys::meaning(EVERYWHERE, key);
    if matches!(everywhere, Some(Everywhere::Quit)) {
        return vec![Cmd::Quit];
    }
    model.shared.notice = None;
    let answers = model.shared.question.take();
    if let Some(help) = &mut model.help {
        if !help.press(key, &model.screen) {
            model.help = None;
        }
        return Vec::new();
    }
    match everywhere {
        Some(Everywhere::Help) if key.code == KeyCode::Char('?') && model.screen.types_text() => {}
        Some(Everywhere::Help) => {
            model.help = Some(Help::default());
            return Vec::new();
        }
        Some(Everywhere::Theme) => {
            model.shared.theme = model.shared.theme.next();
            return vec![Cmd::SaveTheme(model.shared.theme.name())];
        }
        Some(Everywhere::Quit) | None => {}
    }
    let in_lesson = matches!(model.screen, Screen::Lesson(_));
    let next = model.screen.press(Press { key, at, answers }, &mut model.shared);
    let commands = follow(model, next);
    if let (true, Screen::Practice(practice)) = (in_lesson, &mut model.screen) {
        practice.flow.lesson_closed(at);
    }
    commands
}

fn on_done(model: &mut Model, done: Done) -> Next {
    let shared = &mut model.shared;
    match done {
        Done::Learners(Ok(learners)) => {
            shared.leader.looks = false;
            return Next::Go(Who::new(learners).into());
        }
        Done::Opened(Ok(opened), what) => return Next::Go(open(shared, *opened, what)),
        Done::Looked(Ok(looked)) => {
            return Next::Go(LearnerPage::new(*looked, shared).into());
        }
        Done::Drills(learner, offers, notice) => {
            shared.offers = offers;
            shared.notice = notice;
            return Next::Go(DrillList::new(learner, shared.offers.len()).into());
        }
        Done::Recorded(pending, result) => {
            if let Screen::Practice(screen) = &mut model.screen {
                return screen.recorded(*pending, result);
            }
        }
        Done::TakenBack(Ok(beliefs), now) => {
            if let Screen::Practice(screen) = &mut model.screen {
                screen.taken_back(*beliefs, now);
            }
        }
        Done::GroundSet(Ok(card)) => {
            shared.plan.home = card.home.clone();
            shared.ground = *card;
            shared.notice = Some("Home ground is set.".to_owned());
            return Next::Go(GroundPage::default().into());
        }
        // What waits behind came to the front already.
        Done::LessonNoted(Ok(mark)) => {
            if let Screen::Lessons(list) = &mut model.screen {
                list.note(mark);
            }
        }
        Done::Answers(Ok((learner, answers))) => return Next::Go(AnswersPage::new(learner, answers).into()),
        Done::Lessons(Ok((learner, marks))) => return Next::Go(LessonList::new(learner, marks).into()),
        Done::ThemeSaved(Ok(())) => {
            shared.notice = Some(format!("Theme: {}. F2 goes to the next one.", shared.theme.name()))
        }
        Done::Patrol(Ok(loaded), said) => {
            shared.leader.standards = loaded.standards;
            shared.leader.chosen = loaded.chosen;
            shared.leader.short = loaded.report.initials.clone();
            shared.leader.undo.extend(loaded.undo);
            shared.leader.evening = loaded.evening;
            shared.notice = said.or(loaded.notice);
            let mut page = PatrolPage::new(loaded.report, loaded.patrols);
            let place = |id| page.report.members.iter().position(|member| member.learner.id == id);
            // The row stays chosen, whatever was done on the screens between.
            shared.leader.member = loaded.choose.or(shared.leader.member);
            page.chosen = shared.leader.member.and_then(place).unwrap_or(0);
            if let Screen::Patrol(before) = &model.screen {
                page.columns = before.columns;
            }
            return Next::Go(page.into());
        }
        Done::EveningKept(done) => {
            if let Screen::Evening(page) = &mut model.screen {
                page.kept(done, shared);
            }
        }
        Done::CheckWord(Ok(form)) => return Next::Go((*form).into()),
        Done::Queued(Ok(queue)) if queue.is_empty() => {
            shared.notice = Some("Nobody has anything to be asked today by this standard.".to_owned());
        }
        Done::Queued(Ok(queue)) => return Next::Go(Handover { queue }.into()),
        Done::CheckOpened(Ok(opened), rest) => return check_opened(shared, *opened, rest),
        Done::CheckBegun(begun, at) => {
            if let Screen::Practice(screen) = &mut model.screen {
                return screen.begun(begun, at);
            }
        }
        Done::TurnsOpened(Ok(opened)) => return turns(shared, opened),
        Done::RoundOpened(Ok(opened), skill) => return round(shared, opened, skill),
        Done::Sheets(Ok(sheets), said) => {
            shared.notice = said;
            match &mut model.screen {
                Screen::Paper(page) => page.refresh(sheets),
                Screen::Patrol(page) => return Next::Go(PaperPage::new(page.report.clone(), sheets).into()),
                _ => {}
            }
        }
        Done::PutAway(Ok((sheet, sheets))) => {
            shared.leader.undo.push(Undo::PutAway(sheet));
            shared.notice = Some("Put away: it is listed no more. u takes that back.".to_owned());
            if let Screen::Paper(page) = &mut model.screen {
                page.refresh(sheets);
            }
        }
        Done::Scored(Ok(scored)) => {
            if let Screen::Sheet(page) = &mut model.screen {
                page.scored(*scored, shared);
            }
        }
        Done::Written(Ok(said)) => shared.notice = Some(said),
        Done::RoundRecorded(written, error, now) => {
            if let Screen::Round(screen) = &mut model.screen {
                return screen.recorded(written, error, now, shared);
            }
        }
        Done::Patrol(Err(message), _)
        | Done::Sheets(Err(message), _)
        | Done::PutAway(Err(message))
        | Done::Scored(Err(message))
        | Done::Written(Err(message))
        | Done::CheckWord(Err(message))
        | Done::Queued(Err(message))
        | Done::CheckOpened(Err(message), _)
        | Done::TurnsOpened(Err(message))
        | Done::RoundOpened(Err(message), _)
        | Done::TakenBack(Err(message), _)
        | Done::Answers(Err(message))
        | Done::Learners(Err(message))
        | Done::Opened(Err(message), _)
        | Done::Looked(Err(message))
        | Done::GroundSet(Err(message))
        | Done::LessonNoted(Err(message))
        | Done::Lessons(Err(message))
        | Done::ThemeSaved(Err(message)) => shared.notice = Some(message),
    }
    Next::Stay
}

fn open(shared: &mut Shared, opened: Opened, what: Practise) -> Screen {
    if !opened.ended.is_empty() {
        shared.notice = Some(opened.ended.iter().map(ended_words).collect::<Vec<_>>().join(" "));
    }
    let (learner, flow) = practice_of(shared.plan_of(what), opened);
    PracticeScreen::begin(learner, flow, Others::None, shared.still)
}

/// Who practises, and the practice of a plan.
fn practice_of(plan: Plan, opened: Opened) -> (Learner, Flow) {
    // Whoever takes turns has others looking on: what ended is no news for them.
    let Opened { learner, beliefs, sitting, last_time, ended: _, lessons } = opened;
    let practice = Practice::new(plan, sitting, beliefs).after(last_time).with_lessons(learner.placement, lessons);
    (learner, Flow::Practice(Box::new(practice)))
}

fn check_opened(shared: &Shared, opened: (Learner, Opening), rest: Vec<Queued>) -> Next {
    match opened {
        (learner, Opening::Check(check)) => {
            Next::Go(PracticeScreen::begin(learner, Flow::Check(check), Others::Queue(rest), shared.still))
        }
        // Another program was faster: what waits is looked up anew.
        (_, Opening::Later(_)) => Next::Do(Cmd::Queue(rest.iter().map(|queued| queued.learner.id).collect())),
    }
}

/// One problem after the other for all.
fn round(shared: &mut Shared, opened: Vec<Opened>, skill: Option<&'static SkillMeta>) -> Next {
    let first = opened.first().map(|first| (first.sitting.began, first.sitting.seed));
    let Some((began, seed)) = first else { return Next::Stay };
    let only: Vec<&'static str> = skill.iter().map(|skill| skill.id).collect();
    let (people, members): (Vec<Learner>, Vec<RoundMember>) = opened
        .into_iter()
        .map(|opened| {
            let Opened { learner, beliefs, sitting, .. } = opened;
            (learner, RoundMember { sitting, beliefs, recent: Recent::default() })
        })
        .unzip();
    let plan = shared.plan.clone().with_skills(&only, None).for_group("Round");
    match RoundScreen::begin(Round::new(plan, members, began, seed), people, began) {
        Some(screen) => Next::Go(screen.into()),
        None => {
            shared.notice = Some("There is no problem for a round among the skills of this ground.".to_owned());
            Next::Stay
        }
    }
}

/// Members in turn at the keyboard, each with problems chosen for that member.
fn turns(shared: &Shared, opened: Vec<Opened>) -> Next {
    let plan = shared.plan.clone().for_group("Turns");
    let mut waiting: VecDeque<_> = opened.into_iter().map(|opened| practice_of(plan.clone(), opened)).collect();
    let Some((learner, flow)) = waiting.pop_front() else { return Next::Stay };
    Next::Go(PracticeScreen::begin(learner, flow, Others::Turns(waiting), shared.still))
}
