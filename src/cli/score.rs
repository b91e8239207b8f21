//! `needlewise score`: what stands on a worksheet is typed in, by the digits of its key or as it was answered.

use super::args::ScoreArgs;
use super::context::Context;
use super::fault::{Fault, clean};
use super::page::Page;
use super::patrol::live;
use crate::clerk::{self, Now};
use crate::problem::{Problem, realise};
use crate::session::{Entry, MemberAnswer, Sitting, Slip, and_words, entered_words, key_lines};
use crate::skills;
use crate::store::{Learner, Sheet, SheetWord, Store};
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
    if args.put_away || args.back {
        return scoring.put_away(context, &mut store, args.put_away);
    }
    if entries.is_empty() && args.undo.is_empty() {
        return ask(context, &mut store, &mut scoring);
    }
    // All of it is read before the first is written, so that a slip in the last loses nothing.
    let undone: Vec<usize> = args.undo.iter().map(|problem| scoring.entered(problem)).collect::<Result<_, Fault>>()?;
    let mut read: Vec<(usize, Entry)> = Vec::with_capacity(entries.len());
    for (problem, typed) in entries {
        let (at, number) = scoring.place(problem).map(|at| (at, at + 1))?;
        if read.iter().any(|(known, _)| *known == at) {
            return Err(Fault::Input(format!("problem {number} stands here twice; nothing was written")));
        }
        if scoring.is_entered(at) && !undone.contains(&at) {
            return Err(Fault::Input(format!(
                "problem {number} was typed in before; take it back first with --undo {number}"
            )));
        }
        let entry = Entry::read(typed, &scoring.problems[at]).map_err(|error| {
            Fault::Input(format!("problem {number}: {}: {error}; nothing was written", shown(typed)))
        })?;
        read.push((at, entry));
    }
    for at in undone {
        scoring.undo(context, &mut store, at)?;
    }
    let mut sitting = None;
    for (at, entry) in read {
        let said = scoring.write(context, &mut store, &mut sitting, at, &entry)?;
        say(&said)?;
    }
    scoring.rest()
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
                "no sheet was printed for {name}; print one with `needlewise worksheet --learner {} --output sheet.pdf`",
                as_typed(&name)
            )));
        }
        let count = sheets.len();
        let has = |sheet: &Sheet, code: &str| sheet.codes.iter().any(|one| one.eq_ignore_ascii_case(code));
        let by_code = code.and_then(|code| sheets.iter().position(|sheet| has(sheet, code)));
        // A code that stands on somebody else's sheet is no slip of the keyboard.
        if let Some(code) = code.filter(|code| by_code.is_none() && code.parse::<usize>().is_err()) {
            for other in store.learners()? {
                let sheets = store.sheets(other.id)?;
                let found =
                    sheets.iter().find_map(|sheet| sheet.codes.iter().position(|one| one.eq_ignore_ascii_case(code)));
                if let Some(at) = found {
                    let (name, number) = (clean(&other.name), at + 1);
                    return Err(Fault::Input(format!(
                        "{} is problem {number} of {name}'s sheet; needlewise score --learner {} {number}=…",
                        shown(code),
                        as_typed(&name)
                    )));
                }
            }
        }
        if let Some(code) = code.filter(|code| by_code.is_none() && code.trim().parse::<usize>().is_err()) {
            let codes = sheets.iter().flat_map(|sheet| &sheet.codes).map(String::as_str);
            let meant = nearest(code, codes).map(|near| format!("; did you mean {near}?")).unwrap_or_default();
            let name = clean(&learner.name);
            let sheets = if count == 1 { "sheet" } else { "sheets" };
            return Err(Fault::Input(format!("{} is no problem of {name}'s {sheets}{meant}", shown(code))));
        }
        // What was put away is meant only where that is to be taken back, or where its number or a code names it.
        let open: Vec<usize> =
            (0..count).filter(|at| if args.back { sheets[*at].put_away } else { sheets[*at].is_awaited() }).collect();
        let at = match (args.sheet, by_code, open.as_slice()) {
            (Some(number), ..) => number.checked_sub(1).filter(|at| *at < count).ok_or_else(|| {
                let sheets = if count == 1 { "sheet" } else { "sheets" };
                Fault::Input(format!(
                    "--sheet {number}: {} has {count} {sheets}, 1 is the latest",
                    clean(&learner.name)
                ))
            })?,
            (None, Some(at), _) => at,
            (None, None, [one]) => *one,
            (None, None, []) if args.back => {
                return Err(Fault::Input(format!("no sheet of {}'s was put away", clean(&learner.name))));
            }
            (None, None, []) => match sheets.iter().position(|sheet| !sheet.put_away) {
                Some(at) => at,
                None => {
                    return Err(Fault::Input(format!(
                        "every sheet of {}'s was put away; `needlewise score --learner {} --sheet 1 --back` takes that back",
                        clean(&learner.name),
                        as_typed(&clean(&learner.name))
                    )));
                }
            },
            // Which one lies on the table nobody can know.
            (None, None, several) => {
                let listed: Vec<String> = several.iter().map(|at| sheet_words(*at, &sheets[*at])).collect();
                let (name, many, listed) = (clean(&learner.name), several.len(), listed.join("; "));
                return Err(Fault::Input(if args.back {
                    format!("{name} has {many} sheets that were put away; say which with --sheet N: {listed}")
                } else {
                    format!(
                        "{name} has {many} sheets with open problems; say which with --sheet N: {listed}. One that will not come back is put away with --put-away"
                    )
                }));
            }
        };
        let sheet = sheets.into_iter().nth(at).ok_or_else(|| Fault::Input("there is no such sheet".to_owned()))?;
        return Scoring::of(learner, sheet);
    }
    let Some(code) = code else {
        return Err(Fault::Input(
            "say whose sheet it is with --learner NAME, or name a problem by its code".to_owned(),
        ));
    };
    let (mut codes, mut found) = (Vec::new(), Vec::new());
    for learner in store.learners()? {
        let sheets = store.sheets(learner.id)?;
        codes.extend(sheets.iter().flat_map(|sheet| sheet.codes.clone()));
        let has = |sheet: &Sheet| sheet.codes.iter().any(|one| one.eq_ignore_ascii_case(code));
        found.extend(sheets.into_iter().find(has).map(|sheet| (learner, sheet)));
    }
    // Sheets of one print may have the same problems.
    if found.len() > 1 {
        let names: Vec<String> = found.iter().map(|(learner, _)| clean(&learner.name)).collect();
        let names = and_words(&names.iter().map(String::as_str).collect::<Vec<_>>());
        return Err(Fault::Input(format!(
            "{} is on the sheets of {names}; say whose with --learner NAME",
            shown(code)
        )));
    }
    if let Some((learner, sheet)) = found.pop() {
        return Scoring::of(learner, sheet);
    }
    let meant = nearest(code, codes.iter().map(String::as_str)).map(|near| format!(" Did you mean {near}?"));
    let meant = meant.unwrap_or_else(|| " Say whose sheet it is with --learner NAME.".to_owned());
    Err(Fault::Input(format!("no sheet that was printed here has a problem {}.{meant}", shown(code))))
}

