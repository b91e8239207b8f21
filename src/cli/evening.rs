//! `needlewise evening`: who does what in which minutes, for those who are there.

use super::args::{EveningArgs, Format};
use super::context::Context;
use super::fault::{Fault, clean};
use super::page::Page;
use super::patrol::live;
use super::report::patrol;
use crate::evening::{Evening, EveningLine, Job, check_minutes, evening_chances, evening_lines, evening_needs};
use crate::report::Report;
use crate::skills;
use crate::store::LearnerId;
use serde::Serialize;
use std::io::{self, BufWriter, Write};

/// What one member does in one piece of the evening, as JSON.
#[derive(Serialize)]
struct JobJson<'a> {
    from_min: u32,
    minutes: u32,
    learner: String,
    job: &'static str,
    skill: Option<&'static str>,
    with: Option<String>,
    game: Option<&'a str>,
}

/// Runs the command.
pub(super) fn run(context: &Context, args: &EveningArgs) -> Result<(), Fault> {
    let standard = context.standard(args.standard.as_deref())?;
    let metas: Vec<_> = skills::metas().collect();
    let mut store = super::store::to_read(&context.store_path()?, &metas)?;
    let here: Vec<LearnerId> =
        args.learner.iter().map(|name| Ok(live(&store, name)?.id)).collect::<Result<_, Fault>>()?;
    let patrol = args.patrol.as_deref().map(|name| patrol(&store, name)).transpose()?;
    let wanted = |id| match &patrol {
        Some(patrol) => patrol.members.contains(&id),
        None => here.is_empty() || here.contains(&id),
    };
    let report = Report::gather(&mut store, &standard, (context.day, context.day_given()), wanted)?;
    let show = report.shown_as(args.initials);
    let Some(evening) = Evening::plan(&report, args.minutes, |_| true) else {
        let why = match &patrol {
            Some(patrol) => format!(
                "nobody is in {}; put people in with `needlewise patrol join NAME --patrol …`",
                clean(&patrol.name)
            ),
            None => "nobody is here yet; add people with `needlewise patrol add NAME`".to_owned(),
        };
        return Err(Fault::Input(why));
    };
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Text => out.write_all(clean(&text(&evening, &report, &show)).as_bytes())?,
        Format::Json => {
            for slot in &evening.slots {
                for (at, job) in slot.jobs.iter().enumerate() {
                    let name = |at: usize| evening.guests.get(at).map(|guest| show(&guest.name));
                    let learner = name(at).unwrap_or_default();
                    let line = JobJson {
                        from_min: slot.from,
                        minutes: slot.minutes,
                        learner,
                        job: job.id(at),
                        skill: match job {
                            Job::Round(topic) => topic.map(|topic| topic.skill.id),
                            Job::Pair(pair) => Some(pair.skill.id),
                            _ => None,
                        },
                        with: match job {
                            Job::Pair(pair) => name(if pair.shows == at { pair.whom } else { pair.shows }),
                            _ => None,
                        },
                        game: match job {
                            Job::Game(game) => Some(game.name),
                            _ => None,
                        },
                    };
                    super::json_line(&mut out, &line)?;
                }
            }
        }
    }
    Ok(out.flush()?)
}

/// The plan for people.
fn text(evening: &Evening, report: &Report, show: &impl Fn(&str) -> String) -> String {
    const COLUMN: usize = 18;
    let mut page = Page::default();
    let members =
        if evening.guests.len() == 1 { "1 member".to_owned() } else { format!("{} members", evening.guests.len()) };
    page.line(&format!("{}: {} minutes with {members}, on {}", report.standard.title, evening.minutes(), report.day));
    for slot in &evening.slots {
        page.line("");
        let mut time = slot.time();
        for EveningLine { place, text } in evening_lines(evening, slot, show) {
            page.hanging(&format!("{time:<9}{place}"), COLUMN, &text);
            time.clear();
        }
    }
    page.line("");
    for need in evening_needs(evening, show) {
        page.paragraph(&need);
    }
    page.paragraph(&evening_chances(&report.standard, check_minutes(&report.standard), evening.minutes()));
    page.0
}
