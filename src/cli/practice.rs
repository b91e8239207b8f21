//! `needlewise` alone, and `needlewise practice`.

use super::args::PracticeArgs;
use super::backstage::Files;
use super::context::Context;
use super::fault::Fault;
use super::pick;
use crate::clerk;
use crate::drill::{Drill, Standard};
use crate::learner::Placement;
use crate::plain::{self, CheckStart, Desk, Group, Start};
use crate::platform;
use crate::session::{GroundCard, Plan};
use crate::skills;
use crate::store::{Store, settle_at_end};
use crate::tui::{self, Cmd, Launch, Model, Practise, Theme};
use std::io::{BufWriter, IsTerminal};

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
        // What was shown of a check counts, and nobody could answer it.
        if platform::nothing_can_be_read() {
            let why = "nothing can be read from standard input, so nobody could answer: nothing was begun, and nothing is written";
            return Err(Fault::Could(why.to_owned()));
        }
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
    let mut backstage = Files::new(context)?;
    let launch = Launch { store, model, first, backstage: &mut backstage, seed: context.seed() };
    Ok(tui::run(launch)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config::Config;
    use crate::problem::Level;
    use clap::Parser;

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
}
