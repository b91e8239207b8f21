//! Compass points: the card of 8, 16 or 32 names.
use super::{Angle, PARTS_PER_CIRCLE};
use std::fmt;

/// How fine a card is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PointSet {
    /// N, NE, E, …
    Eight,
    /// with NNE, ENE, …
    Sixteen,
    /// with NbE, NEbN, …
    ThirtyTwo,
}

impl PointSet {
    /// How many points the card has.
    #[must_use]
    pub const fn count(self) -> u8 {
        match self {
            PointSet::Eight => 8,
            PointSet::Sixteen => 16,
            PointSet::ThirtyTwo => 32,
        }
    }

    /// The angle from one point of the card to the next: 45°, 22.5° or 11.25°.
    #[must_use]
    pub const fn spacing(self) -> Angle {
        Angle(PARTS_PER_CIRCLE / self.count() as i64)
    }

    /// The points of the card, clockwise from north.
    pub fn points(self) -> impl ExactSizeIterator<Item = Point> + Clone {
        let step = 32 / self.count();
        (0..self.count()).map(move |number| Point(number * step))
    }
}

/// One of the 32 compass points, counted clockwise from N = 0, 11.25° apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Point(u8);

/// Short name and words, clockwise from north ("boxing the compass"; common practice).
const NAMES: [(&str, &str); 32] = [
    ("N", "north"),
    ("NbE", "north by east"),
    ("NNE", "north-north-east"),
    ("NEbN", "north-east by north"),
    ("NE", "north-east"),
    ("NEbE", "north-east by east"),
    ("ENE", "east-north-east"),
    ("EbN", "east by north"),
    ("E", "east"),
    ("EbS", "east by south"),
    ("ESE", "east-south-east"),
    ("SEbE", "south-east by east"),
    ("SE", "south-east"),
    ("SEbS", "south-east by south"),
    ("SSE", "south-south-east"),
    ("SbE", "south by east"),
    ("S", "south"),
    ("SbW", "south by west"),
    ("SSW", "south-south-west"),
    ("SWbS", "south-west by south"),
    ("SW", "south-west"),
    ("SWbW", "south-west by west"),
    ("WSW", "west-south-west"),
    ("WbS", "west by south"),
    ("W", "west"),
    ("WbN", "west by north"),
    ("WNW", "west-north-west"),
    ("NWbW", "north-west by west"),
    ("NW", "north-west"),
    ("NWbN", "north-west by north"),
    ("NNW", "north-north-west"),
    ("NbW", "north by west"),
];

impl Point {
    /// The point with this number, 0 to 31; larger numbers wrap.
    #[must_use]
    pub const fn new(number: u8) -> Point {
        Point(number % 32)
    }

    /// 0 to 31, clockwise from north.
    #[must_use]
    pub const fn number(self) -> u8 {
        self.0
    }

    /// Degrees clockwise from north.
    #[must_use]
    pub const fn angle(self) -> Angle {
        Angle(PARTS_PER_CIRCLE / 32 * self.0 as i64)
    }

