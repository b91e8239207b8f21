//! `needlewise store merge`: the records of other laptops come in.

use super::fault::{Fault, clean};
use super::page::Page;
use super::store::{agreed, counted};
use crate::skills;
use crate::store::{Brought, Incoming, LearnerId, Namesakes, Said, Store};
use clap::Args;
use std::collections::BTreeSet;
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
pub(super) struct MergeArgs {
    /// Stores or backups of other laptops; they are only read
    #[arg(value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Only say what would come in
    #[arg(long, conflicts_with = "yes", requires = "files")]
    look: bool,
    /// Do not ask
    #[arg(long)]
    yes: bool,
    /// Two names are one person's: who is here, and who is in a file (or here, too); may be given several times
    #[arg(long, value_name = "NAME=NAME")]
    same: Vec<String>,
    /// Two names are those of two people; may be given several times
    #[arg(long, value_name = "NAME=NAME")]
    not_same: Vec<String>,
}

/// Runs the command.
pub(super) fn run(path: &Path, args: &MergeArgs) -> Result<(), Fault> {
    if args.files.is_empty() && args.same.is_empty() && args.not_same.is_empty() {
        let what = "name a store or a backup of another laptop, or say who is who with --same NAME=NAME or --not-same NAME=NAME";
        return Err(Fault::Input(what.to_owned()));
    }
    let metas: Vec<_> = skills::metas().collect();
    let mut store = if args.files.is_empty() { super::store::present(path)? } else { Store::open(path, &metas)? };
    let all = args.files.iter().map(|file| store.incoming(file)).collect::<Result<Vec<_>, _>>()?;
    let mut said = Vec::new();
    for (pairs, same) in [(&args.same, true), (&args.not_same, false)] {
        for pair in pairs {
            said.extend(understood(&store, &all, pair, same)?);
        }
    }
    let now = jiff::Timestamp::now();
    let mut out = io::stdout();
    if all.is_empty() {
        let question = "Who is one person stays one: this cannot be taken back. Say it?";
        if said.iter().any(|one| one.same) && !args.yes && !agreed(question, "--yes says it")? {
            return Err(Fault::Could("nothing was said".to_owned()));
        }
        store.say(&said, now)?;
        let mut page = Page::default();
        page.line(if said.is_empty() { "That is known already." } else { "That is remembered now." });
        return Ok(write!(out, "{}{}", clean(&page.0), clean(&open_text(&store)?))?);
    }
    if !args.yes {
        let open = store.namesakes(&all, &said)?;
        for (at, incoming) in all.iter().enumerate() {
            let brought = store.bring_in(incoming, &said, now, false)?;
            let open = open.iter().filter(|pair| pair.file == Some(at));
            write!(out, "{}", clean(&looked_text(incoming, &brought, open)))?;
        }
        if args.look {
            return Ok(());
        }
        if io::stdin().is_terminal() {
            ask_about_namesakes(&store, &all, &mut said)?;
        }
        if !agreed("Bring this in?", "--look only says what would come in, --yes brings it in")? {
            return Err(Fault::Could("nothing came in".to_owned()));
        }
    }
    for incoming in all {
        let brought = store.bring_in(&incoming, &said, now, true)?;
        let mut page = Page::default();
        page.line(&format!("From {}:", incoming.path.display()));
        write!(out, "{}", clean(&(page.0 + &brought_text(&brought, true))))?;
    }
    Ok(write!(out, "{}", clean(&open_text(&store)?))?)
}

/// What `NAME=NAME` says: who is here, and who is in a file; where no file has the name, who is here, too.
fn understood(store: &Store, all: &[Incoming], pair: &str, same: bool) -> Result<Option<Said>, Fault> {
    let option = if same { "--same" } else { "--not-same" };
    let odd = |what: &str| Fault::Input(format!("{option} {pair:?}: {what}"));
    let (here, there) =
        pair.split_once('=').ok_or_else(|| odd("write two names with = between them, like \"Kim=Kim B\""))?;
    let here_is = store.learner_by_name(here).map_err(|error| odd(&error.to_string()))?;
    // Everybody in the files who is called so, each id once.
    let in_files = |name: &str| -> BTreeSet<LearnerId> {
        let wanted = name.trim().to_lowercase();
        let people = all.iter().flat_map(|incoming| &incoming.people);
        people.filter(|learner| learner.name.to_lowercase() == wanted).map(|learner| learner.id).collect()
    };
    let several = |name: &str| {
        odd(&format!(
            "several people in the files are named {}, and this would be said of all of them; bring the files in one after the other, \
             each with what is true of it",
            clean(name.trim())
        ))
    };
    let is_one_name = here.trim().to_lowercase() == there.trim().to_lowercase();
    // Who is new may be in two of the files and not here yet.
    let new = if here_is.is_some() { BTreeSet::new() } else { in_files(here) };
    if new.len() > 1 && !is_one_name {
        return Err(several(here));
    }
    let one = here_is.map(|learner| learner.id).or_else(|| new.first().copied());
    let one = one.ok_or_else(|| odd(&format!("nobody is named {}, here or in the files", clean(here.trim()))))?;
    let mut others = in_files(there);
    let is_known = others.remove(&one);
    if others.is_empty() {
        others.extend(store.learner_by_name(there).ok().flatten().map(|there| there.id).filter(|other| *other != one));
    }
    let mut others = others.into_iter();
    match (others.next(), others.next()) {
        (Some(other), None) => Ok(Some(Said { one, other, same })),
        (Some(_), Some(_)) => Err(several(there)),
        // One person with one id already: there is nothing to say.
        (None, _) if is_known || is_one_name => Ok(None),
        (None, _) => Err(odd(&format!("nobody is named {}, in the files or here", clean(there.trim())))),
    }
}

