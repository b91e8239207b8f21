//! `needlewise report`: who is ready, and what to teach next.

use super::context::Context;
use super::fault::{Fault, clean, clean_json};
use super::output::{may_write, no_pdf_on_a_terminal, put, sheet, written_words};
use super::patrol::live;
use super::report_args::{ReportArgs, ReportFormat};
use crate::evening::plan_told;
use crate::report::{self, PlanTold, Report};
use crate::session::{DayRule, DayRules};
use crate::skills;
use crate::store::{Patrol, Store};
use crate::worksheet::{printed_first_page, printed_report, printed_ticks, printed_wall};
use std::io::{self, Write};

/// The patrol of a name.
///
/// # Errors
/// [`Fault::Input`] with the patrols there are, when none has it.
pub(super) fn patrol(store: &Store, name: &str) -> Result<Patrol, Fault> {
    let wanted = name.trim().to_lowercase();
    let mut patrols = store.patrols()?;
    match patrols.iter().position(|patrol| patrol.name.to_lowercase() == wanted) {
        Some(at) => Ok(patrols.swap_remove(at)),
        None => {
            let names: Vec<&str> = patrols.iter().map(|patrol| patrol.name.as_str()).collect();
            Err(Fault::Input(format!("there is no patrol {}; the patrols are: {}", clean(name), names.join(", "))))
        }
    }
}

/// The format asked for, or that of the file's ending.
fn format(args: &ReportArgs) -> Result<ReportFormat, Fault> {
    let ending = || args.output.as_deref()?.extension()?.to_str();
    let format = match (args.format, ending()) {
        _ if args.wall || args.ticks => ReportFormat::Pdf,
        (Some(format), _) => format,
        (None, Some("pdf")) => ReportFormat::Pdf,
        (None, Some("csv")) => ReportFormat::Csv,
        (None, Some("json")) => ReportFormat::Json,
        (None, Some("html" | "htm")) => ReportFormat::Html,
        (None, None | Some("txt" | "md")) => ReportFormat::Text,
        (None, Some(other)) => {
            return Err(Fault::Input(format!(
                "what is written into a file that ends in .{} is not known; end it in .txt, .pdf, .html, .csv or .json, or say --format",
                clean(other)
            )));
        }
    };
    if args.first_page && !matches!(format, ReportFormat::Text | ReportFormat::Pdf) {
        let why = "--first-page goes with text and PDF; the page of --format html begins with it";
        return Err(Fault::Input(why.to_owned()));
    }
    if format == ReportFormat::Pdf {
        no_pdf_on_a_terminal(
            args.output.as_deref(),
            if args.wall || args.ticks { "" } else { ", or ask for --format text" },
        )?;
    }
    Ok(format)
}

/// Runs the command.
pub(super) fn run(context: &Context, args: &ReportArgs) -> Result<(), Fault> {
    let format = format(args)?;
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let standard = context.standard(args.standard.as_deref())?;
    let metas: Vec<_> = skills::metas().collect();
    let mut store = super::store::to_read(&context.store_path()?, &metas)?;
    let only = args.learner.as_deref().map(|name| live(&store, name)).transpose()?.map(|learner| learner.id);
    let patrol = args.patrol.as_deref().map(|name| patrol(&store, name)).transpose()?;
    let wanted =
        |id| only.is_none_or(|only| only == id) && patrol.as_ref().is_none_or(|patrol| patrol.members.contains(&id));
    let mut report = Report::gather(&mut store, &standard, (context.day, context.day_given()), &wanted)?;
    report.day_rules = day_rules(context)?;
    let show = report.shown_as(args.initials || (args.wall && !args.names));
    let plan = plan_told(store.evening()?.as_ref(), &report, &show);
    let mut text = String::new();
    match format {
        ReportFormat::Text => {
            let all = |show: &dyn Fn(&str) -> String| match args.first_page {
                true => report::text_first_page(&report, &plan, show),
                false => report::text(&report, &plan, show),
            };
            for line in all(&show) {
                text.push_str(&clean(&line));
                text.push('\n');
            }
        }
        ReportFormat::Json => {
            for line in report::json(&report, &show).map_err(io::Error::from)? {
                text.push_str(&clean_json(&line));
                text.push('\n');
            }
        }
        ReportFormat::Csv => text = clean(&report::csv(&report, &show).map_err(io::Error::other)?),
        ReportFormat::Html => text = clean(&report::html(&report, &plan, &show)),
        ReportFormat::Pdf => return pages(args, &report, &plan, &show),
    }
    put(args.output.as_deref(), text.as_bytes())?;
    let Some(file) = &args.output else { return Ok(()) };
    Ok(writeln!(io::stdout().lock(), "{}: the report.", clean(&file.display().to_string()))?)
}

/// What is done from map to compass on home ground today, a sentence for each sort of lines; nothing while the ground is invented.
fn day_rules(context: &Context) -> Result<Vec<String>, Fault> {
    let Ok(settings) = context.settings() else { return Ok(Vec::new()) };
    let config = settings.load()?;
    if config.ground().invented {
        return Ok(Vec::new());
    }
    let rules = DayRules::new(&config, context.day).rules;
    if rules.is_empty() {
        return Ok(vec![format!(
            "From map to compass on {}: no angle is known for this ground and day, so go by what the map prints.",
            context.day
        )]);
    }
    let words = |rule: DayRule| format!("By {}-north lines on {}: {}", rule.lines.word(), context.day, rule.words);
    Ok(rules.into_iter().map(words).collect())
}

/// The report on pages, and what is said of them.
fn pages(args: &ReportArgs, report: &Report, plan: &PlanTold, show: &dyn Fn(&str) -> String) -> Result<(), Fault> {
    let (printed, what) = if args.wall {
        (printed_wall(report, show, sheet(args.paper)), "a sheet for the wall")
    } else if args.ticks {
        (printed_ticks(report, show, sheet(args.paper)), "a sheet to tick on the ground")
    } else if args.first_page {
        (printed_first_page(report, plan, show, sheet(args.paper)), "the first page of the report")
    } else {
        (printed_report(report, plan, show, sheet(args.paper)), "the report")
    };
    put(args.output.as_deref(), &printed.bytes)?;
    let Some(file) = &args.output else { return Ok(()) };
    Ok(io::stdout().lock().write_all(written_words(file, what, &printed).as_bytes())?)
}