    /// The short name: `NNE`, `NEbN`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        NAMES[self.0 as usize].0
    }

    /// The name in words: `north-north-east`, `north-east by north`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        NAMES[self.0 as usize].1
    }

    /// The point straight across the card.
    #[must_use]
    pub const fn opposite(self) -> Point {
        Point::new(self.0 + 16)
    }

    /// Whether the point stands on this card.
    #[cfg(test)]
    #[must_use]
    pub const fn is_on(self, set: PointSet) -> bool {
        self.0.is_multiple_of(32 / set.count())
    }

    /// Reads a short name or the words, without case; `NE by N`, `northeast` and `north east` are read too.
    ///
    /// ```
    /// use needlewise::angle::Point;
    /// assert_eq!(Point::read("nnw"), Point::read("North-north-west"));
    /// assert_eq!(Point::read("north-middle"), None);
    /// ```
    #[must_use]
    pub fn read(text: &str) -> Option<Point> {
        let mut letters = [0u8; 4];
        let mut length = 0;
        let mut rest = text.trim_matches(is_blank);
        while !rest.is_empty() {
            let (letter, after) = WORDS.iter().find_map(|&(word, letter)| {
                let head = rest.get(..word.len())?;
                head.eq_ignore_ascii_case(word).then(|| (letter, &rest[word.len()..]))
            })?;
            // Four letters are the longest name; anything longer is refused before it is looked at.
            *letters.get_mut(length)? = letter;
            length += 1;
            rest = after.trim_start_matches(is_blank);
            if let Some(after_hyphen) = rest.strip_prefix('-') {
                rest = after_hyphen;
                if rest.is_empty() {
                    return None;
                }
            }
        }
        let number = NAMES.iter().position(|(name, _)| name.as_bytes().eq_ignore_ascii_case(&letters[..length]))?;
        u8::try_from(number).ok().map(Point::new)
    }

    /// The point of a set that lies nearest; a tie goes clockwise.
    #[must_use]
    pub fn nearest(angle: Angle, set: PointSet) -> Point {
        let spacing = set.spacing().0;
        let steps = (angle.wrapped().0 + spacing / 2) / spacing;
        // At most the count itself, which is north again.
        Point::new(u8::try_from(steps).unwrap_or(0) % set.count() * (32 / set.count()))
    }
}

/// The long words first: `n` would match the start of `north`.
const WORDS: [(&str, u8); 10] = [
    ("north", b'N'),
    ("south", b'S'),
    ("east", b'E'),
    ("west", b'W'),
    ("by", b'b'),
    ("n", b'N'),
    ("s", b'S'),
    ("e", b'E'),
    ("w", b'W'),
    ("b", b'b'),
];

fn is_blank(c: char) -> bool {
    super::read::BLANKS.contains(&c)
}

/// The short name: `NNE`.
impl fmt::Display for Point {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::angle::reference::assert_states;

