//! Points, directions and rectangles on the sheet, in millimetres.

/// A place on the sheet, in millimetres: `x` runs right, `y` runs down.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point {
    /// Millimetres right of the left edge.
    pub x: f64,
    /// Millimetres below the upper edge.
    pub y: f64,
}

impl Point {
    /// The point `x` mm right and `y` mm down.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// The point `mm` millimetres further in `direction`; backwards when `mm` is negative.
    #[must_use]
    pub fn along(self, direction: Direction, mm: f64) -> Point {
        Point { x: self.x + direction.dx * mm, y: self.y + direction.dy * mm }
    }

    /// The point moved by `dx` right and `dy` down, in mm.
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Point {
        Point { x: self.x + dx, y: self.y + dy }
    }

    /// Whether both coordinates are numbers and finite.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

/// A direction on the sheet: a unit vector, always of length 1.
///
/// A direction also serves as a turn, namely the turn that brings "up" onto it: see [`Direction::turned_by`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Direction {
    dx: f64,
    dy: f64,
}

impl Direction {
    /// Toward the upper edge.
    pub const UP: Direction = Direction { dx: 0.0, dy: -1.0 };
    /// Toward the right edge.
    pub const RIGHT: Direction = Direction { dx: 1.0, dy: 0.0 };
    /// Toward the lower edge.
    pub const DOWN: Direction = Direction { dx: 0.0, dy: 1.0 };
    /// Toward the left edge.
    pub const LEFT: Direction = Direction { dx: -1.0, dy: 0.0 };

    /// The direction that lies this many degrees clockwise from up. Any number will do, it wraps; what is not finite
    /// gives up.
    ///
    /// **This is the border**: the one place where degrees enter the scene. Callers turn their bearings into degrees
    /// on the sheet here, and nothing past this point knows of degrees or norths.
    #[must_use]
    pub fn from_degrees_clockwise_from_up(degrees: f64) -> Direction {
        if !degrees.is_finite() {
            return Direction::UP;
        }
        let (sin, cos) = (degrees % 360.0).to_radians().sin_cos();
        Direction { dx: sin, dy: -cos }
    }

    /// The direction from one point toward another; `None` when they coincide or are not finite.
    #[must_use]
    pub fn between(from: Point, to: Point) -> Option<Direction> {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let length = dx.hypot(dy);
        (length.is_finite() && length > 0.0).then(|| Direction { dx: dx / length, dy: dy / length })
    }

    /// The part that points right, −1 to 1.
    #[must_use]
    pub const fn dx(self) -> f64 {
        self.dx
    }

    /// The part that points down, −1 to 1.
    #[must_use]
    pub const fn dy(self) -> f64 {
        self.dy
    }

    /// This direction turned clockwise as far as `turn` stands clockwise from up.
    #[must_use]
    pub fn turned_by(self, turn: Direction) -> Direction {
        // (sin a, −cos a) turned by (sin b, −cos b) is (sin(a+b), −cos(a+b)).
        Direction { dx: -self.dx * turn.dy - self.dy * turn.dx, dy: self.dx * turn.dx - self.dy * turn.dy }
    }

    /// The same turn the other way round: what undoes [`Direction::turned_by`].
    #[must_use]
    pub fn mirrored(self) -> Direction {
        Direction { dx: -self.dx, dy: self.dy }
    }

    /// The opposite direction.
    #[must_use]
    pub fn reversed(self) -> Direction {
        Direction { dx: -self.dx, dy: -self.dy }
    }

    /// A quarter turn clockwise.
    #[must_use]
    pub fn quarter_clockwise(self) -> Direction {
        Direction { dx: -self.dy, dy: self.dx }
    }

    /// A quarter turn counterclockwise.
    #[must_use]
    pub fn quarter_counterclockwise(self) -> Direction {
        Direction { dx: self.dy, dy: -self.dx }
    }

    /// How far one can go this way from the middle of an upright box before leaving it, in mm: half its width and half its height are
    /// given in mm, less what is to be kept clear of its sides. Negative where nothing is left of one of them.
    ///
    /// ```
    /// use needlewise::scene::Direction;
    ///
    /// assert_eq!(Direction::UP.reach_within(30.0, 20.0), 20.0);
    /// assert_eq!(Direction::RIGHT.reach_within(30.0, 20.0), 30.0);
    /// ```
    #[must_use]
    pub fn reach_within(self, half_width_mm: f64, half_height_mm: f64) -> f64 {
        let room = |half: f64, part: f64| if part == 0.0 { f64::INFINITY } else { half / part.abs() };
        room(half_width_mm, self.dx).min(room(half_height_mm, self.dy))
    }

    /// Radians clockwise from this direction to `other`, 0 up to a full turn.
    pub(super) fn radians_clockwise_to(self, other: Direction) -> f64 {
        let turn = other.turned_by(self.mirrored());
        let angle = turn.dx.atan2(-turn.dy);
        if angle < 0.0 { angle + std::f64::consts::TAU } else { angle }
    }

    /// Radians in, for shapes that are drawn by equal steps.
    pub(super) fn from_radians(radians: f64) -> Direction {
        let (sin, cos) = radians.sin_cos();
        Direction { dx: sin, dy: -cos }
    }
}

/// An upright rectangle, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// The upper left corner.
    pub corner: Point,
    /// To the right, in mm.
    pub width: f64,
    /// Down, in mm.
    pub height: f64,
}

impl Rect {
    /// The rectangle with this corner, width and height, in mm.
    #[must_use]
    pub const fn new(x: f64, y: f64, width: f64, height: f64) -> Rect {
        Rect { corner: Point::new(x, y), width, height }
    }

    /// Its middle.
    #[must_use]
    pub fn centre(self) -> Point {
        self.corner.moved(self.width / 2.0, self.height / 2.0)
    }
}
