//! Themes: each role of a drawing and each kind of text gets its style here and nowhere else.
//!
//! Map roles follow the common convention of topographic maps (brown relief, blue water, green woods, black works); the
//! compass has one accent, the learner's own lines another. Nothing is told by colour alone: see the shapes and words
//! that go with each role in `scene` and on the screens.

use crate::scene::{Emphasis, Ink};
use ratatui::style::{Color, Modifier, Style};

/// A theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Theme {
    /// Dark ink on paper.
    Day,
    /// Black on white and nothing between, for full sun.
    Sun,
    /// Light ink on the terminal's own dark ground.
    Dark,
    /// Reds only, for eyes used to the dark.
    Night,
    /// The terminal's sixteen colours.
    Sixteen,
    /// No colour at all.
    Plain,
}

/// What a piece of text is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tone {
    /// Running text.
    Text,
    /// Titles.
    Title,
    /// What may be overlooked.
    Quiet,
    /// Keys on the bottom line.
    Key,
    /// The field being typed into.
    Field,
    /// The chosen line of a list.
    Chosen,
    /// A right answer.
    Right,
    /// A wrong answer.
    Wrong,
    /// A caution.
    Caution,
    /// The neat line and other frames.
    Frame,
}

impl Tone {
    /// All of them.
    #[cfg(test)]
    pub const ALL: [Tone; 10] = [
        Tone::Text,
        Tone::Title,
        Tone::Quiet,
        Tone::Key,
        Tone::Field,
        Tone::Chosen,
        Tone::Right,
        Tone::Wrong,
        Tone::Caution,
        Tone::Frame,
    ];
}

const fn rgb(hex: u32) -> Color {
    let [_, red, green, blue] = hex.to_be_bytes();
    Color::Rgb(red, green, blue)
}

impl Theme {
    /// All of them, in the order in which a key goes through them.
    pub const ALL: [Theme; 6] = [Theme::Dark, Theme::Day, Theme::Sun, Theme::Night, Theme::Sixteen, Theme::Plain];

