//! The arithmetic that true ↔ magnetic (B2) and grid ↔ magnetic (B4) share: one bearing, one offset between the map's
//! north and the compass's, and the way from one to the other.

use super::common::{
    APPLIED_TWICE, CIRCLE, InTenths, NOT_APPLIED, NOT_WRAPPED, SIGN_FLIPPED, Tenths, answer, bare_sum, bearing,
    bearing_of, figures, offset_of, sum, unwrapped_answer, wrap, wrap_words,
};
use super::norths::whole;
use crate::angle::{
    Angle, Bearing, ConversionRule, Declination, Magnetic, North, NorthKind, Offset, declination_words,
};
use crate::problem::{
    Answer, Arc, Draw, Fact, FactName, Field, FieldKind, Figure, FigurePart, HomeAngles, Level, LineRole, MixupList,
    NorthLine, Question, Ray, SketchLine, Step, Tolerance, Value,
};

/// One conversion between the map's north `N` (true or grid) and magnetic north.
#[derive(Clone, Copy, Debug)]
pub(super) struct Conversion<N: NorthKind> {
    /// What is given, and so which way it goes.
    pub given: Given<N>,
    /// Magnetic north from the map's north.
    pub offset: Offset<Magnetic, N>,
}

/// The bearing that a conversion begins with.
#[derive(Clone, Copy, Debug)]
pub(super) enum Given<N: NorthKind> {
    /// The map's: the compass's is asked.
    Map(Bearing<N>),
    /// The compass's: the map's is asked.
    Compass(Bearing<Magnetic>),
}

impl<N: NorthKind> Conversion<N> {
    /// Draws a bearing for an offset: round numbers and no wrap at level 1, no wrap at 2, mostly through north above.
    pub fn draw(level: Level, offset: Offset<Magnetic, N>, draw: &mut Draw) -> Self {
        let to_compass = draw.chance(1, 2);
        let step = if level == Level::ONE { 100 } else { 10 };
        let through_north = level >= Level::THREE && draw.chance(3, 5);
        let from = |number: Tenths| {
            if to_compass { Given::Map(bearing_of(number)) } else { Given::Compass(bearing_of(number)) }
        };
        let size = offset.in_tenths().abs();
        let mut conversion = Conversion { given: from(0), offset };
        // A bearing is drawn again until the sum does what the level asks; the range makes that quick.
        for _ in 0..64 {
            conversion.given = from(if through_north && size != 0 {
                let inside = draw.between(1, size / 10) * 10;
                if conversion.change() > 0 { 3600 - inside } else { inside - 10 }
            } else {
                draw.between(0, 3590 / step) * step
            });
            // At level 1 the line is drawn beside both norths and must be told from them.
            let clear = level > Level::ONE || conversion.clear_of_both_norths();
            if conversion.wraps() == through_north && clear {
                break;
            }
        }
        conversion
    }

    /// The right answer: the same direction, counted from the other north.
    fn converted(&self) -> Angle {
        match self.given {
            Given::Map(bearing) => bearing.to(self.offset).angle(),
            Given::Compass(bearing) => bearing.to(self.offset.inverse()).angle(),
        }
    }

    /// Whether the compass's bearing is asked.
    pub const fn to_compass(self) -> bool {
        matches!(self.given, Given::Map(_))
    }

    /// The given number, 0 to 359.9.
    pub fn from(&self) -> Tenths {
        match self.given {
            Given::Map(bearing) => bearing.in_tenths(),
            Given::Compass(bearing) => bearing.in_tenths(),
        }
    }

    /// What a sum on paper adds to the given number.
    pub fn change(&self) -> Tenths {
        if self.to_compass() { self.offset.inverse().in_tenths() } else { self.offset.in_tenths() }
    }

    /// The north the answer counts from.
    pub const fn wanted(&self) -> North {
        if self.to_compass() { North::Magnetic } else { N::NORTH }
    }

    /// The north the given bearing counts from.
    pub const fn given_north(&self) -> North {
        if self.to_compass() { N::NORTH } else { North::Magnetic }
    }

    /// Whether the sum leaves the circle.
    pub fn wraps(&self) -> bool {
        let off = self.from() + self.change();
        wrap(off) != off
    }

    /// Whether the direction lies at least 10° from either north.
    fn clear_of_both_norths(&self) -> bool {
        let clear = |number: Tenths| (100..=CIRCLE - 100).contains(&number);
        clear(self.from()) && clear(self.converted().in_tenths())
    }

    /// The same conversion by another angle.
    pub const fn by(&self, offset: Offset<Magnetic, N>) -> Self {
        Conversion { offset, ..*self }
    }

