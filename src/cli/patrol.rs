//! `needlewise patrol`: the people of the store.

use super::args::{Format, PatrolArgs, PatrolCommand, Went};
use super::context::Context;
use super::fault::{Fault, clean};
use super::pick;
use crate::problem::SkillMeta;
use crate::report::seen_words;
use crate::session::{and_words, name_put_aside};
use crate::skills;
use crate::store::{LONGEST_NAME, LONGEST_SEEN, Learner, Seen, SeenId, SeenOutcome, Store, names_in};
use crate::textfile::{nearest, unshowable};
use serde::Serialize;
use std::io::{self, BufRead, BufWriter, IsTerminal, Write};

/// Somebody as JSON.
#[derive(Serialize)]
struct PersonJson<'a> {
    name: &'a str,
    patrol: Option<&'a str>,
    added_at: String,
    archived: bool,
}

/// Runs the command.
pub(super) fn run(context: &Context, args: PatrolArgs) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    if let PatrolCommand::List { archived, format } = args.command {
        return list(&super::store::to_read(&context.store_path()?, &metas)?, archived, format);
    }
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let now = jiff::Timestamp::now();
    match args.command {
        PatrolCommand::List { archived, format } => list(&store, archived, format),
        PatrolCommand::Add { names, patrol } => {
            // An argument that is nothing but commas is refused like any other name that is none.
            let each = |name| match names_in(name).collect::<Vec<&str>>() {
                none if none.is_empty() => vec![name],
                several => several,
            };
            let names: Vec<&str> = names.iter().map(String::as_str).flat_map(each).collect();
            names.iter().try_for_each(|name| put_aside(&store, name))?;
            let added = store.add_learners(&names, patrol.as_deref(), now)?;
            added.iter().try_for_each(|learner| say(&format!("{} is here now, and not checked yet.", learner.name)))
        }
        PatrolCommand::Join { names, patrol } => {
            let people = names.iter().map(|name| live(&store, name)).collect::<Result<Vec<_>, _>>()?;
            let patrol = if patrol.trim() == "-" { None } else { Some(store.patrol_named(&patrol, now)?) };
            for learner in people {
                store.join_patrol(learner.id, patrol, now)?;
            }
            Ok(())
        }
        PatrolCommand::Rename { name, new } => {
            let learner = anybody(&store, &name)?;
            store.rename_learner(learner.id, &new, now)?;
            say(&format!("{} is {} now.", learner.name, new.trim()))
        }
        PatrolCommand::Archive { name, back } => {
            let learner = if back { archived_one(&store, &name)? } else { live(&store, &name)? };
            store.archive_learner(learner.id, !back, now)?;
            let what = if back { "is back" } else { "is put aside; the records are kept" };
            say(&format!("{} {what}.", learner.name))
        }
        PatrolCommand::Erase { name, yes } => {
            let learner = anybody(&store, &name)?;
            if !yes && !certain(&learner)? {
                return Err(Fault::Could(format!("nothing was erased: {} is still here", learner.name)));
            }
            let erased = store.erase_learner(learner.id, now)?;
            let answers = if erased.attempts == 1 { "answer" } else { "answers" };
            say(&format!(
                "{} is erased, with {} {answers}. It cannot be brought back.",
                learner.name, erased.attempts
            ))?;
            if !erased.wiped {
                say("The unused parts of the file could not be wiped now; the next erasing wipes them.")?;
            }
            Ok(())
        }
        PatrolCommand::Seen { names, skill, by, outcome, what, on, undo } => {
            let learners = names.iter().map(|name| live(&store, name)).collect::<Result<Vec<_>, Fault>>()?;
            if undo {
                return unsee(&mut store, &learners, pick::skill(&skill)?.meta(), context.day, now);
            }
            let day = match &on {
                Some(text) => text
                    .parse()
                    .map_err(|_| Fault::Input(format!("--on {text:?} is not a day; write it like 2026-11-25")))?,
                None => context.day,
            };
            if day > context.day {
                return Err(Fault::Input(format!(
                    "--on {day} lies after today, {}: nobody has seen that yet; mend the day, or the clock of this computer",
                    context.day
                )));
            }
            let (skill, what) =
                (pick::skill(&skill)?.meta().id, text("--what", &what.unwrap_or_default(), LONGEST_SEEN)?);
            let by = text("--by", &by.unwrap_or_default(), LONGEST_NAME)?;
            let mut seen: Vec<Seen> = Vec::with_capacity(learners.len());
            let mut named: Vec<String> = Vec::with_capacity(learners.len());
            // The same name twice is one member.
            for learner in learners {
                if seen.iter().any(|known| known.learner == learner.id) {
                    continue;
                }
                named.push(learner.name);
                seen.push(Seen {
                    learner: learner.id,
                    skill: skill.to_owned(),
                    what: what.clone(),
                    day,
                    by: by.clone(),
                    outcome: match outcome {
                        Some(Went::Yes) => SeenOutcome::Yes,
                        Some(Went::No) => SeenOutcome::No,
                        None => SeenOutcome::NotSaid,
                    },
                });
            }
            if by.is_empty() {
                return Err(Fault::Input("--by is empty: say who saw it".to_owned()));
            }
            store.add_seen(&seen, now)?;
            let of: Vec<&str> = named.iter().map(String::as_str).collect();
            let of = and_words(&of);
            say(&match outcome {
                Some(Went::Yes) => format!("It is written down of {of}: yes. --undo takes it back."),
                Some(Went::No) => format!("It is written down of {of}: no. --undo takes it back."),
                None => format!(
                    "It is written down of {of}, without a yes or no; ready for a day needs one: --outcome yes or --outcome no"
                ),
            })
        }
    }
}

