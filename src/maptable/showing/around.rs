//! How a map is laid by what stands around one.

use super::Shown;
use crate::angle::Angle;
use crate::maptable::Move;
use crate::maptable::amount::{HALF_CIRCLE, shows, tenth, turn_to_line, turn_words};
use crate::maptable::around::{Around, LaidBy};

impl Shown<'_> {
    pub(super) fn around(&mut self, around: &Around) {
        let stand = around.stand;
        match &around.by {
            LaidBy::Marks([one, other]) => {
                let by = tenth(-self.now.map().angle()).wrapped_half();
                let words = format!(
                    "You know where you stand: at {stand}. From there the map is right when its marks lie toward what they stand \
                     for. Look from {stand} on the map over the mark of {}, and turn the map, {}, until {} itself stands there.",
                    one.name,
                    turn_words(by),
                    one.name
                );
                self.turn_map(by, words);
                let words = format!(
                    "One mark could be mistaken. So check with the other: look from {stand} over the mark of {}: there {} stands, \
                     too.",
                    other.name, other.name
                );
                self.step(words, Vec::new());
            }
            LaidBy::Line { line, beside } => {
                // Along the line either way, the nearer first, as anybody would.
                let by = tenth(turn_to_line(self.now.map().angle(), Angle::ZERO));
                let words = format!(
                    "You stand somewhere along {}, and that is enough: on the map that is right it runs as it does on the ground. \
                     Turn the map, {}, until both run the same way.",
                    line.name,
                    turn_words(by)
                );
                self.turn_map(by, words);
                let side = around.side().unwrap_or("left");
                let name = &beside.name;
                let why = format!(
                    "That can be done two ways, half a circle apart, so check the side. As you look along {}, ahead of you, {name} \
                     stands to the {side}",
                    line.name
                );
                if shows(self.now.map().angle().wrapped_half()) {
                    let words = format!(
                        "{why}, but on the map it lies on the other side: turn the map round, by half a circle."
                    );
                    self.step(words, vec![Move::TurnMap(HALF_CIRCLE)]);
                } else {
                    self.step(format!("{why}, and so it does on the map: the map lies as it should."), Vec::new());
                }
            }
        }
    }

    fn turn_map(&mut self, by: Angle, words: String) {
        if shows(by) {
            self.step(words, vec![Move::TurnMap(by)]);
        } else {
            self.step("The map lies so already: leave it as it is.".to_owned(), Vec::new());
        }
    }
}
