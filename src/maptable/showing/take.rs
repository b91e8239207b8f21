//! How a bearing is taken to a mark in view.

use super::Shown;
use crate::angle::North;
use crate::maptable::Move;
use crate::maptable::amount::{figures, shows, tenth, turn_words};
use crate::maptable::judge::lines_reason;
use crate::maptable::sighting::Sighting;

impl Shown<'_> {
    pub(super) fn take(&mut self, sighting: &Sighting) {
        self.take_up();
        let Some(mark) = sighting.target() else { return };
        let name = &mark.name;
        let by = tenth(self.now.baseplate().turn_to(mark.azimuth));
        if shows(by) {
            let words = format!(
                "The travel arrow is what you look along. So turn yourself, {}, until it points at {name}.",
                turn_words(by)
            );
            self.step(words, vec![Move::TurnSelf(by)]);
        } else {
            self.step(format!("The travel arrow points at {name} already: stay as you stand."), Vec::new());
        }
        let by = tenth(self.to_box());
        if shows(by) {
            let words = format!(
                "However the compass is held, the needle points to magnetic north. So hold the compass still and turn the dial, \
                 {}, until the needle's north end lies in the head of the orienting arrow: now the dial counts from that north.",
                turn_words(by)
            );
            self.step(words, vec![Move::TurnDial(by)]);
        } else {
            self.step("The needle is boxed already: leave the dial as it is.".to_owned(), Vec::new());
        }
        let meaning = match (sighting.trust, sighting.north) {
            (Some(_), _) => "That is what the dial shows here.".to_owned(),
            (None, _) => {
                format!(
                    "That is the magnetic bearing to {name}: the needle has done the sum, and nothing is added or taken off."
                )
            }
        };
        let number = tenth(self.now.dial()).wrapped();
        let words = format!("Read at the index line: {}. {meaning}", figures(number));
        self.step(words, vec![Move::Read(number)]);
        if sighting.north != North::Magnetic {
            let second = (number + self.exercise.magnetic_from(sighting.north)).wrapped();
            let words = format!(
                "The map's lines have another north. {}",
                lines_reason(self.exercise, sighting.north, Some(number))
            );
            self.step(words, vec![Move::Bearing(second)]);
        }
        if let Some(trust) = sighting.trust {
            let so = if trust.holds {
                "So the number can be trusted."
            } else {
                "So the number cannot be trusted: step away and look again."
            };
            self.step(format!("{} {so}", trust.why), vec![Move::Trust(trust.holds)]);
        }
    }
}
