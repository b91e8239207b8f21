//! `update(&mut Model, Msg) -> Vec<Cmd>`: keys become a screen's own messages, messages change the model.

use super::input::Input;
use super::model::{Model, Screen};
use super::msg::{Cmd, Done, Msg};
use super::screens::handover::{Handover, Queued};
use super::screens::manage::Manage;
use super::screens::page::LearnerPage;
use super::screens::patrol::PatrolPage;
use super::screens::practice::{Others, PracticeScreen, ended};
use super::screens::round::RoundScreen;
use super::screens::who::Who;
use super::screens::{
    check_end, drills, end, ground, group_end, handover, page, patrol, placement, practice, round, seen, who,
};
use super::scroll::Scroll;
use crate::clerk::{Opened, Opening};
use crate::learner::Recent;
use crate::session::{Flow, Plan, Practice, Round, RoundMember};
use crate::store::Learner;
use crossterm::event::{KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use jiff::Timestamp;
use std::collections::VecDeque;

/// How long turns at the keyboard go on, in minutes.
const TURNS_MINUTES: u32 = 10;

/// Takes in what happened; gives back what has to be done outside.
pub fn update(model: &mut Model, msg: Msg) -> Vec<Cmd> {
    match msg {
        Msg::Key(key, at) => on_key(model, key, at),
        Msg::Mouse(event, at) => match &model.screen {
            Screen::Practice(_) if model.help.is_none() => practice::update(model, practice::Msg::Mouse(event, at)),
            _ => Vec::new(),
        },
        Msg::Tick(now) => practice::update(model, practice::Msg::Tick(now)),
        Msg::Paste(text) => on_paste(model, &text),
        Msg::Who(msg) => who::update(model, msg),
        Msg::Placement(msg) => placement::update(model, msg),
        Msg::Practice(msg) => practice::update(model, msg),
        Msg::End(msg) => end::update(model, msg),
        Msg::Page(msg) => page::update(model, msg),
        Msg::Drills(msg) => drills::update(model, msg),
        Msg::Ground(msg) => ground::update(model, msg),
        Msg::Patrol(msg) => patrol::update(model, msg),
        Msg::Handover(msg) => handover::update(model, msg),
        Msg::CheckEnd(msg) => check_end::update(model, msg),
        Msg::GroupEnd(msg) => group_end::update(model, msg),
        Msg::Seen(msg) => seen::update(model, msg),
        Msg::Round(msg) => round::update(model, msg),
        Msg::Done(done) => on_done(model, done),
    }
}

fn on_key(model: &mut Model, key: KeyEvent, at: Timestamp) -> Vec<Cmd> {
    if key.kind == KeyEventKind::Release {
        return Vec::new();
    }
    if key.modifiers.contains(KeyModifiers::CONTROL) && matches!(key.code, KeyCode::Char('c' | 'C')) {
        return vec![Cmd::Quit];
    }
    model.notice = None;
    // Some terminals send Ctrl-H for Backspace.
    let backspace = key.modifiers.contains(KeyModifiers::CONTROL) && key.code == KeyCode::Char('h');
    let key = if backspace { KeyEvent::from(KeyCode::Backspace) } else { key };
    if let Some(scroll) = &model.help {
        match key.code {
            KeyCode::Down => scroll.by(1),
            KeyCode::Up => scroll.by(-1),
            KeyCode::PageDown => scroll.by(10),
            KeyCode::PageUp => scroll.by(-10),
            _ => model.help = None,
        }
        return Vec::new();
    }
    let asks = key.code == KeyCode::Char('?') && !types_text(model);
    if asks || key.code == KeyCode::F(1) {
        model.help = Some(Scroll::default());
        return Vec::new();
    }
    if key.code == KeyCode::F(2) {
        model.theme = model.theme.next();
        return vec![Cmd::SaveTheme(model.theme.name())];
    }
    let msg = match &model.screen {
        Screen::Who(screen) => screen.on_key(key).map(Msg::Who),
        Screen::Placement(_) => placement::on_key(key).map(Msg::Placement),
        Screen::Practice(screen) => screen.on_key(key, at).map(Msg::Practice),
        Screen::End(_) => end::on_key(key, at).map(Msg::End),
        Screen::Page(_) => page::on_key(key).map(Msg::Page),
        Screen::Drills(_) => drills::on_key(key).map(Msg::Drills),
        Screen::Ground(screen) => screen.on_key(key).map(Msg::Ground),
        Screen::Patrol(screen) => screen.on_key(key).map(Msg::Patrol),
        Screen::Handover(_) => handover::on_key(key).map(Msg::Handover),
        Screen::CheckEnd(_) => check_end::on_key(key).map(Msg::CheckEnd),
        Screen::GroupEnd(_) => group_end::on_key(key).map(Msg::GroupEnd),
        Screen::Seen(screen) => screen.on_key(key).map(Msg::Seen),
        Screen::Round(screen) => screen.on_key(key, at).map(Msg::Round),
    };
    msg.map(|msg| update(model, msg)).unwrap_or_default()
}

/// Whether a line of free text is being typed, where a question mark is a letter. No name begins with one, so in an empty
/// field it asks for help.
fn types_text(model: &Model) -> bool {
    let begun = |name: &Option<Input>| name.as_ref().is_some_and(|name| !name.is_empty());
    match &model.screen {
        Screen::Who(screen) => begun(&screen.name),
        Screen::Patrol(screen) => begun(&screen.name) || screen.manage.as_ref().is_some_and(Manage::types),
        Screen::Seen(screen) => screen.field > 0,
        _ => false,
    }
}

fn on_paste(model: &mut Model, text: &str) -> Vec<Cmd> {
    if model.help.is_some() {
        return Vec::new();
    }
    model.notice = None;
    match &mut model.screen {
        Screen::Who(screen) => screen.paste(text),
        Screen::Practice(screen) => screen.paste(text),
        Screen::Ground(screen) => screen.paste(text),
        Screen::Patrol(screen) => screen.paste(text),
        Screen::Seen(screen) => screen.paste(text),
        Screen::Placement(_)
        | Screen::End(_)
        | Screen::Page(_)
        | Screen::Drills(_)
        | Screen::Handover(_)
        | Screen::CheckEnd(_)
        | Screen::GroupEnd(_)
        | Screen::Round(_) => {}
    }
    Vec::new()
}

fn on_done(model: &mut Model, done: Done) -> Vec<Cmd> {
    match done {
        Done::Learners(Ok(learners)) => {
            model.leader.looks = false;
            model.screen = Screen::Who(Who::new(learners));
        }
        Done::Opened(Ok(opened), drill) => open(model, *opened, drill),
        Done::Looked(Ok(looked)) => {
            model.screen = Screen::Page(Box::new(LearnerPage::new(*looked, model.day)));
        }
        Done::Drills(learner, offers, notice) => {
            model.offers = offers;
            model.screen = Screen::Drills(Box::new(drills::DrillList::new(learner)));
            model.notice = notice;
        }
        Done::Recorded(pending, result) => return practice::recorded(model, *pending, result),
        Done::GroundSet(Ok(card)) => {
            model.plan.home = card.home.clone();
            model.ground = *card;
            model.screen = Screen::Ground(ground::GroundPage::default());
            model.notice = Some("Home ground is set.".to_owned());
        }
        Done::ThemeSaved(Ok(())) => {
            model.notice = Some(format!("Theme: {}. F2 goes to the next one.", model.theme.name()))
        }
        Done::Patrol(Ok(loaded), said) => {
            model.leader.standards = loaded.standards;
            model.leader.chosen = loaded.chosen;
            model.notice = said.or(loaded.notice);
            let mut page = PatrolPage::new(loaded.report, loaded.patrols);
            let place = |id| page.report.members.iter().position(|member| member.learner.id == id);
            page.chosen = loaded.choose.and_then(place).unwrap_or(0);
            if let Screen::Patrol(before) = &model.screen {
                page.columns = before.columns;
            }
            model.screen = Screen::Patrol(Box::new(page));
        }
        Done::Queued(Ok(queue)) if queue.is_empty() => {
            model.notice = Some("Nobody has anything to be asked today by this standard.".to_owned());
        }
        Done::Queued(Ok(queue)) => model.screen = Screen::Handover(Box::new(Handover { queue })),
        Done::CheckOpened(Ok(opened), rest) => return check_opened(model, *opened, rest),
        Done::TurnsOpened(Ok(opened)) => turns(model, opened),
        Done::RoundOpened(Ok(opened)) => round(model, opened),
        Done::RoundRecorded(written, error, now) => return round::recorded(model, written, error, now),
        Done::Patrol(Err(message), _)
        | Done::Queued(Err(message))
        | Done::CheckOpened(Err(message), _)
        | Done::TurnsOpened(Err(message))
        | Done::RoundOpened(Err(message))
        | Done::Learners(Err(message))
        | Done::Opened(Err(message), _)
        | Done::Looked(Err(message))
        | Done::GroundSet(Err(message))
        | Done::ThemeSaved(Err(message)) => model.notice = Some(message),
    }
    Vec::new()
}

fn open(model: &mut Model, opened: Opened, drill: Option<usize>) {
    let plan = model.plan_of(drill);
    let (learner, flow) = practice_of(plan, opened);
    model.screen = begun(PracticeScreen::begin(learner, flow, Others::None, model.still));
}

/// Who practises, and the practice of a plan.
fn practice_of(plan: Plan, opened: Opened) -> (Learner, Flow) {
    let Opened { learner, beliefs, sitting } = opened;
    (learner, Flow::Practice(Box::new(Practice::new(plan, sitting, beliefs))))
}

/// The screen of a practice or a check, or its end when there is nothing to ask.
fn begun(screen: Result<PracticeScreen, Box<PracticeScreen>>) -> Screen {
    match screen {
        Ok(screen) => Screen::Practice(Box::new(screen)),
        Err(screen) => ended(*screen, true),
    }
}

fn check_opened(model: &mut Model, opened: (Learner, Opening), rest: Vec<Queued>) -> Vec<Cmd> {
    match opened {
        (learner, Opening::Check(check)) => {
            let others = Others::Queue(rest);
            model.screen = begun(PracticeScreen::begin(learner, Flow::Check(check), others, model.still));
            Vec::new()
        }
        // Another program was faster: what waits is looked up anew.
        (_, Opening::Later(_)) => vec![Cmd::Queue(rest.iter().map(|queued| queued.learner.id).collect())],
    }
}

/// One problem after the other for all, for ten minutes.
fn round(model: &mut Model, opened: Vec<Opened>) {
    let Some((began, seed)) = opened.first().map(|first| (first.sitting.began, first.sitting.seed)) else { return };
    let plan = Plan { title: "Round".to_owned(), minutes: Some(round::MINUTES), ..model.plan.clone() };
    let (people, members) = opened
        .into_iter()
        .map(|opened| {
            let Opened { learner, beliefs, sitting } = opened;
            (learner, RoundMember { sitting, beliefs, recent: Recent::default() })
        })
        .unzip();
    let round = Round::new(plan, members, began, seed);
    match RoundScreen::begin(round, people, began) {
        Some(screen) => model.screen = Screen::Round(Box::new(screen)),
        None => model.notice = Some("There is no problem for a round among the skills of this ground.".to_owned()),
    }
}

/// Members in turn at the keyboard, for ten minutes, each with problems chosen for that member.
fn turns(model: &mut Model, opened: Vec<Opened>) {
    let plan = Plan { title: "Turns".to_owned(), minutes: Some(TURNS_MINUTES), ..model.plan.clone() };
    let mut waiting: VecDeque<_> = opened.into_iter().map(|opened| practice_of(plan.clone(), opened)).collect();
    if let Some((learner, flow)) = waiting.pop_front() {
        model.screen = begun(PracticeScreen::begin(learner, flow, Others::Turns(waiting), model.still));
    }
}
