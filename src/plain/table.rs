//! The map table in words: what lies how is said after each command.

use super::asking::{NO_HINTS, NOTHING_TO_UNDO};
use super::lesson::give;
use super::lines::{Line, read_line};
use super::practice::Desk;
use super::word_list::words_command;
use crate::maptable::{Doubt, Move, Stands, Table, Task, describe, describe_lines, describe_view, parse_command, see};
use crate::problem::TableProblem;
use crate::session::{AFTER_HINT, Flow, Slip, sentence};
use std::io;

/// What came of the work at the table.
pub(super) enum Worked {
    /// These moves are to be judged.
    Done(Vec<Move>),
    /// The answer before is taken back.
    TakeBack(Slip),
    /// The learner ends the flow.
    End,
}

/// Takes commands until the work is done.
pub(super) fn work(desk: &mut Desk<'_>, flow: &mut Flow, table: &TableProblem) -> io::Result<Worked> {
    let exercise = &table.exercise;
    let names: Vec<&str> = match &exercise.task {
        Task::Follow { landmarks, .. } => landmarks.iter().map(|mark| &*mark.name).collect(),
        _ => Vec::new(),
    };
    let (mut now, mut moves, mut read) = (exercise.start, Vec::new(), 0);
    desk.say(commands(&exercise.task))?;
    state(desk, table, &now)?;
    loop {
        desk.say("What do you do?")?;
        desk.out.flush()?;
        let text = match read_line(desk.input)? {
            Line::End => return Ok(Worked::End),
            Line::TooLong | Line::NotText => {
                desk.say("That line cannot be read. Type a command, or help.")?;
                continue;
            }
            Line::Text(text) => text,
        };
        if words_command(&text).is_some() {
            desk.word_list(flow, &text)?;
            continue;
        }
        match text.to_lowercase().as_str() {
            "end" | "quit" | "exit" => return Ok(Worked::End),
            "skip" if flow.is_trial() => return Ok(Worked::Done(moves)),
            "help" | "?" => {
                desk.say(commands(&exercise.task))?;
                desk.help(flow, None)?;
                continue;
            }
            "again" => {
                if let Some(asked) = flow.asked() {
                    let prompt = asked.problem.prompt().to_owned();
                    desk.say(&prompt)?;
                }
                state(desk, table, &now)?;
                continue;
            }
            "undo" => match flow.slip() {
                Some(slip) => return Ok(Worked::TakeBack(slip)),
                None => {
                    desk.say(NOTHING_TO_UNDO)?;
                    continue;
                }
            },
            "lesson" => {
                give(desk, flow)?;
                continue;
            }
            "hint" => {
                match flow.hint().map(str::to_owned) {
                    Some(hint) => {
                        desk.say(&format!("Hint: {hint}"))?;
                        desk.say(AFTER_HINT)?;
                    }
                    None => desk.say(NO_HINTS)?,
                }
                continue;
            }
            _ => {}
        }
        let made = match parse_command(&text, &names) {
            Ok(made) => made.rounded(),
            Err(error) => {
                desk.say(&sentence(&error.to_string()))?;
                continue;
            }
        };
        if let Some(instead) = pointless(table, made, moves.is_empty(), read) {
            desk.say(instead)?;
            continue;
        }
        match now.after(made, &exercise.lines) {
            Ok(after) => now = after,
            Err(error) => {
                desk.say(&sentence(&error.to_string()))?;
                continue;
            }
        }
        moves.push(made);
        read += usize::from(matches!(made, Move::Read(_)));
        let legs = exercise.readings();
        let all_read = legs > 0 && read >= legs;
        let second = exercise.second_north().filter(|_| !matches!(made, Move::Bearing(_)));
        let said = all_read && second.is_none() && !exercise.asks_trust();
        if made == Move::Done || matches!(made, Move::Choose(_) | Move::Say(_) | Move::Trust(_)) || said {
            return Ok(Worked::Done(moves));
        }
        if all_read && matches!(made, Move::Read(_)) {
            match second {
                Some(north) => {
                    desk.say(&format!("And which {} bearing is that? For instance: bearing 065.", north.word()))?;
                }
                None => desk.say("And can the needle be trusted here? Type trust, or doubt.")?,
            }
            continue;
        }
        state(desk, table, &now)?;
    }
}

