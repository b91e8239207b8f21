//! What can be wrong with a typed angle, in words for whoever typed it.

/// Why a text could not be read. The text itself is never quoted: it may be huge or hold control characters.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{kind}")]
pub struct ReadError {
    /// What is wrong.
    pub kind: ReadErrorKind,
}

impl From<ReadErrorKind> for ReadError {
    fn from(kind: ReadErrorKind) -> Self {
        ReadError { kind }
    }
}

/// The kinds of [`ReadError`]. Each message says what is wrong and what to type instead.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, thiserror::Error)]
pub enum ReadErrorKind {
    /// Nothing but blanks.
    #[error("nothing was typed")]
    Empty,
    /// More than 64 characters.
    #[error("that is too long: type 64 characters at most")]
    TooLong,
    /// A control character, such as a tab.
    #[error("a key slipped in that is no letter, digit or sign: type it once more")]
    ControlCharacter,
    /// A digit that is not one of 0 to 9.
    #[error("those digits cannot be read: type the plain digits 0 to 9")]
    OddDigit,
    /// A letter or sign from outside the set that angles are written with.
    #[error("there is a sign in it that cannot be read: type plain letters, digits and °")]
    OddCharacter,
    /// `1e5`.
    #[error("a number with an e inside cannot be read: write it out, like 150")]
    PowerOfTen,
    /// `1,250`, which may be 1250 or 1.25.
    #[error("that comma can mean two things: type 1250 for thousands, or 1.25 with a point")]
    ThousandsComma,
    /// `4.600` metres, which may be 4600 or 4.6.
    #[error("that point can mean two things: type 4600 for thousands, or 4.6 without the zeros")]
    ThousandsPoint,
    /// `,356`, of which the beginning may be lost.
    #[error("there is nothing before the comma: type the whole number, or 0.5 with its zero")]
    LeadingComma,
    /// `1.2.3`.
    #[error("a number has one decimal point at most, like 59.5")]
    TwoPoints,
    /// No bearing at all.
    #[error("that is not a bearing: type a number of degrees, like 065")]
    NotABearing,
    /// Not of the form N40W.
    #[error("that is not a quarter bearing: type it like N40W")]
    NotAQuadrant,
    /// No declination at all.
    #[error("that is not an angle with its letter: type degrees and E or W, like 14 W")]
    NotADeclination,
    /// No number at all.
    #[error("that is not a number: type one, like 250")]
    NotANumber,
    /// `13 30`, which may be minutes or a slip of the space bar.
    #[error("there are two numbers: type one like 13.5, or degrees and minutes like 13°30'")]
    TwoNumbers,
    /// Something stands behind a readable answer.
    #[error("there is something after it that does not belong there: type the answer alone")]
    Extra,
    /// `90E`: neither a north's letter nor a quarter bearing.
    #[error("a bearing ends in T, G or M, or in no letter: type 059, or N59E")]
    NotANorth,
    /// `N59`.
    #[error("the last letter is missing: a quarter bearing ends in E or W, like N59E")]
    QuadrantUnfinished,
    /// `N120E`.
    #[error("a quarter bearing goes up to 90 degrees, like N59E")]
    QuadrantTooBig,
    /// `13°75′`.
    #[error("minutes go up to 59: sixty minutes are one degree")]
    MinutesTooBig,
    /// `13.5°30′`.
    #[error("type minutes or a decimal, not both: 13°30' or 13.5")]
    MinutesAfterDecimal,
    /// `30′` as a bearing.
    #[error("the degrees are missing: put them first, like 0°30'")]
    MinutesAlone,
    /// `-5W`.
    #[error("the letter says it all: type it without plus or minus, like 5 W")]
    SignAndLetter,
    /// `W5W`.
    #[error("one letter is enough: type E or W once, like 5 W")]
    TwoLetters,
    /// `5 N`.
    #[error("that letter does not fit: type E or W, like 5 W")]
    NotEastOrWest,
    /// More than 180°.
    #[error("that is too far: it cannot be more than 180 degrees east or west")]
    TooFar,
}
