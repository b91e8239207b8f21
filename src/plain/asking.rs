//! Putting a question, writing the answer down, and only then telling what it was.

use super::dial::{read_turn, to_turn, turn, turn_in_words};
use super::lesson::give;
use super::lines::{Line, read_line};
use super::practice::{Desk, PlainError, store_error};
use super::table::{Worked, work};
use super::word_list::{WORDS_COMMAND, first_word_lines, words_command};
use super::words::{asks, figure_line, long_list, step_lines, told_lines};
use crate::angle::Angle;
use crate::clerk;
use crate::problem::{AnswerErrorKind, Field, capital};
use crate::session::{
    AFTER_HINT, ANSWERED_ELSEWHERE, Asked, Flow, GroundCard, HINT_COMMAND, Pending, Slip, Support, TRIAL, UNDO_COMMAND,
    not_judged,
};
use crate::store::{AttemptKind, Store};
use crate::textfile::unshowable;
use std::io;

/// Said to `undo` where it has nothing to take back.
pub(super) const NOTHING_TO_UNDO: &str =
    "There is nothing to take back: only the last wrong answer in practice can be, once in each skill and sitting.";

/// Said to `hint` in a check.
pub(super) const NO_HINTS: &str = "There are no hints in a check.";

/// What was typed at a question.
enum Heard {
    Answer(String),
    Hint,
    Again,
    List,
    /// All words of the trade, or one.
    Words(String),
    Help,
    Lesson,
    Undo,
    End,
    /// Nothing that could be an answer; why.
    Odd(&'static str),
}

/// What became of a question.
pub(super) enum Answered {
    /// It was answered and told.
    Told,
    /// The answer before it is taken back.
    TakeBack(Slip),
    /// A trial is over: nothing was recorded.
    Tried,
    /// The learner ends.
    End,
}

/// What was typed into a field, if it is an answer.
enum Filled {
    Text(String),
    TakeBack(Slip),
    End,
}

/// Puts the question until it is answered and told, or the learner does something else.
pub(super) fn answer(desk: &mut Desk<'_>, store: &mut Store, flow: &mut Flow) -> Result<Answered, PlainError> {
    if let Some(table) = flow.asked().and_then(|asked| asked.table.clone()) {
        let moves = match work(desk, flow, &table)? {
            Worked::Done(moves) => moves,
            Worked::TakeBack(slip) => return Ok(Answered::TakeBack(slip)),
            Worked::End => return Ok(Answered::End),
        };
        if flow.is_trial() {
            flow.trial_over((desk.now)());
            return Ok(Answered::Tried);
        }
        let Some(pending) = flow.answer_with_moves(&moves, (desk.now)()) else { return Ok(Answered::End) };
        return tell(desk, store, flow, pending);
    }
    let fields: Vec<Field> = flow.asked().map_or(Vec::new(), |asked| asked.problem.question().fields().to_vec());
    let mut texts: Vec<Option<String>> = vec![None; fields.len()];
    let pending = loop {
        for (field, text) in fields.iter().zip(&mut texts) {
            if text.is_none() {
                match ask(desk, flow, field)? {
                    Filled::Text(heard) => *text = Some(heard),
                    Filled::TakeBack(slip) => return Ok(Answered::TakeBack(slip)),
                    Filled::End => return Ok(Answered::End),
                }
            }
        }
        let given: Vec<&str> = texts.iter().flatten().map(String::as_str).collect();
        match flow.answer(&given, (desk.now)()) {
            Ok(Some(pending)) => break pending,
            // Nothing is being asked: nothing to judge.
            Ok(None) => return Ok(Answered::End),
            Err(error) => {
                desk.say(&not_judged(&error.kind))?;
                let at = fields.iter().position(|field| field.label == error.field);
                match at.and_then(|at| texts.get_mut(at)) {
                    Some(text) => *text = None,
                    None => texts.fill(None),
                }
            }
        }
    };
    tell(desk, store, flow, pending)
}

/// Writes an answer down, and only then tells what it was.
fn tell(desk: &mut Desk<'_>, store: &mut Store, flow: &mut Flow, pending: Pending) -> Result<Answered, PlainError> {
    let stored = clerk::record(store, &pending).map_err(store_error(flow.answered()))?;
    let twice = stored.twice;
    match flow.confirm(pending, stored) {
        _ if twice => desk.say(ANSWERED_ELSEWHERE)?,
        Some(told) => {
            desk.say("")?;
            desk.lines(told_lines(told))?;
        }
        None => desk.say("Your answer is recorded.")?,
    }
    // While it is read there is time to put the answers into the one file.
    desk.out.flush()?;
    store.pause(true);
    Ok(Answered::Told)
}

/// Asks for one field until something comes that can be read.
fn ask(desk: &mut Desk<'_>, flow: &mut Flow, field: &Field) -> io::Result<Filled> {
    let mut dial = flow.asked().and_then(|asked| to_turn(asked.problem.question(), &asked.figure));
    let start = dial.as_ref().map_or(Angle::ZERO, |dial| dial.reading);
    let question = match dial {
        Some(_) => "How do you turn the dial".to_owned(),
        None => capital(&asks(field)),
    };
    // What else can be typed is said with the question, but not again with each repetition.
    let mut more = match (&dial, long_list(field)) {
        (Some(_), _) => " Type a turn, like 20 clockwise, as often as you need, then set. Start puts the dial back.",
        (None, Some(_)) => " Type list to hear them.",
        (None, None) => "",
    };
    // The number is not told again after a turn: it would only have to be compared with the one in the text.
    let mut turns: Vec<String> = Vec::new();
    loop {
        match desk.hear(&question, std::mem::take(&mut more))? {
            Heard::Answer(text) => match (&mut dial, read_turn(&text), text.to_lowercase().as_str()) {
                (Some(dial), Some(clockwise), _) => {
                    turn(dial, clockwise);
                    turns.push(turn_in_words(clockwise));
                    desk.say(&format!("Turned from the start: {}.", turns.join(", then ")))?;
                }
                (Some(_), None, "set") if turns.is_empty() => {
                    desk.say("The dial was not turned yet. Type a turn, like 20 clockwise.")?;
                }
                (Some(dial), None, "set") => return Ok(Filled::Text(dial.reading.degrees().to_string())),
                (Some(dial), None, "start") => {
                    dial.reading = start;
                    turns.clear();
                    desk.say("The dial stands as it did at the start.")?;
                }
                (Some(_), None, _) => {
                    desk.say(
                        "This dial is turned, not typed. Type a turn, like 20 clockwise, and set when it is done.",
                    )?;
                }
                (None, ..) => match field.check(&text) {
                    Ok(()) => return Ok(Filled::Text(text)),
                    Err(kind) => desk.say(&refused(&kind, field))?,
                },
            },
            Heard::Odd(why) => desk.say(why)?,
            Heard::End => return Ok(Filled::End),
            Heard::Undo => match flow.slip() {
                Some(slip) => return Ok(Filled::TakeBack(slip)),
                None => desk.say(NOTHING_TO_UNDO)?,
            },
            Heard::Help => {
                desk.say("Type the answer and press Enter. A bearing can be 65, 065 or 065 M.")?;
                desk.help(flow, Some("list: the words to choose from, where there are many."))?;
            }
            Heard::Lesson => give(desk, flow)?,
            Heard::Words(text) => desk.word_list(flow, &text)?,
            Heard::List => match long_list(field) {
                Some(list) => desk.say(&list)?,
                None => desk.say("There is no list here.")?,
            },
            Heard::Again => {
                if let Some(asked) = flow.asked() {
                    desk.question(asked)?;
                    if let Some(hint) = &asked.hint {
                        desk.say(&format!("Hint: {hint}"))?;
                    }
                }
            }
            Heard::Hint => match flow.hint().map(str::to_owned) {
                Some(hint) => {
                    desk.say(&format!("Hint: {hint}"))?;
                    desk.say(AFTER_HINT)?;
                }
                None => desk.say(NO_HINTS)?,
            },
        }
    }
}

/// Why a text was refused. A long list of words is not read out for one slip.
fn refused(kind: &AnswerErrorKind, field: &Field) -> String {
    match (kind, long_list(field)) {
        (AnswerErrorKind::Word(_), Some(_)) => {
            "That is none of the names; type list to hear them. Nothing was recorded.".to_owned()
        }
        _ => not_judged(kind),
    }
}

impl Desk<'_> {
    /// A line; control characters never reach the terminal, wherever a text came from.
    pub(super) fn say(&mut self, line: &str) -> io::Result<()> {
        if line.chars().any(unshowable) {
            let clean: String = line.chars().map(|c| if unshowable(c) { '\u{fffd}' } else { c }).collect();
            return writeln!(self.out, "{clean}");
        }
        writeln!(self.out, "{line}")
    }

