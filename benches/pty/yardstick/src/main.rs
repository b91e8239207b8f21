//! The yardstick: a bare ratatui program that draws a dial over the whole screen and turns it by 3° with each arrow key. `q`
//! ends it. It does what cannot be left out (take the terminal, draw, wait for a key), and nothing else.

use ratatui::backend::CrosstermBackend;
use ratatui::crossterm::event::{self, Event, KeyCode};
use ratatui::crossterm::execute;
use ratatui::crossterm::terminal::{EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode};
use ratatui::prelude::*;
use ratatui::widgets::canvas::{Canvas, Circle, Line as Stroke};
use ratatui::widgets::{Block, Borders};
use std::io;

/// The numbers around the dial, thirty degrees apart.
const NUMBERS: [&str; 12] = ["N", "30", "60", "E", "120", "150", "S", "210", "240", "W", "300", "330"];

fn draw(frame: &mut Frame, turned_deg: f64) {
    let stroke = |direction_deg: f64, from: f64, to: f64, color: Color| {
        let (sin, cos) = direction_deg.to_radians().sin_cos();
        Stroke { x1: from * sin, y1: from * cos, x2: to * sin, y2: to * cos, color }
    };
    let area = frame.area();
    let title = format!(" bearing {:03.0} ", turned_deg.rem_euclid(360.0));
    let dial = Canvas::default()
        .block(Block::default().borders(Borders::ALL).title(title))
        .marker(symbols::Marker::Braille)
        .x_bounds([-100.0, 100.0])
        .y_bounds([-60.0, 60.0])
        .paint(|picture| {
            picture.draw(&Circle { x: 0.0, y: 0.0, radius: 56.0, color: Color::White });
            picture.draw(&Circle { x: 0.0, y: 0.0, radius: 40.0, color: Color::DarkGray });
            for tick in 0..72 {
                let (inner, color) = match tick {
                    tick if tick % 6 == 0 => (46.0, Color::Yellow),
                    tick if tick % 2 == 0 => (50.0, Color::White),
                    _ => (53.0, Color::White),
                };
                picture.draw(&stroke(f64::from(tick) * 5.0 - turned_deg, inner, 56.0, color));
            }
            picture.draw(&stroke(-turned_deg, 0.0, 38.0, Color::Red));
            picture.draw(&stroke(-turned_deg, 0.0, -38.0, Color::Blue));
            picture.layer();
            for (at, number) in (0..).zip(NUMBERS) {
                let (sin, cos) = (f64::from(at) * 30.0 - turned_deg).to_radians().sin_cos();
                picture.print(43.0 * sin, 43.0 * cos, Line::styled(number, Style::new().bold()));
            }
        });
    frame.render_widget(dial, area);
}

fn main() -> io::Result<()> {
    enable_raw_mode()?;
    let mut out = io::BufWriter::with_capacity(1 << 16, io::stdout());
    execute!(out, EnterAlternateScreen)?;
    let mut terminal = Terminal::new(CrosstermBackend::new(out))?;
    let mut turned_deg = 0.0;
    loop {
        terminal.draw(|frame| draw(frame, turned_deg))?;
        loop {
            match event::read()? {
                Event::Key(key) if key.code == KeyCode::Down => turned_deg += 3.0,
                Event::Key(key) if key.code == KeyCode::Up => turned_deg -= 3.0,
                Event::Key(key) if key.code == KeyCode::Char('q') => {
                    disable_raw_mode()?;
                    return execute!(io::stdout(), LeaveAlternateScreen);
                }
                Event::Resize(..) => {}
                _ => continue,
            }
            break;
        }
    }
}
