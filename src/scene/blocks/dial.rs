//! A compass dial: rim, ticks, numbers, index line, travel arrow, orienting arrow and needle.
use super::clearance;
use crate::numbers::real;
use crate::scene::{Area, Direction, Ink, Label, Line, Mark, MarkKind, Point, Priority, Scene, circle};

/// A dial whose rim is less than so many lines of writing from its middle is a small one.
const TIGHT_BELOW: f64 = 7.0;

/// How many ticks of each length stand around the whole rim, evenly, the first at the dial's zero. 0 leaves them out.
/// Where several fall together the longest is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Ticks {
    /// Short ticks, e.g. 72 for one each 5°.
    pub fine: u16,
    /// Ticks of middle length, e.g. 36 for one each 10°.
    pub medium: u16,
    /// Long ticks, e.g. 12 for one each 30°.
    pub long: u16,
}

/// One text on the ring of a dial.
#[derive(Clone, Debug, PartialEq)]
pub struct RingText {
    /// Where it stands, seen from the middle of the dial, with the dial's own turn already in it.
    pub direction: Direction,
    /// What it says: `030`, `N`.
    pub text: String,
    /// Whether it is one of the main letters: bold, and placed before the numbers.
    pub main: bool,
}

impl RingText {
    /// Numbers every 30°, letters at the four main points.
    pub const THIRTIES: [&str; 12] = ["N", "30", "60", "E", "120", "150", "S", "210", "240", "W", "300", "330"];
    /// Numbers every 60°, where twelve texts find no room.
    pub const SIXTIES: [&str; 6] = ["N", "60", "120", "S", "240", "300"];
    /// The letters of the four main points.
    pub const LETTERS: [&str; 4] = ["N", "E", "S", "W"];

    /// Texts spread evenly clockwise around a dial, the first at its zero. Those without a digit are the main ones.
    #[must_use]
    pub fn evenly(texts: &[&str], zero: Direction) -> Vec<RingText> {
        let step = 360.0 / real(texts.len().max(1));
        (0_u32..)
            .zip(texts)
            .map(|(number, &text)| RingText {
                direction: Direction::from_degrees_clockwise_from_up(f64::from(number) * step).turned_by(zero),
                text: text.to_owned(),
                main: !text.chars().any(|letter| letter.is_ascii_digit()),
            })
            .collect()
    }
}

/// A compass dial, seen from above. What is `None` is not drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Dial {
    /// The pivot of the needle.
    pub centre: Point,
    /// The radius of the whole figure in mm, travel arrow included.
    pub radius_mm: f64,
    /// The height of a line of writing in mm.
    pub text_mm: f64,
    /// Where the dial's zero (its N) stands.
    pub zero: Direction,
    /// The ticks.
    pub ticks: Ticks,
    /// Numbers and letters inside the ticks. They turn with the dial but stand upright.
    pub ring: Vec<RingText>,
    /// Where the index line stands. The ticks that it would run into are left out.
    pub index: Option<Direction>,
    /// Where the travel arrow of the baseplate points.
    pub travel: Option<Direction>,
    /// Where the orienting arrow points.
    pub orienting: Option<Direction>,
    /// Where the north half of the needle points.
    pub needle: Option<Direction>,
}

impl Dial {
    /// An empty dial with zero up and the ticks of a degree scale that have room.
    #[must_use]
    pub fn degrees(centre: Point, radius_mm: f64, text_mm: f64) -> Dial {
        let mut dial = Dial {
            centre,
            radius_mm,
            text_mm,
            zero: Direction::UP,
            ticks: Ticks { fine: 0, medium: 36, long: 12 },
            ring: Vec::new(),
            index: None,
            travel: None,
            orienting: None,
            needle: None,
        };
        // The finest scale whose ticks stand a letter's height apart: closer ones run together.
        for fine in [360, 180, 72] {
            let apart = std::f64::consts::TAU * dial.rim() / f64::from(fine);
            if apart >= text_mm {
                dial.ticks.fine = fine;
                break;
            }
        }
        if dial.ticks.fine > 72 {
            dial.ticks.medium = 72;
            dial.ticks.long = 36;
        }
        dial
    }

    /// Whether this many numbers of three figures find room on the ring, each clear of its neighbours.
    #[must_use]
    pub fn has_room_for(&self, numbers: u16) -> bool {
        // Three figures and a free cell on each side are 2.5 letter heights wide, where the ring runs across.
        std::f64::consts::TAU * self.ring_radius() >= f64::from(numbers) * self.text_mm * 2.2
    }

    /// The radius of the rim in mm; outside it is room for the travel arrow.
    #[must_use]
    pub fn rim(&self) -> f64 {
        (self.radius_mm - self.text_mm * 1.5).max(0.0)
    }

