//! `needlewise game`: the leader's card of a round, or the list of games.

use super::args::{Format, GameArgs};
use super::context::Context;
use super::fault::Fault;
use super::page::Page;
use crate::game::{Card, GAMES, Game, LeaderCard, Part, PartLine, Slip};
use crate::textfile::{nearest, shown};
use serde::Serialize;
use std::io::{self, BufWriter, Write};

/// A game in the list, as JSON.
#[derive(Serialize)]
struct GameJson {
    game: &'static str,
    title: &'static str,
    about: &'static str,
    fewest_players: u8,
    most_players: u8,
}

/// A leader's card as JSON.
#[derive(Serialize)]
struct CardJson<'a> {
    game: &'static str,
    players: u8,
    seed: u64,
    say: &'a [String],
    cards: Vec<PlayerJson<'a>>,
    key: &'a [String],
    answer: &'a str,
    slips: Vec<SlipJson<'a>>,
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct PlayerJson<'a> {
    who: &'a str,
    text: &'a str,
}

#[derive(Serialize)]
struct SlipJson<'a> {
    end: &'a str,
    tells: &'a str,
}

/// Runs the command.
pub(super) fn run(context: &Context, args: &GameArgs) -> Result<(), Fault> {
    let mut out = BufWriter::new(io::stdout().lock());
    let Some(name) = &args.name else {
        match args.format {
            Format::Json => GAMES.into_iter().try_for_each(|game| super::json_line(&mut out, &listed_json(game)))?,
            Format::Text => out.write_all(list().as_bytes())?,
        }
        return Ok(out.flush()?);
    };
    let card = lead(context, name, args)?;
    match args.format {
        Format::Json => super::json_line(&mut out, &card_json(&card))?,
        Format::Text => out.write_all(text(&card).as_bytes())?,
    }
    Ok(out.flush()?)
}

fn lead(context: &Context, name: &str, args: &GameArgs) -> Result<LeaderCard, Fault> {
    let game = Game::find(name).ok_or_else(|| unknown(name))?;
    let players = args.players.unwrap_or(game.usual);
    let seed = args.seed.unwrap_or_else(|| context.short_seed());
    game.lead(players, seed).ok_or_else(|| {
        let (fewest, most) = (game.players.start(), game.players.end());
        Fault::Input(format!("{} is for {fewest} to {most} players in a group, not for {players}", game.name))
    })
}

fn unknown(name: &str) -> Fault {
    let meant = match nearest(name, GAMES.into_iter().map(|game| game.name)) {
        Some(game) => format!("did you mean {game}? "),
        None => String::new(),
    };
    Fault::Input(format!("there is no game {}; {meant}`needlewise game` lists them", shown(name)))
}

fn listed_json(game: &'static Game) -> GameJson {
    let Game { name, title, about, players, .. } = game;
    GameJson { game: name, title, about, fewest_players: *players.start(), most_players: *players.end() }
}

fn card_json(card: &LeaderCard) -> CardJson<'_> {
    let round = &card.round;
    CardJson {
        game: card.game.name,
        players: card.players,
        seed: card.seed,
        say: &round.say,
        cards: round.cards.iter().map(|Card { who, text }| PlayerJson { who, text }).collect(),
        key: &round.key,
        answer: &round.answer,
        slips: round.slips.iter().map(|Slip { end, tells }| SlipJson { end, tells }).collect(),
        cautions: card.game.cautions().collect(),
    }
}

/// All games.
fn list() -> String {
    let mut page = Page::default();
    for game in GAMES {
        let (fewest, most) = (game.players.start(), game.players.end());
        page.line(game.name);
        page.hanging("", 4, &format!("{} {fewest} to {most} players.", game.about));
    }
    page.line("");
    page.paragraph(
        "needlewise game NAME prints the leader's card; --players N, and --seed N for the same round again.",
    );
    page.0
}

/// The leader's card.
fn text(card: &LeaderCard) -> String {
    let mut page = Page::default();
    page.line(&card.title());
    page.paragraph(card.game.about);
    for Part { heading, lines } in card.parts() {
        page.line("");
        page.line(heading);
        for PartLine { mark, column, text } in lines {
            let mark = if mark.is_empty() { mark } else { format!("  {mark}") };
            page.hanging(&mark, column, &text);
        }
    }
    page.line("");
    page.paragraph(&format!("The same round again: {}", card.command()));
    page.0
}