    fn nearest(degrees: f64, set: PointSet) -> &'static str {
        Point::nearest(Angle::from_degrees(degrees), set).name()
    }

    #[test]
    fn the_fine_card_has_a_point_every_eleven_and_a_quarter_degrees() {
        // Source: Bowditch (any edition), conversion of points.
        assert_states("CV014", "point spacing, 32-point card", "11.25 deg");
        assert_eq!(PointSet::ThirtyTwo.spacing().degrees(), 11.25);
        assert_eq!(Point::new(1).angle().degrees(), 11.25);
    }

    #[test]
    fn named_points_lie_where_the_card_has_them() {
        // Source: number on the card times 11.25°, as above.
        for (id, name, degrees) in [
            ("CV015", "NNE", 22.5),
            ("CV016", "NE", 45.0),
            ("CV017", "NEbE", 56.25),
            ("CV018", "ESE", 112.5),
            ("CV019", "SEbE", 123.75),
            ("CV020", "SEbS", 146.25),
            ("CV021", "SWbS", 213.75),
            ("CV022", "SWbW", 236.25),
            ("CV023", "WSW", 247.5),
            ("CV024", "WNW", 292.5),
            ("CV025", "NWbN", 326.25),
            ("CV026", "NNW", 337.5),
            ("CV027", "NbW", 348.75),
        ] {
            assert_states(id, name, &format!("{degrees} deg"));
            assert_eq!(Point::read(name).unwrap().angle().degrees(), degrees, "{id}");
            assert_eq!(nearest(degrees, PointSet::ThirtyTwo), name, "{id}");
        }
    }

    #[test]
    fn seventy_five_degrees_is_nearest_to_east_by_north() {
        // Source: an encyclopaedia's worked example, 75/11.25 + 0.5 = 7.17.
        assert_states("CV028", "75 deg to the nearest of 32 points", "EbN (78.75)");
        assert_eq!(nearest(75.0, PointSet::ThirtyTwo), "EbN");
        assert_eq!(nearest(75.0, PointSet::Sixteen), "ENE");
        assert_eq!(nearest(75.0, PointSet::Eight), "E");
    }

    #[test]
    fn a_tie_goes_clockwise_and_past_the_last_point_comes_north() {
        assert_eq!(nearest(22.5, PointSet::Eight), "NE");
        assert_eq!(nearest(11.25, PointSet::Sixteen), "NNE");
        assert_eq!(nearest(5.625, PointSet::ThirtyTwo), "NbE");
        assert_eq!(nearest(5.624, PointSet::ThirtyTwo), "N");
        assert_eq!(nearest(337.5, PointSet::Eight), "N");
        assert_eq!(nearest(354.375, PointSet::ThirtyTwo), "N");
        assert_eq!(nearest(354.374, PointSet::ThirtyTwo), "NbW");
        assert_eq!(nearest(-1e-17, PointSet::Sixteen), "N");
        assert_eq!(nearest(-45.0, PointSet::Sixteen), "NW");
    }

    #[test]
    fn the_nearest_point_is_never_more_than_half_a_space_away() {
        for set in [PointSet::Eight, PointSet::Sixteen, PointSet::ThirtyTwo] {
            for tenth in 0..3600 {
                let angle = Angle::from_tenths(tenth);
                let point = Point::nearest(angle, set);
                assert!(point.is_on(set));
                let off = (point.angle() - angle).wrapped_half().abs();
                // The slow twin: no point of the card lies nearer.
                let best = set.points().map(|p| (p.angle() - angle).wrapped_half().abs()).min();
                assert_eq!(Some(off), best, "{angle:?} {point}");
            }
        }
    }

    #[test]
    fn the_cards_hold_the_points_they_should() {
        let names: Vec<_> = PointSet::Eight.points().map(Point::name).collect();
        assert_eq!(names, ["N", "NE", "E", "SE", "S", "SW", "W", "NW"]);
        for set in [PointSet::Eight, PointSet::Sixteen, PointSet::ThirtyTwo] {
            assert_eq!(set.points().len(), usize::from(set.count()));
            assert_eq!((0..32).filter(|&n| Point::new(n).is_on(set)).count(), usize::from(set.count()));
        }
    }

    #[test]
    fn every_name_and_every_wording_is_read_back() {
        for point in PointSet::ThirtyTwo.points() {
            assert_eq!(Point::read(point.name()), Some(point));
            assert_eq!(Point::read(&point.name().to_uppercase()), Some(point));
            assert_eq!(Point::read(&point.name().to_lowercase()), Some(point));
            assert_eq!(Point::read(point.words()), Some(point));
            assert_eq!(Point::read(&format!(" {} ", point.words().replace('-', " "))), Some(point));
            assert_eq!(Point::read(&point.words().replace(['-', ' '], "")), Some(point));
            assert_eq!(point.to_string(), point.name());
        }
    }

    #[test]
    fn the_words_say_what_the_letters_say() {
        for point in PointSet::ThirtyTwo.points() {
            let initials: String = point
                .words()
                .split(['-', ' '])
                .filter_map(|word| word.chars().next())
                .map(|c| if c == 'b' { c } else { c.to_ascii_uppercase() })
                .collect();
            assert_eq!(initials, point.name());
        }
    }

    #[test]
    fn what_stands_on_no_card_is_not_read() {
        for text in [
            "",
            " ",
            "-",
            "b",
            "NS",
            "EN",
            "NNN",
            "NNNNE",
            "NbS",
            "NEbW",
            "north-",
            "-north",
            "n--e",
            "north-middle",
            "nort",
            "Ⓝ",
            "ＮＥ",
            "nördlich",
            "no rth",
            "N.E",
        ] {
            assert_eq!(Point::read(text), None, "{text}");
        }
        assert_eq!(Point::read(&"n".repeat(1_000_000)), None);
    }

    #[test]
    fn the_opposite_point_is_half_a_circle_away() {
        for number in 0..=255 {
            let point = Point::new(number);
            assert_eq!(point.opposite().opposite(), point);
            assert_eq!((point.opposite().angle() - point.angle()).abs().degrees(), 180.0);
        }
    }
}
