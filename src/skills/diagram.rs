//! B1, the declination diagram: which two prongs an angle lies between, what is printed there, and when two printed
//! angles are added or subtracted.
//!
//! The drawing is never to scale (outside check CV067: FM 21-26, para 6-6; TC 3-25.26, para 6-10: read the printed
//! number, do not measure). At level 4 it misleads on purpose: the smaller angle is drawn wider.

use super::common::{hardly_differs, side_word};
use super::norths::{
    DECLINATION_FOR_GMA, GMA_FOR_DECLINATION, Norths, SIZES_ADDED, same_side, sizes_together, together,
};
use super::prongs::{Between, clockwise, draw_norths, draw_prongs, figure, prong_name};
use crate::angle::{Angle, declination_words, degrees_minutes};
use crate::problem::{
    Answer, Draw, Fact, FactName, FactValue, Facts, Family, Field, FieldKind, Figure, FigurePart, Generator,
    HomeAngles, Level, MixupClass, MixupId, MixupList, MixupMeta, NorthLines, Question, SkillMeta, Step, Tolerance,
    Value,
};
use std::fmt::Write;

/// The skill `diagram`.
pub(super) struct Diagram;

/// The numbers of one problem.
pub(super) struct DiagramItem {
    /// Where the prongs stand in truth, and where they are drawn, both clockwise of true north.
    norths: Norths,
    drawn: Norths,
    asked: Between,
    printed: Printed,
    level: Level,
    on_home: bool,
}

/// Which angles are printed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Printed {
    /// The diagram has two prongs and one angle, the one asked for.
    Only,
    /// Three prongs and all three angles.
    All,
    /// Three prongs and the two angles not asked for.
    Others,
}

const EAST_WEST_SWAPPED: MixupMeta = MixupMeta {
    id: MixupId("east-west-swapped"),
    class: MixupClass::Sign,
    said: "took east for west or west for east",
    mend: "Clockwise of the north you count from is east, counterclockwise is west.",
};
const MEASURED_DRAWING: MixupMeta = MixupMeta {
    id: MixupId("measured-drawing"),
    class: MixupClass::Method,
    said: "went by the drawing, which is not to scale",
    mend: "Only the printed numbers count.",
};
const DECLINATION_FOR_CONVERGENCE: MixupMeta = MixupMeta {
    id: MixupId("declination-for-convergence"),
    class: MixupClass::North,
    said: "took the declination for the convergence",
    mend: "Convergence lies between true north and grid north; the needle has no part in it.",
};
/// In a diagram any prong may be the one that both printed angles share, so the mending speaks of that one.
const SIZES_ADDED_IN_DIAGRAM: MixupMeta = MixupMeta {
    mend: "Look for the prong that both printed angles share. The other two on the same side of it: subtract; on opposite sides: add.",
    ..SIZES_ADDED
};

/// The least convergence that is asked for: with less, east and west would be right both.
const LEAST_ASKED: Angle = Angle::from_minutes(40.0);

static META: SkillMeta = SkillMeta {
    id: "diagram",
    mark: "B1",
    family: Family::Norths,
    title: "Declination diagram",
    can: "Reads declination, G-M angle and convergence from the diagram on the map, with east or west.",
    levels: [
        "two prongs, one printed angle",
        "three prongs, magnetic north on the outside",
        "three prongs, magnetic north between the others, half degrees",
        "three prongs, drawn out of scale on purpose",
    ],
    prerequisites: &["turns"],
    mixups: &[
        EAST_WEST_SWAPPED,
        MEASURED_DRAWING,
        DECLINATION_FOR_GMA,
        GMA_FOR_DECLINATION,
        DECLINATION_FOR_CONVERGENCE,
        SIZES_ADDED_IN_DIAGRAM,
    ],
    lines: NorthLines::Any,
    on_home: true,
    generation: 4,
};

/// Whether this angle is at least a degree away from both others, their sides left out.
fn asks_for_a_sum(norths: &Norths, asked: Between) -> bool {
    let size = |between: Between| between.of(norths).abs();
    let others = [Between::Declination, Between::GridMagnetic, Between::Convergence].into_iter();
    others.filter(|other| *other != asked).all(|other| (size(other) - size(asked)).abs() >= Angle::from_degrees(1.0))
}

impl Generator for Diagram {
    type Item = DiagramItem;

