//! `needlewise report`: who is ready, and what to teach next.

use super::args::{ReportArgs, ReportFormat};
use super::context::Context;
use super::fault::{Fault, clean, clean_json};
use super::patrol::live;
use crate::report::{self, Report};
use crate::skills;
use crate::store::{Patrol, Store};
use std::io::{self, BufWriter, Write};

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

/// Runs the command.
pub(super) fn run(context: &Context, args: &ReportArgs) -> Result<(), Fault> {
    let standard = context.standard(args.standard.as_deref())?;
    let metas: Vec<_> = skills::metas().collect();
    let mut store = super::store::to_read(&context.store_path()?, &metas)?;
    let only = args.learner.as_deref().map(|name| live(&store, name)).transpose()?.map(|learner| learner.id);
    let patrol = args.patrol.as_deref().map(|name| patrol(&store, name)).transpose()?;
    let wanted =
        |id| only.is_none_or(|only| only == id) && patrol.as_ref().is_none_or(|patrol| patrol.members.contains(&id));
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