    /// How tightly ticks and numbers stand, 1 where there is room: on a small dial what lies inside of them would have none left.
    fn tightness(&self) -> f64 {
        if self.rim() < self.text_mm * TIGHT_BELOW { 0.7 } else { 1.0 }
    }

    /// The radius on which the middles of the numbers stand, in mm.
    fn ring_radius(&self) -> f64 {
        (self.rim() - self.text_mm * 1.6 * self.tightness()).max(0.0)
    }

    /// How far the needle reaches, in mm: clear of the numbers.
    #[must_use]
    pub fn reach(&self) -> f64 {
        (self.ring_radius() - self.text_mm * 0.9 * self.tightness()).max(0.0)
    }

    /// Draws the dial.
    pub fn draw(&self, scene: &mut Scene) {
        self.draw_floor(scene);
        self.draw_over_floor(scene);
    }

    /// Draws its floor with the rim: what looks the same however it is turned.
    pub fn draw_floor(&self, scene: &mut Scene) {
        // A little inside of the rim, or a single cell of ground stands out of it at its top.
        scene.add(Area::cover(circle(self.centre, (self.rim() - self.text_mm * 0.12).max(0.0)), Ink::Capsule));
        scene.add(Line::through(circle(self.centre, self.rim()), Ink::Plate));
    }

    /// Draws all that lies on its floor.
    pub fn draw_over_floor(&self, scene: &mut Scene) {
        self.draw_ticks(scene);
        if let Some(direction) = self.orienting {
            self.draw_orienting_arrow(scene, direction);
        }
        if let Some(direction) = self.needle {
            self.draw_needle(scene, direction);
        }
        // After the needle, which would cover what its end comes near.
        for text in &self.ring {
            let inward = clearance(&text.text, self.text_mm, text.direction);
            // A short text may stand a little further out than a long one; the outer edges line up.
            let radius = self.ring_radius() + self.text_mm * 0.65 - inward.min(self.text_mm * 0.65);
            let at = self.centre.along(text.direction, radius);
            let label = Label::new(text.text.clone(), at, Ink::Text);
            scene.add(if text.main { label.strong().priority(Priority::High) } else { label });
        }
        if let Some(direction) = self.index {
            let inner = self.centre.along(direction, self.rim() - self.text_mm * 0.9 * self.tightness());
            let outer = self.centre.along(direction, self.rim() + self.text_mm * 0.4);
            scene.add(Line::straight(inner, outer, Ink::Compass).bold());
            // A block across the rim: a thin stroke would be one more tick.
            let (side, half) = (direction.quarter_clockwise(), self.text_mm * 0.22);
            let corners = [(inner, -half), (outer, -half), (outer, half), (inner, half)];
            scene.add(Area::dense(corners.map(|(at, aside)| at.along(side, aside)).to_vec(), Ink::Compass));
        }
        if let Some(direction) = self.travel {
            let tip = self.centre.along(direction, self.radius_mm);
            scene.add(Mark::new(MarkKind::Triangle, tip, self.text_mm * 1.45, Ink::Compass).toward(direction));
        }
    }

    fn draw_ticks(&self, scene: &mut Scene) {
        let Ticks { fine, medium, long } = self.ticks;
        let classes = [(fine, 0.3, &[medium, long][..]), (medium, 0.5, &[long][..]), (long, 0.8, &[][..])];
        for (count, length, longer) in classes {
            for number in 0..count {
                // Skipped where a longer one of another class stands: number/count = k/other for a whole k.
                let hidden = |&&other: &&u16| {
                    other > 0 && (u32::from(number) * u32::from(other)).is_multiple_of(u32::from(count))
                };
                if longer.iter().find(hidden).is_some() {
                    continue;
                }
                let turn = Direction::from_degrees_clockwise_from_up(f64::from(number) * 360.0 / f64::from(count));
                let direction = turn.turned_by(self.zero);
                if self.index.is_some_and(|index| self.runs_into(direction, index)) {
                    continue;
                }
                let inner = self.centre.along(direction, self.rim() - self.text_mm * length * self.tightness());
                let outer = self.centre.along(direction, self.rim());
                scene.add(Line::straight(inner, outer, Ink::Plate));
            }
        }
    }

    /// Whether a tick here would run into the index line: that line is a mark of its own.
    fn runs_into(&self, tick: Direction, index: Direction) -> bool {
        let apart = self.centre.along(tick, self.rim());
        let index = self.centre.along(index, self.rim());
        (apart.x - index.x).hypot(apart.y - index.y) < self.text_mm * 0.45
    }