    fn meta(&self) -> &'static SkillMeta {
        &META
    }

    fn too_small(&self, level: Level, home: HomeAngles) -> bool {
        let norths = Norths::at_home(home);
        let nothing = |between: Between| hardly_differs(between.of(&norths));
        if level == Level::ONE {
            // Two prongs are drawn, so one angle is enough.
            return nothing(Between::Declination) && nothing(Between::GridMagnetic);
        }
        nothing(Between::Declination) || nothing(Between::GridMagnetic) || norths.convergence.angle() == Angle::ZERO
    }

    fn draw(&self, level: Level, home: Option<HomeAngles>, draw: &mut Draw) -> DiagramItem {
        let pick = |draw: &mut Draw| match draw.below(4) {
            1 | 2 if level > Level::ONE => Between::GridMagnetic,
            0 | 1 => Between::Declination,
            2 => Between::GridMagnetic,
            _ => Between::Convergence,
        };
        let (mut norths, mut asked) = (draw_norths(level, home, draw), pick(draw));
        // With half degrees, a printed number copied would be near enough to the answer.
        for _ in 0..64 {
            if level != Level::THREE || home.is_some() || asks_for_a_sum(&norths, asked) {
                break;
            }
            (norths, asked) = (draw_norths(level, home, draw), pick(draw));
        }
        // On home ground an angle that is nearly nothing is not worth asking for.
        let asked = match asked {
            Between::Convergence if norths.convergence.angle().abs() < LEAST_ASKED => Between::Declination,
            asked => asked,
        };
        let asked = match asked {
            Between::Declination if home.is_some() && hardly_differs(norths.declination) => Between::GridMagnetic,
            Between::GridMagnetic if home.is_some() && hardly_differs(norths.grid_magnetic()) => Between::Declination,
            asked => asked,
        };
        let printed = match level.number() {
            1 => Printed::Only,
            3 => Printed::Others,
            _ if draw.chance(1, 2) => Printed::All,
            _ => Printed::Others,
        };
        let drawn = draw_prongs(&norths, level == Level::FOUR, draw);
        DiagramItem { norths, drawn, asked, printed, level, on_home: home.is_some() }
    }

    fn question(&self, item: &DiagramItem) -> Question {
        const fn field(name: &'static str, label: &'static str) -> [Field; 1] {
            [Field { name, label, kind: FieldKind::EastWest, tolerance: Tolerance::within(0.5) }]
        }
        static DECLINATION: [Field; 1] = field("declination", "declination, E or W");
        static GRID_MAGNETIC: [Field; 1] = field("grid_magnetic", "G-M angle, E or W");
        static CONVERGENCE: [Field; 1] = field("convergence", "grid convergence, E or W");
        Question::typed(match item.asked {
            Between::Declination => &DECLINATION,
            Between::GridMagnetic => &GRID_MAGNETIC,
            Between::Convergence => &CONVERGENCE,
        })
    }

    fn answer(&self, item: &DiagramItem) -> Answer {
        signed(item.right())
    }

    fn mixups(&self, item: &DiagramItem, list: &mut MixupList) {
        let (from, to) = item.asked.ends();
        list.push(&EAST_WEST_SWAPPED, signed(-item.right()), || {
            format!(
                "{} {} of {}: {}",
                prong_name(to),
                side_word(-item.right()),
                prong_name(from),
                declination_words(-item.right())
            )
        });
        let drawn = item.asked.of(&item.drawn);
        list.push(&MEASURED_DRAWING, signed(drawn), || format!("{}, as it is drawn", declination_words(drawn)));
        // On home ground a small convergence leaves declination and G-M angle too close to be told apart.
        if let Some((meta, taken)) = item.taken() {
            let number = taken.of(&item.norths);
            if (number - item.right()).abs() > Angle::from_degrees(1.0) {
                list.push(meta, signed(number), || {
                    format!("{} between {}", declination_words(number), taken.ends_words())
                });
            }
        }
        let least = Angle::from_degrees(1.0);
        if let Some((one, other)) = item.parts().filter(|(one, other)| one.abs().min(other.abs()) > least) {
            list.push(&SIZES_ADDED_IN_DIAGRAM, signed(one - other), || together(one, -other));
            // The same size, with the letter that the picture gives.
            if same_side(one - other, -item.right()) {
                list.push(&SIZES_ADDED_IN_DIAGRAM, signed(other - one), || {
                    format!("{}, and {} by the picture", sizes_together(one, -other), declination_words(other - one))
                });
            }
        }
    }

    fn right_way(&self, item: &DiagramItem) -> String {
        let mut right = String::with_capacity(130);
        if item.printed == Printed::Others {
            let _ = write!(right, "{}: {}", item.rule(), item.sum());
        } else {
            let _ = write!(right, "Printed between {}: {}", item.asked.ends_words(), degrees_minutes(item.right()));
        }
        let _ = write!(right, ". {}: {}", item.side_reason(), declination_words(item.right()));
        right
    }

    fn facts(&self, item: &DiagramItem) -> Facts {
        let mut facts = Vec::with_capacity(6);
        let prongs = FactValue::Norths(clockwise(&item.drawn, item.only()));
        facts.push(Fact { name: FactName::Prongs, value: prongs });
        for between in item.shown() {
            facts.push(Fact::own_angle(between.fact(), between.of(&item.norths).abs()));
        }
        facts.push(Fact::own_angle("drawn_angle_deg", item.asked.of(&item.drawn).abs()));
        facts.push(Fact::wanted(item.asked.wanted()));
        facts.into()
    }

    fn prompt(&self, item: &DiagramItem) -> String {
        // The diagram is there to be read, so the text does not tell what it shows; but nobody can lay a protractor on it.
        let map = if item.on_home { "your map of home ground" } else { "the map" };
        let drawn = match item.level {
            Level::FOUR => format!(
                "A protractor laid on the drawing shows {} between {}. ",
                degrees_minutes(item.asked.of(&item.drawn)),
                item.asked.ends_words()
            ),
            _ => String::new(),
        };
        format!("Read the diagram on {map}. {drawn}What is the {}, east or west?", item.asked.word())
    }

    fn steps(&self, item: &DiagramItem) -> Vec<Step> {
        let mut steps = Vec::with_capacity(4);
        let (from, to) = item.asked.ends();
        let lies = match item.asked {
            Between::Declination => "Declination lies between the star (true north) and MN (magnetic north)",
            Between::GridMagnetic => "The G-M angle lies between GN (grid north) and MN (magnetic north)",
            Between::Convergence => "Grid convergence lies between the star (true north) and GN (grid north)",
        };
        steps.push(Step::words(lies).about(FigurePart::Between(from, to)));
        if item.parts().is_some() {
            let sum = Step::new(item.rule(), item.sum()).about(FigurePart::North(item.asked.third()));
            steps.push(sum.decides(
                "Which prong do both printed angles share? Are the other two on one side of it, so subtract, or one on each side, so add?",
            ));
        } else {
            let line = degrees_minutes(item.right());
            let read = Step::new("Read the number printed there; the drawing is not to scale", line);
            steps.push(read.about(FigurePart::Between(from, to)));
        }
        let line = declination_words(item.right());
        let side = Step::new(item.side_reason(), line).about(FigurePart::North(to));
        steps.push(side.decides("And on which side does it lie: east or west?"));
        steps
    }

    fn hint(&self, item: &DiagramItem) -> String {
        match item.printed {
            Printed::Only | Printed::All => {
                "Find the two prongs that the angle lies between. Which of the two lies further clockwise?"
            }
            Printed::Others => {
                "Find the prong that both printed angles share. Do the other two prongs lie on the same side of it?"
            }
        }
        .to_owned()
    }

    fn figure(&self, item: &DiagramItem) -> Figure {
        figure(&item.norths, &item.drawn, item.only(), |between| item.shows(between))
    }
}

