//! `needlewise problem`: problems by code, or by skill and level.

use super::args::{Format, ProblemArgs};
use super::context::Context;
use super::fault::Fault;
use super::output::put_new;
use super::pick;
use crate::maptable::describe_iron;
use crate::plain::{asks, figure_line, long_list, lying, step_lines};
use crate::problem::{Code, HomeAngles, Level, Problem, Skill, TEXT_MM, realise};
use crate::scene::{Scene, svg};
use crate::skills;
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// The side of the page that a figure is drawn on, in mm.
const PAGE_MM: f64 = 100.0;

/// Runs the command.
pub(super) fn run(context: &Context, args: ProblemArgs) -> Result<(), Fault> {
    let codes = codes(context, &args)?;
    let mut out = BufWriter::new(io::stdout().lock());
    for (at, code) in codes.enumerate() {
        let problem = realise(&code).map_err(Fault::input)?;
        if let Some(file) = &args.picture {
            picture(&problem, file)?;
        }
        match args.format {
            Format::Json => super::json_line(&mut out, &problem.json())?,
            Format::Text => {
                if at > 0 {
                    writeln!(out)?;
                }
                text(&mut out, &problem, args.solution)?;
            }
        }
    }
    Ok(out.flush()?)
}

/// The codes asked for, one after the other.
fn codes(context: &Context, args: &ProblemArgs) -> Result<impl Iterator<Item = Code> + use<>, Fault> {
    let (first, count) = match (&args.code, &args.skill) {
        (Some(text), _) => (skills::read_code(text).map_err(Fault::input)?, 1),
        (None, skill) => {
            let skill = pick::skill(skill.as_deref().unwrap_or_default())?;
            let level = pick::level(args.level.unwrap_or_default())?;
            let seed = args.seed.unwrap_or_else(|| context.short_seed());
            (Code { skill, level, seed, home: home(context, skill, level, seed)? }, args.count)
        }
    };
    if first.seed.checked_add(u64::from(count) - 1).is_none() {
        return Err(Fault::Input(format!("seeds end at {}; begin with a lower one", u64::MAX)));
    }
    Ok((0..u64::from(count)).map(move |more| Code { seed: first.seed.wrapping_add(more), ..first }))
}

/// Writes the figure of a problem as a page. A file that is there already is not overwritten: it may be a drawing of one's own.
fn picture(problem: &Problem, file: &Path) -> Result<(), Fault> {
    let Some(scene) = problem.scene(PAGE_MM, PAGE_MM) else {
        return Err(Fault::Could(format!("{} has no figure: it is told in words alone", problem.code())));
    };
    write_picture(&scene, file)
}

/// Writes a scene as a page.
pub(super) fn write_picture(scene: &Scene, file: &Path) -> Result<(), Fault> {
    put_new(file, svg(scene, TEXT_MM).as_bytes(), "--picture")
}

/// The angles of the place where problems of a skill are set: of `--at`, else of home ground once the leader has set one. None:
/// anywhere.
fn home(context: &Context, skill: &'static dyn Skill, level: Level, seed: u64) -> Result<Option<HomeAngles>, Fault> {
    let id = skill.meta().id;
    if !skill.meta().on_home {
        return match &context.at {
            Some(_) => Err(Fault::Input(format!("{id} problems are the same everywhere; leave out --at"))),
            None => Ok(None),
        };
    }
    let card = context.ground_card()?;
    match (card.home.angles, &context.at) {
        (None, Some(at)) => {
            let why = card.cautions.join(" ");
            Err(Fault::Input(format!("no problem can be set at {at}: {why} Leave out --at, and it is set elsewhere")))
        }
        (angles, Some(_)) => Ok(angles),
        (angles, None) => Ok(angles.filter(|home| {
            // Where home ground has too little declination to ask about, problems are set elsewhere, as in practice.
            !card.home.invented && realise(&Code { skill, level, seed, home: Some(*home) }).is_ok()
        })),
    }
}

/// A problem for people; the figure is told in words, so that nothing is missing.
fn text(out: &mut impl Write, problem: &Problem, solution: bool) -> io::Result<()> {
    let (code, question) = (problem.code(), problem.question());
    writeln!(out, "{code}  {}, level {}", problem.skill().title, code.level)?;
    writeln!(out, "{}", problem.prompt())?;
    if let Some(line) = figure_line(&problem.figure()) {
        writeln!(out, "{line}")?;
    }
    if let Some(table) = problem.table() {
        for line in lying(&table, &table.exercise.start) {
            writeln!(out, "{line}")?;
        }
        if let Some(iron) = describe_iron(&table.exercise) {
            writeln!(out, "{iron}")?;
        }
        let (id, level) = (problem.skill().id, code.level);
        writeln!(
            out,
            "Problems like this are worked at the map table: needlewise practice --learner NAME --skill {id} --level {level}"
        )?;
    }
    for field in question.fields() {
        writeln!(out, "Wanted: {}", asks(field))?;
        if let Some(list) = long_list(field) {
            writeln!(out, "Names: {list}")?;
        }
    }
    if question.fields().len() > 1 {
        writeln!(out, "For judge, write: {}", question.pattern())?;
    }
    if !solution {
        return Ok(());
    }
    writeln!(out, "Answer: {}", question.words(problem.answer()))?;
    for line in step_lines(problem.steps()) {
        writeln!(out, "{line}")?;
    }
    for mixup in problem.mixups() {
        let (id, said) = (mixup.meta.id, mixup.meta.said);
        writeln!(out, "Mix-up {id}: {}, when you {said}", question.words(&mixup.answer))?;
    }
    Ok(())
}
