//! `needlewise course`: the key of a course, its cards, its plan, three pegs in the open, and the debrief.

mod args;
mod json;
mod paper;

pub(super) use args::CourseArgs;

use self::args::TakenName;
use super::args::Format;
use super::context::Context;
use super::fault::Fault;
use super::output::{may_write, put_new};
use super::page::Page;
use super::patrol::live;

use crate::angle::{Bearing, Magnetic, North, read_bearing, three_figures};
use crate::course::debrief::{self, Debrief, debrief};
use crate::course::{
    CardPart, Course, CourseError, Measured, Member, Pegs, Route, RouteError, SIDES_M, Site, TEMPLATE, Taken, card,
    key_parts, plan, read_bearings,
};
use crate::problem::{Draw, TEXT_MM};
use crate::scene::Scene;
use crate::store::names_in;
use crate::textfile::{nearest, shown};
use std::io::{self, BufWriter, Write};

/// Runs the command.
pub(super) fn run(context: &Context, args: &CourseArgs) -> Result<(), Fault> {
    if args.pegs && args.first.is_none() && args.seed.is_none() && !args.measured.is_empty() {
        return Err(Fault::Input(
            "say which pegs were laid: --first and the bearing from the first peg to the second, or their file; other pegs would be dealt now"
                .to_owned(),
        ));
    }
    let dealt = if args.pegs { Some(Pegs { first: first_bearing(context, args)?, side_m: args.side }) } else { None };
    if let Some(file) = &args.new {
        let text = dealt.map_or_else(|| TEMPLATE.to_owned(), Pegs::file);
        put_new(file, text.as_bytes(), "--new")?;
        let mut page = Page::default();
        if let Some(pegs) = dealt {
            let legs = pegs.bearings().map(|leg| leg.to_string());
            page.paragraph(&format!("Three pegs, {} m apart: set {}.", pegs.side_m, legs.join(", ")));
        }
        page.paragraph(&format!("Written to {}. Change it, then: needlewise course FILE", file.display()));
        return Ok(io::stdout().lock().write_all(page.0.as_bytes())?);
    }
    if let Some(file) = &args.output {
        may_write(file, args.force)?;
    }
    let mut course = match (&args.file, dealt) {
        (Some(file), _) => Course::load(file)?,
        (None, Some(pegs)) => pegs.course(),
        (None, None) => {
            return Err(Fault::Input(
                "name a course's file; `needlewise course --new FILE` writes one that explains every line, `needlewise course --pegs` lays out three pegs in the open"
                    .to_owned(),
            ));
        }
    };
    if let Some(names) = &args.members {
        walk_along(context, &mut course, names)?;
    }
    let pegs_laid = Pegs::of(&course);
    let route = Route::of(&course, &site(context)?)?;
    let wanted = wanted(&course, &route, args)?;
    let debriefs = debriefs(&route, wanted.iter())?;
    if let Some(file) = &args.picture {
        super::problem::write_picture(&scene(&course, &route, args, &debriefs)?, file)?;
    }
    if let Some(file) = &args.output {
        return paper::write(file, (&course, &route), args, (pegs_laid, &debriefs));
    }
    let mut out = BufWriter::new(io::stdout().lock());
    match args.format {
        Format::Json => {
            if !only_debriefs(args) {
                json::key(&mut out, &course, &route)?;
            }
            json::debriefs(&mut out, debriefs.iter().map(|(_, debrief)| debrief))?;
        }
        Format::Text => out.write_all(text(&course, &route, args, (pegs_laid, &debriefs))?.as_bytes())?,
    }
    Ok(out.flush()?)
}

/// Adds members of the records to those in the file, who keep their paces.
fn walk_along(context: &Context, course: &mut Course, names: &str) -> Result<(), Fault> {
    let metas: Vec<_> = crate::skills::metas().collect();
    let store = super::store::to_read(&context.store_path()?, &metas)?;
    let found: Vec<String> = if names.trim().eq_ignore_ascii_case("all") {
        store.learners()?.into_iter().map(|learner| learner.name).collect()
    } else {
        let named: Vec<&str> = names_in(names).collect();
        if named.is_empty() {
            return Err(Fault::Input("--members names nobody; write --members \"Ana, Bo\", or all".to_owned()));
        }
        named.into_iter().map(|name| Ok(live(&store, name)?.name)).collect::<Result<_, Fault>>()?
    };
    if found.is_empty() {
        return Err(Fault::Input("nobody is here yet; add people with `needlewise patrol add NAME`".to_owned()));
    }
    for name in found {
        let is_there = course.members.iter().any(|member| member.name.to_lowercase() == name.to_lowercase());
        if !is_there {
            course.members.push(Member { name, double_paces: None });
        }
    }
    Ok(())
}

