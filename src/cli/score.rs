//! `needlewise score`: what stands on a worksheet is typed in, by the digits of its key or as it was answered.

use super::args::ScoreArgs;
use super::context::Context;
use super::fault::{Fault, clean};
use super::page::Page;
use super::patrol::live;
use crate::clerk::{self, Now};
use crate::problem::{Problem, realise};
use crate::session::{Entry, Sitting, Slip};
use crate::skills;
use crate::store::{Learner, Sheet, Store};
use crate::textfile::{nearest, shown};
use jiff::Timestamp;
use std::io::{self, BufRead, Write};

/// A sheet being typed in.
struct Scoring {
    learner: Learner,
    sheet: Sheet,
    problems: Vec<Problem>,
}

/// Runs the command.
pub(super) fn run(context: &Context, args: &ScoreArgs) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let entries: Vec<(&str, &str)> = args.entries.iter().map(|entry| split(entry)).collect::<Result<_, Fault>>()?;
    let first = entries.first().map(|(problem, _)| *problem).or(args.undo.first().map(String::as_str));
    let mut scoring = find(&store, args, first)?;
    for problem in &args.undo {
        undo(context, &mut store, &mut scoring, problem)?;
    }
    if entries.is_empty() && args.undo.is_empty() {
        return ask(context, &mut store, &mut scoring);
    }
    // All of them are read before the first is written, so that a slip in the last loses nothing.
    let mut read = Vec::with_capacity(entries.len());
    for (problem, typed) in entries {
        let at = scoring.place(problem)?;
        if scoring.sheet.entered.iter().any(|(entered, ..)| *entered == at) {
            let problem = at + 1;
            return Err(Fault::Input(format!(
                "problem {problem} was typed in before; take it back first with --undo {problem}"
            )));
        }
        let entry = Entry::read(typed, &scoring.problems[at])
            .map_err(|error| Fault::Input(format!("problem {}: {}: {error}", at + 1, shown(typed))))?;
        read.push((at, entry));
    }
    let sitting = scoring.sitting(context, &mut store)?;
    for (at, entry) in read {
        let said = scoring.write(&mut store, &sitting, at, &entry)?;
        say(&said)?;
    }
    scoring.rest(&store)
}

/// `4=065` in its two halves.
fn split(entry: &str) -> Result<(&str, &str), Fault> {
    entry.split_once('=').ok_or_else(|| {
        Fault::Input(format!(
            "{} has no =; write the problem's number or code, =, and the digit, like 3=1",
            shown(entry)
        ))
    })
}

/// The sheet that is meant: the named learner's, or the one on which a code stands.
fn find(store: &Store, args: &ScoreArgs, code: Option<&str>) -> Result<Scoring, Fault> {
    if let Some(name) = &args.learner {
        let learner = live(store, name)?;
        let sheets = store.sheets(learner.id)?;
        if sheets.is_empty() {
            let name = clean(&learner.name);
            return Err(Fault::Input(format!(
                "no sheet was printed for {name}; print one with `needlewise worksheet --learner {name} --output sheet.pdf`"
            )));
        }
        let count = sheets.len();
        let by_code = code.and_then(|code| sheets.iter().position(|sheet| sheet.codes.iter().any(|one| one == code)));
        let open = sheets.iter().position(|sheet| sheet.open().next().is_some());
        let at = match args.sheet {
            Some(number) => number.checked_sub(1).filter(|at| *at < count).ok_or_else(|| {
                let sheets = if count == 1 { "sheet" } else { "sheets" };
                Fault::Input(format!(
                    "--sheet {number}: {} has {count} {sheets}, 1 is the latest",
                    clean(&learner.name)
                ))
            })?,
            None => by_code.or(open).unwrap_or(0),
        };
        let sheet = sheets.into_iter().nth(at).ok_or_else(|| Fault::Input("there is no such sheet".to_owned()))?;
        return Scoring::of(learner, sheet);
    }
    let Some(code) = code else {
        return Err(Fault::Input(
            "say whose sheet it is with --learner NAME, or name a problem by its code".to_owned(),
        ));
    };
    let mut codes = Vec::new();
    for learner in store.learners()? {
        for sheet in store.sheets(learner.id)? {
            if sheet.codes.iter().any(|one| one.eq_ignore_ascii_case(code)) {
                return Scoring::of(learner, sheet);
            }
            codes.extend(sheet.codes);
        }
    }
    let meant = nearest(code, codes.iter().map(String::as_str)).map(|near| format!(" Did you mean {near}?"));
    let meant = meant.unwrap_or_else(|| " Say whose sheet it is with --learner NAME.".to_owned());
    Err(Fault::Input(format!("no sheet that was printed here has a problem {}.{meant}", shown(code))))
}

impl Scoring {
    fn of(learner: Learner, sheet: Sheet) -> Result<Scoring, Fault> {
        let problems = sheet
            .codes
            .iter()
            .map(|code| {
                let known = skills::read_code(code).map_err(Fault::input)?;
                realise(&known).map_err(Fault::input)
            })
            .collect::<Result<_, Fault>>()?;
        Ok(Scoring { learner, sheet, problems })
    }

    /// Where a problem stands, by its number or its code.
    fn place(&self, problem: &str) -> Result<usize, Fault> {
        let count = self.problems.len();
        if let Ok(number) = problem.trim().parse::<usize>() {
            return number
                .checked_sub(1)
                .filter(|at| *at < count)
                .ok_or_else(|| Fault::Input(format!("there is no problem {number}: the sheet has {count}")));
        }
        let codes = || self.sheet.codes.iter().map(String::as_str);
        codes().position(|code| code.eq_ignore_ascii_case(problem.trim())).ok_or_else(|| {
            let meant = nearest(problem, codes()).map(|near| format!("; did you mean {near}?")).unwrap_or_default();
            Fault::Input(format!("{} is no problem of {}'s sheet{meant}", shown(problem), clean(&self.learner.name)))
        })
    }

