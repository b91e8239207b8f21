//! The games for a group: the list, and the leader's card of the chosen one.

use crate::game::{GAMES, Game, LeaderCard, Part, PartLine, SEEDS};
use crate::numbers::round_from;
use crate::tui::keys::{Line, On, Press, Table};
use crate::tui::model::Shared;
use crate::tui::page::{Next, Page};
use crate::tui::paint::{Lines, Painter};
use crate::tui::scroll::Scroll;
use crate::tui::theme::Tone;
use crossterm::event::KeyCode;
use jiff::Timestamp;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// The state.
#[derive(Debug, Default)]
pub struct GamesPage {
    /// The chosen game.
    chosen: usize,
    /// Its card, where it is open.
    card: Option<LeaderCard>,
    scroll: Scroll,
    /// How many there are; 0 where nobody is named yet.
    group: usize,
}

/// What can happen here.
#[derive(Clone, Copy, Debug)]
pub enum Msg {
    /// So many games on.
    Choose(i32),
    /// Open the card of the chosen one.
    Open,
    /// Other numbers.
    New,
    /// So many players more.
    Players(i8),
    /// Scroll the card.
    Scroll(i32),
    /// From the card to the list.
    Close,
    /// Back to the leader's page.
    Back,
}

const LIST: Table<Msg> = &[
    Line::new(&[(On::Key(KeyCode::Up), Msg::Choose(-1)), (On::Key(KeyCode::Down), Msg::Choose(1))], "choose a game")
        .short("↑ ↓", "choose"),
    Line::new(&[(On::Key(KeyCode::Enter), Msg::Open)], "the leader's card of the chosen game").short("Enter", "card"),
    Line::new(&[(On::Key(KeyCode::Esc), Msg::Back), (On::Letter('q'), Msg::Back)], "back to the leader's page")
        .short("Esc", "back"),
];
const CARD: Table<Msg> = &[
    Line::new(
        &[
            (On::Key(KeyCode::Up), Msg::Scroll(-1)),
            (On::Key(KeyCode::Down), Msg::Scroll(1)),
            (On::Key(KeyCode::PageUp), Msg::Scroll(-10)),
            (On::Key(KeyCode::PageDown), Msg::Scroll(10)),
        ],
        "scroll",
    )
    .short("↑ ↓", "scroll"),
    Line::new(&[(On::Letter('n'), Msg::New)], "new numbers for the same game; without it a day has one round of each")
        .short("n", "new numbers"),
    Line::new(
        &[(On::Key(KeyCode::Left), Msg::Players(-1)), (On::Key(KeyCode::Right), Msg::Players(1))],
        "fewer or more players in the group; the numbers are dealt anew",
    )
    .short("← →", "players"),
    Line::new(
        &[(On::Key(KeyCode::Esc), Msg::Close), (On::Key(KeyCode::Enter), Msg::Close), (On::Letter('q'), Msg::Close)],
        "back to the games",
    )
    .short("Esc", "back"),
];

impl GamesPage {
    /// The list, for a group of so many.
    #[must_use]
    pub fn new(group: usize) -> GamesPage {
        GamesPage { group, ..GamesPage::default() }
    }

    /// How many play the chosen game: all that are there, as far as it can be played by so many.
    fn players(&self) -> u8 {
        let (fewest, most) = (*self.game().players.start(), *self.game().players.end());
        match u8::try_from(self.group) {
            Ok(0) => self.game().usual,
            group => group.unwrap_or(most).clamp(fewest, most),
        }
    }

    fn game(&self) -> &'static Game {
        GAMES[self.chosen % GAMES.len()]
    }

    /// The round of the day: whoever leaves the card and comes back finds the same one.
    fn deal(&mut self, day: Date) {
        let day = (i32::from(day.year()) * 100 + i32::from(day.month())) * 100 + i32::from(day.day());
        self.card = self.game().lead(self.players(), u64::from(day.unsigned_abs()) % SEEDS);
        self.scroll = Scroll::default();
    }

    /// Other numbers, for as many players; by the moment, since a screen has no dice.
    fn deal_anew(&mut self, at: Timestamp) {
        let players = self.card.as_ref().map_or(self.game().usual, |card| card.players);
        let seed = at.as_millisecond().unsigned_abs() % SEEDS;
        let same = self.card.as_ref().is_some_and(|card| card.seed == seed);
        self.card = self.game().lead(players, if same { (seed + 1) % SEEDS } else { seed });
        self.scroll = Scroll::default();
    }

    fn list(&self, lines: &mut Lines) {
        lines.title("Games for the group, outdoors, with cards or real compasses");
        lines.gap();
        for (at, game) in GAMES.into_iter().enumerate() {
            let (fewest, most) = (game.players.start(), game.players.end());
            lines.item(at == self.chosen, &format!("{}, {fewest} to {most} players", game.title));
            if at == self.chosen {
                lines.hanging(Tone::Quiet, "    ", game.about);
            }
        }
    }
}

/// A card, as it is read.
fn told(card: &LeaderCard, lines: &mut Lines) {
    lines.title(&card.title());
    lines.text(card.game.about);
    for Part { heading, lines: under } in card.parts() {
        lines.gap();
        lines.title(heading);
        for PartLine { mark, column, text } in under {
            lines.hanging(Tone::Text, &format!("  {mark:<0$}", column.saturating_sub(2)), &text);
        }
    }
    lines.gap();
    lines.quiet(&format!("The same round on paper: {}", card.command()));
}

impl Page for GamesPage {
    type Msg = Msg;
    const TABLES: &'static [(&'static str, Table<Msg>)] = &[("The games", LIST), ("A game", CARD)];

    fn keys(&self) -> Table<Msg> {
        if self.card.is_some() { CARD } else { LIST }
    }

    fn update(&mut self, msg: Msg, press: Press, shared: &mut Shared) -> Next {
        match msg {
            Msg::Choose(by) => self.chosen = round_from(self.chosen, by, GAMES.len()),
            Msg::Open => self.deal(shared.day),
            Msg::New => self.deal_anew(press.at),
            Msg::Players(by) => {
                let other = self.card.as_ref().and_then(|card| {
                    let players = card.players.saturating_add_signed(by);
                    card.game.lead(players, card.seed)
                });
                // Fewer than enough, or more than one group, cannot play it.
                if other.is_some() {
                    self.card = other;
                    self.scroll = Scroll::default();
                }
            }
            Msg::Scroll(by) => self.scroll.by(by),
            Msg::Close => self.card = None,
            Msg::Back => return Next::Back,
        }
        Next::Stay
    }

    fn view(&self, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
        let mut lines = Lines::new(shared.theme, area.width);
        match &self.card {
            Some(card) => {
                told(card, &mut lines);
                let room = Rect { height: area.height.saturating_sub(1), ..area };
                let (_, more) = painter.lines_from(lines, room, &self.scroll);
                if more > 0 {
                    painter.more_below(area, "PgDn");
                }
            }
            None => {
                self.list(&mut lines);
                painter.lines(lines, area);
            }
        }
    }

    fn title(&self, shared: &Shared) -> (String, String) {
        (
            if self.card.is_some() { format!("Games · {}", self.game().title) } else { "Games".to_owned() },
            shared.day.to_string(),
        )
    }
}
