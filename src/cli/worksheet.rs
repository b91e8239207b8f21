//! `needlewise worksheet`: problems on paper for each learner, with a key.

use super::context::Context;
use super::fault::{Fault, clean};
use super::output::{may_write, missing_words, no_pdf_on_a_terminal, put, sheet};
use super::page::Page;
use super::paper_args::{SheetFormat, WorksheetArgs};
use super::pick;
use crate::clerk;
use crate::drill::Drill;
use crate::learner::{Beliefs, Placement};
use crate::paper::Printed;
use crate::plain::figure_line;
use crate::problem::SkillMeta;
use crate::session::{Plan, SAFETY, Sheets};
use crate::skills;
use crate::store::Store;
use crate::worksheet::{Asked, HOW_TO, LearnerSheet, MARKING, Told, Worksheet, printed};
use std::fmt::Write as _;
use std::io::{self, Write};

/// Problems on a sheet where nothing else is said: two pages, and some forty minutes.
const COUNT: u16 = 8;
/// Seeds that nobody gave are smaller than this, short enough to type.
const SEEDS: u64 = 1_000_000;

/// Runs the command.
pub(super) fn run(context: &Context, args: &WorksheetArgs) -> Result<(), Fault> {
    let format = format(args)?;
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let worksheet = chosen(context, args)?;
    match format {
        SheetFormat::Text => put(args.output.as_deref(), text(&worksheet).as_bytes())?,
        SheetFormat::Pdf => {
            let printed = printed(&worksheet, sheet(args.paper));
            put(args.output.as_deref(), &printed.bytes)?;
            if args.output.is_some() {
                say(&worksheet, &printed, args)?;
            }
        }
    }
    remember(context, &worksheet)
}

/// Writes down whose sheet has which problems, so that what comes back on paper can be typed in by number.
fn remember(context: &Context, worksheet: &Worksheet) -> Result<(), Fault> {
    let named: Vec<(&String, &LearnerSheet)> =
        worksheet.sheets.iter().filter_map(|sheet| Some((sheet.name.as_ref()?, sheet))).collect();
    if named.is_empty() {
        return Ok(());
    }
    let metas: Vec<&'static SkillMeta> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    for (name, sheet) in named {
        let learner = super::patrol::live(&store, name)?;
        let codes: Vec<String> = sheet.problems.iter().map(|problem| problem.code().to_string()).collect();
        store.add_sheet(learner.id, &codes, context.day, jiff::Timestamp::now())?;
    }
    Ok(())
}

/// The format asked for, or that of the file's name. A PDF never goes to a terminal.
fn format(args: &WorksheetArgs) -> Result<SheetFormat, Fault> {
    let is_text = args.output.as_ref().is_some_and(|file| file.extension().is_some_and(|end| end == "txt"));
    let format = args.format.unwrap_or(if is_text { SheetFormat::Text } else { SheetFormat::Pdf });
    if format == SheetFormat::Pdf {
        no_pdf_on_a_terminal(args.output.as_deref(), ", or ask for --format text")?;
    }
    Ok(format)
}

/// What was written, and what must be known of it.
fn say(worksheet: &Worksheet, printed: &Printed, args: &WorksheetArgs) -> Result<(), Fault> {
    let sheets = counted(worksheet.sheets.len(), "sheet");
    let file = args.output.as_ref().map(|file| clean(&file.display().to_string())).unwrap_or_default();
    let mut page = Page::default();
    let keys = if worksheet.sheets.len() == 1 { "its key" } else { "the keys" };
    page.line(&format!("{file}: {sheets} and {keys}, {} (seed {}).", counted(printed.pages, "page"), worksheet.seed));
    if let Some(left_out) = worksheet.left_out_words() {
        page.paragraph(&left_out);
    }
    if let Some(missing) = missing_words(printed) {
        page.paragraph(&missing);
    }
    Ok(io::stdout().lock().write_all(page.0.as_bytes())?)
}

fn counted(count: usize, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}

/// The sheets.
fn chosen(context: &Context, args: &WorksheetArgs) -> Result<Worksheet, Fault> {
    let plan = plan(context, args)?;
    let seed = args.seed.unwrap_or_else(|| context.seed() % SEEDS);
    let of_plan = plan.count.and_then(|count| u16::try_from(count).ok()).map_or(COUNT, |count| count.min(100));
    let count = usize::from(args.count.unwrap_or(of_plan));
    let title = plan.title.clone();
    let mut sheets = Sheets::new(plan, count, seed);
    let mut made = Vec::new();
    for (name, beliefs) in learners(context, &args.learner)? {
        made.push(LearnerSheet { name, problems: sheets.next(&beliefs, context.day) });
    }
    let left_out = sheets.left_out().to_vec();
    let worksheet = Worksheet { title, seed, sheets: made, left_out };
    if worksheet.sheets.iter().all(|sheet| sheet.problems.is_empty()) {
        let why = worksheet.left_out_words().unwrap_or_default();
        return Err(Fault::Could(format!("there is nothing to print. {why} Name another skill or another level.")));
    }
    Ok(worksheet)
}