/// What to do instead of a move that leads nowhere in this task.
fn pointless(table: &TableProblem, made: Move, first: bool, read: usize) -> Option<&'static str> {
    let on_map =
        matches!(made, Move::Edge(..) | Move::TurnMap(_) | Move::TurnCompass(_) | Move::TurnBoth(_) | Move::TakeUp);
    match (&table.exercise.task, made) {
        (Task::Follow { .. }, Move::Done) => Some("Say what lies ahead, for instance: choose 1."),
        (Task::BackSight { .. }, Move::Done) => Some("Say where you stand to the line: left, on or right."),
        (Task::BackSight { doubt: Doubt::NotAsked, .. }, Move::Say(Stands::CannotTell)) => {
            Some("No iron is near here: say left, on or right.")
        }
        (Task::Around(_), made) if !matches!(made, Move::TurnMap(_) | Move::Done) => {
            Some("There is no compass here: turn the map, for instance: map clockwise 10.")
        }
        (Task::Take(_), Move::Done | Move::Trust(_)) if read == 0 => {
            Some("First say what the dial shows, for instance: read 065.")
        }
        (Task::Take(_), made) if table.exercise.asks_trust() && read > 0 && !matches!(made, Move::Trust(_)) => {
            Some("Say whether the needle can be trusted here: trust, or doubt.")
        }
        (_, Move::Trust(_)) if !table.exercise.asks_trust() => Some("That is not asked here."),
        (_, Move::Bearing(_)) if table.exercise.second_north().is_none() => {
            Some("Say what you read at the index line, for instance: read 065.")
        }
        (_, Move::Bearing(_) | Move::Done) if table.exercise.second_north().is_some() && read == 0 => {
            Some("First say what the dial shows, for instance: read 065.")
        }
        (_, made) if table.exercise.second_north().is_some() && read > 0 && !matches!(made, Move::Bearing(_)) => {
            Some("Say which bearing that is, for instance: bearing 065.")
        }
        (_, Move::Done) if first => Some("Nothing was done yet. Nothing was recorded."),
        _ if on_map && table.map.is_none() => {
            Some("There is no map here: you hold the compass in your hand. Turn the dial, or yourself.")
        }
        _ => None,
    }
}

fn state(desk: &mut Desk<'_>, table: &TableProblem, now: &Table) -> io::Result<()> {
    lying(table, now).iter().try_for_each(|line| desk.say(line))
}

/// How everything lies on the map table, in sentences.
#[must_use]
pub fn lying(table: &TableProblem, now: &Table) -> Vec<String> {
    let exercise = &table.exercise;
    if exercise.around().is_some() {
        return describe_view(exercise, now).into_iter().collect();
    }
    let seen = see(now, &exercise.site(), &exercise.lines);
    let mut lines = vec![describe(&seen)];
    if let Task::MapBearing { north, .. } = &exercise.task {
        lines.push(describe_lines(&seen, *north, exercise.drawn(*north)));
    }
    lines.extend(describe_view(exercise, now));
    lines
}

/// The commands of a task.
const fn commands(task: &Task) -> &'static str {
    match task {
        Task::Orient(_) => {
            "Commands: dial 343; edge true, edge grid, edge magnetic (add back to turn the travel arrow round); map, compass or both, like both clockwise 10; up takes the compass up; done."
        }
        Task::OrientedBearing { .. } | Task::MapBearing { .. } => {
            "Commands: edge P Q (add back to turn the travel arrow round); dial clockwise 10, dial 65; map or compass, like map clockwise 10; up takes the compass up; read 065 says what you read."
        }
        Task::Follow { .. } => {
            "Commands: dial 134; myself clockwise 10; choose the hut, or choose 1, says what lies ahead."
        }
        Task::BackSight { doubt: Doubt::NotAsked, .. } => {
            "Commands: dial 134; myself clockwise 10; left, on or right says where you stand to the line."
        }
        Task::BackSight { .. } => {
            "Commands: dial 134; myself clockwise 10; left, on or right says where you stand to the line; cannot says that it cannot be told here."
        }
        Task::Around(_) => "Commands: map clockwise 10, map counterclockwise 10; done.",
        Task::Take(_) => {
            "Commands: myself clockwise 10 turns you with the compass; dial clockwise 10, dial 65; read 065 says what you read at the index line."
        }
        Task::SetDial { .. } => "Commands: dial clockwise 10, dial 65; done.",
    }
}