    /// The arrow on the floor of the dial that the needle is turned into.
    fn draw_orienting_arrow(&self, scene: &mut Scene, direction: Direction) {
        let reach = self.reach();
        // A needle's breadth and a little more; the head stands out clearly, or the arrow is a bar with two ends.
        let half = (self.text_mm * 0.8).max(reach * 0.16).min(reach * 0.36);
        OrientingArrow { foot: reach * 0.95, reach, half, wide: half * 2.1, body: true }.draw(
            scene,
            self.centre,
            direction,
        );
    }

    /// The needle, with its pivot and the name of its north end as long as there is room.
    fn draw_needle(&self, scene: &mut Scene, direction: Direction) {
        let (reach, text_mm, centre) = (self.reach() * 0.88, self.text_mm, self.centre);
        let half = (text_mm * 0.5).max(reach * 0.11);
        // Where a hollow half is too slender to be seen hollow, it is a line.
        let hollow = half > text_mm * 0.8;
        Needle { reach, half, gaps: (text_mm * 0.2, text_mm * 0.5), hollow, leaf: true }.draw(scene, centre, direction);
        // The pivot, which no arrow that is drawn has; on a small needle it would hide what it is made of.
        if hollow {
            scene.add(Area::cover(circle(centre, text_mm * 0.2), Ink::Capsule));
            scene.add(Mark::new(MarkKind::Ring, centre, text_mm * 0.6, Ink::NeedleNorth));
        }
        // A letter hides what a small needle is made of.
        if reach > text_mm * 3.0 {
            let letter = Label::new("N", centre.along(direction, reach * 0.42), Ink::NeedleNorth);
            scene.add(letter.strong().priority(Priority::Low));
        }
    }
}

/// The orienting arrow: the outline of an arrow with room for the needle. Only the needle is filled, so that without colour, too, each
/// of them is told from the other where one lies in the other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OrientingArrow {
    /// From the pivot to the tip, in mm.
    pub reach: f64,
    /// From the pivot back to the open foot, in mm.
    pub foot: f64,
    /// Half the width of the shaft, in mm.
    pub half: f64,
    /// Half the width of the head, in mm.
    pub wide: f64,
    /// Whether it has a ground of its own; else it is an outline.
    pub body: bool,
}

impl OrientingArrow {
    /// Draws it with its middle over the pivot.
    pub fn draw(&self, scene: &mut Scene, pivot: Point, direction: Direction) {
        let side = direction.quarter_clockwise();
        let at = |along: f64, aside: f64| pivot.along(direction, along).along(side, aside);
        let neck = self.reach - self.wide;
        let half_outline = |way: f64| {
            vec![
                at(-self.foot, way * self.half),
                at(neck, way * self.half),
                at(neck, way * self.wide),
                at(self.reach, 0.0),
            ]
        };
        // Its body is a ground of its own: at a slant, dots alone are a scatter.
        let (one, other) = (half_outline(-1.0), half_outline(1.0));
        if self.body {
            scene.add(Area::tint(one.iter().chain(other.iter().rev()).copied().collect(), Ink::Orienting));
        }
        for way in [-1.0, 1.0] {
            scene.add(Line::through(half_outline(way), Ink::Orienting));
        }
    }
}

/// A needle, free of what lies under it: its north half is filled, its south half hollow or a line, to be told apart without colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needle {
    /// From the pivot to either end, in mm.
    pub reach: f64,
    /// Half its width, in mm.
    pub half: f64,
    /// How much is left free beyond its ends, and beside it, in mm.
    pub gaps: (f64, f64),
    /// Whether its south half is wide enough to be seen hollow.
    pub hollow: bool,
    /// Whether its north half is shaped like a leaf, and not like a spike, which ends in dots that no block joins.
    pub leaf: bool,
}

impl Needle {
    /// Draws it with its middle over the pivot, its north end in this direction.
    pub fn draw(&self, scene: &mut Scene, pivot: Point, north: Direction) {
        let side = north.quarter_clockwise();
        let diamond = |long: f64, wide: f64| {
            [pivot.along(side, -wide), pivot.along(north, long), pivot.along(side, wide), pivot.along(north, -long)]
        };
        let (beyond, beside) = self.gaps;
        scene.add(Area::free(diamond(self.reach + beyond, self.half + beside).to_vec(), Ink::Capsule));
        let [left, tip, right, south] = diamond(self.reach, self.half);
        scene.add(match self.hollow {
            true => Line::through(vec![left, south, right, left], Ink::NeedleSouth),
            false => Line::straight(pivot, south, Ink::NeedleSouth).bold(),
        });
        let shoulder = |way: f64| pivot.along(north, self.reach * 0.7).along(side, way * self.half * 0.62);
        scene.add(Area::dense(
            match self.leaf {
                true => vec![left, shoulder(-1.0), tip, shoulder(1.0), right],
                false => vec![left, tip, right],
            },
            Ink::NeedleNorth,
        ));
    }
}
