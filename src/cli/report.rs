//! `needlewise report`: who is ready, and what to teach next.

use super::args::{ReportArgs, ReportFormat};
use super::context::Context;
use super::fault::{Fault, clean, clean_json};
use super::patrol::live;
use crate::report::{self, Report};
use crate::skills;
use crate::store::PatrolId;
use std::io::{self, BufWriter, Write};

/// Runs the command.
pub(super) fn run(context: &Context, args: &ReportArgs) -> Result<(), Fault> {
    let standard = context.standard(args.standard.as_deref())?;
    let metas: Vec<_> = skills::metas().collect();
    let mut store = super::store::to_read(&context.store_path()?, &metas)?;
    let only = args.learner.as_deref().map(|name| live(&store, name)).transpose()?.map(|learner| learner.id);
    let patrols = store.patrols()?;
    let patrol = match &args.patrol {
        None => None,
        Some(name) => {
            let wanted = name.trim().to_lowercase();
            let known = patrols.iter().find(|patrol| patrol.name.to_lowercase() == wanted);
            let names: Vec<&str> = patrols.iter().map(|patrol| patrol.name.as_str()).collect();
            Some(known.ok_or_else(|| {
                Fault::Input(format!("there is no patrol {}; the patrols are: {}", clean(name), names.join(", ")))
            })?)
        }
    };
    let patrol: Option<(PatrolId, Vec<_>)> = patrol.map(|patrol| (patrol.id, patrol.members.clone()));
    let wanted =
        |id| only.is_none_or(|only| only == id) && patrol.as_ref().is_none_or(|(_, members)| members.contains(&id));
    let report = Report::gather(&mut store, &standard, (context.day, context.day_given()), wanted)?;
    let show = report.shown_as(args.initials);
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        ReportFormat::Text => {
            for line in report::text(&report, &show) {
                writeln!(out, "{}", clean(&line))?;
            }
        }
        ReportFormat::Json => {
            for line in report::json(&report, &show).map_err(io::Error::from)? {
                writeln!(out, "{}", clean_json(&line))?;
            }
        }
        ReportFormat::Csv => {
            write!(out, "{}", clean(&report::csv(&report, &show).map_err(io::Error::other)?))?;
        }
    }
    Ok(out.flush()?)
}
