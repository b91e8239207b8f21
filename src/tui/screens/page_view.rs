//! The picture of a learner's page.

use super::page::LearnerPage;
use crate::learner::State;
use crate::report::MixupPattern;
use crate::scene::cells::Charset;
use crate::session::{OverviewSkill, no_pattern_words, sentence, weak_spot_words};
use crate::store::SeenOutcome;
use crate::tui::model::Shared;
use crate::tui::paint::{Lines, Painter, cut, day_words, days_words};
use crate::tui::theme::Tone;
use jiff::civil::Date;
use ratatui::layout::Rect;

/// A state's shape, so that it is told without colour: hollow to full.
#[must_use]
pub const fn shape(state: State) -> &'static str {
    match state {
        State::NotMet => "·",
        State::Learning => "◔",
        State::WorthRepeating { .. } => "◑",
        State::Sure => "●",
    }
}

/// Draws the page.
pub(super) fn view(page: &LearnerPage, shared: &Shared, painter: &mut Painter<'_, '_>, area: Rect) {
    let overview = &page.overview;
    let mut lines = Lines::new(shared.theme, area.width);
    lines.item(page.chosen == 0, "Practise: the program chooses what is best now");
    lines.gap();
    headway(page, painter.charset(), &mut lines);
    weak_spots(page, &mut lines);
    on_the_ground(page, &mut lines);
    if let Some(day) = overview.return_on {
        lines.text(&format!("Come back: {}.", day_words(day, shared.day)));
    }
    lines.gap();
    lines.quiet(&format!(
        "{:<35}{:<7}{:<16}{:<10}{}",
        "  What you can practise by itself", "level", "", "right", "back"
    ));
    let (mut row, mut number) = (0, 0);
    for (at, family) in overview.families.iter().enumerate() {
        if at > 0 {
            lines.gap();
        }
        lines.quiet(&format!("  {}", family.family.title()));
        for line in &family.skills {
            number += 1;
            if number == page.chosen {
                row = lines.len();
            }
            skill(line, number == page.chosen, shared.day, &mut lines);
        }
    }
    // The mark that there is more has a row of its own, so that it covers no word.
    let overflows = lines.len() > usize::from(area.height);
    let room = Rect { height: area.height.saturating_sub(u16::from(overflows)), ..area };
    page.scroll.reveal(row, room.height);
    let (_, below) = painter.lines_from(lines, room, &page.scroll);
    if overflows && below > 0 {
        painter.more_below(area, "↓");
    }
}

/// Where somebody stands, and how the last sittings went.
fn headway(page: &LearnerPage, charset: Charset, lines: &mut Lines) {
    for line in page.headway.lines() {
        lines.text(&line);
    }
    if let Some(words) = page.headway.shares_words() {
        lines.text(&words);
        lines.spans(vec![(Tone::Right, format!("  {}", row_of(&page.headway.shares(), charset)))]);
    }
    lines.gap();
}

/// Shares of 100 as a row of characters, each as high as its share; without blocks as tenths, `X` for all of them.
fn row_of(shares: &[u8], charset: Charset) -> String {
    const BLOCKS: [char; 9] = ['▁', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    const TENTHS: [char; 11] = ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'X'];
    let character = |share: &u8| {
        let share = usize::from(*share).min(100);
        match charset {
            Charset::Braille => BLOCKS[share * 8 / 100],
            Charset::Ascii => TENTHS[share / 10],
        }
    };
    shares.iter().map(character).collect()
}

fn weak_spots(page: &LearnerPage, lines: &mut Lines) {
    let overview = &page.overview;
    if overview.weak.is_empty() && overview.without_pattern.is_empty() {
        lines.quiet("No weak spot stands out.");
    }
    if !overview.weak.is_empty() {
        lines.title("Weak spots");
        for weak in &overview.weak {
            lines.hanging(Tone::Wrong, "○ ", &weak_spot_words(weak));
            lines.hanging(Tone::Quiet, "  ", weak.mend());
        }
    }
    for lost in &overview.without_pattern {
        lines.hanging(Tone::Wrong, "○ ", &sentence(&no_pattern_words(lost)));
    }
    if !page.patterns.is_empty() {
        lines.title("Where it goes wrong");
    }
    for one in &page.patterns {
        let MixupPattern { skill, mixup, words } = one;
        lines.hanging(Tone::Text, "· ", &format!("{}: you {}, {words}.", skill.title, mixup.said));
    }
}

/// What a leader saw on the ground, which the laptop does not know by itself.
fn on_the_ground(page: &LearnerPage, lines: &mut Lines) {
    if page.seen.is_empty() {
        return;
    }
    lines.title("Seen on the ground");
    for seen in &page.seen {
        let title = crate::skills::find(&seen.skill).map_or(seen.skill.as_str(), |skill| skill.meta().title);
        let (mark, tone) = match seen.outcome {
            SeenOutcome::Yes => ("+ ", Tone::Right),
            SeenOutcome::No => ("− ", Tone::Text),
            SeenOutcome::NotSaid => ("· ", Tone::Text),
        };
        lines.hanging(tone, mark, &format!("{title}: {} on {}, by {}", seen.outcome.word(), seen.day, seen.by));
    }
}

fn skill(line: &OverviewSkill, chosen: bool, today: Date, lines: &mut Lines) {
    let tone = match line.state {
        _ if chosen => Tone::Chosen,
        State::Sure => Tone::Right,
        State::NotMet => Tone::Quiet,
        State::Learning | State::WorthRepeating { .. } => Tone::Text,
    };
    let lately = match line.lately.of {
        0 => String::new(),
        of => format!("{} of {of}", line.lately.times),
    };
    let (level, due) = match (line.state, line.due) {
        (State::NotMet, _) => (String::new(), String::new()),
        (_, None) => (line.level.to_string(), String::new()),
        (_, Some(day)) => (line.level.to_string(), days_words(day, today)),
    };
    lines.spans(vec![
        (tone, format!("{} {} ", if chosen { "▸" } else { " " }, shape(line.state))),
        (tone, format!("{:<31}", cut(line.skill.title, 30))),
        (tone, format!("{level:<7}{:<16}", line.state.words())),
        (Tone::Quiet, format!("{lately:<10}")),
        (Tone::Quiet, due),
    ]);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_of_shares_rises_with_them_in_blocks_and_in_tenths() {
        let shares = [0, 9, 50, 95, 100];
        assert_eq!(row_of(&shares, Charset::Braille), "▁▁▄▇█");
        assert_eq!(row_of(&shares, Charset::Ascii), "0059X");
    }
}