/// Takes back the latest entry of each of these in a skill, of all of them or of none.
fn unsee(
    store: &mut Store,
    learners: &[Learner],
    skill: &SkillMeta,
    day: jiff::civil::Date,
    now: jiff::Timestamp,
) -> Result<(), Fault> {
    let mut entries: Vec<SeenId> = Vec::with_capacity(learners.len());
    let mut told = Vec::with_capacity(learners.len());
    for learner in learners {
        let (entry, seen) = store.last_written_seen(learner.id, skill.id)?.ok_or_else(|| {
            Fault::Input(format!("nothing was seen of {} in {}; nothing was taken back", learner.name, skill.title))
        })?;
        if !entries.contains(&entry) {
            entries.push(entry);
            told.push(format!("Taken back: {}, {}, {}.", learner.name, skill.title, seen_words(&seen)));
        }
    }
    store.take_seen_back(&entries, day, now)?;
    told.iter().try_for_each(|line| say(line))?;
    say("What was written down before counts again.")
}

fn say(line: &str) -> Result<(), Fault> {
    Ok(writeln!(io::stdout(), "{}", clean(line))?)
}

/// A short text without anything that could speak to a terminal.
fn text(option: &str, typed: &str, most: usize) -> Result<String, Fault> {
    let text = typed.trim();
    if text.chars().any(unshowable) {
        return Err(Fault::Input(format!(
            "{option} holds a line break or a character that cannot be seen; keep it on one line"
        )));
    }
    if text.chars().count() > most {
        return Err(Fault::Input(format!("{option} is too long: {most} letters at most")));
    }
    Ok(text.to_owned())
}

