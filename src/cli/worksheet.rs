//! `needlewise worksheet`: problems on paper for each learner, with a key.

use super::context::Context;
use super::fault::{Fault, clean};
use super::output::{may_write, missing_words, no_pdf_on_a_terminal, put, sheet};
use super::page::Page;
use super::paper_args::{SheetFormat, WorksheetArgs};
use super::pick;
use crate::clerk::{self, Now};
use crate::drill::Drill;
use crate::learner::{Beliefs, Placement};
use crate::paper::Printed;
use crate::plain::figure_line;
use crate::problem::SkillMeta;
use crate::session::{Plan, SAFETY, SHEET_PROBLEMS, Sheets};
use crate::skills;
use crate::store::{Learner, LearnerId, Store};
use crate::worksheet::{Asked, LearnerSheet, MARKING, Told, Worksheet, printed};
use std::fmt::Write as _;
use std::io::{self, Write};
use std::path::Path;

/// Runs the command.
pub(super) fn run(context: &Context, args: &WorksheetArgs) -> Result<(), Fault> {
    let format = format(args)?;
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let (worksheet, whose) = chosen(context, args)?;
    match format {
        SheetFormat::Text => put(args.output.as_deref(), text(&worksheet).as_bytes())?,
        SheetFormat::Pdf => {
            let printed = printed(&worksheet, sheet(args.paper));
            put(args.output.as_deref(), &printed.bytes)?;
            if let Some(file) = &args.output {
                say(&worksheet, &printed, file)?;
            }
        }
    }
    remember(context, &worksheet, &whose)
}

/// Writes down whose sheet has which problems, so that what comes back on paper can be typed in by number.
fn remember(context: &Context, worksheet: &Worksheet, whose: &[Option<LearnerId>]) -> Result<(), Fault> {
    let named: Vec<(LearnerId, &LearnerSheet)> =
        whose.iter().zip(&worksheet.sheets).filter_map(|(id, sheet)| Some(((*id)?, sheet))).collect();
    if named.is_empty() {
        return Ok(());
    }
    let metas: Vec<&'static SkillMeta> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let now = Now { days: context.days(), at: jiff::Timestamp::now() };
    for (learner, sheet) in named {
        clerk::remember_sheet(&mut store, learner, &sheet.problems, &now)?;
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
fn say(worksheet: &Worksheet, printed: &Printed, file: &Path) -> Result<(), Fault> {
    let mut page = Page::default();
    let words = written_words(worksheet, printed, file);
    if let Some((first, more)) = words.split_first() {
        page.line(first);
        more.iter().for_each(|paragraph| page.paragraph(paragraph));
    }
    Ok(io::stdout().lock().write_all(page.0.as_bytes())?)
}

/// The same in paragraphs.
pub(super) fn written_words(worksheet: &Worksheet, printed: &Printed, file: &Path) -> Vec<String> {
    let (sheets, pages) = (counted(worksheet.sheets.len(), "sheet"), counted(printed.pages, "page"));
    let keys = if worksheet.sheets.len() == 1 { "its key" } else { "the keys" };
    let file = clean(&file.display().to_string());
    // Sheets come first, each a section; then the keys.
    let last: usize = printed.sections.iter().take(worksheet.sheets.len()).sum();
    let seed = worksheet.seed;
    let first = format!("{file}: {sheets} and {keys}, {pages}, the keys from page {} on (seed {seed}).", last + 1);
    [Some(first), worksheet.left_out_words(), missing_words(printed)].into_iter().flatten().collect()
}

/// Why nothing can be printed, where no sheet has a problem.
pub(super) fn nothing_to_print(worksheet: &Worksheet) -> Option<String> {
    let is_empty = worksheet.sheets.iter().all(|sheet| sheet.problems.is_empty());
    let why = worksheet.left_out_words().unwrap_or_default();
    is_empty.then(|| format!("there is nothing to print. {why} Name another skill or another level."))
}

fn counted(count: usize, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}

/// The sheets, and whose each is.
fn chosen(context: &Context, args: &WorksheetArgs) -> Result<(Worksheet, Vec<Option<LearnerId>>), Fault> {
    let plan = plan(context, args)?;
    let seed = args.seed.unwrap_or_else(|| context.short_seed());
    let of_plan = plan.count.map_or(u32::from(SHEET_PROBLEMS), |count| count.min(100));
    let count = usize::try_from(args.count.unwrap_or(of_plan)).unwrap_or(usize::MAX);
    let title = plan.title.clone();
    let toward = context.standard(None)?.skills;
    let mut sheets = Sheets::new(plan, count, seed).toward(toward.iter().map(|one| one.skill));
    let (mut made, mut whose) = (Vec::new(), Vec::new());
    for (learner, beliefs) in learners(context, args)? {
        whose.push(learner.as_ref().map(|learner| learner.id));
        let name = learner.map(|learner| learner.name);
        made.push(LearnerSheet { name, problems: sheets.next(&beliefs, context.day) });
    }
    let left_out = sheets.left_out().to_vec();
    let worksheet = Worksheet { title, seed, sheets: made, left_out };
    match nothing_to_print(&worksheet) {
        Some(why) => Err(Fault::Could(why)),
        None => Ok((worksheet, whose)),
    }
}

/// Those whose sheets are printed, each once; without a name one sheet for whoever takes it, as somebody new begins.
fn learners(context: &Context, args: &WorksheetArgs) -> Result<Vec<(Option<Learner>, Beliefs)>, Fault> {
    let metas: Vec<&'static SkillMeta> = skills::metas().collect();
    if args.learner.is_empty() && args.patrol.is_none() {
        return Ok(vec![(None, Beliefs::new(&metas, Placement::Fresh))]);
    }
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let mut wanted: Vec<LearnerId> = match &args.patrol {
        Some(name) => {
            let patrol = super::report::patrol(&store, name)?;
            let members = store.learners()?.into_iter().map(|learner| learner.id);
            members.filter(|id| patrol.members.contains(id)).collect()
        }
        None => {
            let named = args.learner.iter().map(|name| Ok(super::patrol::live(&store, name)?.id));
            named.collect::<Result<_, Fault>>()?
        }
    };
    if wanted.is_empty() {
        return Err(Fault::Input("nobody is in this patrol; put people in with `needlewise patrol join`".to_owned()));
    }
    let mut known = Vec::new();
    wanted.retain(|id| {
        let is_new = !known.contains(id);
        known.push(*id);
        is_new
    });
    wanted
        .into_iter()
        .map(|id| {
            let (learner, beliefs) = clerk::learner(&mut store, id)?;
            Ok((Some(learner), beliefs))
        })
        .collect()
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
        page.paragraph(sheet.how_to());
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
