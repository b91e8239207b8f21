//! `needlewise` alone, and `needlewise practice`.

use super::args::PracticeArgs;
use super::context::Context;
use super::fault::{Fault, clean};
use super::pick;
use super::settings::Settings;
use crate::clerk;
use crate::drill::{Drill, Standard};
use crate::learner::Placement;
use crate::numbers;
use crate::plain::{self, CheckStart, Desk, Group, Start};
use crate::session::{GroundCard, HomeGround, Plan};
use crate::skills;
use crate::store::{Store, settle_at_end};
use crate::tui::{self, Backstage, Cmd, Launch, Model, Offer, Practise, Theme};
use jiff::tz::TimeZone;
use std::io::{BufWriter, IsTerminal};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// Opens the program.
pub(super) fn open(context: &Context) -> Result<(), Fault> {
    let theme = theme(context)?;
    needs_terminal()?;
    let ground = context.ground_card()?;
    let plan = Plan::free(ground.home.clone());
    full_screen(context, ground, plan, theme, &[], false)
}

/// Practises.
pub(super) fn run(context: &Context, args: PracticeArgs) -> Result<(), Fault> {
    let theme = theme(context)?;
    // A terminal that has no full screen gets lines, where a name is known to begin with.
    if args.plain || (!args.learner.is_empty() && is_terminal_for_lines()) {
        if args.learner.is_empty() {
            return Err(Fault::Input("--plain needs a name: needlewise practice --plain --learner NAME".to_owned()));
        }
        let ground = context.ground_card()?;
        let plan = plan(context, &args, &ground)?;
        return lines(context, ground, plan, &args);
    }
    needs_terminal()?;
    let ground = context.ground_card()?;
    let plan = plan(context, &args, &ground)?;
    full_screen(context, ground, plan, theme, &args.learner, args.round)
}

/// Checks somebody, in the full screen or as lines.
pub(super) fn check(context: &Context, name: &str, standard: Standard, plain: bool) -> Result<(), Fault> {
    let theme = theme(context)?;
    let plain = plain || is_terminal_for_lines();
    if !plain {
        needs_terminal()?;
    }
    let ground = context.ground_card()?;
    let metas: Vec<_> = skills::metas().collect();
    let store = Store::open(&context.store_path()?, &metas)?;
    let learner = super::patrol::live(&store, name)?;
    if plain {
        settle_on_signals(&store)?;
        let start =
            CheckStart { store, learner: &learner, standard, ground, days: context.days(), seed: context.seed() };
        let mut desk = Desk {
            input: &mut std::io::stdin().lock(),
            out: &mut BufWriter::new(std::io::stdout().lock()),
            now: &mut jiff::Timestamp::now,
        };
        return Ok(plain::check(start, &mut desk)?);
    }
    let plan = Plan::free(ground.home.clone());
    let mut model = Model::new(tui::learners(&store)?, ground, plan, theme);
    model.shared.still = context.still;
    model.shared.leader.standards = vec![standard];
    launch(context, store, model, vec![Cmd::Queue(vec![learner.id])])
}

/// Whether somebody sits at a terminal that has no full screen.
fn is_terminal_for_lines() -> bool {
    std::io::stdin().is_terminal() && std::io::stdout().is_terminal() && !crate::platform::has_full_screen()
}

fn needs_terminal() -> Result<(), Fault> {
    if is_terminal_for_lines() {
        return Err(Fault::Input(
            "this terminal has no full screen (TERM is not set, or dumb); use `needlewise practice --plain --learner NAME` for lines of text"
                .to_owned(),
        ));
    }
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() {
        return Ok(());
    }
    Err(Fault::Input(
        "the full screen needs a terminal on both ends; use `needlewise practice --plain --learner NAME` for lines of text"
            .to_owned(),
    ))
}

fn theme(context: &Context) -> Result<Theme, Fault> {
    if let Some(name) = &context.theme {
        return Theme::named(name).ok_or_else(|| {
            Fault::Input(format!("there is no theme {name:?}; the themes are dark, day, sun, night, 16, none"))
        });
    }
    // A theme that was set goes before NO_COLOR, which is for programs that were told nothing.
    if let Some(set) = context.settings()?.load()?.screen.theme.and_then(Theme::named) {
        return Ok(set);
    }
    let variable = |name: &str| std::env::var(name).ok();
    Ok(Theme::for_terminal(variable("NO_COLOR").as_deref(), variable("COLORTERM").as_deref()))
}