impl DiagramItem {
    /// The angle asked for, east positive.
    fn right(&self) -> Angle {
        self.asked.of(&self.norths)
    }

    /// The only angle of the diagram, where it has two prongs.
    fn only(&self) -> Option<Between> {
        (self.printed == Printed::Only).then_some(self.asked)
    }

    /// Whether this angle is printed.
    fn shows(&self, between: Between) -> bool {
        match self.printed {
            Printed::All => true,
            Printed::Only => between == self.asked,
            Printed::Others => between != self.asked,
        }
    }

    /// The printed angles.
    fn shown(&self) -> impl Iterator<Item = Between> {
        Between::ALL.into_iter().filter(|between| self.shows(*between))
    }

    /// Which printed angle is taken for the one asked for, and the name of that.
    fn taken(&self) -> Option<(&'static MixupMeta, Between)> {
        (self.printed != Printed::Only).then_some(match self.asked {
            Between::Declination => (&GMA_FOR_DECLINATION, Between::GridMagnetic),
            Between::GridMagnetic => (&DECLINATION_FOR_GMA, Between::Declination),
            Between::Convergence => (&DECLINATION_FOR_CONVERGENCE, Between::Declination),
        })
    }

    /// The two signed angles whose sum is the one asked for, when it is not printed.
    fn parts(&self) -> Option<(Angle, Angle)> {
        let [declination, convergence, grid_magnetic] = Between::ALL.map(|between| between.of(&self.norths));
        (self.printed == Printed::Others).then_some(match self.asked {
            Between::Declination => (grid_magnetic, convergence),
            Between::GridMagnetic => (declination, -convergence),
            Between::Convergence => (declination, -grid_magnetic),
        })
    }

    /// `12° − 2° = 10°`.
    fn sum(&self) -> String {
        let mut line = String::with_capacity(20);
        if let Some((one, other)) = self.parts() {
            let _ = write!(line, "{}", sizes_together(one, other));
        }
        line
    }