/// The bearing to the second peg: as asked, or drawn by the seed.
fn first_bearing(context: &Context, args: &CourseArgs) -> Result<Bearing<Magnetic>, Fault> {
    if !SIDES_M.contains(&args.side) {
        let (least, most) = (SIDES_M.start(), SIDES_M.end());
        return Err(Fault::Input(format!("--side {}: three pegs stand {least} to {most} metres apart", args.side)));
    }
    let Some(text) = &args.first else {
        let seed = args.seed.unwrap_or_else(|| context.short_seed());
        return Ok(Bearing::from_degrees(f64::from(Draw::new("pegs", 0, 0, seed).between(0, 359))));
    };
    let typed = read_bearing(text).map_err(|error| Fault::Input(format!("--first: {error}")))?;
    if typed.north.is_some_and(|north| north != North::Magnetic) || !typed.is_on_the_circle() {
        return Err(Fault::Input("--first is what is set on the dial: 000 to 360, M or no letter".to_owned()));
    }
    Ok(Bearing::from_angle(typed.typed))
}

/// What stands in for what a file leaves out: the place of `--at` or home ground, the day, the maps' lines.
fn site(context: &Context) -> Result<Site, Fault> {
    let whereabouts = context.whereabouts(None)?;
    let words = match &whereabouts.home {
        Some((name, true)) => format!("{name} (set your own with `needlewise home set --at PLACE`, or write start)"),
        Some((name, false)) => format!("home ground, {name}"),
        None => format!("the place of --at, {}", whereabouts.place),
    };
    // Without a home folder there are no settings, and a map may have any line.
    let lines = match context.settings() {
        Ok(settings) => settings.load()?.ground().lines,
        Err(_) => North::ALL.to_vec(),
    };
    Ok(Site { start: (whereabouts.place, words), day: context.day, lines })
}

/// Whether the key is left out.
fn only_debriefs(args: &CourseArgs) -> bool {
    !args.measured.is_empty() || args.debrief.is_some()
}

/// What was measured, as it is to be told: what was typed behind the command, or what the file says.
fn wanted(course: &Course, route: &Route, args: &CourseArgs) -> Result<Vec<Measured>, Fault> {
    if let [by, text] = args.measured.as_slice() {
        if !course.members.is_empty() {
            member(course, by)?;
        }
        let bearings = read_bearings(text).map_err(|error| Fault::Input(format!("--measured: {error}")))?;
        let (found, legs) = (bearings.len(), route.legs.len());
        if found != legs {
            return Err(Fault::Input(format!(
                "--measured: there are {legs} legs and {found} bearings; write - for a leg that was not measured"
            )));
        }
        let taken = match args.taken {
            Some(TakenName::Sighted) => Taken::Sighted,
            // What is given as it is set on the dial wants no sum that could go wrong.
            None if course.is_magnetic() => Taken::Sighted,
            Some(TakenName::OffPlan) | None => Taken::OffThePlan,
        };
        return Ok(vec![Measured { by: by.clone(), taken, bearings, came_out: Vec::new() }]);
    }
    let all = course.measured.iter().cloned();
    match &args.debrief {
        None => Ok(all.collect()),
        Some(name) => {
            let asked: Vec<Measured> = all.filter(|measured| name.is_empty() || measured.by == *name).collect();
            if asked.is_empty() {
                let who = if name.is_empty() { String::new() } else { format!(" by {}", shown(name)) };
                return Err(Fault::Input(format!(
                    "the file says nothing that was measured{who}: add [[measured]], or type it behind --measured NAME BEARINGS"
                )));
            }
            Ok(asked)
        }
    }
}

/// Each with what came out.
fn debriefs<'a>(
    route: &Route,
    measured: impl Iterator<Item = &'a Measured>,
) -> Result<Vec<(&'a Measured, Debrief)>, Fault> {
    measured
        .map(|measured| {
            let debrief = debrief(route, measured).ok_or_else(|| {
                Fault::Input(format!("nothing was measured by {}: every leg is left out", shown(&measured.by)))
            })?;
            Ok((measured, debrief))
        })
        .collect()
}