    /// The name on the command line and in the config file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Theme::Day => "day",
            Theme::Sun => "sun",
            Theme::Dark => "dark",
            Theme::Night => "night",
            Theme::Sixteen => "16",
            Theme::Plain => "none",
        }
    }

    /// The theme with this name.
    #[must_use]
    pub fn named(name: &str) -> Option<Theme> {
        Theme::ALL.into_iter().find(|theme| theme.name() == name)
    }

    /// The theme for a terminal, from its environment: `NO_COLOR` (any value but empty) means none, a terminal that does not
    /// announce full colour gets the sixteen.
    #[must_use]
    pub fn for_terminal(no_color: Option<&str>, colorterm: Option<&str>) -> Theme {
        if no_color.is_some_and(|value| !value.is_empty()) {
            Theme::Plain
        } else if colorterm.is_some_and(|value| value.contains("truecolor") || value.contains("24bit")) {
            Theme::Dark
        } else {
            Theme::Sixteen
        }
    }

    /// The next theme.
    #[must_use]
    pub fn next(self) -> Theme {
        let at = Theme::ALL.iter().position(|theme| *theme == self).map_or(0, |at| at + 1);
        Theme::ALL[at % Theme::ALL.len()]
    }

    /// The ground that everything stands on.
    #[must_use]
    pub const fn base(self) -> Style {
        match self {
            Theme::Day => Style::new().fg(rgb(0x26221c)).bg(rgb(0xfbf8ee)),
            Theme::Sun => Style::new().fg(Color::Rgb(0, 0, 0)).bg(Color::Rgb(255, 255, 255)),
            Theme::Night => Style::new().fg(rgb(0xc03820)).bg(Color::Rgb(0, 0, 0)),
            Theme::Dark | Theme::Sixteen | Theme::Plain => Style::new(),
        }
    }

    /// The style of a role in a drawing.
    #[must_use]
    pub const fn ink(self, ink: Ink) -> Style {
        let color = match self {
            Theme::Day => match ink {
                Ink::Faint | Ink::Sheet | Ink::Capsule => rgb(0xb8b09c),
                Ink::Relief => rgb(0x9c622e),
                Ink::Woods => rgb(0x3f7d3a),
                Ink::Water => rgb(0x1f5fb4),
                Ink::Works | Ink::Text | Ink::TrueNorth | Ink::Border => rgb(0x26221c),
                Ink::Plate => rgb(0x5c5648),
                Ink::Compass => rgb(0x7a6000),
                Ink::Orienting => rgb(0x0b5f8a),
                Ink::Edge => rgb(0xc2410c),
                Ink::GridNorth => rgb(0x2c588c),
                Ink::MagneticNorth | Ink::NeedleNorth => rgb(0xb81e1e),
                Ink::NeedleSouth => rgb(0x5a564e),
                Ink::LearnerLine => rgb(0x8a2a9a),
                Ink::RightLine => rgb(0x0a7a4e),
            },
            Theme::Sun => match ink {
                Ink::Water | Ink::GridNorth => Color::Rgb(0, 0, 170),
                Ink::NeedleNorth | Ink::MagneticNorth => Color::Rgb(170, 0, 0),
                Ink::LearnerLine => Color::Rgb(110, 0, 130),
                Ink::RightLine => Color::Rgb(0, 90, 40),
                _ => Color::Rgb(0, 0, 0),
            },
            Theme::Dark => match ink {
                Ink::Faint | Ink::Sheet | Ink::Capsule => rgb(0x6a7076),
                Ink::Relief => rgb(0x96683a),
                Ink::Woods => rgb(0x6ca85c),
                Ink::Water => rgb(0x5c9ce8),
                Ink::Works | Ink::Text => Color::Reset,
                Ink::TrueNorth => rgb(0xf4f0e4),
                Ink::Border => rgb(0xa8a498),
                Ink::Plate => rgb(0xa4acb4),
                Ink::Compass => rgb(0xffc14d),
                Ink::Orienting => rgb(0x8fd0ff),
                Ink::Edge => rgb(0xff8a3c),
                Ink::GridNorth => rgb(0x7cc8b8),
                Ink::MagneticNorth | Ink::NeedleNorth => rgb(0xf05c50),
                Ink::NeedleSouth => rgb(0xb0b4b8),
                Ink::LearnerLine => rgb(0xd080e0),
                Ink::RightLine => rgb(0x58d090),
            },
            Theme::Night => match ink {
                Ink::Faint | Ink::Sheet | Ink::Capsule | Ink::Relief | Ink::Woods | Ink::Water => rgb(0x701c10),
                Ink::Plate => rgb(0xa83018),
                Ink::Works | Ink::Border | Ink::Text | Ink::TrueNorth | Ink::GridNorth | Ink::NeedleSouth => {
                    rgb(0xc43a22)
                }
                Ink::Compass
                | Ink::Orienting
                | Ink::Edge
                | Ink::MagneticNorth
                | Ink::NeedleNorth
                | Ink::LearnerLine
                | Ink::RightLine => rgb(0xf04828),
            },
            Theme::Sixteen => match ink {
                Ink::Faint | Ink::Sheet | Ink::Capsule | Ink::Plate => Color::DarkGray,
                // The compass must stand out from the relief, also here.
                Ink::Relief => Color::Yellow,
                Ink::Compass => Color::LightYellow,
                Ink::Orienting => Color::LightCyan,
                Ink::Edge => Color::LightMagenta,
                Ink::Woods | Ink::RightLine => Color::Green,
                Ink::Water => Color::LightBlue,
                Ink::Works | Ink::Border | Ink::Text | Ink::TrueNorth => Color::Reset,
                Ink::GridNorth => Color::Cyan,
                Ink::MagneticNorth | Ink::NeedleNorth => Color::Red,
                Ink::NeedleSouth => Color::Gray,
                Ink::LearnerLine => Color::Magenta,
            },
            Theme::Plain => Color::Reset,
        };
        let style = self.base().fg(color);
        match (self, ink) {
            (Theme::Plain | Theme::Night, Ink::Faint) => style.add_modifier(Modifier::DIM),
            (Theme::Plain, Ink::NeedleNorth | Ink::RightLine) => style.add_modifier(Modifier::BOLD),
            _ => style,
        }
    }

    /// The tint of an area in a drawing.
    #[must_use]
    pub const fn tint(self, ink: Ink) -> Option<Color> {
        match (self, ink) {
            (Theme::Day, Ink::Woods) => Some(rgb(0xdcecd2)),
            (Theme::Day, Ink::Water) => Some(rgb(0xd2e4f6)),
            (Theme::Dark, Ink::Woods) => Some(rgb(0x182c1a)),
            (Theme::Dark, Ink::Water) => Some(rgb(0x14263c)),
            (Theme::Day, Ink::Sheet)
            | (Theme::Sun, Ink::Sheet | Ink::Capsule | Ink::Orienting | Ink::Woods | Ink::Water) => Some(rgb(0xffffff)),
            (Theme::Day, Ink::Plate) => Some(rgb(0xd3e0ea)),
            (Theme::Day, Ink::Orienting) => Some(rgb(0xbcdcf0)),
            (Theme::Dark, Ink::Orienting) => Some(rgb(0x17405a)),
            (Theme::Day, Ink::Capsule) => Some(rgb(0xf2f7fa)),
            (Theme::Dark, Ink::Sheet) => Some(rgb(0x26272a)),
            (Theme::Dark, Ink::Plate) => Some(rgb(0x2a4052)),
            (Theme::Dark, Ink::Capsule) => Some(rgb(0x0c1118)),
            (Theme::Sun, Ink::Plate) => Some(rgb(0xd8d8d8)),
            (Theme::Night, Ink::Sheet | Ink::Woods | Ink::Water) => Some(rgb(0x160402)),
            (Theme::Night, Ink::Plate | Ink::Orienting) => Some(rgb(0x300a04)),
            (Theme::Night, Ink::Capsule) => Some(rgb(0x000000)),
            (Theme::Sixteen, Ink::Plate) => Some(Color::Blue),
            (Theme::Sixteen, Ink::Sheet | Ink::Capsule) => Some(Color::Reset),
            _ => None,
        }
    }

    /// Whether a ground is shown by light and dark the other way round, which needs no colour: paper and the floor of the
    /// compass lie light on a dark table, and the plate between them is dark.
    #[must_use]
    pub const fn reverses(self, ink: Ink) -> bool {
        matches!((self, ink), (Theme::Plain, Ink::Sheet | Ink::Woods | Ink::Water | Ink::Capsule | Ink::Orienting))
    }

    /// What an empty cell of a ground is filled with: without colour the plate is neither light as paper nor dark as the table under
    /// it, or it is taken for a hole in the map.
    #[must_use]
    pub const fn texture(self, ink: Ink) -> char {
        match (self, ink) {
            (Theme::Plain, Ink::Plate) => '▒',
            _ => ' ',
        }
    }

    /// The style of a label's emphasis on top of its ink.
    #[must_use]
    pub const fn emphasis(self, emphasis: Emphasis) -> Modifier {
        match emphasis {
            Emphasis::Plain => Modifier::empty(),
            Emphasis::Strong => Modifier::BOLD,
            Emphasis::Quiet => Modifier::DIM,
        }
    }

    /// The style of a piece of text.
    #[must_use]
    pub const fn tone(self, tone: Tone) -> Style {
        let base = self.base();
        match tone {
            Tone::Text => base,
            Tone::Title => base.add_modifier(Modifier::BOLD),
            Tone::Quiet => match self {
                Theme::Day => base.fg(rgb(0x6f6858)),
                Theme::Dark => base.fg(rgb(0x9aa0a6)),
                Theme::Night => base.fg(rgb(0xa83018)),
                Theme::Sixteen | Theme::Plain => base.add_modifier(Modifier::DIM),
                Theme::Sun => base,
            },
            Tone::Key => base.add_modifier(Modifier::BOLD).fg(self.accent()),
            Tone::Field => base.add_modifier(Modifier::BOLD.union(Modifier::UNDERLINED)),
            Tone::Chosen => base.add_modifier(Modifier::REVERSED),
            Tone::Right => self.ink(Ink::RightLine).add_modifier(Modifier::BOLD),
            Tone::Wrong => self.ink(Ink::LearnerLine).add_modifier(Modifier::BOLD),
            Tone::Caution => base.fg(self.accent()),
            Tone::Frame => self.ink(Ink::Plate),
        }
    }

    const fn accent(self) -> Color {
        match self {
            Theme::Day => rgb(0xa05000),
            Theme::Sun => Color::Rgb(0, 0, 0),
            Theme::Dark => rgb(0xf0a840),
            Theme::Night => rgb(0xf04828),
            Theme::Sixteen => Color::Yellow,
            Theme::Plain => Color::Reset,
        }
    }
}

