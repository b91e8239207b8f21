//! The keys of a course's file.

use crate::textfile::{FileKey, Shape};

/// A key of a course's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// What the course is called.
    Title,
    /// The day it is walked.
    Date,
    /// The declination: of the model, or as the map prints it.
    Declination,
    /// The G-M angle as the map prints it.
    GmAngle,
    /// The year of the printed number.
    Year,
    /// How much the printed number changes in a year.
    AnnualChange,
    /// The north lines of the group's map.
    Lines,
    /// Whether a last leg leads back to the first point.
    Round,
    /// Where the first leg begins.
    Start,
    /// The time by which everybody is back.
    BackBy,
    /// The number to call.
    Call,
    /// The tables of points.
    Point,
    /// The tables of legs.
    Leg,
    /// The tables of members.
    Member,
    /// The tables of what was measured.
    Measured,
    /// A point's or a member's name.
    Name,
    /// A point's place.
    Place,
    /// What a leg leads to.
    To,
    /// A leg's bearing.
    Bearing,
    /// A leg's length.
    Metres,
    /// How far a leg climbs.
    AscentM,
    /// How far a leg goes down.
    DescentM,
    /// What a leg has to go round.
    Hazards,
    /// A member's double paces for 100 m.
    DoublePaces,
    /// Who measured.
    By,
    /// How it was measured.
    Taken,
    /// What was measured, a bearing a leg.
    Bearings,
    /// Where each leg came out.
    CameOut,
}

impl Key {
    /// Those that stand at the top of the file.
    pub const TOP: [Key; 15] = [
        Key::Title,
        Key::Date,
        Key::Declination,
        Key::GmAngle,
        Key::Year,
        Key::AnnualChange,
        Key::Lines,
        Key::Round,
        Key::Start,
        Key::BackBy,
        Key::Call,
        Key::Point,
        Key::Leg,
        Key::Member,
        Key::Measured,
    ];
    /// Those that stand below a `[[point]]` line.
    pub const POINT: [Key; 5] = [Key::Name, Key::Place, Key::AscentM, Key::DescentM, Key::Hazards];
    /// Those that stand below a `[[leg]]` line.
    pub const LEG: [Key; 6] = [Key::To, Key::Bearing, Key::Metres, Key::AscentM, Key::DescentM, Key::Hazards];
    /// Those that stand below a `[[member]]` line.
    pub const MEMBER: [Key; 2] = [Key::Name, Key::DoublePaces];
    /// Those that stand below a `[[measured]]` line.
    pub const MEASURED: [Key; 4] = [Key::By, Key::Taken, Key::Bearings, Key::CameOut];
}