    /// The right answer.
    pub fn right(&self) -> Answer {
        Answer::one(Value::Angle(self.converted()))
    }

    /// The question's fields.
    pub fn question(&self) -> Question {
        const fn field(north: North, label: &'static str) -> [Field; 1] {
            [Field { name: "bearing", label, kind: FieldKind::Bearing(north), tolerance: Tolerance::within(0.5) }]
        }
        static MAGNETIC: [Field; 1] = field(North::Magnetic, "magnetic bearing");
        static TRUE: [Field; 1] = field(North::True, "true bearing");
        static GRID: [Field; 1] = field(North::Grid, "grid bearing");
        Question::typed(match self.wanted() {
            North::Magnetic => &MAGNETIC,
            North::True => &TRUE,
            North::Grid => &GRID,
        })
    }

    /// The fact that is the given bearing.
    pub fn given_fact(&self) -> Fact {
        match self.given {
            Given::Compass(bearing) => Fact::angle(FactName::MagneticBearing, bearing.angle()),
            Given::Map(bearing) if N::NORTH == North::Grid => Fact::angle(FactName::GridBearing, bearing.angle()),
            Given::Map(bearing) => Fact::angle(FactName::TrueBearing, bearing.angle()),
        }
    }

    /// The mix-ups that need nothing but the one offset.
    pub fn mixups(&self, list: &mut MixupList) {
        let (from, change) = (self.from(), self.change());
        list.push(&SIGN_FLIPPED, answer(from - change), || sum(from, -change));
        list.push(&NOT_APPLIED, answer(from), || format!("{}, unchanged", figures(from)));
        list.push(&APPLIED_TWICE, answer(from + 2 * change), || {
            format!("{}, then again: {}", sum(from, change), sum(wrap(from + change), change))
        });
        if self.wraps() {
            list.push(&NOT_WRAPPED, unwrapped_answer(from + change), || bare_sum(from, change));
        }
    }

    /// `From map (true) to compass (magnetic), west is added`.
    pub fn rule(&self) -> ConversionRule {
        let east = if self.to_compass() { self.offset.angle() } else { self.offset.inverse().angle() };
        ConversionRule { from: self.given_north(), to: self.wanted(), east }
    }

    /// `From map (true) to compass (magnetic), west is added: 048 + 17 = 065`.
    pub fn right_way(&self) -> String {
        format!("{}: {}", self.rule(), sum(self.from(), self.change()))
    }

    /// Adds the worked solution.
    pub fn push_steps(&self, steps: &mut Vec<Step>) {
        let (from, change) = (self.from(), self.change());
        let off = from + change;
        let sketch = match (N::NORTH, self.offset.in_tenths() < 0) {
            (North::Grid, true) => {
                "Sketch it: magnetic north lies counterclockwise of grid north, so the compass counts further and its numbers are bigger"
            }
            (North::Grid, false) => {
                "Sketch it: magnetic north lies clockwise of grid north, so the compass counts less far and its numbers are smaller"
            }
            (_, true) => {
                "Sketch it: magnetic north lies counterclockwise of true north, so the compass counts further and its numbers are bigger"
            }
            (_, false) => {
                "Sketch it: magnetic north lies clockwise of true north, so the compass counts less far and its numbers are smaller"
            }
        };
        let sketch = Step::words(sketch).about(FigurePart::North(North::Magnetic));
        steps.push(
            sketch.decides("Sketch it: which north lies further clockwise? So which of the two numbers is smaller?"),
        );
        let sum = Step::new(self.rule().to_string(), bare_sum(from, change)).about(FigurePart::Line(LineRole::Given));
        steps.push(sum.decides("Which way do you go, and is the angle added or taken off?"));
        if self.wraps() {
            let wrapped = Step::new(wrap_words(off), bare_sum(off, wrap(off) - off));
            steps.push(wrapped.decides("Is the number on the circle, from 000 to 359? If not, bring it back"));
        }
        let letter = Step::new("Write the letter of the north behind it", bearing(self.converted(), self.wanted()));
        steps.push(letter.answers());
    }

    /// The line as it is counted from the map's north, 0 to 360 in degrees.
    fn on_map(&self) -> f64 {
        self.number(N::NORTH).degrees()
    }

    /// The line as it is counted from one of the two norths.
    fn number(&self, north: North) -> Angle {
        if north == self.wanted() {
            self.converted()
        } else {
            match self.given {
                Given::Map(bearing) => bearing.angle(),
                Given::Compass(bearing) => bearing.angle(),
            }
        }
    }

