//! `needlewise evening`: who does what in which minutes, for those who are there.

use super::args::{EveningArgs, Format};
use super::context::Context;
use super::fault::{Fault, clean};
use super::page::Page;
use super::patrol::live;
use super::report::patrol;
use crate::evening::{
    Evening, EveningLine, Job, KeptEvening, KeptWhen, Stale, check_minutes, evening_chances, evening_lines,
    evening_needs, is_readable, plan_of_words, stale_words,
};
use crate::problem::capital;
use crate::report::Report;
use crate::skills;
use crate::store::{LearnerId, Patrol, Store, StoredEvening};
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

/// What is said of a plan that was kept.
const KEPT: &str = "This plan is kept: needlewise report --first-page has it, and e on the leader's page shows it.";

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
    let report = Report::gather(&mut store, &standard, (context.day, context.day_given()), &wanted)?;
    let show = report.shown_as(args.initials);
    let made = if args.kept { kept(&store, &report)? } else { made(&report, args.minutes, patrol.as_ref())? };
    // Before it is shown: who reads it may go by it.
    if args.keep {
        keep(context, &made, args.force)?;
    }
    let evening = &made.evening;
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Text => out.write_all(clean(&text(&made, &report, &show)).as_bytes())?,
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
    if args.keep && args.format == Format::Text {
        let mut page = Page::default();
        page.line("");
        page.paragraph(KEPT);
        out.write_all(page.0.as_bytes())?;
    }
    Ok(out.flush()?)
}

/// A new plan for those of the report.
fn made(report: &Report, minutes: u32, patrol: Option<&Patrol>) -> Result<KeptEvening, Fault> {
    let Some(evening) = Evening::plan(report, minutes, |_| true) else {
        let why = match patrol {
            Some(patrol) => format!(
                "nobody is in {}; put people in with `needlewise patrol join NAME --patrol …`",
                clean(&patrol.name)
            ),
            None => "nobody is here yet; add people with `needlewise patrol add NAME`".to_owned(),
        };
        return Err(Fault::Input(why));
    };
    Ok(KeptEvening { standard: report.standard.name.clone(), evening, slot: 0, kept: None })
}

/// The plan that was kept last; one of another day is printed all the same, with its day.
fn kept(store: &Store, report: &Report) -> Result<KeptEvening, Fault> {
    const ANOTHER: &str = "Make another one, and keep it with --keep.";
    let Some(stored) = store.evening()? else {
        return Err(Fault::Could(format!("no plan is kept. {ANOTHER}")));
    };
    match KeptEvening::read(&stored, report) {
        Ok((kept, _)) => Ok(kept),
        Err(why) => {
            let mend = match why {
                Stale::OtherStandard => format!("Say --standard {}.", clean(&stored.standard)),
                _ => ANOTHER.to_owned(),
            };
            Err(Fault::Could(clean(&format!("{} {mend}", stale_words(&stored, &why, report.day)))))
        }
    }
}

/// A plan that was kept so long ago, and is of a day gone by, is not gone by any more.
const AN_EVENING: jiff::SignedDuration = jiff::SignedDuration::from_hours(18);

/// Whether a plan that was kept may still be gone by, with what was changed in it by hand.
fn counts(context: &Context, stored: &StoredEvening, now: jiff::Timestamp) -> bool {
    let is_over = stored.day.is_some_and(|day| day < context.day) && now.duration_since(stored.kept_at) > AN_EVENING;
    is_readable(stored) && !is_over
}

/// Keeps a plan; where one is kept that may still be gone by, only when that is forced.
fn keep(context: &Context, plan: &KeptEvening, force: bool) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let now = jiff::Timestamp::now();
    let stored = plan.stored(KeptWhen::at(&context.days(), now));
    let Some(before) = store.keep_evening_unless(&stored, |before| !force && counts(context, before, now))? else {
        return Ok(());
    };
    let which = plan_of_words(before.day, &before.clock, context.day);
    Err(Fault::Could(clean(&format!(
        "{which} is kept already; print it with needlewise evening --kept, or put this one in its place with --force"
    ))))
}

/// The plan for people.
fn text(made: &KeptEvening, report: &Report, show: &dyn Fn(&str) -> String) -> String {
    const COLUMN: usize = 18;
    let evening = &made.evening;
    let mut page = Page::default();
    if let Some(when) = &made.kept {
        let which = capital(&plan_of_words(Some(when.day), &when.clock, report.day));
        page.line(&format!("{which}, as it was kept:"));
    }
    let members =
        if evening.guests.len() == 1 { "1 member".to_owned() } else { format!("{} members", evening.guests.len()) };
    let day = made.kept.as_ref().map_or(report.day, |when| when.day);
    page.line(&format!("{}: {} minutes with {members}, on {day}", report.standard.title, evening.minutes()));
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
    // What a check takes is of use where somebody is to be checked, this evening or another.
    if evening.guests.iter().any(|guest| guest.check.is_some()) {
        page.paragraph(&evening_chances(&report.standard, check_minutes(&report.standard), evening.minutes()));
    }
    page.0
}
