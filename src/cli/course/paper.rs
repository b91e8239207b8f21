//! A course as a PDF file.

use super::{args::CourseArgs, cards_of, member, only_debriefs};
use crate::cli::fault::{Fault, clean};
use crate::cli::output::{put, sheet, written_words};
use crate::course::debrief::Debrief;
use crate::course::{Course, Measured, Pegs, Route};
use crate::worksheet::{CoursePages, printed_course, printed_debriefs};
use std::io::{self, Write};
use std::path::Path;

/// Writes it, and says what was written.
pub(super) fn write(
    file: &Path,
    (course, route): (&Course, &Route),
    args: &CourseArgs,
    (pegs, debriefs): (Option<Pegs>, &[(&Measured, Debrief)]),
) -> Result<(), Fault> {
    let paper = sheet(args.paper);
    let (printed, what) = if only_debriefs(args) {
        (printed_debriefs(course, route, debriefs, paper), "what was measured")
    } else {
        let one = args.card.as_deref().map(|name| member(course, name)).transpose()?;
        let key = one.is_none() && !args.cards;
        let pages = CoursePages {
            course,
            route,
            cards: one.map_or_else(|| cards_of(course), |one| vec![Some(one)]),
            answers: args.answers,
            key,
            laying: pegs.map(|pegs| pegs.laying().to_vec()).unwrap_or_default(),
        };
        let what = match (key, pages.cards.len()) {
            (true, _) => "cards, plan and key",
            (false, 1) => "a card and the plan",
            (false, _) => "cards and the plan",
        };
        (printed_course(&pages, paper), what)
    };
    put(Some(file), &printed.bytes)?;
    let said = written_words(file, &clean(&format!("{}, {what}", course.title)), &printed);
    Ok(io::stdout().lock().write_all(said.as_bytes())?)
}