    /// Where magnetic north is drawn, clockwise of the map's north in degrees: enlarged where it is close, and more where
    /// the line has to find room between the two.
    fn shown(&self) -> f64 {
        let truth = self.offset.angle().degrees();
        if truth == 0.0 {
            return 0.0;
        }
        let along = if truth < 0.0 { (360.0 - self.on_map()) % 360.0 } else { self.on_map() };
        let between = 0.0 < along && along < truth.abs();
        truth.signum() * if between { BETWEEN } else { truth.abs().clamp(15.0, 30.0) }
    }

    /// Where a direction is drawn that lies so far clockwise of the map's north, 0 to 360 in degrees. With magnetic north
    /// moved to its drawn place what lies close to the two norths moves along, clear of both, so that every line stays on
    /// its side of them and can be told from them.
    fn drawn(&self, at: f64) -> Angle {
        let (truth, shown) = (self.offset.angle().abs().degrees(), self.shown().abs());
        // As seen toward magnetic north from the map's north; far from both nothing is moved.
        let west = self.offset.in_tenths() < 0;
        let along = if west { (360.0 - at) % 360.0 } else { at };
        let (near, behind) = ((2.0 * truth.max(shown)).max(60.0), 360.0 - along);
        let inside = CLEAR.min(shown / 3.0);
        let moved = match along {
            _ if truth == 0.0 || along == 0.0 => along,
            _ if (along - truth).abs() < 1e-6 => shown,
            _ if along < truth => inside + along / truth * (shown - 2.0 * inside),
            _ if along < near => shown + CLEAR + (along - truth) / (near - truth) * (near - shown - CLEAR),
            _ if behind < BEHIND => -(CLEAR + behind / BEHIND * (BEHIND - CLEAR)),
            _ => along,
        };
        Angle::from_degrees(if west { -moved } else { moved }).wrapped()
    }

    /// The sketch of the question: both norths, the line, the given bearing as an arc, and the one that is asked for without
    /// its number. Where the angle between the norths must be found or chosen first, the other north is not drawn: it would
    /// tell the side.
    pub fn asked(&self, angle_given: bool) -> Figure {
        let (wanted, given) = (self.wanted(), self.given_north());
        if !angle_given {
            // On which side the other north lies is a part of what must be found.
            let number = self.number(given);
            let line = SketchLine { role: LineRole::Given, at: number, label: "line".to_owned() };
            let arc = Arc::bearing(given, LineRole::Given, bearing(number, given).to_string());
            let norths = vec![NorthLine { north: given, at: Angle::ZERO }];
            return Figure::Sketch { norths, lines: vec![line], arcs: vec![arc] };
        }
        let text = |north: North| match north {
            north if north == wanted => format!("? {}", north.letter()),
            north => bearing(self.number(north), north).to_string(),
        };
        self.sketch(self.angle_words(), text)
    }

    /// The sketch that explains: both bearings of the line, and where the learner's number lies.
    pub fn told(&self, given: Option<&Answer>) -> Figure {
        let mut figure = self.sketch(self.angle_words(), |north| bearing(self.number(north), north).to_string());
        if let (Figure::Sketch { lines, .. }, Some([Value::Angle(typed)])) = (&mut figure, given.map(Answer::values)) {
            let base = if self.wanted() == North::Magnetic { self.offset.angle() } else { Angle::ZERO };
            lines.push(SketchLine {
                role: LineRole::Learner,
                at: self.drawn((base + *typed).wrapped().degrees()),
                label: "you".to_owned(),
            });
        }
        figure
    }

    /// `9° W`: where magnetic north lies, as seen from the map's north.
    fn angle_words(&self) -> String {
        declination_words(self.offset.angle()).to_string()
    }

    /// Both norths (their angle enlarged where it is small), the line, the angle between them and an arc from each.
    fn sketch(&self, between: String, text: impl Fn(North) -> String) -> Figure {
        let norths = vec![
            NorthLine { north: N::NORTH, at: Angle::ZERO },
            NorthLine { north: North::Magnetic, at: Angle::from_degrees(self.shown()) },
        ];
        let line = SketchLine { role: LineRole::Given, at: self.drawn(self.on_map()), label: "line".to_owned() };
        let arcs = vec![
            Arc::bearing(N::NORTH, LineRole::Given, text(N::NORTH)),
            Arc::difference(N::NORTH, Ray::North(North::Magnetic), between),
            Arc::bearing(North::Magnetic, LineRole::Given, text(North::Magnetic)),
        ];
        Figure::Sketch { norths, lines: vec![line], arcs }
    }
}