/// Those whose sheets are printed; without a name one sheet for whoever takes it, as somebody new begins.
fn learners(context: &Context, names: &[String]) -> Result<Vec<(Option<String>, Beliefs)>, Fault> {
    let metas: Vec<&'static SkillMeta> = skills::metas().collect();
    if names.is_empty() {
        return Ok(vec![(None, Beliefs::new(&metas, Placement::Fresh))]);
    }
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let mut people = Vec::new();
    for name in names {
        let known = super::patrol::live(&store, name)?;
        if people.iter().any(|(id, _)| *id == known.id) {
            continue;
        }
        let (learner, beliefs) = clerk::learner(&mut store, known.id)?;
        people.push((learner.id, (Some(learner.name), beliefs)));
    }
    Ok(people.into_iter().map(|(_, person)| person).collect())
}

fn plan(context: &Context, args: &WorksheetArgs) -> Result<Plan, Fault> {
    let home = context.ground_card()?.home;
    let plan = match (&args.drill, &args.standard) {
        (Some(name), _) => Plan::of_drill(&Drill::find(name, context.config_dir().as_deref())?, home),
        (None, Some(name)) => Plan::of_standard(&context.standard(Some(name))?, home),
        (None, None) => Plan::free(home),
    };
    let ids =
        args.skill.iter().map(|id| Ok(pick::skill(id)?.meta().id)).collect::<Result<Vec<&'static str>, Fault>>()?;
    Ok(plan.with_skills(&ids, args.level.map(pick::level).transpose()?))
}

/// The sheets and the keys as text.
fn text(worksheet: &Worksheet) -> String {
    const COLUMN: usize = 4;
    let mut page = Page::default();
    for sheet in &worksheet.sheets {
        let whose = sheet.name.as_deref().unwrap_or("________________________");
        page.line(&clean(&format!("{}: {whose}", worksheet.title)));
        page.paragraph(HOW_TO);
        for (number, problem) in (1..).zip(&sheet.problems) {
            let asked = Asked::of(problem);
            page.line("");
            page.hanging(&format!("{number}."), COLUMN, &format!("{} ({})", asked.title, asked.code));
            page.hanging("", COLUMN, &asked.prompt);
            if let Some(drawing) = figure_line(&problem.figure()) {
                page.hanging("", COLUMN, &drawing);
            }
            for wanted in &asked.wanted {
                page.hanging("", COLUMN, &format!("Wanted: {wanted}"));
                page.hanging("", COLUMN, "Answer: ________________");
            }
            for names in &asked.names {
                page.hanging("", COLUMN, &format!("Names: {names}"));
            }
        }
        page.line("");
        page.paragraph(SAFETY);
        page.line("");
        page.line("");
    }
    for sheet in &worksheet.sheets {
        key(worksheet, sheet, &mut page);
    }
    page.0
}

fn key(worksheet: &Worksheet, sheet: &LearnerSheet, page: &mut Page) {
    const COLUMN: usize = 4;
    const DIGIT: usize = 8;
    let whose = sheet.name.as_deref().unwrap_or("the worksheet");
    page.line(&clean(&format!("Key: {whose} ({}, seed {})", worksheet.title, worksheet.seed)));
    page.paragraph(MARKING);
    if let Some(left_out) = worksheet.left_out_words() {
        page.paragraph(&left_out);
    }
    for (number, problem) in (1..).zip(&sheet.problems) {
        let told = Told::of(problem);
        page.line("");
        page.hanging(&format!("{number}."), COLUMN, &told.code);
        let mut answer = told.answer;
        if let Some(near) = &told.tolerance {
            let _ = write!(answer, " ({near})");
        }
        page.hanging("    1", DIGIT, &answer);
        for wrong in &told.wrong {
            page.hanging(&format!("    {}", wrong.digit), DIGIT, &format!("{}: {}", wrong.answer, wrong.said));
        }
        for step in &told.steps {
            page.hanging("", COLUMN, step);
        }
    }
    page.line("");
}