#[cfg(test)]
#[path = "../../tests/contrast/mod.rs"]
mod wcag;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn night_shows_nothing_but_reds() {
        let red = |color: Option<Color>| match color {
            Some(Color::Rgb(r, g, b)) => r >= g && r >= b && g < 0x50 && b < 0x30,
            Some(_) => false,
            None => true,
        };
        for style in
            Ink::ALL.iter().map(|ink| Theme::Night.ink(*ink)).chain(Tone::ALL.map(|tone| Theme::Night.tone(tone)))
        {
            assert!(red(style.fg) && red(style.bg), "{style:?}");
        }
    }

    #[test]
    fn the_plain_theme_sets_no_colour() {
        let none = |color: Option<Color>| matches!(color, None | Some(Color::Reset));
        for style in
            Ink::ALL.iter().map(|ink| Theme::Plain.ink(*ink)).chain(Tone::ALL.map(|tone| Theme::Plain.tone(tone)))
        {
            assert!(none(style.fg) && none(style.bg), "{style:?}");
        }
    }

    #[test]
    fn the_sixteen_colour_theme_stays_within_sixteen_colours() {
        for style in
            Ink::ALL.iter().map(|ink| Theme::Sixteen.ink(*ink)).chain(Tone::ALL.map(|tone| Theme::Sixteen.tone(tone)))
        {
            assert!(!matches!(style.fg, Some(Color::Rgb(..) | Color::Indexed(_))), "{style:?}");
        }
    }

    fn contrast(one: Color, other: Color) -> f64 {
        let parts = |color| if let Color::Rgb(r, g, b) = color { (r, g, b) } else { panic!("{color:?}") };
        wcag::contrast(parts(one), parts(other))
    }

    /// WCAG 2.1, 1.4.11: 3 is its minimum for graphics. Relief and water are the land, which may stay in the background.
    #[test]
    fn the_parts_of_the_table_stand_out_from_what_they_lie_on() {
        let on = [
            (
                Ink::Sheet,
                &[
                    Ink::Edge,
                    Ink::TrueNorth,
                    Ink::MagneticNorth,
                    Ink::GridNorth,
                    Ink::Border,
                    Ink::LearnerLine,
                    Ink::RightLine,
                ][..],
            ),
            (Ink::Plate, &[Ink::Edge, Ink::Compass, Ink::LearnerLine][..]),
            (
                Ink::Capsule,
                &[Ink::Orienting, Ink::NeedleNorth, Ink::NeedleSouth, Ink::Plate, Ink::Text, Ink::Compass][..],
            ),
            // The body of the arrow that the needle is brought into.
            (Ink::Orienting, &[Ink::Orienting, Ink::NeedleNorth, Ink::NeedleSouth][..]),
        ];
        for theme in [Theme::Day, Theme::Sun, Theme::Dark, Theme::Night] {
            for (ground, inks) in on {
                let ground = theme.tint(ground).expect("a ground");
                for ink in inks {
                    // The dark theme takes the terminal's own ink for text, which it can read on its own ground.
                    let Some(color @ Color::Rgb(..)) = theme.ink(*ink).fg else { continue };
                    assert!(contrast(color, ground) >= 3.0, "{theme:?}: {ink:?} on {ground:?}");
                }
            }
        }
    }

    #[test]
    fn what_meets_on_the_compass_has_colours_of_its_own_where_a_theme_has_colours() {
        let pairs = [
            (Ink::Edge, Ink::Compass),
            (Ink::Edge, Ink::TrueNorth),
            (Ink::Edge, Ink::Border),
            (Ink::Orienting, Ink::NeedleNorth),
            (Ink::Orienting, Ink::NeedleSouth),
            (Ink::Orienting, Ink::Compass),
            (Ink::NeedleNorth, Ink::NeedleSouth),
            (Ink::TrueNorth, Ink::MagneticNorth),
            (Ink::TrueNorth, Ink::GridNorth),
            (Ink::GridNorth, Ink::MagneticNorth),
            (Ink::Relief, Ink::Edge),
            (Ink::Water, Ink::GridNorth),
        ];
        for theme in [Theme::Day, Theme::Dark, Theme::Sixteen] {
            for (one, other) in pairs {
                assert_ne!(theme.ink(one).fg, theme.ink(other).fg, "{theme:?}: {one:?} and {other:?}");
            }
        }
    }

    /// Contrast by WCAG 2.1: 4.5 is its minimum for text (level AA).
    #[test]
    fn day_and_sun_are_readable_on_their_paper() {
        for (theme, least) in [(Theme::Day, 4.5), (Theme::Sun, 7.0)] {
            let grounds = [Ink::Faint, Ink::Sheet, Ink::Capsule];
            let inks = Ink::ALL.iter().filter(|ink| !grounds.contains(ink)).map(|ink| theme.ink(*ink));
            for style in inks.chain(Tone::ALL.map(|tone| theme.tone(tone))) {
                let contrast = contrast(theme.base().bg.unwrap(), style.fg.unwrap());
                assert!(contrast >= least, "{theme:?} {style:?}: {contrast:.2}");
            }
        }
    }

    /// Text by reds on black cannot have 4.5; 3 is the minimum of WCAG 2.1 for large text. The dark theme stands on the
    /// terminal's own ground, taken for black, and leaves some of its text to the terminal.
    #[test]
    fn dark_and_night_are_readable_on_black() {
        for theme in [Theme::Dark, Theme::Night] {
            let readable =
                [Ink::Text, Ink::TrueNorth, Ink::MagneticNorth, Ink::GridNorth, Ink::LearnerLine, Ink::RightLine];
            let inks = readable.map(|ink| theme.ink(ink));
            for style in Tone::ALL.map(|tone| theme.tone(tone)).into_iter().chain(inks) {
                let Some(color @ Color::Rgb(..)) = style.fg else { continue };
                let contrast = contrast(color, Color::Rgb(0, 0, 0));
                assert!(contrast >= 3.0, "{theme:?} {style:?}: {contrast:.2}");
            }
        }
    }

    #[test]
    fn without_colours_each_ground_differs_in_light_from_the_one_it_lies_on() {
        let light = |ink| Theme::Plain.reverses(ink);
        assert!(light(Ink::Sheet) && !light(Ink::Plate) && light(Ink::Capsule));
        // The plate is dark, as the table under all of it is, but no hole in the map.
        let filled = |theme: Theme| Ink::ALL.into_iter().filter(|ink| theme.texture(*ink) != ' ').collect::<Vec<_>>();
        assert_eq!(filled(Theme::Plain), [Ink::Plate]);
        // What grows and lies on a map is no hole in its paper.
        assert!(light(Ink::Woods) && light(Ink::Water));
        // Nor is the orienting arrow one in the floor of the compass: it is an outline there, and the needle alone is filled.
        assert!(light(Ink::Orienting));
        let coloured = Theme::ALL.into_iter().filter(|theme| *theme != Theme::Plain);
        assert!(coloured.flat_map(|theme| Ink::ALL.map(|ink| theme.reverses(ink))).all(|reversed| !reversed));
    }

    /// The colours alone tell nothing, so without them the halves of the needle and what is right still differ.
    #[test]
    fn without_colours_weight_tells_the_needles_halves_and_the_right_line_apart() {
        let weight = |ink| Theme::Plain.ink(ink).add_modifier;
        assert_ne!(weight(Ink::NeedleNorth), weight(Ink::NeedleSouth));
        assert_ne!(weight(Ink::RightLine), weight(Ink::LearnerLine));
        assert_ne!(weight(Ink::Faint), weight(Ink::Text));
    }

    #[test]
    fn the_environment_decides_when_nobody_asked_for_a_theme() {
        assert_eq!(Theme::for_terminal(Some("1"), Some("truecolor")), Theme::Plain);
        assert_eq!(Theme::for_terminal(Some(""), Some("truecolor")), Theme::Dark);
        assert_eq!(Theme::for_terminal(None, None), Theme::Sixteen);
        for theme in Theme::ALL {
            assert_eq!(Theme::named(theme.name()), Some(theme));
        }
    }
}