/// So far apart the norths are drawn when the line lies between them, in degrees.
const BETWEEN: f64 = 45.0;
/// So far from a north a line is drawn at least that lies beside it, in degrees.
const CLEAR: f64 = 12.0;
/// So far behind the map's north a line is moved away from it, in degrees.
const BEHIND: f64 = 60.0;

/// The offset for a level, in whole degrees, as a dial is set: from home ground where given, else from the whole inhabited range,
/// east and west alike.
pub(super) fn draw_offset<N: NorthKind>(
    level: Level,
    home: Option<Offset<Magnetic, N>>,
    draw: &mut Draw,
) -> Offset<Magnetic, N> {
    match home {
        Some(offset) => whole(offset),
        None => {
            let (least, most) = if level == Level::ONE { (2, 20) } else { (3, 28) };
            offset_of(draw.between(least, most) * draw.sign() * 10)
        }
    }
}

/// The declination of home ground.
pub(super) fn home_declination(home: Option<HomeAngles>) -> Option<Declination> {
    home.map(HomeAngles::declination)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::{Grid, True};
    use crate::scene::cells::{CellCanvas, CellPicture};
    use proptest::prelude::*;

    #[test]
    fn a_line_between_the_two_norths_is_drawn_between_them() {
        // B2-1-258 and the like: 2 E is drawn as 15 E, and 010 T, which is 008 M, has to stay clockwise of MN. Between them
        // there is room for a line only where they are drawn far apart.
        let conversion =
            |offset, from| Conversion::<True> { given: Given::Map(bearing_of(from)), offset: offset_of(offset) };
        assert!(conversion(20, 100).drawn(10.0).degrees() > 15.0);
        assert_eq!(conversion(20, 100).drawn(1.0).degrees(), 7.5);
        assert_eq!(conversion(20, 10).drawn(1.0).degrees(), 22.5);
        assert_eq!(conversion(-20, 3590).drawn(359.0).degrees(), 337.5);
        assert_eq!(conversion(-20, 900).drawn(90.0).degrees(), 90.0);
    }

    /// The sketch in the room that a screen of 80 columns and 24 rows leaves it.
    fn drawn(figure: &Figure) -> CellPicture {
        let scene = figure.scene(33.0 * 2.0, 17.0 * 4.0).unwrap_or_default();
        CellCanvas::default().render(&scene, 33, 17)
    }

    #[test]
    fn no_number_of_a_sketch_is_lost_on_a_small_screen_whatever_is_asked() {
        for from in (0..3600).step_by(70) {
            for offset in [-280, -150, -30, 20, 110, 280] {
                let given = Given::Map(bearing_of(from));
                let conversion = Conversion::<True> { given, offset: offset_of(offset) };
                let wrong = answer(from - conversion.change());
                let told = conversion.told(Some(&wrong));
                for figure in [conversion.asked(true), conversion.asked(false), told] {
                    let picture = drawn(&figure);
                    assert_eq!(picture.dropped, [], "{from} {offset}\n{}", picture.text());
                }
            }
        }
    }

    proptest! {
        #[test]
        fn every_line_stays_on_its_side_of_both_norths(offset in -590_i32..=590, size in 1_i32..1200, clockwise: bool) {
            // A line that lies so far from magnetic north; farther out, and beyond 60° of declination, sides mean little.
            let beside = if clockwise { size } else { -size };
            let at = wrap(offset + beside);
            let conversion = Conversion::<True> { given: Given::Map(bearing_of(at)), offset: offset_of(offset) };
            let drawn = conversion.drawn(f64::from(at) / 10.0).degrees();
            let side = |degrees: f64| Angle::from_degrees(degrees).wrapped_half().degrees();
            prop_assert!(side(drawn - conversion.shown()) * f64::from(beside) > 0.0);
            let from_map = side(f64::from(at) / 10.0);
            if at != 0 && from_map.abs() < 120.0 {
                prop_assert!(side(drawn) * from_map > 0.0);
            }
        }

        #[test]
        fn the_right_answer_is_drawn_on_the_given_line(offset in -300..=300, from in 0..3600, to_compass: bool) {
            let given = if to_compass { Given::Map(bearing_of(from)) } else { Given::Compass(bearing_of(from)) };
            let conversion = Conversion::<Grid> { given, offset: offset_of(offset) };
            // The typed way and the sum on paper are one.
            prop_assert_eq!(conversion.right(), answer(from + conversion.change()));
            let Figure::Sketch { lines, .. } = conversion.told(Some(&conversion.right())) else { panic!("a sketch") };
            prop_assert!((lines[0].at - lines[1].at).wrapped_half().degrees().abs() < 1e-6);
        }
    }
}