/// What is still open among the people who are here, and how to say it.
pub(super) fn open_text(store: &Store) -> Result<String, Fault> {
    let mut page = Page::default();
    for pair in store.namesakes(&[], &[])? {
        let (one, other) = (&pair.one.name, &pair.other.name);
        page.paragraph(&format!(
            "{one} and {other} have one name, and nobody has said whether they are one person. To say so: \
             needlewise store merge --same \"{one}={other}\" or --not-same \"{one}={other}\"."
        ));
    }
    Ok(page.0)
}

/// Asks of each pair of namesakes whether they are one person; an empty line leaves it open.
fn ask_about_namesakes(store: &Store, all: &[Incoming], said: &mut Vec<Said>) -> Result<(), Fault> {
    let mut out = io::stdout();
    let mut left_open = Vec::new();
    loop {
        // After each answer anew: it may say something of the other pairs, too.
        let pairs = store.namesakes(all, said)?;
        let Some(pair) = pairs.into_iter().find(|pair| !left_open.contains(&(pair.one.id, pair.other.id))) else {
            return Ok(());
        };
        let (one, other) = (pair.one, pair.other);
        let file = pair.file.and_then(|at| all.get(at)).map(|incoming| format!(" in {}", incoming.path.display()));
        write!(
            out,
            "{} and {}{}: the same person? Type yes or no: ",
            clean(&one.name),
            clean(&other.name),
            clean(&file.unwrap_or_default())
        )?;
        out.flush()?;
        let mut typed = String::new();
        io::stdin().lock().read_line(&mut typed)?;
        match typed.trim().to_lowercase().as_str() {
            "yes" | "y" => said.push(Said { one: one.id, other: other.id, same: true }),
            "no" | "n" => said.push(Said { one: one.id, other: other.id, same: false }),
            _ => left_open.push((one.id, other.id)),
        }
    }
}

fn looked_text<'a>(incoming: &Incoming, brought: &Brought, open: impl Iterator<Item = &'a Namesakes>) -> String {
    let mut page = Page::default();
    page.line(&format!("From {}:", incoming.path.display()));
    page.0.push_str(&brought_text(brought, false));
    for pair in open {
        let (one, other) = (&pair.one.name, &pair.other.name);
        page.paragraph(&format!(
            "{one} and {other} in this file have one name, and nobody has said whether they are one person. Both stay, told apart by a \
             number. To say so add --same \"{one}={other}\" or --not-same \"{one}={other}\"."
        ));
    }
    page.0
}

/// What came in, or would.
pub(super) fn brought_text(brought: &Brought, is_done: bool) -> String {
    let parts: Vec<String> = [
        (brought.people, "person", "people"),
        (brought.answers, "answer", "answers"),
        (brought.sittings, "sitting", "sittings"),
        (brought.checks, "check", "checks"),
        (brought.seen, "entry of what was seen on the ground", "entries of what was seen on the ground"),
        (brought.sheets, "sheet", "sheets"),
        (brought.marks, "mark", "marks"),
    ]
    .into_iter()
    .filter(|(count, ..)| *count > 0)
    .map(|(count, one, many)| counted(count, one, many))
    .collect();
    let mut page = Page::default();
    let verb = if is_done { "Came in" } else { "Would come in" };
    if parts.is_empty() {
        page.line(if is_done { "Nothing new came in." } else { "Nothing new would come in." });
    } else {
        page.paragraph(&format!("{verb}: {}.", parts.join(", ")));
    }
    if brought.erased > 0 {
        let verb = if is_done { "was" } else { "would be" };
        page.paragraph(&format!(
            "Erased there, and so {verb} erased here: {}.",
            counted(brought.erased, "person", "people")
        ));
    }
    if !brought.numbered.is_empty() {
        page.paragraph(&format!("With a number to tell them apart: {}.", brought.numbered.join(", ")));
    }
    page.0
}