/// `1 of 2026-11-29, from A5-1-903598-v3 on, 8 open`.
fn sheet_words(at: usize, sheet: &Sheet) -> String {
    let first = sheet.codes.first().map_or("", String::as_str);
    format!("{} of {}, from {first} on, {} open", at + 1, sheet.day, sheet.open().count())
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
        Ok(clerk::open_practice(store, self.learner.id, now(context), Some("worksheet".to_owned()), 0)?.sitting)
    }

    /// Puts the sheet away, or takes that back.
    fn put_away(&mut self, context: &Context, store: &mut Store, away: bool) -> Result<(), Fault> {
        let word = if away { SheetWord::PutAway } else { SheetWord::TakenOut };
        clerk::say_of_sheet(store, self.sheet.id, &word, &now(context))?;
        self.sheet.put_away = away;
        let (name, day) = (clean(&self.learner.name), self.sheet.day);
        say(&match away {
            true => format!(
                "{name}'s sheet of {day} is put away: it is listed no more. needlewise score --learner {} --back takes that back.",
                as_typed(&name)
            ),
            false => format!("{name}'s sheet of {day} is listed again: {} open.", self.sheet.open().count()),
        })
    }

    /// Writes an entry down, and says what it was. Whoever only looks, or did nothing, needs no sitting.
    fn write(
        &mut self,
        context: &Context,
        store: &mut Store,
        sitting: &mut Option<Sitting>,
        at: usize,
        entry: &Entry,
    ) -> Result<String, Fault> {
        if self.sheet.put_away {
            // It came back, after all.
            clerk::say_of_sheet(store, self.sheet.id, &SheetWord::TakenOut, &now(context))?;
            self.sheet.put_away = false;
        }
        let problem = &self.problems[at];
        if *entry == Entry::Marked(MemberAnswer::Absent) {
            let word = SheetWord::NotDone(problem.code().to_string());
            clerk::say_of_sheet(store, self.sheet.id, &word, &now(context))?;
            self.sheet.not_done.retain(|known| *known != at);
            self.sheet.not_done.push(at);
            return Ok(format!("{}: not done", at + 1));
        }
        let sitting = match sitting {
            Some(sitting) => sitting,
            None => sitting.insert(self.sitting(context, store)?),
        };
        let judged = entry.judged(problem, sitting, Timestamp::now());
        let judged = judged.map_err(|error| Fault::Input(format!("problem {}: {error}", at + 1)))?;
        let Some(pending) = judged else { return Ok(format!("{}: not done", at + 1)) };
        let recorded = clerk::record_on_sheet(store, &pending, self.sheet.id)?;
        let verdict = pending.attempt.verdict.clone();
        let said = entered_words(problem, &verdict);
        self.sheet.not_done.retain(|known| *known != at);
        self.sheet.entered.push((at, recorded.id, verdict));
        Ok(format!("{}: {said}", at + 1))
    }

    /// Whether something was typed in of the problem at a place.
    fn is_entered(&self, at: usize) -> bool {
        self.sheet.entered.iter().any(|(entered, ..)| *entered == at)
    }

    /// Where a problem stands of which something was typed in.
    fn entered(&self, problem: &str) -> Result<usize, Fault> {
        let at = self.place(problem)?;
        if self.is_entered(at) || self.sheet.not_done.contains(&at) {
            return Ok(at);
        }
        Err(Fault::Input(format!("nothing was typed in of problem {}", at + 1)))
    }

    /// Takes back what was typed in of the problem at a place, if anything was.
    fn undo(&mut self, context: &Context, store: &mut Store, at: usize) -> Result<(), Fault> {
        let place = self.sheet.entered.iter().position(|(entered, ..)| *entered == at);
        if let Some(place) = place {
            let slip = Slip { learner: self.learner.id, attempt: self.sheet.entered[place].1, day: context.day };
            clerk::take_back(store, slip, Timestamp::now())?;
            self.sheet.entered.remove(place);
        } else if !self.sheet.not_done.contains(&at) {
            return Ok(());
        }
        // What was said before it was typed in does not come up again.
        let code = self.problems[at].code().to_string();
        clerk::reopen(store, self.learner.id, self.sheet.id, &code, &now(context))?;
        self.sheet.not_done.retain(|known| *known != at);
        say(&format!("{}: taken back", at + 1))
    }

    /// How far the sheet is.
    fn rest(&self) -> Result<(), Fault> {
        let right = self.sheet.entered.iter().filter(|(_, _, verdict)| verdict.is_right()).count();
        let (entered, open) = (self.sheet.entered.len(), self.sheet.open().count());
        let (name, day) = (clean(&self.learner.name), self.sheet.day);
        let skipped = match self.sheet.not_done.len() {
            0 => String::new(),
            skipped => format!("{skipped} not done, "),
        };
        say(&format!(
            "{name}, sheet of {day}: {right} of {entered} right so far, {skipped}{open} open. It counts as practice on paper; who is ready is found by a check."
        ))
    }
}