/// The plan, or the legs walked over it.
fn scene(course: &Course, route: &Route, args: &CourseArgs, debriefs: &[(&Measured, Debrief)]) -> Result<Scene, Fault> {
    match debriefs {
        _ if !only_debriefs(args) => Ok(plan(route, &course.title, args.answers, TEXT_MM)),
        [(measured, debrief)] => Ok(debrief::picture(route, measured, debrief, &course.title, TEXT_MM)),
        _ => Err(Fault::Input("a picture shows what one measured: name whom, --debrief NAME".to_owned())),
    }
}

fn text(
    course: &Course,
    route: &Route,
    args: &CourseArgs,
    (pegs, debriefs): (Option<Pegs>, &[(&Measured, Debrief)]),
) -> Result<String, Fault> {
    let mut page = Page::default();
    if only_debriefs(args) {
        told(&mut page, debriefs);
        return Ok(page.0);
    }
    if let Some(name) = &args.card {
        parts(&mut page, &card(course, route, Some(member(course, name)?), args.answers));
    } else if args.cards {
        for (number, member) in cards_of(course).into_iter().enumerate() {
            if number > 0 {
                page.line("");
                page.line(&"-".repeat(80));
            }
            parts(&mut page, &card(course, route, member, args.answers));
        }
    } else {
        parts(&mut page, &key_parts(course, route));
        if let Some(pegs) = pegs {
            laying(&mut page, pegs, args.pegs);
        }
        if !debriefs.is_empty() {
            page.line("");
            told(&mut page, debriefs);
        }
    }
    Ok(page.0)
}

/// For whom there are cards: the members, or anybody.
fn cards_of(course: &Course) -> Vec<Option<&Member>> {
    if course.members.is_empty() { vec![None] } else { course.members.iter().map(Some).collect() }
}

/// The debriefs, one below the other.
fn told(page: &mut Page, debriefs: &[(&Measured, Debrief)]) {
    for (number, (_, debrief)) in debriefs.iter().enumerate() {
        if number > 0 {
            page.line("");
        }
        page.line(&format!("What {} measured, {}", debrief.by, debrief.taken.word()));
        for line in debrief::legs_words(debrief) {
            page.line(&format!("  {line}"));
        }
        page.line("");
        for sentence in debrief::words(debrief) {
            page.paragraph(&sentence);
        }
    }
}

/// One of the members, or whom the name may mean.
fn member<'a>(course: &'a Course, name: &str) -> Result<&'a Member, Fault> {
    if let Some(member) = course.members.iter().find(|member| member.name == name) {
        return Ok(member);
    }
    let names = || course.members.iter().map(|member| member.name.as_str());
    let meant = nearest(name, names()).map(|name| format!("did you mean {name}? ")).unwrap_or_default();
    let listed = if course.members.is_empty() {
        "the file names no members: add a line [[member]] and below it name = \"…\"".to_owned()
    } else {
        format!("the members are {}", names().collect::<Vec<_>>().join(", "))
    };
    Err(Fault::Input(format!("nobody called {} is in this course; {meant}{listed}", shown(name))))
}

fn parts(page: &mut Page, parts: &[CardPart]) {
    for (number, part) in parts.iter().enumerate() {
        if number > 0 {
            page.line("");
        }
        page.line(&part.heading);
        for line in &part.lines {
            if line.name.is_empty() {
                page.hanging("", 2, &line.text);
            } else {
                page.hanging(&format!("  {}", line.name), 18, &line.text);
            }
        }
    }
}

/// How three pegs are laid; where they were dealt by the command, also how they come again.
fn laying(page: &mut Page, pegs: Pegs, dealt: bool) {
    page.line("");
    page.line("Laying them");
    for (number, step) in (1..).zip(pegs.laying()) {
        page.hanging(&format!("  {number}"), 5, &step);
    }
    if !dealt {
        return;
    }
    page.line("");
    page.paragraph(&format!(
        "The same pegs again: needlewise course --pegs --side {0} --first {1}. As a file, to which members and what they measured are added: needlewise course --pegs --side {0} --first {1} --new pegs.toml.",
        pegs.side_m,
        three_figures(pegs.first.angle(), 0)
    ));
}

impl From<CourseError> for Fault {
    fn from(error: CourseError) -> Fault {
        Fault::Shown(error.render(false))
    }
}

impl From<RouteError> for Fault {
    fn from(error: RouteError) -> Fault {
        Fault::input(error)
    }
}
