//! `needlewise` alone, and `needlewise practice`.

use super::args::PracticeArgs;
use super::context::Context;
use super::fault::Fault;
use super::settings::Settings;
use crate::learner::Placement;
use crate::problem::Level;
use crate::session::{GroundCard, Plan};
use crate::skills;
use crate::store::Store;
use crate::tui::{self, Backstage, Cmd, Launch, Model, Offer, Theme};
use std::io::IsTerminal;

/// Opens the program.
pub(super) fn open(context: &Context) -> Result<(), Fault> {
    let theme = theme(context)?;
    needs_terminal()?;
    let ground = context.ground_card()?;
    let offers = offers(&ground);
    let plan = Plan::free(ground.home.clone());
    full_screen(context, ground, plan, offers, theme, None)
}

/// Practises.
pub(super) fn run(context: &Context, args: PracticeArgs) -> Result<(), Fault> {
    let theme = theme(context)?;
    if !args.plain {
        needs_terminal()?;
    }
    let ground = context.ground_card()?;
    let plan = plan(context, &args, &ground)?;
    let offers = offers(&ground);
    full_screen(context, ground, plan, offers, theme, args.learner.as_deref())
}

fn needs_terminal() -> Result<(), Fault> {
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

/// What was asked for on the command line, as a plan.
fn plan(_context: &Context, args: &PracticeArgs, ground: &GroundCard) -> Result<Plan, Fault> {
    let ids: Vec<&'static str> = args
        .skill
        .iter()
        .map(|id| {
            skills::find(id)
                .map(|skill| skill.meta().id)
                .ok_or_else(|| Fault::Input(format!("there is no skill {id:?}; `needlewise skills` lists them")))
        })
        .collect::<Result<_, _>>()?;
    let level = args
        .level
        .map(|number| {
            Level::new(number)
                .ok_or_else(|| Fault::Input(format!("level {number} does not exist; levels go from 1 to 4")))
        })
        .transpose()?;
    let mut plan = Plan::free(ground.home.clone()).with_skills(&ids, level);
    plan.count = args.count.or(plan.count);
    plan.minutes = args.minutes.or(plan.minutes);
    Ok(plan)
}

fn offers(_ground: &GroundCard) -> Vec<Offer> {
    Vec::new()
}

fn full_screen(
    context: &Context,
    ground: GroundCard,
    plan: Plan,
    offers: Vec<Offer>,
    theme: Theme,
    learner: Option<&str>,
) -> Result<(), Fault> {
    let metas: Vec<_> = skills::metas().collect();
    let mut store = Store::open(&context.store_path()?, &metas)?;
    let first = match learner {
        None => Vec::new(),
        Some(name) => match store.learner_by_name(name)? {
            Some(known) => vec![Cmd::Open(known.id, None)],
            None => vec![Cmd::AddLearner(name.to_owned(), Placement::Fresh)],
        },
    };
    let learners = tui::learners(&mut store)?;
    let model = Model::new(learners, ground, plan, offers, theme);
    let mut backstage = Files(context.settings()?);
    let launch = Launch { store, model, first, backstage: &mut backstage, seed: context.seed() };
    Ok(tui::run(launch)?)
}

/// What the screens change outside the store: the settings.
struct Files(Settings);

impl Backstage for Files {
    fn set_ground(&mut self, place: &str) -> Result<GroundCard, String> {
        self.0.set_place(place)
    }

    fn save_theme(&mut self, theme: &str) -> Result<(), String> {
        self.0.set_theme(theme)
    }
}
