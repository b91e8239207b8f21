//! `needlewise map`: an invented map for a real compass.

use super::context::Context;
use super::convert::given_angle;
use super::fault::Fault;
use super::output::{may_write, no_pdf_on_a_terminal, put, sheet, written_words};
use super::page::{OWN_GROUND, Page};
use super::paper_args::MapArgs;
use crate::angle::{Angle, Convergence, Declination, North};
use crate::config::read_lines;
use crate::problem::{HomeAngles, NorthLines};
use crate::session::{GroundCard, invented_words};
use crate::worksheet::{MapWish, PracticeMap, Spread, printed_map};
use std::io::{self, Write};

/// Seeds that nobody gave are smaller than this, short enough to type.
const SEEDS: u64 = 1_000_000;

/// Runs the command.
pub(super) fn run(context: &Context, args: &MapArgs) -> Result<(), Fault> {
    no_pdf_on_a_terminal(args.output.as_deref(), "")?;
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let wish = wish(context, args)?;
    let seed = wish.seed;
    let map = PracticeMap::draw(wish)
        .ok_or_else(|| Fault::Could(format!("no land of seed {seed} has room for these tasks; take another --seed")))?;
    let printed = printed_map(&map);
    put(args.output.as_deref(), &printed.bytes)?;
    let Some(file) = &args.output else { return Ok(()) };
    let mut page = Page(written_words(file, &format!("map {seed}, its tasks and its key"), &printed));
    page.paragraph(&map.wish.source);
    if args.declination.is_none() && context.ground_card()?.home.invented {
        page.paragraph(&invented_words(OWN_GROUND));
    }
    Ok(io::stdout().lock().write_all(page.0.as_bytes())?)
}

fn wish(context: &Context, args: &MapArgs) -> Result<MapWish, Fault> {
    let card = context.ground_card()?;
    let given = given_angle("--declination", args.declination.as_deref())?.map(Declination::from_angle);
    let (declination, convergence) = norths(&card, given)?;
    Ok(MapWish {
        seed: args.seed.unwrap_or_else(|| context.seed() % SEEDS),
        sheet: sheet(args.paper),
        declination,
        convergence,
        lines: lines(&card, &args.lines)?,
        source: source(&card, given.is_some()),
        day: context.day,
        spread: match args.poster.as_deref() {
            Some("4") => Spread::Four,
            Some(_) => Spread::Nine,
            None => Spread::One,
        },
    })
}

/// The declination given, else home ground's; and the convergence of home ground, else none.
fn norths(card: &GroundCard, given: Option<Declination>) -> Result<(Declination, Convergence), Fault> {
    match (given, card.home.angles) {
        (Some(given), home) => {
            // As home ground's it is printed in whole minutes, and drawn as printed.
            let convergence = home.map_or(Convergence::from_angle(Angle::ZERO), HomeAngles::convergence);
            let whole = HomeAngles::new(given, convergence);
            Ok((whole.declination(), whole.convergence()))
        }
        (None, Some(home)) => Ok((home.declination(), home.convergence())),
        (None, None) => {
            let why = card.cautions.join(" ");
            Err(Fault::Could(format!(
                "no declination is known for {}. {why} Give one with --declination, such as 3W",
                card.home.name
            )))
        }
    }
}

/// Where the declination comes from.
fn source(card: &GroundCard, given: bool) -> String {
    if given {
        return "The declination was given by hand. The map in your hand has its own.".to_owned();
    }
    let change = card.change.as_ref().map(|change| format!(", moving {change}")).unwrap_or_default();
    format!("Declination of {} on {}{change}. The map in your hand has its own.", card.home.name, card.day)
}

/// The lines asked for, else those of the leader's maps.
fn lines(card: &GroundCard, named: &[String]) -> Result<Vec<North>, Fault> {
    if !named.is_empty() {
        return read_lines(named.iter().map(String::as_str)).map_err(|error| Fault::Input(format!("--lines: {error}")));
    }
    let lines = card.home.lines.iter().filter_map(|lines| match lines {
        NorthLines::Magnetic => Some(North::Magnetic),
        NorthLines::True => Some(North::True),
        NorthLines::Grid => Some(North::Grid),
        NorthLines::Any => None,
    });
    Ok(lines.collect())
}