    pub(super) fn lines(&mut self, lines: Vec<String>) -> io::Result<()> {
        lines.iter().try_for_each(|line| self.say(line))
    }

    /// Number, skill, reason, place, help that comes unasked, and the question.
    pub(super) fn problem(
        &mut self,
        asked: &Asked,
        of: &str,
        ground: &GroundCard,
        kind: AttemptKind,
    ) -> io::Result<()> {
        let (code, skill) = (asked.problem.code(), asked.problem.skill());
        self.say(&format!("Problem {}{of}: {}, level {}.", asked.number, skill.title, code.level))?;
        if let Some(opening) = &asked.opening {
            self.say(opening)?;
        }
        if !asked.reason.is_empty() {
            self.say(&format!("Why this one: {}.", asked.reason))?;
        }
        match (skill.on_home, code.home.is_some()) {
            (true, true) => self.say(&format!("Place: home ground, {}.", ground.home.name))?,
            (true, false) => self.say("Place: elsewhere.")?,
            // Work at the table has a declination of its own.
            (false, _) if asked.table.is_some() => self.say("Place: elsewhere.")?,
            (false, _) => {}
        }
        // In a check it is told when the try has ended: with it a second terminal would tell the solution.
        if kind != AttemptKind::Check {
            self.say(&format!("Code: {code}"))?;
        }
        if let Support::Example(example) = &asked.support {
            self.say("First, one worked through.")?;
            self.say(example.prompt())?;
            self.lines(figure_line(&example.figure()).into_iter().collect())?;
            self.lines(first_word_lines(&asked.words))?;
            self.lines(step_lines(example.steps()))?;
            self.say("Now one for you.")?;
        } else {
            self.lines(first_word_lines(&asked.words))?;
        }
        self.question(asked)
    }

