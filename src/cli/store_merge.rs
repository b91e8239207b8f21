//! `needlewise store merge`: the records of other laptops come in.

use super::fault::{Fault, clean};
use super::page::Page;
use super::store::{agreed, counted};
use crate::skills;
use crate::store::{Brought, Incoming, Learner, LearnerId, Said, Store};
use clap::Args;
use std::io::{self, BufRead, IsTerminal, Write};
use std::path::{Path, PathBuf};

#[derive(Args, Debug)]
pub(super) struct MergeArgs {
    /// Stores or backups of other laptops; they are only read
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Only say what would come in
    #[arg(long, conflicts_with = "yes")]
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
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(path, &metas)?;
    let mut all = args.files.iter().map(|file| store.incoming(file)).collect::<Result<Vec<_>, _>>()?;
    let mut said = Vec::new();
    for (pairs, same) in [(&args.same, true), (&args.not_same, false)] {
        for pair in pairs {
            said.extend(understood(&store, &all, pair, same)?);
        }
    }
    let now = jiff::Timestamp::now();
    let mut out = io::stdout();
    if args.look {
        for incoming in &all {
            let brought = store.bring_in(incoming, &said, now, false)?;
            write!(out, "{}", clean(&looked_text(incoming, &brought, &said)))?;
        }
        return Ok(());
    }
    if !args.yes {
        for incoming in &all {
            let brought = store.bring_in(incoming, &said, now, false)?;
            write!(out, "{}", clean(&looked_text(incoming, &brought, &said)))?;
        }
        if io::stdin().is_terminal() {
            ask_about_namesakes(&all, &mut said)?;
        }
        if !agreed("Bring this in?", "--look only says what would come in, --yes brings it in")? {
            return Err(Fault::Could("nothing came in".to_owned()));
        }
    }
    for incoming in all.drain(..) {
        let brought = store.bring_in(&incoming, &said, now, true)?;
        let mut page = Page::default();
        page.line(&format!("From {}:", incoming.path.display()));
        for (here, _) in unsaid(&incoming, &said) {
            page.paragraph(&namesake_words(&here.name));
        }
        write!(out, "{}", clean(&(page.0 + &brought_text(&brought, true))))?;
    }
    Ok(())
}

/// What `NAME=NAME` says: who is here, and who is in a file; where no file has the name, who is here, too.
fn understood(store: &Store, all: &[Incoming], pair: &str, same: bool) -> Result<Vec<Said>, Fault> {
    let option = if same { "--same" } else { "--not-same" };
    let odd = |what: &str| Fault::Input(format!("{option} {pair:?}: {what}"));
    let (here, there) =
        pair.split_once('=').ok_or_else(|| odd("write two names with = between them, like \"Kim=Kim B\""))?;
    let one = store.learner_by_name(here).map_err(|error| odd(&error.to_string()))?;
    let wanted = there.trim().to_lowercase();
    let in_files: Vec<&Learner> = all
        .iter()
        .flat_map(|incoming| &incoming.people)
        .filter(|learner| learner.name.to_lowercase() == wanted)
        .collect();
    // Who is new may be in two of the files and not here yet.
    let one: Option<LearnerId> = one.map(|learner| learner.id).or_else(|| {
        let wanted = here.trim().to_lowercase();
        let mut people = all.iter().flat_map(|incoming| &incoming.people);
        people.find(|learner| learner.name.to_lowercase() == wanted).map(|learner| learner.id)
    });
    let one = one.ok_or_else(|| odd(&format!("nobody is named {}, here or in the files", clean(here.trim()))))?;
    let mut others: Vec<LearnerId> = in_files.iter().map(|learner| learner.id).filter(|other| *other != one).collect();
    if others.is_empty() {
        others.extend(
            store.learner_by_name(there).ok().flatten().map(|learner| learner.id).filter(|other| *other != one),
        );
    }
    if others.is_empty() {
        let known = in_files.iter().any(|learner| learner.id == one);
        return if known || here.trim().to_lowercase() == wanted {
            // One person with one id already: there is nothing to say.
            Ok(Vec::new())
        } else {
            Err(odd(&format!("nobody is named {}, in the files or here", clean(there.trim()))))
        };
    }
    Ok(others.into_iter().map(|other| Said { one, other, same }).collect())
}

/// Namesakes of whom nothing was said.
fn unsaid<'a>(incoming: &'a Incoming, said: &'a [Said]) -> impl Iterator<Item = &'a (Learner, Learner)> {
    incoming.namesakes.iter().filter(|(here, there)| {
        let is =
            |one: &Said| (one.one, one.other) == (here.id, there.id) || (one.other, one.one) == (here.id, there.id);
        !said.iter().any(is)
    })
}

fn namesake_words(name: &str) -> String {
    format!(
        "{name} is here and there, and nobody has said whether that is one person. Both stay, told apart by a number. \
         To say so: merge once more with --same \"{name}={name}\" or --not-same \"{name}={name}\"."
    )
}

/// Asks of each pair of namesakes whether they are one person; an empty line leaves it open.
fn ask_about_namesakes(all: &[Incoming], said: &mut Vec<Said>) -> Result<(), Fault> {
    let mut out = io::stdout();
    for incoming in all {
        let open: Vec<(Learner, Learner)> = unsaid(incoming, said).cloned().collect();
        for (here, there) in open {
            write!(
                out,
                "{} here and {} in {}: the same person? Type yes or no: ",
                clean(&here.name),
                clean(&there.name),
                clean(&incoming.path.display().to_string())
            )?;
            out.flush()?;
            let mut typed = String::new();
            io::stdin().lock().read_line(&mut typed)?;
            let same = match typed.trim().to_lowercase().as_str() {
                "yes" | "y" => true,
                "no" | "n" => false,
                _ => continue,
            };
            said.push(Said { one: here.id, other: there.id, same });
        }
    }
    Ok(())
}

fn looked_text(incoming: &Incoming, brought: &Brought, said: &[Said]) -> String {
    let mut page = Page::default();
    page.line(&format!("From {}:", incoming.path.display()));
    page.0.push_str(&brought_text(brought, false));
    for (here, _) in unsaid(incoming, said) {
        page.paragraph(&namesake_words(&here.name));
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
