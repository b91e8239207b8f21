//! The report as CSV: a row for each member and skill of the standard.

use super::Report;
use super::json::days;
use crate::session::{GROUND_TOO, NO_PERMISSION};

const HEADER: [&str; 27] = [
    "learner",
    "patrol",
    "next",
    "skill",
    "mark",
    "level",
    "readiness",
    "right",
    "asked",
    "tries",
    "since",
    "until",
    "next_try_from",
    "practice",
    "weak_spots",
    "seen_on",
    "seen_by",
    "seen_what",
    "seen_outcome",
    "day_given",
    "came_back",
    "report_day",
    "what_ready_means",
    "annulled",
    "wait_shortened",
    "alpha_as_it_went",
    "wrong_without_pattern",
];

/// The rows with their header, for a spreadsheet. `name` shows somebody. A text that a spreadsheet would take for a formula
/// is put behind an apostrophe.
///
/// # Errors
/// None in practice: it is written into memory.
pub fn csv(report: &Report, name: &dyn Fn(&str) -> String) -> Result<String, ::csv::Error> {
    let mut writer = ::csv::Writer::from_writer(Vec::new());
    writer.write_record(HEADER)?;
    for member in &report.members {
        for cell in &member.cells {
            let (since, until, from) = days(cell.readiness);
            let practice = member.practised.iter().find(|practised| practised.skill.id == cell.skill.id);
            let weak: Vec<&str> = member
                .weak
                .iter()
                .flat_map(|weak| &weak.places)
                .filter(|place| place.skill.id == cell.skill.id)
                .map(|place| place.mixup.id.as_str())
                .collect();
            let lost = member.without_pattern.iter().find(|lost| lost.skill.id == cell.skill.id);
            let seen = cell.seen.last();
            let number = |number: Option<u8>| number.map(|number| number.to_string()).unwrap_or_default();
            writer.write_record([
                plain(&name(&member.learner.name)),
                plain(member.patrol.as_deref().unwrap_or_default()),
                member.next.words(),
                cell.skill.id.to_owned(),
                cell.skill.mark.to_owned(),
                cell.level.to_string(),
                cell.readiness.words().to_owned(),
                number(cell.count().map(|(right, _)| right)),
                number(cell.count().map(|(_, asked)| asked)),
                cell.tries.len().to_string(),
                since.unwrap_or_default(),
                until.unwrap_or_default(),
                from.unwrap_or_default(),
                practice.map_or("", |practised| practised.state.words()).to_owned(),
                weak.join(" "),
                seen.map(|seen| seen.day.to_string()).unwrap_or_default(),
                plain(seen.map_or("", |seen| seen.by.as_str())),
                plain(seen.map_or("", |seen| seen.what.as_str())),
                seen.map_or("", |seen| seen.outcome.word()).to_owned(),
                cell.day_given().to_string(),
                member.came_back.iter().map(|(_, times)| times).sum::<u32>().to_string(),
                format!("{}{}", report.day, if report.day_given { " (given by hand)" } else { "" }),
                format!("{GROUND_TOO} {NO_PERMISSION}"),
                plain(&joined(cell.changes.annulled.iter().map(|(day, reason)| format!("{reason} ({day})")))),
                plain(&joined(
                    cell.changes
                        .waits
                        .iter()
                        .map(|wait| format!("{} (from {}, not {})", wait.reason, wait.from, wait.regular)),
                )),
                cell.changes.alpha.map(|alpha| format!("{alpha:.4}")).unwrap_or_default(),
                lost.map(|lost| lost.wrong.to_string()).unwrap_or_default(),
            ])?;
        }
    }
    let bytes = writer.into_inner().map_err(|error| error.into_error())?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn joined(texts: impl Iterator<Item = String>) -> String {
    texts.collect::<Vec<_>>().join("; ")
}

/// A name such as `=1+1` stays a name.
fn plain(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}