    /// The problem whose answer was taken back.
    pub(super) fn problem_again(&mut self, asked: &Asked) -> io::Result<()> {
        self.say(&format!("Problem {} again.", asked.number))?;
        if let Some(opening) = &asked.opening {
            self.say(opening)?;
        }
        self.question(asked)
    }

    /// A trial, which has no number.
    pub(super) fn trial(&mut self, asked: &Asked) -> io::Result<()> {
        let (code, skill) = (asked.problem.code(), asked.problem.skill());
        self.say(&format!("A trial: {}, level {}.", skill.title, code.level))?;
        self.say(&[TRIAL, "skip leaves it."].join(" "))?;
        self.say("Place: elsewhere.")?;
        self.question(asked)
    }

    /// The question with its figure and the help beside it.
    fn question(&mut self, asked: &Asked) -> io::Result<()> {
        self.say(asked.problem.prompt())?;
        self.lines(figure_line(&asked.figure).into_iter().collect())?;
        match &asked.support {
            Support::Blanks(steps) => {
                self.say("The way, with gaps for you:")?;
                self.lines(step_lines(steps))
            }
            Support::Reminder(mend) => self.say(&format!("Remember from last time: {mend}")),
            Support::Example(_) | Support::Bare => Ok(()),
        }
    }

    /// What can be typed beside an answer; in a check only what does something there.
    pub(super) fn help(&mut self, flow: &Flow, list: Option<&str>) -> io::Result<()> {
        let in_practice = matches!(flow, Flow::Practice(_));
        if in_practice {
            self.say(HINT_COMMAND)?;
            self.say(UNDO_COMMAND)?;
        }
        self.say("again: the question once more.")?;
        if in_practice {
            self.say("lesson: the first lesson before this problem, where there is one.")?;
        }
        if let Some(list) = list {
            self.say(list)?;
        }
        if in_practice {
            self.say(WORDS_COMMAND)?;
            return self.say("end: end the practice. Everything answered is kept.");
        }
        self.say("end: leave. Everything answered is kept, and you can go on later with this very problem.")?;
        self.say("A check shows what you can do alone: it has no hints, no lessons and no word list.")
    }

    /// Asks and reads a line.
    fn hear(&mut self, question: &str, more: &str) -> io::Result<Heard> {
        self.say(&format!("{question}?{more}"))?;
        self.out.flush()?;
        Ok(match read_line(self.input)? {
            Line::End => Heard::End,
            Line::TooLong => Heard::Odd("That line is far longer than an answer. Nothing was recorded."),
            Line::NotText => Heard::Odd(
                "There are signs in that line that cannot be read. Type digits and plain letters, like 065. Nothing was recorded.",
            ),
            Line::Text(text) if words_command(&text).is_some() => Heard::Words(text),
            Line::Text(text) => match text.to_lowercase().as_str() {
                "hint" => Heard::Hint,
                "again" => Heard::Again,
                "list" => Heard::List,
                "help" | "?" => Heard::Help,
                "lesson" => Heard::Lesson,
                "undo" => Heard::Undo,
                "end" | "quit" | "exit" => Heard::End,
                _ => Heard::Answer(text),
            },
        })
    }
}