impl FileKey for Key {
    const ALL: &'static [Key] = &[
        Key::Title,
        Key::Date,
        Key::Declination,
        Key::GmAngle,
        Key::Year,
        Key::AnnualChange,
        Key::Lines,
        Key::Round,
        Key::Start,
        Key::BackBy,
        Key::Call,
        Key::Point,
        Key::Leg,
        Key::Member,
        Key::Measured,
        Key::Name,
        Key::Place,
        Key::To,
        Key::Bearing,
        Key::Metres,
        Key::AscentM,
        Key::DescentM,
        Key::Hazards,
        Key::DoublePaces,
        Key::By,
        Key::Taken,
        Key::Bearings,
        Key::CameOut,
    ];
    const USUAL: Key = Key::Title;
    const REPEATED: Option<(Key, Key)> = Some((Key::Point, Key::Place));

    fn word(self) -> &'static str {
        match self {
            Key::Title => "title",
            Key::Date => "date",
            Key::Declination => "declination",
            Key::GmAngle => "gm_angle",
            Key::Year => "year",
            Key::AnnualChange => "annual_change",
            Key::Lines => "lines",
            Key::Round => "round",
            Key::Start => "start",
            Key::BackBy => "back_by",
            Key::Call => "call",
            Key::Point => "point",
            Key::Leg => "leg",
            Key::Member => "member",
            Key::Measured => "measured",
            Key::Name => "name",
            Key::Place => "place",
            Key::To => "to",
            Key::Bearing => "bearing",
            Key::Metres => "metres",
            Key::AscentM => "ascent_m",
            Key::DescentM => "descent_m",
            Key::Hazards => "hazards",
            Key::DoublePaces => "double_paces",
            Key::By => "by",
            Key::Taken => "taken",
            Key::Bearings => "bearings",
            Key::CameOut => "came_out",
        }
    }

    fn wants(self) -> &'static str {
        match self {
            Key::Title | Key::Name | Key::To | Key::By | Key::Call => "text in quotation marks",
            Key::Date => "a day",
            Key::Declination => "\"model\", or an angle with E or W, in quotation marks",
            Key::GmAngle => "an angle with E or W, in quotation marks",
            Key::Year => "a bare year",
            Key::AnnualChange => "minutes with E or W, in quotation marks",
            Key::Lines | Key::Hazards => "a list of words in quotation marks",
            Key::Round => "true or false",
            Key::Start | Key::Place => "a place in quotation marks",
            Key::BackBy => "a time in quotation marks",
            Key::Point => "a line [[point]] for each point",
            Key::Leg => "a line [[leg]] for each leg",
            Key::Member => "a line [[member]] for each member",
            Key::Measured => "a line [[measured]] for each who measured",
            Key::Bearing => "a bearing with its north's letter, in quotation marks",
            Key::Metres | Key::AscentM | Key::DescentM => "a bare number of metres",
            Key::DoublePaces => "a bare number",
            Key::Taken => "one phrase in quotation marks",
            Key::Bearings => "the bearings in one text, or a list of them, one a leg",
            Key::CameOut => "a list of texts, one a leg",
        }
    }

    fn example(self) -> &'static str {
        match self {
            Key::Title => "title = \"Round the tarn\"",
            Key::Date => "date = 2026-11-28",
            Key::Declination => "declination = \"8 W\"",
            Key::GmAngle => "gm_angle = \"7 W\"",
            Key::Year => "year = 2022",
            Key::AnnualChange => "annual_change = \"9′ E\"",
            Key::Lines => "lines = [\"grid\"]",
            Key::Round => "round = true",
            Key::Start => "start = \"46.8, -28.6\"",
            Key::BackBy => "back_by = \"16:30\"",
            Key::Call => "call = \"the hut, 5550123\"",
            Key::Point => "[[point]]",
            Key::Leg => "[[leg]]",
            Key::Member => "[[member]]",
            Key::Measured => "[[measured]]",
            Key::Name => "name = \"Ford\"",
            Key::Place => "place = \"26T 378200 5184500\"",
            Key::To => "to = \"Ford\"",
            Key::Bearing => "bearing = \"070 G\"",
            Key::Metres => "metres = 400",
            Key::AscentM => "ascent_m = 40",
            Key::DescentM => "descent_m = 10",
            Key::Hazards => "hazards = [\"the pond: keep left of it\"]",
            Key::DoublePaces => "double_paces = 65",
            Key::By => "by = \"Ana\"",
            Key::Taken => "taken = \"sighted\", or \"off the plan and set\"",
            Key::Bearings => "bearings = \"029 149 269\"",
            Key::CameOut => "came_out = [\"at the peg\", \"12 m, 230 M\", \"-\"]",
        }
    }

    fn shape(self) -> Shape {
        match self {
            Key::Date => Shape::Day,
            Key::Lines | Key::Hazards | Key::CameOut => Shape::List,
            Key::Point | Key::Leg | Key::Member | Key::Measured => Shape::Tables,
            Key::Year | Key::Round | Key::Metres | Key::AscentM | Key::DescentM | Key::DoublePaces => Shape::Number,
            _ => Shape::Text,
        }
    }

    fn place(self) -> &'static str {
        match self {
            Key::Place => "below a [[point]] line",
            Key::Name => "below a [[point]] or a [[member]] line",
            Key::To | Key::Bearing | Key::Metres => "below a [[leg]] line",
            Key::AscentM | Key::DescentM | Key::Hazards => "below a [[point]] or a [[leg]] line",
            Key::DoublePaces => "below a [[member]] line",
            Key::By | Key::Taken | Key::Bearings | Key::CameOut => "below a [[measured]] line",
            _ => "at the top of the file, above the first line in double brackets",
        }
    }

    fn moved(self) -> &'static str {
        match self {
            key if Key::TOP.contains(&key) => "up",
            Key::Place => "below the point it is for",
            Key::DoublePaces => "below the member it is for",
            Key::By | Key::Taken | Key::Bearings | Key::CameOut => "below [[measured]]",
            Key::Name => "below the point or the member it is for",
            Key::To | Key::Bearing | Key::Metres => "below the leg it is for",
            _ => "below the leg it is for, or the point where that leg begins",
        }
    }
}