fn list(store: &Store, archived: bool, format: Format) -> Result<(), Fault> {
    let people = if archived { store.archived_learners()? } else { store.learners()? };
    let patrols = store.patrols()?;
    let mut out = BufWriter::new(io::stdout().lock());
    if people.is_empty() && format == Format::Text {
        writeln!(out, "Nobody is here. Add somebody with: needlewise patrol add NAME")?;
    }
    for learner in &people {
        let patrol = patrols.iter().find(|patrol| patrol.members.contains(&learner.id));
        let patrol = patrol.map(|patrol| patrol.name.as_str());
        match format {
            Format::Text => match patrol {
                Some(patrol) => writeln!(out, "{} ({})", clean(&learner.name), clean(patrol))?,
                None => writeln!(out, "{}", clean(&learner.name))?,
            },
            Format::Json => super::json_line(
                &mut out,
                &PersonJson {
                    name: &learner.name,
                    patrol,
                    added_at: learner.created_at.to_string(),
                    archived: learner.archived,
                },
            )?,
        }
    }
    Ok(out.flush()?)
}

/// Refuses the name of somebody who is put aside.
pub(super) fn put_aside(store: &Store, name: &str) -> Result<(), Fault> {
    match store.archived_learner_by_name(name)? {
        Some(known) => Err(Fault::Input(name_put_aside(&known))),
        None => Ok(()),
    }
}

/// Refuses names of which somebody is put aside and nobody is here, before anything is done for any of them.
pub(super) fn nobody_put_aside(store: &Store, names: &[String]) -> Result<(), Fault> {
    names.iter().try_for_each(|name| match store.learner_by_name(name)? {
        Some(_) => Ok(()),
        None => put_aside(store, name),
    })
}

/// Somebody who is not archived.
pub(super) fn live(store: &Store, name: &str) -> Result<Learner, Fault> {
    match store.learner_by_name(name)? {
        Some(learner) => Ok(learner),
        None => Err(unknown(&store.learners()?, name, "")),
    }
}

fn archived_one(store: &Store, name: &str) -> Result<Learner, Fault> {
    match store.archived_learner_by_name(name)? {
        Some(learner) => Ok(learner),
        None => Err(unknown(&store.archived_learners()?, name, " among those who are put aside")),
    }
}

/// Somebody, archived or not.
pub(super) fn anybody(store: &Store, name: &str) -> Result<Learner, Fault> {
    match store.learner_by_name(name)? {
        Some(learner) => Ok(learner),
        None => archived_one(store, name).map_err(|_| {
            let all: Vec<Learner> = store.learners().unwrap_or_default();
            unknown(&all, name, "")
        }),
    }
}

fn unknown(people: &[Learner], name: &str, among: &str) -> Fault {
    let shown: String = clean(name).chars().take(LONGEST_NAME).collect();
    let names = people.iter().map(|learner| learner.name.as_str());
    let wanted = name.trim().to_lowercase();
    let begins = names.clone().find(|known| !wanted.is_empty() && known.to_lowercase().starts_with(&wanted));
    // Nearness is measured on small letters with hyphens.
    let plain = |name: &str| name.to_lowercase().replace(' ', "-");
    let plains: Vec<String> = names.clone().map(plain).collect();
    let near = nearest(name, plains.iter().map(String::as_str));
    let near = near.and_then(|near| names.clone().find(|known| plain(known) == near));
    let meant = begins.or(near).map(|known| format!(" Did you mean {known}?"));
    Fault::Input(format!(
        "nobody is named {shown}{among}.{} needlewise patrol list shows who is here",
        meant.unwrap_or_default()
    ))
}

/// Asks for the name again; only the very name is a yes.
fn certain(learner: &Learner) -> Result<bool, Fault> {
    if !io::stdin().is_terminal() {
        return Err(Fault::Input(format!(
            "erasing asks before it does anything, and nobody can answer here; add --yes to erase {} for good",
            learner.name
        )));
    }
    say(&format!("Everything that {} ever answered will be gone for good, also from the file.", learner.name))?;
    say("To erase, type the name again; anything else keeps it all:")?;
    let mut typed = String::new();
    io::stdin().lock().read_line(&mut typed)?;
    Ok(typed.trim().to_lowercase() == learner.name.to_lowercase())
}
