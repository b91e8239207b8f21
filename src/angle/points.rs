//! Compass points: the card of 8, 16 or 32 names.
use super::Angle;
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
    pub fn spacing(self) -> Angle {
        Angle::from_degrees(360.0 / f64::from(self.count()))
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
    pub fn angle(self) -> Angle {
        Angle::from_degrees(f64::from(self.0) * 11.25)
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
        Some(Point::new(number as u8))
    }

    /// The point of a set that lies nearest; a tie goes clockwise.
    #[must_use]
    pub fn nearest(angle: Angle, set: PointSet) -> Point {
        let steps = (angle.wrapped().degrees() / set.spacing().degrees() + 0.5).floor();
        // At most the count itself, which is north again.
        Point::new(steps as u8 % set.count() * (32 / set.count()))
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