    /// Whether to add or to subtract: seen from the prong that both printed angles share.
    fn rule(&self) -> &'static str {
        let add = self.parts().is_none_or(|(one, other)| same_side(one, other));
        match (self.asked, add) {
            (Between::Declination, true) => "The star and MN stand on opposite sides of GN, so add",
            (Between::Declination, false) => "The star and MN stand on the same side of GN, so subtract",
            (Between::GridMagnetic, true) => "GN and MN stand on opposite sides of the star, so add",
            (Between::GridMagnetic, false) => "GN and MN stand on the same side of the star, so subtract",
            (Between::Convergence, true) => "The star and GN stand on opposite sides of MN, so add",
            (Between::Convergence, false) => "The star and GN stand on the same side of MN, so subtract",
        }
    }

    fn side_reason(&self) -> &'static str {
        match (self.asked, self.right() < Angle::ZERO) {
            (Between::Declination, false) => "MN stands clockwise of the star, so east",
            (Between::Declination, true) => "MN stands counterclockwise of the star, so west",
            (Between::GridMagnetic, false) => "MN stands clockwise of GN, so east",
            (Between::GridMagnetic, true) => "MN stands counterclockwise of GN, so west",
            (Between::Convergence, false) => "GN stands clockwise of the star, so east",
            (Between::Convergence, true) => "GN stands counterclockwise of the star, so west",
        }
    }
}

/// The answer: an angle with its side.
fn signed(angle: Angle) -> Answer {
    Answer::one(Value::Angle(angle))
}

#[cfg(test)]
mod tests {
    use super::super::common::{Tenths, angle, offset_of};
    use super::*;
    use crate::problem::Mixup;

    fn item(declination: Tenths, convergence: Tenths, asked: Between) -> DiagramItem {
        DiagramItem {
            norths: Norths { declination: offset_of(declination), convergence: offset_of(convergence) },
            drawn: Norths { declination: offset_of(300), convergence: offset_of(100) },
            asked,
            printed: Printed::Others,
            level: Level::TWO,
            on_home: false,
        }
    }

    #[test]
    fn two_printed_angles_give_the_third() {
        // Outside checks CV063 and CV064 (identity, GMA = D − g), read in all three directions.
        for (declination, convergence, grid_magnetic) in [(140, 15, 125), (-20, -25, 5)] {
            let asked = |asked| Diagram.answer(&item(declination, convergence, asked));
            assert_eq!(asked(Between::GridMagnetic), signed(angle(grid_magnetic)));
            for between in Between::ALL {
                let item = item(declination, convergence, between);
                let (one, other) = item.parts().expect("two angles are printed");
                assert_eq!(one + other, item.right(), "{between:?}");
            }
        }
    }

    #[test]
    fn the_same_side_is_subtracted_and_opposite_sides_are_added() {
        let rule = |declination, convergence| {
            let item = item(declination, convergence, Between::GridMagnetic);
            (item.rule(), item.sum())
        };
        assert_eq!(
            rule(120, 20),
            ("GN and MN stand on the same side of the star, so subtract", "12° − 2° = 10°".to_owned())
        );
        assert_eq!(
            rule(-120, 20),
            ("GN and MN stand on opposite sides of the star, so add", "12° + 2° = 14°".to_owned())
        );
    }

    #[test]
    fn the_figure_prints_sizes_without_letters_and_leaves_out_what_is_asked() {
        let Figure::Prongs(prongs) = Diagram.figure(&item(-120, 20, Between::GridMagnetic)) else {
            panic!("a diagram is drawn")
        };
        let printed: Vec<&str> =
            prongs.iter().filter_map(|prong| prong.printed.as_ref().map(|(_, text)| text.as_str())).collect();
        assert_eq!(prongs.len(), 3);
        assert_eq!(printed, ["12°", "2°"]);
    }

    #[test]
    fn the_wrong_size_with_the_letter_of_the_picture_belongs_to_the_mixup() {
        // B1-2-103: the printed angles share MN, 14 − 10 = 4, so 4° W; "24 W" was the learner's answer.
        let item = item(100, -40, Between::Convergence);
        assert_eq!(Diagram.answer(&item), signed(angle(-40)));
        let mut list = MixupList::default();
        Diagram.mixups(&item, &mut list);
        let told = format!("{list:?}");
        let listed = |answer: Tenths| {
            let mixup = Mixup { meta: &SIZES_ADDED_IN_DIAGRAM, answer: signed(angle(answer)) };
            told.contains(&format!("{mixup:?}"))
        };
        assert!(listed(240) && listed(-240));
        assert!(!SIZES_ADDED_IN_DIAGRAM.mend.contains("true north"), "MN may be the prong that is shared");
    }
}