/// What was asked for on the command line, as a plan. Options win over what the drill says.
fn plan(context: &Context, args: &PracticeArgs, ground: &GroundCard) -> Result<Plan, Fault> {
    let home = ground.home.clone();
    let plan = match &args.drill {
        Some(name) => Plan::of_drill(&Drill::find(name, context.config_dir().as_deref())?, home),
        None => Plan::free(home),
    };
    let ids =
        args.skill.iter().map(|id| Ok(pick::skill(id)?.meta().id)).collect::<Result<Vec<&'static str>, Fault>>()?;
    let level = args.level.map(pick::level).transpose()?;
    Ok(plan.with_skills(&ids, level).with_end(args.count, args.minutes))
}

/// The drills there are, and what is wrong with those that cannot be offered.
fn offers(config_dir: Option<&Path>, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
    let list = Drill::all(config_dir);
    let offers = list
        .drills
        .iter()
        .map(|drill| Offer { about: drill.about.clone(), plan: Plan::of_drill(drill, home.clone()) })
        .collect();
    let notice = list.errors.split_first().map(|(first, more)| {
        let more = if more.is_empty() { String::new() } else { format!(" (and {} more)", more.len()) };
        format!("A drill is left out: {first}{more}")
    });
    (offers, notice.map(|text| clean(&text)))
}

/// Practice as lines on standard input and output.
fn lines(context: &Context, ground: GroundCard, plan: Plan, args: &PracticeArgs) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let store = Store::open(&context.store_path()?, &metas)?;
    super::patrol::nobody_put_aside(&store, &args.learner)?;
    settle_on_signals(&store)?;
    let mut desk = Desk {
        input: &mut std::io::stdin().lock(),
        out: &mut BufWriter::new(std::io::stdout().lock()),
        now: &mut jiff::Timestamp::now,
    };
    let (days, seed) = (context.days(), context.seed());
    let names = args.learner.as_slice();
    match names {
        _ if args.round => plain::round(Group { store, names, plan, ground, days, seed }, &mut desk)?,
        [learner] => plain::practise(Start { store, learner, plan, ground, days, seed }, &mut desk)?,
        _ => plain::turns(Group { store, names, plan, ground, days, seed }, &mut desk)?,
    }
    Ok(())
}

/// Ends the program on Ctrl-C and the like with everything in the one file of the store.
fn settle_on_signals(store: &Store) -> Result<(), Fault> {
    let path = store.path().to_owned();
    Ok(crate::platform::end_on_signals(move || settle_at_end(&path))?)
}

fn full_screen(
    context: &Context,
    ground: GroundCard,
    plan: Plan,
    theme: Theme,
    names: &[String],
    round: bool,
) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    super::patrol::nobody_put_aside(&store, names)?;
    let first = match names {
        [] => Vec::new(),
        [name] if !round => match store.learner_by_name(name)? {
            Some(known) => vec![Cmd::Open(known.id, Practise::Best)],
            None => vec![Cmd::AddLearner(name.to_owned(), Placement::Fresh)],
        },
        names => {
            let group = clerk::find_or_add_all(&mut store, names, jiff::Timestamp::now())?;
            let group = group.into_iter().map(|(learner, _)| learner.id).collect();
            vec![if round { Cmd::OpenRound(group, None) } else { Cmd::OpenTurns(group) }]
        }
    };
    let learners = tui::learners(&store)?;
    let mut model = Model::new(learners, ground, plan, theme);
    model.shared.still = context.still;
    launch(context, store, model, first)
}

fn launch(context: &Context, store: Store, model: Model, first: Vec<Cmd>) -> Result<(), Fault> {
    let mut backstage = Files {
        settings: context.settings()?,
        folder: context.config_dir(),
        standards: None,
        zone: context.zone.clone(),
    };
    let launch = Launch { store, model, first, backstage: &mut backstage, seed: context.seed() };
    Ok(tui::run(launch)?)
}

/// What the screens change outside the store: the settings.
struct Files {
    settings: Settings,
    /// The folder whose `drills` and `standards` hold the leader's own.
    folder: Option<PathBuf>,
    /// The time zone that today is read in, when it follows the clock.
    zone: Option<TimeZone>,
    /// The standards as read last, and from which files.
    standards: Option<(Vec<Stamp>, Vec<Standard>, Option<String>)>,
}

/// A file and when it was changed.
type Stamp = (PathBuf, Option<SystemTime>);