    fn sitting(&self, context: &Context, store: &mut Store) -> Result<Sitting, Fault> {
        let now = Now { days: context.days(), at: Timestamp::now() };
        Ok(clerk::open_practice(store, self.learner.id, now, Some("worksheet".to_owned()), 0)?.sitting)
    }

    /// Writes an entry down, and says what it was.
    fn write(&mut self, store: &mut Store, sitting: &Sitting, at: usize, entry: &Entry) -> Result<String, Fault> {
        let problem = &self.problems[at];
        let judged = entry.judged(problem, sitting, Timestamp::now());
        let judged = judged.map_err(|error| Fault::Input(format!("problem {}: {error}", at + 1)))?;
        let Some(pending) = judged else { return Ok(format!("{}: not done", at + 1)) };
        let recorded = clerk::record_on_sheet(store, &pending, self.sheet.id)?;
        let verdict = pending.attempt.verdict.clone();
        let said = match verdict.mixup().and_then(|id| problem.skill().mixup(id)) {
            Some(mixup) => format!("wrong, {}", mixup.said),
            None if verdict.is_right() => "right".to_owned(),
            None => "wrong, in no way that is known".to_owned(),
        };
        self.sheet.entered.push((at, recorded.id, verdict));
        Ok(format!("{}: {said}", at + 1))
    }

    /// How far the sheet is.
    fn rest(&self, store: &Store) -> Result<(), Fault> {
        let sheets = store.sheets(self.learner.id)?;
        let open = sheets.iter().find(|sheet| sheet.id == self.sheet.id).map_or(0, |sheet| sheet.open().count());
        let right = self.sheet.entered.iter().filter(|(_, _, verdict)| verdict.is_right()).count();
        let name = clean(&self.learner.name);
        say(&format!(
            "{name}: {right} of {} right so far, {open} open. It counts as practice on paper; who is ready is found by a check.",
            self.sheet.entered.len()
        ))
    }
}

fn undo(context: &Context, store: &mut Store, scoring: &mut Scoring, problem: &str) -> Result<(), Fault> {
    let at = scoring.place(problem)?;
    let Some(place) = scoring.sheet.entered.iter().position(|(entered, ..)| *entered == at) else {
        return Err(Fault::Input(format!("nothing was typed in of problem {}", at + 1)));
    };
    let (_, attempt, _) = scoring.sheet.entered.remove(place);
    let slip = Slip { learner: scoring.learner.id, attempt, day: context.day };
    clerk::take_back(store, slip, Timestamp::now())?;
    say(&format!("{}: taken back", at + 1))
}

/// Asks for each open problem, one line each; `back` goes to the one before, `end` or the end of the input stops. Each is written down as soon as it is
/// typed.
fn ask(context: &Context, store: &mut Store, scoring: &mut Scoring) -> Result<(), Fault> {
    let open: Vec<usize> = scoring.sheet.open().collect();
    if open.is_empty() {
        say("Every problem of this sheet is typed in. --undo PROBLEM takes one back.")?;
        return scoring.rest(store);
    }
    say(&format!(
        "{}'s sheet of {}: type the number, or the answer; - is not done, back takes the last one back, end stops.",
        clean(&scoring.learner.name),
        scoring.sheet.day
    ))?;
    let sitting = scoring.sitting(context, store)?;
    let mut input = io::stdin().lock();
    let (mut next, mut line) = (0, String::new());
    while let Some(at) = open.get(next).copied() {
        say(&key(&scoring.problems[at], at))?;
        line.clear();
        if input.read_line(&mut line)? == 0 {
            break;
        }
        match line.trim() {
            "end" => break,
            "back" if next == 0 => say("This is the first problem.")?,
            "back" => {
                next -= 1;
                let before = open[next];
                if scoring.sheet.entered.iter().any(|(entered, ..)| *entered == before) {
                    undo(context, store, scoring, &(before + 1).to_string())?;
                }
            }
            typed => match Entry::read(typed, &scoring.problems[at]) {
                Ok(entry) => {
                    let said = scoring.write(store, &sitting, at, &entry)?;
                    say(&said)?;
                    next += 1;
                }
                Err(error) => say(&clean(&error.to_string()))?,
            },
        }
    }
    scoring.rest(store)
}

/// A problem with what can stand beside it: its number, its code, and the key's digits.
fn key(problem: &Problem, at: usize) -> String {
    const COLUMN: usize = 4;
    let mut page = Page::default();
    page.line("");
    page.hanging(&format!("{}.", at + 1), COLUMN, &format!("{} ({})", problem.skill().title, problem.code()));
    let question = problem.question();
    page.hanging("  1", COLUMN + 2, &format!("right: {}", question.words(problem.answer())));
    for (digit, mixup) in (2..).zip(problem.mixups()) {
        page.hanging(
            &format!("  {digit}"),
            COLUMN + 2,
            &format!("{}: {}", question.words(&mixup.answer), mixup.meta.said),
        );
    }
    page.hanging("  0", COLUMN + 2, "anything else");
    page.0.trim_end().to_owned()
}

fn say(line: &str) -> Result<(), Fault> {
    let mut out = io::stdout().lock();
    Ok(writeln!(out, "{line}").and_then(|()| out.flush())?)
}