/// Asks for each open problem, one line each; `back` goes to the one before, `end` or the end of the input stops. Each is written down as soon as it is
/// typed.
fn ask(context: &Context, store: &mut Store, scoring: &mut Scoring) -> Result<(), Fault> {
    let open: Vec<usize> = scoring.sheet.open().collect();
    if open.is_empty() {
        say("Every problem of this sheet is typed in, or not done. --undo PROBLEM takes one back.")?;
        return scoring.rest();
    }
    say(&format!(
        "{}'s sheet of {}: type the digit, or the answer with its unit; - is not done, back takes the last one back, end stops.",
        clean(&scoring.learner.name),
        scoring.sheet.day
    ))?;
    let mut sitting = None;
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
                scoring.undo(context, store, open[next])?;
            }
            typed => match Entry::read(typed, &scoring.problems[at]) {
                Ok(entry) => {
                    let said = scoring.write(context, store, &mut sitting, at, &entry)?;
                    say(&said)?;
                    next += 1;
                }
                Err(error) => say(&clean(&error.to_string()))?,
            },
        }
    }
    scoring.rest()
}

/// A problem with what can stand beside it: its number, its code, and the key's digits.
fn key(problem: &Problem, at: usize) -> String {
    const COLUMN: usize = 4;
    let mut page = Page::default();
    page.line("");
    page.hanging(&format!("{}.", at + 1), COLUMN, &format!("{} ({})", problem.skill().title, problem.code()));
    for (digit, words) in key_lines(problem) {
        page.hanging(&format!("{digit:>3}"), COLUMN + 2, &words);
    }
    page.0.trim_end().to_owned()
}

/// A name as it is typed on a command line: in quotation marks where blanks would tear it apart.
fn as_typed(name: &str) -> String {
    if name.contains(' ') { format!("\"{name}\"") } else { name.to_owned() }
}

fn now(context: &Context) -> Now {
    Now { days: context.days(), at: Timestamp::now() }
}

fn say(line: &str) -> Result<(), Fault> {
    let mut out = io::stdout().lock();
    Ok(writeln!(out, "{line}").and_then(|()| out.flush())?)
}
