//! A first lesson in words: what can be moved is moved by commands, and the figure says what it shows.

use super::lines::{Line, read_line};
use super::practice::Desk;
use super::word_list::words_command;
use crate::lesson::{Figure, Lesson, Site};
use crate::session::{Flow, LessonOffer, LessonVerdict, lesson_mark};
use crate::store::LessonMark;
use crate::words::standing_in;
use std::io;

/// What can be typed on a screen of a lesson.
const COMMANDS: &str = "Type right or left, with a number for more steps; other moves another thing where there is one; next goes on, back goes back; end leaves the lesson, which goes on there next time; skip leaves it for good; words tells what each word means.";

/// What was typed.
enum Typed {
    /// Move so many steps.
    Move(i32),
    /// Move another thing.
    Other,
    Next,
    Back,
    Skip,
    End,
    /// A number, at the question.
    Number(usize),
    Odd,
}

/// Gives the lesson that is offered before the problem being asked, if there is one.
pub(super) fn give(desk: &mut Desk<'_>, flow: &mut Flow) -> io::Result<()> {
    let Flow::Practice(practice) = &*flow else { return desk.say("There are no lessons in a check.") };
    let Some(offer) = flow.lesson() else { return desk.say("There is no lesson before this problem.") };
    let site = practice.plan().home.site(practice.sitting().first_day());
    let mark = lesson(desk, offer, &site)?;
    flow.note_lesson(mark, (desk.now)());
    if let Some(asked) = flow.asked() {
        desk.say("Back to the problem.")?;
        let prompt = asked.problem.prompt().to_owned();
        desk.say(&prompt)?;
    }
    Ok(())
}

/// How far somebody came.
fn lesson(desk: &mut Desk<'_>, offer: LessonOffer, site: &Site) -> io::Result<LessonMark> {
    let LessonOffer { lesson, screen } = offer;
    desk.say(&format!("Lesson {}: {}. {}", lesson.number(), lesson.title, lesson.idea))?;
    desk.say(COMMANDS)?;
    let mut at = screen;
    while let Some(screen) = lesson.screens.get(at) {
        let mut figure = (screen.figure)(site);
        desk.say(&format!("{} of {}. {}", at + 1, lesson.screen_count(), screen.text))?;
        match moving(desk, lesson, figure.as_mut())? {
            Typed::Back => at = at.saturating_sub(1),
            Typed::Skip => return Ok(lesson_mark(lesson, at, true)),
            Typed::End => return Ok(lesson_mark(lesson, at, false)),
            _ => {
                if let Some(missed) = figure.missed() {
                    desk.say(&missed)?;
                }
                at += 1;
            }
        }
    }
    match question(desk, lesson)? {
        Typed::End => Ok(lesson_mark(lesson, at, false)),
        _ => Ok(lesson_mark(lesson, at, true)),
    }
}

/// Moves the figure until the learner goes on, back or away.
fn moving(desk: &mut Desk<'_>, lesson: &Lesson, figure: &mut dyn Figure) -> io::Result<Typed> {
    let mut held = 0;
    desk.say(&figure.says())?;
    loop {
        let knobs = figure.knobs();
        let Some(knob) = knobs.get(held % knobs.len().max(1)) else { return Ok(Typed::Next) };
        match hear(desk, lesson, &format!("Right or left to {}, or next?", knob.name))? {
            Typed::Move(steps) => {
                figure.turn(held, steps * knob.step);
                desk.say(&figure.says())?;
            }
            Typed::Other => held = (held + 1) % knobs.len().max(1),
            Typed::Number(_) | Typed::Odd => desk.say(COMMANDS)?,
            gone => return Ok(gone),
        }
    }
}

fn question(desk: &mut Desk<'_>, lesson: &Lesson) -> io::Result<Typed> {
    let question = &lesson.question;
    desk.say(&format!("{} Nothing is recorded.", question.text))?;
    for (at, choice) in question.choices.iter().enumerate() {
        desk.say(&format!("{}: {choice}", at + 1))?;
    }
    loop {
        match hear(desk, lesson, "Which number?")? {
            Typed::Number(number) if (1..=question.choices.len()).contains(&number) => {
                let LessonVerdict { word, instead, why, .. } = LessonVerdict::of(question, number - 1);
                let parts = [Some(word), instead.as_deref(), Some(why)];
                desk.say(&parts.into_iter().flatten().collect::<Vec<_>>().join(" "))?;
                return Ok(Typed::Next);
            }
            gone @ (Typed::End | Typed::Skip) => return Ok(gone),
            _ => desk.say("Type the number of an answer, or end.")?,
        }
    }
}

/// What is typed next; words that are asked for are told first.
fn hear(desk: &mut Desk<'_>, lesson: &Lesson, asks: &str) -> io::Result<Typed> {
    let text = loop {
        desk.say(asks)?;
        desk.out.flush()?;
        match read_line(desk.input)? {
            Line::Text(text) if words_command(&text).is_some() => {
                desk.words("In this lesson:", &standing_in(&lesson.sentences()), &text)?;
            }
            Line::Text(text) => break text,
            Line::End => return Ok(Typed::End),
            Line::TooLong | Line::NotText => return Ok(Typed::Odd),
        }
    };
    let text = text.to_lowercase();
    let (word, rest) = text.split_once(' ').unwrap_or((&text, ""));
    // At least a step, at most round.
    let steps = rest.trim().parse::<i32>().unwrap_or(1).clamp(1, 360);
    Ok(match word {
        "right" | "r" | "clockwise" => Typed::Move(steps),
        "left" | "l" | "counterclockwise" => Typed::Move(-steps),
        "other" | "o" => Typed::Other,
        "next" | "n" | "" => Typed::Next,
        "back" | "b" => Typed::Back,
        "skip" => Typed::Skip,
        "end" | "quit" | "exit" => Typed::End,
        number => number.parse().map_or(Typed::Odd, Typed::Number),
    })
}