/// The leader's own files of standards.
fn stamps(folder: Option<&Path>) -> Vec<Stamp> {
    let entries = folder.and_then(|folder| std::fs::read_dir(folder.join("standards")).ok());
    let mut stamps: Vec<Stamp> = entries
        .into_iter()
        .flatten()
        .flatten()
        .map(|entry| (entry.path(), entry.metadata().and_then(|about| about.modified()).ok()))
        .collect();
    numbers::arrange(&mut stamps, Ord::cmp);
    stamps
}

impl Backstage for Files {
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String> {
        self.settings.set_place(place)
    }

    fn drills(&mut self, home: &HomeGround) -> (Vec<Offer>, Option<String>) {
        offers(self.folder.as_deref(), home)
    }

    fn zone(&self) -> Option<TimeZone> {
        self.zone.clone()
    }

    fn standards(&mut self) -> (Vec<Standard>, Option<String>) {
        // Planning a large one takes its time: they are read again only when a file has changed.
        let stamps = stamps(self.folder.as_deref());
        if self.standards.as_ref().is_none_or(|(known, ..)| *known != stamps) {
            let (standards, errors) = Standard::all(self.folder.as_deref());
            let notice = errors.first().map(|first| clean(&format!("A standard is left out: {first}")));
            self.standards = Some((stamps, standards, notice));
        }
        let Some((_, standards, notice)) = &self.standards else { return (Vec::new(), None) };
        // The settings may be changed meanwhile; where they cannot be read, no lines are set.
        let lines = self.settings.load().ok().and_then(|config| config.home.lines);
        let on_lines = |standard: &Standard| standard.clone().on_lines(lines.as_deref());
        (standards.iter().map(on_lines).collect(), notice.clone())
    }

    fn save_theme(&mut self, theme: &str) -> Result<(), String> {
        self.settings.set_theme(theme)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Config;
    use crate::problem::Level;
    use clap::Parser;
    use std::fs;

    fn card() -> GroundCard {
        GroundCard::new(&Config::default(), "", "2026-11-25".parse().unwrap())
    }

    /// The plan of `needlewise practice ...`.
    fn planned(words: &[&str]) -> Result<Plan, Fault> {
        let command = ["needlewise", "practice"].iter().chain(words);
        let cli = super::super::args::Cli::try_parse_from(command).expect("the words are options of practice");
        let context = Context::new(cli.globals)?;
        match cli.command {
            Some(super::super::args::Command::Practice(args)) => plan(&context, &args, &card()),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn options_win_over_what_the_drill_says() {
        let drill = planned(&["--drill", "first-evening"]).unwrap();
        assert_eq!((drill.drill.as_deref(), drill.count, drill.skills.len()), (Some("first-evening"), Some(20), 4));
        let shorter = planned(&["--drill", "first-evening", "--minutes", "5"]).unwrap();
        assert_eq!((shorter.count, shorter.minutes), (None, Some(5)));
        let harder = planned(&["--drill", "first-evening", "--level", "3"]).unwrap();
        assert!(harder.skills.iter().all(|planned| planned.levels == Some((Level::THREE, Level::THREE))));
        let turns = planned(&["--drill", "first-evening", "--skill", "turns"]).unwrap();
        assert_eq!(turns.skills.len(), 1);
        assert_eq!(turns.skills[0].levels, Some((Level::ONE, Level::ONE)), "the drill's own level stays");
        assert!(planned(&["--drill", "first-evning"]).is_err());
        assert!(planned(&["--skill", "cooking"]).is_err());
        assert!(planned(&["--level", "9"]).is_err());
    }

    #[test]
    fn a_leaders_own_drill_is_offered_behind_those_of_the_program_and_a_broken_one_is_told() {
        let folder = tempfile::tempdir().unwrap();
        fs::create_dir(folder.path().join("drills")).unwrap();
        let own = "name = \"ours\"\ntitle = \"Ours\"\ncount = 3\n[[skill]]\nid = \"turns\"\n";
        fs::write(folder.path().join("drills").join("ours.toml"), own).unwrap();
        let (all, notice) = offers(Some(folder.path()), &card().home);
        assert_eq!(all.len(), Drill::embedded().len() + 1);
        assert_eq!(all.last().map(|offer| offer.plan.title.as_str()), Some("Ours"));
        assert_eq!(notice, None);

        fs::write(folder.path().join("drills").join("broken.toml"), "name = \"broken\u{1b}[31m\"").unwrap();
        let (still, notice) = offers(Some(folder.path()), &card().home);
        assert_eq!(still, all);
        let notice = notice.unwrap();
        assert!(notice.starts_with("A drill is left out: ") && notice.contains("broken.toml"), "{notice}");
        assert!(!notice.chars().any(char::is_control), "{notice:?}");
    }
}
